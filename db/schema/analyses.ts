/** Analyses of whole tables, and the chunks that they are worked in. The chunk table is the queue. */
import { sql } from 'drizzle-orm';
import { bigint, check, foreignKey, index, integer, json, pgTable, primaryKey, text, unique } from 'drizzle-orm/pg-core';
import { guilds, idText, moment } from './guilds.js';

export const analyses = pgTable('analyses', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  /** receiving: its file is still arriving; analysing: chunk by chunk; comparing: the rows with each other. */
  state: text('state', { enum: ['receiving', 'analysing', 'comparing', 'done', 'cancelled'] }).notNull(),
  /** How its columns are understood. */
  layout: json('layout').$type<Record<string, unknown>>().notNull(),
  rows: integer('rows').notNull().default(0),
  bytes: bigint('bytes', { mode: 'number' }).notNull().default(0),
  analysed: integer('analysed').notNull().default(0),
  rejected: integer('rejected').notNull().default(0),
  /** What the whole shows, once it is done. */
  summary: json('summary').$type<Record<string, unknown>>(),
  /** Whoever compares its rows, and until when he is waited for. */
  lease: text('lease'),
  lockedUntil: moment('locked_until'),
  createdAt: moment('created_at').notNull().defaultNow(),
  updatedAt: moment('updated_at').notNull().defaultNow(),
  finishedAt: moment('finished_at'),
  /** Then it is removed. */
  expiresAt: moment('expires_at').notNull(),
}, (t) => [
  index('analyses_guild').on(t.guildId, t.id), index('analyses_expires').on(t.expiresAt),
  unique('analyses_id_guild').on(t.id, t.guildId),
  check('analyses_state', sql`${t.state} in ('receiving', 'analysing', 'comparing', 'done', 'cancelled')`),
]);

export const chunks = pgTable('chunks', {
  analysisId: idText('analysis_id').notNull(),
  guildId: idText('guild_id').notNull(),
  /** From 1. */
  firstRow: integer('first_row').notNull(),
  firstLine: integer('first_line').notNull(),
  rows: integer('rows').notNull(),
  state: text('state', { enum: ['waiting', 'working', 'done'] }).notNull(),
  /** Of the worker that has it: what another finishes in its place does not count. */
  lease: text('lease'),
  lockedUntil: moment('locked_until'),
  /** Workers that took it and were not heard of again. */
  crashes: integer('crashes').notNull().default(0),
  /** Rows as they came, while they wait; deflated. */
  source: text('source').notNull(),
  /** Verdicts, what the fleet is compared by, and what was found by comparing; deflated. */
  result: text('result'),
  features: text('features'),
  flags: text('flags'),
  tally: json('tally').$type<Record<string, unknown>>(),
  analysed: integer('analysed').notNull().default(0),
  rejected: integer('rejected').notNull().default(0),
}, (t) => [
  primaryKey({ columns: [t.analysisId, t.firstRow] }),
  foreignKey({ name: 'chunks_analysis', columns: [t.analysisId, t.guildId], foreignColumns: [analyses.id, analyses.guildId] }).onDelete('cascade'),
  // What is still to be done, in the order in which it is taken: a large table does not stand before a small one.
  index('chunks_open').on(t.firstRow, t.analysisId).where(sql`state <> 'done'`),
  check('chunks_state', sql`${t.state} in ('waiting', 'working', 'done')`),
]);
