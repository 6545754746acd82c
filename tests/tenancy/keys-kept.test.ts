/** What is kept of a key: nothing that could be used. And a key that is revoked stops working in every process. */
import { execFile } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { expect, it } from 'vitest';
import { guildStore } from '../../services/guilds/store.js';
import { freePort, get, start, type Started } from '../start/support.js';
import { describeOnBoth, openTestDatabase } from '../support/db.js';
import { describeWith } from '../support/require.js';
import { twoGuilds } from '../support/shelf.js';

const run = promisify(execFile);

await describeOnBoth('a copy of the whole database', (open) => {
  it('holds no key that can be used', async () => {
    const two = await twoGuilds(open());
    const url = '/v1/guilds/thornmere-guild/keys';
    const headers = { 'idempotency-key': randomUUID() };
    const made: string[] = [];
    const post = async (path: string, body: object): Promise<{ id: string }> => {
      const reply = await two.ask('POST', path, { key: two.keys.admin, body, headers: { 'idempotency-key': randomUUID() } });
      expect(reply.statusCode, reply.body).toBe(201);
      made.push(...reply.body.match(/wgk_\w{38}/g)!);
      return reply.json<{ id: string }>();
    };
    // Every way in which a key comes about, with replies that are kept to be sent again.
    const { id } = await post(url, { label: 'one', scopes: ['read'] });
    await post(`${url}/${id}/rotate`, {});
    await post('/v1/guilds', { name: 'Third Guild' });
    await two.ask('POST', '/v1/wheels', { key: two.keys.own, body: { name: 'Mill Lane' }, headers });
    await two.app.close();

    const all = [...made, ...Object.values(two.keys)];
    const { kind, url: server } = open();
    // Of a server what pg_dump writes; of the embedded database every byte of its folder.
    const copy = kind === 'postgres' ? (await run('pg_dump', ['--inserts', server!], { maxBuffer: 1 << 28 })).stdout
      : filesOf(open().folder!).map((file) => readFileSync(file, 'latin1')).join('\n');
    expect(copy.length).toBeGreaterThan(10_000);
    expect(copy).toContain('Mill Lane');
    for (const key of all) {
      expect(copy).not.toContain(key.slice(10));
      expect(copy).not.toContain(Buffer.from(key).toString('base64').slice(4, 40));
      expect(copy).toContain(key.slice(0, 10));
    }
    expect(copy).not.toMatch(/wgk_\w{38}/);
    // Nor does anything else in it open a door: not a hash, not a sealed reply.
    const store = guildStore(open().database);
    const words = [...new Set(copy.match(/[0-9a-f]{64}|[\w+/=-]{40,60}/g))].slice(0, 500);
    expect(words.length).toBeGreaterThan(all.length);
    for (const word of words) for (const tried of [word, `wgk_${word.slice(0, 38)}`]) expect(await store.caller(tried)).toBeUndefined();
    expect(await store.caller(all[0]!)).toBeDefined();
  });
});
const filesOf = (folder: string): string[] => readdirSync(folder, { recursive: true, withFileTypes: true }).filter((entry) => entry.isFile()).map((entry) => join(entry.parentPath, entry.name));

await describeWith('postgres', 'a key that is revoked', () => {
  it('stops working in every process of the library within 5 s', async () => {
    const opened = await openTestDatabase('postgres');
    const services: Started[] = [];
    try {
      const store = guildStore(opened.database);
      await store.addGuild('thornmere-guild', 'Thornmere Guild');
      const admin = await store.addKey('thornmere-guild', 'test', ['admin']);
      const ports = await Promise.all([freePort(), freePort()]);
      for (const port of ports) services.push(start({ DATABASE_URL: opened.url!, PORT: String(port) }));
      await Promise.all(services.map((service) => service.says(/The library is open/)));
      const as = (key: string) => ({ authorization: `Bearer ${key}`, 'content-type': 'application/json' });
      const keys = `/v1/guilds/thornmere-guild/keys`;
      const waits: number[] = [];
      for (let round = 0; round < 3; round++) {
        const made = JSON.parse((await get(ports[0]!, keys, { method: 'POST', headers: as(admin), body: '{"label": "short", "scopes": ["read"]}' })).body) as { id: string; key: string };
        const works = async (port: number): Promise<boolean> => {
          const { status } = await get(port, '/v1/wheels?limit=1', { headers: as(made.key) });
          expect([200, 401]).toContain(status);
          return status === 200;
        };
        // Both have just asked for it, so whatever they keep of it is fresh.
        for (const port of ports) expect(await works(port)).toBe(true);
        expect((await get(ports[0]!, `${keys}/${made.id}`, { method: 'DELETE', headers: { authorization: `Bearer ${admin}` } })).status).toBe(204);
        const began = performance.now();
        for (const port of ports) {
          while (await works(port)) {
            if (performance.now() - began > 5000) throw new Error('the key still works after 5 s');
            await new Promise((resolve) => setTimeout(resolve, 25));
          }
        }
        waits.push(performance.now() - began);
        for (const port of ports) expect(await works(port)).toBe(false);
      }
      console.log(`a key that was revoked in one process was refused by both after ${waits.map((wait) => Math.round(wait)).join(', ')} ms`);
    } finally {
      for (const service of services) await service.stop('SIGKILL');
      await opened.close();
    }
  });
});
