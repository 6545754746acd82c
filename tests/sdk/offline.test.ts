/** The answers without a network are those of the service: the same numbers, the same words, the same refusals. */
import { readFileSync } from 'node:fs';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inFull } from '../../sdk/generate/spec.js';
import { Wheelgrist } from '../../sdk/src/node.js';
import { ProblemReply } from '../../sdk/src/index.js';
import * as offline from '../../sdk/src/offline.js';
import { calculations } from '../../services/calculations/index.js';
import { spoilt, valid, type Spec } from '../contract/requests.js';
import { listen, openApp } from '../support/http.js';

const spec = inFull(JSON.parse(readFileSync(new URL('../../sdk/openapi.json', import.meta.url), 'utf8')) as Spec);
const camel = (id: string): string => id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
/** What names wheels that only the service has, and what asks for them at any depth. */
const fromLibrary = new Set(['wheelId', 'wheelIds', 'library']);
const asksLibrary = (q: object): boolean => /"(?:wheelIds?|library|cardId)":/.test(JSON.stringify(q));
/** Those whose answer takes long. */
const slow = new Set(['setups', 'tension', 'draft-cycle']);
type Asked = (question: unknown, args?: unknown) => unknown;
let app: Awaited<ReturnType<typeof openApp>>;
let wheelgrist: Wheelgrist;
beforeAll(async () => {
  app = await openApp();
  wheelgrist = new Wheelgrist({ baseUrl: `http://127.0.0.1:${await listen(app)}` });
});
afterAll(async () => {
  await wheelgrist.close();
  await app.close();
});

const by = (holder: unknown, name: string): Asked => {
  const found = (holder as Record<string, unknown>)[name];
  if (typeof found !== 'function') throw new Error(`there is no ${name}`);
  return (found as Asked).bind(holder);
};
/** Numbers within 1e-13 of each other, everything else the same. */
function same(a: unknown, b: unknown, at = ''): void {
  if (typeof a === 'number' && typeof b === 'number') {
    if (Math.abs(a - b) > 1e-13 * Math.max(Math.abs(a), Math.abs(b))) throw new Error(`${at}: ${a} and ${b}`);
  } else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) {
    const keys = Object.keys(a);
    expect(Object.keys(b), at).toEqual(keys);
    for (const key of keys) same((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], `${at}/${key}`);
  } else expect(a, at).toBe(b);
}
/** The answer, or what the refusal says of the question itself: not where and when it was asked, nor the mended link. */
async function outcome(ask: () => unknown): Promise<unknown> {
  try {
    return { answer: await ask() };
  } catch (error) {
    if (!(error instanceof ProblemReply)) throw error;
    const { instance: _, requestId: __, errors, ...problem } = error.problem;
    return { problem, code: error.code, errors: (errors ?? []).map(({ try: ___, ...rest }) => rest) };
  }
}

describe.each(calculations)('$id', (calculation) => {
  const name = camel(calculation.id);
  const { example, exampleQuery } = calculation.contract;
  const link = (): Record<string, string[]> => {
    const args: Record<string, string[]> = {};
    for (const [key, value] of new URLSearchParams(exampleQuery)) (args[key] ??= []).push(value);
    return args;
  };
  it('answers its example alike, as a question, as a link, and in other units', async () => {
    for (const args of [{}, { units: 'imperial' }, { units: 'metric,part:cm' }]) {
      const there = await by(wheelgrist, name)(example, args);
      same(by(offline, name)(example, args), there);
      same(by(offline, `${name}ByLink`)({ ...link(), ...args }), await by(wheelgrist, `${name}ByLink`)({ ...link(), ...args }));
      expect(Object.keys((there as { result: object }).result).length).toBeGreaterThan(0);
    }
  });
  it('refuses alike', async () => {
    for (const args of [{ units: 'cubits' }, { strict: true }]) expect(await outcome(() => by(offline, name)(example, args))).toEqual(await outcome(() => by(wheelgrist, name)(example, args)));
    for (const args of [{}, { unit: 'metric' }, { units: 'cubits' }, { ...link(), driveWeel: '560mm' }]) {
      const here = await outcome(() => by(offline, `${name}ByLink`)(args));
      expect(here).toHaveProperty('problem');
      expect(here).toEqual(await outcome(() => by(wheelgrist, `${name}ByLink`)(args)));
    }
  });
  if (calculation.picture !== undefined) it('draws alike', async () => {
    expect(by(offline, `${name}Picture`)(link())).toBe(await by(wheelgrist, `${name}Picture`)(link()));
  });
  it('does with any question what the service does', async () => {
    const question = valid(spec, { $ref: `#/components/schemas/${name[0]!.toUpperCase()}${name.slice(1)}Question` }).map((q) => Object.fromEntries(Object.entries(q as object).filter(([key]) => !fromLibrary.has(key))));
    const seen = { answered: 0, refused: 0 };
    await fc.assert(fc.asyncProperty(fc.oneof(fc.constant(example), question, question.chain(spoilt), fc.constant(example).chain(spoilt)), async (q) => {
      fc.pre(typeof q === 'object' && q !== null && !Array.isArray(q) && !asksLibrary(q) && !JSON.stringify(q).includes('__proto__'));
      const here = await outcome(() => by(offline, name)(JSON.parse(JSON.stringify(q))));
      same(here, await outcome(() => by(wheelgrist, name)(q)));
      seen['answer' in (here as object) ? 'answered' : 'refused']++;
    }), { numRuns: slow.has(calculation.id) ? 30 : 100, seed: 7 });
    expect(Math.min(seen.answered, seen.refused)).toBeGreaterThan(3);
  });
});
