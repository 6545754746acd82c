/** Guilds, their keys and their audit over HTTP, on both databases. */
import { randomUUID } from 'node:crypto';
import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { isWellFormed } from '../../services/guilds/keys.js';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

type Json = Record<string, unknown>;
interface Made { id: string; key: string; expiresAt?: string }
const guild = '/v1/guilds/thornmere-guild';

await describeOnBoth('guilds and keys', (open) => {
  let two: TwoGuilds;
  beforeAll(async () => { two = await twoGuilds(open()); });
  afterAll(() => two?.app.close());
  const ask: TwoGuilds['ask'] = (...args) => two.ask(...args);
  const admin = (method: Parameters<TwoGuilds['ask']>[0], url: string, more: object = {}) => ask(method, url, { key: two.keys.admin, ...more });
  const make = async (body: Json = {}): Promise<Made> => {
    const reply = await admin('POST', `${guild}/keys`, { body: { label: 'loft', scopes: ['read', 'write'], ...body } });
    expect(reply.statusCode, reply.body).toBe(201);
    return reply.json<Made>();
  };
  const works = async (key: string): Promise<boolean> => (await ask('GET', '/v1/wheels?limit=1', { key })).statusCode === 200;
  const past = (id: string) => open().client.query('update keys set expires_at = now() - interval \'1 second\' where id = $1', [id], 'objects');
  const items = (reply: LightMyRequestResponse): Json[] => { expect(reply.statusCode, reply.body).toBe(200); return reply.json<{ items: Json[] }>().items; };

  it('a key is told once, and known again by how it begins', async () => {
    const reply = await admin('POST', `${guild}/keys`, { body: { label: 'loft', scopes: ['write', 'read', 'read'] } });
    const made = reply.json<Made & Json>();
    expect(isWellFormed(made.key)).toBe(true);
    expect(made).toMatchObject({ guild: 'thornmere-guild', label: 'loft', scopes: ['read', 'write'], prefix: made.key.slice(0, 10) });
    expect(reply.headers).toMatchObject({ 'cache-control': 'no-store', location: `${guild}/keys/${made.id}` });
    const { key, ...kept } = made;
    expect((await admin('GET', `${guild}/keys/${made.id}`)).json()).toEqual(kept);
    const all = await admin('GET', `${guild}/keys?limit=100`);
    expect(items(all)).toContainEqual(kept);
    expect(all.body).not.toContain(key);
    expect(await works(key)).toBe(true);
    for (const wrong of [key.replace(/.$/, (c) => (c === 'a' ? 'b' : 'a')), key.toLowerCase(), key.slice(0, 20)]) expect(await works(wrong)).toBe(false);
  });

  it('a key is revoked at once, and stays in the list', async () => {
    const { id, key } = await make();
    for (let i = 0; i < 2; i++) expect((await admin('DELETE', `${guild}/keys/${id}`)).statusCode).toBe(204);
    expect(await works(key)).toBe(false);
    expect((await admin('GET', `${guild}/keys/${id}`)).json()).toHaveProperty('revokedAt');
    const own = await make({ scopes: ['admin'] });
    expect((await ask('DELETE', `${guild}/keys/${own.id}`, { key: own.key })).statusCode).toBe(204);
    expect(await works(own.key)).toBe(false);
  });

  it('a key expires when it was told to', async () => {
    const soon = new Date(Date.now() + 3600_000).toISOString();
    const { id, key, expiresAt } = await make({ expiresAt: soon });
    expect(expiresAt).toBe(soon);
    expect(await works(key)).toBe(true);
    await past(id);
    expect(await works(key)).toBe(false);
  });

  it('a key is replaced by another; both work until the overlap is over', async () => {
    const old = await make({ expiresAt: new Date(Date.now() + 90 * 24 * 3600_000).toISOString() });
    const reply = await admin('POST', `${guild}/keys/${old.id}/rotate`, { body: { overlap: '2 h' } });
    const made = reply.json<Made & { previous: Json; rotatedFrom: string }>();
    expect(reply.statusCode).toBe(201);
    expect(made).toMatchObject({ rotatedFrom: old.id, label: 'loft', scopes: ['read', 'write'], previous: { id: old.id } });
    const hours = (text: unknown): number => (Date.parse(String(text)) - Date.now()) / 3600_000;
    expect(hours(made.previous['expiresAt'])).toBeCloseTo(2, 1);
    expect(hours(made.expiresAt) / 24).toBeCloseTo(90, 1);
    expect([await works(old.key), await works(made.key)]).toEqual([true, true]);
    expect(problemIn(await admin('POST', `${guild}/keys/${old.id}/rotate`)).type).toBe('/problems/conflict');
    await past(old.id);
    expect([await works(old.key), await works(made.key)]).toEqual([false, true]);
    const day = (await admin('POST', `${guild}/keys/${made.id}/rotate`)).json<{ previous: Json }>();
    expect(hours(day.previous['expiresAt'])).toBeCloseTo(24, 1);
    const now = await make();
    expect((await admin('POST', `${guild}/keys/${now.id}/rotate`, { body: { overlap: '0 h' } })).statusCode).toBe(201);
    expect(await works(now.key)).toBe(false);
    expect(problemIn(await admin('POST', `${guild}/keys/${now.id}/rotate`)).type).toBe('/problems/conflict');
  });

  it('a key that is made with an Idempotency-Key is made once, and told in the reply that is sent again', async () => {
    const headers = { 'idempotency-key': randomUUID() };
    const once = async (): Promise<string> => (await admin('POST', `${guild}/keys`, { headers, body: { label: 'once', scopes: ['read'] } })).body;
    const bodies = [await once(), await once()];
    expect(bodies[0]).toBe(bodies[1]);
    expect(items(await admin('GET', `${guild}/keys?limit=100`)).filter((one) => one['label'] === 'once')).toHaveLength(1);
  });

  it.each([
    [{}, ['/label', '/scopes']], [{ label: '', scopes: [] }, ['/label', '/scopes']], [{ label: 'a\nb', scopes: ['all'] }, ['/label', '/scopes/0']], [{ label: 'x', scopes: 'read' }, ['/scopes']],
    [{ label: 'x', scopes: ['read'], expiresAt: '2020-01-01T00:00:00Z' }, ['/expiresAt']], [{ label: 'x', scopes: ['read'], expiresAt: 'tomorrow' }, ['/expiresAt']], [{ label: 'x', scopes: ['read'], until: 'x' }, ['/until']],
  ])('refuses a key of %j by its places', async (body, places) => {
    expect(problemIn(await admin('POST', `${guild}/keys`, { body })).errors!.map((issue) => issue.pointer).toSorted()).toEqual(places);
  });
  it.each(['2', '-1 h', '800 h', '1-2 h', 5])('refuses an overlap of %s', async (overlap) => {
    const { id } = await make();
    expect(problemIn(await admin('POST', `${guild}/keys/${id}/rotate`, { body: { overlap } })).errors).toMatchObject([{ pointer: '/overlap' }]);
  });

  it('a guild is made with its first key, and seen by that alone', async () => {
    const reply = await admin('POST', '/v1/guilds', { body: { name: 'Guild of the Lower Mill' } });
    const made = reply.json<{ id: string; name: string; firstKey: Made & Json }>();
    expect(reply.statusCode, reply.body).toBe(201);
    expect(made).toMatchObject({ name: 'Guild of the Lower Mill', firstKey: { guild: made.id, scopes: ['read', 'write', 'admin'] } });
    const url = String(reply.headers.location);
    expect((await ask('GET', url, { key: made.firstKey.key })).json()).toMatchObject({ id: made.id, name: 'Guild of the Lower Mill' });
    expect(problemIn(await admin('GET', url)).type).toBe('/problems/guild-not-found');
    const wheel = await ask('POST', '/v1/wheels', { key: made.firstKey.key, body: profile });
    expect(wheel.json()).toMatchObject({ guild: made.id });
    expect((await admin('GET', String(wheel.headers.location))).statusCode).toBe(404);
    expect(items(await ask('GET', `${url}/audit`, { key: made.firstKey.key })).map((one) => [one['action'], one['what']])).toEqual([['made', 'wheel'], ['made', 'key']]);
    expect(problemIn(await admin('POST', '/v1/guilds', { body: {} })).errors).toMatchObject([{ pointer: '/name' }]);
    // One request, sent twice with one name: one guild.
    const once = { headers: { 'idempotency-key': randomUUID() }, body: { name: 'Once' } };
    expect((await admin('POST', '/v1/guilds', once)).body).toBe((await admin('POST', '/v1/guilds', once)).body);
  });

  it('every write is told: what, by which key, on which request; to its own guild, page by page', async () => {
    const reply = await ask('POST', '/v1/wheels', { key: two.keys.own, body: profile });
    const { id } = reply.json<{ id: string }>();
    await ask('PUT', `/v1/wheels/${id}`, { key: two.keys.own, body: { ...profile, name: 'Again' }, headers: { 'if-match': String(reply.headers.etag) } });
    const [changed, made] = items(await admin('GET', `${guild}/audit?limit=2`));
    expect(made).toMatchObject({ action: 'made', what: 'wheel', subject: id, revision: 1, requestId: reply.headers['request-id'] });
    expect(changed).toMatchObject({ action: 'changed', what: 'wheel', subject: id, revision: 2, keyId: made!['keyId'] });
    expect(made!['keyId']).toMatch(/^key-/);
    const seen: string[] = [];
    for (let url: string | undefined = `${guild}/audit?limit=7`; url !== undefined;) {
      const page: LightMyRequestResponse = await admin('GET', url);
      seen.push(...items(page).map((one) => String(one['id'])));
      url = /^<(.+)>; rel="next"$/.exec(String(page.headers.link ?? ''))?.[1];
    }
    expect(seen.map(Number)).toEqual([...new Set(seen)].map(Number).toSorted((a, b) => b - a));
    expect(seen.length).toBeGreaterThan(20);
    expect((await ask('GET', '/v1/guilds/other-guild/audit', { key: two.keys.other })).body).not.toContain(id);
  });
});
