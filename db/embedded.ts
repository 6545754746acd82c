/** The embedded database as a `Client`: questions and answers by message to its thread. */
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker } from 'node:worker_threads';
import type { Client, Line } from './client.js';
import { away } from './states.js';

export interface Start { readonly folder?: string }
export type Asked = { readonly id: number } & (
  | { readonly do: 'query'; readonly text: string; readonly params: unknown[]; readonly rows: 'arrays' | 'objects' }
  | { readonly do: 'close' });
type Question = { do: 'query'; text: string; params: unknown[]; rows: 'arrays' | 'objects' } | { do: 'close' };
export interface Told { readonly id: number; readonly rows?: unknown[]; readonly error?: { readonly message: string; readonly code?: string; readonly constraint?: string } }

function startThread(workerData: Start): Worker {
  const here = import.meta.url;
  if (!here.endsWith('.ts')) return new Worker(new URL('./embedded-worker.js', here), { workerData, execArgv: [] });
  // From the sources (tests, npm run dev) the thread needs a loader for TypeScript, and registers it itself.
  const loader = new URL('index.mjs', pathToFileURL(createRequire(here).resolve('tsx/esm/api')));
  const code = `import('${loader.href}').then(({ register }) => { register(); return import('${new URL('./embedded-worker.ts', here).href}'); });`;
  return new Worker(code, { eval: true, workerData, execArgv: [] });
}

/** Opens the database in `folder`, made when it is not there; without a folder, in memory. */
export async function openEmbedded(start: Start): Promise<Client> {
  const thread = startThread(start);
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
  const direct: Line = {
    query: async (text, params, rows) => (await ask({ do: 'query', text, params: [...params], rows })).rows ?? [],
  };

  // There is one session. While it is inside a transaction, whoever is not part of it waits.
  let transactions: Promise<void> | undefined;
  const transaction = async <T>(work: (line: Line) => Promise<T>): Promise<T> => {
    const before = transactions;
    let done!: () => void;
    const mine = new Promise<void>((resolve) => { done = resolve; });
    transactions = mine;
    await before;
    try {
      await direct.query('begin', [], 'objects');
      try {
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
  };

  try {
    await opened;
  } catch (error) {
    await thread.terminate();
    throw error;
  }
  return {
    query: async (text, params, rows) => {
      while (transactions !== undefined) await transactions;
      return direct.query(text, params, rows);
    },
    transaction,
    close: async () => {
      while (transactions !== undefined) await transactions;
      if (ended === undefined) await ask({ do: 'close' }).catch(() => undefined);
      await thread.terminate();
    },
  };
}
