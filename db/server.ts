/**
 * A PostgreSQL server as a `Client`. Its driver has faults when the database goes away, and this room is where they stop:
 * a question that is queued then may never settle, so each has a deadline; what is left of the old connections is ended,
 * so that nothing runs late; and a transaction whose connection was lost would go on, statement by statement and outside
 * any transaction, on a new one, so each transaction has a connection of its own and stops when that one closes.
 */
import postgres from 'postgres';
import type { Client, Line } from './client.js';
import { away } from './states.js';

export interface ServerOptions {
  /** Connections for plain questions; as many again, at most four, for transactions. */
  readonly connections?: number;
  /** Longest wait for an answer, in milliseconds. The server itself gives a statement up a second earlier. */
  readonly deadline?: number;
}
interface TransactionLine { readonly sql: postgres.Sql; closed: boolean }

const same = (value: unknown): unknown => value;
/** As the embedded driver: times, dates, intervals, JSON and lists of them stay text. */
const asText = [1082, 1083, 1114, 1184, 1186, 1115, 1182, 1185, 1187, 1231, 114, 3802];

export function connectServer(url: string, { connections = 8, deadline = 6000 }: ServerOptions = {}): Client {
  const connect = (max: number, onclose: () => void): postgres.Sql => {
    const sql = postgres(url, {
      max, onclose, connect_timeout: 3, idle_timeout: 60, backoff: () => 0.25, fetch_types: false, onnotice: () => undefined,
      connection: { application_name: 'wheelgrist', statement_timeout: Math.max(500, deadline - 1000) },
    });
    const { parsers, serializers } = sql.options as unknown as Record<'parsers' | 'serializers', Record<number, (value: unknown) => unknown>>;
    for (const oid of asText) parsers[oid] = serializers[oid] = same;
    return sql;
  };
  const ended = (sql: postgres.Sql): void => { sql.end({ timeout: 1 }).catch(() => undefined); };

  const ask = async (sql: postgres.Sql, text: string, params: readonly unknown[], rows: 'arrays' | 'objects', tooLate: () => void): Promise<unknown[]> => {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => { tooLate(); reject(away(new Error('the database did not answer in time'))); }, deadline);
    });
    try {
      const query = sql.unsafe(text, params as postgres.ParameterOrJSON<never>[], { prepare: params.length > 0 });
      return await Promise.race([rows === 'arrays' ? query.values() : query, late]);
    } finally {
      clearTimeout(timer);
    }
  };

  let closing = false;
  let pool = connect(connections, () => undefined);
  const query: Line['query'] = (text, params, rows) => {
    const mine = pool;
    // A server that no longer answers is asked anew on new connections; the old ones take their queue with them.
    return ask(mine, text, params, rows, () => {
      if (pool !== mine || closing) return;
      pool = connect(connections, () => undefined);
      ended(mine);
    });
  };

  const most = Math.min(4, connections);
  const idle: TransactionLine[] = [];
  const waiting: (() => void)[] = [];
  let lines = 0;
  const take = async (): Promise<TransactionLine> => {
    while (idle.length === 0 && lines >= most) await new Promise<void>((resolve) => waiting.push(resolve));
    const found = idle.pop();
    if (found !== undefined && !found.closed) return found;
    if (found === undefined) lines++;
    else ended(found.sql);
    const line: TransactionLine = { sql: connect(1, () => { line.closed = true; }), closed: false };
    return line;
  };
  const giveBack = (line: TransactionLine): void => {
    if (line.closed || closing) { lines--; ended(line.sql); } else idle.push(line);
    waiting.shift()?.();
  };

  const transaction = async <T>(work: (line: Line) => Promise<T>): Promise<T> => {
    const line = await take();
    let begun = false;
    const through: Line = {
      query: async (text, params, rows) => {
        if (begun && line.closed) throw away(new Error('the connection of this transaction was lost'));
        return ask(line.sql, text, params, rows, () => { line.closed = true; });
      },
    };
    try {
      await through.query('begin', [], 'objects');
      begun = true;
      try {
        const result = await work(through);
        await through.query('commit', [], 'objects');
        return result;
      } catch (error) {
        await through.query('rollback', [], 'objects').catch(() => { line.closed = true; });
        throw error;
      }
    } catch (error) {
      // It may have failed while connecting, or half-way: such a line is not used again.
      if (!begun) line.closed = true;
      throw error;
    } finally {
      giveBack(line);
    }
  };

  return {
    query,
    transaction,
    close: async () => {
      closing = true;
      await Promise.allSettled([pool, ...idle.map((line) => line.sql)].map((sql) => sql.end({ timeout: 5 })));
    },
  };
}
