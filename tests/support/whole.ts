/** The whole application, for tests of the contract. */
import type { FastifyInstance } from 'fastify';
import pack from '../../package.json' with { type: 'json' };
import { openApp } from './http.js';

export interface Whole { readonly app: FastifyInstance; readonly key: string | undefined; close(): Promise<void> }

export async function openWhole(): Promise<Whole> {
  const app = await openApp({ config: { version: pack.version } });
  return { app, key: undefined, close: () => app.close() };
}
