/** Propagation of uncertainty: against Monte Carlo (JCGM 101's method, seeded), and against worked examples. */
import { describe, expect, it } from 'vitest';
import { extent, isPoint, wire, type Reading } from '../../services/foundation/reading.js';
import { derive, expr, Knowns, propagate, slope, type Correlation } from '../../services/foundation/uncertainty.js';
import { metric } from '../../services/foundation/quantity.js';
import { answer } from '../../services/calculations/ratio/answer.js';
import { seeded, spreadOf } from '../support/random.js';

const draws = 200_000;
type Formula = (x: readonly number[]) => number;
/** Standard deviation of f over normal inputs, of which a and b may be correlated. */
function monteCarlo(f: Formula, at: readonly number[], u: readonly number[], c?: Correlation, seed = 7): number {
  const r = seeded(seed);
  return spreadOf(draws, () => {
    const z = at.map(() => r.normal());
    if (c !== undefined) z[c.b] = c.r * z[c.a]! + Math.sqrt(1 - c.r ** 2) * z[c.b]!;
    return f(at.map((x, i) => x + u[i]! * z[i]!));
  }).sd;
}
const onSeats: Formula = ([D, d, t]) => (D! + t!) / (d! + t!);
const cases: readonly [string, Formula, number[], number[]][] = [
  ['a ratio of two diameters', ([D, d]) => D! / d!, [0.52, 0.04], [0.002, 0.0005]],
  ['a ratio on a band', onSeats, [0.56, 0.06, 0.002], [0.0005, 0.0001, 0.00017]],
  ['two stages', ([D, d, E, e]) => (D! / d!) * (E! / e!), [1.12, 0.055, 0.14, 0.022], [0.002, 0.0003, 0.0005, 0.0002]],
  ['laps near equal grooves', ([w, b]) => 1 / (w! / b! - 1), [0.062, 0.05], [0.0003, 0.0003]],
  ['a V groove', ([d, t, a]) => d! + t! / Math.sin(a!), [0.056, 0.003, Math.PI / 6], [0.0002, 0.0002, 0.02]],
  ['a square root', ([x]) => Math.sqrt(x!), [1500], [40]],
  ['a difference', ([a, b]) => a! - b!, [11.24, 9.0645], [0.05, 0.04]],
  ['a product of a length and a share', ([l, s]) => l! * (1 - s!), [250, 0.09], [2, 0.01]],
];

describe('standard uncertainty', () => {
  for (const [name, f, at, u] of cases) {
    it(`${name}: within 5 % of Monte Carlo`, () => {
      const linear = propagate(f, at, u);
      expect(Math.abs(linear / monteCarlo(f, at, u) - 1)).toBeLessThan(0.05);
      const r = derive(f, at.map((value, i) => ({ value, u: u[i]! })));
      expect(isPoint(r) && r.value === f(at) && r.u === linear).toBe(true);
    });
  }
  it('correlated inputs: within 5 % of Monte Carlo, from fully together to fully against', () => {
    for (const r of [-1, -0.7, 0, 0.36, 0.9]) {
      const c = { a: 0, b: 1, r };
      const [at, u] = [[0.56, 0.06, 0.002], [0.004, 0.0004, 0.0001]];
      expect(Math.abs(propagate(onSeats, at, u, [c]) / monteCarlo(onSeats, at, u, c) - 1), `r = ${r}`).toBeLessThan(0.05);
    }
  });
  it('one mis-scaled tape for both diameters nearly cancels; two tapes do not', () => {
    // 1 in 100 on both 560 and 60 mm, band 2 mm: the ratio moves only by what the band adds.
    const [at, u] = [[0.56, 0.06, 0.002], [0.0056, 0.0006, 0]];
    const together = propagate(onSeats, at, u, [{ a: 0, b: 1, r: 1 }]);
    const apart = propagate(onSeats, at, u);
    expect(together).toBeCloseTo(Math.abs(onSeats([0.5656, 0.0606, 0.002]) - onSeats([0.5544, 0.0594, 0.002])) / 2, 5);
    expect(apart / together).toBeGreaterThan(40);
  });
  it('JCGM 100:2008, H.2: resistance, reactance and impedance of correlated readings', () => {
    // Inputs of H.2.2 and results of table H.3, from memory; u in its own printed figures.
    const at = [4.999, 19.661e-3, 1.04446];
    const u = [0.0032, 0.0095e-3, 0.00075];
    const c = [{ a: 0, b: 1, r: -0.36 }, { a: 0, b: 2, r: 0.86 }, { a: 1, b: 2, r: -0.65 }];
    const printed: [Formula, number, number][] = [
      [([V, I, p]) => (V! * Math.cos(p!)) / I!, 127.732, 0.071], [([V, I, p]) => (V! * Math.sin(p!)) / I!, 219.847, 0.295], [([V, I]) => V! / I!, 254.26, 0.236],
    ];
    for (const [f, y, uy] of printed) {
      expect(Math.abs(f(at) - y)).toBeLessThan(0.0015);
      // The inputs' u and r are printed to two figures, so the results hold to 2 %.
      expect(Math.abs(propagate(f, at, u, c) / uy - 1)).toBeLessThan(0.02);
    }
  });
  it('products of powers add relative parts in squares (JCGM 100:2008, 5.1.6)', () => {
    const twistFactor: Formula = ([t, tex]) => t! * Math.sqrt(tex!);
    expect(propagate(twistFactor, [400, 50], [20, 1.5]) / twistFactor([400, 50])).toBeCloseTo(Math.hypot(0.05, 0.015), 9);
    const tex: Formula = ([m, L]) => (1000 * m!) / L!;
    const read = derive(tex, [{ value: 28, u: 0.5 / Math.sqrt(3) }, { value: 73.5, u: 0.735 }]);
    expect(read).toMatchObject({ value: expect.closeTo(380.952, 3), u: expect.closeTo(380.952 * 0.01436, 2) });
  });
  it('slopes are right to 1e-9 where calculus gives them', () => {
    expect(slope(onSeats, [0.56, 0.06, 0.002], 0)).toBeCloseTo(1 / 0.062, 7);
    expect(slope(onSeats, [0.56, 0.06, 0.002], 1)).toBeCloseTo(-0.562 / 0.062 ** 2, 6);
    expect(slope(([x]) => Math.sin(x!), [0], 0)).toBeCloseTo(1, 10);
    expect(slope(([x]) => Math.exp(x!), [2], 0) / Math.exp(2)).toBeCloseTo(1, 10);
  });
});

