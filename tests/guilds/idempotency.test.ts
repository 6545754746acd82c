/** The same request sent again gets the same reply, and makes nothing twice. */
import { randomUUID } from 'node:crypto';
import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { idempotency } from '../../db/schema/index.js';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

await describeOnBoth('a POST with an Idempotency-Key', (open) => {
  let two: TwoGuilds;
  beforeAll(async () => { two = await twoGuilds(open()); });
  afterAll(() => two?.app.close());
  const post = (name: string, body: unknown = profile, key = two.keys.own, url = '/v1/wheels'): Promise<LightMyRequestResponse> => two.ask('POST', url, { key, body, headers: { 'idempotency-key': name } });
  const count = async (name: string): Promise<number> => ((await open().client.query('select id from wheels where name = $1', [name], 'objects'))).length;
  // What is left of the guild's minute is another each time.
  const whole = ({ statusCode, body, headers: { date: _, 'request-id': __, ratelimit: ___, ...headers } }: LightMyRequestResponse) => ({ statusCode, body, headers });

  it('is answered with the same status, headers and body, however often it is sent', async () => {
    const [name, body] = [randomUUID(), { ...profile, name: 'Once' }];
    const first = await post(name, body);
    expect(first.statusCode).toBe(201);
    for (let i = 0; i < 3; i++) expect(whole(await post(name, body))).toEqual(whole(first));
    expect(await count('Once')).toBe(1);
    // Also after the thing itself was changed.
    const { id } = first.json<{ id: string }>();
    await two.ask('DELETE', `/v1/wheels/${id}`, { key: two.keys.own, headers: { 'if-match': String(first.headers.etag) } });
    expect(whole(await post(name, body))).toEqual(whole(first));
  });

  it('is refused with another body or address', async () => {
    const name = randomUUID();
    expect((await post(name, { ...profile, name: 'Mine' })).statusCode).toBe(201);
    expect(problemIn(await post(name, { ...profile, name: 'Another' }))).toMatchObject({ status: 422, type: '/problems/idempotency-key-reused' });
    expect(await count('Another')).toBe(0);
  });

  it('is each key\'s own', async () => {
    const [name, body] = [randomUUID(), { ...profile, name: 'Shared name' }];
    const ids = new Set<string>();
    for (const key of [two.keys.own, two.keys.other, two.keys.admin]) ids.add((await post(name, body, key)).json<{ id: string }>().id);
    expect(ids.size).toBe(3);
  });

  it('is answered once while it is being worked on: whoever comes between gets 409', async () => {
    const statuses: number[] = [];
    for (let round = 0; round < 5; round++) {
      const [name, body] = [randomUUID(), { ...profile, name: `Race ${round}` }];
      const replies = await Promise.all(Array.from({ length: 6 }, () => post(name, body)));
      const made = replies.filter((reply) => reply.statusCode === 201);
      expect(new Set(made.map((reply) => reply.body)).size).toBe(1);
      for (const reply of replies.filter((r) => r.statusCode !== 201)) {
        expect(problemIn(reply).type).toBe('/problems/request-in-flight');
        expect(reply.headers['retry-after']).toBe('1');
      }
      expect(await count(`Race ${round}`)).toBe(1);
      statuses.push(...replies.map((reply) => reply.statusCode));
    }
    expect(statuses.filter((status) => status === 409).length).toBeGreaterThan(0);
  });

  it('may be mended after it was refused: a refusal makes nothing and is not kept', async () => {
    const name = randomUUID();
    expect(problemIn(await post(name, { ...profile, driveWheel: {} })).status).toBe(422);
    expect((await post(name, { ...profile, name: 'Mended' })).statusCode).toBe(201);
  });

  it('is new again when what was kept has expired', async () => {
    const [name, body] = [randomUUID(), { ...profile, name: 'Expired' }];
    const first = await post(name, body);
    await open().client.query('update idempotency set expires_at = now() - interval \'1 second\'', [], 'objects');
    const second = await post(name, body);
    expect(second.statusCode).toBe(201);
    expect(second.body).not.toBe(first.body);
    expect(await count('Expired')).toBe(2);
    expect(whole(await post(name, body))).toEqual(whole(second));
    await open().database.ask('keeper', (db) => db.delete(idempotency).returning({ id: idempotency.id }));
    expect(whole(await post(name, body))).toEqual(whole(second));
  });

  it.each([['empty', ''], ['too long', 'x'.repeat(201)], ['not ASCII', 'fähre']])('is refused when its name is %s', async (_what, name) => {
    expect(problemIn(await post(name)).errors).toMatchObject([{ parameter: 'Idempotency-Key' }]);
  });

  it('keeps nothing that can be read without the key', async () => {
    await post(randomUUID(), { ...profile, name: 'Sealed loft wheel' });
    const rows = JSON.stringify(await open().client.query('select * from idempotency', [], 'objects'));
    expect(rows.length).toBeGreaterThan(200);
    expect(rows).not.toContain('Sealed');
    for (const key of Object.values(two.keys)) expect(rows).not.toContain(key);
  });
});
