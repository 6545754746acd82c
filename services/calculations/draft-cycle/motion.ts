/**
 * The draw-in under a prescribed hand, from event to event. The package is one mass m that the drive pulls along with m·a up
 * to a ceiling of speed; the yarn is taut (v = u, the pull what is left over), or slack while the package slips or stands at
 * its ceiling. Between events everything has a closed form, so nothing is stepped through; with a pulse of the treadle the
 * events are roots that are bracketed and closed in on. SI; twist in turns/m. Pure.
 */
import { auditOf, type Audits } from './audit.js';
import { gather, newTally, type Look, type Tally } from './tally.js';
import { usualShare, windTurns } from './turns.js';

/** A piece of the hand: it lets yarn in at `start`, changing evenly to `end`. */
export interface Feed { readonly from: number; readonly to: number; readonly start: number; readonly end: number }
/** A piece of the draft: so much new yarn for each second. */
export interface Draft { readonly from: number; readonly to: number; readonly speed: number }
export interface Motion {
  /** m/s²; m/s; kg; m. */
  readonly quickening: number;
  readonly ceiling: number;
  readonly mass: number;
  readonly radius: number;
  /** rad/s of the member that the band turns evenly: the flyer, or on a bobbin-lead wheel the bobbin. */
  readonly carrier: number;
  /** Each lap takes a turn out of the yarn: bobbin-lead. */
  readonly perLap: boolean;
  /** The carrier goes at carrier·(1 + depth·sin(rate·t)). `with` is +1 where a faster carrier helps the draw-in, -1 in a double drive. */
  readonly pulse: { readonly depth: number; readonly rate: number; readonly with: 1 | -1 };
  /** `speed`: of the draw-in at the start; at rest when left out. */
  readonly start: { readonly length: number; readonly turns: number; readonly speed?: number };
  readonly hand: readonly Feed[];
  readonly draft: readonly Draft[];
  readonly until: number;
}
export type Phase = 'taut' | 'slipping' | 'standing' | 'overrunning';
export type EventName = 'slack-begins' | 'at-the-ceiling' | 'grab';
export interface CycleEvent { readonly event: EventName; readonly time: number; readonly difference?: number }
export interface Outcome extends Tally { readonly audits: Audits }

/**
 * Motion within one stretch in coefficients: v = p0 + p1·tau + pa·sin(rate·(t + tau)), whatever the phase. Filled anew for each
 * stretch, so that a run makes no objects.
 */
export interface Stretch { phase: Phase; t: number; dt: number; u: number; du: number; w: number; v: number; s: number; x: number; p0: number; p1: number; pa: number; gain: number; b: number; depth: number; rate: number; top: number }
export const speedAt = (z: Stretch, tau: number): number => z.p0 + z.p1 * tau + (z.pa === 0 ? 0 : z.pa * Math.sin(z.rate * (z.t + tau)));
/** Yarn drawn in since the stretch began. */
export const drawnAt = (z: Stretch, tau: number): number => (z.p0 + 0.5 * z.p1 * tau) * tau + (z.pa === 0 ? 0 : (z.pa * (Math.cos(z.rate * z.t) - Math.cos(z.rate * (z.t + tau)))) / z.rate);
export const slackAt = (z: Stretch, tau: number): number => (z.phase === 'taut' ? 0 : z.s + (z.u + 0.5 * z.du * tau) * tau - drawnAt(z, tau));
export const gainAt = (z: Stretch, tau: number): number => z.p1 + (z.pa === 0 ? 0 : z.pa * z.rate * Math.cos(z.rate * (z.t + tau)));
function fill(z: Stretch): void {
  if (z.phase === 'taut') [z.p0, z.p1, z.pa] = [z.u, z.du, 0];
  else if (z.phase === 'standing') [z.p0, z.p1, z.pa] = [z.top, 0, z.top * z.depth];
  else {
    z.p1 = z.gain;
    z.pa = z.depth === 0 ? 0 : z.b / z.rate;
    z.p0 = z.v - (z.pa === 0 ? 0 : z.pa * Math.sin(z.rate * z.t));
  }
}

/** The first tau in (0, dt] at which c + d·tau + ½e·tau² falls below 0; c ≥ 0. Infinity where it does not. */
function fallsBelow(c: number, d: number, e: number): number {
  if (c === 0 && d === 0) return e < 0 ? 0 : Infinity;
  if (e >= 0 && d >= 0) return Infinity;
  const disc = d * d - 2 * e * c;
  if (disc < 0) return Infinity;
  const root = Math.sqrt(disc);
  return d < 0 ? (2 * c) / (root - d) : (d + root) / -e;
}
/** A root of f in [low, high], f(low) ≥ 0 > f(high), to the last digits: bisection that takes the chord where it helps (ITP without its tuning). */
function closeIn(f: (tau: number) => number, low: number, high: number): number {
  let [a, b, fa, fb] = [low, high, f(low), f(high)];
  for (let i = 0; i < 80 && b - a > 4e-16 * (1 + b); i++) {
    const chord = a + ((b - a) * fa) / (fa - fb);
    const x = i % 3 === 2 || !(chord > a && chord < b) ? (a + b) / 2 : chord;
    const fx = f(x);
    if (fx >= 0) [a, fa] = [x, fx]; else [b, fb] = [x, fx];
  }
  return b;
}

