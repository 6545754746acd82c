/** Entity tags, 304, HEAD, and who may keep what. */
import pack from '../../package.json' with { type: 'json' };
import type { FastifyInstance } from 'fastify';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { etagOf, tagMatches } from '../../services/http/etag.js';
import { openApp } from '../support/http.js';

let app: FastifyInstance;
beforeAll(async () => { app = await openApp(); });
afterAll(() => app.close());

const cacheable = ['/v1/ratio?driveWheel=560mm&whorl=60mm', '/v1/units', '/v1/sources', '/v1/models', '/v1/yarn-numbers', '/v1/fibres', '/v1/regains', '/v1/wool-grades', '/v1/yarn-categories', '/v1/wrap-factors', '/v1/twist-ranges', '/v1/twist-classes', '/changes.json', '/openapi.json', '/.well-known/security.txt'];

describe.each(cacheable)('%s', (url) => {
  it('has a strong tag, the hash of its body, and may be kept by anybody', async () => {
    const reply = await app.inject(url);
    expect(reply.statusCode).toBe(200);
    expect(reply.headers['etag']).toMatch(/^"[\w-]{20,}"$/);
    expect(reply.headers['etag']).toBe(etagOf(reply.body));
    expect(reply.headers['cache-control']).toMatch(/^public, max-age=\d+$/);
  });
  it('answers 304 without a body to whoever has it, with tag and caching', async () => {
    const { etag } = (await app.inject(url)).headers;
    for (const known of [etag, `W/${etag}`, `"other", ${etag}`, '*']) {
      const reply = await app.inject({ url, headers: { 'if-none-match': String(known) } });
      expect(reply.statusCode).toBe(304);
      expect(reply.body).toBe('');
      expect(reply.headers['etag']).toBe(etag);
      expect(reply.headers['cache-control']).toMatch(/^public/);
    }
    expect((await app.inject({ url, headers: { 'if-none-match': '"other"' } })).statusCode).toBe(200);
  });
  it('has the same headers for HEAD, and no body', async () => {
    const [get, head] = [await app.inject(url), await app.inject({ method: 'HEAD', url })];
    const own = ({ 'request-id': _, date: __, ...rest }: Record<string, unknown>): Record<string, unknown> => rest;
    expect(head.statusCode).toBe(200);
    expect(own(head.headers)).toEqual(own(get.headers));
    expect(head.body).toBe('');
  });
});

describe('tags', () => {
  it('differ where bodies differ', async () => {
    const tags = await Promise.all(['60mm', '61mm', '60mm&units=imperial'].map(async (whorl) => (await app.inject(`/v1/ratio?driveWheel=560mm&wanted=9:1&whorl=${whorl}`)).headers['etag']));
    expect(new Set(tags).size).toBe(3);
  });
  it('match by weak comparison in any list, and strongly only when strong', () => {
    fc.assert(fc.property(fc.array(fc.stringMatching(/^[\x23-\x7e]{1,12}$/), { minLength: 1, maxLength: 5 }), fc.nat(), fc.boolean(), (tags, at, weak) => {
      const chosen = `"${tags[at % tags.length]}"`;
      const header = tags.map((tag) => `${weak ? 'W/' : ''}"${tag}"`).join(' , ');
      expect(tagMatches(header, chosen)).toBe(true);
      expect(tagMatches(header, chosen, true)).toBe(!weak);
      expect(tagMatches(header, '"\u00a7 none of them"')).toBe(false);
    }));
    for (const junk of ['', ',,,', 'W/', '"', 'abc', `${'"a'.repeat(5000)}`]) expect(tagMatches(junk, '"b"')).toBe(false);
  });
});

it('answers by POST, problems and health carry no tag', async () => {
  const post = await app.inject({ method: 'POST', url: '/v1/ratio', payload: { wheel: { driveWheel: { grooveDiameter: '560 mm' }, whorls: [{ grooveDiameter: '60 mm' }] } } });
  expect(post.statusCode).toBe(200);
  for (const reply of [post, await app.inject('/v1/ratio'), await app.inject('/health/live')]) expect(reply.headers['etag']).toBeUndefined();
  expect((await app.inject('/v1/ratio')).headers['cache-control']).toBe('no-store');
});

it('security.txt is as RFC 9116 asks: a contact, and an expiry within the year to come', async () => {
  const reply = await app.inject('/.well-known/security.txt');
  expect(reply.headers['content-type']).toBe('text/plain; charset=utf-8');
  expect(reply.body).toMatch(/^Contact: (mailto:|https:\/\/)/m);
  const expires = Date.parse(/^Expires: (.+)$/m.exec(reply.body)![1]!) - Date.now();
  expect(expires).toBeGreaterThan(30 * 86_400_000);
  expect(expires).toBeLessThan(365 * 86_400_000);
});

it('every release is listed with its day and what changed, this one first', async () => {
  const { items } = (await app.inject('/changes.json')).json<{ items: { version: string; date: string; changes: string[] }[] }>();
  expect(items[0]!.version).toBe(pack.version);
  for (const { version, date, changes } of items) expect([version, Date.parse(date) > 0, changes.length > 0]).toEqual([version, true, true]);
  expect(new Set(items.map((item) => item.version)).size).toBe(items.length);
});
