/** Guilds and keys in the database: the only SQL of this room. */
import { and, desc, eq, gt, isNull, lt, or, sql } from 'drizzle-orm';
import { prepared, turnTo, type Database } from '../../db/client.js';
import { audit, guilds, keys } from '../../db/schema/index.js';
import type { Within } from '../http/store.js';
import { makeCursor, readCursor } from '../wheels/cursor.js';
import { cursorKeyOf } from '../wheels/store.js';
import { hashOf, isWellFormed, makeKey, newId, prefixOf, type Caller, type Scope } from './keys.js';
import type { AuditEntry, Guild, KeptKey, KeyWanted } from './rules.js';

/** A key that was made just now, and itself: told here and never again. */
export interface NewKey { readonly kept: KeptKey; readonly key: string }
interface AskedPage { readonly limit: number; readonly after?: string }
interface Page<Item> { readonly items: Item[]; readonly next?: string }

/** What doors ask of guilds. `by` sees and writes what is its own guild's. */
export interface GuildDoors {
  /** Whose key it is; undefined when it is none of ours, has expired or was revoked. */
  caller(key: string): Promise<Caller | undefined>;
  guild(by: Caller): Promise<Guild>;
  /** A new guild with its first key, which may do everything in it. */
  foundGuild(name: string, by: Caller, within: Within): Promise<{ readonly guild: Guild; readonly firstKey: NewKey }>;
  keys(page: AskedPage, by: Caller): Promise<Page<KeptKey>>;
  key(id: string, by: Caller): Promise<KeptKey | undefined>;
  createKey(wanted: KeyWanted, by: Caller, within: Within): Promise<NewKey>;
  /** A new key in place of this one, which works for `overlap` seconds more. 'over': it does not work any more, or was replaced already. */
  rotateKey(id: string, overlap: number, by: Caller, within: Within): Promise<{ readonly made: NewKey; readonly previous: KeptKey } | 'over' | undefined>;
  /** False: there is no such key. One that was revoked before stays so. */
  revokeKey(id: string, by: Caller): Promise<boolean>;
  /** The newest first. */
  audit(page: AskedPage, by: Caller): Promise<Page<AuditEntry>>;
}
export interface GuildStore extends GuildDoors {
  guilds(): Promise<{ id: string; name: string }[]>;
  addGuild(id: string, name: string): Promise<void>;
  /** A new key, which is told here and never again. */
  addKey(guild: string, label: string, scopes: readonly Scope[]): Promise<string>;
}

const byHash = prepared((db) => db.select({ keyId: keys.id, guild: keys.guildId, scopes: keys.scopes }).from(keys)
  .where(and(eq(keys.hash, sql.placeholder('hash')), isNull(keys.revokedAt), or(isNull(keys.expiresAt), gt(keys.expiresAt, sql`now()`)))).prepare('key_by_hash'));

const row = { id: keys.id, guild: keys.guildId, label: keys.label, prefix: keys.prefix, scopes: keys.scopes, createdAt: keys.createdAt, expiresAt: keys.expiresAt, revokedAt: keys.revokedAt, rotatedFrom: keys.rotatedFrom };
type Row = { [Name in keyof typeof row]: (typeof row)[Name]['_']['data'] | ((typeof row)[Name]['_']['notNull'] extends true ? never : null) };
/** What is null in a row is absent. */
const present = <T extends object>(found: T): { [K in keyof T]: Exclude<T[K], null> } => Object.fromEntries(Object.entries(found).filter(([, value]) => value !== null)) as { [K in keyof T]: Exclude<T[K], null> };
const kept = (found: Row): KeptKey => present(found) as unknown as KeptKey;

