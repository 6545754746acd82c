/** What one measurement says by itself, beside what was written down. Pure. */
import type { Kind, UnitChoice } from '../foundation/quantity.js';
import { metric } from '../foundation/quantity.js';
import { Reader } from '../foundation/read.js';
import { isPoint, wire, type Q, type R, type Reading } from '../foundation/reading.js';
import { derive } from '../foundation/uncertainty.js';
import type { WheelRead } from '../wheels/profile.js';
import { coastBearing, coastFit, type Coast } from '../calculations/flyer/formula.js';
import { asPoint, countOf, flyerOf, sizeOf, wheelTurnsOf, type Measurement } from './measurement.js';

export interface Gives { size?: Q; flyerRatio?: R; bobbinRatio?: R; bobbinPerFlyerTurn?: R; heldPull?: Q; hookFactor?: R; drag?: Q; airDragAtTheStart?: Q }

export const flyerRatioOf = (m: Measurement): Reading | undefined => ratioOf(m, m.flyerTurns);
export const bobbinRatioOf = (m: Measurement): Reading | undefined => ratioOf(m, m.bobbinTurns);
function ratioOf(m: Measurement, counted: Measurement['flyerTurns']): Reading | undefined {
  const [turns, wheel] = [countOf(counted), wheelTurnsOf(m)];
  return turns === undefined || wheel === undefined ? undefined : derive((x) => x[0]! / x[1]!, [turns, wheel]);
}
/** Bobbin turns per flyer turn: of counted turns of both, or of laps wound in so many turns of the flyer. */
export function rhoOf(m: Measurement): Reading | undefined {
  const flyer = countOf(m.flyerTurns);
  if (flyer === undefined) return undefined;
  if (m.what !== 'lap-count') { const bobbin = countOf(m.bobbinTurns); return bobbin === undefined ? undefined : derive((x) => x[0]! / x[1]!, [bobbin, flyer]); }
  const laps = countOf(m.laps);
  const sign = m.windsOn === 'backwards' ? -1 : 1;
  return laps === undefined ? undefined : derive((x) => 1 + (sign * x[0]!) / x[1]!, [laps, flyer]);
}
/** Half-width at 95 % of a kitchen scale that nobody gave a ± for: 1 g. Common practice. */
const scale = 0.001 * 9.80665;
const pull = (m: Measurement, key: 'lifts' | 'pullsOff'): Reading | undefined => asPoint(new Reader().quantity(m[key], '', 'pull'), scale / 2);
/** What orifice and hooks multiply a pull by, √(W_off/W_in); and the pull between, √(W_in W_off). */
export function bagOf(m: Measurement): { factor: Reading; held: Reading } | undefined {
  const [lifts, off] = [pull(m, 'lifts'), pull(m, 'pullsOff')];
  if (lifts === undefined || off === undefined) return undefined;
  return { factor: derive((x) => Math.sqrt(x[1]! / x[0]!), [lifts, off]), held: derive((x) => Math.sqrt(x[1]! * x[0]!), [lifts, off]) };
}

/** Drag of what coasted down. One run: its mean torque. Two: bearing drag and air drag apart. Undefined: no inertia, or times that no such drag gives. */
export function coastOf(m: Measurement, wheel: WheelRead | undefined): { mean: Reading; bearing?: Reading; air?: Reading; fastest: number } | undefined {
  const r = new Reader();
  const inertia = m.inertia === undefined ? (wheel === undefined ? undefined : flyerOf(wheel, m.flyer)?.inertia) : r.quantity(m.inertia, '', 'inertia');
  const runs = (m.runs ?? []).map((run) => [r.quantity(run.from, '', 'turning'), r.quantity(run.to, '', 'turning'), r.quantity(run.time, '', 'time')]);
  if (inertia === undefined || runs.length === 0 || runs.some((run) => run.some((x) => x === undefined))) return undefined;
  const inputs = [inertia, ...(runs.flat() as Reading[])];
  const run = (x: readonly number[], i: number): Coast => ({ from: 2 * Math.PI * x[1 + 3 * i]!, to: 2 * Math.PI * x[2 + 3 * i]!, time: x[3 + 3 * i]! });
  const mean = derive((x) => coastBearing({ inertia: x[0]!, ...run(x, 0) }), inputs);
  const fastest = 2 * Math.PI * Math.max(...runs.map((q) => (isPoint(q[0]!) ? q[0].value : (q[0]!.high ?? 0))));
  if (runs.length === 1) return { mean, fastest };
  const of = (key: 'bearing' | 'air'): Reading => derive((x) => coastFit({ inertia: x[0]!, first: run(x, 0), second: run(x, 1) })[key], inputs);
  const [bearing, air] = [of('bearing'), of('air')];
  return [bearing, air].every((x) => isPoint(x) && Number.isFinite(x.value) && (x.u === undefined || Number.isFinite(x.u))) ? { mean, bearing, air, fastest } : { mean, fastest };
}

export function gives(m: Measurement, wheel: WheelRead | undefined, units: UnitChoice = metric): Gives {
  const q = (kind: Kind, r: Reading): Q => wire(kind, r, units) as Q;
  const out: Gives = {};
  const size = m.size === undefined ? undefined : sizeOf(m);
  if (size !== undefined) out.size = q(m.what === 'band-length' ? 'length' : 'part', size);
  const [flyer, bobbin, rho] = [m.what === 'lap-count' ? undefined : flyerRatioOf(m), bobbinRatioOf(m), rhoOf(m)];
  if (flyer !== undefined) out.flyerRatio = wire('ratio', flyer);
  if (bobbin !== undefined) out.bobbinRatio = wire('ratio', bobbin);
  if (rho !== undefined) out.bobbinPerFlyerTurn = wire('number', rho);
  const bag = m.what === 'bag-test' ? bagOf(m) : undefined;
  if (bag !== undefined) { out.heldPull = q('pull', bag.held); out.hookFactor = wire('number', bag.factor); }
  const coast = m.what === 'coast-down' ? coastOf(m, wheel) : undefined;
  if (coast !== undefined) {
    out.drag = q('torque', coast.bearing ?? coast.mean);
    // Air drag grows with the square of the speed: told as the torque at the speed from which it coasted.
    if (coast.air !== undefined) out.airDragAtTheStart = q('torque', derive((x) => x[0]! * coast.fastest ** 2, [coast.air]));
  }
  return out;
}
