/** What was measured beside the window: the setting by the bag test, the band by sag or pitch; load at the wheel; ways to open a window. */
import type { Kind } from '../../foundation/quantity.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import { diameterAt, heldPull } from '../take-up/formula.js';
import type { Part, Solved } from './answer.js';
import * as f from './formula.js';
import { torques, type Forces, type Window } from './window.js';

export type Yes = 'yes' | 'no' | 'too-close-to-say';
export type BandVerdict = 'right' | 'too-slack' | 'too-tight' | 'both' | 'too-close-to-say';
export interface PullAtFill { fill: number; drawingIn: Q; held: Q; pullingOff: Q }
export interface Setting { verdict: 'right' | 'draws-in-too-weakly' | 'pulls-too-hard' | 'both' | 'too-close-to-say'; slipTorque: Q; hookFactor: R; leastChange: R; change: R; mostChange: R }
export interface WayToOpen { way: 'reset-as-it-fills' | 'smoother-hooks' | 'fatter-core' | 'stop-at-three-quarters' | 'stronger-yarn'; spreadNeeded: R; opens?: Yes; pullBorne?: Q }
type Write = (kind: Kind, e: Expr) => Q;

/** Whether one setting draws in at the one diameter and spares the yarn at the other. */
export function servesFrom(s: Solved, x: Forces, drawAt: Expr, bearAt: Expr): Yes {
  const led = s.train.drive === 'bobbin-lead';
  const { least, most } = torques(x, drawAt, bearAt);
  const e = extent(s.train.knowns.reading(expr((m, l, drag) => (led && m <= drag ? 0.999 : m / l), most, least, x.drag)));
  return e.low > 1 ? 'yes' : e.high < 1 ? 'no' : 'too-close-to-say';
}

/** A band tension that was measured, beside the window of a doubled band, or beside what the band of a single drive needs lest it slip. */
export function bandVerdict(tension: Reading, to: Window | Reading): BandVerdict {
  const is = extent(tension);
  const [from, upTo] = 'state' in to ? [extent(to.low), extent(to.high)] : [extent(to), { low: Infinity, high: Infinity }];
  const [slack, tight] = [is.high < from.low, is.low > upTo.high];
  if (slack && tight) return 'both';
  return slack ? 'too-slack' : tight ? 'too-tight' : is.low >= from.high && is.high <= upTo.low ? 'right' : 'too-close-to-say';
}

/** What the bag test says of the setting: pulls at each fill, and by how much to change it. */
export function settingOf(s: Solved, p: Part, q: Write): { pull?: PullAtFill[]; setting?: Setting } {
  if (s.bag === undefined) return {};
  const k = s.train.knowns;
  const torque = expr((lifts, pullsOff, d) => (heldPull({ lifts, pullsOff }) * d) / 2, s.bag.lifts, s.bag.off, s.bag.at ?? p.core);
  const pull = [0, 0.5, 1].map((fill) => {
    const held = expr((m, core, full) => (2 * m) / diameterAt({ core, full, fill }), torque, p.core, p.full);
    return { fill, drawingIn: q('pull', expr((h, e) => h / e, held, s.x.factor)), held: q('pull', held), pullingOff: q('pull', expr((h, e) => h * e, held, s.x.factor)) };
  });
  // Spindle friction is in what the bag met, so the torque is compared with the pulls alone.
  const leastChange = k.reading(expr((m, pullIn, e, d) => (pullIn * e * d) / 2 / m, torque, s.x.needed, s.x.factor, p.full));
  const mostChange = k.reading(expr((m, out, e, d) => (out * d) / (2 * e) / m, torque, s.x.borne, s.x.factor, p.core));
  const [from, upTo] = [extent(leastChange), extent(mostChange)];
  const [tooWeak, tooStrong, enough, mild] = [from.low > 1, upTo.high < 1, from.high <= 1, upTo.low >= 1];
  const verdict = tooWeak && tooStrong ? 'both' : tooWeak ? 'draws-in-too-weakly' : tooStrong ? 'pulls-too-hard' : enough && mild ? 'right' : 'too-close-to-say';
  const change = expr((m, pullIn, out, e, full, core) => Math.sqrt(pullIn * full * Math.max((out * core) / e, pullIn * e * full) * e) / 2 / m, torque, s.x.needed, s.x.borne, s.x.factor, p.full, p.core);
  return { pull, setting: { verdict, slipTorque: q('torque', torque), hookFactor: wire('number', k.reading(s.x.factor)), leastChange: wire('number', leastChange), change: wire('number', k.reading(change)), mostChange: wire('number', mostChange) } };
}

/** Torque at the wheel while the yarn is held and while it draws in, at the least setting that draws in. */
export function loadOf(s: Solved, p: Part, least: Expr, q: Write): { wheelLoad?: { held: Q; drawingIn: Q } } {
  const { drive } = s.train;
  const [i, j] = [p.whorl?.ratio, p.bobbinRatio];
  if (drive === 'double-drive' ? i === undefined || j === undefined : drive === 'flyer-lead' ? i === undefined : j === undefined) return {};
  const zero = s.train.knowns.assumed({ value: 0 });
  const load = (held: boolean): Q => q('torque', expr((flyerRatio, bobbinRatio, drag, m) => f.wheelLoad({ flyerRatio, bobbinRatio, drag, bobbin: m, brake: drive === 'bobbin-lead' ? Math.max(0, m - drag) : m, drive: drive as 'double-drive' | 'flyer-lead' | 'bobbin-lead', held }), i ?? zero, j ?? zero, s.x.drag, least));
  return { wheelLoad: { held: load(true), drawingIn: load(false) } };
}

/** What would narrow the spread that a setting must span, the strongest first, and whether that is enough; last the yarn that would bear it as it is. */
export function waysToOpen(s: Solved, p: Part, half: Expr, spread: (full: Expr, core: Expr, factor: Expr) => Reading, q: Write): WayToOpen[] {
  const { x } = s;
  const smooth = expr((e) => 1 + (e - 1) / 2, x.factor);
  const fat = expr((c, d) => Math.min(1.5 * c, (c + d) / 2), p.core, p.full);
  const early = expr((core, full) => diameterAt({ core, full, fill: 0.75 }), p.core, p.full);
  const by = (way: WayToOpen['way'], full: Expr, core: Expr, factor: Expr): { way: WayToOpen['way']; r: Reading; opens: Yes } => ({ way, r: spread(full, core, factor), opens: servesFrom(s, { ...x, factor }, full, core) });
  const list = [by('reset-as-it-fills', half, p.core, x.factor), by('smoother-hooks', p.full, p.core, smooth), by('fatter-core', p.full, fat, x.factor), by('stop-at-three-quarters', early, p.core, x.factor)];
  const { least } = torques(x, p.full, p.core);
  // On a bobbin-lead wheel the flyer's drag pulls even with the brake off: the yarn must bear that in any case.
  const led = s.train.drive === 'bobbin-lead';
  const borne = expr((m, sp, e, d, drag) => (2 * e * ((led ? Math.max(m, drag) : m) + sp)) / d, least, x.spindle, x.factor, p.core, x.drag);
  return [
    ...list.sort((a, b) => extent(a.r).high - extent(b.r).high).map(({ way, r, opens }) => ({ way, spreadNeeded: wire('number', r), opens })),
    { way: 'stronger-yarn', spreadNeeded: wire('number', spread(p.full, p.core, x.factor)), pullBorne: q('pull', borne) },
  ];
}
