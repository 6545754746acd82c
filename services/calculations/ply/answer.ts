/** Ply: singles to plied yarn and back, twist left, balance by every rule, cables, chain ply, turns at the wheel. Pure; throws a ProblemError. */
import { noUncertainty } from '../../foundation/notes.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { bohrOlsen, gum, iso1139, kleinTwist, pliedContractionAbstract, rossWorkbook, type Source } from '../../foundation/sources.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { balanceOf, type Balance } from './balance.js';
import { cableOf, type CableAnswer } from './cable.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import { snarlOf, sourcesOf, type SnarlAnswer } from './snarl.js';
import { solve, type ContractionFrom, type PlyQuestion, type Solved } from './solve.js';
import type { Construction, Direction } from './strands.js';
import { pairRows, rooms, turnsFor, type PairRow, type RoomRow } from './wheel.js';
import { yardageOf, type StrandLength, type Yardage } from './yardage.js';

export type { PlyQuestion };
export interface StrandRow extends StrandLength { name: string; grist?: Q; twist?: Q; direction?: Direction; twistLeft?: Q; untwisted?: boolean }
export interface PlyResult {
  construction: Construction; plies: number; plyDirection?: Direction; wheelTurns?: R; treadles?: R; draftLengthPerWheelTurn?: Q;
  plied: { grist?: Q; length?: Q; mass?: Q; twist?: Q; angle?: Q };
  singles?: Q; contraction?: Q; extra?: Q; contractionFrom?: ContractionFrom; contractions?: { model: 'lengthening' | 'fixed-length' | 'measured'; contraction: Q; grist?: Q }[];
  strands?: StrandRow[]; balance?: Balance; tightest?: { angle: Q; crosswise: Q; share: Q; radius: R; mostTwist?: Q; perStrand: R; perPly: R };
  yardage?: Yardage; cable?: CableAnswer; snarl?: SnarlAnswer; pairs?: PairRow[]; rooms?: RoomRow[];
}
export const model = { id: 'ply', version: '1.0.0' } as const;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<PlyResult> {
  const s = solve(question);
  const { k, out, plies } = s;
  const units = options.units ?? metric;
  const known = (e: Expr): Reading => k.reading(e);
  const q = (kind: Kind, e: Expr): Q => wire(kind, known(e), units);
  const result: PlyResult = { construction: s.construction, plies, ...(s.plyDirection === undefined ? {} : { plyDirection: s.plyDirection }), plied: {} };
  if (s.construction === 'chain') out.assume(notes.chainLies);

  const asked = s.singlesTwist !== undefined || s.plyTwist !== undefined || s.singlesAngle !== undefined;
  const balance = s.mixed || !asked ? undefined : balanceOf({ plies, stiffness: s.stiffness, ...(s.singlesTwist === undefined ? {} : { singles: s.singlesTwist }), ...(s.plyTwist === undefined || s.against < 0 ? {} : { ply: s.plyTwist }), ...(s.singlesAngle === undefined ? {} : { singlesAngle: s.singlesAngle }) }, k, out, units);
  turnsAtWheel(s, result, balance?.plyTwist, units);
  const yardage = yardageOf(s, units);
  const [length, mass] = [yardage.length ?? s.plyLength, s.plyMass ?? yardage.mass];
  if (s.plied !== undefined) result.plied.grist = q('grist', s.plied);
  if (length !== undefined) result.plied.length = q('length', length);
  if (mass !== undefined) result.plied.mass = q('mass', mass);
  if (s.plyTwist !== undefined) result.plied.twist = q('twist', s.plyTwist);
  if (s.plyAngle !== undefined) result.plied.angle = q('angle', s.plyAngle);
  if (s.strand !== undefined) result.singles = q('grist', s.strand);
  if (s.strand !== undefined || length !== undefined || s.models.fixed !== undefined) {
    result.contraction = q('share', s.contraction);
    result.extra = q('share', expr((contraction) => f.extraOfContraction({ contraction }), s.contraction));
    result.contractionFrom = s.contractionFrom;
  }
  contractions(s, result, q);
  const strands = strandRows(s, yardage.strands, q);
  if (strands.length > 0) result.strands = strands;
  if (balance !== undefined) {
    result.balance = balance.answer;
    if (balance.answer.state === 'under-plied') out.warn(notes.underPlied);
    if (balance.answer.state === 'over-plied' && s.construction !== 'cable') out.warn(notes.overPlied);
  }
  tightest(s, result, q);
  if (yardage.answer !== undefined) result.yardage = yardage.answer;
  if (s.construction === 'cable') result.cable = cableOf(s, units);
  const snarl = snarlOf(s, units);
  if (snarl !== undefined) result.snarl = snarl;
  if (mass !== undefined) { const list = rooms(s.wheel, mass, s.r, k, out, units); if (list.length > 0) result.rooms = list; }
  s.r.done();
  if (!k.hasUncertainty) out.warn(noUncertainty);
  const used = [kleinTwist, iso1139, ...(result.contractions === undefined && result.strands?.some((x) => x.twistLeft) !== true ? [] : [pliedContractionAbstract]), ...(result.balance === undefined ? [] : [rossWorkbook]), ...(result.tightest === undefined ? [] : [bohrOlsen]), ...snarlSources(result), gum];
  return reply(result, out, used, model, options);
}
const snarlSources = (result: PlyResult): readonly Source[] => (result.snarl === undefined ? [] : sourcesOf());

