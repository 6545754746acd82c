/**
 * The service is killed again and again while it writes, on each database: whatever it has acknowledged is there, once, and
 * what it has not acknowledged is there once or not at all. Everything is seen over HTTP, as a guild sees it. KILLS (4)
 * kills on each database; KILLS=20 is the whole proof.
 */
import { execFileSync } from 'node:child_process';
import { randomUUID } from 'node:crypto';
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { freePort, get, start, type Started } from '../start/support.js';
import { makeServerWithGuild } from '../support/guild.js';
import { describeWith } from '../support/require.js';

const kills = Number(process.env['KILLS'] ?? 4);
const writers = 4;

interface Written { readonly name: string; id?: string; /** The newest revision that was acknowledged, and the newest that was asked for. */ acknowledged: number; asked: number }
interface Library { readonly environment: Record<string, string>; key?: string; close(): Promise<void> }

async function underFire(library: Library): Promise<void> {
  const written: Written[] = [];
  const ready: number[] = [];
  let { key } = library;
  const service: { running?: Started } = {};
  let port = 0;
  const begin = async (): Promise<void> => {
    port = await freePort();
    const running = service.running = start({ ...library.environment, PORT: String(port) });
    for (;;) {
      if ((await get(port, '/health/ready')).status === 200) break;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
    ready.push(running.age());
    key ??= (await running.says(/key: (\S+)/))[1]!;
  };
  const ask = (method: string, path: string, headers: Record<string, string>, body: object): Promise<Response> =>
    fetch(`http://127.0.0.1:${port}${path}`, { method, headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json', ...headers }, body: JSON.stringify(body) });
  const create = (name: string): Promise<Response> => ask('POST', '/v1/wheels', { 'idempotency-key': name }, { name });
  /** Makes wheels and changes each of them three times, until there is nobody left to talk to. */
  const write = async (): Promise<void> => {
    for (;;) {
      const one: Written = { name: `wheel ${randomUUID()}`, acknowledged: 0, asked: 1 };
      written.push(one);
      try {
        let reply = await create(one.name);
        for (;;) {
          if (!reply.ok) throw new Error(`${reply.status} ${await reply.text()}`);
          const { id, revision } = (await reply.json()) as { id: string; revision: number };
          Object.assign(one, { id, acknowledged: revision });
          if (revision === 4) break;
          one.asked = revision + 1;
          reply = await ask('PATCH', `/v1/wheels/${id}`, { 'if-match': reply.headers.get('etag')! }, { style: ['saxony', 'castle', 'norwegian'][revision - 1] });
        }
      } catch (error) {
        if (error instanceof TypeError) return;
        throw error;
      }
    }
  };
  const read = async (path: string): Promise<{ items: { id: string; name: string; revision: number }[]; next?: string }> => {
    const reply = await get(port, path, { headers: { authorization: `Bearer ${key}` } });
    expect(reply.status, reply.body).toBe(200);
    return JSON.parse(reply.body) as never;
  };

  try {
    await begin();
    for (let round = 0; round < kills; round++) {
      const load = Array.from({ length: writers }, write);
      // Some writes are acknowledged, and it is in the middle of others.
      const acknowledged = (): number => written.filter((one) => one.acknowledged > 0).length;
      const enough = acknowledged() + 2 * writers;
      while (acknowledged() < enough) await new Promise((resolve) => setTimeout(resolve, 2));
      await new Promise((resolve) => setTimeout(resolve, Math.random() * 20));
      await service.running!.stop('SIGKILL');
      await Promise.all(load);
      await begin();
    }
    // Whatever was asked for and not acknowledged is asked for again, by the same name.
    const open = written.filter((one) => one.acknowledged === 0);
    for (const one of open) {
      const reply = await create(one.name);
      expect(reply.status).toBe(201);
      Object.assign(one, { id: ((await reply.json()) as { id: string }).id, acknowledged: 1 });
    }

    const there = new Map<string, { name: string; revision: number }>();
    for (let after = ''; ;) {
      const page = await read(`/v1/wheels?limit=100${after}`);
      for (const { id, name, revision } of page.items) { expect(there.has(id)).toBe(false); there.set(id, { name, revision }); }
      if (page.next === undefined) break;
      after = `&after=${page.next}`;
    }
    const names = [...there.values()].map((wheel) => wheel.name).filter((name) => name.startsWith('wheel '));
    expect(names.length).toBe(written.length);
    expect(new Set(names)).toEqual(new Set(written.map((one) => one.name)));
    let revisions = 0;
    for (const one of written) {
      const { revision } = there.get(one.id!)!;
      expect([one.acknowledged, one.asked], `${one.name} is at revision ${revision}`).toContain(revision);
      revisions += revision;
    }
    for (const one of written.filter((_, i) => i % 10 === 0)) {
      expect((await read(`/v1/wheels/${one.id}/revisions`)).items.map((item) => item.revision)).toEqual(Array.from({ length: there.get(one.id!)!.revision }, (_, i) => there.get(one.id!)!.revision - i));
    }
    // One write, one line of the audit.
    const writes = (await auditOf(read)).filter((entry) => entry.what === 'wheel');
    expect(writes.filter((entry) => written.some((one) => one.id === entry.subject)).length).toBe(revisions);
    const bare = nodeStarts();
    ready.sort((a, b) => a - b);
    console.log(`killed ${kills} times under ${writers} writers: ${written.length} wheels in ${revisions} revisions, ${open.length} of them not acknowledged at first; none lost, none doubled; ready again after ${Math.round(ready[ready.length >> 1]!)} ms (median), ${Math.round(ready.at(-1)!)} ms at most, where Node itself starts in ${Math.round(bare)} ms`);
    expect(written.length).toBeGreaterThanOrEqual(2 * kills * writers);
  } finally {
    await service.running?.stop('SIGKILL');
    await library.close();
  }
}

/** Milliseconds that Node takes to start and do nothing, just now: about 50 on a machine with a processor to spare. */
function nodeStarts(): number {
  const began = performance.now();
  execFileSync(process.execPath, ['-e', '0']);
  return performance.now() - began;
}

async function auditOf(read: (path: string) => Promise<{ items: unknown[]; next?: string }>): Promise<{ what: string; subject: string }[]> {
  const all: { what: string; subject: string }[] = [];
  for (let after = ''; ;) {
    const page = await read(`/v1/guilds/thornmere-guild/audit?limit=100${after}`);
    all.push(...(page.items as { what: string; subject: string }[]));
    if (page.next === undefined) return all;
    after = `&after=${page.next}`;
  }
}

const limits = { WRITES_PER_MINUTE: '0' };
describe('the embedded library', () => {
  it(`loses nothing and doubles nothing when its process is killed ${kills} times while it writes`, async () => {
    const folder = mkdtempSync(join(tmpdir(), 'wheelgrist-kill-'));
    await underFire({ environment: { ...limits, DATA_DIR: join(folder, 'data') }, close: () => Promise.resolve(rmSync(folder, { recursive: true, force: true })) });
  }, 300_000);
});
await describeWith('postgres', 'a library on PostgreSQL', () => {
  it(`loses nothing and doubles nothing when its process is killed ${kills} times while it writes`, async () => {
    const { url, key, drop } = await makeServerWithGuild('admin');
    await underFire({ environment: { ...limits, DATABASE_URL: url }, key, close: drop });
  }, 300_000);
});
