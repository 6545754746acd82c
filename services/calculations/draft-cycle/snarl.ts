/** How far yarn of so much twist is from a snarl: the pull that keeps it straight, beside the pull that there is. Pure. */
import type { UnitChoice } from '../../foundation/quantity.js';
import { extent, wire, type Q, type Reading } from '../../foundation/reading.js';
import { expr } from '../../foundation/uncertainty.js';
import { fibreOf, youngsModulus } from '../../reference/fibres.js';
import { slippingStiffness, strandTorque } from '../ply/formula.js';
import * as f from './formula.js';
import type { Outcome } from './motion.js';
import * as notes from './notes.js';
import type { Solved } from './solve.js';

export interface SnarlAnswer { torque: Q; certain: Q; possible: Q; state: 'kept-straight' | 'may-snarl' | 'snarls' | 'too-close-to-say' }
/** Bending over torsional stiffness of wool, as in a ply. */
const ratio: Reading = { low: 1.2, high: 1.4 };

export function snarlOf(s: Solved, twist: number, o: Outcome, units: UnitChoice): SnarlAnswer | undefined {
  const { q, r, k, out } = s;
  const micron = q['fibreDiameter'] === undefined ? undefined : r.quantity(q['fibreDiameter'], '/fibreDiameter', 'fibre-diameter', { moreThan: 1e-7, atMost: 1e-3, says: 'from 0.1 to 1000 micron' });
  const count = q['fibresInSection'] === undefined ? undefined : r.number(q['fibresInSection'], '/fibresInSection', { moreThan: 0, atMost: 1e6 });
  if ((q['fibreDiameter'] === undefined) !== (q['fibresInSection'] === undefined)) r.missing(micron === undefined ? '/fibreDiameter' : '/fibresInSection', 'For snarls the thickness of a fibre and how many there are across the yarn: both', 'such as 21 micron and 120');
  r.done();
  if (micron === undefined || count === undefined) return undefined;
  const wool = fibreOf('wool')!;
  const modulus = (wool.strengths?.find((x) => x.sort === '64s') ?? wool.strengths?.[0])?.modulus;
  if (modulus === undefined) return undefined;
  out.assume(notes.woolTaken);
  const stiffness = expr((fibres, diameter) => slippingStiffness({ fibres, modulus: youngsModulus({ modulus, density: wool.density }), diameter }), k.input(count), k.input(micron));
  const torque = expr((b, by) => strandTorque({ stiffness: b, ratio: by, twist }), stiffness, k.assumed(ratio));
  const [certain, possible] = [f.loopsSurely, f.loopsMay].map((form) => k.reading(expr((t, b) => form({ torque: t, stiffness: b }), torque, stiffness))) as [Reading, Reading];
  // Slack yarn has no pull at all.
  const least = o.mostSlack > 1e-6 ? 0 : Number.isFinite(o.leastPull) ? o.leastPull : 0;
  const state = least === 0 || least < extent(certain).low ? 'snarls' : least > extent(possible).high ? 'kept-straight' : least < extent(possible).low ? 'may-snarl' : 'too-close-to-say';
  if (state !== 'kept-straight' && o.mostSlack <= 1e-6) out.warn(notes.pullBelowSnarl);
  return { torque: wire('torque', k.reading(torque), units), certain: wire('pull', certain, units), possible: wire('pull', possible, units), state };
}
