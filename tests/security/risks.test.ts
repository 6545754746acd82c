/**
 * The ten risks of the OWASP API Security Top 10, edition of 2023, each with what shows that it is kept off here. Some are
 * shown at length elsewhere; what stands here is the short form that is run over every address of the specification.
 */
import { readFileSync } from 'node:fs';
import { Writable } from 'node:stream';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { libraryOver } from '../../services/library.js';
import { guildStore } from '../../services/guilds/store.js';
import { describeOnBoth } from '../support/db.js';
import { leaks, openApp } from '../support/http.js';
import { profile, twoGuilds, type Method, type TwoGuilds } from '../support/shelf.js';
import { code, importsOf, text } from '../support/tree.js';
import { inFull } from '../../sdk/generate/spec.js';
import committed from '../../sdk/openapi.json' with { type: 'json' };
import type { Spec } from '../contract/requests.js';

const spec = inFull(committed as unknown as Spec);
const operations = Object.entries(spec.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ method: method.toUpperCase() as Method, path, operation })));
const needsKey = (operation: { security: object[] }): boolean => operation.security.length === 1 && Object.keys(operation.security[0]!).length > 0;

await describeOnBoth('the ten risks', (open) => {
  let two: TwoGuilds;
  const mine = { id: '', etag: '' };
  beforeAll(async () => {
    two = await twoGuilds(open());
    const made = await two.ask('POST', '/v1/wheels', { key: two.keys.own, body: profile });
    mine.id = made.json<{ id: string }>().id;
    mine.etag = String(made.headers.etag);
  });
  afterAll(() => two?.app.close());
  /** The address with a thing that is there, or is not. */
  const at = (path: string, id: string): string => path.replace('{id}', id).replace(/\{\w+\}/g, '1');

  it('1, object level: another guild\'s wheel is not there, whatever is asked of it', async () => {
    const byId = operations.filter(({ path }) => path.startsWith('/v1/wheels/{id}'));
    expect(byId.length).toBeGreaterThan(5);
    for (const { method, path, operation } of byId) {
      const example = Object.values(operation.requestBody?.content ?? {})[0]?.example;
      const ask = (id: string) => two.ask(method, at(path, id), { key: two.keys.other, ...(example === undefined ? {} : { body: example }), headers: { 'if-match': mine.etag, ...(method === 'PATCH' ? { 'content-type': 'application/merge-patch+json' } : {}) } });
      const [there, missing] = [await ask(mine.id), await ask('wheel-zzzzzzzzzzzz')];
      expect([method, path, there.statusCode]).toEqual([method, path, missing.statusCode]);
      expect(there.statusCode).toBeGreaterThanOrEqual(400);
      expect(there.body).not.toContain('Mill Lane');
    }
  });

  it('2, authentication: where a key is needed, none, a made-up one, a mistyped one and another scheme are 401', async () => {
    const kept = operations.filter(({ operation }) => needsKey(operation));
    expect(kept.length).toBeGreaterThan(3);
    for (const { method, path } of kept) {
      const mistyped = `${two.keys.own.slice(0, -1)}${two.keys.own.endsWith('0') ? '1' : '0'}`;
      for (const authorization of [undefined, 'Bearer wgk_nothing', `Bearer ${mistyped}`, 'Basic dXNlcjpwYXNz', `Bearer ${two.keys.own} x`]) {
        const reply = await two.app.inject({ method, url: at(path, mine.id), headers: authorization === undefined ? {} : { authorization } });
        expect([method, path, authorization, reply.statusCode]).toEqual([method, path, authorization, 401]);
        expect(reply.headers['www-authenticate']).toMatch(/^Bearer/);
      }
    }
  });

  it('3, properties: what the library keeps for itself cannot be written, and is not told', async () => {
    for (const key of ['id', 'guild', 'guildId', 'revision', 'createdAt', 'retiredAt', 'hash']) {
      const reply = await two.ask('POST', '/v1/wheels', { key: two.keys.own, body: { ...profile, [key]: 'x' } });
      expect([key, reply.statusCode]).toEqual([key, 400]);
    }
    const read = await two.ask('GET', `/v1/wheels/${mine.id}`, { key: two.keys.own });
    expect(read.body).not.toMatch(/hash|sealed|wgk_/);
  });

  it('4, resources: bodies, nesting, lists and addresses have their limits', async () => {
    const deep = `${'['.repeat(40)}1${']'.repeat(40)}`;
    const ask = (payload: string) => two.app.inject({ method: 'POST', url: '/v1/ratio', headers: { 'content-type': 'application/json' }, payload });
    expect((await ask('x'.repeat(1_100_000))).statusCode).toBe(413);
    expect((await ask(`{"wheel":${deep}}`)).statusCode).toBe(400);
    expect((await two.app.inject({ url: `/v1/ratio?driveWheel=${'5'.repeat(9000)}` })).statusCode).toBe(414);
    expect((await two.ask('POST', '/v1/batch', { body: { questions: Array.from({ length: 1001 }, () => ({})) } })).statusCode).toBe(422);
    expect((await two.ask('GET', '/v1/wheels?limit=101')).statusCode).toBe(422);
  });

  it('5, functions: a key that may only read changes nothing anywhere', async () => {
    const writes = operations.filter(({ method, path, operation }) => method !== 'GET' && needsKey(operation) && path.startsWith('/v1/'));
    for (const { method, path } of writes) {
      const reply = await two.ask(method, at(path, mine.id), { key: two.keys.reader, body: profile, headers: { 'if-match': mine.etag } });
      expect([method, path, [400, 403, 404, 415].includes(reply.statusCode), reply.statusCode]).toEqual([method, path, true, reply.statusCode]);
    }
    const still = await two.ask('GET', `/v1/wheels/${mine.id}`, { key: two.keys.own });
    expect(still.headers.etag).toBe(mine.etag);
  });

  it('6, business flows: changes by a guild are counted and limited', async () => {
    const app = await openApp({ library: (await libraryOver(open().database)).library, config: { version: '0', limits: { writes: 1, keyless: 0 } } });
    await guildStore(open().database).addGuild('flow-guild', 'Flow Guild');
    const key = await guildStore(open().database).addKey('flow-guild', 'test', ['write']);
    const statuses: number[] = [];
    // Two minutes at most may be touched.
    for (let i = 0; i < 3; i++) statuses.push((await app.inject({ method: 'POST', url: '/v1/wheels', headers: { authorization: `Bearer ${key}` }, payload: profile })).statusCode);
    expect(statuses).toContain(429);
    await app.close();
  });

  it('8, configuration: every reply has the headers that it should, and none tells what we are made of', async () => {
    for (const url of ['/v1/ratio', '/nowhere', '/', '/v1/wheels', '/health/live', '/openapi.json', '/calculate/ratio']) {
      const { headers } = await two.app.inject(url);
      expect(headers['x-content-type-options']).toBe('nosniff');
      expect(headers['referrer-policy']).toBe('no-referrer');
      for (const name of ['server', 'x-powered-by']) expect(headers[name]).toBeUndefined();
      if (String(headers['content-type']).startsWith('text/html')) {
        expect(headers['content-security-policy']).toMatch(/default-src 'none'.*frame-ancestors/);
        expect(headers['content-security-policy']).not.toMatch(/unsafe|\*/);
      }
    }
    expect((await two.app.inject({ url: '/v1/ratio', headers: { origin: 'https://elsewhere.example' } })).headers['access-control-allow-credentials']).toBeUndefined();
  });

  it('9, inventory: nothing answers that the specification does not have, in any writing of its name', async () => {
    for (const url of ['/v0/ratio', '/v2/ratio', '/admin', '/debug', '/v1/', '/v1/guild', '/.env', '/.git/config', '/v1/wheels/../../etc/passwd', '/assets/../package.json', '/embeds/..%2f..%2fpackage.json', '/docs/static/..%2f..%2fpackage.json', '/api', '/graphql', '/server-status']) {
      const reply = await two.app.inject(url);
      expect([url, reply.statusCode >= 400]).toEqual([url, true]);
      expect(reply.body).not.toMatch(/"dependencies"|root:x/);
    }
  });

  it('keys stand in no log and no reply', async () => {
    let log = '';
    const stream = new Writable({ write(chunk: Buffer, _, done) { log += chunk.toString(); done(); } });
    const app = await openApp({ library: (await libraryOver(open().database)).library, logger: { level: 'trace', stream } });
    const authorization = `Bearer ${two.keys.own}`;
    for (const [method, url, payload] of [['GET', '/v1/wheels', undefined], ['POST', '/v1/wheels', { bad: true }], ['POST', '/v1/wheels', { ...profile, name: 'x\r\n{"level":60}' }], ['PATCH', `/v1/wheels/${mine.id}`, {}], ['GET', `/v1/wheels/${two.keys.own}`, undefined], ['GET', '/nowhere%0d%0aforged', undefined]] as const) {
      const reply = await app.inject({ method, url, headers: { authorization, 'idempotency-key': 'a b' }, ...(payload === undefined ? {} : { payload }) });
      if (!url.includes(two.keys.own)) expect(reply.body).not.toContain(two.keys.own);
      expect(reply.body).not.toMatch(leaks);
    }
    await app.close();
    expect(log).not.toContain(two.keys.own);
    for (const line of log.split('\n').filter((l) => l !== '')) expect(JSON.parse(line)).toMatchObject({ level: expect.any(Number) as number });
  });
});

