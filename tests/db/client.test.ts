/** One interface, the same results on both databases. */
import { eq, sql } from 'drizzle-orm';
import { expect, it } from 'vitest';
import { guilds, keys, wheels } from '../../db/schema/index.js';
import { ProblemError } from '../../services/foundation/problems.js';
import { describeOnBoth } from '../support/db.js';

await describeOnBoth('database', (open) => {
  it('gives times as dates, lists as lists, and JSON in the order in which it was kept', async () => {
    const { database } = open();
    const [guild] = await database.ask('keeper', (db) => db.insert(guilds).values({ id: 'g', name: 'G' }).returning());
    expect(guild!.createdAt).toBeInstanceOf(Date);
    expect(Math.abs(guild!.createdAt.getTime() - Date.now())).toBeLessThan(60_000);
    const [key] = await database.ask('keeper', (db) => db.insert(keys).values({ id: 'k', guildId: 'g', label: 'l', prefix: 'p', hash: 'h', scopes: ['read', 'write'] }).returning());
    expect(key).toMatchObject({ scopes: ['read', 'write'], revokedAt: null });
    const profile = { zebra: 1, a: [1.5, { b: 'µ½ “x”' }], name: 'N' };
    await database.ask({ guild: 'g' }, (db) => db.insert(wheels).values({ id: 'w', guildId: 'g', visibility: 'public', revision: 1, name: 'N', profile }));
    const [wheel] = await database.ask({ guild: 'g' }, (db) => db.select().from(wheels).where(eq(wheels.id, 'w')));
    expect(JSON.stringify(wheel!.profile)).toBe(JSON.stringify(profile));
  });

  it('sorts ids by their bytes', async () => {
    const { database } = open();
    await database.ask('keeper', (db) => db.insert(guilds).values(['Z', 'a', 'é', 'a-b', 'ab', '_'].map((id) => ({ id, name: id }))));
    const found = await database.ask('keeper', (db) => db.select({ id: guilds.id }).from(guilds).orderBy(guilds.id));
    expect(found.map((one) => one.id)).toEqual(['Z', '_', 'a', 'a-b', 'ab', 'g', 'é']);
  });

  it('keeps all of a transaction or none', async () => {
    const { database } = open();
    await expect(database.transaction('keeper', async (db) => {
      await db.insert(guilds).values({ id: 'half', name: 'half' });
      throw new Error('stop');
    })).rejects.toThrow('stop');
    await database.transaction('keeper', async (db) => { await db.insert(guilds).values({ id: 'whole', name: 'whole' }); });
    const found = await database.ask('keeper', (db) => db.select({ id: guilds.id }).from(guilds));
    expect(found.some((one) => one.id === 'half')).toBe(false);
    expect(found.some((one) => one.id === 'whole')).toBe(true);
  });

  it('keeps transactions apart from each other and from plain questions', async () => {
    const { database } = open();
    await database.ask({ guild: 'g' }, (db) => db.insert(wheels).values({ id: 'count', guildId: 'g', visibility: 'public', revision: 1, name: '0', profile: {} }));
    const add = () => database.transaction({ guild: 'g' }, async (db) => {
      const [row] = await db.select().from(wheels).where(eq(wheels.id, 'count')).for('update');
      await db.update(wheels).set({ name: String(Number(row!.name) + 1) }).where(eq(wheels.id, 'count'));
    });
    const [seen] = await Promise.all([
      Promise.all(Array.from({ length: 20 }, () => database.ask('keeper', (db) => db.select().from(guilds).where(eq(guilds.id, 'half'))))),
      ...Array.from({ length: 12 }, add),
    ]);
    expect(seen.flat()).toEqual([]);
    const [row] = await database.ask('public', (db) => db.select().from(wheels).where(eq(wheels.id, 'count')));
    expect(row!.name).toBe('12');
  });

  it('answers a clash as a conflict, and our own fault as it is, without the statement', async () => {
    const { database } = open();
    const clash = await database.ask('keeper', (db) => db.insert(guilds).values({ id: 'g', name: 'again' })).catch((e: unknown) => e);
    expect(clash).toBeInstanceOf(ProblemError);
    expect((clash as ProblemError).code).toBe('conflict');
    const fault = await database.ask('keeper', (db) => db.execute(sql`select no_such_column from guilds`)).catch((e: unknown) => e);
    expect(fault).not.toBeInstanceOf(ProblemError);
    expect(String(fault)).not.toContain('select');
    const outside = await database.ask({ guild: 'nobody' }, (db) => db.insert(wheels).values({ id: 'x', guildId: 'nobody', visibility: 'public', revision: 1, name: 'N', profile: {} })).catch((e: unknown) => e);
    expect((outside as ProblemError).code).toBe('conflict');
  });

  it('refuses what the tables do not allow', async () => {
    const { database } = open();
    const bad = { id: 'bad', guildId: 'g', revision: 1, name: 'N', profile: {} };
    await expect(database.ask({ guild: 'g' }, (db) => db.insert(wheels).values({ ...bad, visibility: 'secret' as 'public' }))).rejects.toThrow();
    await expect(database.ask({ guild: 'g' }, (db) => db.insert(wheels).values({ ...bad, visibility: 'public', revision: 0 }))).rejects.toThrow();
    await expect(database.ask('keeper', (db) => db.insert(keys).values({ id: 'k2', guildId: 'g', label: 'l', prefix: 'p', hash: 'h2', scopes: ['everything'] }))).rejects.toThrow();
  });
});
