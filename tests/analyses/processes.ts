/** Analyses as they are run at large: the service and its workers as processes over a PostgreSQL of their own, seen over HTTP as a guild sees them. */
import { connectServer } from '../../db/server.js';
import { Wheelgrist } from '../../sdk/src/node.js';
import { makeServerWithGuild } from '../support/guild.js';
import { freePort, start, type Started } from '../start/support.js';

export interface Line { verdict: 'analysed' | 'rejected'; row: number; line: number; name?: string; errors?: { code: string; detail: string; received?: string }[]; end?: true; rows?: number; analysed?: number; rejected?: number }
export interface Mill {
  readonly made: Awaited<ReturnType<typeof makeServerWithGuild>>; readonly service: Started; readonly client: Wheelgrist; readonly url: string; readonly key: string; readonly environment: Readonly<Record<string, string>>;
  /** Begins a worker; `more` goes into its environment. */
  worker(more?: Record<string, string>): Started;
  /** Asks the database as its owner, whom nothing is hidden from. */
  ask<Row>(text: string): Promise<Row[]>;
  send(table: string | AsyncIterable<Uint8Array>, type?: string): Promise<string>;
  close(): Promise<void>;
}

export async function openMill(): Promise<Mill> {
  const made = await makeServerWithGuild('read', 'write');
  const { key } = made;
  const port = await freePort();
  const environment = { DATABASE_URL: made.url, WRITES_PER_MINUTE: '0', LOG_LEVEL: 'warn' };
  const service = start({ ...environment, PORT: String(port) });
  await service.says(/The library is open/);
  const url = `http://127.0.0.1:${port}`;
  const client = new Wheelgrist({ baseUrl: url, key, retries: 5, deadline: 600_000 });
  const owner = connectServer(made.url, { connections: 1, deadline: 20_000 });
  const workers: Started[] = [];
  return {
    made, service, client, url, key, environment,
    worker: (more = {}) => { const one = start({ ...environment, ...more }, 'dist/services/worker.js'); workers.push(one); return one; },
    ask: async <Row>(text: string) => (await owner.query(text, [], 'objects')) as Row[],
    send: async (table, type = 'text/csv') => (await client.createAnalysis(table as AsyncIterable<Uint8Array>, {}, { headers: { 'content-type': type } })).id!,
    close: async () => {
      await client.close();
      await owner.close();
      await Promise.all([service, ...workers].map((one) => one.stop('SIGKILL')));
      await made.drop();
    },
  };
}

export const pause = (ms: number): Promise<void> => new Promise((resolve) => { setTimeout(resolve, ms); });
