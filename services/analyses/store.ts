/**
 * Analyses in the database. The chunk table is the queue: a worker takes a chunk for a while (`locked_until`), says that it
 * still lives, and settles it under its lease; a chunk whose worker is not heard of is taken by another, without end. Work
 * that is done counts once, since a lease that was lost settles nothing.
 */
import { randomUUID } from 'node:crypto';
import { and, asc, eq, gt, lt, sql } from 'drizzle-orm';
import type { Database } from '../../db/client.js';
import { analyses, chunks } from '../../db/schema/index.js';
import { newId, type Caller } from '../guilds/keys.js';
import type { Within } from '../http/store.js';
import type { Chunk, Layout } from './intake.js';
import { packed, unpacked } from './packing.js';
import type { Tally } from './tally.js';

export const states = ['receiving', 'analysing', 'comparing', 'done', 'cancelled'] as const;
export type State = (typeof states)[number];
export interface Analysis {
  readonly id: string; readonly guild: string; readonly state: State; readonly layout: Layout; readonly rows: number; readonly bytes: number; readonly analysed: number; readonly rejected: number;
  readonly summary: unknown; readonly createdAt: Date; readonly updatedAt: Date; readonly finishedAt: Date | null; readonly expiresAt: Date;
}
/** A chunk that a worker has. */
export interface Work { readonly analysis: string; readonly guild: string; readonly lease: string; readonly layout: Layout; readonly crashes: number; readonly chunk: Chunk }
export interface Piece { readonly chunk: Chunk; readonly crashes: number }
/** A chunk that a worker compares with the rest. */
export interface Comparison { readonly analysis: string; readonly lease: string; readonly layout: Layout; readonly firstRow: number; readonly rows: number; readonly features: string }
export interface Summing { readonly analysis: string; readonly lease: string; readonly layout: Layout }
/** `result`: verdict lines, packed. */
export interface Settled { readonly result: string; readonly features: string; readonly tally: Tally; readonly analysed: number; readonly rejected: number }
export interface DoneChunk { readonly firstRow: number; readonly rows: number; readonly rejected: number; readonly result: string; readonly flags: string | undefined }

/** Days that an analysis is kept. */
export const daysKept = 30;
/** Seconds that a worker is waited for, and of an upload that broke off without a word. */
export const leaseSeconds = 8;

export interface AnalysisStore {
  begin(layout: Layout, by: Caller): Promise<string>;
  add(id: string, chunk: Chunk, by: Caller): Promise<void>;
  /** Its file is whole: from now on it is worked. */
  received(id: string, rows: number, bytes: number, by: Caller, within?: Within): Promise<Analysis>;
  remove(id: string, by: Caller): Promise<boolean>;
  find(id: string, guild: string): Promise<Analysis | undefined>;
  /** From one state to another; undefined where it is in none of `from`. */
  turn(id: string, from: readonly State[], to: State, by: Caller): Promise<Analysis | undefined>;
  /** Chunks that are done, in order, after this row. */
  done(id: string, guild: string, after: number, limit: number): Promise<DoneChunk[]>;
  take(): Promise<Work | undefined>;
  /** Says that the worker lives. False: its lease was lost. */
  beat(work: Work): Promise<boolean>;
  settle(work: Work, settled: Settled): Promise<boolean>;
  /** Pieces in place of a chunk on which workers broke down, so that the row is found which is to blame; the first begins where it began. */
  split(work: Work, pieces: readonly Piece[]): Promise<boolean>;
  /** Analyses whose rows all have their verdicts: from now on the rows are compared with each other. */
  beginComparing(): Promise<void>;
  /** A chunk whose rows are to be compared with all others, of `known` first, after its row `after`. */
  takeComparison(known?: string, after?: number): Promise<Comparison | undefined>;
  beatComparison(taken: Comparison): Promise<boolean>;
  /** What was found in it. */
  flag(taken: Comparison, flags: string): Promise<boolean>;
  /** An analysis of which every chunk is compared, to be summed up. */
  takeSummary(known?: string): Promise<Summing | undefined>;
  beatSummary(taken: Summing): Promise<boolean>;
  settleSummary(taken: Summing, summary: object): Promise<boolean>;
  tallies(id: string, after: number, limit: number): Promise<{ firstRow: number; rows: number; tally: Tally; features: string }[]>;
  flags(id: string, after: number, limit: number): Promise<{ firstRow: number; flags: string }[]>;
  /** Removes what is past its time. */
  sweep(): Promise<void>;
}

