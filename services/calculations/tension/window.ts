/** The window of one pair: what still draws in, what yarn and hand still bear, and the setting between. */
import { extent, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { GrooveRead } from '../../wheels/profile.js';
import type { Drive } from '../../wheels/words.js';
import * as band from '../drive-band/formula.js';
import * as f from './formula.js';

export interface Forces {
  readonly drag: Expr; readonly spindle: Expr; readonly factor: Expr; readonly needed: Expr; readonly borne: Expr; readonly friction: Expr; readonly start: Expr;
}
/** Grip μ'θ of a groove. */
export interface Grip { readonly pitch: Expr; readonly grip: Expr }
export type State = 'open' | 'closed' | 'too-close-to-say';
export interface Window { readonly low: Reading; readonly high: Reading; readonly state: State }

const halfOf = { v: Math.PI / 6, 'narrow-v': Math.PI / 9, 'wide-v': Math.PI / 4 } as const;

/** Effective friction of a groove, by its shape. */
export function grooveFriction(g: GrooveRead | undefined, usual: 'v' | 'round', friction: Expr, k: Knowns): Expr {
  const shape = g?.shape ?? usual;
  if (shape === 'flat') return friction;
  if (shape === 'round') return expr((mu) => f.frictionInRound({ friction: mu, from: 0, to: Math.PI / 3 }), friction);
  const angle = g?.angle === undefined ? k.assumed({ value: 2 * halfOf[shape] }) : k.input(g.angle);
  return expr((mu, a) => f.frictionInV({ friction: mu, halfAngle: a / 2 }), friction, angle);
}
export const gripOf = (pitch: Expr, wheel: Expr, distance: Expr, friction: Expr): Grip => ({
  pitch, grip: expr((d, D, c, mu) => mu * band.wrapOnPulley({ wheel: D, pulley: d, distance: c }), pitch, wheel, distance, friction),
});

/** The least torque at the package that draws in, and the most that is borne, at two diameters. */
export const torques = (x: Forces, drawAt: Expr, bearAt: Expr): { least: Expr; most: Expr } => ({
  least: expr((pull, factor, diameter, spindle) => f.torqueToDrawIn({ pull, factor, diameter, spindle }), x.needed, x.factor, drawAt, x.spindle),
  most: expr((pull, factor, diameter, spindle) => f.torqueBorne({ pull, factor, diameter, spindle }), x.borne, x.factor, bearAt, x.spindle),
});

/** Open when it is open within all that is known; closed likewise; else nobody can say. */
export function stateOf(ratios: Iterable<Reading>): State {
  let state: State | undefined;
  for (const r of ratios) {
    const e = extent(r);
    const is = e.low > 1 ? 'open' : e.high < 1 ? 'closed' : 'too-close-to-say';
    // One that cannot be told, or two that part ways, settle it: no further ratio is sought.
    if (is === 'too-close-to-say' || (state !== undefined && state !== is)) return 'too-close-to-say';
    state = is;
  }
  return state ?? 'too-close-to-say';
}
export const hull = (list: readonly Reading[]): Reading => {
  if (list.length === 1) return list[0]!;
  const ends = list.map(extent);
  const [low, high] = [Math.min(...ends.map((e) => e.low)), Math.max(...ends.map((e) => e.high))];
  return low === high ? { value: low } : { ...(Number.isFinite(low) ? { low } : {}), ...(Number.isFinite(high) ? { high } : {}) };
};

/** Band tension of a double drive: from two separate loops, and from one. */
export function doubleWindow(k: Knowns, x: Forces, whorl: Grip, bobbin: Grip, drawAt: Expr, bearAt: Expr): Window {
  const { least, most } = torques(x, drawAt, bearAt);
  const driveLeast = expr((drag, start, d, g) => (drag + start) / (d * Math.tanh(g / 2)), x.drag, x.start, whorl.pitch, whorl.grip);
  const separate = (m: Expr): Expr => expr((torque, d, g) => torque / (d * Math.tanh(g / 2)), m, bobbin.pitch, bobbin.grip);
  const loop = (m: Expr): Expr => expr((torque, w, b, drag, g) => f.loopTension({ torque, whorl: w, bobbin: b, drag, bobbinGrip: Math.exp(g) }), m, whorl.pitch, bobbin.pitch, x.drag, bobbin.grip);
  const lows = [separate(least), loop(least)].map((e) => expr(Math.max, e, driveLeast));
  const highs = [separate(most), loop(most)];
  const [from, to] = [lows.map((e) => k.reading(e)), highs.map((e) => k.reading(e))];
  function* ratios(): Generator<Reading> {
    for (const [i, low] of lows.entries()) {
      const [l, h] = [extent(from[i]!), extent(to[i]!)];
      // Edges that do not meet tell it already; only where they do must the two be sought together.
      yield l.low > 0 && (h.low > l.high || h.high < l.low) ? { low: h.low / l.high, high: h.high / l.low } : k.reading(expr((most, least_) => most / least_, highs[i]!, low));
    }
  }
  return { low: hull(from), high: hull(to), state: stateOf(ratios()) };
}

/** Brake torque of a flyer-lead or bobbin-lead wheel; on the latter the flyer's drag pulls too. */
export function brakeWindow(k: Knowns, x: Forces, drive: Drive, drawAt: Expr, bearAt: Expr): Window {
  const { least, most } = torques(x, drawAt, bearAt);
  const led = drive === 'bobbin-lead';
  const low = led ? expr((m, drag) => Math.max(0, m - drag), least, x.drag) : least;
  const high = led ? expr((m, drag) => m - drag, most, x.drag) : most;
  // Judged on what reaches the package, where the drag is in both.
  return { low: k.reading(low), high: k.reading(high), state: stateOf([k.reading(expr((h, l, drag) => (led && h <= drag ? 0.999 : h / l), most, least, x.drag))]) };
}

/** Which part slips first. Wrong only when both ways of seeing the band say so. */
export function givesFirst(k: Knowns, x: Forces, whorl: Grip, bobbin: Grip, tension: Expr): 'bobbin' | 'whorl' | 'too-close-to-say' {
  const order = k.reading(expr((t, dw, gw, db, gb, drag) => f.slipOrder({ bobbin: t * db * Math.tanh(gb / 2), whorl: t * dw * Math.tanh(gw / 2), drag }), tension, whorl.pitch, whorl.grip, bobbin.pitch, bobbin.grip, x.drag));
  const margin = k.reading(expr((t, dw, gw, db, gb, drag) => {
    const s = f.heldLoop({ tension: t, whorl: dw, bobbin: db, drag, bobbinGrip: Math.exp(gb), whorlGrip: Math.exp(gw) });
    return Math.max(s.runWhorl / s.tight, s.tight / s.runWhorl) / Math.exp(gw);
  }, tension, whorl.pitch, whorl.grip, bobbin.pitch, bobbin.grip, x.drag));
  const [a, b] = [extent(order), extent(margin)];
  if (a.high <= 1 && b.high <= 1) return 'bobbin';
  return a.low > 1 && b.low > 1 ? 'whorl' : 'too-close-to-say';
}
