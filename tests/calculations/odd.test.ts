/** A hundred thousand odd questions: each is answered in finite numbers or refused as a problem, never anything else. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import type { Field } from '../../services/foundation/fields.js';
import { catalogue, ProblemError } from '../../services/foundation/problems.js';
import { kinds } from '../../services/foundation/quantity.js';
import { badNumber } from '../support/ask.js';
import { seeded } from '../support/random.js';

const typed = (JSON.parse(readFileSync(new URL('../foundation/strings.json', import.meta.url), 'utf8')) as { text: string }[]).map((r) => r.text);
const odd = ['0', '-0', '1e-300', '1e300', '1e400', '-1', '0.0000001', '99999999', '1e-15', '1e12', 'Infinity', 'NaN', '', ' ', 'null', '0/1', '1/0', '0-0', '1-1', '5-5', '±', '1 ± 0', '1 ± 1e9', '0 ± 1', '1e15', '1:1e9', '1e9:1', '1:1', '0.001', '10000', 'about', '10 ± 10'];
const raw: unknown[] = [null, true, false, 0, -0, -1, 1, 1e308, 5e-324, Number.MAX_SAFE_INTEGER, 'x', [], {}, [[]], { value: 1 }, { value: 0, unit: 'mm' }, { value: -0, unit: 'mm' }, { low: 0, unit: 'mm' }, { low: 0, high: 0, unit: 'mm' }, { low: 2, high: 1, unit: 'mm' },
  { value: 1, unit: 'mm', plusMinus: 1e300 }, { value: 1e-300, unit: 'mm' }, { value: 1, unit: 'mm', limits: 0 }, { value: 1, unit: 'mm', plusMinus: -1 }, { unit: 'mm' }, { high: 1e300, unit: 'yd/lb' }, { low: 1e-300, unit: 'tex' }, { value: 1, unit: '' }, { value: 1, unit: 5 }, { __proto__: null, value: 1 }];
/** A hundred thousand in all; fewer of those that take long. */
const slow: Readonly<Record<string, number>> = { tension: 3000, 'drive-band': 9000, plan: 6000, ply: 6000, setups: 2000, 'draft-cycle': 1500, diagnosis: 3000, sample: 4000 };
const quick = calculations.filter((c) => slow[c.id] === undefined).length;
const runsOf = (id: string): number => slow[id] ?? Math.ceil((100_000 - Object.values(slow).reduce((a, b) => a + b, 0)) / quick);
type Random = ReturnType<typeof seeded>;
const pick = <T>(r: Random, list: readonly T[]): T => list[Math.floor(r.uniform() * list.length)]!;

/** A value that a person or a machine might send for this field: sensible, sensible with a width, or odd. */
function text(field: Field, r: Random): string {
  const way = r.uniform();
  if (way < 0.12) return pick(r, typed);
  if (way < 0.2) return pick(r, odd);
  if (field.choices !== undefined) return way < 0.25 ? 'neither' : pick(r, field.choices).value;
  const number = Number((10 ** r.between(-2, 3.5)).toPrecision(3));
  const unit = field.kind in kinds ? pick(r, kinds[field.kind as keyof typeof kinds].units).name : '';
  if (way < 0.3) return `${number}-${number * 1.5} ${unit}`;
  if (way < 0.4) return `${number} ± ${number / 10} ${unit}`;
  if (way < 0.45) return `${pick(r, ['over ', 'under ', 'about '])}${number} ${unit}`;
  if (way < 0.47) return `${number}`;
  return field.kind in kinds ? `${kinds[field.kind as keyof typeof kinds].example.replace(/^[\d.]+/, String(number))}` : String(number);
}
/** Somewhere in the question, something that does not belong. */
function spoil(value: unknown, r: Random): unknown {
  if (typeof value !== 'object' || value === null || r.uniform() < 0.3) return pick(r, raw);
  const copy = (Array.isArray(value) ? [...value] : { ...value }) as Record<string, unknown>;
  const key = pick(r, Object.keys(copy));
  if (key === undefined) return pick(r, raw);
  copy[key] = spoil(copy[key], r);
  return copy;
}

describe.each(calculations.map((c) => [c.id, c] as const))('%s', (_, calculation) => {
  it('answers in finite numbers, or with a problem that names its place', () => {
    const r = seeded(calculation.id.length * 7919);
    const runs = runsOf(calculation.id);
    let [answered, refused] = [0, 0];
    for (let n = 0; n < runs; n++) {
      const flat: Record<string, string[]> = {};
      const often = r.between(0.05, 0.5);
      for (const [key, value] of new URLSearchParams(calculation.contract.exampleQuery)) if (r.uniform() < 0.85) (flat[key] ??= []).push(value);
      for (const field of calculation.fields.list) if (r.uniform() < often * 0.3) flat[field.name] = Array.from({ length: field.repeats === true && r.uniform() < 0.3 ? 2 : 1 }, () => text(field, r));
      // The series is checked elsewhere; here it would only take time.
      if (flat['steps'] !== undefined && r.uniform() < 0.9) flat['steps'] = ['2'];
      let { question } = calculation.fields.toQuestion(flat) as { question: unknown };
      if (r.uniform() < 0.25) question = spoil(question, r);
      try {
        const reply = calculation.answer(question);
        const bad = badNumber(reply);
        if (bad !== undefined) throw new Error(`${bad}, for ${JSON.stringify(question)}`);
        answered++;
      } catch (error) {
        if (!(error instanceof ProblemError)) throw new Error(`${(error as Error).message}, for ${JSON.stringify(question)}`, { cause: error });
        const document = error.document();
        if (error.status >= 500 || document.errors === undefined || document.errors.some((e) => e.pointer === undefined || !(e.code in catalogue) || e.detail === '')) throw new Error(`${JSON.stringify(document)}, for ${JSON.stringify(question)}`, { cause: error });
        refused++;
      }
    }
    // Both must happen often, or nothing was tried.
    expect(answered).toBeGreaterThan(runs / 20);
    expect(refused).toBeGreaterThan(runs / 20);
  });
  if (calculation.picture !== undefined) {
    it('draws without a number that is not one', () => {
      const r = seeded(calculation.id.length * 104729);
      let drawn = 0;
      for (let n = 0; n < 150; n++) {
        const flat: Record<string, string[]> = {};
        for (const [key, value] of new URLSearchParams(calculation.contract.exampleQuery)) (flat[key] ??= []).push(value);
        for (const field of calculation.fields.list) if (r.uniform() < 0.06) flat[field.name] = [text(field, r)];
        if (flat['steps'] !== undefined) flat['steps'] = ['5'];
        try {
          const svg = calculation.picture!(calculation.fields.toQuestion(flat).question);
          if (/NaN|Infinity|undefined|null/.test(svg)) throw new Error(`${/.{60}(?:NaN|Infinity|undefined|null).{20}/.exec(svg)?.[0]}, for ${JSON.stringify(flat)}`);
          drawn++;
        } catch (error) {
          if (!(error instanceof ProblemError)) throw error;
        }
      }
      expect(drawn).toBeGreaterThan(20);
    });
  }
});
