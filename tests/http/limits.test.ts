/** Limits of requests: what the headers say is what holds, and what the specification says; shared between processes. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { FastifyInstance } from 'fastify';
import { guildStore } from '../../services/guilds/store.js';
import { Meter } from '../../services/http/limits.js';
import { libraryOver } from '../../services/library.js';
import { describeOnBoth } from '../support/db.js';
import { openApp, problemIn } from '../support/http.js';

/** An item of a structured list (RFC 9651): a quoted name with whole-number parameters. */
const item = (text: unknown): { name: string; [parameter: string]: string | number } => {
  const found = /^"([a-z-]+)"((?:;[a-z]+=\d+)+)$/.exec(String(text));
  if (found === null) throw new Error(`no structured item: ${String(text)}`);
  return { name: found[1]!, ...Object.fromEntries(found[2]!.slice(1).split(';').map((p) => [p.split('=')[0]!, Number(p.split('=')[1])])) };
};
const wheel = { name: 'Mill Lane', driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }] };

describe('a meter', () => {
  it('gives exactly its quota in a minute, and all of it again in the next', () => {
    const meter = new Meter(3);
    expect([1, 2, 3, 4].map(() => meter.take('a', 59_999))).toEqual([2, 1, 0, undefined]);
    expect(meter.take('b', 59_999)).toBe(2);
    expect(meter.take('a', 60_000)).toBe(2);
  });
  it('knows what others took as soon as it is told, and what could not be told stays counted', async () => {
    let others = 0;
    let away = false;
    const meter = new Meter(100, (_, __, count) => (away ? Promise.reject(new Error('away')) : Promise.resolve(others += count)));
    expect(meter.take('a', 0)).toBe(99);
    others += 50;
    await Promise.resolve();
    meter.take('a', 600);
    await new Promise((resolve) => setImmediate(resolve));
    expect(meter.take('a', 601)).toBe(100 - 50 - 3);
    away = true;
    meter.take('a', 1200);
    await new Promise((resolve) => setImmediate(resolve));
    expect(meter.take('a', 1201)).toBe(100 - 50 - 5);
    away = false;
    meter.take('a', 2000);
    await new Promise((resolve) => setImmediate(resolve));
    expect(others).toBe(50 + 6);
  });
});

await describeOnBoth('changes by a guild', (open) => {
  const apps: FastifyInstance[] = [];
  const keys: string[] = [];
  beforeAll(async () => {
    const { database } = open();
    const guilds = guildStore(database);
    await guilds.addGuild('loft', 'Loft Guild');
    await guilds.addGuild('ferry', 'Ferry Guild');
    for (const guild of ['loft', 'loft', 'ferry']) keys.push(await guilds.addKey(guild, 'test', ['write']));
    // Two services over one library.
    for (let i = 0; i < 2; i++) apps.push(await openApp({ library: (await libraryOver(database)).library, config: { version: '0', limits: { writes: 8, keyless: 0 } } }));
  });
  afterAll(async () => { for (const app of apps) await app.close(); });
  const post = (app: number, key: number, payload: unknown = wheel) => apps[app]!.inject({ method: 'POST', url: '/v1/wheels', headers: { authorization: `Bearer ${keys[key]}`, 'content-type': 'application/json' }, payload: JSON.stringify(payload) });

  it('are counted for all of its keys and on all machines, and refused beyond what the headers promise', async () => {
    // Not across the end of a minute, where all begins anew.
    if (Date.now() % 60_000 > 45_000) await new Promise((resolve) => setTimeout(resolve, 60_500 - (Date.now() % 60_000)));
    const first = await post(0, 0);
    expect(first.statusCode).toBe(201);
    expect(item(first.headers['ratelimit-policy'])).toEqual({ name: 'writes', q: 8, w: 60 });
    expect(item(first.headers['ratelimit'])).toMatchObject({ name: 'writes', r: 7 });
    expect((await post(0, 1, { nothing: true })).statusCode).toBe(400); // a refused one counts too
    for (let i = 0; i < 3; i++) expect((await post(0, i % 2)).statusCode).toBe(201);
    await new Promise((resolve) => setTimeout(resolve, 600));
    expect(item((await post(0, 0)).headers['ratelimit'])).toMatchObject({ r: 2 });
    await new Promise((resolve) => setTimeout(resolve, 100));
    // The other machine asks once without knowing, and from then on knows.
    expect((await post(1, 0)).statusCode).toBe(201);
    await vi.waitFor(async () => {
      const reply = await post(1, 0);
      expect(reply.statusCode).toBe(429);
      expect(problemIn(reply).type).toBe('/problems/too-many-requests');
      expect(item(reply.headers['ratelimit'])).toMatchObject({ r: 0 });
      expect(Number(reply.headers['retry-after'])).toBeGreaterThanOrEqual(Number(item(reply.headers['ratelimit'])['t']));
      expect(Number(reply.headers['retry-after'])).toBeLessThanOrEqual(60);
    }, { timeout: 5000, interval: 50 });
    expect((await post(1, 2)).statusCode).toBe(201); // another guild's are its own
    const read = await apps[1]!.inject({ url: '/v1/wheels', headers: { authorization: `Bearer ${keys[0]}` } });
    expect([read.statusCode, read.headers['ratelimit']]).toEqual([200, undefined]);
  }, 90_000);
});

describe('requests without a key', () => {
  it('are counted by address where a limit is set, behind a proxy by whom it names', async () => {
    const app = await openApp({ config: { version: '0', limits: { writes: 0, keyless: 2 }, trustedProxies: '127.0.0.1' } });
    const ask = (from?: string) => app.inject({ url: '/v1/ratio?driveWheel=520mm&whorl=40mm&band=2mm', ...(from === undefined ? {} : { headers: { 'x-forwarded-for': from } }) });
    const replies = [await ask('192.0.2.1'), await ask('192.0.2.1'), await ask('192.0.2.1'), await ask('192.0.2.2')];
    // A minute may have ended in between; then one more is needed.
    if (replies[2]!.statusCode === 200) replies[2] = await ask('192.0.2.1');
    expect(replies.map((reply) => reply.statusCode)).toEqual([200, 200, 429, 200]);
    expect((await app.inject({ url: '/health/live' })).statusCode).toBe(200);
    await app.close();
  });
  it('are not limited otherwise, and nothing is said of a limit', async () => {
    const app = await openApp();
    const reply = await app.inject({ url: '/v1/ratio?driveWheel=520mm&whorl=40mm&band=2mm', headers: { 'x-forwarded-for': '192.0.2.1' } });
    expect([reply.statusCode, reply.headers['ratelimit'], reply.headers['ratelimit-policy']]).toEqual([200, undefined, undefined]);
    await app.close();
  });
});