describe('intervals', () => {
  it('hold every value that their inputs allow', () => {
    const r = seeded(11);
    for (let k = 0; k < 300; k++) {
      const [D, d, t] = [r.between(0.3, 0.8), r.between(0.02, 0.1), r.between(0.0005, 0.003)];
      const got = extent(derive(onSeats, [{ value: D, u: 0.0005 }, { low: d, high: d * 1.2 }, { low: 0, high: t }]));
      for (let j = 0; j < 20; j++) {
        const v = onSeats([D, d * r.between(1, 1.2), t * r.uniform()]);
        expect(v >= got.low && v <= got.high).toBe(true);
      }
    }
  });
  it('share an unknown that two parts share: a band thickness counts once', () => {
    const k = new Knowns();
    const [w, b, t] = [k.input({ value: 0.06 }), k.input({ value: 0.06 }), k.input({ low: 0, high: 0.003 })];
    const add = (x: number, y: number): number => x + y;
    const rho = k.reading(expr((x, y) => x / y, expr(add, w, t), expr(add, b, t)));
    expect(extent(rho)).toEqual({ low: 1, high: 1 });
  });
  it('stay open where an input has no bound', () => {
    const wide: Reading = { low: 0.02 };
    expect(derive(([D, d]) => D! / d!, [{ value: 0.5 }, wide])).toEqual({ high: 25 });
    expect(derive(([D, d]) => D! / d!, [wide, { value: 0.01 }])).toEqual({ low: 2 });
  });
});

describe('through an answer', () => {
  const ask = (wheel: string, whorl: string, band = '0 mm'): Record<string, number> =>
    answer({ wheel: { driveWheel: { grooveDiameter: wheel }, whorls: [{ grooveDiameter: whorl }], modes: [{ drive: 'flyer-lead', band: { thickness: band } }] } }).result.whorls![0]!.flyerRatio as never;
  it('520 ± 4 mm and 40 ± 1 mm (k = 2), no band: 13.0 ± 0.34', () => {
    const r = ask('520 ± 4 mm', '40 ± 1 mm');
    expect(r['value']).toBe(13);
    expect(r['plusMinus']).toBeCloseTo(0.34, 2);
    const mc = 2 * monteCarlo(([D, d]) => D! / d!, [0.52, 0.04], [0.002, 0.0005]);
    expect(Math.abs(r['plusMinus']! / mc - 1)).toBeLessThan(0.05);
  });
  it('a reciprocal unit carries the relative uncertainty over', () => {
    const w = wire('grist', { value: 3.3e-4, u: 3.3e-6 }, { ...metric, system: 'imperial' });
    expect('value' in w && w.plusMinus! / w.value).toBeCloseTo(0.02, 12);
  });
});
