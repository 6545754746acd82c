/** Guilds and keys in the database: the only SQL of this room. */
import { and, eq, isNull, sql } from 'drizzle-orm';
import type { Database } from '../../db/client.js';
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

export function guildStore(database: Database): GuildStore {
  const byHash = once(() => database.ask(async (db) => db
    .select({ keyId: keys.id, guild: keys.guildId, scopes: keys.scopes }).from(keys)
    .where(and(eq(keys.hash, sql.placeholder('hash')), isNull(keys.revokedAt))).prepare('key_by_hash')));
  return {
    caller: async (key) => {
      if (!isWellFormed(key)) return undefined;
      const query = await byHash();
      const [found] = await database.ask(() => query.execute({ hash: hashOf(key) }));
      return found && { ...found, scopes: found.scopes as Scope[] };
    },
    guilds: () => database.ask((db) => db.select({ id: guilds.id, name: guilds.name }).from(guilds).orderBy(guilds.id)),
    addGuild: async (id, name) => { await database.ask((db) => db.insert(guilds).values({ id, name })); },
    addKey: async (guild, label, scopesOfKey) => {
      const key = makeKey();
      await database.ask((db) => db.insert(keys).values(keyRow(key, guild, label, scopesOfKey)));
      return key;
    },
  };
}

/** The row of a key; its hash, not the key. */
export const keyRow = (key: string, guildId: string, label: string, scopesOfKey: readonly Scope[]) =>
  ({ id: newId('key'), guildId, label, prefix: prefixOf(key), hash: hashOf(key), scopes: [...scopesOfKey] });

/** A query is built once: building costs about as much as asking. */
function once<T>(make: () => Promise<T>): () => Promise<T> {
  let made: Promise<T> | undefined;
  return () => (made ??= make());
}
