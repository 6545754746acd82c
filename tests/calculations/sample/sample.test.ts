/** Verdicts of a sample against a general-purpose statistics package and simulated spinning, laws of what to change, and clear refusals. */
import fc from 'fast-check';
import { jStat } from 'jstat';
import { describe, expect, it } from 'vitest';
import { measurementsToTell } from '../../../services/calculations/sample/formula.js';
import { sample } from '../../../services/calculations/index.js';
import type { SampleResult } from '../../../services/calculations/sample/answer.js';
import { ProblemError } from '../../../services/foundation/problems.js';

const ask = (question: unknown): SampleResult => sample.answer(question).result as SampleResult;
const size = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const valueOf = (w: unknown): number => (w as { value: number }).value;

describe('whether a difference is real', () => {
  it('is what the t-test of a statistics package says at 5 %', () => {
    fc.assert(fc.property(fc.array(size(40, 60), { minLength: 2, maxLength: 12 }), size(40, 60), (values, wanted) => {
      fc.pre(new Set(values).size > 1);
      const p = jStat.ttest(wanted, values, 2);
      fc.pre(Math.abs(p - 0.05) > 1e-6);
      const { differs } = ask({ skeins: values.map((v) => `${v} tex`), wantedGrist: `${wanted} tex` }).compared[0]!;
      expect(differs).toBe(p < 0.05 ? 'yes' : 'no');
    }), { numRuns: 400, seed: 6 });
  });

  it('is said of a yarn that is as wanted once in twenty times, by chance', () => {
    // A seeded normal generator (Box and Muller 1958): 4 000 samples of five from a yarn that is exactly as wanted.
    let state = 20_26;
    const uniform = (): number => { state = (state * 1_664_525 + 1_013_904_223) % 2 ** 32; return (state + 0.5) / 2 ** 32; };
    const normal = (): number => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform());
    let wrong = 0;
    const rounds = 4000;
    for (let i = 0; i < rounds; i++) {
      const skeins = Array.from({ length: 5 }, () => `${50 * (1 + 0.08 * normal())} tex`);
      if (ask({ skeins, wantedGrist: '50 tex' }).compared[0]!.differs === 'yes') wrong++;
    }
    // Five in a hundred, within four standard deviations of the count.
    expect(Math.abs(wrong / rounds - 0.05)).toBeLessThan(4 * Math.sqrt((0.05 * 0.95) / rounds));
  });

  it('and near enough agree: never near enough and differing by more than is allowed', () => {
    fc.assert(fc.property(fc.array(size(45, 55), { minLength: 3, maxLength: 8 }), fc.integer({ min: 1, max: 20 }), (values, within) => {
      fc.pre(new Set(values).size > 1);
      const c = ask({ skeins: values.map((v) => `${v} tex`), wantedGrist: '50 tex', within: `${within} %` }).compared[0]!;
      const off = Math.abs(valueOf(c.off));
      if (c.nearEnough === 'yes') expect(off).toBeLessThanOrEqual(within);
      if (c.nearEnough === 'no') { expect(off).toBeGreaterThan(within); expect(c.differs).toBe('yes'); }
    }), { numRuns: 300, seed: 7 });
  });
});

describe('how many measurements would tell', () => {
  it('is the least number whose t by the package is small enough', () => {
    fc.assert(fc.property(size(0.01, 0.3), size(0.02, 0.2), size(0, 0.02), (spread, gap, other) => {
      const n = measurementsToTell({ spread, gap, other });
      const half = (m: number): number => Math.hypot((jStat.studentt.inv(0.975, m - 1) * spread) / Math.sqrt(m), other);
      if (n === undefined) { expect(gap).toBeLessThanOrEqual(other * (1 + 1e-9)); return; }
      expect(half(n)).toBeLessThanOrEqual(gap * (1 + 1e-9));
      if (n > 2) expect(half(n - 1)).toBeGreaterThan(gap * (1 - 1e-9));
    }), { numRuns: 500, seed: 8 });
  });
  it('is never offered where the difference is told already', () => {
    const { compared: [c] } = ask({ skeins: ['60 tex', '61 tex', '60.5 tex', '60.2 tex'], wantedGrist: '50 tex' });
    expect(c).toMatchObject({ differs: 'yes' });
    expect(c!.measurementsMore).toBeUndefined();
  });
});

