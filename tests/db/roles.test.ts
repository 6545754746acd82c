/** The database keeps guilds apart by itself: whatever is asked, nobody gets a row that is not theirs, and nobody writes one. */
import { eq, sql } from 'drizzle-orm';
import { beforeAll, describe, expect, it } from 'vitest';
import { over, turnTo, type Database, type Who } from '../../db/client.js';
import { migrateServer } from '../../db/migrate.js';
import { audit, cardRevisions, cards, care, guilds, keys, loanRevisions, loans, measurements, wheelRevisions, wheels } from '../../db/schema/index.js';
import { roles } from '../../db/roles.js';
import { connectServer } from '../../db/server.js';
import { describeOnBoth, makeServerDatabase } from '../support/db.js';
import { describeWith } from '../support/require.js';

const wheel = (id: string, guildId: string, visibility: 'public' | 'guild', more: object = {}) => ({ id, guildId, visibility, revision: 1, name: id, profile: {}, ...more });

await describeOnBoth('rows of guilds', (open) => {
  let database: Database;
  beforeAll(async () => {
    ({ database } = open());
    for (const guild of ['a', 'b']) {
      await database.transaction('keeper', async (db) => {
        await db.insert(guilds).values({ id: guild, name: guild });
        await db.insert(keys).values({ id: `key-${guild}`, guildId: guild, label: 'l', prefix: 'p', hash: `hash-${guild}`, scopes: ['read'] });
        await turnTo(db, { guild, keyId: `key-${guild}`, request: 'r1' });
        const rows = [wheel(`${guild}-open`, guild, 'public'), wheel(`${guild}-own`, guild, 'guild'), wheel(`${guild}-gone`, guild, 'public', { retiredAt: new Date() })];
        await db.insert(wheels).values(rows);
        await db.insert(wheelRevisions).values(rows.map((row) => ({ wheelId: row.id, revision: 1, guildId: guild, change: 'made' as const, visibility: row.visibility, profile: {} })));
      });
    }
  });
  const ids = async (who: Who): Promise<string[]> => (await database.ask(who, (db) => db.select({ id: wheels.id }).from(wheels).orderBy(wheels.id))).map((row) => row.id);

  it('are seen by their guild; public ones by all; retired ones by nobody else', async () => {
    expect(await ids('public')).toEqual(['a-open', 'b-open']);
    expect(await ids({ guild: 'a' })).toEqual(['a-gone', 'a-open', 'a-own', 'b-open']);
    expect(await ids({ guild: 'b' })).toEqual(['a-open', 'b-gone', 'b-open', 'b-own']);
    for (const guild of ['', 'nobody', '*', 'a\' or true --']) expect(await ids({ guild })).toEqual(['a-open', 'b-open']);
    const revisions = (who: Who) => database.ask(who, (db) => db.select({ id: wheelRevisions.wheelId }).from(wheelRevisions).orderBy(wheelRevisions.wheelId));
    expect((await revisions('public')).map((row) => row.id)).toEqual(['a-open', 'b-open']);
    expect((await revisions({ guild: 'a' })).map((row) => row.id)).toEqual(['a-gone', 'a-open', 'a-own', 'b-open']);
  });

  it('of cards and measurements are seen as their visibility and their wheel are; of loans and care by their guild alone', async () => {
    for (const guild of ['a', 'b']) {
      await database.transaction({ guild }, async (db) => {
        await db.insert(cards).values((['public', 'guild'] as const).map((visibility) => ({ id: `card-${guild}-${visibility}`, guildId: guild, visibility, revision: 1, card: {} })));
        await db.insert(cardRevisions).values({ cardId: `card-${guild}-public`, revision: 1, guildId: guild, change: 'made', card: {} });
        for (const wheelId of [`${guild}-open`, `${guild}-own`, `${guild}-gone`]) await db.insert(measurements).values({ id: `m-${wheelId}`, guildId: guild, wheelId, revision: 1, measurement: {} });
        await db.insert(loans).values({ id: `loan-${guild}`, guildId: guild, wheelId: `${guild}-open`, revision: 1, loan: {}, dueOn: '2026-01-01' });
        await db.insert(loanRevisions).values({ loanId: `loan-${guild}`, revision: 1, guildId: guild, loan: {} });
        await db.insert(care).values({ id: `care-${guild}`, guildId: guild, wheelId: `${guild}-open`, revision: 1, entry: {} });
      });
    }
    const seen = (who: Who, table: typeof cards | typeof measurements | typeof loans | typeof care) => database.ask(who, (db) => db.select({ id: table.id }).from(table).orderBy(table.id)).then((rows) => rows.map((row) => row.id));
    expect(await seen('public', cards)).toEqual(['card-a-public', 'card-b-public']);
    expect(await seen({ guild: 'a' }, cards)).toEqual(['card-a-guild', 'card-a-public', 'card-b-public']);
    expect(await seen('public', measurements)).toEqual(['m-a-open', 'm-b-open']);
    expect(await seen({ guild: 'a' }, measurements)).toEqual(['m-a-gone', 'm-a-open', 'm-a-own', 'm-b-open']);
    expect([await seen({ guild: 'a' }, loans), await seen({ guild: 'b' }, care)]).toEqual([['loan-a'], ['care-b']]);
    for (const table of [loans, care]) await expect(seen('public', table)).rejects.toThrow('permission denied');
    for (const table of [cardRevisions, loanRevisions]) {
      await expect(database.ask('public', (db) => db.select().from(table))).rejects.toThrow('permission denied');
      expect(await database.ask({ guild: 'a' }, (db) => db.select({ guild: table.guildId }).from(table))).toEqual([{ guild: 'a' }]);
    }
    // Nothing hangs on another guild's wheel, and no row of another guild is written.
    await expect(database.ask({ guild: 'b' }, (db) => db.insert(measurements).values({ id: 'm-x', guildId: 'b', wheelId: 'a-open', revision: 1, measurement: {} }))).rejects.toThrow();
    await expect(database.ask({ guild: 'b' }, (db) => db.insert(loans).values({ id: 'loan-x', guildId: 'a', wheelId: 'a-own', revision: 1, loan: {}, dueOn: '2026-01-01' }))).rejects.toThrow('row-level security');
    expect(await database.ask({ guild: 'b' }, (db) => db.update(cards).set({ revision: 2 }).where(eq(cards.guildId, 'a')).returning({ id: cards.id }))).toEqual([]);
  });

  it('are not reached by any query without a guild', async () => {
    const asked = (text: string): Promise<unknown[]> => database.ask('public', (db) => db.execute(sql.raw(text))) as Promise<unknown[]>;
    expect(await asked('select id from wheels where visibility = \'guild\' or guild_id = \'a\' and retired_at is not null')).toEqual([]);
    expect(await asked('select w.id from wheels w full join wheel_revisions r on true where w.visibility <> \'public\' or r.visibility <> \'public\'')).toEqual([]);
    expect(await asked('select count(*)::int as n from wheels')).toEqual([{ n: 2 }]);
    for (const table of ['keys', 'guilds', 'audit', 'idempotency', 'library_secrets']) await expect(asked(`select * from ${table}`)).rejects.toThrow('permission denied');
    for (const text of ['insert into wheels select * from wheels', 'update wheels set name = \'x\'', 'delete from wheels', 'create table t (id int)', 'alter table wheels disable row level security', 'drop policy own_rows on wheels']) await expect(asked(text)).rejects.toThrow(/permission denied|must be owner/);
  });

  it('are not written by another guild', async () => {
    const as = (who: Who, work: (db: ReturnType<typeof over>) => Promise<unknown>): Promise<unknown> => database.ask(who, work as never);
    expect(await as({ guild: 'b' }, (db) => db.update(wheels).set({ name: 'stolen' }).returning({ id: wheels.id }))).toHaveLength(3);
    expect(await database.ask({ guild: 'a' }, (db) => db.select().from(wheels).where(eq(wheels.name, 'stolen')))).toMatchObject([{ id: 'b-open' }]);
    await expect(as({ guild: 'b' }, (db) => db.insert(wheels).values(wheel('x', 'a', 'public')))).rejects.toThrow('row-level security');
    await expect(as({ guild: 'b' }, (db) => db.update(wheels).set({ guildId: 'a' }))).rejects.toThrow('row-level security');
    await expect(as('keeper', (db) => db.select().from(wheels))).rejects.toThrow('permission denied');
    await expect(as({ guild: 'b' }, (db) => db.delete(audit))).rejects.toThrow('permission denied');
    await expect(as({ guild: 'b' }, (db) => db.update(wheelRevisions).set({ change: 'made' }))).rejects.toThrow('permission denied');
  });

  it('name their guild for one transaction and no longer', async () => {
    await Promise.all(Array.from({ length: 60 }, async (_, i) => {
      const guild = i % 2 === 0 ? 'a' : 'b';
      const seen = i % 3 === 0 ? await ids('public') : await database.transaction({ guild }, async (db) => {
        const found = await db.select({ id: wheels.id }).from(wheels);
        if (i % 5 === 0) await db.execute(sql`select 1 / 0`).catch(() => undefined);
        return found.map((row) => row.id);
      }).catch(() => undefined);
      if (seen !== undefined) expect(seen.filter((id) => id.endsWith('-own'))).toEqual(i % 3 === 0 ? [] : [`${guild}-own`]);
    }));
  });

  it('leave a trace of every write: what, by which key, on which request', async () => {
    const trace = (await database.ask({ guild: 'a' }, (db) => db.select().from(audit).orderBy(audit.id))).filter((row) => row.what === 'key' || row.what === 'wheel');
    expect(trace.map((row) => [row.action, row.what, row.subject, row.keyId, row.requestId])).toEqual([
      ['made', 'key', 'key-a', null, null], ['made', 'wheel', 'a-open', 'key-a', 'r1'], ['made', 'wheel', 'a-own', 'key-a', 'r1'], ['made', 'wheel', 'a-gone', 'key-a', 'r1'],
    ]);
    expect(trace.every((row) => row.guildId === 'a')).toBe(true);
  });

  it('are guarded in every table', async () => {
    const tables = (await open().client.query('select relname, relrowsecurity, relforcerowsecurity, (select count(*)::int from pg_policy where polrelid = c.oid) as policies from pg_class c where relkind in (\'r\', \'p\') and relnamespace = \'public\'::regnamespace', [], 'objects')) as { relname: string; relrowsecurity: boolean; relforcerowsecurity: boolean; policies: number }[];
    expect(tables.length).toBeGreaterThan(6);
    expect(tables.filter((t) => !t.relrowsecurity || !t.relforcerowsecurity || t.policies < 2), 'select guard_guild_table(…) in its migration guards it').toEqual([]);
    const owned = await open().client.query('select relname, rolname from pg_class join pg_roles r on r.oid = relowner where rolname like \'wheelgrist_%\'', [], 'objects');
    expect(owned).toEqual([]);
    const mighty = await open().client.query('select rolname from pg_roles where rolname like \'wheelgrist_%\' and (rolsuper or rolbypassrls or rolcanlogin or rolcreaterole or rolcreatedb)', [], 'objects');
    expect(mighty).toEqual([]);
  });

  it('are asked for under a role that is nobody\'s owner', async () => {
    for (const [who, role] of [['public', roles.public], ['keeper', roles.keeper], [{ guild: 'a' }, roles.guild]] as const) {
      expect(await database.ask(who, (db) => db.execute(sql`select current_user::text as me`))).toEqual([{ me: role }]);
    }
  });
});

