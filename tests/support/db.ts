/** A fresh, migrated library for a test, on either database. `TEST_DB=pglite` or `TEST_DB=postgres` runs one of them only. */
import { randomUUID } from 'node:crypto';
import { cpSync, existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import postgres from 'postgres';
import { afterAll, beforeAll, describe } from 'vitest';
import { databaseOver, type Client, type Database } from '../../db/client.js';
import { openEmbedded } from '../../db/embedded.js';
import { migrate, migrateServer } from '../../db/migrate.js';
import { connectRoles, connectServer, type ServerOptions } from '../../db/server.js';
import { describeWith, postgresUrl } from './require.js';

export type Kind = 'pglite' | 'postgres';
/** `client` asks as the owner, whom nothing is hidden from; `database` as the service does. `url`: of a server; `folder`: of an embedded one. */
export interface TestDatabase { readonly kind: Kind; readonly client: Client; readonly database: Database; readonly url?: string; readonly folder?: string; close(): Promise<void> }

const chosen = process.env['TEST_DB'];
if (chosen !== undefined && chosen !== 'pglite' && chosen !== 'postgres') throw new Error(`TEST_DB is “${chosen}”; it takes pglite or postgres.`);

/** A database of its own on the server, empty; dropped by `drop`, whoever is still in it. */
export async function makeServerDatabase(): Promise<{ url: string; name: string; admin: postgres.Sql; drop(): Promise<void> }> {
  const admin = postgres(postgresUrl, { max: 1, onnotice: () => undefined });
  const name = `t_${randomUUID().replaceAll('-', '')}`;
  await admin.unsafe(`create database ${name}`);
  const url = new URL(postgresUrl);
  url.pathname = `/${name}`;
  return { url: url.href, name, admin, drop: async () => { await admin.unsafe(`drop database ${name} with (force)`); await admin.end(); } };
}

/** The empty library that the build makes, when there is one: a copy of it opens in a moment. */
const template = fileURLToPath(new URL('../../dist/db/template', import.meta.url));

export async function openTestDatabase(kind: Kind, options?: ServerOptions): Promise<TestDatabase> {
  if (kind === 'postgres') {
    const made = await makeServerDatabase();
    await migrateServer(made.url);
    const client = connectServer(made.url, { connections: 2, ...options });
    const database = databaseOver(connectRoles(made.url, options), 'server');
    return { kind, client, database, url: made.url, close: async () => { await database.close(); await client.close(); await made.drop(); } };
  }
  const folder = mkdtempSync(join(tmpdir(), 'wheelgrist-'));
  if (existsSync(`${template}.stamp`)) cpSync(template, join(folder, 'library'), { recursive: true });
  const client = await openEmbedded({ folder: join(folder, 'library') });
  await migrate(client);
  return { kind, client, folder, database: databaseOver(client.roles(), 'embedded'), close: async () => { await client.close(); rmSync(folder, { recursive: true, force: true }); } };
}

/** The same tests on both databases. Await it at the top of the file. */
export async function describeOnBoth(title: string, body: (open: () => TestDatabase) => void): Promise<void> {
  const on = (kind: Kind) => (): void => {
    let opened: TestDatabase | undefined;
    beforeAll(async () => { opened = await openTestDatabase(kind); });
    afterAll(async () => { await opened?.close(); });
    body(() => opened!);
  };
  if (chosen !== 'postgres') describe(`${title} (embedded)`, on('pglite'));
  if (chosen !== 'pglite') await describeWith('postgres', `${title} (PostgreSQL)`, on('postgres'));
}
