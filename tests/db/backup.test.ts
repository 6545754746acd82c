/** The commands of the README that make a backup and read it back, run as they stand there: the same answers afterwards. */
import { execFile } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import type { FastifyInstance } from 'fastify';
import { describe, expect, it } from 'vitest';
import { openDatabase } from '../../db/open.js';
import { guildStore } from '../../services/guilds/store.js';
import { libraryOver } from '../../services/library.js';
import { root } from '../start/support.js';
import { makeServerDatabase } from '../support/db.js';
import { openApp } from '../support/http.js';
import { describeWith } from '../support/require.js';

const run = promisify(execFile);
const readme = readFileSync(`${root}README.md`, 'utf8');
/** The commands under this mark, one after another. */
const commands = (mark: string): string => {
  const block = new RegExp(`<!-- run: ${mark} -->\\n\`\`\`sh\\n([^]*?)\`\`\``).exec(readme);
  if (block === null) throw new Error(`the README has no commands marked ${mark}`);
  return block[1]!;
};

/** What a library is asked before and after: everything that can be read of it. */
async function answers(app: FastifyInstance, keys: readonly string[]): Promise<Record<string, string>> {
  const out: Record<string, string> = {};
  const read = async (url: string, key?: string): Promise<string> => {
    const reply = await app.inject({ url, headers: key === undefined ? {} : { authorization: `Bearer ${key}` } });
    expect([200, 404], `${url} ${reply.body}`).toContain(reply.statusCode);
    out[`${url} ${key?.slice(0, 10) ?? ''}`] = `${reply.statusCode} ${String(reply.headers.etag ?? '')} ${reply.body.replace(/"requestId":"[^"]*"/, '')}`;
    return reply.body;
  };
  const ids = new Set<string>();
  for (const key of [undefined, ...keys]) {
    const all = JSON.parse(await read('/v1/wheels?limit=100', key)) as { items: { id: string; guild: string }[] };
    for (const { id } of all.items) ids.add(id);
    for (const id of ids) for (const path of ['', '/revisions', '/revisions/1', '/lineage', '/forks', '/ratio']) await read(`/v1/wheels/${id}${path}`, key).catch(() => undefined);
    for (const guild of ['thornmere-guild', 'other-guild']) for (const path of ['', '/keys', '/audit']) await read(`/v1/guilds/${guild}${path}?`.replace(/\?$/, ''), key ?? keys[0]);
  }
  return out;
}

/** Puts something of everything into it. */
async function fill(app: FastifyInstance, admin: string, other: string): Promise<void> {
  const ask = async (method: 'POST' | 'PATCH' | 'DELETE', url: string, key: string, body?: object, match?: string) => {
    const reply = await app.inject({ method, url, headers: { authorization: `Bearer ${key}`, ...(match === undefined ? {} : { 'if-match': match }) }, ...(body === undefined ? {} : { payload: body }) });
    expect(reply.statusCode, reply.body).toBeLessThan(300);
    return { etag: String(reply.headers.etag), body: reply.body === '' ? undefined : reply.json<{ id: string }>() };
  };
  for (const [i, visibility] of (['public', 'guild', 'public'] as const).entries()) {
    const made = await ask('POST', '/v1/wheels', admin, { name: `Wheel ${i} — “ü”`, visibility, driveWheel: { grooveDiameter: '500 mm' }, whorls: [{ grooveDiameter: `${40 + i} mm` }] });
    const url = `/v1/wheels/${made.body!.id}`;
    const changed = await ask('PATCH', url, admin, { condition: 'watch' }, made.etag);
    if (visibility === 'public') await ask('POST', `${url}/fork`, other, { visibility: 'public' });
    if (i === 2) await ask('DELETE', url, admin, undefined, changed.etag);
  }
  const key = await ask('POST', '/v1/guilds/thornmere-guild/keys', admin, { label: 'loft', scopes: ['read'] });
  await ask('POST', `/v1/guilds/thornmere-guild/keys/${key.body!.id}/rotate`, admin, {});
}

