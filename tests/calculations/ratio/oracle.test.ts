/**
 * The closed forms of the drive ratio against the same expressions in 50-digit decimal arithmetic, over 10^5 seeded
 * cases, to 1e-12 of the value. Where two terms nearly cancel, to 1e-12 of the larger term: a double cannot hold more.
 */
import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import * as f from '../../../services/calculations/ratio/formula.js';
import { seeded } from '../../support/random.js';

const D = Decimal.clone({ precision: 50 });
type N = Record<string, number>;
type X = Record<string, Decimal>;
const PI = D.acos(-1);
const max = (a: Decimal, b: Decimal): Decimal => (a.gt(b) ? a : b);

interface Form {
  readonly name: string;
  readonly ranges: Readonly<Record<string, readonly [number, number]>>;
  readonly ours: (p: never) => number;
  readonly exact: (x: X) => Decimal;
  /** The larger of the terms that may cancel. */
  readonly scale?: (x: X) => Decimal;
  readonly runs: number;
}
const wheel = [0.2, 1.5] as const;
const groove = [0.005, 0.2] as const;
const cord = [0, 0.006] as const;
const half = [0.2, 0.9] as const;
const many = 9000;
const forms: readonly Form[] = [
  { name: 'pitchOnSeat', ranges: { seat: groove, band: cord }, ours: f.pitchOnSeat, exact: (x) => x['seat']!.plus(x['band']!), runs: many },
  { name: 'seatFromCircumference', ranges: { circumference: [0.1, 5], tape: [0, 0.001] }, ours: f.seatFromCircumference, exact: (x) => x['circumference']!.div(PI).minus(x['tape']!), runs: many },
  { name: 'pitchFromTurn', ranges: { turn: [0.05, 5] }, ours: f.pitchFromTurn, exact: (x) => x['turn']!.div(PI), runs: many },
  { name: 'pitchFromApex', ranges: { apex: groove, band: cord, halfAngle: half }, ours: f.pitchFromApex, exact: (x) => x['apex']!.plus(x['band']!.div(D.sin(x['halfAngle']!))), runs: 5000 },
  { name: 'apexFromRim', ranges: { rim: [0.03, 0.2], opening: [0.002, 0.012], halfAngle: half }, ours: f.apexFromRim, exact: (x) => x['rim']!.minus(x['opening']!.div(D.tan(x['halfAngle']!))), scale: (x) => x['rim']!, runs: 5000 },
  { name: 'rimFromApex', ranges: { apex: groove, opening: [0.002, 0.012], halfAngle: half }, ours: f.rimFromApex, exact: (x) => x['apex']!.plus(x['opening']!.div(D.tan(x['halfAngle']!))), runs: 5000 },
  { name: 'bandAboveRim', ranges: { pitch: groove, band: cord, rim: [0.03, 0.2] }, ours: f.bandAboveRim, exact: (x) => x['pitch']!.plus(x['band']!).minus(x['rim']!).div(2), scale: (x) => x['rim']!, runs: 5000 },
  {
    name: 'pitchOnFlat', ranges: { bottom: groove, flat: [0, 0.006], band: cord, halfAngle: half }, ours: f.pitchOnFlat, runs: 5000,
    exact: (x) => x['bottom']!.plus(max(x['band']!.div(2), x['band']!.div(D.sin(x['halfAngle']!).times(2)).minus(x['flat']!.div(D.tan(x['halfAngle']!).times(2)))).times(2)),
  },
  { name: 'driveRatio', ranges: { driving: wheel, driven: groove, slip: [0, 0.4] }, ours: f.driveRatio, exact: (x) => x['driving']!.div(x['driven']!).times(D.sub(1, x['slip']!)), runs: many },
  { name: 'compound', ranges: { a: [2, 30], b: [2, 15], c: [0.5, 3] }, ours: (p: N) => f.compound([p['a']!, p['b']!, p['c']!]), exact: (x) => x['a']!.times(x['b']!).times(x['c']!), runs: many },
  { name: 'seatForRatio', ranges: { driving: wheel, ratio: [2, 40], band: cord }, ours: f.seatForRatio, exact: (x) => x['driving']!.div(x['ratio']!).minus(x['band']!), scale: (x) => x['driving']!.div(x['ratio']!), runs: many },
  { name: 'bobbinPerFlyerTurn', ranges: { bobbin: [2, 40], flyer: [2, 40] }, ours: f.bobbinPerFlyerTurn, exact: (x) => x['bobbin']!.div(x['flyer']!), runs: many },
  { name: 'flyerTurnsPerLap, away from equal grooves', ranges: { bobbinPerFlyerTurn: [1.02, 3] }, ours: f.flyerTurnsPerLap, exact: (x) => D.div(1, x['bobbinPerFlyerTurn']!.minus(1).abs()), runs: many },
  { name: 'flyerTurnsPerLap, flyer leading', ranges: { bobbinPerFlyerTurn: [0.3, 0.98] }, ours: f.flyerTurnsPerLap, exact: (x) => D.div(1, x['bobbinPerFlyerTurn']!.minus(1).abs()), runs: many },
  { name: 'creep', ranges: { tight: [0.6, 5], slack: [0.01, 0.5], stiffness: [10, 1000] }, ours: f.creep, exact: (x) => x['tight']!.minus(x['slack']!).div(x['stiffness']!.plus(x['tight']!)), runs: many },
  { name: 'countUncertainty', ranges: { step: [0.01, 1], ends: [1, 2] }, ours: f.countUncertainty, exact: (x) => x['step']!.times(D.sqrt(x['ends']!.div(12))), runs: 5000 },
];
const compared: Form['ranges'] = { measured: [2, 40], uMeasured: [0.001, 0.2], counted: [2, 40], uCounted: [0.001, 0.2] };
const weight = (u: Decimal): Decimal => D.div(1, u.pow(2));
const comparison: readonly { part: keyof f.Compared; exact: (x: X) => Decimal; scale?: (x: X) => Decimal }[] = [
  { part: 'mean', exact: (x) => x['measured']!.times(weight(x['uMeasured']!)).plus(x['counted']!.times(weight(x['uCounted']!))).div(weight(x['uMeasured']!).plus(weight(x['uCounted']!))) },
  { part: 'u', exact: (x) => D.div(1, D.sqrt(weight(x['uMeasured']!).plus(weight(x['uCounted']!)))) },
  { part: 'z', exact: (x) => x['measured']!.minus(x['counted']!).div(D.hypot(x['uMeasured']!, x['uCounted']!)), scale: (x) => x['measured']!.div(D.hypot(x['uMeasured']!, x['uCounted']!)) },
  { part: 'slip', exact: (x) => D.sub(1, x['counted']!.div(x['measured']!)), scale: (x) => max(new D(1), x['counted']!.div(x['measured']!)) },
  { part: 'uSlip', exact: (x) => D.hypot(x['uCounted']!.div(x['measured']!), x['counted']!.div(x['measured']!).times(x['uMeasured']!).div(x['measured']!)) },
];

