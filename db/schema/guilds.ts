/** Guilds and their keys. */
import { sql } from 'drizzle-orm';
import { check, customType, index, pgTable, text, timestamp } from 'drizzle-orm/pg-core';

/** Ids sort by their bytes on every database, whatever language it was set up in; pages of a list rely on it. */
export const idText = customType<{ data: string }>({ dataType: () => 'text collate "C"' });
export const moment = (name: string) => timestamp(name, { withTimezone: true, mode: 'date' });

export const guilds = pgTable('guilds', {
  id: idText('id').primaryKey(),
  name: text('name').notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
});

/** A key is shown once and kept as its SHA-256 only. It holds 190 random bits, so no slow hash is needed. */
export const keys = pgTable('keys', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  label: text('label').notNull(),
  /** Its first signs, by which a person knows it again. */
  prefix: text('prefix').notNull(),
  hash: text('hash').notNull().unique('keys_hash_unique'),
  scopes: text('scopes').array().notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
  revokedAt: moment('revoked_at'),
}, (t) => [
  index('keys_guild').on(t.guildId),
  check('keys_scopes', sql`${t.scopes} <@ array['read', 'write', 'admin'] and cardinality(${t.scopes}) > 0`),
]);

/** One row: what every process of this library shares. */
export const librarySecrets = pgTable('library_secrets', {
  id: text('id').primaryKey().default('library'),
  /** Signs cursors, so that one made by hand is told from ours. Base64. */
  cursorKey: text('cursor_key').notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
}, (t) => [check('library_secrets_one', sql`${t.id} = 'library'`)]);
