/**
 * Two guilds over every address that names something: what belongs to the one answers the other as if it were not there,
 * whatever the verb. Without a key only public things are seen, whatever is asked. And what each key may do, on every route.
 * The addresses come from the routes themselves, so a new one is asked too.
 */
import fc from 'fast-check';
import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inFull } from '../../sdk/generate/spec.js';
import committed from '../../sdk/openapi.json' with { type: 'json' };
import { makeKey } from '../../services/guilds/keys.js';
import { request, type Spec, type SpecOperation } from '../contract/requests.js';
import { describeOnBoth, type TestDatabase } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { profile, twoGuilds, type Asking, type Method, type TwoGuilds } from '../support/shelf.js';

const spec = inFull(committed as unknown as Spec);
const verbs = ['GET', 'POST', 'PUT', 'PATCH', 'DELETE'] as const satisfies Method[];
const operations = Object.entries(spec.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ path, method: method.toUpperCase() as Method, operation, name: `${method.toUpperCase()} ${path}` })));
const named = Object.keys(spec.paths).filter((path) => path.startsWith('/v1/') && path.includes('{'));
const collectionOf = (path: string): string => path.split('/').findLast((part) => !part.startsWith('{'))!;
const bodyOf = (operation: SpecOperation | undefined): unknown => Object.values(operation?.requestBody?.content ?? {})[0]?.example;
/** Signs that stand in nothing that is public. */
const mark = 'Zwalm';

