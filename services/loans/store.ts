/** Loans and care in the database: the only SQL of this room. */
import { and, eq, gt, isNull, lte, sql } from 'drizzle-orm';
import type { WithSubqueryWithSelection } from 'drizzle-orm/pg-core';
import type { Database, Db } from '../../db/client.js';
import { care, loanRevisions, loans } from '../../db/schema/index.js';
import { newId, type Caller } from '../guilds/keys.js';
import type { Within } from '../http/store.js';
import { makeCursor, readCursor } from '../wheels/cursor.js';
import { cursorKeyOf } from '../wheels/store.js';
import type { CareEntry, StoredCare } from './care.js';
import type { Loan, StoredLoan } from './loan.js';

interface Page { readonly limit: number; readonly after?: string }
type Paged<T> = Promise<{ items: T[]; next?: string }>;
/** A guild's register of loans and its log of care: nobody else is told of either. */
export interface LoanStore {
  loans(of: { wheel?: string; out?: true; dueBy?: string }, page: Page, guild: string): Paged<StoredLoan>;
  loan(wheel: string, id: string, guild: string): Promise<StoredLoan | undefined>;
  /** Throws `conflict` while the wheel is out. */
  lend(wheel: string, loan: Loan, by: Caller, within?: Within): Promise<StoredLoan>;
  /** Undefined when `expected` is no longer its revision. */
  change(wheel: string, id: string, loan: Loan, expected: number, by: Caller): Promise<StoredLoan | undefined>;
  care(wheel: string, page: Page, guild: string): Paged<StoredCare>;
  careEntry(wheel: string, id: string, guild: string): Promise<StoredCare | undefined>;
  note(wheel: string, entry: CareEntry, by: Caller, within?: Within): Promise<StoredCare>;
  strike(wheel: string, id: string, by: Caller): Promise<boolean>;
  /** All of a wheel that its hours are counted from. */
  log(wheel: string, guild: string): Promise<{ entries: StoredCare[]; loans: StoredLoan[] }>;
}

const loanRow = { id: loans.id, wheel: loans.wheelId, revision: loans.revision, loan: loans.loan, createdAt: loans.createdAt, updatedAt: loans.updatedAt };
const careRow = { id: care.id, revision: care.revision, entry: care.entry, createdAt: care.createdAt };
const asLoan = (row: Omit<StoredLoan, 'loan'> & { loan: Record<string, unknown> }): StoredLoan => ({ ...row, loan: row.loan as unknown as Loan });
const asCare = (row: Omit<StoredCare, 'entry'> & { entry: Record<string, unknown> }): StoredCare => ({ ...row, entry: row.entry as unknown as CareEntry });
const isId = (id: string): boolean => /^[\w.-]{1,80}$/.test(id);
const columns = (loan: Loan) => ({ loan: { ...loan }, dueOn: loan.dueOn, returnedOn: loan.returnedOn ?? null });

export function loanStore(database: Database): LoanStore {
  const secret = cursorKeyOf(database);
  const page = async <T extends { id: string }>(list: string, { limit, after }: Page, ask: (from: string | undefined) => Promise<T[]>): Paged<T> => {
    const key = await secret();
    const found = await ask(after === undefined ? undefined : readCursor(key, list, after));
    const items = found.slice(0, limit);
    return { items, ...(found.length > limit ? { next: makeCursor(key, list, items.at(-1)!.id) } : {}) };
  };
  const ofWheel = (wheel: string, guild: string) => and(eq(care.wheelId, wheel), eq(care.guildId, guild), isNull(care.retiredAt));
  return {
    loans: ({ wheel, out, dueBy }, asked, guild) => page(`loans ${guild} ${wheel ?? ''} ${out ?? ''} ${dueBy ?? ''}`, asked, async (from) => (await database.ask({ guild }, (db) => db.select(loanRow).from(loans).where(and(
      eq(loans.guildId, guild), wheel === undefined ? undefined : eq(loans.wheelId, wheel), out === true ? isNull(loans.returnedOn) : undefined, dueBy === undefined ? undefined : lte(loans.dueOn, dueBy), from === undefined ? undefined : gt(loans.id, from),
    )).orderBy(loans.id).limit(asked.limit + 1))).map(asLoan)),
    loan: async (wheel, id, guild) => {
      if (!isId(id)) return undefined;
      const [one] = await database.ask({ guild }, (db) => db.select(loanRow).from(loans).where(and(eq(loans.id, id), eq(loans.wheelId, wheel), eq(loans.guildId, guild))));
      return one && asLoan(one);
    },
    lend: async (wheel, loan, by, within) => {
      const [made] = await database.ask(by, (db) => withRevision(db, db.$with('after').as(db.insert(loans).values({ id: newId('loan'), guildId: by.guild, wheelId: wheel, revision: 1, ...columns(loan) }).returning(loanRow)), by), within);
      return asLoan(made!);
    },
    change: async (wheel, id, loan, expected, by) => {
      const [made] = await database.ask(by, (db) => withRevision(db, db.$with('after').as(db.update(loans).set({ ...columns(loan), revision: expected + 1, updatedAt: sql`now()` })
        .where(and(eq(loans.id, id), eq(loans.wheelId, wheel), eq(loans.guildId, by.guild), eq(loans.revision, expected))).returning(loanRow)), by));
      return made && asLoan(made);
    },
    care: (wheel, asked, guild) => page(`care ${guild} ${wheel}`, asked, async (from) => (await database.ask({ guild }, (db) => db.select(careRow).from(care).where(and(ofWheel(wheel, guild), from === undefined ? undefined : gt(care.id, from))).orderBy(care.id).limit(asked.limit + 1))).map(asCare)),
    careEntry: async (wheel, id, guild) => {
      if (!isId(id)) return undefined;
      const [one] = await database.ask({ guild }, (db) => db.select(careRow).from(care).where(and(ofWheel(wheel, guild), eq(care.id, id))));
      return one && asCare(one);
    },
    note: async (wheel, entry, by, within) => asCare((await database.ask(by, (db) => db.insert(care).values({ id: newId('care'), guildId: by.guild, wheelId: wheel, revision: 1, entry: { ...entry } }).returning(careRow), within))[0]!),
    strike: async (wheel, id, by) => (await database.ask(by, (db) => db.update(care).set({ retiredAt: sql`now()`, revision: sql`${care.revision} + 1` }).where(and(ofWheel(wheel, by.guild), eq(care.id, id))).returning({ id: care.id }))).length === 1,
    log: (wheel, guild) => database.transaction({ guild }, async (db) => ({
      entries: (await db.select(careRow).from(care).where(ofWheel(wheel, guild))).map(asCare),
      loans: (await db.select(loanRow).from(loans).where(and(eq(loans.wheelId, wheel), eq(loans.guildId, guild)))).map(asLoan),
    })),
  };
}

/** A change, called `after`, and its revision in one statement: either both are there or neither. */
function withRevision(db: Db, after: WithSubqueryWithSelection<typeof loanRow, 'after'>, by: Caller) {
  const kept = db.$with('kept').as(db.insert(loanRevisions).select(sql`select id, revision, ${by.guild}::text, loan, ${by.keyId}::text, updated_at from after`).returning({ revision: loanRevisions.revision }));
  return db.with(after, kept).select().from(after);
}
