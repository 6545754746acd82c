/** One question, many doors, one answer: and what is wrong is named by the words of the door. */
import type { FastifyInstance } from 'fastify';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { openApp, problemIn } from '../support/http.js';

let app: FastifyInstance;
beforeAll(async () => { app = await openApp(); });
afterAll(() => app.close());

const length = fc.tuple(fc.integer({ min: 20, max: 900 }), fc.constantFrom(' mm', 'mm', ' mm ± 1 mm', '/-1 mm', ' in', ' cm')).map(([n, unit]) => `${n / (unit === ' in' ? 20 : unit === ' cm' ? 10 : 1)}${unit}`);
const link = fc.record({
  driveWheel: length, whorl: fc.array(length, { minLength: 1, maxLength: 4 }), bobbin: fc.array(length, { maxLength: 3 }), band: fc.option(fc.constantFrom('2 mm', '1-3 mm', 'about 2 mm'), { nil: undefined }),
  treadling: fc.option(fc.constantFrom('60/min', '50-70/min'), { nil: undefined }), wanted: fc.array(fc.constantFrom('9:1', '12.5'), { maxLength: 2 }), units: fc.constantFrom(undefined, 'metric', 'imperial', 'metric,part:cm'),
});
const queryOf = (values: object): string => {
  const query = new URLSearchParams();
  for (const [name, value] of Object.entries(values)) for (const one of [value].flat()) if (one !== undefined) query.append(name, String(one));
  return query.toString();
};

it('link, JSON, batch and the function itself give the same bytes', async () => {
  const [ratio] = calculations;
  await fc.assert(fc.asyncProperty(link, async (values) => {
    const { units, ...flat } = values;
    const byLink = await app.inject(`/v1/ratio?${queryOf(values)}`);
    const lists = Object.fromEntries(Object.entries(flat).filter(([, v]) => v !== undefined && (!Array.isArray(v) || v.length > 0)).map(([k, v]) => [k, [v].flat() as string[]]));
    const { question } = ratio!.fields.toQuestion(lists);
    const byJson = await app.inject({ method: 'POST', url: `/v1/ratio${units === undefined ? '' : `?units=${encodeURIComponent(units)}`}`, payload: question });
    expect(byJson.statusCode).toBe(byLink.statusCode);
    const batch = await app.inject({ method: 'POST', url: '/v1/batch', payload: { questions: [{ id: 'a', calculation: 'ratio', question, ...(units === undefined ? {} : { units }) }] } });
    if (byLink.statusCode !== 200) {
      expect((batch.json() as { items: { status: number }[] }).items[0]!.status).toBe(byLink.statusCode);
      return;
    }
    expect(byJson.body).toBe(byLink.body);
    expect(batch.body).toBe(`{"items":[{"id":"a","calculation":"ratio","status":200,"body":${byLink.body}}]}`);
  }), { numRuns: 150 });
});

describe.each(calculations.map((calculation) => [calculation.id, calculation] as const))('%s', (id, calculation) => {
  it('its examples ask the same by link and by JSON', async () => {
    const [get, post] = [await app.inject(`/v1/${id}?${calculation.contract.exampleQuery}`), await app.inject({ method: 'POST', url: `/v1/${id}`, payload: calculation.contract.example as object })];
    expect([get.statusCode, post.statusCode]).toEqual([200, 200]);
    for (const reply of [get, post]) expect(reply.json()).toMatchObject({ model: calculation.model });
  });
  it('a misspelt parameter is refused with the link mended, and the mended link answers', async () => {
    const names = [...new URLSearchParams(calculation.contract.exampleQuery).keys()];
    for (const name of names) {
      const query = calculation.contract.exampleQuery.replace(new RegExp(`(^|&)${name}=`), `$1${name.slice(0, 1)}${name.slice(2)}=`);
      const reply = await app.inject(`/v1/${id}?${query}`);
      expect(reply.statusCode).toBe(400);
      const issue = problemIn(reply).errors![0]!;
      expect(issue).toMatchObject({ code: 'unknown-field', expected: name });
      expect((await app.inject(issue.try!)).statusCode).toBe(200);
    }
  });
  it('a parameter given twice that is taken once is refused', async () => {
    const once = calculation.fields.list.find((f) => f.repeats !== true && calculation.contract.exampleQuery.includes(`${f.name}=`))!;
    const value = new URLSearchParams(calculation.contract.exampleQuery).get(once.name)!;
    const reply = await app.inject(`/v1/${id}?${calculation.contract.exampleQuery}&${once.name}=${encodeURIComponent(value)}`);
    expect(problemIn(reply).errors).toMatchObject([{ parameter: once.name, code: 'repeated-field' }]);
  });
  it('unknown units and a strictness that is neither are refused by name', async () => {
    for (const [option, name] of [['units=imperal', 'units'], ['units=twist:furlong', 'units'], ['units=metric,imperial', 'units'], ['strict=1', 'strict']] as const) {
      for (const request of [`/v1/${id}?${calculation.contract.exampleQuery}&${option}`, { method: 'POST' as const, url: `/v1/${id}?${option}`, payload: calculation.contract.example as object }]) {
        const problem = problemIn(await app.inject(request as string));
        expect(problem.errors![0]!.parameter).toBe(name);
      }
    }
  });
});