/** Pieces of hand and draft cut where either changes: everything within one is smooth. */
function cut(m: Motion): { t: number[]; u: number[]; du: number[]; w: number[] } {
  const times = new Set([0, m.until]);
  for (const p of [...m.hand, ...m.draft]) for (const x of [p.from, p.to]) if (x > 0 && x < m.until) times.add(x);
  const t = [...times].sort((a, b) => a - b);
  const out = { t, u: [] as number[], du: [] as number[], w: [] as number[] };
  let [h, d] = [0, 0];
  for (let i = 0; i + 1 < t.length; i++) {
    const middle = (t[i]! + t[i + 1]!) / 2;
    while (h < m.hand.length && m.hand[h]!.to <= middle) h++;
    while (d < m.draft.length && m.draft[d]!.to <= middle) d++;
    const f = m.hand[h];
    const slope = f === undefined || f.from > middle ? 0 : (f.end - f.start) / (f.to - f.from);
    out.u.push(f === undefined || f.from > middle ? 0 : f.start + slope * (t[i]! - f.from));
    out.du.push(slope);
    out.w.push(m.draft[d] !== undefined && m.draft[d]!.from <= middle ? m.draft[d]!.speed : 0);
  }
  return out;
}

/** Runs the cycle. `look` is shown every `look.step` seconds what there is; nothing is kept of it here. `share` makes the steps of the twist. */
export function run(m: Motion, look?: Look, share: number = usualShare): Outcome {
  const { depth, rate } = m.pulse;
  const b = m.pulse.with * m.radius * m.carrier * depth * rate;
  const pieces = cut(m);
  // With a pulse a stretch is at most a thirty-second part of its round, ends on round phases, and so meets its extremes.
  const slice = depth === 0 ? Infinity : Math.PI / 16 / rate;
  const z: Stretch = { phase: 'taut', t: 0, dt: 0, u: 0, du: 0, w: 0, v: m.start.speed ?? 0, s: 0, x: m.start.length, p0: 0, p1: 0, pa: 0, gain: m.quickening, b, depth, rate, top: m.ceiling };
  const tally = newTally(m, z.v);
  for (let i = 0; i + 1 < pieces.t.length; i++) {
    const end = pieces.t[i + 1]!;
    z.u = pieces.u[i]!;
    z.du = pieces.du[i]!;
    z.w = pieces.w[i]!;
    if (z.phase === 'taut') jumped(z, tally, m);
    for (let still = 0; z.t < end;) {
      if (still > 100) throw new RangeError('Events without end at one moment.');
      settle(z, tally, m);
      fill(z);
      const stop = depth === 0 ? end : Math.min(end, (Math.floor((z.t * (1 + 1e-14)) / slice + 1e-9) + 1) * slice);
      const { tau, event } = next(z, stop - z.t);
      z.dt = tau;
      still = tau > 1e-14 ? 0 : still + 1;
      if (tau > 0) { windTurns(z, m, tally, share, look); gather(z, m, tally); }
      advance(z, event === undefined && stop === end ? end : z.t + tau);
      if (event !== undefined) happen(event, z, tally, m);
    }
  }
  return { ...tally, audits: auditOf(tally, m, z) };
}

/** A hand that changes its speed at once: faster, and the yarn hangs; slower, and the package runs into it. */
function jumped(z: Stretch, tally: Tally, m: Motion): void {
  const jump = z.u - z.v;
  if (Math.abs(jump) <= 1e-12 * Math.max(1, z.v)) return;
  if (jump < 0) { tally.grab(z.t, -jump, z.u, m.mass); z.v = z.u; return; }
  z.phase = 'slipping';
  tally.begins(z.t);
}

