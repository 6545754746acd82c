/** oEmbed of wheels: the shape is that of https://oembed.com, section 2.3.4.4 (rich). */
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { ProblemError } from '../../services/foundation/problems.js';
import { wheels } from '../../services/wheels/thornmere.js';
import { pagesApp } from '../support/browser.js';

let app: FastifyInstance;
const asked: string[] = [];
beforeAll(() => {
  app = pagesApp({
    find: (id) => { asked.push(id); const profile = id === 'bare "one"' ? { name: 'Bare <one>' } : wheels[id]; return profile === undefined ? Promise.reject(new ProblemError('wheel-not-found')) : Promise.resolve({ id, profile }); },
    list: () => Promise.resolve({ items: [] }),
  });
});
afterAll(() => app.close());
const get = (query: Record<string, string>) => app.inject({ url: `/oembed?${new URLSearchParams(query)}`, headers: { host: 'wheels.example' } });
const sheet = 'http://wheels.example/wheels/thornmere-4';

it('the sheet of a wheel names it, and what it names answers', async () => {
  const page = await app.inject({ url: '/wheels/thornmere-4', headers: { host: 'wheels.example' } });
  const link = /<link rel="alternate" type="application\/json\+oembed" href="([^"]+)"/.exec(page.body)![1]!.replaceAll('&amp;', '&');
  const reply = await app.inject({ url: link, headers: { host: 'wheels.example' } });
  expect(reply.statusCode).toBe(200);
  const body = reply.json<Record<string, unknown>>();
  expect(body).toMatchObject({ type: 'rich', version: '1.0', title: 'Thornmere 4', provider_name: 'Wheelgrist', provider_url: 'http://wheels.example' });
  expect(body['html']).toContain(`<a href="${sheet}">`);
  expect(body['html']).toContain(`width="${body['width']}" height="${body['height']}"`);
  expect(String(body['html'])).not.toMatch(/<script|\son\w+=|javascript:/);
  expect((await app.inject({ url: link, headers: { host: 'wheels.example', 'if-none-match': String(reply.headers.etag) } })).statusCode).toBe(304);
});
it('keeps to the room that is given, in proportion', async () => {
  const whole = (await get({ url: sheet })).json<{ width: number; height: number }>();
  for (const room of [{ maxwidth: '200' }, { maxheight: '90' }, { maxwidth: '50', maxheight: '1000' }] as Record<string, string>[]) {
    const { width, height } = (await get({ url: sheet, ...room })).json<{ width: number; height: number }>();
    expect(width).toBeLessThanOrEqual(Number(room['maxwidth'] ?? Infinity));
    expect(height).toBeLessThanOrEqual(Number(room['maxheight'] ?? Infinity));
    expect(Math.abs(width / height - whole.width / whole.height)).toBeLessThan(0.05);
  }
  expect((await get({ url: sheet, maxwidth: '99999' })).json()).toMatchObject(whole);
});
it('a wheel without measures is a link, its name kept from being markup', async () => {
  const { html } = (await get({ url: 'http://wheels.example/wheels/bare%20%22one%22' })).json<{ html: string }>();
  expect(html).toContain('/wheels/bare%20%22one%22');
  expect(html).not.toContain('<one>');
});
it.each(['http://elsewhere.example/wheels/thornmere-4', 'https://wheels.example/wheels/thornmere-4', 'http://wheels.example:81/wheels/thornmere-4', 'http://a:b@wheels.example/wheels/thornmere-4', 'http://wheels.example/v1/wheels/thornmere-4', 'http://wheels.example/', 'file:///etc/passwd', '//elsewhere.example/wheels/thornmere-4', 'http://169.254.169.254/wheels/x', 'thornmere-4', 'http://wheels.example/wheels/%ff'])('%s is not an address of ours: 404, and nothing is looked for', async (url) => {
  const before = asked.length;
  const reply = await get({ url });
  expect(reply.statusCode).toBe(404);
  expect(reply.json()).toMatchObject({ type: '/problems/not-found', errors: [{ parameter: 'url' }] });
  expect(asked.length).toBe(before);
});
it.each<[Record<string, string>, number, string]>([
  [{ url: 'http://wheels.example/wheels/none' }, 404, 'wheel-not-found'], [{ url: sheet, format: 'xml' }, 501, 'format-not-made'], [{}, 422, 'missing-field'],
  [{ url: sheet, maxwidth: '0' }, 422, 'out-of-range'], [{ url: sheet, maxheight: '1e3' }, 422, 'out-of-range'], [{ url: sheet, maxwith: '3' }, 400, 'unknown-field'],
])('%j is %i %s', async (query, status, code) => {
  const reply = await get(query);
  expect(reply.statusCode).toBe(status);
  expect(reply.json<{ type: string }>().type).toBe(`/problems/${code}`);
});
