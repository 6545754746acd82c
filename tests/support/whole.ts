/** The whole application with a library of its own, for tests of the contract. */
import type { FastifyInstance } from 'fastify';
import pack from '../../package.json' with { type: 'json' };
import { libraryOver, type Library } from '../../services/library.js';
import { openTestDatabase } from './db.js';
import { openApp } from './http.js';

export interface Whole { readonly app: FastifyInstance; readonly key: string; readonly library: Library; close(): Promise<void> }

export async function openWhole(): Promise<Whole> {
  const opened = await openTestDatabase('pglite');
  const { library, firstKey } = await libraryOver(opened.database);
  const app = await openApp({ config: { version: pack.version }, library });
  return { app, key: firstKey!, library, close: async () => { await app.close(); await opened.close(); } };
}
