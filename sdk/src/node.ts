/**
 * The client for Node: connections are kept open and shared. With `undici` installed (an optional peer) its own fetch and
 * agent are used together, since a dispatcher of one major does not fit the fetch of another; without it, Node's own fetch.
 */
import type { Fetch, TransportOptions } from './options.js';
import { Wheelgrist as Client } from './wheelgrist.gen.js';

export * from './index.js';

export interface NodeOptions extends TransportOptions {
  /** Connections at once, 32 when left out. Heeded with `undici` only. */
  readonly connections?: number;
}
interface Undici { readonly fetch: unknown; readonly Agent: new (options: object) => { close(): Promise<void> } }
interface Pool { readonly fetch: Fetch; close(): Promise<void> }

/** A fetch with a pool of connections of its own, opened at the first call. */
function pool(connections: number): Pool {
  let opened: Promise<{ fetch: Fetch; close?: () => Promise<void> }> | undefined;
  // The name stands apart so that a compiler does not ask for the optional package.
  const name = 'undici';
  const open = async (): Promise<{ fetch: Fetch; close?: () => Promise<void> }> => {
    let undici: Undici;
    try {
      undici = (await import(name)) as Undici;
    } catch {
      return { fetch: fetch as Fetch };
    }
    const agent = new undici.Agent({ connections, keepAliveTimeout: 20_000 });
    const theirs = undici.fetch as (url: string, init: object) => ReturnType<Fetch>;
    return { fetch: (url, init) => theirs(url, { ...init, dispatcher: agent }), close: () => agent.close() };
  };
  return {
    fetch: async (url, init) => (await (opened ??= open())).fetch(url, init),
    close: async () => { await (await opened)?.close?.(); },
  };
}

export class Wheelgrist extends Client {
  readonly #pool: Pool;
  constructor(options: NodeOptions) {
    const own = pool(options.connections ?? 32);
    super({ fetch: own.fetch, ...options });
    this.#pool = own;
  }
  /** Closes the connections that stand open. Calls under way are let finish. */
  async close(): Promise<void> { await this.#pool.close(); }
}
