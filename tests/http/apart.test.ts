/** Long questions are answered apart: with the same bytes, refused alike, and nobody waits for them. */
import { afterAll, beforeAll, describe, expect, it, vi } from 'vitest';
import type { FastifyInstance } from 'fastify';
import { calculations } from '../../services/calculations/index.js';
import { answerText } from '../../services/http/answers.js';
import { Apart, isLong, reckoned } from '../../services/http/apart.js';
import type { UnitChoice } from '../../services/foundation/quantity.js';
import { readUnitChoice } from '../../services/foundation/unit-choice.js';
import { openApp, problemIn } from '../support/http.js';
import { longest, wheelOf } from '../support/longest.js';

type Json = Record<string, unknown>;
const of = (id: string) => calculations.find((c) => c.id === id)!;
/** Questions of many pairs, each as its calculation takes it. */
const long: [string, Json][] = [['ratio', { wheel: wheelOf(20, 10) }], ['take-up', { wheel: wheelOf(6, 4) }], ['drive-band', { wheel: wheelOf(3, 2), axleDistance: '500 mm' }], ['tension', { wheel: wheelOf(3, 2) }]];

describe('what takes long', () => {
  let app: FastifyInstance;
  beforeAll(async () => { app = await openApp(); });
  afterAll(() => app.close());
  const post = (id: string, payload: unknown, units = 'metric') => app.inject({ method: 'POST', url: `/v1/${id}?units=${units}`, payload: payload as object });

  it.each(long)('%s is reckoned as long, and gets the bytes that it would get here', async (id, question) => {
    expect(isLong(id, question)).toBe(true);
    const reply = await post(id, question);
    expect(reply.statusCode, reply.body.slice(0, 300)).toBe(200);
    expect(reply.body).toBe(answerText(of(id), question, {}));
    const batch = await app.inject({ method: 'POST', url: '/v1/batch', payload: { questions: [{ id: 'a', calculation: id, question }, { id: 'b', calculation: id, question: of(id).contract.example }] } });
    expect(batch.body).toContain(reply.body);
    const wrong = await post(id, { ...question, zzUnknown: 1 });
    expect(problemIn(wrong).errors).toContainEqual(expect.objectContaining({ pointer: '/zzUnknown', code: 'unknown-field' }));
    expect((await post(id, question, 'imperial,length:ft')).body).toBe(answerText(of(id), question, { units: readUnitChoice('imperial,length:ft') as UnitChoice }));
  });

  it('a link of many whorls too, and its picture', async () => {
    const query = `driveWheel=560+mm&band=1-3+mm&bobbin=48-49+mm&${Array.from({ length: 8 }, (_, i) => `whorl=${50 + i}-${51 + i}+mm`).join('&')}&axleDistance=500+mm`;
    const reply = await app.inject(`/v1/drive-band?${query}`);
    expect(reply.statusCode, reply.body.slice(0, 300)).toBe(200);
    expect(reply.headers['etag']).toMatch(/^"/);
    expect((await app.inject(`/v1/drive-band.svg?${query}`)).body).toMatch(/^<svg/);
    const wrong = problemIn(await app.inject(`/v1/drive-band?${query}&zzUnknown=1`));
    expect(wrong.errors).toContainEqual(expect.objectContaining({ parameter: 'zzUnknown' }));
  });

  it('is asked apart by every door, pages and batches among them, and usual questions are not', async () => {
    const ask = vi.spyOn(Apart.prototype, 'ask').mockResolvedValue('{"result":{"pairs":[],"bobbins":[]},"assumptions":[],"warnings":[],"cautions":[],"sources":[]}');
    try {
      const doors = longest(calculations, 'none').filter(({ name }) => /24 whorls|of (8|16) × |of 40 × 1|in 1000 steps/.test(name) && !/^(ratio of|\/\S*ratio)/.test(name));
      expect(doors.length).toBeGreaterThan(15);
      for (const { name, sent } of doors) {
        ask.mockClear();
        await app.inject(sent);
        expect(ask.mock.calls.length, name).toBeGreaterThan(0);
      }
      ask.mockClear();
      for (const { id, contract } of calculations) {
        await app.inject(`/calculate/${id}?${contract.exampleQuery}`);
        await post(id, contract.example);
      }
      expect(ask.mock.calls.map(([long]) => [long.calculation, long.make])).toEqual([]);
    } finally {
      ask.mockRestore();
    }
  });

  it('is shown on a page as a short one is', async () => {
    const query = `driveWheel=560+mm&band=1-3+mm&bobbin=48-49+mm&${Array.from({ length: 8 }, (_, i) => `whorl=${50 + i}-${51 + i}+mm`).join('&')}&axleDistance=500+mm`;
    const page = await app.inject(`/calculate/drive-band?${query}`);
    expect(page.statusCode).toBe(200);
    expect(page.body).toContain('<svg');
    const { result } = (await app.inject(`/v1/drive-band?${query}`)).json<{ result: unknown }>();
    const texts = [...JSON.stringify(result).matchAll(/"text":"([^"]+)"/g)].map((found) => found[1]!.replaceAll('&', '&amp;'));
    expect(texts.length).toBeGreaterThan(5);
    expect(texts.filter((text) => page.body.replaceAll('\u00a0', ' ').includes(text)).length).toBeGreaterThan(5);
    const wrong = await app.inject(`/calculate/drive-band?${query}&zzUnknown=1`);
    expect(wrong.statusCode).toBe(400);
    expect(wrong.body).toContain('zzUnknown');
  });

  it('keeps nobody waiting: a short question asked after it is answered before it', async () => {
    const order: string[] = [];
    const slow = Promise.all(Array.from({ length: 3 }, () => post('take-up', { wheel: wheelOf(24, 24) }).then(() => order.push('long'))));
    await new Promise((resolve) => setTimeout(resolve, 5));
    await post('ratio', of('ratio').contract.example).then(() => order.push('short'));
    await slow;
    expect(order[0]).toBe('short');
  });

  it('usual questions are answered where they arrive', () => {
    for (const { id, contract } of calculations) expect([id, isLong(id, contract.example)]).toEqual([id, false]);
    expect(reckoned('ratio', undefined)).toBe(0);
    expect(reckoned('take-up', { wheel: { whorls: 5, bobbins: [null] }, steps: 1e9 })).toBeGreaterThan(0);
  });
});

describe('the threads', () => {
  it('end with what they serve, and take no more than may wait', async () => {
    const apart = new Apart(1);
    const question = { wheel: wheelOf(24, 24) };
    const asked = Array.from({ length: 80 }, () => apart.ask({ calculation: 'take-up', make: 'answer', question, options: {} }).then(() => 'done', (error: { code?: string }) => error.code ?? 'ended'));
    await new Promise((resolve) => setTimeout(resolve, 50));
    await apart.close();
    const outcomes = await Promise.race([Promise.all(asked), new Promise<string[]>((resolve) => setTimeout(() => resolve(['never']), 20_000))]);
    expect(outcomes).not.toContain('never');
    expect(outcomes.filter((outcome) => outcome === 'too-busy').length).toBeGreaterThan(10);
  }, 60_000);
});
