/**
 * A replica answers what everybody may read, and the server itself whatever the replica does not. It is played by a second
 * database that may not be written to and holds another wheel, so that one sees who was asked.
 */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { databaseOver, type Database } from '../../db/client.js';
import { migrateServer } from '../../db/migrate.js';
import { connectRoles } from '../../db/server.js';
import type { Caller } from '../../services/guilds/keys.js';
import { guildStore } from '../../services/guilds/store.js';
import { libraryOver, type Library } from '../../services/library.js';
import { readConfig } from '../../services/config.js';
import { partsOf } from '../../services/wheels/parts.js';
import type { Wheel } from '../../services/wheels/profile.js';
import { makeServerDatabase } from '../support/db.js';
import { makeProxy, type Proxy } from '../support/proxy.js';
import { describeWith } from '../support/require.js';

await describeWith('postgres', 'a library with a replica', () => {
  type Made = Awaited<ReturnType<typeof makeServerDatabase>>;
  let [primary, copy]: [Made, Made] = [undefined!, undefined!];
  let proxy: Proxy;
  let database: Database;
  let library: Library;
  const alone = 100;
  let caller: Caller;
  const add = (to: Library, name: string, by: Caller) => { const profile = { name, driveWheel: { grooveDiameter: { value: 500, unit: 'mm' } } } as unknown as Wheel; return to.create({ profile, visibility: 'public', parts: partsOf(profile) }, by); };
  beforeAll(async () => {
    [primary, copy] = [await makeServerDatabase(), await makeServerDatabase()];
    for (const [made, name] of [[primary, 'of the primary'], [copy, 'of the replica']] as const) {
      await migrateServer(made.url);
      const own = databaseOver(connectRoles(made.url, { connections: 1 }), 'server');
      const guilds = guildStore(own);
      await guilds.addGuild('loft', 'Loft Guild');
      const by = (await guilds.caller(await guilds.addKey('loft', 'test', ['write'])))!;
      if (made === primary) caller = by;
      await add((await libraryOver(own)).library, name, by);
      await own.close();
    }
    await copy.admin.unsafe(`alter database ${copy.name} set default_transaction_read_only = on`);
    proxy = await makeProxy(new URL(copy.url));
    database = databaseOver(connectRoles(primary.url, { replica: proxy.url, alone }), 'server');
    ({ library } = await libraryOver(database));
  });
  afterAll(async () => {
    await database?.close();
    await proxy?.close();
    await primary?.drop();
    await copy?.drop();
  });
  const names = async (guild?: string): Promise<string[]> => (await library.wheels({ limit: 10, ...(guild === undefined ? {} : { guild }) })).items.map((wheel) => String(wheel.profile.name));
  const again = async (): Promise<void> => { for (let i = 0; i < 100; i++) { if ((await names())[0] === 'of the replica') return; await new Promise((resolve) => setTimeout(resolve, 50)); } throw new Error('the replica is asked no more'); };

  it('is read there by everybody, and read and written on the primary by a guild', async () => {
    expect(await names()).toEqual(['of the replica']);
    expect(await names('loft')).toEqual(['of the primary']);
    const made = await add(library, 'made now', caller);
    expect((await library.wheel(made.id, 'loft'))?.id).toBe(made.id);
    expect(await library.wheel(made.id)).toBeUndefined();
    expect((await names('loft')).toSorted()).toEqual(['made now', 'of the primary']);
    await library.ready();
  });

  it('is read on the primary while the replica hangs up, is away or is silent, and there again afterwards', async () => {
    for (const [go, come] of [[() => proxy.away(), () => proxy.back()], [() => proxy.freeze(true), () => proxy.freeze(false)]] as const) {
      await again();
      await go();
      for (let i = 0; i < 3; i++) expect((await names()).toSorted()).toEqual(['made now', 'of the primary']);
      await come();
      await again();
    }
    proxy.hangUp();
    expect((await names()).length).toBeGreaterThan(0);
  });

  it('is searched on the primary while the replica has not got the tables yet', async () => {
    await again();
    const behind = databaseOver(connectRoles(primary.url, { replica: new URL('/postgres', copy.url).href, alone }), 'server');
    const found = (await libraryOver(behind)).library;
    expect((await found.wheels({ limit: 10, search: { text: 'primary' } })).items.length).toBe(1);
    await behind.close();
  });
});

it('a replica is set beside the server that it follows', () => {
  const DATABASE_URL = 'postgres://u:p@primary:5432/library';
  expect(readConfig({ DATABASE_URL, DATABASE_READ_URL: 'postgres://u:p@replica:5432/library' }).databaseReadUrl).toBe('postgres://u:p@replica:5432/library');
  expect(readConfig({ DATABASE_URL })).not.toHaveProperty('databaseReadUrl');
  expect(() => readConfig({ DATABASE_READ_URL: 'postgres://u:p@replica:5432/library' })).toThrow('DATABASE_URL is not');
  expect(() => readConfig({ DATABASE_URL, DATABASE_READ_URL: 'mysql://x/y' })).toThrow('DATABASE_READ_URL begins with mysql://');
});
