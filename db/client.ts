/**
 * The database, whichever it is: embedded in this process, or a PostgreSQL server. Stores see `Database` and the query
 * builder only, so results are the same on both. Each question is asked as somebody, and the database shows nobody a row
 * that is not theirs to see (db/roles.ts, and the policies of the migrations).
 */
import { DrizzleQueryError, sql } from 'drizzle-orm';
import { drizzle, type PgRemoteDatabase } from 'drizzle-orm/pg-proxy';
import { roles } from './roles.js';
import * as schema from './schema/index.js';
import { stateProblem } from './states.js';

/** One line to a database. Times, dates and JSON come as text, arrays as arrays or as text: the query builder reads all of them. */
export interface Line {
  query(text: string, params: readonly unknown[], rows: 'arrays' | 'objects'): Promise<unknown[]>;
}
export interface Statement { readonly text: string; readonly params: readonly unknown[] }
/** A driver, asking under one role. What it throws is either a ProblemError or an Error with the SQLSTATE as `code`. */
export interface Client extends Line {
  /**
   * Runs `work` on a line of its own, between BEGIN and COMMIT. Nothing but the database may be awaited in it.
   * `first` is sent along with BEGIN.
   */
  transaction<T>(work: (line: Line) => Promise<T>, first?: Statement): Promise<T>;
  /** One statement in a transaction of its own, after `first`: all of it is sent at once. */
  alone(first: Statement, text: string, params: readonly unknown[], rows: 'arrays' | 'objects'): Promise<unknown[]>;
  close(): Promise<void>;
}
/** The same database under each of the service's roles. */
export interface Clients { readonly public: Client; readonly keeper: Client; readonly guild: Client; close(): Promise<void> }

export type Db = PgRemoteDatabase<typeof schema>;
/** A guild, and on whose key and request it is worked for: both go into the audit. */
export interface ForGuild { readonly guild: string; readonly keyId?: string; readonly request?: string }
/** As whom something is asked: as anybody (public rows alone), for a guild (its own rows, and public ones to read), or as the house itself. */
export type Who = 'public' | 'keeper' | ForGuild;

export interface Database {
  readonly kind: 'embedded' | 'server';
  /** Exactly one statement, which is a transaction by itself. Failures come out as problems of the catalogue. `within`: as a part of that transaction. */
  ask<T>(who: Who, work: (db: Db) => Promise<T>, within?: Db): Promise<T>;
  /** Several statements, all or none. Nothing but the database may be awaited in it. `within`: as a part of that transaction. */
  transaction<T>(who: Who, work: (db: Db) => Promise<T>, within?: Db): Promise<T>;
  close(): Promise<void>;
}

const known = new WeakMap<Line, Db>();
/** The query builder over a line; one line has one. */
export function over(line: Line): Db {
  let db = known.get(line);
  if (db === undefined) known.set(line, (db = drizzle(async (text, params, method) => ({ rows: await line.query(text, params as unknown[], method === 'execute' ? 'objects' : 'arrays') }), { schema })));
  return db;
}

/** A statement that is built once for each line: building costs about as much as asking. */
export function prepared<Query>(build: (db: Db) => Query): (db: Db) => Query {
  const made = new WeakMap<Db, Query>();
  return (db) => {
    let query = made.get(db);
    if (query === undefined) made.set(db, (query = build(db)));
    return query;
  };
}

/** Names the guild for the rest of the transaction. Outside a transaction it names nobody. */
const naming = ({ guild, keyId = '', request = '' }: ForGuild): Statement =>
  ({ text: 'select set_config(\'wheelgrist.guild\', $1, true), set_config(\'wheelgrist.key\', $2, true), set_config(\'wheelgrist.request\', $3, true)', params: [guild, keyId, request] });

/** Goes on as `who` for the rest of the transaction: for the one that makes a guild and fills it. */
export async function turnTo(db: Db, who: Exclude<Who, 'public'>): Promise<void> {
  const { guild, keyId = '', request = '' } = who === 'keeper' ? { guild: '' } : who;
  await db.execute(sql`select set_config('role', ${who === 'keeper' ? roles.keeper : roles.guild}, true), set_config('wheelgrist.guild', ${guild}, true), set_config('wheelgrist.key', ${keyId}, true), set_config('wheelgrist.request', ${request}, true)`);
}

/** A line for one statement of a guild: what it is asked goes out between BEGIN, the guild's name, and COMMIT. */
class Alone implements Line {
  who: ForGuild = { guild: '' };
  constructor(private readonly client: Client) {}
  query(text: string, params: readonly unknown[], rows: 'arrays' | 'objects'): Promise<unknown[]> { return this.client.alone(naming(this.who), text, params, rows); }
}

export function databaseOver(clients: Clients, kind: Database['kind']): Database {
  const guarded = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      // The builder's error carries the statement and its values in its message: they go no further than here.
      throw stateProblem(error instanceof DrizzleQueryError ? error.cause : error);
    }
  };
  const spare: Alone[] = [];
  const forGuild = async <T>(who: ForGuild, work: (db: Db) => Promise<T>): Promise<T> => {
    const line = spare.pop() ?? new Alone(clients.guild);
    line.who = who;
    try {
      return await work(over(line));
    } finally {
      line.who = { guild: '' };
      spare.push(line);
    }
  };
  return {
    kind,
    ask: (who, work, within) => guarded(() => (within !== undefined ? work(within) : typeof who === 'string' ? work(over(clients[who])) : forGuild(who, work))),
    transaction: <T>(who: Who, work: (db: Db) => Promise<T>, within?: Db) => guarded(() => {
      if (within !== undefined) return work(within);
      const through = (line: Line): Promise<T> => work(over(line));
      return typeof who === 'string' ? clients[who].transaction(through) : clients.guild.transaction(through, naming(who));
    }),
    close: () => clients.close(),
  };
}