/** Taut yarn that cannot stay so begins to hang; slack at the ceiling may have to slip again. */
function settle(z: Stretch, tally: Tally, m: Motion): void {
  const b = z.depth === 0 ? 0 : z.b * Math.cos(z.rate * z.t);
  if (z.phase === 'taut') {
    const top = z.top * (z.depth === 0 ? 1 : 1 + z.depth * Math.sin(z.rate * z.t));
    const above = z.u - top > 1e-12 * top || (Math.abs(z.u - top) <= 1e-12 * top && z.du > (z.depth === 0 ? 0 : z.top * z.depth * z.rate * Math.cos(z.rate * z.t)));
    if (!above && m.quickening + b - z.du >= -1e-12 * m.quickening) return;
    z.phase = above ? 'standing' : 'slipping';
    z.v = z.u;
    tally.begins(z.t);
  }
  if (z.phase === 'standing') {
    // Friction holds it there while it need not give more than it has.
    const asked = (z.depth === 0 ? 0 : z.top * z.depth * z.rate * Math.cos(z.rate * z.t)) - b;
    if (asked > m.quickening * (1 + 1e-9)) z.phase = 'slipping';
    else if (asked < -m.quickening * (1 + 1e-9)) z.phase = 'overrunning';
  }
  z.gain = z.phase === 'overrunning' ? -m.quickening : m.quickening;
}

/** The next event within dt, or none. */
function next(z: Stretch, dt: number): { tau: number; event?: Phase | 'grab' } {
  if (z.depth === 0) {
    if (z.phase === 'taut') {
      const tau = fallsBelow(z.top - z.u, -z.du, 0);
      return tau > 0 && tau < dt ? { tau, event: 'standing' } : { tau: dt };
    }
    // A hand that passes the ceiling does so to the last digit: nothing below it may count as slower.
    const past = Math.abs(z.u - z.top) <= 1e-12 * z.top ? 0 : z.u - z.top;
    const closes = z.phase === 'standing' ? fallsBelow(z.s, past, z.du) : fallsBelow(z.s, z.u - z.v, z.du - z.gain);
    const stands = z.phase === 'standing' ? Infinity : (z.top - z.v) / z.gain;
    if (closes <= dt && closes <= stands) return { tau: closes, event: 'grab' };
    return stands <= dt && stands >= 0 ? { tau: stands, event: 'standing' } : { tau: dt };
  }
  const top = (tau: number): number => z.top * (1 + z.depth * Math.sin(z.rate * (z.t + tau)));
  if (z.phase === 'taut') {
    const room = (tau: number): number => Math.min(top(tau) - z.u - z.du * tau, z.gain + z.b * Math.cos(z.rate * (z.t + tau)) - z.du);
    if (room(dt) >= 0 || room(0) < 0) return { tau: dt };
    const tau = closeIn(room, 0, dt);
    return { tau, event: top(tau) - z.u - z.du * tau < z.gain + z.b * Math.cos(z.rate * (z.t + tau)) - z.du ? 'standing' : 'slipping' };
  }
  // Slack shortens only while the package is faster than the hand; where that begins within the stretch it is looked for first.
  const gap = (tau: number): number => z.u + z.du * tau - speedAt(z, tau);
  let closes = Infinity;
  if (slackAt(z, dt) < 0) {
    const from = gap(0) < 0 && z.s > 0 ? 0 : gap(dt) < 0 ? closeIn(gap, 0, dt) : 0;
    closes = closeIn((tau) => slackAt(z, tau), slackAt(z, from) >= 0 ? from : 0, dt);
  }
  const way = z.phase === 'overrunning' ? -1 : 1;
  const toTop = (tau: number): number => way * (top(tau) - speedAt(z, tau));
  if (z.phase !== 'standing' && toTop(dt) < 0 && toTop(0) <= 1e-12 * z.top) {
    // At the edge of its grip, and held again before the stretch is over: it never left.
    z.phase = 'standing';
    fill(z);
    return next(z, dt);
  }
  const stands = z.phase === 'standing' ? Infinity : toTop(dt) < 0 ? (toTop(0) > 0 ? closeIn(toTop, 0, dt) : 0) : Infinity;
  if (closes <= dt && closes <= stands) return { tau: closes, event: 'grab' };
  return stands <= dt ? { tau: stands, event: 'standing' } : { tau: dt };
}

function advance(z: Stretch, to: number): void {
  const tau = z.dt;
  const [v, s] = [speedAt(z, tau), slackAt(z, tau)];
  z.x += z.w * tau - z.u * tau - 0.5 * z.du * tau * tau;
  z.v = v;
  z.s = s < 0 ? 0 : s;
  z.u += z.du * tau;
  z.t = to;
}
function happen(event: Phase | 'grab', z: Stretch, tally: Tally, m: Motion): void {
  if (event === 'grab') {
    tally.grab(z.t, z.v - z.u, z.u, m.mass);
    [z.phase, z.s, z.v] = ['taut', 0, z.u];
  } else if (z.phase === 'taut') {
    z.phase = event;
    z.v = z.u;
    tally.begins(z.t);
  } else {
    z.phase = 'standing';
    tally.stands(z.t);
  }
}