await describeWith('postgres', 'a backup of a library on PostgreSQL', () => {
  it('gives the same answers when it is read back', async () => {
    const [made, target] = [await makeServerDatabase(), await makeServerDatabase()];
    const folder = mkdtempSync(join(tmpdir(), 'wheelgrist-backup-'));
    const owner = `o_${made.name.slice(2, 14)}`;
    try {
      // The owner of a library need not be the server's own; then nothing but the roles lets it see what guilds keep.
      await made.admin.unsafe(`create role ${owner} login createrole`);
      await made.admin.unsafe(`alter database ${made.name} owner to ${owner}`);
      await made.admin.unsafe(`alter database ${target.name} owner to ${owner}`);
      await made.admin.unsafe('grant wheelgrist_public, wheelgrist_guild, wheelgrist_keeper, wheelgrist_backup to ' + owner + ' with admin option').catch(() => undefined);
      const url = (database: string): string => Object.assign(new URL(database), { username: owner }).href;
      const before = await openDatabase({ databaseUrl: url(made.url), dataDir: '' });
      const store = guildStore(before);
      await store.addGuild('thornmere-guild', 'Thornmere Guild');
      await store.addGuild('other-guild', 'Other Guild');
      const keys = [await store.addKey('thornmere-guild', 'first', ['admin']), await store.addKey('other-guild', 'first', ['admin'])] as const;
      const app = await openApp({ library: (await libraryOver(before)).library });
      await fill(app, ...keys);
      const then = await answers(app, keys);
      expect(Object.keys(then).length).toBeGreaterThan(50);
      await app.close();
      await before.close();

      const env = { PATH: process.env['PATH'] ?? '', DATABASE_URL: url(made.url), DATABASE_OWNER_URL: url(made.url), NEW_DATABASE_URL: url(target.url) };
      await run('bash', ['-euc', commands('backup')], { cwd: folder, env });
      await run('bash', ['-euc', commands('restore')], { cwd: folder, env });

      const after = await openDatabase({ databaseUrl: url(target.url), dataDir: '' });
      const restored = await openApp({ library: (await libraryOver(after)).library });
      expect(await answers(restored, keys)).toEqual(then);
      // It goes on from there, and keeps guilds apart as before.
      expect((await restored.inject({ method: 'POST', url: '/v1/wheels', headers: { authorization: `Bearer ${keys[0]}` }, payload: { name: 'After' } })).statusCode).toBe(201);
      await restored.close();
      await after.close();
      console.log(`${Object.keys(then).length} answers of a library on PostgreSQL were the same from its backup`);
    } finally {
      await made.drop();
      const { admin } = target;
      await admin.unsafe(`drop database ${target.name} with (force)`);
      await admin.unsafe(`drop owned by ${owner}`);
      await admin.unsafe(`drop role ${owner}`);
      await admin.end();
      rmSync(folder, { recursive: true, force: true });
    }
  });
});

describe('a copy of the embedded library\'s folder', () => {
  it('gives the same answers when it is opened', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'wheelgrist-backup-'));
    const dataDir = join(folder, '.data');
    mkdirSync(dataDir);
    try {
      const open = async () => {
        const database = await openDatabase({ dataDir });
        const { library, firstKey } = await libraryOver(database);
        return { database, firstKey, app: await openApp({ library }) };
      };
      const first = await open();
      const store = guildStore(first.database);
      await store.addGuild('other-guild', 'Other Guild');
      const keys = [first.firstKey!, await store.addKey('other-guild', 'first', ['admin'])] as const;
      await fill(first.app, ...keys);
      const then = await answers(first.app, keys);
      await first.app.close();
      await first.database.close();

      const env = { PATH: process.env['PATH'] ?? '' };
      await run('bash', ['-euc', commands('copy')], { cwd: folder, env });
      // What happens after the copy was made is not in it.
      const later = await open();
      await later.app.inject({ method: 'POST', url: '/v1/wheels', headers: { authorization: `Bearer ${keys[0]}` }, payload: { name: 'Later' } });
      await later.app.close();
      await later.database.close();
      await run('bash', ['-euc', commands('put back')], { cwd: folder, env });

      const again = await open();
      expect(again.firstKey).toBeUndefined();
      expect(await answers(again.app, keys)).toEqual(then);
      await again.app.close();
      await again.database.close();
      console.log(`${Object.keys(then).length} answers of an embedded library were the same from a copy of its folder`);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  });
});
