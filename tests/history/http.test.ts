/** What a wheel was, restored and copied, over HTTP and on both databases. */
import { randomUUID } from 'node:crypto';
import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

type Json = Record<string, unknown>;
interface Kept { url: string; id: string; etag: string }

await describeOnBoth('what a wheel was', (open) => {
  let two: TwoGuilds;
  beforeAll(async () => { two = await twoGuilds(open()); });
  afterAll(() => two?.app.close());
  const ask: TwoGuilds['ask'] = (...args) => two.ask(...args);
  const keptIn = (reply: LightMyRequestResponse): Kept => {
    expect(reply.statusCode, reply.body).toBeLessThan(300);
    const { id } = reply.json<{ id: string }>();
    return { id, url: `/v1/wheels/${id}`, etag: String(reply.headers.etag) };
  };
  const make = async (more: Json = {}, key = two.keys.own): Promise<Kept> => keptIn(await ask('POST', '/v1/wheels', { key, body: { ...profile, ...more } }));
  const patch = async (wheel: Kept, body: Json): Promise<Kept> => keptIn(await ask('PATCH', wheel.url, { key: two.keys.own, body, headers: { 'if-match': wheel.etag, 'content-type': 'application/merge-patch+json' } }));
  const items = (reply: LightMyRequestResponse): Json[] => { expect(reply.statusCode, reply.body).toBe(200); return reply.json<{ items: Json[] }>().items; };

  it('is listed, the newest first and page by page, and read in full', async () => {
    let wheel = await make({ visibility: 'public' });
    for (const condition of ['watch', 'sound', 'watch', 'do-not-run']) wheel = await patch(wheel, { condition });
    const seen: unknown[] = [];
    for (let url: string | undefined = `${wheel.url}/revisions?limit=2`; url !== undefined;) {
      const reply: LightMyRequestResponse = await ask('GET', url);
      seen.push(...items(reply).map((one) => one['revision']));
      url = /^<(.+)>; rel="next"$/.exec(String(reply.headers.link ?? ''))?.[1];
    }
    expect(seen).toEqual([5, 4, 3, 2, 1]);
    const [newest] = items(await ask('GET', `${wheel.url}/revisions`, { key: two.keys.reader }));
    expect(newest).toMatchObject({ wheel: wheel.id, revision: 5, change: 'changed', visibility: 'public', name: 'Mill Lane' });
    expect(newest!['keyId']).toMatch(/^key-/);
    // Whose key it was is not told to others.
    for (const key of [undefined, two.keys.other]) expect(items(await ask('GET', `${wheel.url}/revisions`, key === undefined ? {} : { key }))[0]).not.toHaveProperty('keyId');
    const first = (await ask('GET', `${wheel.url}/revisions/1`)).json<Json>();
    expect(first).toMatchObject({ ...profile, revision: 1, change: 'made', parts: [{ id: 'part-1', kind: 'whorl' }] });
    expect(first).not.toHaveProperty('condition');
    for (const bad of ['6', '0', 'x', '01', '99999999999']) expect(problemIn(await ask('GET', `${wheel.url}/revisions/${bad}`)).type).toMatch(/revision-not-found|uri-too-long/);
    expect(problemIn(await ask('GET', `${wheel.url}/revisions?after=x`)).type).toBe('/problems/invalid-cursor');
  });

  it('is its guild\'s alone while the wheel or that revision was not public', async () => {
    const own = await make();
    for (const asking of [{}, { key: two.keys.other }]) {
      for (const path of ['/revisions', '/revisions/1', '/forks', '/lineage']) expect(problemIn(await ask('GET', `${own.url}${path}`, asking)).type).toBe('/problems/wheel-not-found');
    }
    await patch(own, { visibility: 'public' });
    expect(items(await ask('GET', `${own.url}/revisions`)).map((one) => one['revision'])).toEqual([2]);
    expect(problemIn(await ask('GET', `${own.url}/revisions/1`)).type).toBe('/problems/revision-not-found');
    expect(items(await ask('GET', `${own.url}/revisions`, { key: two.keys.reader }))).toHaveLength(2);
  });

  it('comes back as a new revision; nothing is lost, and who may see it stays as it is', async () => {
    const first = await make({ visibility: 'public' });
    const now = await patch(first, { name: 'Mill Lane, rebuilt', visibility: 'guild', whorls: [{ name: 'new', grooveDiameter: '30 mm' }] });
    const restore = (etag?: string, n = '1', key = two.keys.own) => ask('POST', `${first.url}/revisions/${n}/restore`, { key, ...(etag === undefined ? {} : { headers: { 'if-match': etag } }) });
    expect(problemIn(await restore()).status).toBe(428);
    expect(problemIn(await restore(first.etag)).status).toBe(412);
    expect(problemIn(await restore(now.etag, '7')).type).toBe('/problems/revision-not-found');
    expect(problemIn(await restore(now.etag, '1', two.keys.reader)).status).toBe(403);
    expect(problemIn(await restore(now.etag, '1', two.keys.other)).type).toBe('/problems/wheel-not-found');
    const restored = await restore(now.etag);
    expect(restored.json()).toMatchObject({ ...profile, revision: 3, visibility: 'guild', parts: [{ id: 'part-1' }] });
    expect(restored.headers.etag).toBe((await ask('GET', first.url, { key: two.keys.own })).headers.etag);
    expect(items(await ask('GET', `${first.url}/revisions`, { key: two.keys.own })).map((one) => [one['change'], one['restored']])).toEqual([['restored', 1], ['changed', undefined], ['made', undefined]]);
  });

  it('is kept when the wheel is retired, and brings it back', async () => {
    const wheel = await make({ visibility: 'public' });
    expect((await ask('DELETE', wheel.url, { key: two.keys.own, headers: { 'if-match': wheel.etag } })).statusCode).toBe(204);
    expect((await ask('GET', wheel.url, { key: two.keys.own })).statusCode).toBe(404);
    for (const asking of [{}, { key: two.keys.other }]) expect((await ask('GET', `${wheel.url}/revisions`, asking)).statusCode).toBe(404);
    const newest = await ask('GET', `${wheel.url}/revisions/2`, { key: two.keys.own });
    expect(newest.json()).toMatchObject({ change: 'retired', name: 'Mill Lane' });
    const restore = (etag: string) => ask('POST', `${wheel.url}/revisions/1/restore`, { key: two.keys.own, headers: { 'if-match': etag } });
    expect(problemIn(await restore(wheel.etag)).status).toBe(412);
    expect((await restore(String(newest.headers.etag))).json()).toMatchObject({ id: wheel.id, revision: 3, visibility: 'public' });
    expect((await ask('GET', wheel.url)).statusCode).toBe(200);
  });

  it('may be copied into one\'s own guild, and the copy says where it comes from', async () => {
    const source = await patch(await make({ visibility: 'public' }), { condition: 'watch' });
    const fork = (asking: object) => ask('POST', `${source.url}/fork`, { key: two.keys.other, ...asking });
    const plain = await fork({});
    expect(plain.json()).toMatchObject({ ...profile, condition: 'watch', guild: 'other-guild', revision: 1, visibility: 'guild', forkedFrom: { id: source.id, revision: 2 }, parts: [{ id: 'part-1' }] });
    const copy = keptIn(plain);
    expect(plain.headers.location).toBe(copy.url);
    expect((await fork({ body: { name: 'As it was', visibility: 'public', revision: 1 } })).json()).toMatchObject({ name: 'As it was', visibility: 'public', forkedFrom: { id: source.id, revision: 1 } });
    expect(problemIn(await fork({ body: { revision: 9 } })).type).toBe('/problems/revision-not-found');
    expect(problemIn(await fork({ body: { revision: 1.5, nme: 'x' } })).errors!.map((issue) => issue.pointer).toSorted()).toEqual(['/nme', '/revision']);
    expect(problemIn(await ask('POST', `${(await make()).url}/fork`, { key: two.keys.other })).type).toBe('/problems/wheel-not-found');
    const name = randomUUID();
    const twice = [await fork({ headers: { 'idempotency-key': name } }), await fork({ headers: { 'idempotency-key': name } })].map((reply) => reply.json<{ id: string }>().id);
    expect(twice[0]).toBe(twice[1]);

    // A copy of the copy, by its own guild: the line leads back to the first, for whoever may see it.
    const second = keptIn(await ask('POST', `${copy.url}/fork`, { key: two.keys.other, body: { name: 'Second' } }));
    expect(items(await ask('GET', `${second.url}/lineage`, { key: two.keys.other }))).toEqual([
      { id: copy.id, name: 'Mill Lane', guild: 'other-guild', copiedRevision: 1 }, { id: source.id, name: 'Mill Lane', guild: 'thornmere-guild', copiedRevision: 2 },
    ]);
    expect(items(await ask('GET', `${source.url}/lineage`))).toEqual([]);
    expect(items(await ask('GET', `${source.url}/forks`)).map((one) => one['name'])).toEqual(['As it was']);
    expect(items(await ask('GET', `${source.url}/forks`, { key: two.keys.other }))).toHaveLength(3);
    // It is sent back whole like any other wheel, and nobody sets where it comes from.
    const whole = (await ask('GET', copy.url, { key: two.keys.other })).json<Json>();
    const put = (body: Json) => ask('PUT', copy.url, { key: two.keys.other, body, headers: { 'if-match': copy.etag } });
    expect(problemIn(await put({ ...whole, forkedFrom: { id: 'thornmere-4', revision: 1 } })).errors).toMatchObject([{ pointer: '/forkedFrom' }]);
    expect((await put({ ...whole, condition: 'sound' })).json()).toMatchObject({ revision: 2, forkedFrom: { id: source.id, revision: 2 } });
  });

  it('goes on in the ids of its parts', async () => {
    const wheel = await make({ whorls: [{ name: 'small', grooveDiameter: '40 mm' }, { name: 'large', grooveDiameter: '60 mm' }] });
    const renamed = await patch(wheel, { whorls: [{ name: 'large', grooveDiameter: '60 mm' }, { name: 'lace', grooveDiameter: '40 mm' }] });
    expect((await ask('GET', renamed.url, { key: two.keys.own })).json<{ parts: Json[] }>().parts).toEqual([
      { id: 'part-1', kind: 'whorl', name: 'lace', at: '/whorls/1' }, { id: 'part-2', kind: 'whorl', name: 'large', at: '/whorls/0' },
    ]);
  });
});
