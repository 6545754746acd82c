/**
 * The database, whichever it is: embedded in this process, or a PostgreSQL server. Stores see `Database` and the query
 * builder only, so results are the same on both.
 */
import { DrizzleQueryError } from 'drizzle-orm';
import { drizzle, type PgRemoteDatabase } from 'drizzle-orm/pg-proxy';
import * as schema from './schema/index.js';
import { stateProblem } from './states.js';

/** One line to a database. Times, dates and JSON come as text, arrays as arrays or as text: the query builder reads all of them. */
export interface Line {
  query(text: string, params: readonly unknown[], rows: 'arrays' | 'objects'): Promise<unknown[]>;
}
/** A driver. What it throws is either a ProblemError or an Error with the SQLSTATE as `code`. */
export interface Client extends Line {
  /** Runs `work` on a line of its own, between BEGIN and COMMIT. Nothing but the database may be awaited in it. */
  transaction<T>(work: (line: Line) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

export type Db = PgRemoteDatabase<typeof schema>;
export interface Database {
  readonly kind: 'embedded' | 'server';
  /** One statement, which is a transaction by itself. Failures come out as problems of the catalogue. */
  ask<T>(work: (db: Db) => Promise<T>): Promise<T>;
  /** Several statements, all or none. Prefer one statement with `with`: it needs no round trips while rows are locked. */
  transaction<T>(work: (db: Db) => Promise<T>): Promise<T>;
  close(): Promise<void>;
}

export const over = (line: Line): Db =>
  drizzle(async (text, params, method) => ({ rows: await line.query(text, params as unknown[], method === 'execute' ? 'objects' : 'arrays') }), { schema });

export function databaseOver(client: Client, kind: Database['kind']): Database {
  const db = over(client);
  const guarded = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      // The builder's error carries the statement and its values in its message: they go no further than here.
      throw stateProblem(error instanceof DrizzleQueryError ? error.cause : error);
    }
  };
  return {
    kind,
    ask: (work) => guarded(() => work(db)),
    transaction: (work) => guarded(() => client.transaction((line) => work(over(line)))),
    close: () => client.close(),
  };
}
