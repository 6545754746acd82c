/** The same wheel by its id and as it is written out: the same bytes by every door; public and guild wheels kept apart. */
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { problemIn } from '../support/http.js';
import { openWhole } from '../support/whole.js';

let app: FastifyInstance;
let key: string;
let close: () => Promise<void>;
let wheels: { id: string; effective: Record<string, unknown> }[];
beforeAll(async () => {
  ({ app, key, close } = await openWhole());
  const { items } = (await app.inject('/v1/wheels?limit=100')).json<{ items: { id: string }[] }>();
  wheels = await Promise.all(items.map(async ({ id }) => (await app.inject(`/v1/wheels/${id}`)).json<(typeof wheels)[number]>()));
});
afterAll(() => close());

it('every wheel of the demo guild gives the same ratios by id, by wheelId, in a batch and written out', async () => {
  expect(wheels.length).toBeGreaterThanOrEqual(12);
  let answered = 0;
  for (const { id, effective } of wheels) {
    const byId = await app.inject(`/v1/wheels/${id}/ratio?treadling=60/min`);
    const post = (question: object) => app.inject({ method: 'POST', url: '/v1/ratio', payload: { ...question, treadling: '60/min' } });
    const [named, whole] = [await post({ wheelId: id }), await post({ wheel: effective })];
    expect([named.statusCode, whole.statusCode]).toEqual([byId.statusCode, byId.statusCode]);
    if (byId.statusCode !== 200) { problemIn(byId); continue; }
    answered++;
    expect(named.body).toBe(byId.body);
    expect(whole.body).toBe(byId.body);
    const batch = await app.inject({ method: 'POST', url: '/v1/batch', payload: { questions: [{ calculation: 'ratio', question: { wheelId: id, treadling: '60/min' } }] } });
    expect(batch.body).toBe(`{"items":[{"calculation":"ratio","status":200,"body":${byId.body}}]}`);
  }
  expect(answered).toBeGreaterThanOrEqual(12);
});

it('a picture by id is an SVG that anybody may keep for a while and must ask for again', async () => {
  const reply = await app.inject(`/v1/wheels/${wheels[0]!.id}/ratio.svg`);
  expect(reply.statusCode).toBe(200);
  expect(reply.headers['content-type']).toBe('image/svg+xml; charset=utf-8');
  expect(reply.headers['cache-control']).toBe('public, no-cache');
  expect((await app.inject({ url: `/v1/wheels/${wheels[0]!.id}/ratio.svg`, headers: { 'if-none-match': String(reply.headers['etag']) } })).statusCode).toBe(304);
});

describe('a guild’s own wheel', () => {
  const authorization = (): { authorization: string } => ({ authorization: `Bearer ${key}` });
  it('is answered to the guild alone, and kept by nobody between', async () => {
    const profile = { name: 'Thornmere loft', driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }], visibility: 'guild' };
    const { id } = (await app.inject({ method: 'POST', url: '/v1/wheels', headers: authorization(), payload: profile })).json<{ id: string }>();
    const own = await app.inject({ url: `/v1/wheels/${id}/ratio`, headers: authorization() });
    expect(own.statusCode).toBe(200);
    expect(own.headers['cache-control']).toMatch(/^private/);
    for (const request of [`/v1/wheels/${id}/ratio`, { method: 'POST' as const, url: '/v1/ratio', payload: { wheelId: id } }]) expect(problemIn(await app.inject(request as string)).type).toBe('/problems/wheel-not-found');
    expect(own.body).not.toContain(key);
  });
  it('a key that does not work is refused, not ignored', async () => {
    expect(problemIn(await app.inject({ url: `/v1/wheels/${wheels[0]!.id}/ratio`, headers: { authorization: 'Bearer wgk_none' } })).type).toBe('/problems/unauthorized');
  });
});

it('wheel and wheelId together, and a wheelId that is no text, are refused by pointer', async () => {
  for (const question of [{ wheelId: 'x', wheel: {} }, { wheelId: 7 }]) {
    expect(problemIn(await app.inject({ method: 'POST', url: '/v1/ratio', payload: question })).errors).toMatchObject([{ pointer: '/wheelId' }]);
  }
});

it('calculations answer, and the library says 503 with Retry-After, while there is none', async () => {
  const { openApp } = await import('../support/http.js');
  const alone = await openApp();
  for (const { id, contract } of calculations) expect((await alone.inject(`/v1/${id}?${contract.exampleQuery}`)).statusCode).toBe(200);
  for (const url of ['/v1/wheels', '/v1/wheels/x', '/v1/wheels/x/ratio', '/health/ready']) {
    const reply = await alone.inject(url);
    expect(problemIn(reply).type).toBe('/problems/library-unavailable');
    expect(Number(reply.headers['retry-after'])).toBeGreaterThan(0);
  }
  expect((await alone.inject('/health/live')).statusCode).toBe(200);
  await alone.close();
});
