/** Starts the service: it listens first, so that calculators answer while the library is still being opened. */
import { existsSync, readFileSync } from 'node:fs';
import type { AddressInfo } from 'node:net';
import { setTimeout as sleep } from 'node:timers/promises';
import type { Embedded } from '../db/embedded.js';
import { takeLock } from '../db/lock.js';
import { isThere, openFolder } from '../db/open.js';
import { LibraryError } from '../db/states.js';
import type { Worker } from './analyses/work.js';
import { ConfigError, readConfig, type Config } from './config.js';
import { ProblemError } from './foundation/problems.js';
import { lateLibrary, openLibrary, type OpenedLibrary } from './library.js';

const say = (line: string): void => { process.stdout.write(`${line}\n`); };
/** Seconds between two tries to reach a server. */
const pause = 2;
/** Seconds that requests in flight are given when the service is stopped. */
const grace = 8;

/** Why it cannot start, as one sentence. What nobody foresaw is told by its message alone. */
function sentence(error: unknown, config: Config | undefined): string {
  if (error instanceof ConfigError || error instanceof LibraryError) return error.message;
  const { code, message } = error as NodeJS.ErrnoException;
  if (config !== undefined) {
    if (code === 'EADDRINUSE') return `Port ${config.port} on ${config.host} is taken by another process: stop that one, or name another in PORT.`;
    if (code === 'EACCES') return `Port ${config.port} may not be opened by this user: name one above 1023 in PORT.`;
    if (code === 'EADDRNOTAVAIL' || code === 'ENOTFOUND' || code === 'EAI_AGAIN') return `HOST is “${config.host}”, which is no address of this machine.`;
  }
  return `The service cannot start: ${message}`;
}

function versionOf(): string {
  // Beside the sources, or one room further up from what is built.
  for (const place of ['../package.json', '../../package.json']) {
    const file = new URL(place, import.meta.url);
    if (existsSync(file)) return (JSON.parse(readFileSync(file, 'utf8')) as { version: string }).version;
  }
  return '0.0.0';
}

/** Opens the library; a server that is away is tried until it answers. */
async function openPatiently(config: Config, client: Promise<Embedded> | undefined, state: { away: boolean; stopping: boolean }): Promise<OpenedLibrary> {
  for (;;) {
    try {
      const opened = await openLibrary(config, client);
      state.away = false;
      return opened;
    } catch (error) {
      if (!(error instanceof ProblemError) || config.databaseUrl === undefined || state.stopping) throw error;
      if (!state.away) {
        const reason = (error.cause as { code?: string } | undefined)?.code;
        say(`The database that DATABASE_URL names does not answer${reason === undefined ? '' : ` (${reason})`}: the calculators work, and the library is tried again every ${pause} seconds.`);
      }
      state.away = true;
      await sleep(pause * 1000);
    }
  }
}

async function main(): Promise<void> {
  let config: Config | undefined;
  let release = (): void => undefined;
  const state = { away: false, stopping: false };
  let worker: Worker | undefined;
  const fail = (error: unknown): never => {
    process.stderr.write(`${sentence(error, config)}\n`);
    release();
    process.exit(1);
  };
  try {
    config = readConfig(process.env);
    const embedded = config.databaseUrl === undefined;
    if (embedded) release = takeLock(config.dataDir).release;
    const isNew = embedded && !isThere(config.dataDir);
    // The database has a thread of its own, so it opens while this one loads the application.
    const client = embedded ? openFolder(config.dataDir) : undefined;
    client?.catch(() => undefined);

    let open!: (opened: Promise<OpenedLibrary>) => void;
    const opening = new Promise<OpenedLibrary>((resolve) => { open = resolve; });
    const library = lateLibrary(opening, () => state.away);
    const { buildApp } = await import('./http/app.js');
    const app = await buildApp({ config: { version: versionOf(), limits: config.limits, ...(config.trustedProxies === undefined ? {} : { trustedProxies: config.trustedProxies }) }, logger: { level: config.logLevel, stream: process.stderr }, library });
    await app.listen({ host: config.host, port: config.port });
    const address = addressOf(app.server.address() as AddressInfo);

    const stop = async (): Promise<void> => {
      state.stopping = true;
      say('Stopping.');
      setTimeout(() => { release(); process.exit(0); }, grace * 1000).unref();
      await worker?.stop();
      // A connection that was busy when the closing began is idle once its reply is out.
      setInterval(() => app.server.closeIdleConnections(), 100).unref();
      await app.close();
      // One that is still being made is waited for, so that nothing is left half done.
      if (!state.away) await library.close().catch(() => undefined);
      release();
      process.exit(0);
    };
    process.once('SIGTERM', () => void stop());
    process.once('SIGINT', () => void stop());

    say(`Wheelgrist ${versionOf()} listens at ${address}`);
    say(!embedded ? 'Opening the library on the server that DATABASE_URL names.' : isNew ? `Creating the library in ${config.dataDir}, once. The calculators answer already.` : `Opening the library in ${config.dataDir}.`);
    open(openPatiently(config, client, state));
    const { firstKey, library: opened } = await opening;
    // A server has workers of its own (npm run worker); the embedded library has this process alone.
    if (embedded) {
      const { startWorker } = await import('./analyses/work.js');
      worker = startWorker(opened.analyses, { warn: (error) => app.log.warn({ reason: error instanceof Error ? error.message : String(error) }, 'analysis') });
    }
    say('The library is open.');
    if (firstKey !== undefined) {
      say('The demo guild, Thornmere Guild, has this key. It is shown once; npm run key makes another.');
      say(`key: ${firstKey}`);
    }
    say(`Try:
  curl '${address}/v1/ratio?driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm'
  curl '${address}/v1/wheels?limit=5'
  curl -G '${address}/v1/ratio' --data-urlencode 'driveWheel=22 1/16 in ± 1/16 in' --data-urlencode 'band=2 mm' --data-urlencode 'whorl=60 mm'
Documentation: ${address}/docs`);
  } catch (error) {
    if (!state.stopping) fail(error);
  }
}

/** The address for a person beside this machine. */
function addressOf({ address, port }: AddressInfo): string {
  const host = address === '0.0.0.0' || address === '::' ? '127.0.0.1' : address.includes(':') ? `[${address}]` : address;
  return `http://${host}:${port}`;
}

await main();
