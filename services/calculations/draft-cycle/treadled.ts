/**
 * Wheel, flyer and bobbin together, driven by the treadle: what the yarn pulls slows the wheel, and what the wheel does moves the
 * yarn. Smooth phases by the classical Runge-Kutta method of fourth order; each event (taut, slack, at the ceiling, and the
 * dead centres, where the treadle takes hold and lets go) ends a step exactly, found by closing in on the length of the step
 * itself, so that no step spans a kink. Every balance is integrated beside the motion. SI. Pure.
 */
import { audits, type Audits } from './audit.js';
import type { Draft, Feed } from './motion.js';
import { newTally, type Look, type Moment, type Tally } from './tally.js';

/** The follower changes its speed against the carrier, which the wheel turns evenly; `way` is +1 where a faster follower winds on (double drive), -1 else. */
export interface Treadled {
  /** kg m²: drive wheel; the carrier; the follower. */
  readonly wheel: number; readonly carrierInertia: number; readonly follower: number;
  /** Turns for one of the wheel: the carrier; what the follower sticks to (0: it stands). */
  readonly carrier: number; readonly sticksTo: number;
  readonly way: 1 | -1;
  readonly radius: number;
  /** N m: friction that the follower gives when it slips; of the bobbin on its shaft; drag of the flyer's bearings; of the wheel's. N m s²: the air's. */
  readonly slip: number; readonly spindle: number; readonly drag: number; readonly air: number; readonly bearing: number;
  /** The flyer is the follower (bobbin-lead): its drag brakes the follower, not the carrier. */
  readonly flyerFollows: boolean;
  /** N m at the crank. Half sines: one push in a turn, or two. */
  readonly push: number; readonly pushes: 1 | 2;
  readonly start: { readonly speed: number; readonly angle: number; readonly length: number; readonly turns: number; /** Of the draw-in, m/s; at rest when left out. */ readonly drawIn?: number };
  readonly hand: readonly Feed[]; readonly draft: readonly Draft[]; readonly until: number;
}
export interface Work { treadle: number; slip: number; drag: number; bearing: number; spindle: number; yarn: number; snatch: number; kinetic: number }
export interface TreadledOutcome extends Tally {
  readonly audits: Audits; readonly work: Work;
  readonly angle: number; readonly speed: number; readonly followerSpeed: number;
  readonly slowest: number; readonly fastest: number;
  /** The wheel came to a stand, s. */
  readonly stopped?: number;
}
type Phase = 'taut' | 'slipping' | 'standing';
/** State: angle, wheel speed, follower speed, slack, wound, free x, twist, wound turns, and the works. */
const n = 14;
const [ANGLE, SPEED, FOLLOWER, SLACK, WOUND, FREE, TWIST, TURNS, TREADLE, SLIP, DRAG, BEARING, SPINDLE, YARN] = Array.from({ length: n }, (_, i) => i) as [number, number, number, number, number, number, number, number, number, number, number, number, number, number];
/** Longest step, s; largest part of the free length that a step may wind. */
const usualLongest = 2e-3;
const share = 4e-3;

