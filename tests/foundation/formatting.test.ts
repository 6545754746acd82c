/** How numbers are said: as far as they are known, never further, and in the units that people use. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findUnit, kindNames, kinds, metric, type Kind } from '../../services/foundation/quantity.js';
import { roundedBy, wire, withPlusMinus, type Reading } from '../../services/foundation/reading.js';

const imperial = { system: 'imperial' } as const;

describe('a number of which no uncertainty is known', () => {
  it.each([
    [9.0645161, '9.06'], [9.996, '10'], [0.0045, '0.0045'], [150.36, '150'], [1503.6, '1500'], [99.96, '100'], [2 / 3, '0.667'], [1240.136, '1240'], [0, '0'], [-0, '0'], [-3.456, '-3.46'], [1.234e-5, '1.23e-5'], [1e20, '1e20'],
  ])('%d is said as %s', (x, text) => {
    expect(wire('number', { value: x }).text).toBe(text);
    expect(wire('ratio', { value: x }).text).toBe(`${text} : 1`);
  });
});

describe('a number with its ±', () => {
  it.each([
    [9.0645, 0.05, '9.06 ± 0.05'], [9.0645, 0.12, '9.06 ± 0.12'], [9.0645, 0.019, '9.065 ± 0.019'], [9.0645, 1.5, '9.1 ± 1.5'], [13, 0.34, '13.0 ± 0.3'], [1503.6, 40, '1500 ± 40'], [1503.6, 140, '1500 ± 140'],
    [148.6, 10.6, '149 ± 11'], [0.996, 0.04, '1.00 ± 0.04'], [0, 0.5, '0.0 ± 0.5'], [11.1538, 0.067, '11.15 ± 0.07'], [640, 8, '640 ± 8'], [-0.001, 0.3, '0.0 ± 0.3'],
  ])('%d ± %d is said as %s', (x, half, text) => {
    expect(withPlusMinus(wire('ratio', { value: x, u: half / 2 }))).toBe(`${text} : 1`);
    expect(wire('ratio', { value: x, u: half / 2 }).text).toBe(`${text.split(' ')[0]} : 1`);
  });
  it('is rounded by no more than a tenth of its ± twice over', () => {
    fc.assert(fc.property(fc.double({ min: 1e-6, max: 1e6, noNaN: true }), fc.double({ min: 1e-4, max: 0.4, noNaN: true }), (x, share) => {
      const half = x * share;
      expect(Math.abs(Number(roundedBy(x, half)) - x)).toBeLessThanOrEqual(0.5000001 * half);
    }), { numRuns: 2000, seed: 3 });
  });
});

describe('an interval', () => {
  const cases: [Reading, string][] = [
    [{ low: 2.8618, high: 3 }, '2.86 to 3'], [{ low: 21.7, high: 33.518 }, '21.7 to 33.5'], [{ low: 0, high: 3 }, '0 to 3'], [{ high: 8 }, 'at most 8'], [{ low: 18 }, 'at least 18'], [{ low: 1, high: 1 }, '1'], [{ low: -1, high: 2 }, '-1 to 2'], [{ low: 1e-7, high: 2e-7 }, '1e-7 to 2e-7'],
  ];
  it.each(cases)('%j is said as %s', (r, text) => { expect(wire('number', r).text).toBe(text); });
  it('keeps its ends in order in an indirect yarn number, and opens the other side', () => {
    const units = { system: 'metric' as const, byKind: new Map<Kind, NonNullable<ReturnType<typeof findUnit>>>([['grist', findUnit('grist', 'yd/lb')!]]) };
    const span = wire('grist', { low: 2e-4, high: 4e-4 }, units);
    expect('low' in span && span.low! < span.high!).toBe(true);
    expect(wire('grist', { high: 4e-4 }, units)).toMatchObject({ low: expect.closeTo(1240.137, 2), text: 'at least 1240 yd/lb' });
  });
});

describe('units of an answer', () => {
  it.each([
    ['part', 0.15036, '150 mm', '5.92 in'], ['length', 200, '200 m', '219 yd'], ['mass', 0.1, '100 g', '3.53 oz'], ['share', 0.09, '9 %', '9 %'], ['grist', 3.307e-4, '331 tex', '1500 yd/lb'], ['twist', 551.18, '551 turns/m', '14 turns/in'],
    ['wraps', 472.44, '4.72 wraps/cm', '12 wraps/in'], ['pull', 0.0980665, '10 g', '0.353 oz'], ['speed', 0.1, '6 m/min', '6.56 yd/min'], ['turning', 9.0645, '544/min', '544/min'], ['angle', 0.35, '20.1 deg', '20.1 deg'], ['fibre-diameter', 2.1e-5, '21 µm', '21 µm'],
  ] as const)('%s %d is said as %s or %s', (kind, si, inMetric, inImperial) => {
    expect(wire(kind, { value: si }).text).toBe(inMetric);
    expect(wire(kind, { value: si }, imperial).text).toBe(inImperial);
  });
  it('every kind has one for each system', () => {
    for (const kind of kindNames) {
      for (const system of ['metric', 'imperial'] as const) expect(kinds[kind].units.map((u) => u.name)).toContain(kinds[kind][system]);
      expect(wire(kind, { value: 1 }, metric).unit).toBe(kinds[kind].metric);
    }
  });
});