describe('what to change', () => {
  it('brings the twist there by any one of treadles, draw and ratio', () => {
    fc.assert(fc.property(size(2, 20), size(2, 20), size(4, 20), size(1, 10), size(1, 12), (twist, wanted, ratio, treadles, draw) => {
      fc.pre(Math.abs(twist / wanted - 1) > 0.01);
      const { toChange } = ask({ twistCounts: [`${twist} turns/in`], wantedTwist: `${wanted} turns/in`, ratio, treadles, draftLength: `${draw} in` });
      const perLength = (i: number, n: number, l: number): number => (i * n) / l;
      const before = perLength(ratio, treadles, draw * 25.4);
      for (const after of [perLength(valueOf(toChange!.ratio), treadles, draw * 25.4), perLength(ratio, valueOf(toChange!.treadles), draw * 25.4), perLength(ratio, treadles, valueOf(toChange!.draftLength))]) {
        expect(after / before / (wanted / twist)).toBeCloseTo(1, 10);
      }
    }), { numRuns: 200, seed: 9 });
  });
  it('is nothing while the measurements do not tell the yarn from what is wanted', () => {
    expect(ask({ skeins: ['50 tex', '53 tex', '49 tex'], wantedGrist: '50 tex' }).toChange).toBeUndefined();
    expect(ask({ skeins: ['50 tex ± 1 tex'], wantedGrist: '51 tex', within: '10 %' }).toChange).toBeUndefined();
  });
  it('keeps the angle of the yarn where no twist is asked for', () => {
    const reply = sample.answer({ grist: '100 tex ± 1 tex', wantedGrist: '50 tex', twistCounts: ['400 turns/m'] });
    const { toChange } = reply.result as SampleResult;
    // D goes with the root of the grist, and D T stays.
    expect(valueOf(toChange!.twist) * Math.sqrt(50)).toBeCloseTo(400 * Math.sqrt(100), 6);
    expect(reply.assumptions.map((a) => a.code)).toContain('twist-for-the-same-angle');
  });
});

describe('what is missing or wrong is named', () => {
  const issues = (question: unknown): string[] => {
    try { sample.answer(question); } catch (error) { if (error instanceof ProblemError) return error.issues.map((i) => `${i.pointer} ${i.code}`); }
    return [];
  };
  it.each([
    [{}, '/wantedGrist missing-field'], [{ wantedGrist: '50 tex' }, '/skeins missing-field'], [{ wantedTwist: '8 tpi', grist: '50 tex' }, '/twistCounts missing-field'], [{ grist: '50 tex' }, '/wantedGrist missing-field'],
    [{ grist: '50 tex', wantedWraps: '12 wpi' }, '/wrapping missing-field'], [{ grist: '50 tex', wantedGrist: '50 tex', wantedState: 'washed' }, '/state missing-field'], [{ twistCounts: ['8 tpi', '0 tpi'], wantedTwist: '8 tpi' }, '/twistCounts/1 out-of-range'],
    [{ twistCounts: [], wantedTwist: '8 tpi' }, '/twistCounts/0 missing-field'], [{ skeins: ['20 yd/0 g'], wantedGrist: '50 tex' }, '/skeins/0'], [{ bumps: 20, wantedTwist: '8 tpi' }, '/bumpsOver missing-field'], [{ grist: '50 tex', wantedGrist: '50' }, '/wantedGrist missing-unit'],
    [{ grist: '50 tex', skeins: ['50 tex'], wantedGrist: '50 tex' }, ' one-of'], [{ twistCounts: ['8 tpi'], wantedTwist: '9 tpi', otherRatios: ['9:1'] }, '/ratio missing-field'], [{ grist: '50 tex', wantedGrist: '50 tex', within: '0 %' }, '/within out-of-range'],
  ])('%j', (question, issue) => { expect(issues(question).some((i) => i.startsWith(issue)), issues(question).join()).toBe(true); });
});
