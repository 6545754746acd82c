/** How much: singles for a wanted length of plied yarn, by the rule and truly; or the plied yarn that given singles make, and what is left over. */
import type { UnitChoice } from '../../foundation/quantity.js';
import { extent, wire, type Q } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import * as notes from './notes.js';
import type { Solved } from './solve.js';

export interface StrandLength { length?: Q; mass?: Q; leftOver?: Q }
export interface Yardage { byTheRule: Q; eachStrand: Q; singlesLength: Q; withEnds?: Q; perBobbin?: Q; singlesMass?: Q }
interface Found { readonly answer?: Yardage; readonly strands: readonly StrandLength[]; readonly length?: Expr; readonly mass?: Expr }

export function yardageOf(s: Solved, units: UnitChoice): Found {
  const { k, out, plies, r, q } = s;
  const w = (kind: 'length' | 'mass', e: Expr): Q => wire(kind, k.reading(e), units);
  const ends = q['endsLost'] === undefined ? undefined : r.quantity(q['endsLost'], '/endsLost', 'share', { atLeast: 0, atMost: 5, says: 'from 0 to 500 %' });
  const spread = q['bobbinsOfSingles'] === undefined ? undefined : r.number(q['bobbinsOfSingles'], '/bobbinsOfSingles', { moreThan: 0, atMost: 1e5 });
  r.done();
  // A single that is chained is its own three strands.
  const parts = s.construction === 'chain' ? plies : 1;
  const lengths = s.strands.map((x) => (x.length === undefined ? undefined : parts === 1 ? x.length : expr((l) => l / parts, x.length)));
  const whole = lengths.length > 0 && lengths.every((l) => l !== undefined) ? (lengths as Expr[]) : undefined;
  const reached = whole === undefined ? undefined : expr((c, ...l) => Math.min(...l) * (1 - c), s.contraction, ...whole);
  const length = s.plyLength ?? reached;
  const needed = length === undefined ? undefined : expr((l, c) => l / (1 - c), length, s.contraction);
  const strands = s.strands.map((x, i): StrandLength => {
    const row: StrandLength = { ...(x.length === undefined ? {} : { length: w('length', x.length) }), ...(x.mass === undefined ? {} : { mass: w('mass', x.mass) }) };
    const l = lengths[i];
    if (l === undefined || needed === undefined) return row;
    const left = expr((a, b) => (a - b) * parts, l, needed);
    row.leftOver = w('length', left);
    if (s.plyLength !== undefined && extent(k.reading(left)).high < 0) out.warn(notes.notEnough);
    return row;
  });
  if (length === undefined || needed === undefined) {
    // Weights alone still say what the plied yarn will weigh.
    const masses = s.strands.map((x) => x.mass);
    const each = s.strands.length === 1 && s.construction !== 'chain' ? plies : 1;
    return { strands, ...(masses.length > 0 && masses.every((m) => m !== undefined) ? { mass: expr((...m) => m.reduce((a, b) => a + b, 0) * each, ...masses) } : {}) };
  }
  out.assume(notes.countingRule);
  const total = expr((l) => l * plies, needed);
  let allowance = ends === undefined ? undefined : k.input(ends);
  if (allowance === undefined && s.construction === 'chain') { out.assume(notes.endsTaken); allowance = k.assumed({ value: 0.05 }); }
  const answer: Yardage = { byTheRule: w('length', expr((l) => l * plies, length)), eachStrand: w('length', needed), singlesLength: w('length', total) };
  const toSpin = allowance === undefined ? total : expr((l, share) => l * (1 + share), total, allowance);
  if (allowance !== undefined) answer.withEnds = w('length', toSpin);
  if (spread !== undefined) answer.perBobbin = w('length', expr((l, n) => l / n, toSpin, k.input(spread)));
  const mass = s.plied === undefined ? undefined : expr((l, g) => l * g, length, s.plied);
  if (mass !== undefined) answer.singlesMass = w('mass', mass);
  return { answer, strands, length, ...(mass === undefined ? {} : { mass }) };
}
