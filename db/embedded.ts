/** The embedded database as a `Client`: questions and answers by message to its thread. */
import { startThread } from '../services/threads.js';
import type { Client, Clients, Line, Statement } from './client.js';
import { roles, type Role } from './roles.js';
import { away } from './states.js';

export interface Start { readonly folder?: string }
type Question = { readonly do: 'query'; readonly text: string; readonly params: unknown[]; readonly rows: 'arrays' | 'objects'; readonly role?: string; readonly first?: Statement } | { readonly do: 'close' };
export type Asked = { readonly id: number } & Question;
/** The embedded database as its owner, and under each role. */
export interface Embedded extends Client { roles(): Clients }
export interface Told { readonly id: number; readonly rows?: unknown[]; readonly error?: { readonly message: string; readonly code?: string; readonly constraint?: string } }

/** Opens the database in `folder`, made when it is not there; without a folder, in memory. */
export async function openEmbedded(start: Start): Promise<Embedded> {
  const thread = startThread(import.meta.url, 'embedded-worker', start);
  const waiting = new Map<number, { resolve: (told: Told) => void; reject: (error: Error) => void }>();
  let next = 1;
  let ended: Error | undefined;
  const end = (error: Error): void => {
    ended ??= error;
    for (const one of waiting.values()) one.reject(away(ended));
    waiting.clear();
  };
  thread.on('error', end);
  thread.on('exit', () => end(new Error('the thread of the embedded database has ended')));
  thread.on('message', (told: Told) => {
    const one = waiting.get(told.id);
    waiting.delete(told.id);
    if (told.error === undefined) one?.resolve(told);
    else one?.reject(Object.assign(new Error(told.error.message), told.error));
  });
  const opened = new Promise<Told>((resolve, reject) => waiting.set(0, { resolve, reject }));
  const ask = (question: Question): Promise<Told> => new Promise((resolve, reject) => {
    if (ended !== undefined) { reject(away(ended)); return; }
    const id = next++;
    waiting.set(id, { resolve, reject });
    thread.postMessage({ id, ...question } satisfies Asked);
  });

  // There is one session. While it is inside a transaction, whoever is not part of it waits.
  let transactions: Promise<void> | undefined;
  const under = (role?: Role): Omit<Client, 'close'> => {
    const as = role === undefined ? {} : { role: roles[role] };
    const direct: Line = { query: async (text, params, rows) => (await ask({ do: 'query', text, params: [...params], rows, ...as })).rows ?? [] };
    return {
      query: async (text, params, rows) => {
        while (transactions !== undefined) await transactions;
        return direct.query(text, params, rows);
      },
      alone: async (first, text, params, rows) => {
        while (transactions !== undefined) await transactions;
        return (await ask({ do: 'query', text, params: [...params], rows, first, ...as })).rows ?? [];
      },
      transaction: async <T>(work: (line: Line) => Promise<T>, first?: Statement): Promise<T> => {
        const before = transactions;
        let done!: () => void;
        const mine = new Promise<void>((resolve) => { done = resolve; });
        transactions = mine;
        await before;
        try {
          await direct.query('begin', [], 'objects');
          try {
            if (first !== undefined) await direct.query(first.text, first.params, 'objects');
            const result = await work(direct);
            await direct.query('commit', [], 'objects');
            return result;
          } catch (error) {
            await direct.query('rollback', [], 'objects').catch(() => undefined);
            throw error;
          }
        } finally {
          if (transactions === mine) transactions = undefined;
          done();
        }
      },
    };
  };

  try {
    await opened;
  } catch (error) {
    await thread.terminate();
    throw error;
  }
  const close = async (): Promise<void> => {
    while (transactions !== undefined) await transactions;
    if (ended === undefined) await ask({ do: 'close' }).catch(() => undefined);
    await thread.terminate();
  };
  return {
    ...under(), close,
    roles: () => {
      const [everybody, keeper, guild] = (['public', 'keeper', 'guild'] as const).map((role) => ({ ...under(role), close }));
      return { public: everybody!, keeper: keeper!, guild: guild!, close };
    },
  };
}
