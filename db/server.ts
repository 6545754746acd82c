/**
 * A PostgreSQL server as a `Client`. Its driver has faults when the database goes away, and this room is where they stop:
 * a question that is queued then may never settle, so each has a deadline; what is left of the old connections is ended,
 * so that nothing runs late; rows are counted on from a question that failed half-way, so holes are left out; and a
 * transaction whose connection was lost would go on, statement by statement and outside any transaction, on a new one, so
 * each transaction has a connection of its own and stops when that one closes.
 */
import postgres from 'postgres';
import type { Client, Clients, Line, Statement } from './client.js';
import { roles, type Role } from './roles.js';
import { away, stateProblem } from './states.js';

export interface ServerOptions {
  /** The role that its connections take on; without one they are the user's own. */
  readonly role?: Role;
  /** Connections for plain questions. */
  readonly connections?: number;
  /** Connections for transactions; as many as for plain questions when left out, four at most. */
  readonly lines?: number;
  /**
   * Longest wait for an answer, and for a connection to ask on, in milliseconds: whoever asks the service is refused in
   * two seconds when its database is silent. The server itself gives a statement up a little earlier.
   */
  readonly deadline?: number;
}
interface TransactionLine { readonly sql: postgres.Sql; readonly line: Line; closed: boolean }

/**
 * After a question that failed, or lost its connection, between two of its rows, the driver goes on counting: the rows of the
 * next one come behind as many holes, and its first row seems not to be there.
 */
const whole = (rows: unknown[]): unknown[] => (rows.length > 0 && !(0 in rows) ? rows.filter(() => true) : rows);

const same = (value: unknown): unknown => value;
/** As the embedded driver: times, dates, intervals, JSON and lists of them stay text. */
const asText = [1082, 1083, 1114, 1184, 1186, 1115, 1182, 1185, 1187, 1231, 114, 3802];

