/** A migrated library of its own on the server, with a guild and its key: what a service needs that is started as a process. */
import { databaseOver } from '../../db/client.js';
import { migrateServer } from '../../db/migrate.js';
import { connectRoles } from '../../db/server.js';
import type { Scope } from '../../services/guilds/keys.js';
import { guildStore } from '../../services/guilds/store.js';
import { makeServerDatabase } from './db.js';

export async function makeServerWithGuild(...scopes: Scope[]): Promise<Awaited<ReturnType<typeof makeServerDatabase>> & { readonly key: string }> {
  const made = await makeServerDatabase();
  await migrateServer(made.url);
  const database = databaseOver(connectRoles(made.url, { connections: 1 }), 'server');
  const guilds = guildStore(database);
  await guilds.addGuild('thornmere-guild', 'Thornmere Guild');
  const key = await guilds.addKey('thornmere-guild', 'test', scopes);
  await database.close();
  return { ...made, key };
}
