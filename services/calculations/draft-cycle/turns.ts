/**
 * Twist in the free length. It goes in evenly along the yarn (well mixed): T' = (n - T·w)/l, with n flyer turns a second and w
 * the new yarn without twist. Stored twist is found by Gauss collocation of sixth order, what is wound by a Hermite rule from
 * the ends of the steps: two ways, so that their sum tells whether turns were lost.
 */
import { drawnAt, slackAt, speedAt, type Motion, type Stretch } from './motion.js';
import type { Look, Moment, Tally } from './tally.js';

const root15 = Math.sqrt(15);
const c = [0.5 - root15 / 10, 0.5, 0.5 + root15 / 10] as const;
export const weights = [5 / 18, 4 / 9, 5 / 18] as const;
export const nodes = c;
const A = [
  [5 / 36, 2 / 9 - root15 / 15, 5 / 36 - root15 / 30],
  [5 / 36 + root15 / 24, 2 / 9, 5 / 36 - root15 / 24],
  [5 / 36 + root15 / 30, 2 / 9 + root15 / 15, 5 / 36],
] as const;
/** Largest share of the free length that a step may wind or draft: the sixth power of it is the error. */
export const usualShare = 0.025;
/** Largest part of a round of the pulse, rad. */
const arc = 0.1;

/** Steps the twist through one stretch of motion. Written out in plain numbers: it is where a run spends its time. */
export function windTurns(z: Stretch, m: Motion, tally: Tally, share: number, look?: Look): void {
  const { t, dt, w, p0, p1, pa, rate, depth } = z;
  const even = m.carrier / (2 * Math.PI);
  const pulsed = depth !== 0;
  const cos0 = pulsed ? Math.cos(rate * t) : 0;
  const turned = even * (dt + (pulsed ? (depth * (cos0 - Math.cos(rate * (t + dt)))) / rate : 0));
  tally.turnsIn += turned;
  const whole = z.x + z.s;
  if (p0 === 0 && p1 === 0 && pa === 0) {
    // Nothing is wound: what the flyer turns stays in the yarn.
    if (look !== undefined) show(z, m, tally, look, 0, dt, undefined);
    tally.twist = (tally.twist * whole + turned) / (whole + w * dt);
    tally.sawTwist(tally.twist, z, dt);
    return;
  }
  const perLap = m.perLap ? 1 / (2 * Math.PI * m.radius) : 0;
  let T = tally.twist;
  let wound = 0;
  let tau = 0;
  let l = whole;
  // At the last end of a step: T', and T·v with its first and second slope.
  let slope = 0;
  let flux = 0;
  let flux1 = 0;
  let flux2 = 0;
  for (let first = true; ; first = false) {
    let h = 0;
    const [T0, slope0, f0, g0, k0] = [T, slope, flux, flux1, flux2];
    if (!first) {
      const v = Math.max(Math.abs(p0 + p1 * tau), Math.abs(p0 + p1 * dt)) + Math.abs(pa);
      h = (share * l) / Math.max(v, w);
      if (pulsed && h * rate > arc) h = arc / rate;
      // Equal steps for what is left, so that none is a crumb.
      h = (dt - tau) / Math.max(1, Math.ceil((dt - tau) / h - 1e-9));
      let s1 = 0;
      let s2 = 0;
      let s3 = 0;
      for (let j = 0; j < 3; j++) {
        const at = tau + c[j]! * h;
        const sin = pulsed ? Math.sin(rate * (t + at)) : 0;
        const speed = p0 + p1 * at + pa * sin;
        const free = whole + w * at - (p0 + 0.5 * p1 * at) * at - (pa === 0 ? 0 : (pa * (cos0 - Math.cos(rate * (t + at)))) / rate);
        const f = (even * (1 + depth * sin) - perLap * speed - w * T0) / free;
        if (j === 0) [s1, nodeLength1] = [f, free]; else if (j === 1) [s2, nodeLength2] = [f, free]; else [s3, nodeLength3] = [f, free];
      }
      if (w > 0) [s1, s2, s3] = solved(s1, s2, s3, (h * w) / nodeLength1, (h * w) / nodeLength2, (h * w) / nodeLength3);
      T += h * (weights[0] * (s1 + s3) + weights[1] * s2);
      tau += h;
    }
    const sin = pulsed ? Math.sin(rate * (t + tau)) : 0;
    const cos = pulsed ? Math.cos(rate * (t + tau)) : 0;
    const v = p0 + p1 * tau + pa * sin;
    const dv = p1 + pa * rate * cos;
    l = whole + w * tau - (p0 + 0.5 * p1 * tau) * tau - (pa === 0 ? 0 : (pa * (cos0 - cos)) / rate);
    slope = (even * (1 + depth * sin) - perLap * v - T * w) / l;
    flux = T * v;
    flux1 = slope * v + T * dv;
    flux2 = ((even * depth * rate * cos - perLap * dv - slope * (2 * w - v)) / l) * v + 2 * slope * dv - T * pa * rate * rate * sin;
    if (!first) {
      // Hermite quadrature from both ends, error h⁷f⁽⁶⁾/100 800.
      wound += (h / 2) * (f0 + flux) + ((h * h) / 10) * (g0 - flux1) + ((h * h * h) / 120) * (k0 + flux2);
      if (look !== undefined) show(z, m, tally, look, tau - h, h, [T0, T, slope0, slope]);
    }
    tally.sawTwist(T, z, tau);
    if (dt - tau <= 1e-12 * dt) break;
  }
  tally.woundTurns += wound;
  tally.twist = T;
}
let nodeLength1 = 0;
let nodeLength2 = 0;
let nodeLength3 = 0;

