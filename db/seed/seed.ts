/** Puts the demo guild into a library: once, all or none. */
import { turnTo, type Database } from '../client.js';
import { guilds, keys, wheelRevisions, wheels as wheelTable } from '../schema/index.js';
import { guild, wheels } from '../../services/wheels/thornmere.js';

export type KeyRow = Omit<typeof keys.$inferInsert, 'guildId'>;

/** False when the guild was there already; then nothing is changed. `key` is the row of the guild's first key. */
export const seed = (database: Database, key: KeyRow): Promise<boolean> => database.transaction('keeper', async (db) => {
  const made = await db.insert(guilds).values(guild).onConflictDoNothing().returning({ id: guilds.id });
  if (made.length === 0) return false;
  await db.insert(keys).values({ ...key, guildId: guild.id });
  await turnTo(db, { guild: guild.id });
  const rows = Object.entries(wheels).map(([id, profile]) => ({ id, guildId: guild.id, visibility: 'public' as const, revision: 1, name: profile.name!, profile: { ...profile } }));
  await db.insert(wheelTable).values(rows);
  await db.insert(wheelRevisions).values(rows.map(({ id, guildId, visibility, revision, profile }) => ({ wheelId: id, guildId, visibility, revision, profile, change: 'made' as const })));
  return true;
});
