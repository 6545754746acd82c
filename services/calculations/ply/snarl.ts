/** The tension below which a fresh single snarls between the bobbins and the hand. */
import type { UnitChoice } from '../../foundation/quantity.js';
import { wire, type Q, type R } from '../../foundation/reading.js';
import { mortonHearle, neukirch, type Source } from '../../foundation/sources.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import { fibreOf, isHair, youngsModulus } from '../../reference/fibres.js';
import { fibreGristOf } from '../grist/formula.js';
import { woolTaken } from '../grist/notes.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import type { Solved } from './solve.js';

export interface SnarlAnswer { leastTension: Q; torque: Q; fibres: R }

/** Which sort of a fibre stands for it, where the table has several (Morton & Hearle, Physical Properties of Textile Fibres, 4th ed., Table 13.1: initial modulus). */
const sorts: Readonly<Record<string, string>> = { wool: '64s', cotton: 'upland' };
export const sourcesOf = (): readonly Source[] => [mortonHearle, neukirch];

export function snarlOf(s: Solved, units: UnitChoice): SnarlAnswer | undefined {
  const { q, r, k, out } = s;
  const micron = q['fibreDiameter'] === undefined ? undefined : r.quantity(q['fibreDiameter'], '/fibreDiameter', 'fibre-diameter', { moreThan: 1e-7, atMost: 1e-3, says: 'from 0.1 to 1000 micron' });
  const count = q['fibresInSection'] === undefined ? undefined : r.number(q['fibresInSection'], '/fibresInSection', { moreThan: 0, atMost: 1e6 });
  const given = q['torque'] === undefined ? undefined : r.quantity(q['torque'], '/torque', 'torque', { moreThan: 0, atMost: 1 });
  if ((count ?? given) !== undefined && micron === undefined) r.missing('/fibreDiameter', 'The thickness of a fibre', 'such as 21 micron');
  r.done();
  if (micron === undefined) return undefined;
  const fibre = fibreOf(s.fibreId);
  const strengths = (isHair(s.fibreId) ? fibreOf('wool') : fibre)?.strengths;
  const modulus = (strengths?.find((x) => x.sort === sorts[isHair(s.fibreId) ? 'wool' : s.fibreId]) ?? strengths?.[0])?.modulus;
  if (modulus === undefined || fibre === undefined) { out.warn(notes.stiffnessUnknown); return undefined; }
  const { density } = fibre;
  if (!s.fibreSaid) out.assume(woolTaken);
  const diameter = k.input(micron);
  const n: Expr | undefined = count !== undefined ? k.input(count) : s.strand === undefined ? undefined : expr((grist, d) => grist / fibreGristOf({ density, diameter: d, spread: 0 }), s.strand, diameter);
  if (n === undefined) return undefined;
  const stiffness = expr((fibreCount, d) => f.slippingStiffness({ fibres: fibreCount, modulus: youngsModulus({ modulus, density }), diameter: d }), n, diameter);
  const torque = given !== undefined ? k.input(given) : s.singlesTwist === undefined ? undefined : expr((b, ratio, twist) => f.strandTorque({ stiffness: b, ratio, twist }), stiffness, s.stiffness(), s.singlesTwist);
  if (torque === undefined) return undefined;
  out.assume(notes.slippingFibres);
  return { leastTension: wire('pull', k.reading(expr((m, b) => f.leastTension({ torque: m, stiffness: b }), torque, stiffness)), units), torque: wire('torque', k.reading(torque), units), fibres: wire('number', k.reading(n)) };
}
