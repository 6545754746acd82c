/** A cable: plied yarns plied again, the other way. */
import type { UnitChoice } from '../../foundation/quantity.js';
import { shown } from '../../foundation/read.js';
import { isPoint, wire, type Q } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import { diameterOf, surfaceAngle } from '../twist/formula.js';
import { balanceOf, type Balance } from './balance.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import type { Solved } from './solve.js';
import { directions, mostPlies, opposite, type Direction } from './strands.js';

export interface CableAnswer { plies: number; strandsInAll: number; direction?: Direction; grist?: Q; twist?: Q; contraction?: Q; angle?: Q; plyTwistLeft?: Q; balance?: Balance }

export function cableOf(s: Solved, units: UnitChoice): CableAnswer {
  const { q, r, k, out } = s;
  const n = q['cablePlies'] === undefined ? { value: 2 } : r.number(q['cablePlies'], '/cablePlies', { atLeast: 1, atMost: mostPlies, says: `a whole number from 2 to ${mostPlies}` });
  if (n !== undefined && (!isPoint(n) || !Number.isInteger(n.value) || n.value < 2)) r.fail('/cablePlies', { code: 'out-of-range', detail: 'How many plied yarns make the cable is a whole number, 2 or more.', received: shown(q['cablePlies']), expected: `a whole number from 2 to ${mostPlies}` });
  const twistRead = q['cableTwist'] === undefined ? undefined : r.quantity(q['cableTwist'], '/cableTwist', 'twist', { moreThan: 0, atMost: 1e5 });
  const said = q['cableDirection'] === undefined ? undefined : r.choice(q['cableDirection'], '/cableDirection', ['S', 'Z'] as const, directions);
  r.done();
  const plies = n !== undefined && isPoint(n) ? n.value : 2;
  const twist = twistRead && k.input(twistRead);
  const direction = said ?? (s.plyDirection === undefined ? undefined : opposite(s.plyDirection));
  const same = said !== undefined && said === s.plyDirection;
  if (same) out.warn(notes.cableSame);
  out.assume(notes.cableTaken);
  const w = (kind: 'grist' | 'twist' | 'share' | 'angle', e: Expr): Q => wire(kind, k.reading(e), units);
  const answer: CableAnswer = { plies, strandsInAll: plies * s.plies, ...(direction === undefined ? {} : { direction }) };
  // The plied yarn as one strand: round, of its own grist, at the same packing.
  const diameter = s.plied === undefined || s.volume === undefined ? undefined : expr((g, v) => diameterOf({ grist: g, volume: v }), s.plied, s.volume);
  const pliedAngle = diameter === undefined || s.plyTwist === undefined ? undefined : expr((d, t) => surfaceAngle({ twist: t, diameter: d }), diameter, s.plyTwist);
  const angle = diameter === undefined || twist === undefined || plies > 6 ? undefined : expr((d, t) => f.plyAngle({ radius: f.ringRadius({ diameter: d, plies }), twist: t }), diameter, twist);
  const contraction = angle === undefined || pliedAngle === undefined ? undefined : expr((a, b, c, p) => f.pliedContraction({ singlesAngle: a, plyAngle: b, ratio: ((same ? -1 : 1) * c) / p }), pliedAngle, angle, twist!, s.plyTwist!);
  if (twist !== undefined) answer.twist = w('twist', twist);
  if (angle !== undefined) answer.angle = w('angle', angle);
  if (contraction !== undefined) answer.contraction = w('share', contraction);
  if (s.plied !== undefined) answer.grist = w('grist', contraction === undefined ? expr((g) => g * plies, s.plied) : expr((g, c) => f.pliedGrist({ sum: g * plies, contraction: c }), s.plied, contraction));
  if (s.plyTwist !== undefined && twist !== undefined) {
    const at = angle ?? (out.assume(notes.plyAngleTaken), k.assumed({ low: 0, high: Math.PI / 6 }));
    answer.plyTwistLeft = w('twist', expr((singles, ply, a) => f.twistLeft({ singles, ply, angle: a, against: same ? -1 : 1 }), s.plyTwist, twist, at));
  }
  if (s.plyTwist !== undefined || twist !== undefined) {
    const found = balanceOf({ plies, stiffness: s.stiffness, ...(s.plyTwist === undefined ? {} : { singles: s.plyTwist }), ...(twist === undefined || same ? {} : { ply: twist }) }, k, out, units).answer;
    // What stands against a ply twist here is that of the plied yarn.
    answer.balance = found;
    if (found.state === 'under-plied') out.warn(notes.underPlied);
    if (found.state === 'over-plied') out.warn(notes.overPlied);
  }
  return answer;
}
