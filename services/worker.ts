/** A worker of its own: takes chunks of analyses from the library that DATABASE_URL names, on this machine or any other. */
import { setTimeout as sleep } from 'node:timers/promises';
import { LibraryError } from '../db/states.js';
import { startWorker } from './analyses/work.js';
import { ConfigError, readConfig } from './config.js';
import { ProblemError } from './foundation/problems.js';
import { openLibrary, type OpenedLibrary } from './library.js';

const say = (line: string): void => { process.stdout.write(`${line}\n`); };

async function open(config: ReturnType<typeof readConfig>): Promise<OpenedLibrary> {
  for (let told = false; ;) {
    try {
      return await openLibrary(config);
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      if (!told) say('The database that DATABASE_URL names does not answer: it is tried again every 2 seconds.');
      told = true;
      await sleep(2000);
    }
  }
}

try {
  const config = readConfig(process.env);
  if (config.databaseUrl === undefined) throw new ConfigError('DATABASE_URL is not set. A worker of its own needs a PostgreSQL server; with the embedded library npm start does this work itself.');
  const { library } = await open(config);
  let away = false;
  const worker = startWorker(library.analyses, {
    warn: (error) => {
      if (error instanceof ProblemError && error.status === 503) {
        if (!away) say('The database does not answer: it is tried again until it does.');
        away = true;
      } else process.stderr.write(`${JSON.stringify({ level: 'error', message: error instanceof Error ? error.message : String(error) })}\n`);
    },
  });
  const stop = async (): Promise<void> => {
    say('Stopping.');
    setTimeout(() => process.exit(0), 8000).unref();
    await worker.stop();
    await library.close().catch(() => undefined);
    process.exit(0);
  };
  process.once('SIGTERM', () => void stop());
  process.once('SIGINT', () => void stop());
  say('Waiting for analyses.');
} catch (error) {
  process.stderr.write(`${error instanceof ConfigError || error instanceof LibraryError ? error.message : `The worker cannot start: ${(error as Error).message}`}\n`);
  process.exit(1);
}