it('7, addresses: nothing that the service takes makes it fetch an address', () => {
  const own = code.filter((file) => /^(?:services|db)\/.*\.ts$/.test(file));
  expect(own.length).toBeGreaterThan(60);
  const reaching = own.flatMap((file) => importsOf(file).filter((i) => /^(?:node:)?(?:https?|http2|net|tls|dgram|dns|undici|postgres|child_process)$/.test(i.to) && !i.typeOnly).map((i) => `${file} ${i.to}`));
  // The database alone is reached, at the address of the settings; node:net tells whether a setting is an address, and
  // node:http what a request that came over a socket is.
  expect(reaching.toSorted()).toEqual(['db/server.ts postgres', 'services/config.ts node:net', 'services/http/slow-bodies.ts node:http']);
  for (const file of own) expect([file, /\bfetch\(|new WebSocket|XMLHttpRequest/.test(text(file).replace(/\/\*[\s\S]*?\*\//g, '').replace(/`[^`]*`/g, ''))]).toEqual([file, false]);
});

it('10, other services: none is called; each package that is is exact, and stands in DEVELOPERS.md with its reason', () => {
  const pack = JSON.parse(readFileSync('package.json', 'utf8')) as { dependencies: Record<string, string>; devDependencies: Record<string, string> };
  const said = readFileSync('DEVELOPERS.md', 'utf8');
  const all = Object.entries({ ...pack.dependencies, ...pack.devDependencies });
  expect(all.length).toBeGreaterThan(20);
  expect(all.filter(([, version]) => !/^(?:npm:[a-z-]+@)?\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  expect(all.filter(([name]) => !said.includes(`| \`${name}\` |`)).map(([name]) => name), 'a line in “Packages, and why”').toEqual([]);
});

it('nothing that is sent becomes part of every object', async () => {
  const app = await openApp();
  const bodies = ['{"__proto__":{"polluted":1}}', '{"constructor":{"prototype":{"polluted":1}}}', '{"wheel":{"__proto__":{"polluted":1},"whorls":[{"__proto__":{"polluted":1}}]}}'];
  for (const url of ['/v1/ratio', '/v1/batch', '/v1/grist', '/v1/plan']) {
    for (const payload of bodies) expect((await app.inject({ method: 'POST', url, headers: { 'content-type': 'application/json' }, payload })).statusCode).toBeLessThan(500);
  }
  for (const query of ['__proto__=1', '__proto__[polluted]=1', 'constructor=1', 'constructor.prototype.polluted=1', 'toString=1', 'hasOwnProperty=1']) expect((await app.inject(`/v1/ratio?${query}`)).statusCode).toBe(400);
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  await app.close();
});
