/** The library over HTTP, on both databases: read, page, make, change, retire; who may, and what must be known first. */
import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { seed } from '../../db/seed/seed.js';
import { wheels as demo } from '../../services/wheels/thornmere.js';
import { keyRow, guildStore } from '../../services/guilds/store.js';
import { makeKey, type Scope } from '../../services/guilds/keys.js';
import { libraryOver } from '../../services/library.js';
import { describeOnBoth } from '../support/db.js';
import { openApp, problemIn } from '../support/http.js';

type Json = Record<string, unknown>;
const profile = { name: 'Mill Lane', driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }] };

await describeOnBoth('wheels over HTTP', (open) => {
  let app: FastifyInstance;
  const keys = { own: '', reader: '', other: '' };
  beforeAll(async () => {
    const { database } = open();
    const guilds = guildStore(database);
    const first = makeKey();
    await seed(database, keyRow(first, '', 'first', ['admin']));
    await guilds.addGuild('other-guild', 'Other Guild');
    const key = (guild: string, ...scopes: Scope[]) => guilds.addKey(guild, 'test', scopes);
    [keys.own, keys.reader, keys.other] = await Promise.all([key('thornmere-guild', 'read', 'write'), key('thornmere-guild', 'read'), key('other-guild', 'write')]);
    app = await openApp({ library: (await libraryOver(database)).library });
  });
  afterAll(() => app?.close());
  const ask = (method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE', url: string, { key, body, headers = {} }: { key?: string; body?: unknown; headers?: Record<string, string> } = {}): Promise<LightMyRequestResponse> =>
    app.inject({ method, url, headers: { ...(key === undefined ? {} : { authorization: `Bearer ${key}` }), ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers }, ...(body === undefined ? {} : { payload: JSON.stringify(body) }) });
  const make = async (more: Json = {}): Promise<{ id: string; etag: string; url: string }> => {
    const reply = await ask('POST', '/v1/wheels', { key: keys.own, body: { ...profile, ...more } });
    expect(reply.statusCode, reply.body).toBe(201);
    const { id } = reply.json<{ id: string }>();
    expect(reply.headers.location).toBe(`/v1/wheels/${id}`);
    return { id, etag: String(reply.headers.etag), url: `/v1/wheels/${id}` };
  };

  it('lists all demo wheels, page by page, each once and in order', async () => {
    const seen: string[] = [];
    let url: string | undefined = '/v1/wheels?limit=4';
    while (url !== undefined) {
      const reply: LightMyRequestResponse = await ask('GET', url);
      expect(reply.statusCode).toBe(200);
      const page = reply.json<{ items: { id: string; effective?: unknown }[]; next?: string }>();
      seen.push(...page.items.map((item) => item.id));
      expect(page.items.every((item) => item.effective === undefined)).toBe(true);
      const link = /^<(.+)>; rel="next"$/.exec(String(reply.headers.link ?? ''))?.[1];
      expect(link === undefined).toBe(page.next === undefined);
      url = link;
    }
    expect(seen).toEqual(Object.keys(demo).toSorted());
    expect((await ask('GET', '/v1/wheels')).json<{ items: unknown[] }>().items).toHaveLength(Math.min(20, seen.length));
  });

  it.each(['limit=0', 'limit=101', 'limit=x', 'limit=', 'after=x', 'limt=3', 'limit=3&limit=4'])('refuses ?%s', async (query) => {
    const document = problemIn(await ask('GET', `/v1/wheels?${query}`));
    expect(document.status).toBeLessThan(500);
    expect(document.errors![0]!.parameter).toMatch(/^(limit|after|limt)$/);
  });

  it('gives a wheel as it was posted, with what the library says of it and what calculations use', async () => {
    const reply = await ask('GET', '/v1/wheels/thornmere-4');
    const { id, revision, visibility, guild, createdAt, updatedAt, parts, effective, ...own } = reply.json<Json>();
    expect({ id, revision, visibility, guild }).toEqual({ id: 'thornmere-4', revision: 1, visibility: 'public', guild: 'thornmere-guild' });
    expect(JSON.stringify(own)).toBe(JSON.stringify(demo['thornmere-4']));
    expect(effective).toEqual(own);
    expect((parts as Json[]).map((part) => [part['id'], part['kind'], part['name'], part['at']])).toEqual([['part-1', 'whorl', 'small', '/whorls/0'], ['part-2', 'whorl', 'large', '/whorls/1'], ['part-3', 'bobbin', 'plain', '/bobbins/0']]);
    expect([createdAt, updatedAt].every((time) => !Number.isNaN(Date.parse(String(time))))).toBe(true);
    expect(reply.headers).toMatchObject({ 'cache-control': 'public, no-cache', vary: 'Authorization' });
    const again = await ask('GET', '/v1/wheels/thornmere-4', { headers: { 'if-none-match': String(reply.headers.etag) } });
    expect([again.statusCode, again.body]).toEqual([304, '']);
    expect((await ask('GET', '/v1/wheels/thornmere-4', { key: keys.reader })).headers['cache-control']).toContain('private');
  });

  it('answers a calculation by the id of a wheel', async () => {
    const byId = (await ask('GET', '/v1/wheels/thornmere-4/ratio')).json<{ result: { whorls: { flyerRatio: { value: number } }[] } }>();
    expect(byId.result.whorls[0]!.flyerRatio.value).toBeCloseTo(562 / 62, 12);
    const posted = await ask('POST', '/v1/ratio', { body: { wheel: demo['thornmere-4'] } });
    expect(posted.json()).toEqual(byId);
  });

  it('keeps what is posted with a key, for its guild alone', async () => {
    const { id, url } = await make();
    expect((await ask('GET', url, { key: keys.reader })).json()).toMatchObject({ ...profile, id, revision: 1, visibility: 'guild' });
    for (const options of [{}, { key: keys.other }]) {
      expect(problemIn(await ask('GET', url, options)).type).toBe('/problems/wheel-not-found');
      expect(problemIn(await ask('GET', `${url}/ratio`, options)).type).toBe('/problems/wheel-not-found');
      expect((await ask('GET', '/v1/wheels?limit=100', options)).body).not.toContain(id);
    }
    expect((await ask('GET', `${url}/ratio`, { key: keys.own })).statusCode).toBe(200);
    expect((await ask('GET', '/v1/wheels?limit=100', { key: keys.own })).body).toContain(id);
    expect(problemIn(await ask('PUT', url, { key: keys.other, body: profile, headers: { 'if-match': '*' } })).status).toBe(404);
  });

  it('needs a key that may write', async () => {
    const body = profile;
    expect(problemIn(await ask('POST', '/v1/wheels', { body })).status).toBe(401);
    expect((await ask('POST', '/v1/wheels', { body })).headers['www-authenticate']).toContain('Bearer');
    expect(problemIn(await ask('POST', '/v1/wheels', { key: keys.reader, body })).status).toBe(403);
    for (const key of ['x', `${keys.own}x`, makeKey()]) expect(problemIn(await ask('GET', '/v1/wheels/thornmere-4', { key })).status).toBe(401);
    expect(problemIn(await ask('GET', '/v1/wheels', { headers: { authorization: 'Basic eDp5' } })).status).toBe(401);
    const { etag } = (await ask('GET', '/v1/wheels/thornmere-4')).headers;
    expect(problemIn(await ask('PUT', '/v1/wheels/thornmere-4', { key: keys.other, body, headers: { 'if-match': String(etag) } })).status).toBe(403);
  });

  it('names every place of a bad wheel', async () => {
    const document = problemIn(await ask('POST', '/v1/wheels', { key: keys.own, body: { driveWheel: { grooveDiameter: '560' }, modes: [{ drive: 'sideways' }] } }));
    expect(document.errors!.map((issue) => String(issue.pointer)).toSorted()).toEqual(['/driveWheel/grooveDiameter', '/modes/0/drive', '/name']);
  });

  it('changes a wheel only for whoever has seen its newest revision', async () => {
    const { etag, url } = await make();
    expect(problemIn(await ask('PUT', url, { key: keys.own, body: profile })).status).toBe(428);
    expect(problemIn(await ask('PUT', url, { key: keys.own, body: profile, headers: { 'if-match': '"old"' } })).status).toBe(412);
    expect(problemIn(await ask('PUT', url, { key: keys.own, body: profile, headers: { 'if-match': `W/${etag}` } })).status).toBe(412);
    const changed = await ask('PUT', url, { key: keys.own, body: { ...profile, name: 'Mill Lane 2', visibility: 'public' }, headers: { 'if-match': etag } });
    expect(changed.json()).toMatchObject({ name: 'Mill Lane 2', revision: 2, visibility: 'public' });
    expect(problemIn(await ask('PUT', url, { key: keys.own, body: profile, headers: { 'if-match': etag } })).status).toBe(412);
    const read = await ask('GET', url);
    expect([read.headers.etag, read.body]).toEqual([changed.headers.etag, changed.body]);
    const patched = await ask('PATCH', url, { key: keys.own, body: { condition: 'watch', whorls: null }, headers: { 'if-match': String(read.headers.etag), 'content-type': 'application/merge-patch+json' } });
    expect(patched.json()).toMatchObject({ revision: 3, condition: 'watch', name: 'Mill Lane 2', visibility: 'public' });
    expect(patched.json()).not.toHaveProperty('whorls');
    expect(problemIn(await ask('PATCH', url, { key: keys.own, body: { name: null }, headers: { 'if-match': String(patched.headers.etag) } })).errors![0]).toMatchObject({ pointer: '/name', code: 'missing-field' });
  });

  it('lets one of many changes through, and keeps a revision of each that went through', async () => {
    const { etag, url, id } = await make();
    const tries = await Promise.all(Array.from({ length: 8 }, (_, i) => ask('PUT', url, { key: keys.own, body: { ...profile, name: `Try ${i}` }, headers: { 'if-match': etag } })));
    expect(tries.map((reply) => reply.statusCode).toSorted((a, b) => a - b)).toEqual([200, 412, 412, 412, 412, 412, 412, 412]);
    const rows = await open().client.query('select revision, change, profile, key_id from wheel_revisions where wheel_id = $1 order by revision', [id], 'objects') as { revision: number; change: string; profile: string; key_id: string }[];
    expect(rows.map((row) => [row.revision, row.change])).toEqual([[1, 'made'], [2, 'changed']]);
    expect(JSON.parse(rows[1]!.profile)).toMatchObject({ name: tries.find((reply) => reply.statusCode === 200)!.json<{ name: string }>().name });
    expect(rows.every((row) => row.key_id.startsWith('key-'))).toBe(true);
  });

  it('retires a wheel: it is gone, its revisions are not', async () => {
    const { etag, url, id } = await make({ visibility: 'public' });
    expect(problemIn(await ask('DELETE', url, { key: keys.own })).status).toBe(428);
    const gone = await ask('DELETE', url, { key: keys.own, headers: { 'if-match': etag } });
    expect([gone.statusCode, gone.body]).toEqual([204, '']);
    expect(problemIn(await ask('GET', url, { key: keys.own })).status).toBe(404);
    expect((await ask('GET', '/v1/wheels?limit=100', { key: keys.own })).body).not.toContain(id);
    expect(await open().client.query('select change from wheel_revisions where wheel_id = $1 order by revision', [id], 'objects')).toEqual([{ change: 'made' }, { change: 'retired' }]);
  });

  it('is seeded once', async () => {
    const { database } = open();
    expect(await seed(database, keyRow(makeKey(), '', 'again', ['admin']))).toBe(false);
  });

  it('keeps no key, only what it is known by', async () => {
    const rows = JSON.stringify(await open().client.query('select * from keys', [], 'objects'));
    for (const key of Object.values(keys)) expect(rows).not.toContain(key.slice(0, 20));
    await open().client.query("update keys set revoked_at = now() where scopes = '{read}'", [], 'objects');
    expect(problemIn(await ask('GET', '/v1/wheels', { key: keys.reader })).status).toBe(401);
  });
});