export function treadle(m: Treadled, look?: Look, longest: number = usualLongest): TreadledOutcome {
  const J0 = m.wheel + m.carrier ** 2 * m.carrierInertia;
  const { way, radius: r, follower: I, carrier: ic, sticksTo: is } = m;
  let phase: Phase = 'taut';
  // The piece of hand and draft that holds now.
  let [u0, du, w, from] = [0, 0, 0, 0];
  const feedAt = (t: number): number => u0 + du * (t - from);
  const push = (angle: number): number => (m.pushes === 2 ? m.push * Math.abs(Math.sin(angle)) : m.push * Math.max(0, Math.sin(angle)));
  /** Air and bearings of the flyer at this speed of it. */
  const dragAt = (speed: number): number => (speed > 0 ? m.drag + m.air * speed * speed : 0);
  const slipAt = (y: ArrayLike<number>): number => m.slip + (m.flyerFollows ? dragAt(y[FOLLOWER]!) : 0);
  const carrierDrag = (y: ArrayLike<number>): number => (m.flyerFollows ? 0 : dragAt(ic * y[SPEED]!));
  const drawIn = (y: ArrayLike<number>): number => r * way * (y[FOLLOWER]! - ic * y[SPEED]!);
  /** Gain of the wheel's speed, and pull in the yarn. */
  let pull = 0;
  const gain = (y: ArrayLike<number>): number => {
    const C = slipAt(y);
    const free = push(y[ANGLE]!) - m.bearing - ic * carrierDrag(y);
    if (phase === 'taut') {
      const a = (free + ic * way * C - is * C - (ic * I * way * du) / r) / (J0 + ic * ic * I);
      pull = (C - m.spindle - way * I * (ic * a + (way * du) / r)) / r;
      return a;
    }
    pull = 0;
    if (phase === 'standing') return (free + ic * way * m.spindle - is * way * m.spindle) / (J0 + is * is * I);
    return (free + ic * way * m.spindle - is * C) / J0;
  };
  const slope = (t: number, y: Float64Array, d: Float64Array): void => {
    const a = gain(y);
    const C = slipAt(y);
    const [speed, follower] = [y[SPEED]!, y[FOLLOWER]!];
    const u = feedAt(t);
    const v = phase === 'taut' ? u : drawIn(y);
    d[ANGLE] = speed;
    d[SPEED] = a;
    d[FOLLOWER] = phase === 'taut' ? ic * a + (way * du) / r : phase === 'standing' ? is * a : (way * (C - m.spindle)) / I;
    d[SLACK] = phase === 'taut' ? 0 : u - v;
    d[WOUND] = v;
    d[FREE] = w - u;
    const l = y[FREE]! + y[SLACK]!;
    const turning = (m.flyerFollows ? follower : ic * speed) / (2 * Math.PI);
    d[TWIST] = (turning - y[TWIST]! * w) / l;
    d[TURNS] = y[TWIST]! * v;
    d[TREADLE] = push(y[ANGLE]!) * speed;
    // Slipping friction takes up the difference of speeds; where the flyer follows, its drag is counted by itself.
    d[SLIP] = phase === 'standing' ? 0 : m.slip * Math.abs(is * speed - follower);
    d[DRAG] = m.flyerFollows ? dragAt(follower) * follower : carrierDrag(y) * ic * speed;
    d[BEARING] = m.bearing * speed;
    d[SPINDLE] = m.spindle * Math.abs(follower - ic * speed);
    d[YARN] = pull * u;
  };
  const [k1, k2, k3, k4, mid] = Array.from({ length: 5 }, () => new Float64Array(n)) as [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
  const y = new Float64Array(n);
  const trial = new Float64Array(n);
  const step = (t: number, h: number): void => {
    for (let i = 0; i < n; i++) mid[i] = y[i]! + (h / 2) * k1[i]!;
    slope(t + h / 2, mid, k2);
    for (let i = 0; i < n; i++) mid[i] = y[i]! + (h / 2) * k2[i]!;
    slope(t + h / 2, mid, k3);
    for (let i = 0; i < n; i++) mid[i] = y[i]! + h * k3[i]!;
    slope(t + h, mid, k4);
    for (let i = 0; i < n; i++) trial[i] = y[i]! + (h / 6) * (k1[i]! + 2 * k2[i]! + 2 * k3[i]! + k4[i]!);
  };
  const tops = (x: ArrayLike<number>): number => r * way * (is - ic) * x[SPEED]!;
  y[ANGLE] = m.start.angle;
  y[SPEED] = m.start.speed;
  y[FREE] = m.start.length;
  y[TWIST] = m.start.turns / m.start.length;
  const times = [...new Set([0, m.until, ...[...m.hand, ...m.draft].flatMap((p) => [p.from, p.to])])].filter((t) => t >= 0 && t <= m.until).toSorted((a, b) => a - b);
  const at = (t: number): void => {
    const f = m.hand.find((p) => p.from <= t && t < p.to);
    from = f?.from ?? 0;
    u0 = f?.start ?? 0;
    du = f === undefined ? 0 : (f.end - f.start) / (f.to - f.from);
    w = m.draft.find((p) => p.from <= t && t < p.to)?.speed ?? 0;
  };
  at(0);
  y[FOLLOWER] = ic * y[SPEED]! + (way * (m.start.drawIn ?? 0)) / r;
  const kinetic = (x: ArrayLike<number>): number => 0.5 * J0 * x[SPEED]! ** 2 + 0.5 * I * x[FOLLOWER]! ** 2;
  const before = kinetic(y);
  const tally = newTally(m, m.start.drawIn ?? 0);
  let [snatch, slowest, fastest, stopped] = [0, y[SPEED]!, y[SPEED]!, undefined as number | undefined];
  const moment: Moment = { time: 0, letIn: 0, drafted: 0, drawIn: 0, slack: 0, free: 0, twist: 0, pull: 0, wound: 0, wheelSpeed: 0 };
  let shown = 1;

  const settle = (t: number): void => {
    if (phase !== 'taut') return;
    const above = feedAt(t) > tops(y) * (1 + 1e-12) + 1e-15;
    gain(y);
    if (!above && pull >= -1e-12) return;
    phase = above ? 'standing' : 'slipping';
    if (above) y[FOLLOWER] = is * y[SPEED]!;
    tally.begins(t);
  };
  /** Whatever must not fall below 0 in this phase; the first to do so ends the step. */
  const guards = (t: number, x: Float64Array): readonly number[] => {
    const half = Math.PI * (Math.floor(y[ANGLE]! / Math.PI + 1e-9) + 1) - x[ANGLE]!;
    if (phase === 'taut') { gain(x); return [half, x[SPEED]!, pull, tops(x) - feedAt(t)]; }
    // Slack that grows is no grab: the yarn must be on its way in.
    const closing = x[SLACK]! + (feedAt(t) - drawIn(x) >= 0 ? Math.max(0, -x[SLACK]!) : 0);
    return phase === 'standing' ? [half, x[SPEED]!, closing] : [half, x[SPEED]!, closing, tops(x) - drawIn(x)];
  };
  const close = (t: number, h: number, which: number): number => {
    let [a, b] = [0, h];
    let [fa, fb] = [guards(t, y)[which]!, guards(t + h, trial)[which]!];
    for (let i = 0; i < 60 && b - a > 1e-15 * Math.max(1, t); i++) {
      const chord = a + ((b - a) * fa) / (fa - fb);
      const x = i % 3 === 2 || !(chord > a && chord < b) ? (a + b) / 2 : chord;
      step(t, x);
      const fx = guards(t + x, trial)[which]!;
      if (fx >= 0) [a, fa] = [x, fx]; else [b, fb] = [x, fx];
    }
    return b;
  };
  /** The blow is shared: the follower, and wheel and carrier as far as they turn with it (Kelvin: its work is the blow times the mean speed). */
  const strike = (t: number): void => {
    const [fast, u] = [drawIn(y), feedAt(t)];
    const blow = (fast - u) / (r * r * (1 / I + (ic * ic) / J0));
    y[FOLLOWER] = y[FOLLOWER]! - (way * blow * r) / I;
    y[SPEED] = y[SPEED]! + (ic * way * r * blow) / J0;
    y[SLACK] = 0;
    tally.grab(t, fast - u, u, blow / Math.max(fast - u, 1e-300));
    snatch += (blow * (fast + u)) / 2;
    phase = 'taut';
  };
  run: for (let piece = 0; piece + 1 < times.length; piece++) {
    let t = times[piece]!;
    const end = times[piece + 1]!;
    at(t);
    if (phase === 'taut') {
      // A hand that changes its speed at once.
      const jump = feedAt(t) - drawIn(y);
      if (jump < -1e-9) strike(t);
      else if (jump > 1e-9) { phase = 'slipping'; tally.begins(t); }
    }
    while (t < end) {
      settle(t);
      slope(t, y, k1);
      const l = y[FREE]! + y[SLACK]!;
      let h = Math.min(end - t, longest, (share * l) / Math.max(Math.abs(k1[WOUND]!), w, 1e-9));
      step(t, h);
      const now = guards(t + h, trial);
      let which = -1;
      if (now.some((g) => g < 0)) {
        // The earliest of those that fell.
        const fell = now.flatMap((g, i) => (g < 0 ? [{ i, h: (step(t, h), close(t, h, i)) }] : [])).sort((p, q) => p.h - q.h)[0]!;
        which = fell.i;
        h = fell.h;
        step(t, h);
      }
      const was = { t, slack: y[SLACK]!, twist: y[TWIST]!, dTwist: k1[TWIST]!, wound: y[WOUND]!, speed: y[SPEED]!, gain: k1[SPEED]!, draw: phase === 'taut' ? feedAt(t) : drawIn(y) };
      y.set(trial);
      t = which < 0 && h === end - t ? end : t + h;
      if (y[SLACK]! > tally.mostSlack) [tally.mostSlack, tally.mostSlackAt] = [y[SLACK]!, t];
      slowest = Math.min(slowest, y[SPEED]!);
      fastest = Math.max(fastest, y[SPEED]!);
      gain(y);
      if (phase === 'taut') { tally.leastPull = Math.min(tally.leastPull, Math.max(0, pull)); tally.mostPull = Math.max(tally.mostPull, pull); }
      const v = phase === 'taut' ? feedAt(t) : drawIn(y);
      if (v > 0 || was.draw > 0) { tally.leastTwist = Math.min(tally.leastTwist, was.twist); tally.mostTwist = Math.max(tally.mostTwist, y[TWIST]!); }
      if (phase !== 'taut') tally.slackTwist = Math.max(tally.slackTwist, y[TWIST]!);
      if (look !== undefined) {
        for (; shown * look.step <= t + 1e-12; shown++) {
          const q = h === 0 ? 1 : Math.min(1, (shown * look.step - was.t) / h);
          const mix = (a: number, b: number): number => a + q * (b - a);
          Object.assign(moment, { time: shown * look.step, letIn: feedAt(shown * look.step), drafted: w, drawIn: mix(was.draw, v), slack: mix(was.slack, y[SLACK]!), free: mix(l, y[FREE]! + y[SLACK]!), twist: mix(was.twist, y[TWIST]!), pull, wound: mix(was.wound, y[WOUND]!), wheelSpeed: mix(was.speed, y[SPEED]!) });
          look.at(moment);
        }
      }
      if (which === 0) y[ANGLE] = Math.PI * Math.round(y[ANGLE]! / Math.PI);
      else if (which === 1) { stopped = t; break run; }
      else if (which === 2 && phase !== 'taut') {
        strike(t);
      } else if (which === 2 || (which === 3 && phase === 'taut')) {
        phase = which === 2 ? 'slipping' : 'standing';
        if (phase === 'standing') y[FOLLOWER] = is * y[SPEED]!;
        tally.begins(t);
      } else if (which === 3) {
        phase = 'standing';
        y[FOLLOWER] = is * y[SPEED]!;
        tally.stands(t);
      }
    }
  }
  const until = stopped ?? m.until;
  tally.twist = y[TWIST]!;
  tally.wound = tally.woundByRule = y[WOUND]!;
  tally.woundTurns = y[TURNS]!;
  tally.turnsIn = (ic * (y[ANGLE]! - m.start.angle)) / (2 * Math.PI);
  const turnsIn = tally.turnsIn - (m.flyerFollows ? y[WOUND]! / (2 * Math.PI * r) : 0);
  const drafted = m.draft.reduce((sum, d) => sum + Math.max(0, Math.min(d.to, until) - d.from) * d.speed, 0);
  const l = y[FREE]! + y[SLACK]!;
  const work: Work = { treadle: y[TREADLE]!, slip: y[SLIP]!, drag: y[DRAG]!, bearing: y[BEARING]!, spindle: y[SPINDLE]!, yarn: y[YARN]!, snatch, kinetic: kinetic(y) - before };
  const checked = audits(
    { turns: m.start.turns + turnsIn - y[TWIST]! * l - y[TURNS]!, length: m.start.length + drafted - l - y[WOUND]!, energy: work.treadle - work.slip - work.drag - work.bearing - work.spindle - work.yarn - work.snatch - work.kinetic },
    { turns: tally.turnsIn, length: drafted, energy: work.treadle }, { turns: 1e-8, length: 1e-8, energy: 1e-7 },
  );
  return { ...tally, audits: checked, work, angle: y[ANGLE]!, speed: y[SPEED]!, followerSpeed: y[FOLLOWER]!, slowest, fastest, ...(stopped === undefined ? {} : { stopped }) };
}