let checked = 0;
function agree(ours: number, exact: Decimal, scale: Decimal, what: () => string): void {
  checked++;
  if (!exact.minus(ours).abs().lte(scale.abs().times(1e-12))) throw new Error(`${what()}: ${ours} is not ${exact.toPrecision(20)}`);
}
const draw = (ranges: Form['ranges'], r: ReturnType<typeof seeded>): [N, X] => {
  const p: N = Object.fromEntries(Object.entries(ranges).map(([k, [a, b]]) => [k, r.between(a, b)]));
  return [p, Object.fromEntries(Object.entries(p).map(([k, v]) => [k, new D(v)]))];
};

describe('closed forms in 50 digits', () => {
  for (const [i, form] of forms.entries()) {
    it(form.name, () => {
      const r = seeded(1000 + i);
      for (let n = 0; n < form.runs; n++) {
        const [p, x] = draw(form.ranges, r);
        const exact = form.exact(x);
        agree(form.ours(p as never), exact, form.scale?.(x) ?? exact, () => `${form.name} ${JSON.stringify(p)}`);
      }
    });
  }
  it('compare: mean, u, z, slip and its u', () => {
    const r = seeded(4711);
    for (let n = 0; n < 1500; n++) {
      const [p, x] = draw(compared, r);
      const got = f.compare(p as never);
      for (const c of comparison) {
        const exact = c.exact(x);
        agree(got[c.part], exact, c.scale?.(x) ?? exact, () => `${c.part} ${JSON.stringify(p)}`);
      }
    }
  });
  it('checked at least 10^5 values', () => { expect(checked).toBeGreaterThanOrEqual(1e5); });
  it('leaves out no public closed form', () => {
    const tried = new Set([...forms.map((x) => x.name.split(',')[0]), 'compare', 'turnsNeeded']);
    expect(Object.keys(f).filter((name) => !tried.has(name))).toEqual([]);
  });
  it('turns to count are rounded up, and the turns before are too few', () => {
    const r = seeded(99);
    for (let n = 0; n < 2000; n++) {
      const p = { ratio: r.between(3, 30), step: 0.25, ends: 2, target: r.between(0.0005, 0.02) };
      const N = f.turnsNeeded(p);
      const rel = (turns: number): number => f.countUncertainty(p) / turns / p.ratio;
      expect(rel(N) <= p.target * (1 + 1e-8) && (N === 1 || rel(N - 1) > p.target * (1 - 1e-8))).toBe(true);
    }
  });
});