await describeOnBoth('what belongs to a guild', (open) => {
  let two: TwoGuilds;
  /** Ids of what thornmere-guild keeps to itself, by the part of the path under which it stands. */
  const own = new Map<string, string>([['guilds', 'thornmere-guild']]);
  const tags = new Map<string, string>();
  beforeAll(async () => {
    two = await twoGuilds(open());
    await fill(two, own);
    for (const path of own.keys()) tags.set(path, '');
  });
  afterAll(() => two?.app.close());
  const ask = (method: Method, url: string, asking?: Asking): Promise<LightMyRequestResponse> => two.ask(method, url, asking);

  /** The address with ids that are there and another guild's, or with such as nobody has. */
  const address = (path: string, there: boolean): string => path.replace(/\{(\w+)\}/g, (_, name: string, at: number) => {
    const collection = collectionOf(path.slice(0, at - 1));
    if (collection === 'revisions') return '1';
    const id = own.get(collection);
    if (id === undefined) throw new Error(`nothing of ${collection} was made for ${path} {${name}}: let fill() make one`);
    return there ? id : `${id.slice(0, -4)}zzzz`;
  });
  const withoutIds = (path: string, reply: LightMyRequestResponse): string => [address(path, true), address(path, false)].reduce((body, url) => body.replaceAll(url, '…'), reply.body).replace(/"requestId":"[^"]*"/, '').replaceAll(/[\w-]+zzzz/g, '…').replaceAll(new RegExp([...own.values()].join('|'), 'g'), '…');
  /** What a method needs beside the address, well formed. */
  const asking = (path: string, method: Method): Asking => {
    const body = bodyOf(spec.paths[path]?.[method.toLowerCase()]) ?? (method === 'GET' || method === 'DELETE' ? undefined : {});
    return { headers: { 'if-match': '*' }, ...(body === undefined ? {} : { body }) };
  };

  it.each(named)('%s is, for another guild, as if it were not there', async (path) => {
    for (const method of verbs) {
      const operation = spec.paths[path]![method.toLowerCase()];
      const [there, missing] = await Promise.all([true, false].map((is) => ask(method, address(path, is), { ...asking(path, method), key: two.keys.other })));
      expect(there!.statusCode, `${method} ${path}: ${there!.body}`).toBe(operation === undefined ? 405 : 404);
      expect(withoutIds(path, there!), `${method} ${path}`).toBe(withoutIds(path, missing!));
      const headers = ({ 'request-id': _, date: __, ratelimit: ___, 'content-length': ____, ...rest }: LightMyRequestResponse['headers']) => rest;
      expect(headers(there!.headers)).toEqual(headers(missing!.headers));
      // Whoever has no key is told the same of both, too.
      const [unkeyed, unkeyedMissing] = await Promise.all([true, false].map((is) => ask(method, address(path, is), asking(path, method))));
      expect([401, 404, 405], `${method} ${path}: ${unkeyed!.body}`).toContain(unkeyed!.statusCode);
      expect(withoutIds(path, unkeyed!), `${method} ${path}, without a key`).toBe(withoutIds(path, unkeyedMissing!));
    }
  });

  it('is not changed by any of that', async () => {
    const wheel = await ask('GET', `/v1/wheels/${own.get('wheels')}`, { key: two.keys.own });
    expect(wheel.json()).toMatchObject({ revision: 1, name: `${mark} wheel` });
    expect((await ask('GET', `/v1/guilds/thornmere-guild/keys/${own.get('keys')}`, { key: two.keys.admin })).json()).not.toHaveProperty('revokedAt');
  });

  it('is not reached by the id of a wheel within a question', async () => {
    let asked = 0;
    for (const { path, method, operation } of operations) {
      const properties = Object.values(operation.requestBody?.content ?? {})[0]?.schema;
      if (method !== 'POST' || !JSON.stringify(properties ?? {}).includes('"wheelId"') && operation.tags[0] !== 'Calculations') continue;
      for (const key of [undefined, two.keys.other]) {
        const replies = await Promise.all([own.get('wheels')!, 'wheel-zzzzzzzzzzzz'].map((wheelId) => ask(method, path, { ...(key === undefined ? {} : { key }), body: path === '/v1/batch' ? { questions: [{ calculation: 'ratio', question: { wheelId } }] } : { wheelId } })));
        const [there, missing] = replies.map((reply) => reply.body.replace(/"requestId":"[^"]*"/, '').replaceAll(/wheel-\w{12}/g, '…'));
        expect(replies[0]!.statusCode).toBe(replies[1]!.statusCode);
        expect(there, `${method} ${path}`).toBe(missing);
        expect(replies[0]!.body).not.toContain(mark);
        asked++;
      }
    }
    expect(asked).toBeGreaterThan(10);
  });

  it('is not seen without a key, nor by another guild, whatever is asked', async () => {
    const hidden = [mark, ...[...own].filter(([kind]) => kind !== 'guilds').map(([, id]) => id)];
    const look = (reply: LightMyRequestResponse, what: string, sent: string): void => {
      for (const word of hidden) if (reply.body.includes(word) && !sent.includes(word)) throw new Error(`${what} tells ${word}: ${reply.body.slice(0, 400)}`);
    };
    let looked = 0;
    const query = fc.record({ limit: fc.constantFrom('1', '20', '100', '0', '-1'), after: fc.constantFrom(undefined, 'x', ''), q: fc.constantFrom(undefined, mark.toLowerCase(), '%', '*'), guild: fc.constantFrom(undefined, 'thornmere-guild', '*'), visibility: fc.constantFrom(undefined, 'guild', 'public,guild', 'all'), retired: fc.constantFrom(undefined, 'true') })
      .map((o) => new URLSearchParams(Object.entries(o).filter((pair): pair is [string, string] => pair[1] !== undefined)).toString());
    for (const { path, method, operation, name } of operations) {
      if (method !== 'GET' && !/search|batch|ratio$/.test(path)) continue;
      await fc.assert(fc.asyncProperty(request(spec, operation), fc.option(query, { nil: undefined }), fc.boolean(), async (made, more, keyed) => {
        const url = `${path.replace(/\{(\w+)\}/g, (_, p: string) => encodeURIComponent((made.path[p] ?? 'x').replace(/\p{Surrogate}|^\.+$/gu, '?')))}?${more ?? new URLSearchParams(made.query.map(([n, v]) => [n, v.replace(/\p{Surrogate}/gu, '?')])).toString()}`;
        const body = made.body === undefined ? {} : { body: made.body };
        look(await ask(method, url, { ...body, ...(keyed ? { key: two.keys.other } : {}) }), `${name} ${url}`, `${url} ${JSON.stringify(body)}`);
        looked++;
      }), { numRuns: 15 });
    }
    // The list in full, page by page.
    for (const key of [undefined, two.keys.other]) {
      for (let url: string | undefined = '/v1/wheels?limit=3'; url !== undefined;) {
        const page: LightMyRequestResponse = await ask('GET', url, key === undefined ? {} : { key });
        look(page, url, '');
        expect(page.json<{ items: { visibility: string }[] }>().items.every((item) => item.visibility === 'public')).toBe(true);
        url = /^<(.+)>; rel="next"$/.exec(String(page.headers.link ?? ''))?.[1];
        looked++;
      }
    }
    // A cursor of the own guild's list does not open it for others.
    const { next } = (await ask('GET', '/v1/wheels?limit=1', { key: two.keys.own })).json<{ next: string }>();
    for (const key of [undefined, two.keys.other]) expect(problemIn(await ask('GET', `/v1/wheels?limit=100&after=${next}`, key === undefined ? {} : { key })).type).toBe('/problems/invalid-cursor');
    expect(looked).toBeGreaterThan(300);
    console.log(`${looked} replies without a key or with another guild's: nothing of a guild in any`);
  });

  it('is told no sooner or later than what is not there', async () => {
    const times = { there: [] as number[], missing: [] as number[] };
    for (let i = 0; i < 300; i++) {
      for (const what of i % 2 === 0 ? (['there', 'missing'] as const) : (['missing', 'there'] as const)) {
        const began = performance.now();
        await ask('GET', address('/v1/wheels/{id}', what === 'there'), { key: two.keys.other });
        times[what].push(performance.now() - began);
      }
    }
    const at = (list: number[], share: number): number => list.toSorted((a, b) => a - b)[Math.floor(list.length * share)]!;
    const told = (list: number[]): string => [0.25, 0.5, 0.75].map((share) => at(list, share).toFixed(2)).join(' / ');
    console.log(`${open().kind}: another guild's wheel ${told(times.there)} ms, a wheel that is not there ${told(times.missing)} ms (quartiles of ${times.there.length})`);
    expect(times.there.length).toBe(times.missing.length);
  });

  describe('what a key may do', () => {
    const keys = new Map<string, string>();
    beforeAll(async () => {
      const made = async (...scopes: ('read' | 'write' | 'admin')[]) => two.key('other-guild', ...scopes);
      const spoil = async (set: string): Promise<string> => {
        const key = await made('read', 'write', 'admin');
        await (open() as TestDatabase).client.query(`update keys set ${set} where prefix = $1`, [key.slice(0, 10)], 'objects');
        return key;
      };
      for (const [name, key] of [
        ['mistyped', (await made('admin')).replace(/.$/, (sign) => (sign === 'a' ? 'b' : 'a'))], ['unknown', makeKey()], ['none of ours', 'no-key-of-any-library'],
        ['expired', await spoil('expires_at = now() - interval \'1 second\'')], ['revoked', await spoil('revoked_at = now()')],
        ['read', await made('read')], ['write', await made('write')], ['admin', await made('admin')],
      ] as const) keys.set(name, key);
    });
    const bad = ['mistyped', 'unknown', 'none of ours', 'expired', 'revoked'];
    const reach: Record<string, readonly string[]> = { read: ['read', 'write', 'admin'], write: ['write', 'admin'], admin: ['admin'] };
    /** By the contract: reading needs read, what changes something write, guilds and keys admin. */
    const neededBy = (method: Method, operation: SpecOperation): string => (operation.tags[0] === 'Guilds' && operation.operationId !== 'readGuild' ? 'admin' : method === 'GET' ? 'read' : 'write');
    const keyed = operations.filter(({ operation, path }) => path.startsWith('/v1/') && operation.security.some((way) => 'guildKey' in way));

    it.each(keyed)('$name', async ({ path, method, operation }) => {
      const optional = operation.security.some((way) => !('guildKey' in way));
      const send = (key?: string): Promise<LightMyRequestResponse> => ask(method, path.replace(/\{(\w+)\}/g, (_, name: string) => (name === 'revision' ? '1' : 'nobody-zzzz')), { ...asking(path, method), ...(key === undefined ? {} : { key }) });
      for (const name of bad) {
        const reply = await send(keys.get(name));
        expect(problemIn(reply), `${name} key`).toMatchObject({ status: 401, type: '/problems/unauthorized' });
        expect(reply.headers['www-authenticate']).toContain('Bearer');
        expect(reply.body).not.toContain(keys.get(name)!.slice(0, 12));
      }
      const without = await send();
      if (optional) expect([401, 403]).not.toContain(without.statusCode);
      else expect(problemIn(without).type).toBe('/problems/unauthorized');
      const needed = neededBy(method, operation);
      for (const scope of ['read', 'write', 'admin']) {
        const reply = await send(keys.get(scope));
        if (optional || reach[needed]!.includes(scope)) expect([401, 403, 500], `${scope}: ${reply.body}`).not.toContain(reply.statusCode);
        else expect(problemIn(reply), `${scope} where ${needed} is needed`).toMatchObject({ status: 403, type: '/problems/forbidden' });
      }
    });
    it('is asked on more than ten routes', () => { expect(keyed.filter(({ operation }) => operation.security.length === 1).length).toBeGreaterThan(10); });
  });
});

/** Makes one of everything that a guild keeps: whatever is created by a POST of the specification, and a wheel of its own. */
async function fill(two: TwoGuilds, own: Map<string, string>): Promise<void> {
  const make = async (url: string, body: unknown): Promise<string> => {
    // A table is sent as it is, and is worked on after the reply.
    const reply = typeof body === 'string' ? await two.app.inject({ method: 'POST', url, headers: { authorization: `Bearer ${two.keys.admin}`, 'content-type': 'text/csv' }, payload: body }) : await two.ask('POST', url, { key: two.keys.admin, body });
    expect(reply.statusCode, `${url} ${reply.body}`).toBe(typeof body === 'string' ? 202 : 201);
    return reply.json<{ id: string }>().id;
  };
  own.set('wheels', await make('/v1/wheels', { ...profile, name: `${mark} wheel` }));
  own.set('keys', await make('/v1/guilds/thornmere-guild/keys', { label: `${mark} key`, scopes: ['read'] }));
  for (const path of named) {
    const collection = path.slice(0, path.lastIndexOf('/{'));
    const name = collectionOf(collection);
    if (own.has(name) || name === 'revisions' || !path.endsWith('}')) continue;
    const creates = spec.paths[collection]?.['post'];
    if (creates === undefined) throw new Error(`nothing makes what ${path} names`);
    own.set(name, await make(collection.replace('/v1/wheels/{id}', `/v1/wheels/${own.get('wheels')}`), bodyOf(creates)));
  }
}