await describeWith('postgres', 'a database whose owner is no superuser', () => {
  const withOwner = async (rights: string, work: (urls: { owner: string; service: string }, made: Awaited<ReturnType<typeof makeServerDatabase>>, names: { owner: string; service: string }) => Promise<void>): Promise<void> => {
    const made = await makeServerDatabase();
    const names = { owner: `o_${made.name.slice(2, 14)}`, service: `s_${made.name.slice(2, 14)}` };
    await made.admin.unsafe(`create role ${names.owner} login ${rights}`);
    await made.admin.unsafe(`create role ${names.service} login`);
    await made.admin.unsafe(`alter database ${made.name} owner to ${names.owner}`);
    const url = (user: string): string => Object.assign(new URL(made.url), { username: user }).href;
    try {
      await work({ owner: url(names.owner), service: url(names.service) }, made, names);
    } finally {
      await made.drop();
      const admin = connectServer(made.url.replace(/\/t_\w+$/, '/postgres'), { connections: 1 });
      for (const name of Object.values(names)) await admin.query(`drop role ${name}`, [], 'objects');
      await admin.close();
    }
  };
  const { connectRoles } = { connectRoles: async (url: string) => (await import('../../db/server.js')).connectRoles(url, { connections: 2 }) };

  it('is migrated, and kept to its roles, by one address or by two', async () => {
    for (const two of [false, true]) {
      await withOwner('createrole', async ({ owner, service }, made, names) => {
        // Roles that another library on this server has made already are given on by an administrator.
        await made.admin.unsafe(`grant ${Object.values(roles).join(', ')} to ${names.owner} with admin option`).catch(() => undefined);
        expect(await migrateServer(owner, two ? service : owner)).toBeGreaterThan(0);
        const { databaseOver } = await import('../../db/client.js');
        const database = databaseOver(await connectRoles(two ? service : owner), 'server');
        await database.transaction('keeper', async (db) => { await db.insert(guilds).values([{ id: 'a', name: 'a' }, { id: 'b', name: 'b' }]); });
        await database.ask({ guild: 'a' }, (db) => db.insert(wheels).values(wheel('own', 'a', 'guild')));
        expect(await database.ask('public', (db) => db.select().from(wheels))).toEqual([]);
        expect(await database.ask({ guild: 'b' }, (db) => db.select().from(wheels))).toEqual([]);
        await database.close();
        const plain = connectServer(two ? service : owner, { connections: 1 });
        // The owner may do all by nature, and sees rows as a member of the backup role; a service of its own can do neither.
        if (two) await expect(plain.query('create table t (id int)', [], 'objects')).rejects.toThrow('permission denied');
        await plain.close();
      });
    }
  });

  it('says what an administrator has to do where the owner may make no roles', async () => {
    await withOwner('', async ({ owner }, _made, names) => {
      await expect(migrateServer(owner)).rejects.toThrow(new RegExp(`which its owner ${names.owner} may not make on this server: let an administrator of the server run once: create role wheelgrist_public nologin; .*grant wheelgrist_public, wheelgrist_guild, wheelgrist_keeper, wheelgrist_backup to "${names.owner}"\\.$`));
    });
  });
});

describe('names of roles', () => {
  it('are the same in every library', () => { expect(Object.values(roles).every((name) => /^wheelgrist_[a-z]+$/.test(name))).toBe(true); });
});
