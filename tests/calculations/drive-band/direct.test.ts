/** Band lengths found again without their closed forms: the path is laid out point by point and its pieces are summed. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as f from '../../../services/calculations/drive-band/formula.js';

type P = readonly [number, number, number];
const distance = (a: P, b: P): number => Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
const pieces = 20_000;
/** Length of an arc from its chords, with the error of the chords taken out by halving once (Richardson). */
function arc(r: number, from: number, to: number): number {
  const chords = (n: number): number => n * 2 * r * Math.sin(Math.abs(to - from) / (2 * n));
  return (4 * chords(pieces) - chords(pieces / 2)) / 3;
}
/** Tangent points of two circles: the outer pair leans by φ, the inner pair by ψ, found by bisection on the tangency, not by asin. */
function leanOf(D: number, d: number, C: number, inner: boolean): number {
  const gap = (phi: number): number => C * Math.sin(phi) - (inner ? (D + d) / 2 : (D - d) / 2);
  let [low, high] = [-Math.PI / 2, Math.PI / 2];
  for (let i = 0; i < 200; i++) { const m = (low + high) / 2; if (gap(m) < 0) low = m; else high = m; }
  return (low + high) / 2;
}
function laid(D: number, d: number, C: number, inner: boolean): { length: number; run: number; arcs: number } {
  const t = leanOf(D, d, C, inner);
  const s = inner ? -1 : 1;
  const on = (cx: number, r: number, sign: number): P => [cx + r * Math.sin(t) * (inner && cx > 0 ? -1 : 1), sign * r * Math.cos(t), 0];
  const run = distance(on(0, D / 2, 1), on(C, d / 2, s));
  const arcs = arc(D / 2, 0, Math.PI + 2 * t) + arc(d / 2, 0, Math.PI - 2 * t * s);
  return { length: 2 * run + arcs, run, arcs };
}
const sizes = fc.record({ D: fc.double({ min: 0.2, max: 1.2, noNaN: true }), d: fc.double({ min: 0.01, max: 0.19, noNaN: true }), more: fc.double({ min: 1.02, max: 4, noNaN: true }) });

describe('band lengths, laid out', () => {
  it('open and crossed', () => {
    fc.assert(fc.property(sizes, ({ D, d, more }) => {
      const C = ((D + d) / 2) * more;
      const two = { wheel: D, pulley: d, distance: C };
      expect(f.openLength(two)).toBeCloseTo(laid(D, d, C, false).length, 9);
      expect(f.openSpan(two)).toBeCloseTo(laid(D, d, C, false).run, 10);
      expect(f.crossedLength(two)).toBeCloseTo(laid(D, d, C, true).length, 9);
      expect(f.crossedSpan(two)).toBeCloseTo(laid(D, d, C, true).run, 10);
    }), { numRuns: 200 });
  });
  it('doubled, with every run going aside by its own offset', () => {
    fc.assert(fc.property(sizes, fc.double({ min: 0.01, max: 0.19, noNaN: true }), fc.array(fc.double({ min: 0, max: 0.05, noNaN: true }), { minLength: 4, maxLength: 4 }), ({ D, d, more }, b, aside) => {
      const C = ((D + Math.max(d, b)) / 2) * more;
      const [w, o] = [laid(D, d, C, false), laid(D, b, C, false)];
      const runs = [w.run, w.run, o.run, o.run].map((run, i) => distance([0, 0, 0], [run, 0, aside[i]!]));
      const shape = { wheel: D, whorl: d, bobbin: b, distance: C, whorlAside: [aside[0]!, aside[1]!] as const, bobbinAside: [aside[2]!, aside[3]!] as const };
      expect(f.doubledLength(shape)).toBeCloseTo(w.arcs + o.arcs + runs.reduce((x, y) => x + y, 0), 9);
      const h = 1e-6;
      expect(f.doubledSlope(shape)).toBeCloseTo((f.doubledLength({ ...shape, distance: C + h }) - f.doubledLength({ ...shape, distance: C - h })) / (2 * h), 7);
      const back = f.distanceFor(f.doubledLength(shape), (D + Math.max(d, b)) / 2, (c) => f.doubledLength({ ...shape, distance: c }), (c) => f.doubledSlope({ ...shape, distance: c }));
      expect(back).toBeCloseTo(C, 10);
    }), { numRuns: 200 });
  });
  it('longer with every distance, and mirrored: the crossing changes sides with wheel and direction', () => {
    fc.assert(fc.property(sizes, ({ D, d, more }) => {
      const C = ((D + d) / 2) * more;
      expect(f.openLength({ wheel: D, pulley: d, distance: C * 1.01 })).toBeGreaterThan(f.openLength({ wheel: D, pulley: d, distance: C }));
      expect(f.crossedLength({ wheel: D, pulley: d, distance: C })).toBeGreaterThan(f.openLength({ wheel: D, pulley: d, distance: C }));
    }));
    expect(f.crossingRun({ wheelIs: 'right', direction: 'Z' })).toBe(f.crossingRun({ wheelIs: 'left', direction: 'S' }));
    expect(f.crossingRun({ wheelIs: 'below', direction: 'Z' })).toBe(f.crossingRun({ wheelIs: 'above', direction: 'S' }));
  });
  it('no band fits that is shorter than wheel and pulley touching', () => {
    const two = { wheel: 0.56, pulley: 0.06 };
    expect(f.distanceFor(1, 0.31, (distance) => f.openLength({ ...two, distance }), (distance) => f.openSlope({ ...two, distance }))).toBeUndefined();
  });
});