function turnsAtWheel(s: Solved, result: PlyResult, balanced: Reading | undefined, units: NonNullable<AnswerOptions['units']>): void {
  const { k, out, draw } = s;
  const drivers = s.wheel.drivers;
  if (draw.ratio === undefined && drivers.length === 0) return;
  let twist = s.plyTwist;
  // The turns were given: then the twist is what the draw gets, on each driver its own.
  if (draw.turns !== undefined && s.q['plyTwist'] === undefined && s.q['bumps'] === undefined) twist = undefined;
  else if (twist === undefined && balanced !== undefined) { twist = k.assumed(balanced); out.assume(notes.balancedTwistTaken); }
  const d = { ...(twist === undefined ? {} : { twist }), ...(draw.length === undefined ? {} : { length: draw.length }), ...(draw.turns === undefined ? {} : { turns: draw.turns }), ...(draw.lap === undefined ? {} : { lap: draw.lap }) };
  if (draw.ratio === undefined) { result.pairs = pairRows(drivers, d, k, units); return; }
  const found = turnsFor(draw.ratio, d);
  if (found.wheelTurns !== undefined) {
    result.wheelTurns = wire('number', k.reading(found.wheelTurns));
    if (s.q['counted'] === 'each-foot') result.treadles = wire('number', k.reading(expr((n) => 2 * n, found.wheelTurns)));
  }
  if (found.perTurn !== undefined) result.draftLengthPerWheelTurn = wire('part', k.reading(found.perTurn), units);
}

type Write = (kind: Kind, e: Expr) => Q;
function contractions(s: Solved, result: PlyResult, q: Write): void {
  const { sum } = s;
  const row = (name: 'lengthening' | 'fixed-length' | 'measured', c: Expr | undefined) => (c === undefined ? [] : [{ model: name, contraction: q('share', c), ...(sum === undefined ? {} : { grist: q('grist', expr((g, x) => f.pliedGrist({ sum: g, contraction: x }), sum, c)) }) }]);
  const list = [...row('lengthening', s.models.lengthening), ...row('fixed-length', s.models.fixed), ...row('measured', s.measured)];
  if (list.length > 0) result.contractions = list;
  if (s.measured === undefined) return;
  const gap = extent(s.k.reading(expr((a, b) => a - b, s.measured, s.contraction)));
  if (gap.low > 0.005 || gap.high < -0.005) s.out.warn(notes.doesNotAgree);
}

function strandRows(s: Solved, lengths: readonly StrandLength[], q: Write): StrandRow[] {
  const { k, out } = s;
  if (s.strands.length === 0) return [];
  const angle = s.plyAngle ?? (s.plyTwist === undefined || s.strands.every((x) => x.twist === undefined) ? undefined : (out.assume(notes.plyAngleTaken), k.assumed({ low: 0, high: Math.PI / 6 })));
  return s.strands.map((x, i) => {
    const row: StrandRow = { name: x.name, ...(x.grist === undefined ? {} : { grist: q('grist', x.grist) }), ...(x.twist === undefined ? {} : { twist: q('twist', x.twist) }), ...(x.direction ?? (s.mixed ? undefined : s.singlesDirection)) === undefined ? {} : { direction: (x.direction ?? s.singlesDirection)! }, ...lengths[i] };
    if (x.twist === undefined || s.plyTwist === undefined || angle === undefined) return row;
    // Of mixed strands each is with or against the ply by itself; with no ply direction nobody can say.
    const against = s.mixed ? (s.plyDirection === undefined || x.direction === undefined ? undefined : x.direction === s.plyDirection ? -1 : 1) : s.against;
    if (against === undefined) return row;
    const left = expr((singles, ply, a) => f.twistLeft({ singles, ply, angle: a, against }), x.twist, s.plyTwist, angle);
    row.twistLeft = q('twist', left);
    if (extent(k.reading(left)).high < 0) { row.untwisted = true; out.warn(notes.untwisted); }
    return row;
  });
}

function tightest(s: Solved, result: PlyResult, q: Write): void {
  if (s.plies > 4 || (s.plyTwist === undefined && s.singlesTwist === undefined && s.diameter === undefined)) return;
  const { angle, share, radius, perStrand, perPly } = f.tightestPly({ plies: s.plies });
  const fixed = (value: number): Expr => ({ uses: [], at: () => value });
  result.tightest = { angle: q('angle', fixed(angle)), crosswise: q('angle', fixed(Math.PI / 2 - angle)), share: q('share', fixed(share)), radius: wire('number', { value: radius }), perStrand: wire('number', { value: perStrand }), perPly: wire('number', { value: perPly }) };
  if (s.diameter === undefined) return;
  const most = expr((d) => perPly / d, s.diameter);
  result.tightest.mostTwist = q('twist', most);
  if (s.plyTwist !== undefined && extent(s.k.reading(expr((t, m) => t - m, s.plyTwist, most))).low > 0) s.out.warn(notes.tooTight);
}
