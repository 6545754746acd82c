/** Wheels, and every revision of each. Who may see which row stands in the migrations. */
import { sql } from 'drizzle-orm';
import { check, index, integer, json, pgTable, primaryKey, text, unique } from 'drizzle-orm/pg-core';
import type { Part } from '../../services/wheels/parts.js';
import { guilds, idText, keys, moment } from './guilds.js';

/** A profile is `json`, not `jsonb`: it is read back in the order and spelling in which it was posted. */
const profile = () => json('profile').$type<Record<string, unknown>>().notNull();
/** Empty: of a wheel that was kept before parts had ids. They follow from its profile. */
const parts = () => json('parts').$type<readonly Part[]>().notNull().default([]);

export const wheels = pgTable('wheels', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  visibility: text('visibility', { enum: ['public', 'guild'] }).notNull(),
  revision: integer('revision').notNull(),
  name: text('name').notNull(),
  profile: profile(),
  parts: parts(),
  /** The wheel and revision that it was copied from; it may be another guild's. */
  forkedFrom: idText('forked_from'),
  forkedRevision: integer('forked_revision'),
  createdAt: moment('created_at').notNull().defaultNow(),
  updatedAt: moment('updated_at').notNull().defaultNow(),
  /** Set when it is taken out of the library. Its revisions stay. */
  retiredAt: moment('retired_at'),
}, (t) => [
  index('wheels_guild').on(t.guildId, t.id),
  // A list without a key reads public wheels in the order of their ids: this index is that list.
  index('wheels_public').on(t.id).where(sql`visibility = 'public' and retired_at is null`),
  index('wheels_forked').on(t.forkedFrom, t.id).where(sql`forked_from is not null`),
  // What belongs to a wheel names both, so that it cannot belong to another guild's.
  unique('wheels_id_guild').on(t.id, t.guildId),
  check('wheels_visibility', sql`${t.visibility} in ('public', 'guild')`),
  check('wheels_revision', sql`${t.revision} > 0`),
]);

/** Written in the same statement as the change itself, so that no change is ever without its row. */
export const wheelRevisions = pgTable('wheel_revisions', {
  wheelId: idText('wheel_id').notNull().references(() => wheels.id),
  revision: integer('revision').notNull(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  change: text('change', { enum: ['made', 'changed', 'retired', 'restored'] }).notNull(),
  /** The revision that was restored. */
  restored: integer('restored'),
  visibility: text('visibility', { enum: ['public', 'guild'] }).notNull(),
  profile: profile(),
  parts: parts(),
  /** Whose key made the change; absent for the demo wheels. */
  keyId: idText('key_id').references(() => keys.id),
  madeAt: moment('made_at').notNull().defaultNow(),
}, (t) => [
  primaryKey({ columns: [t.wheelId, t.revision] }),
  index('wheel_revisions_guild').on(t.guildId),
  check('wheel_revisions_change', sql`${t.change} in ('made', 'changed', 'retired', 'restored')`),
]);
