/** Opens the database that is named, and brings it up to date. */
import { existsSync } from 'node:fs';
import { cp, mkdir, rename, rm } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { databaseOver, type Client, type Database } from './client.js';
import { migrate, migrateServer } from './migrate.js';
import { LibraryError, stateProblem } from './states.js';

export interface Place { readonly databaseUrl?: string; readonly dataDir: string }

/** The embedded folder must be locked by this process. Throws a LibraryError, or `library-unavailable` where a server is away. */
export async function openDatabase({ databaseUrl, dataDir }: Place): Promise<Database> {
  if (databaseUrl !== undefined) {
    try {
      await migrateServer(databaseUrl);
    } catch (error) {
      throw stateProblem(error);
    }
    const { connectServer } = await import('./server.js');
    return databaseOver(connectServer(databaseUrl), 'server');
  }
  const { openEmbedded } = await import('./embedded.js');
  const folder = join(dataDir, 'library');
  let client: Client | undefined;
  try {
    if (!existsSync(folder)) await prepare(folder);
    client = await openEmbedded({ folder });
    await migrate(client);
    return databaseOver(client, 'embedded');
  } catch (error) {
    await client?.close().catch(() => undefined);
    if (error instanceof LibraryError) throw error;
    throw new LibraryError(`The library in ${folder} cannot be opened: it may be damaged or made by another version. Move the folder away to begin a new one.`, { cause: error });
  }
}

/**
 * A new library is a copy of the empty one that the build made, where there is one. It gets its name when it is whole:
 * whatever breaks off half-way is begun again. Without a copy the database sets itself up, in a few seconds.
 */
async function prepare(folder: string): Promise<void> {
  const template = fileURLToPath(new URL('./template', import.meta.url));
  if (!existsSync(join(template, 'PG_VERSION'))) { await mkdir(folder, { recursive: true }); return; }
  const half = `${folder}.new`;
  await rm(half, { recursive: true, force: true });
  await cp(template, half, { recursive: true });
  await rename(half, folder);
}
