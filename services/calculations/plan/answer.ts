/** Plan: what to spin for a project, how much fibre, on which bobbins, in how many hours, and whether what is at hand is enough. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import { extent, isPoint, middle, wire, type Q, type R } from '../../foundation/reading.js';
import { gum, yardAndPound } from '../../foundation/sources.js';
import { Knowns, type Expr } from '../../foundation/uncertainty.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { soreHands } from '../tension/notes.js';
import { likelihood } from './formula.js';
import { readPlan, type Given } from './inputs.js';
import { Likely, work, type AllowanceName, type Stage, type Work } from './work.js';

export type { PlanQuestion } from './inputs.js';
export interface PlanResult {
  wanted: { length?: Q; mass?: Q; pieces: R; warp?: Q; weft?: Q };
  yarn?: { grist: Q; plies?: number; strandGrist?: Q; offTheWheelGrist: Q };
  lengths?: { finished: Q; withReserve: Q; offTheWheel: Q; eachStrand?: Q; allStrands?: Q };
  fibre?: { stage: Stage; mass: Q }[];
  bobbins?: { holds: Q; holdsPlied?: Q; fills: number; sets: number; atOnce: number; eachFibre?: Q; eachLength: Q; pliedEach?: Q };
  hours?: { whileSpinning?: Q; overTheHour: Q; limitedBy?: 'twist' | 'draft'; shareSpinning?: Q; spinning: Q; plying?: Q; handling: Q; total: Q; sittings: R; weeks?: R };
  stock?: { enough: 'yes' | 'no' | 'too-close-to-say'; likelihood?: Q; coversReserve: 'yes' | 'no'; makes: { length?: Q; mass: Q; pieces: R }; spare?: Q; short?: Q; hours?: Q };
  allowances: { allowance: AllowanceName; amount: Q; basis: 'yours' | 'common-practice' }[];
}
export const model = { id: 'plan', version: '1.1.0' } as const;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<PlanResult> {
  const out = new Notes();
  const given = readPlan(question, out);
  const k = new Knowns();
  const w = work(given, k, out);
  const units = options.units ?? metric;
  const q = (kind: Kind, e: Expr): Q => wire(kind, k.reading(e), units);
  const maybe = <K extends string>(key: K, kind: Kind, e: Expr | undefined): Partial<Record<K, Q>> => (e === undefined ? {} : { [key]: q(kind, e) } as Record<K, Q>);
  const n = (e: Expr): R => wire('number', k.reading(e));
  out.caution(soreHands);
  const { lengths, bobbins, hours } = w;
  const strands = given.plies !== undefined;
  const result: PlanResult = {
    wanted: { ...maybe('length', 'length', w.length), ...maybe('mass', 'mass', w.mass), pieces: n(w.pieces), ...maybe('warp', 'length', w.warp), ...maybe('weft', 'length', w.weft) },
    ...(w.grist === undefined || w.fresh === undefined ? {} : { yarn: { grist: q('grist', w.grist), ...(strands ? { plies: given.plies! } : {}), ...maybe('strandGrist', 'grist', w.strand), offTheWheelGrist: q('grist', w.fresh) } }),
    ...(lengths === undefined ? {} : { lengths: { finished: q('length', w.length!), withReserve: q('length', lengths.withReserve), offTheWheel: q('length', lengths.offTheWheel), ...(strands ? { eachStrand: q('length', lengths.each), allStrands: q('length', lengths.all) } : {}) } }),
    ...(w.stages.length === 0 ? {} : { fibre: w.stages.map(({ stage, mass }) => ({ stage, mass: q('mass', mass) })) }),
    ...(bobbins === undefined ? {} : { bobbins: {
      holds: q('mass', bobbins.holds), ...maybe('holdsPlied', 'mass', bobbins.holdsPlied), fills: bobbins.sets * bobbins.strands, sets: bobbins.sets, atOnce: bobbins.strands + (given.plies! > 1 ? 1 : 0),
      ...maybe('eachFibre', 'mass', bobbins.eachFibre), eachLength: q('length', bobbins.eachLength), ...(given.plies! > 1 ? { pliedEach: q('length', bobbins.pliedEach) } : {}),
    } }),
    ...(hours === undefined ? {} : { hours: {
      ...maybe('whileSpinning', 'speed', hours.whileSpinning), overTheHour: q('speed', hours.over), ...(hours.limitedBy === undefined ? {} : { limitedBy: hours.limitedBy }), ...maybe('shareSpinning', 'share', hours.duty),
      spinning: q('hours', hours.spinning), ...maybe('plying', 'hours', hours.plying), handling: q('hours', hours.handling), total: q('hours', hours.total), sittings: n(hours.sittings), ...(hours.weeks === undefined ? {} : { weeks: n(hours.weeks) }),
    } }),
    ...(w.stock === undefined ? {} : { stock: stockAnswer(given, w, w.stock, q, n) }),
    allowances: w.allowances.map(({ allowance, kind, value, basis }) => ({ allowance, amount: q(kind, value), basis })),
  };
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, [yardAndPound, gum], model, options);
}

function stockAnswer(given: Given, w: Work, s: NonNullable<Work['stock']>, q: (kind: Kind, e: Expr) => Q, n: (e: Expr) => R): NonNullable<PlanResult['stock']> {
  const likely = new Likely();
  const again = work(given, likely, new Notes()).stock!;
  const margin = likely.reading(again.margin);
  // Without an end to a range nobody can say how likely; then only what holds all over it is said.
  const chance = likely.endless || !isPoint(margin) || margin.u === undefined || !(margin.u > 0) ? undefined : likelihood({ mean: margin.value, u: margin.u });
  const whole = extent(w.k.reading(s.margin));
  const enough = chance === undefined ? (whole.low >= 0 ? 'yes' : whole.high < 0 ? 'no' : 'too-close-to-say') : chance >= 0.975 ? 'yes' : chance <= 0.025 ? 'no' : 'too-close-to-say';
  const spare = w.k.reading(s.spare);
  const part = middle(spare) >= 0 ? { spare: q('mass', s.spare) } : { short: q('mass', { uses: s.spare.uses, at: (x) => -s.spare.at(x) }) };
  return {
    enough, ...(chance === undefined ? {} : { likelihood: wire('share', { value: chance }) }), coversReserve: middle(w.k.reading(s.reserveMargin)) >= -1e-12 ? 'yes' : 'no',
    makes: { ...(s.length === undefined ? {} : { length: q('length', s.length) }), mass: q('mass', s.yarn), pieces: n(s.pieces) }, ...part, ...(s.hours === undefined ? {} : { hours: q('hours', s.hours) }),
  };
}
