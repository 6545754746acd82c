/** Several estimates as one: χ² beside a library and a printed table, the mean beside its definition, outliers by law. */
import fc from 'fast-check';
import jstat from 'jstat';
import { describe, expect, it } from 'vitest';
import { chiSquareTail, combine } from '../../services/measurements/combine.js';
import { coastBearing, coastFit, coastTime } from '../../services/calculations/flyer/formula.js';

describe('χ²', () => {
  // Abramowitz & Stegun, Handbook of Mathematical Functions, Table 26.8: χ² that is exceeded with probability Q.
  it.each([[1, 0.05, 3.84146], [2, 0.05, 5.99147], [3, 0.05, 7.81473], [5, 0.05, 11.0705], [10, 0.05, 18.307], [30, 0.05, 43.7729], [1, 0.01, 6.6349], [4, 0.99, 0.29711]])('of %i degrees of freedom is exceeded with probability %f at %f', (freedom, q, chiSquare) => {
    expect(chiSquareTail({ chiSquare, freedom })).toBeCloseTo(q, 5);
  });
  it('is that of a library for statistics', () => {
    fc.assert(fc.property(fc.integer({ min: 1, max: 120 }), fc.double({ min: 0.01, max: 3, noNaN: true }), (freedom, times) => {
      const chiSquare = freedom * times;
      expect(Math.abs(chiSquareTail({ chiSquare, freedom }) - (1 - (jstat as unknown as { chisquare: { cdf(x: number, k: number): number } }).chisquare.cdf(chiSquare, freedom)))).toBeLessThan(1e-9);
    }), { numRuns: 500 });
  });
});

const est = (...list: [number, number][]) => list.map(([value, u], i) => ({ from: String(i), value, u }));
describe('estimates that are combined', () => {
  it('have the mean weighted by 1/u², and its u', () => {
    const c = combine(est([10, 1], [12, 2]));
    // (10/1 + 12/4)/(1 + 1/4), 1/√1.25, (0.4² + (1.6/2)²)
    expect([c.value, c.u, c.chiSquare, c.verdict]).toEqual([expect.closeTo(10.4, 12), expect.closeTo(Math.sqrt(0.8), 12), expect.closeTo(0.8, 12), 'agree']);
  });
  it('leave out the one that lies far from a majority, and name it', () => {
    const c = combine(est([60, 0.1], [60.1, 0.1], [59.9, 0.1], [66, 0.1]));
    expect([c.verdict, c.outliers, c.used.length]).toEqual(['left-out', ['3'], 3]);
    expect(c.value).toBeCloseTo(60, 10);
  });
  it('of two that differ neither is left out: the mean is less sure by the Birge ratio', () => {
    const c = combine(est([60, 0.1], [61, 0.1]));
    expect(c).toMatchObject({ verdict: 'disagree', outliers: [] });
    expect(c.birge).toBeCloseTo(Math.sqrt(50), 10);
    expect(c.u).toBeCloseTo((0.1 / Math.SQRT2) * Math.sqrt(50), 10);
  });
  it('do not depend on their order or unit, and are never less sure than the surest alone is wide', () => {
    const one = fc.record({ value: fc.double({ min: 50, max: 70, noNaN: true }), u: fc.double({ min: 0.05, max: 2, noNaN: true }) });
    fc.assert(fc.property(fc.array(one, { minLength: 1, maxLength: 8 }), fc.constantFrom(25.4, 1e-3, 7), (list, unit) => {
      const named = list.map((e, i) => ({ from: String(i), ...e }));
      const [a, b, c] = [combine(named), combine(named.toReversed()), combine(named.map((e) => ({ ...e, value: e.value * unit, u: e.u * unit })))];
      expect(b.value).toBeCloseTo(a.value, 9);
      expect(c.value / unit).toBeCloseTo(a.value, 9);
      expect(c.verdict).toBe(a.verdict);
      const values = named.map((e) => e.value);
      expect(a.value).toBeGreaterThanOrEqual(Math.min(...values) - 1e-9);
      expect(a.value).toBeLessThanOrEqual(Math.max(...values) + 1e-9);
      expect(a.used.length + (a.verdict === 'left-out' ? a.outliers.length : 0)).toBe(list.length);
    }), { numRuns: 400 });
  });
});

describe('drag by coast-down', () => {
  // Derived: I 2.2e-4 kg m², M₀ 1.2e-3 N m, c 4e-7 N m s², from 1000 a minute to half and to a tenth; times to 40 digits elsewhere.
  const [inertia, from] = [0.00022, 104.71975511965977];
  const runs = { first: { from, to: from / 2, time: 3.2736115671931745 }, second: { from, to: from / 10, time: 9.037205028831398 } };
  it('takes these times', () => {
    for (const { to, time } of Object.values(runs)) expect(coastTime({ inertia, bearing: 0.0012, air: 4e-7, from, to })).toBeCloseTo(time, 10);
  });
  it('is found again from them', () => {
    const { bearing, air } = coastFit({ inertia, ...runs });
    expect(Math.abs(bearing / 0.0012 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(air / 4e-7 - 1)).toBeLessThan(1e-9);
  });
  it('is found again from a coast that ends at a standstill', () => {
    // The same, to rest: I/√(M₀c) · atan(ω₀√(c/M₀)), to 40 digits elsewhere.
    const { bearing, air } = coastFit({ inertia, first: runs.first, second: { from, to: 0, time: 10.934174305735093 } });
    expect(Math.abs(bearing / 0.0012 - 1)).toBeLessThan(1e-9);
    expect(Math.abs(air / 4e-7 - 1)).toBeLessThan(1e-9);
  });
  it('without air is that of one run; from impossible times nothing is said', () => {
    const one = { from: 100, to: 50, time: 2 };
    expect(coastFit({ inertia, first: one, second: { from: 100, to: 20, time: 3.2 } }).bearing).toBeCloseTo(coastBearing({ inertia, ...one }), 12);
    expect(coastFit({ inertia, first: one, second: { from: 100, to: 20, time: 3 } }).bearing).toBeNaN();
  });
});
