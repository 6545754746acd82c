/** Loans of wheels, and the log of their care. Both are a guild's own, whatever their wheel. */
import { sql } from 'drizzle-orm';
import { foreignKey, index, integer, json, pgTable, primaryKey, text, uniqueIndex } from 'drizzle-orm/pg-core';
import { guilds, idText, keys, moment } from './guilds.js';
import { wheels } from './wheels.js';

export const loans = pgTable('loans', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  wheelId: idText('wheel_id').notNull(),
  revision: integer('revision').notNull(),
  /** `json`, not `jsonb`: it is read back in the order and spelling in which it was posted. Days are text, and sort so. */
  loan: json('loan').$type<Record<string, unknown>>().notNull(),
  dueOn: text('due_on').notNull(),
  returnedOn: text('returned_on'),
  createdAt: moment('created_at').notNull().defaultNow(),
  updatedAt: moment('updated_at').notNull().defaultNow(),
}, (t) => [
  foreignKey({ columns: [t.wheelId, t.guildId], foreignColumns: [wheels.id, wheels.guildId] }),
  index('loans_wheel').on(t.wheelId, t.id),
  index('loans_guild').on(t.guildId, t.id),
  index('loans_due').on(t.guildId, t.dueOn).where(sql`returned_on is null`),
  // A wheel is lent to one member at a time, however many ask at once.
  uniqueIndex('loans_out').on(t.wheelId).where(sql`returned_on is null`),
]);

/** Written in the same statement as the change itself. */
export const loanRevisions = pgTable('loan_revisions', {
  loanId: idText('loan_id').notNull().references(() => loans.id),
  revision: integer('revision').notNull(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  loan: json('loan').$type<Record<string, unknown>>().notNull(),
  keyId: idText('key_id').references(() => keys.id),
  madeAt: moment('made_at').notNull().defaultNow(),
}, (t) => [primaryKey({ columns: [t.loanId, t.revision] }), index('loan_revisions_guild').on(t.guildId)]);

export const care = pgTable('care', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  wheelId: idText('wheel_id').notNull(),
  revision: integer('revision').notNull(),
  entry: json('entry').$type<Record<string, unknown>>().notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
  retiredAt: moment('retired_at'),
}, (t) => [
  foreignKey({ columns: [t.wheelId, t.guildId], foreignColumns: [wheels.id, wheels.guildId] }),
  index('care_wheel').on(t.wheelId, t.id),
  index('care_guild').on(t.guildId),
]);