const moment: Moment = { time: 0, letIn: 0, drafted: 0, drawIn: 0, slack: 0, free: 0, twist: 0, pull: 0, wound: 0, wheelSpeed: 0 };
/** Every moment of the look's grid within one step: the motion exactly, the twist by its cubic between the ends. */
function show(z: Stretch, m: Motion, tally: Tally, look: Look, from: number, h: number, ends: readonly [number, number, number, number] | undefined): void {
  const start = z.t + from;
  for (let k = Math.floor(start / look.step * (1 + 1e-13)) + 1; ; k++) {
    const time = k * look.step;
    if (time > start + h + 1e-12) return;
    const tau = Math.min(time - z.t, z.dt);
    const q = (tau - from) / h;
    moment.time = time;
    moment.letIn = z.u + z.du * tau;
    moment.drafted = z.w;
    moment.drawIn = speedAt(z, tau);
    moment.slack = slackAt(z, tau);
    const drawn = drawnAt(z, tau);
    moment.free = z.x + z.s + z.w * tau - drawn;
    if (ends === undefined) moment.twist = (tally.twist * (z.x + z.s) + (m.carrier / (2 * Math.PI)) * (tau + (z.depth === 0 ? 0 : (z.depth * (Math.cos(z.rate * z.t) - Math.cos(z.rate * time))) / z.rate))) / moment.free;
    else moment.twist = ends[0] + q * q * (3 - 2 * q) * (ends[1] - ends[0]) + h * q * (1 - q) * ((1 - q) * ends[2] - q * ends[3]);
    moment.pull = z.phase === 'taut' ? m.mass * (m.quickening + (z.depth === 0 ? 0 : z.b * Math.cos(z.rate * time)) - z.du) : 0;
    moment.wound = tally.wound + drawn;
    moment.wheelSpeed = z.depth === 0 ? 1 : 1 + z.depth * Math.sin(z.rate * time);
    look.at(moment);
  }
}

/** (1 + diag(B)·A) f = r by Cramer's rule; B is h·w/l at each node. */
function solved(r1: number, r2: number, r3: number, b1: number, b2: number, b3: number): [number, number, number] {
  const [m11, m12, m13] = [1 + b1 * A[0][0], b1 * A[0][1], b1 * A[0][2]];
  const [m21, m22, m23] = [b2 * A[1][0], 1 + b2 * A[1][1], b2 * A[1][2]];
  const [m31, m32, m33] = [b3 * A[2][0], b3 * A[2][1], 1 + b3 * A[2][2]];
  const [c1, c2, c3] = [m22 * m33 - m23 * m32, m23 * m31 - m21 * m33, m21 * m32 - m22 * m31];
  const det = m11 * c1 + m12 * c2 + m13 * c3;
  return [
    (r1 * c1 + m12 * (m23 * r3 - r2 * m33) + m13 * (r2 * m32 - m22 * r3)) / det,
    (m11 * (r2 * m33 - m23 * r3) + r1 * c2 + m13 * (m21 * r3 - r2 * m31)) / det,
    (m11 * (m22 * r3 - r2 * m32) + m12 * (r2 * m31 - m21 * r3) + r1 * c3) / det,
  ];
}