describe('what is wrong in a link', () => {
  it('names every parameter at once and offers one link in which all is mended', async () => {
    const reply = await app.inject('/v1/ratio?driveWheel=560&whorl=60&whorl=45mm&whorl=30&band=2');
    const problem = problemIn(reply);
    expect(problem.status).toBe(422);
    expect(problem.errors!.map((e) => e.parameter).toSorted()).toEqual(['band', 'driveWheel', 'whorl', 'whorl']);
    const links = new Set(problem.errors!.map((e) => e.try));
    expect(links).toEqual(new Set(['/v1/ratio?driveWheel=560+mm&whorl=60+mm&whorl=45mm&whorl=30+mm&band=2+mm']));
    expect((await app.inject([...links][0]!)).statusCode).toBe(200);
  });
  it('a bad pointer of JSON stays a pointer', async () => {
    const problem = problemIn(await app.inject({ method: 'POST', url: '/v1/ratio', payload: { wheel: { driveWeel: { grooveDiameter: '560 mm' }, whorls: [{ grooveDiameter: null }] } } }));
    expect(problem.errors!.map((e) => e.pointer)).toEqual(expect.arrayContaining(['/wheel/driveWeel', '/wheel/whorls/0/grooveDiameter']));
  });
});

describe('a batch', () => {
  const good = { calculation: 'ratio', question: { wheel: { driveWheel: { grooveDiameter: '560 mm' }, whorls: [{ grooveDiameter: '60 mm' }] } } };
  const post = (payload: object) => app.inject({ method: 'POST', url: '/v1/batch', payload });
  it('answers or refuses each by itself, keeping order and ids', async () => {
    const reply = await post({ questions: [{ id: 'a', ...good }, { calculation: 'ratoi', question: {} }, { id: 'c', calculation: 'ratio', question: {} }, 7, { id: 'e', ...good, units: 'imperial', strict: true }] });
    expect(reply.statusCode).toBe(200);
    const { items } = reply.json() as { items: { id?: string; status: number; body: { type?: string; errors?: { pointer: string; try?: string }[] } }[] };
    expect(items.map((i) => [i.id, i.status])).toEqual([['a', 200], [undefined, 400], ['c', 422], [undefined, 400], ['e', 422]]);
    expect(items[1]!.body.errors![0]).toMatchObject({ pointer: '/calculation', try: 'ratio' });
    expect(items[4]!.body.type).toBe('/problems/strict-warning');
  });
  it('takes a thousand, and not one more', async () => {
    const reply = await post({ questions: Array.from({ length: 1000 }, (_, i) => ({ id: String(i), ...good })) });
    const { items } = reply.json() as { items: { id: string; status: number }[] };
    expect(items.map((i) => i.id)).toEqual(Array.from({ length: 1000 }, (_, i) => String(i)));
    expect(items.every((i) => i.status === 200)).toBe(true);
    expect(problemIn(await post({ questions: Array.from({ length: 1001 }, () => good) })).type).toBe('/problems/too-many');
  });
  it.each([[[]], [{}], [{ questions: {} }], [{ questions: [], more: 1 }]])('refuses %j', async (payload) => { problemIn(await post(payload)); });
});
