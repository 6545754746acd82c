/** Brings a database to the newest migration. In the table that the migration tool keeps, so that both agree. */
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { readMigrationFiles } from 'drizzle-orm/migrator';
import type { Client, Line } from './client.js';
import { ensureRoles } from './roles.js';
import { LibraryError } from './states.js';

export const migrationsFolder = (): string => {
  // Beside this file in the sources; two rooms up from it when built. SQL is not copied.
  for (const place of ['./migrations', '../../db/migrations']) {
    const path = fileURLToPath(new URL(place, import.meta.url));
    if (existsSync(`${path}/meta/_journal.json`)) return path;
  }
  throw new LibraryError('The folder db/migrations is not where it belongs: bring it along beside dist/.');
};

const tool = ['create schema if not exists drizzle', 'create table if not exists drizzle.__drizzle_migrations (id serial primary key, hash text not null, created_at bigint)'];
/** Any number, the same in every process: whoever holds the lock of this number migrates, the others wait. */
const migrating = 7_320_540;
/** Milliseconds that a migration, or the wait for another process's, may take. */
const longest = 120_000;

const applied = async (line: Line): Promise<string[]> =>
  ((await line.query('select hash from drizzle.__drizzle_migrations order by id', [], 'objects')) as { hash: string }[]).map((row) => row.hash);

/** Applies what is missing, all or none, as the owner of the database; `user` is who the service connects as. Returns how many were applied. */
export async function migrate(owner: Client, user?: string): Promise<number> {
  await ensureRoles(owner, user);
  return owner.transaction(apply);
}

async function apply(line: Line): Promise<number> {
  // Falls with the transaction. On the embedded database it is always granted; there the folder has one process only.
  await line.query('select pg_advisory_xact_lock($1)', [migrating], 'objects');
  for (const statement of tool) await line.query(statement, [], 'objects');
  const wanted = readMigrationFiles({ migrationsFolder: migrationsFolder() });
  const kept = await applied(line);
  for (const [i, one] of kept.entries()) {
    if (wanted[i] === undefined) throw new LibraryError(`This library was made by a newer version of the service (${kept.length} migrations, and this one knows ${wanted.length}): start that version.`);
    if (wanted[i].hash !== one) throw new LibraryError(`Migration ${i + 1} of this library is not the one that this version holds: a migration that has run must not be changed.`);
  }
  const missing = wanted.slice(kept.length);
  for (const one of missing) {
    for (const statement of one.sql) if (statement.trim() !== '') await line.query(statement, [], 'objects');
    await line.query('insert into drizzle.__drizzle_migrations (hash, created_at) values ($1, $2)', [one.hash, String(one.folderMillis)], 'objects');
  }
  const now = await applied(line);
  if (now.length !== wanted.length) throw new LibraryError(`The library holds ${now.length} migrations where ${wanted.length} were expected.`);
  return missing.length;
}

/** `ownerUrl` is the owner's address; `url` the one that the service goes on with, when it is another user's. */
export async function migrateServer(ownerUrl: string, url = ownerUrl): Promise<number> {
  // The driver is loaded only where there is a server.
  const { connectServer } = await import('./server.js');
  const client = connectServer(ownerUrl, { connections: 1, deadline: longest });
  try {
    return await migrate(client, new URL(url).username === new URL(ownerUrl).username ? undefined : decodeURIComponent(new URL(url).username));
  } catch (error) {
    if ((error as { code?: string }).code !== '42501') throw error;
    throw new LibraryError(`The owner of the library may not make its tables in this database (${(error as Error).message}): the database, or its schema public, should belong to the user of ${ownerUrl === url ? 'DATABASE_URL' : 'DATABASE_OWNER_URL'}.`, { cause: error });
  } finally {
    await client.close();
  }
}
