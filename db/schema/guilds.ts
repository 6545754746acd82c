/** Guilds, their keys, and what was written on them. Who may see which row stands in the migrations. */
import { sql } from 'drizzle-orm';
import { bigint, check, customType, index, integer, json, pgTable, text, timestamp } from 'drizzle-orm/pg-core';

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
  /** Absent: a key of the house, which makes guilds and sees nothing that they keep. */
  guildId: idText('guild_id').references(() => guilds.id),
  label: text('label').notNull(),
  /** Its first signs, by which a person knows it again. */
  prefix: text('prefix').notNull(),
  hash: text('hash').notNull().unique('keys_hash_unique'),
  scopes: text('scopes').array().notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
  /** From then on it does not work. */
  expiresAt: moment('expires_at'),
  revokedAt: moment('revoked_at'),
  /** The key in whose place it came. */
  rotatedFrom: idText('rotated_from'),
}, (t) => [
  index('keys_guild').on(t.guildId, t.id),
  check('keys_scopes', sql`${t.scopes} <@ array['read', 'write', 'admin'] and cardinality(${t.scopes}) > 0`),
]);

/** One row for each thing written, in the transaction that wrote it: a trigger of the written table makes it. Never changed. */
export const audit = pgTable('audit', {
  id: bigint('id', { mode: 'number' }).primaryKey().generatedAlwaysAsIdentity(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  at: moment('at').notNull().defaultNow(),
  /** Absent: by hand on the machine, or by the house. */
  keyId: text('key_id'),
  requestId: text('request_id'),
  /** made, changed, retired, revoked, removed. */
  action: text('action').notNull(),
  /** wheel, key, … */
  what: text('what').notNull(),
  subject: text('subject').notNull(),
  revision: integer('revision'),
}, (t) => [index('audit_guild').on(t.guildId, t.id)]);

/**
 * Replies to POSTs that named an Idempotency-Key, written in the transaction of what they tell of. The reply is sealed
 * under the key that asked and the name that it gave, so that nothing in here can be read without both.
 */
export const idempotency = pgTable('idempotency', {
  /** Hash of the key's id and the Idempotency-Key. */
  id: text('id').primaryKey(),
  /** Absent: asked by the house. */
  guildId: idText('guild_id').references(() => guilds.id),
  /** Hash of what was asked. */
  fingerprint: text('fingerprint').notNull(),
  status: integer('status').notNull(),
  headers: json('headers').$type<Record<string, string>>().notNull(),
  sealed: text('sealed').notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
  expiresAt: moment('expires_at').notNull(),
}, (t) => [index('idempotency_guild').on(t.guildId), index('idempotency_expires').on(t.expiresAt)]);

/** What each guild wrote in the newest minute, counted together by all processes. */
export const spent = pgTable('spent', {
  guildId: idText('guild_id').primaryKey().references(() => guilds.id),
  /** Since the epoch. */
  minute: integer('minute').notNull(),
  count: integer('count').notNull(),
});

/** One row: what every process of this library shares. */
export const librarySecrets = pgTable('library_secrets', {
  id: text('id').primaryKey().default('library'),
  /** Signs cursors, so that one made by hand is told from ours. Base64. */
  cursorKey: text('cursor_key').notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
}, (t) => [check('library_secrets_one', sql`${t.id} = 'library'`)]);
