/**
 * Processes that migrate are killed at any moment, of many at once: a library is then as it was before or whole, the next
 * start brings it to its end, and it is the same as one that was made in peace. MIGRATION_KILLS (1) rounds of each kind.
 */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openEmbedded } from '../../db/embedded.js';
import { migrate, migrateServer } from '../../db/migrate.js';
import { connectServer } from '../../db/server.js';
import journal from '../../db/migrations/meta/_journal.json' with { type: 'json' };
import { root, start } from '../start/support.js';
import { makeServerDatabase, openTestDatabase } from '../support/db.js';
import { describeWith } from '../support/require.js';
import { migrateOnly, migrationsOf, schemaOf } from '../support/schema.js';

const rounds = Number(process.env['MIGRATION_KILLS'] ?? 1);
const all = journal.entries.length;
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
/** How many migrations are there before a round: none, or some, or all but the last. */
const before = (round: number): number => [0, all - 1, Math.ceil(all / 2)][round % 3]!;

await describeWith('postgres', 'migrations of a server, killed', () => {
  const together = 3;
  /** A process that migrates and ends; it says so when it has. */
  const migrating = (url: string) => {
    const child = spawn(process.execPath, ['--input-type=module', '-e', `import { migrateServer } from ${JSON.stringify(`${root}dist/db/migrate.js`)}; process.stdout.write(String(await migrateServer(${JSON.stringify(url)})));`], { stdio: ['ignore', 'pipe', 'pipe'] });
    let [out, err] = ['', ''];
    child.stdout.on('data', (data: Buffer) => { out += data.toString(); });
    child.stderr.on('data', (data: Buffer) => { err += data.toString(); });
    const ended = once(child, 'close').then(() => ({ out, err, killed: child.signalCode === 'SIGKILL' }));
    return { kill: () => child.kill('SIGKILL'), ended };
  };
  let peaceful: string[];
  let took: number;
  beforeAll(async () => {
    const made = await makeServerDatabase();
    const began = performance.now();
    await migrateServer(made.url);
    took = performance.now() - began;
    const client = connectServer(made.url, { connections: 1 });
    peaceful = await schemaOf(client);
    await client.close();
    await made.drop();
  });

  it('leave a library as it was or whole, and the next start ends them', async () => {
    const told = { midway: 0, over: 0 };
    for (let round = 0; round < rounds; round++) {
      const made = await makeServerDatabase();
      const client = connectServer(made.url, { connections: 1, deadline: 60_000 });
      try {
        const had = before(round);
        if (had > 0) await migrateOnly(client, had);
        const children = Array.from({ length: together }, () => migrating(made.url));
        const ended = Promise.all(children.map((child) => child.ended));
        // Until one of them has begun: it holds the lock that the others wait for.
        const begun = async (): Promise<boolean> => (await client.query('select 1 from pg_locks where locktype = \'advisory\' and granted and database = (select oid from pg_database where datname = current_database())', [], 'objects')).length > 0;
        let over = false;
        void ended.then(() => { over = true; });
        while (!over && !(await begun())) await pause(1);
        await pause(Math.random() * took);
        for (const child of children) child.kill();
        const outcomes = await ended;
        // What a dead process had begun is given up by the server as soon as it hears of it.
        while ((await client.query('select 1 from pg_stat_activity where datname = current_database() and pid <> pg_backend_pid()', [], 'objects')).length > 0) await pause(5);
        const has = await migrationsOf(client);
        expect([had, all]).toContain(has);
        if (has === all) told.over++;
        else { told.midway++; expect(outcomes.every((one) => one.killed && one.out === '')).toBe(true); }

        const again = await Promise.all(Array.from({ length: together }, () => migrating(made.url).ended));
        expect(again.map((one) => one.err)).toEqual(again.map(() => ''));
        expect(again.map((one) => Number(one.out)).toSorted((a, b) => a - b)).toEqual([0, 0, all - has]);
        const service = start({ DATABASE_URL: made.url, PORT: '0' });
        await service.says(/The library is open/);
        await service.stop();
        expect(await migrateServer(made.url)).toBe(0);
        expect(await schemaOf(client)).toEqual(peaceful);
      } finally {
        await client.close();
        await made.drop();
      }
    }
    console.log(`${together} migrating processes killed at once, ${rounds} times: ${told.midway} times midway, ${told.over} times when one was done; whole after the next start each time`);
  }, 120_000 + rounds * 60_000);
});

describe('migrations of the embedded library, killed', () => {
  let folder: string;
  let peaceful: string[];
  beforeAll(async () => {
    folder = mkdtempSync(join(tmpdir(), 'wheelgrist-migrate-'));
    const fresh = await openTestDatabase('pglite');
    peaceful = await schemaOf(fresh.client);
    await fresh.close();
    const old = await openEmbedded({ folder: join(folder, 'old') });
    await migrateOnly(old, Math.ceil(all / 2));
    await old.close();
  }, 300_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it.each(['an old library', 'none yet'])('leave it so that the next start ends them: %s', async (what) => {
    const place = (): string => {
      const data = mkdtempSync(join(folder, 'data-'));
      if (what === 'an old library') cpSync(join(folder, 'old'), join(data, 'library'), { recursive: true });
      return data;
    };
    const open = async (data: string): Promise<number> => {
      const service = start({ DATA_DIR: data, PORT: '0' });
      await service.says(/The library is open/);
      const age = service.age();
      await service.stop();
      return age;
    };
    const took = await open(place());
    let killed = 0;
    for (let round = 0; round < rounds; round++) {
      const data = place();
      const service = start({ DATA_DIR: data, PORT: '0' });
      // Node itself takes the first part of it.
      await pause(took * (0.3 + 0.7 * Math.random()));
      await service.stop('SIGKILL');
      if (!service.out().includes('The library is open')) killed++;
      await open(data);
      const client = await openEmbedded({ folder: join(data, 'library') });
      expect(await migrate(client)).toBe(0);
      expect(await schemaOf(client)).toEqual(peaceful);
      expect((await client.query('select id from guilds', [], 'objects')).length).toBe(1);
      await client.close();
      rmSync(data, { recursive: true, force: true });
    }
    console.log(`${what}: killed ${killed} times of ${rounds} before it was open (a start takes ${Math.round(took)} ms)`);
  }, 120_000 + rounds * 60_000);
});
