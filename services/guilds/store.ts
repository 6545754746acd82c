/** Guilds and keys in the database: the only SQL of this room. */
import { and, eq, gt, isNull, or, sql } from 'drizzle-orm';
import { prepared, type Database } from '../../db/client.js';
import { guilds, keys } from '../../db/schema/index.js';
import { hashOf, isWellFormed, makeKey, newId, prefixOf, type Caller, type Scope } from './keys.js';

export interface GuildStore {
  /** Whose key it is; undefined when it is none of ours, or was revoked. */
  caller(key: string): Promise<Caller | undefined>;
  guilds(): Promise<{ id: string; name: string }[]>;
  addGuild(id: string, name: string): Promise<void>;
  /** A new key, which is told here and never again. */
  addKey(guild: string, label: string, scopes: readonly Scope[]): Promise<string>;
}

const byHash = prepared((db) => db.select({ keyId: keys.id, guild: keys.guildId, scopes: keys.scopes }).from(keys)
  .where(and(eq(keys.hash, sql.placeholder('hash')), isNull(keys.revokedAt), or(isNull(keys.expiresAt), gt(keys.expiresAt, sql`now()`)))).prepare('key_by_hash'));

export function guildStore(database: Database): GuildStore {
  return {
    caller: async (key) => {
      if (!isWellFormed(key)) return undefined;
      const [found] = await database.ask('keeper', (db) => byHash(db).execute({ hash: hashOf(key) }));
      return found?.guild ? { keyId: found.keyId, guild: found.guild, scopes: found.scopes as Scope[] } : undefined;
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

/** The row of a key; its hash, not the key. */
export const keyRow = (key: string, guildId: string, label: string, scopesOfKey: readonly Scope[]) =>
  ({ id: newId('key'), guildId, label, prefix: prefixOf(key), hash: hashOf(key), scopes: [...scopesOfKey] });
