/** The server goes away in every way that it can: questions end in time, nothing is written outside its transaction, and all is well once it is back. */
import { afterAll, afterEach, beforeAll, expect, it } from 'vitest';
import { databaseOver, type Database } from '../../db/client.js';
import { migrateServer } from '../../db/migrate.js';
import { guilds } from '../../db/schema/index.js';
import { connectRoles, connectServer } from '../../db/server.js';
import { ProblemError } from '../../services/foundation/problems.js';
import { makeServerDatabase } from '../support/db.js';
import { makeProxy } from '../support/proxy.js';
import { describeWith } from '../support/require.js';

const deadline = 1500;
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

await describeWith('postgres', 'a server that goes away', () => {
  let made: Awaited<ReturnType<typeof makeServerDatabase>>;
  let database: Database;
  const unhandled: unknown[] = [];
  const note = (error: unknown): void => { unhandled.push(error); };
  beforeAll(async () => {
    process.on('unhandledRejection', note);
    made = await makeServerDatabase();
    await migrateServer(made.url);
    database = databaseOver(connectRoles(made.url, { deadline }), 'server');
  });
  afterAll(async () => {
    await database.close();
    await made.drop();
    process.off('unhandledRejection', note);
  });
  afterEach(() => { expect(unhandled).toEqual([]); });

  const count = async (db = database): Promise<number> => (await db.ask('keeper', (d) => d.select({ id: guilds.id }).from(guilds))).length;
  const killAll = () => made.admin.unsafe(`select pg_terminate_backend(pid) from pg_stat_activity where datname = '${made.name}'`);
  /** Asks until it is answered; how often it was refused before, each time as unavailable. */
  const recovers = async (db = database): Promise<void> => {
    for (let attempt = 0; attempt < 20; attempt++) {
      try {
        await count(db);
        return;
      } catch (error) {
        expect((error as ProblemError).code).toBe('library-unavailable');
        expect((error as ProblemError).headers['retry-after']).toMatch(/^\d+$/);
        await pause(200);
      }
    }
    throw new Error('it did not recover');
  };

  it('answers again after every connection was ended, ten times, under load', async () => {
    for (let round = 0; round < 10; round++) {
      const asked = Promise.allSettled(Array.from({ length: 40 }, () => count()));
      await killAll();
      for (const one of await asked) if (one.status === 'rejected') expect((one.reason as ProblemError).code).toBe('library-unavailable');
      await recovers();
    }
  });

  it('writes nothing outside a transaction whose connection was ended half-way', async () => {
    for (let round = 0; round < 5; round++) {
      const outcome = await database.transaction('keeper', async (db) => {
        await db.insert(guilds).values({ id: `before-${round}`, name: 'x' });
        await killAll();
        await pause(round * 40);
        await db.insert(guilds).values({ id: `after-${round}`, name: 'x' });
      }).catch((error: unknown) => error);
      expect((outcome as ProblemError).code).toBe('library-unavailable');
    }
    await recovers();
    expect(await count()).toBe(0);
    await database.transaction('keeper', async (db) => { await db.insert(guilds).values({ id: 'whole', name: 'x' }); });
    expect(await count()).toBe(1);
  });

  it('gives up a statement that waits too long, and says so', async () => {
    const holder = connectServer(made.url, { connections: 1 });
    try {
      await holder.transaction(async (line) => {
        await line.query('lock table guilds in access exclusive mode', [], 'objects');
        const began = Date.now();
        await expect(count()).rejects.toMatchObject({ code: 'library-unavailable' });
        expect(Date.now() - began).toBeLessThan(deadline + 1000);
      });
    } finally {
      await holder.close();
    }
    await recovers();
  });

  it('counts the rows of a question afresh after one that broke off between two of its rows', async () => {
    const one = connectServer(made.url, { connections: 1 });
    for (const form of ['arrays', 'objects'] as const) {
      // The first row is on its way when the second divides by nothing.
      await expect(one.query('select 1 / (2 - x) as y from generate_series(1, $1::int) as x', [3], form)).rejects.toMatchObject({ code: '22012' });
      expect(await one.query('select $1::int as y', [5], form)).toEqual(form === 'arrays' ? [[5]] : [{ y: 5 }]);
    }
    await one.close();
  });

  it('ends every question in time when the network swallows everything, and is well after', async () => {
    const proxy = await makeProxy(new URL(made.url));
    const db = databaseOver(connectRoles(proxy.url, { deadline }), 'server');
    try {
      expect(await count(db)).toBe(1);
      proxy.freeze(true);
      const began = Date.now();
      const asked = [
        ...Array.from({ length: 30 }, (_, i) => db.ask('keeper', (d) => d.insert(guilds).values({ id: `lost-${i}`, name: 'x' }))),
        ...Array.from({ length: 6 }, (_, i) => db.transaction('keeper', async (d) => { await d.insert(guilds).values({ id: `lost-too-${i}`, name: 'x' }); })),
      ];
      for (const one of await Promise.allSettled(asked)) expect(one).toMatchObject({ status: 'rejected', reason: { code: 'library-unavailable' } });
      // Transactions that wait for a connection of their own wait behind others: two rounds, and each may take a connect besides.
      expect(Date.now() - began).toBeLessThan(4 * deadline + 2000);
      proxy.freeze(false);
      await recovers(db);
      await pause(1500);
      expect(await count()).toBe(1);
    } finally {
      await db.close();
      await proxy.close();
    }
  });

  it('says at once that nobody listens, or that there is no such database', async () => {
    const nobody = connectServer('postgres://postgres@127.0.0.1:9/x', { deadline });
    await expect(nobody.query('select 1', [], 'objects')).rejects.toMatchObject({ code: 'ECONNREFUSED' });
    const house = databaseOver(connectRoles('postgres://postgres@127.0.0.1:9/x', { deadline }), 'server');
    await expect(house.ask('keeper', (db) => db.select().from(guilds))).rejects.toMatchObject({ code: 'library-unavailable' });
    await nobody.close();
    await house.close();
    const elsewhere = new URL(made.url);
    elsewhere.pathname = '/no_such_database';
    const absent = databaseOver(connectRoles(elsewhere.href, { deadline }), 'server');
    await expect(absent.ask('keeper', (db) => db.select().from(guilds))).rejects.toMatchObject({ code: 'library-unavailable' });
    await absent.close();
  });
});