const row = { id: analyses.id, guild: analyses.guildId, state: analyses.state, layout: analyses.layout, rows: analyses.rows, bytes: analyses.bytes, analysed: analyses.analysed, rejected: analyses.rejected, summary: analyses.summary, createdAt: analyses.createdAt, updatedAt: analyses.updatedAt, finishedAt: analyses.finishedAt, expiresAt: analyses.expiresAt };
type Row = Omit<Analysis, 'layout'> & { layout: Record<string, unknown> };
const stored = (found: Row): Analysis => ({ ...found, layout: found.layout as unknown as Layout });
const layoutOf = (layout: unknown): Layout => (typeof layout === 'string' ? JSON.parse(layout) : layout) as Layout;
const idForm = /^[\w-]{1,80}$/;
const soon = sql`now() + make_interval(secs => ${leaseSeconds})`;

export function analysisStore(database: Database): AnalysisStore {
  const house = <T>(work: Parameters<typeof database.ask<T>>[1]): Promise<T> => database.ask('keeper', work);
  const rows = async <T>(statement: ReturnType<typeof sql>): Promise<T[]> => (await house((db) => db.execute(statement))) as unknown as T[];
  return {
    begin: async (layout, by) => {
      const id = newId('analysis');
      await database.ask(by, (db) => db.insert(analyses).values({ id, guildId: by.guild, state: 'receiving', layout: layout as unknown as Record<string, unknown>, expiresAt: sql`now() + make_interval(days => ${daysKept})` }));
      return id;
    },
    add: async (id, { firstRow, firstLine, rows: n, text }, by) => {
      await database.ask(by, (db) => db.insert(chunks).values({ analysisId: id, guildId: by.guild, firstRow, firstLine, rows: n, state: 'waiting', source: packed(text) }));
    },
    received: async (id, n, bytes, by, within) => {
      const [made] = await database.ask(by, (db) => db.update(analyses).set({ state: 'analysing', rows: n, bytes, updatedAt: sql`now()` }).where(and(eq(analyses.id, id), eq(analyses.state, 'receiving'))).returning(row), within);
      return stored(made!);
    },
    remove: async (id, by) => idForm.test(id) && (await database.ask(by, (db) => db.delete(analyses).where(and(eq(analyses.id, id), eq(analyses.guildId, by.guild))).returning({ id: analyses.id }))).length > 0,
    find: async (id, guild) => {
      if (!idForm.test(id)) return undefined;
      const [one] = await database.ask({ guild }, (db) => db.select(row).from(analyses).where(eq(analyses.id, id)));
      return one && stored(one);
    },
    turn: async (id, from, to, by) => {
      const [one] = await database.ask(by, (db) => db.update(analyses).set({ state: to, lease: null, lockedUntil: null, updatedAt: sql`now()` }).where(and(eq(analyses.id, id), sql`${analyses.state} in (${sql.join(from.map((s) => sql`${s}`), sql`, `)})`)).returning(row));
      return one && stored(one);
    },
    done: async (id, guild, after, limit) => {
      const found = await database.ask({ guild }, (db) => db.select({ firstRow: chunks.firstRow, rows: chunks.rows, rejected: chunks.rejected, result: chunks.result, flags: chunks.flags }).from(chunks)
        .where(and(eq(chunks.analysisId, id), gt(chunks.firstRow, after), eq(chunks.state, 'done'))).orderBy(asc(chunks.firstRow)).limit(limit));
      return found.map((c) => ({ ...c, result: unpacked(c.result!), flags: c.flags === null ? undefined : unpacked(c.flags) }));
    },

    take: async () => {
      const lease = randomUUID();
      const [one] = await rows<{ analysis_id: string; guild_id: string; first_row: number; first_line: number; rows: number; crashes: number; source: string; layout: unknown }>(sql`
        with open as (
          select c.analysis_id, c.first_row, a.layout from chunks c join analyses a on a.id = c.analysis_id and a.state = 'analysing'
          where c.state <> 'done' and (c.state = 'waiting' or c.locked_until < now())
          order by c.first_row, c.analysis_id limit 1 for update of c skip locked)
        update chunks c set crashes = c.crashes + case when c.state = 'working' then 1 else 0 end, state = 'working', lease = ${lease}, locked_until = ${soon}
        from open where c.analysis_id = open.analysis_id and c.first_row = open.first_row
        returning c.analysis_id, c.guild_id, c.first_row, c.first_line, c.rows, c.crashes, c.source, open.layout`);
      if (one === undefined) return undefined;
      return { analysis: one.analysis_id, guild: one.guild_id, lease, layout: layoutOf(one.layout), crashes: one.crashes, chunk: { firstRow: one.first_row, firstLine: one.first_line, rows: one.rows, text: unpacked(one.source) } };
    },
    beat: async ({ analysis, chunk, lease }) => (await house((db) => db.update(chunks).set({ lockedUntil: soon }).where(and(eq(chunks.analysisId, analysis), eq(chunks.firstRow, chunk.firstRow), eq(chunks.lease, lease), eq(chunks.state, 'working'))).returning({ row: chunks.firstRow }))).length > 0,
    settle: async ({ analysis, chunk, lease }, { result, features, tally, analysed, rejected }) => (await rows(sql`
      with settled as (
        update chunks set state = 'done', lease = null, locked_until = null, source = '', result = ${result}, features = ${features}, tally = ${JSON.stringify(tally)}::json, analysed = ${analysed}::integer, rejected = ${rejected}::integer
        where analysis_id = ${analysis} and first_row = ${chunk.firstRow} and lease = ${lease} and state = 'working' returning first_row)
      update analyses set analysed = analyses.analysed + ${analysed}::integer, rejected = analyses.rejected + ${rejected}::integer, updated_at = now()
      where id = ${analysis} and exists (select 1 from settled) returning id`)).length > 0,
    split: async ({ analysis, guild, lease, chunk }, [first, ...others]) => {
      const values = others.map(({ chunk: c, crashes }) => sql`(${c.firstRow}::integer, ${c.firstLine}::integer, ${c.rows}::integer, ${crashes}::integer, ${packed(c.text)})`);
      const cut = sql`update chunks set state = 'waiting', lease = null, locked_until = null, crashes = ${first!.crashes}::integer, rows = ${first!.chunk.rows}::integer, source = ${packed(first!.chunk.text)}
        where analysis_id = ${analysis} and first_row = ${chunk.firstRow} and lease = ${lease} and state = 'working' returning first_row`;
      return (await rows(values.length === 0 ? cut : sql`
        with cut as (${cut})
        insert into chunks (analysis_id, guild_id, first_row, first_line, rows, crashes, source, state)
        select ${analysis}, ${guild}, v.*, 'waiting' from cut, (values ${sql.join(values, sql`, `)}) v returning first_row`)).length > 0;
    },

    beginComparing: async () => { await rows(sql`update analyses set state = 'comparing', updated_at = now() where id in (select id from analyses where state = 'analysing' and analysed + rejected >= rows for update skip locked) returning id`); },
    takeComparison: async (known = '', after = 0) => {
      const lease = randomUUID();
      const [one] = await rows<{ analysis_id: string; first_row: number; rows: number; features: string; layout: unknown }>(sql`
        with open as (
          select c.analysis_id, c.first_row, a.layout from chunks c join analyses a on a.id = c.analysis_id and a.state = 'comparing'
          where c.flags is null and (c.locked_until is null or c.locked_until < now())
          order by c.analysis_id <> ${known}, c.analysis_id, c.first_row <= ${after}::integer, c.first_row limit 1 for update of c skip locked)
        update chunks c set lease = ${lease}, locked_until = ${soon} from open where c.analysis_id = open.analysis_id and c.first_row = open.first_row
        returning c.analysis_id, c.first_row, c.rows, c.features, open.layout`);
      return one && { analysis: one.analysis_id, lease, layout: layoutOf(one.layout), firstRow: one.first_row, rows: one.rows, features: one.features };
    },
    beatComparison: async ({ analysis, firstRow, lease }) => (await house((db) => db.update(chunks).set({ lockedUntil: soon }).where(and(eq(chunks.analysisId, analysis), eq(chunks.firstRow, firstRow), eq(chunks.lease, lease))).returning({ row: chunks.firstRow }))).length > 0,
    flag: async ({ analysis, firstRow, lease }, flags) => (await house((db) => db.update(chunks).set({ flags: packed(flags), lease: null, lockedUntil: null }).where(and(eq(chunks.analysisId, analysis), eq(chunks.firstRow, firstRow), eq(chunks.lease, lease))).returning({ row: chunks.firstRow }))).length > 0,
    takeSummary: async (known = '') => {
      const lease = randomUUID();
      const [one] = await rows<{ id: string; layout: unknown }>(sql`
        with whole as (
          select id from analyses where state = 'comparing' and (locked_until is null or locked_until < now()) and not exists (select 1 from chunks c where c.analysis_id = analyses.id and c.flags is null)
          order by id <> ${known}, created_at limit 1 for update skip locked)
        update analyses a set lease = ${lease}, locked_until = ${soon} from whole where a.id = whole.id returning a.id, a.layout`);
      return one && { analysis: one.id, lease, layout: layoutOf(one.layout) };
    },
    beatSummary: async ({ analysis, lease }) => (await house((db) => db.update(analyses).set({ lockedUntil: soon }).where(and(eq(analyses.id, analysis), eq(analyses.lease, lease), eq(analyses.state, 'comparing'))).returning({ id: analyses.id }))).length > 0,
    settleSummary: async ({ analysis, lease }, summary) => (await house((db) => db.update(analyses).set({ state: 'done', lease: null, lockedUntil: null, summary: summary as Record<string, unknown>, finishedAt: sql`now()`, updatedAt: sql`now()` })
      .where(and(eq(analyses.id, analysis), eq(analyses.lease, lease), eq(analyses.state, 'comparing'))).returning({ id: analyses.id }))).length > 0,
    tallies: async (id, after, limit) => (await house((db) => db.select({ firstRow: chunks.firstRow, rows: chunks.rows, tally: chunks.tally, features: chunks.features }).from(chunks)
      .where(and(eq(chunks.analysisId, id), gt(chunks.firstRow, after))).orderBy(asc(chunks.firstRow)).limit(limit))).map((c) => ({ ...c, tally: c.tally as unknown as Tally, features: c.features ?? '' })),
    flags: async (id, after, limit) => (await house((db) => db.select({ firstRow: chunks.firstRow, flags: chunks.flags }).from(chunks).where(and(eq(chunks.analysisId, id), gt(chunks.firstRow, after))).orderBy(asc(chunks.firstRow)).limit(limit))).map((c) => ({ firstRow: c.firstRow, flags: unpacked(c.flags!) })),
    sweep: async () => { await house((db) => db.delete(analyses).where(sql`${lt(analyses.expiresAt, sql`now()`)} or (state = 'receiving' and created_at < now() - interval '1 day')`)); },
  };
}
