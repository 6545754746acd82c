/** Opens the database that is named, and brings it up to date. What loads the query builder comes last: it takes its time. */
import { existsSync } from 'node:fs';
import { cp, mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Database } from './client.js';
import { openEmbedded, type Embedded } from './embedded.js';
import { LibraryError, stateProblem } from './states.js';

export interface Place {
  /** A PostgreSQL server; absent: embedded, in `dataDir`. */
  readonly databaseUrl?: string;
  /** The address of the database's owner, who migrates it; absent: `databaseUrl` is his. */
  readonly databaseOwnerUrl?: string;
  /** A server that follows that one: what everybody may read is asked of it. */
  readonly databaseReadUrl?: string;
  readonly dataDir: string;
}

const folderOf = (dataDir: string): string => join(dataDir, 'library');
export const isThere = (dataDir: string): boolean => existsSync(folderOf(dataDir));

/** Opens the embedded database, made when it is not there. The folder must be locked by this process. Throws a LibraryError. */
export async function openFolder(dataDir: string): Promise<Embedded> {
  const folder = folderOf(dataDir);
  try {
    if (!existsSync(folder)) await prepare(folder);
    return await openEmbedded({ folder });
  } catch (error) {
    throw damaged(folder, error);
  }
}

/** Throws a LibraryError, or `library-unavailable` where a server is away. */
export async function openDatabase(place: Place, opened?: Promise<Embedded>): Promise<Database> {
  const [{ databaseOver }, { migrate, migrateServer }] = await Promise.all([import('./client.js'), import('./migrate.js')]);
  if (place.databaseUrl !== undefined) {
    try {
      await migrateServer(place.databaseOwnerUrl ?? place.databaseUrl, place.databaseUrl);
    } catch (error) {
      throw error instanceof LibraryError ? error : stateProblem(error);
    }
    const { connectRoles } = await import('./server.js');
    return databaseOver(connectRoles(place.databaseUrl, { replica: place.databaseReadUrl }), 'server');
  }
  const client = await (opened ?? openFolder(place.dataDir));
  try {
    await migrate(client);
    return databaseOver(client.roles(), 'embedded');
  } catch (error) {
    await client.close().catch(() => undefined);
    throw damaged(folderOf(place.dataDir), error);
  }
}

const damaged = (folder: string, error: unknown): LibraryError => (error instanceof LibraryError ? error
  : new LibraryError(`The library in ${folder} cannot be opened: it may be damaged or made by another version. Move the folder away to begin a new one.`, { cause: error }));

/**
 * A new library is a copy of the empty one that the build made, where there is one. It gets its name when it is whole:
 * whatever breaks off half-way is begun again. Without a copy the database sets itself up, in a few seconds.
 */
async function prepare(folder: string): Promise<void> {
  const template = fileURLToPath(new URL('./template', import.meta.url));
  if (!existsSync(`${template}.stamp`)) { await mkdir(folder); return; }
  const half = `${folder}.new`;
  await rm(half, { recursive: true, force: true });
  await cp(template, half, { recursive: true });
  await rename(half, folder);
}
