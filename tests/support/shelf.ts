/** Two guilds and their keys over a test's own database, and the application asked as either. */
import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import { makeKey, type Scope } from '../../services/guilds/keys.js';
import { guildStore, keyRow } from '../../services/guilds/store.js';
import { libraryOver } from '../../services/library.js';
import { seed } from '../../db/seed/seed.js';
import type { TestDatabase } from './db.js';
import { openApp } from './http.js';

export const profile = { name: 'Mill Lane', driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }] };

export interface Asking { readonly key?: string; readonly body?: unknown; readonly headers?: Record<string, string> }
export type Method = 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
export interface TwoGuilds {
  readonly app: FastifyInstance;
  readonly keys: { readonly admin: string; readonly own: string; readonly reader: string; readonly other: string };
  ask(method: Method, url: string, asking?: Asking): Promise<LightMyRequestResponse>;
  key(guild: string, ...scopes: Scope[]): Promise<string>;
}

/** thornmere-guild with the demo wheels, and other-guild with none. */
export async function twoGuilds({ database }: TestDatabase): Promise<TwoGuilds> {
  const guilds = guildStore(database);
  const admin = makeKey();
  await seed(database, keyRow(admin, '', 'first', ['read', 'write', 'admin']));
  await guilds.addGuild('other-guild', 'Other Guild');
  const key = (guild: string, ...scopes: Scope[]): Promise<string> => guilds.addKey(guild, 'test', scopes);
  const [own, reader, other] = await Promise.all([key('thornmere-guild', 'read', 'write'), key('thornmere-guild', 'read'), key('other-guild', 'read', 'write', 'admin')]);
  const app = await openApp({ library: (await libraryOver(database)).library });
  return {
    app, keys: { admin, own, reader, other }, key,
    ask: (method, url, { key: sent, body, headers = {} } = {}) => app.inject({
      method, url, headers: { ...(sent === undefined ? {} : { authorization: `Bearer ${sent}` }), ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers }, ...(body === undefined ? {} : { payload: JSON.stringify(body) }),
    }),
  };
}