export function guildStore(database: Database): GuildStore {
  const cursorKey = cursorKeyOf(database);
  return {
    caller: async (key) => {
      if (!isWellFormed(key)) return undefined;
      const [found] = await database.ask('keeper', (db) => byHash(db).execute({ hash: hashOf(key) }));
      return found?.guild ? { keyId: found.keyId, guild: found.guild, scopes: found.scopes as Scope[] } : undefined;
    },
    guild: async (by) => (await database.ask(by, (db) => db.select().from(guilds).where(eq(guilds.id, by.guild))))[0]!,
    foundGuild: (name, by, within) => database.transaction('keeper', async (db) => {
      await turnTo(db, 'keeper');
      const [guild] = await db.insert(guilds).values({ id: newId('guild'), name }).returning();
      const key = makeKey();
      const [made] = await db.insert(keys).values(keyRow(key, guild!.id, 'first key', ['read', 'write', 'admin'])).returning(row);
      await turnTo(db, by);
      return { guild: guild!, firstKey: { kept: kept(made!), key } };
    }, within),
    keys: async ({ limit, after }, by) => {
      const secret = await cursorKey();
      const from = after === undefined ? undefined : readCursor(secret, `keys ${by.guild}`, after);
      const found = await database.ask(by, (db) => db.select(row).from(keys).where(and(eq(keys.guildId, by.guild), from === undefined ? undefined : gt(keys.id, from))).orderBy(keys.id).limit(limit + 1));
      const items = found.slice(0, limit).map(kept);
      return { items, ...(found.length > limit ? { next: makeCursor(secret, `keys ${by.guild}`, items.at(-1)!.id) } : {}) };
    },
    key: async (id, by) => {
      const [found] = isId(id) ? await database.ask(by, (db) => db.select(row).from(keys).where(and(eq(keys.guildId, by.guild), eq(keys.id, id)))) : [];
      return found && kept(found);
    },
    createKey: async ({ label, scopes, expiresAt }, by, within) => {
      const key = makeKey();
      const [made] = await database.ask(by, (db) => db.insert(keys).values({ ...keyRow(key, by.guild, label, scopes), ...(expiresAt === undefined ? {} : { expiresAt: new Date(expiresAt) }) }).returning(row), within);
      return { kept: kept(made!), key };
    },
    rotateKey: (id, overlap, by, within) => database.transaction(by, async (db) => {
      if (!isId(id)) return undefined;
      const own = and(eq(keys.guildId, by.guild), eq(keys.id, id));
      const [old] = await db.select({ ...row, works: sql<boolean>`revoked_at is null and (expires_at is null or expires_at > now())` }).from(keys).where(own).for('update');
      if (old === undefined) return undefined;
      const [later] = await db.select({ id: keys.id }).from(keys).where(and(eq(keys.guildId, by.guild), eq(keys.rotatedFrom, id))).limit(1);
      if (!old.works || later !== undefined) return 'over';
      const key = makeKey();
      // It lives as long as the old one was given.
      const expiresAt = old.expiresAt === null ? {} : { expiresAt: sql`now() + make_interval(secs => ${(old.expiresAt.getTime() - old.createdAt.getTime()) / 1000})` };
      const [made] = await db.insert(keys).values({ ...keyRow(key, by.guild, old.label, old.scopes as Scope[]), rotatedFrom: id, ...expiresAt }).returning(row);
      const [previous] = await db.update(keys).set({ expiresAt: sql`least(expires_at, now() + make_interval(secs => ${overlap}))` }).where(own).returning(row);
      return { made: { kept: kept(made!), key }, previous: kept(previous!) };
    }, within),
    revokeKey: async (id, by) => {
      if (!isId(id)) return false;
      const own = and(eq(keys.guildId, by.guild), eq(keys.id, id));
      const [done] = await database.ask(by, (db) => db.update(keys).set({ revokedAt: sql`now()` }).where(and(own, isNull(keys.revokedAt))).returning({ id: keys.id }));
      return done !== undefined || (await database.ask(by, (db) => db.select({ id: keys.id }).from(keys).where(own))).length > 0;
    },
    audit: async ({ limit, after }, by) => {
      const secret = await cursorKey();
      const from = after === undefined ? undefined : Number(readCursor(secret, `audit ${by.guild}`, after));
      const found = await database.ask(by, (db) => db.select().from(audit).where(and(eq(audit.guildId, by.guild), from === undefined ? undefined : lt(audit.id, from))).orderBy(desc(audit.id)).limit(limit + 1));
      const items = found.slice(0, limit).map(({ guildId: _, ...entry }) => present(entry) as AuditEntry);
      return { items, ...(found.length > limit ? { next: makeCursor(secret, `audit ${by.guild}`, String(items.at(-1)!.id)) } : {}) };
    },
    guilds: () => database.ask('keeper', (db) => db.select({ id: guilds.id, name: guilds.name }).from(guilds).orderBy(guilds.id)),
    addGuild: async (id, name) => { await database.ask('keeper', (db) => db.insert(guilds).values({ id, name })); },
    addKey: async (guild, label, scopesOfKey) => {
      const key = makeKey();
      await database.ask('keeper', (db) => db.insert(keys).values(keyRow(key, guild, label, scopesOfKey)));
      return key;
    },
  };
}

/** No id of ours looks otherwise, and a database does not take every sign. */
const isId = (id: string): boolean => /^[\w-]{1,80}$/.test(id);

/** The row of a key; its hash, not the key. */
export const keyRow = (key: string, guildId: string, label: string, scopesOfKey: readonly Scope[]) =>
  ({ id: newId('key'), guildId, label, prefix: prefixOf(key), hash: hashOf(key), scopes: [...scopesOfKey] });
