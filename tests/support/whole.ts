/** The whole application with a library of its own, for tests of the contract. */
import type { FastifyInstance } from 'fastify';
import pack from '../../package.json' with { type: 'json' };
import { startWorker } from '../../services/analyses/work.js';
import { libraryOver, type Library } from '../../services/library.js';
import { openTestDatabase } from './db.js';
import { openApp } from './http.js';

export interface Whole { readonly app: FastifyInstance; readonly key: string; readonly library: Library; close(): Promise<void> }

/** With a worker that analyses tables, where one is asked for. */
export async function openWhole({ working = false } = {}): Promise<Whole> {
  const opened = await openTestDatabase('pglite');
  const { library, firstKey } = await libraryOver(opened.database);
  const app = await openApp({ config: { version: pack.version }, library });
  const worker = working ? startWorker(library.analyses) : undefined;
  return { app, key: firstKey!, library, close: async () => { await worker?.stop(); await app.close(); await opened.close(); } };
}
