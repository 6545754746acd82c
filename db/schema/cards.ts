/** Cards of what was spun, and every revision of each. Who may see which row stands in the migrations. */
import { sql } from 'drizzle-orm';
import { check, index, integer, json, pgTable, primaryKey, text } from 'drizzle-orm/pg-core';
import { guilds, idText, keys, moment } from './guilds.js';
import { wheels } from './wheels.js';

/** `json`, not `jsonb`: it is read back in the order and spelling in which it was posted. */
const card = () => json('card').$type<Record<string, unknown>>().notNull();

export const cards = pgTable('cards', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  visibility: text('visibility', { enum: ['public', 'guild'] }).notNull(),
  revision: integer('revision').notNull(),
  /** The wheel that it was spun on, which may be another guild's public one; and its revision on that day. */
  wheelId: idText('wheel_id').references(() => wheels.id),
  wheelRevision: integer('wheel_revision'),
  card: card(),
  createdAt: moment('created_at').notNull().defaultNow(),
  updatedAt: moment('updated_at').notNull().defaultNow(),
  /** Set when it is put away. Its revisions stay. */
  retiredAt: moment('retired_at'),
}, (t) => [
  index('cards_guild').on(t.guildId, t.id),
  index('cards_public').on(t.id).where(sql`visibility = 'public' and retired_at is null`),
  index('cards_wheel').on(t.wheelId, t.id),
  check('cards_visibility', sql`${t.visibility} in ('public', 'guild')`),
  check('cards_revision', sql`${t.revision} > 0`),
]);

/** Written in the same statement as the change itself. */
export const cardRevisions = pgTable('card_revisions', {
  cardId: idText('card_id').notNull().references(() => cards.id),
  revision: integer('revision').notNull(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  change: text('change', { enum: ['made', 'changed', 'retired'] }).notNull(),
  card: card(),
  keyId: idText('key_id').references(() => keys.id),
  madeAt: moment('made_at').notNull().defaultNow(),
}, (t) => [
  primaryKey({ columns: [t.cardId, t.revision] }),
  index('card_revisions_guild').on(t.guildId),
  check('card_revisions_change', sql`${t.change} in ('made', 'changed', 'retired')`),
]);
