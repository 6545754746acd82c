/**
 * Student's t against the printed table of JCGM 100:2008 (table G.2), against the closed forms for whole degrees of freedom
 * (Abramowitz & Stegun, 26.7.3 and 26.7.4) in 50 digits, and against a general statistics package.
 */
import { Decimal } from 'decimal.js';
import { jStat } from 'jstat';
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { meanAndDeviation, studentT } from '../../services/foundation/student.js';

// Columns are the shares of the head, rows are ν; printed to two places, from 100 on to three.
const head = [0.6827, 0.9, 0.95, 0.9545, 0.99, 0.9973];
const table: readonly (readonly [number, ...number[]])[] = [
  [1, 1.84, 6.31, 12.71, 13.97, 63.66, 235.8], [2, 1.32, 2.92, 4.3, 4.53, 9.92, 19.21], [3, 1.2, 2.35, 3.18, 3.31, 5.84, 9.22], [4, 1.14, 2.13, 2.78, 2.87, 4.6, 6.62],
  [5, 1.11, 2.02, 2.57, 2.65, 4.03, 5.51], [10, 1.05, 1.81, 2.23, 2.28, 3.17, 3.96], [20, 1.03, 1.72, 2.09, 2.13, 2.85, 3.42], [50, 1.01, 1.68, 2.01, 2.05, 2.68, 3.16],
  [100, 1.005, 1.66, 1.984, 2.025, 2.626, 3.077], [Infinity, 1, 1.645, 1.96, 2, 2.576, 3],
];

const D = Decimal.clone({ precision: 50 });
const PI = D.acos(-1);
/** P(|T| ≤ t), exact for whole ν. */
function within(t: number, nu: number): Decimal {
  const s = new D(t).div(new D(nu).sqrt());
  const cos2 = D.div(1, s.pow(2).plus(1));
  const sin = s.times(cos2.sqrt());
  let [term, sum] = [new D(1), new D(0)];
  if (nu % 2 === 0) {
    for (let k = 0; k < nu / 2; k++) { sum = sum.plus(term); term = term.times(cos2).times(2 * k + 1).div(2 * k + 2); }
    return sin.times(sum);
  }
  for (let k = 0; k < (nu - 1) / 2; k++) { sum = sum.plus(term); term = term.times(cos2).times(2 * k + 2).div(2 * k + 3); }
  return D.atan(s).plus(sin.times(cos2.sqrt()).times(sum)).times(2).div(PI);
}
const density = (t: number, nu: number): number => within(t * (1 + 1e-9), nu).minus(within(t * (1 - 1e-9), nu)).div(2e-9 * t).toNumber();

describe('Student’s t', () => {
  it('is as printed in the table of the guide', () => {
    for (const [nu, ...printed] of table) {
      for (const [i, t] of printed.entries()) {
        // The head rounds two of its shares, which shows where t is large.
        const slack = (head[i] === 0.6827 || head[i] === 0.9545 || head[i] === 0.9973 ? 2e-4 : 0) * t;
        expect(Math.abs(studentT(head[i]!, nu) - t), `${nu} ${head[i]}`).toBeLessThanOrEqual((nu < 100 ? 0.005 : 0.0005) + slack + 1e-9);
      }
    }
  });
  it('is the closed form in 50 digits, to 1e-10, near the middle and far out', () => {
    for (const nu of [1, 2, 3, 4, 5, 7, 9, 10, 19, 24, 49, 50, 51, 99, 100, 999, 1000]) {
      for (const p of [1e-4, 0.05, 0.3, 0.5, 0.501, 0.6827, 0.9, 0.95, 0.99, 0.999]) {
        const t = studentT(p, nu);
        expect(Math.abs(within(t, nu).minus(p).toNumber()) / (t * density(t, nu)), `${p} ${nu}`).toBeLessThan(1e-10);
      }
    }
  });
  it('agrees with a general statistics package to 1e-7, its own tolerance', () => {
    fc.assert(fc.property(fc.double({ min: 0.01, max: 0.9999, noNaN: true }), fc.double({ min: 0.5, max: 500, noNaN: true }), (p, nu) => {
      expect(Math.abs(studentT(p, nu) / jStat.studentt.inv((1 + p) / 2, nu) - 1)).toBeLessThan(1e-7);
    }), { numRuns: 2000, seed: 40 });
  });
  it('widens with the share and narrows with the degrees of freedom, down to the normal distribution', () => {
    fc.assert(fc.property(fc.double({ min: 0.001, max: 0.99, noNaN: true }), fc.double({ min: 0.2, max: 2e6, noNaN: true }), fc.double({ min: 1.001, max: 5, noNaN: true }), (p, nu, more) => {
      const t = studentT(p, nu);
      expect(studentT(1 - (1 - p) / more, nu)).toBeGreaterThan(t);
      expect(studentT(p, nu * more)).toBeLessThan(t * (1 + 1e-12));
      expect(studentT(p, Infinity)).toBeLessThan(t * (1 + 1e-10));
    }), { numRuns: 2000, seed: 41 });
    // Abramowitz & Stegun, table 26.5: x for Q = 0.025 and 0.005.
    expect(Math.abs(studentT(0.95, Infinity) / 1.95996_39845 - 1)).toBeLessThan(1e-10);
    expect(Math.abs(studentT(0.99, Infinity) / 2.57582_93035 - 1)).toBeLessThan(1e-10);
  });
  it('refuses what is no share and no number of degrees of freedom', () => {
    for (const [p, nu] of [[0, 5], [1, 5], [-0.1, 5], [Number.NaN, 5], [0.95, 0], [0.95, -1], [0.95, Number.NaN]] as const) expect(() => studentT(p, nu)).toThrow(RangeError);
  });
});

it('mean and standard deviation are those of a statistics package', () => {
  fc.assert(fc.property(fc.array(fc.double({ min: -1e3, max: 1e3, noNaN: true }), { minLength: 2, maxLength: 30 }), (values) => {
    const ours = meanAndDeviation(values);
    expect(ours.mean).toBeCloseTo(jStat.mean(values), 9);
    expect(ours.deviation).toBeCloseTo(jStat.stdev(values, true), 9);
  }));
});