export function connectServer(url: string, { role, connections = 8, lines: mostLines = Math.min(4, connections), deadline = 1800 }: ServerOptions = {}): Client {
  const connect = (max: number, onclose: () => void): postgres.Sql => {
    const sql = postgres(url, {
      max, onclose, connect_timeout: 3, idle_timeout: 60, backoff: () => 0.25, fetch_types: false, onnotice: () => undefined,
      connection: { application_name: 'wheelgrist', statement_timeout: deadline - Math.min(1000, Math.round(deadline / 8)), ...(role === undefined ? {} : { role: roles[role] }) },
    });
    const { parsers, serializers } = sql.options as unknown as Record<'parsers' | 'serializers', Record<number, (value: unknown) => unknown>>;
    for (const oid of asText) parsers[oid] = serializers[oid] = same;
    return sql;
  };
  // At once: what is still queued must not run when its asker was told that it failed.
  const ended = (sql: postgres.Sql): void => { sql.end({ timeout: 0 }).catch(() => undefined); };

  const ask = async (sql: postgres.Sql, text: string, params: readonly unknown[], rows: 'arrays' | 'objects', tooLate: () => void): Promise<unknown[]> => {
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => {
      timer = setTimeout(() => { tooLate(); reject(away(new Error('the database did not answer in time'))); }, deadline);
    });
    try {
      const query = sql.unsafe(text, params as postgres.ParameterOrJSON<never>[], { prepare: params.length > 0 });
      return whole(await Promise.race([rows === 'arrays' ? query.values() : query, late]));
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

  const idle: TransactionLine[] = [];
  const waiting: ((late?: Error) => void)[] = [];
  let lines = 0;
  const makeLine = (): TransactionLine => {
    const made: TransactionLine = {
      sql: connect(1, () => { made.closed = true; }), closed: false,
      line: {
        query: async (text, params, rows) => {
          if (made.closed) throw away(new Error('the connection of this transaction was lost'));
          return ask(made.sql, text, params, rows, () => { made.closed = true; });
        },
      },
    };
    return made;
  };
  const turn = (): Promise<void> => new Promise((resolve, reject) => {
    const called = (late?: Error): void => {
      clearTimeout(timer);
      if (late === undefined) resolve(); else reject(late);
    };
    const timer = setTimeout(() => {
      waiting.splice(waiting.indexOf(called), 1);
      called(away(new Error('every connection was in use for too long')));
    }, deadline);
    waiting.push(called);
  });
  const take = async (): Promise<TransactionLine> => {
    while (idle.length === 0 && lines >= mostLines) await turn();
    const found = idle.pop();
    if (found !== undefined && !found.closed) return found;
    if (found === undefined) lines++;
    else ended(found.sql);
    return makeLine();
  };
  const giveBack = (taken: TransactionLine): void => {
    if (taken.closed || closing) { lines--; ended(taken.sql); } else idle.push(taken);
    waiting.shift()?.();
  };
  /**
   * BEGIN and what comes first are sent without waiting for one another. Should the connection close between, what follows
   * them would run on a new one, outside any transaction: there no guild is named, so nothing can be written, and what is
   * read is thrown away.
   */
  const begin = (line: Line, first: Statement | undefined): Promise<unknown> => {
    const sent = [line.query('begin', [], 'objects'), ...(first === undefined ? [] : [line.query(first.text, first.params, 'objects')])];
    const all = Promise.all(sent);
    all.catch(() => undefined);
    return all;
  };

  const transaction = async <T>(work: (line: Line) => Promise<T>, first?: Statement): Promise<T> => {
    const taken = await take();
    const { line } = taken;
    let begun = false;
    try {
      const beginning = begin(line, first);
      // Without a guild's name nothing would keep a stray statement from writing: then BEGIN is waited for.
      if (first === undefined) await beginning;
      try {
        const result = await work(line);
        await beginning;
        begun = true;
        await line.query('commit', [], 'objects');
        return result;
      } catch (error) {
        await beginning.then(() => { begun = true; });
        await line.query('rollback', [], 'objects').catch(() => { taken.closed = true; });
        throw error;
      }
    } catch (error) {
      // It may have failed while connecting, or half-way: such a line is not used again.
      if (!begun) taken.closed = true;
      throw error;
    } finally {
      giveBack(taken);
    }
  };

  const alone: Client['alone'] = async (first, text, params, rows) => {
    const taken = await take();
    const { line } = taken;
    try {
      const [beginning, asked, ending] = await Promise.allSettled([begin(line, first), line.query(text, params, rows), line.query('commit', [], 'objects')]);
      if (beginning.status === 'rejected') { taken.closed = true; throw beginning.reason; }
      if (asked.status === 'rejected') throw asked.reason;
      if (ending.status === 'rejected') { taken.closed = true; throw ending.reason; }
      if (taken.closed) throw away(new Error('the connection of this transaction was lost'));
      return asked.value;
    } finally {
      giveBack(taken);
    }
  };

  return {
    query,
    transaction,
    alone,
    close: async () => {
      closing = true;
      await Promise.allSettled([pool, ...idle.map((one) => one.sql)].map((sql) => sql.end({ timeout: 5 })));
    },
  };
}

/** Milliseconds that a replica gets for a read before the server itself is asked, and that one which failed is left alone. */
const replicaDeadline = 600;
const leftAlone = 5000;

/** Reads of the replica; whatever it cannot answer is asked of the server itself. One that is away is left alone for a while. */
function reading(replica: Client, server: Client, alone: number): Client {
  let asleep = -Infinity;
  return {
    query: async (...asked) => {
      if (performance.now() < asleep) return server.query(...asked);
      try {
        return await replica.query(...asked);
      } catch (error) {
        // One that lags may not have a table yet, or give up a read that stands in the way of what it replays (40001): the next one may do.
        const { code } = error as { code?: string };
        if (code !== '40001' && (stateProblem(error) as { code?: string }).code === 'library-unavailable') asleep = performance.now() + alone;
        return server.query(...asked);
      }
    },
    transaction: (...asked) => server.transaction(...asked),
    alone: (...asked) => server.alone(...asked),
    close: async () => { await Promise.all([replica.close(), server.close()]); },
  };
}

/** The server under each of the service's roles; what everybody may read comes from `replica` where there is one. Whose key it is is asked of the keeper, and kept for a moment; so he has few connections. */
export function connectRoles(url: string, { replica, alone = leftAlone, ...options }: Pick<ServerOptions, 'connections' | 'deadline'> & { readonly replica?: string | undefined; readonly alone?: number } = {}): Clients {
  const { connections = 8 } = options;
  const everybody = connectServer(url, { ...options, role: 'public' });
  const few = Math.min(2, connections);
  const clients = {
    public: replica === undefined ? everybody : reading(connectServer(replica, { ...options, role: 'public', deadline: Math.min(options.deadline ?? replicaDeadline, replicaDeadline) }), everybody, alone),
    guild: connectServer(url, { ...options, role: 'guild', connections: 1, lines: connections }),
    keeper: connectServer(url, { ...options, role: 'keeper', connections: few, lines: few }),
  };
  return { ...clients, close: async () => { await Promise.all(Object.values(clients).map((client) => client.close())); } };
}
