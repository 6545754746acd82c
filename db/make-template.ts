/**
 * Makes an empty library, migrated, beside the built service: `node dist/db/make-template.js`. A first start copies it,
 * which takes a fraction of the time that setting up a database from nothing takes. It holds no guild and no key.
 */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { openEmbedded } from './embedded.js';
import { migrate, migrationsFolder } from './migrate.js';

const folder = fileURLToPath(new URL('./template', import.meta.url));
const stampFile = `${folder}.stamp`;

/** Of what it is made: the migrations, and the version of the database. */
function stamp(): string {
  const hash = createHash('sha256').update(readFileSync(new URL('../../package.json', import.meta.url)));
  const migrations = migrationsFolder();
  for (const name of readdirSync(migrations).toSorted()) if (name.endsWith('.sql')) hash.update(name).update(readFileSync(`${migrations}/${name}`));
  return hash.digest('hex');
}

const wanted = stamp();
if (!existsSync(folder) || !existsSync(stampFile) || readFileSync(stampFile, 'utf8') !== wanted) {
  rmSync(folder, { recursive: true, force: true });
  const client = await openEmbedded({ folder });
  await migrate(client);
  await client.query('checkpoint', [], 'objects');
  await client.close();
  writeFileSync(stampFile, wanted);
}
