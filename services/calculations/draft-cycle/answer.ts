/** The draft cycle: whether the package follows the hand, how long yarn hangs slack, how hard it grabs, and the twist along what is wound on. Pure; throws a ProblemError. */
import { noUncertainty } from '../../foundation/notes.js';
import { ProblemError } from '../../foundation/problems.js';
import { fromSI, metric, outUnit, type Kind, type UnitChoice } from '../../foundation/quantity.js';
import { extent, isPoint, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { gum, kleinTwist, neukirch } from '../../foundation/sources.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import type { Drive } from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import type { BagTest } from '../bag-test.js';
import { fastFlyer } from '../ratio/notes.js';
import { reply } from '../reply.js';
import { diameterAt } from '../take-up/formula.js';
import * as f from './formula.js';
import { most } from './hand.js';
import type { EventName, Outcome } from './motion.js';
import * as notes from './notes.js';
import type { Style } from './schedule.js';
import { fullFeed } from './schedule.js';
import { rowsOf, type SeriesTable } from './series.js';
import { snarlOf, type SnarlAnswer } from './snarl.js';
import { cycle, solve, valuesOf, type Solved } from './solve.js';

export interface DraftCycleQuestion {
  wheel?: Wheel; wheelId?: string; drive?: Drive; whorl?: string; bobbin?: string; treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; flyerSpeed?: QIn; drafting?: Style; draftLength?: QIn; draftTime?: QIn; holdTime?: QIn; windOnTime?: QIn; handRise?: QIn;
  leftBehind?: QIn; makes?: RIn; hand?: { from: QIn; to: QIn; start: QIn; end: QIn }[]; draft?: { from: QIn; to: QIn; speed: QIn }[]; start?: { length?: QIn; turns?: RIn; speed?: QIn };
  woundDiameter?: QIn; bagTest?: BagTest; slipTorque?: QIn; spindleFriction?: QIn; bobbinInertia?: QIn; flyerInertia?: QIn; packageDensity?: QIn; hookFactor?: RIn; treadleSwing?: QIn; swingsPerTurn?: RIn; yarnStretch?: QIn; pullBorne?: QIn; fibreDiameter?: QIn; fibresInSection?: RIn; series?: QIn;
  treadlePush?: QIn; wheelInertia?: QIn; wheelBearing?: QIn; flyerDrag?: QIn; airDrag?: QIn;
}
export type Verdict = 'follows' | 'grabs' | 'falls-behind' | 'too-close-to-say';
export type Cause = 'hand-too-quick' | 'beyond-the-ceiling' | 'treadle';
export interface DraftCycleResult {
  verdict: Verdict; because?: Cause;
  slack: { most: Q; at: Q; share: Q; spells: R };
  grab?: { difference: Q; at: Q; peakPull: Q; bears?: 'yes' | 'no' | 'too-close-to-say'; count: R };
  pull: { held: Q; least?: Q; most?: Q; leastAtHand?: Q; mostAtHand?: Q };
  follows: { quickening: Q; ceiling: Q; timeToCeiling: Q; massFelt: Q; handQuickening?: Q; handSpeed?: Q; quickestAt?: Q };
  twist: { mean?: Q; first?: Q; last?: Q; inHand: Q; along: { share: number; twist: Q }[] };
  snarl?: SnarlAnswer;
  drawnIn: Q;
  turns: { flyer: R; in: R; woundOn: R; stored: R };
  overBobbin: { fill: number; woundDiameter: Q; held: Q; quickening: Q; ceiling: Q; slack: Q; difference: Q; twist?: Q }[];
  treadled?: { slowest: Q; fastest: Q; atEnd: Q; wheelTurns: R; stoppedAfter?: Q; spent: { treadle: Q; slip: Q; drag: Q; bearing: Q; spindle: Q; yarn: Q; wheel: Q } };
  events: { event: EventName; time: Q; difference?: Q }[];
  audits: { turns: R; length: Q; energy: Q };
  series?: SeriesTable;
}
export const model = { id: 'draft-cycle', version: '1.0.0' } as const;
const fills = [0, 0.25, 0.5, 0.75, 1] as const;
const codes = { follows: 0, grabs: 1, 'falls-behind': 2 } as const;
const standing = 1e-6;

/** A failed audit is no result: turns, yarn or energy were lost, so nothing that was found can be trusted. */
export function audited(o: Outcome): Outcome {
  if (o.audits.failed.length > 0) {
    const detail = `The ${o.audits.failed.join(' and ')} of the run do not balance, so there is no answer.`;
    throw new ProblemError('cannot-answer', detail, { issues: [{ pointer: '', code: 'cannot-answer', detail, received: 'measures with which the run cannot be followed', expected: 'less extreme ones: a steadier wheel, a lighter bobbin or a stronger hold' }] });
  }
  return o;
}
const verdictOf = (o: Outcome): number => (o.slackSince !== undefined && o.mostSlack > standing && o.grabs === 0 ? codes['falls-behind'] : o.mostSlack > standing ? codes.grabs : codes.follows);

/** One number of the simulation after the other, in the order in which the answer takes them up. */
function numbersOf(s: Solved, v: readonly number[]): number[] {
  const values = valuesOf(v);
  const list: number[] = [];
  for (const diameter of [values.diameter, ...fills.map((fill) => diameterAt({ core: values.core, full: values.full, fill }))]) {
    const { set, outcome: o, motion: m } = cycle(s, values, diameter);
    audited(o);
    list.push(verdictOf(o), m.quickening, m.ceiling, f.pullHeld({ torque: set.torque, diameter }), m.mass, f.timeToCeiling({ torque: set.torque, inertia: set.inertia, most: set.most }), o.mostSlack, slackTime(o, m.until), o.hardest, o.leastPull, o.mostPull,
      o.wound > 0 ? o.woundTurns / o.wound : Number.NaN, o.wound > 0 ? o.leastTwist : Number.NaN, o.wound > 0 ? o.mostTwist : Number.NaN, o.twist, o.wound, o.turnsIn - (m.perLap ? o.wound / (Math.PI * diameter) : 0), o.woundTurns, o.twist * (m.start.length + drafted(s) - o.wound), o.turnsIn, diameter, o.mostSlackAt, o.hardestAt, o.grabs, o.spells);
  }
  return list;
}
const keys = ['verdict', 'quickening', 'ceiling', 'held', 'mass', 'timeToCeiling', 'slack', 'slackTime', 'hardest', 'leastPull', 'mostPull', 'mean', 'first', 'last', 'inHand', 'wound', 'in', 'woundOn', 'stored', 'flyer', 'diameter', 'slackAt', 'hardestAt', 'grabs', 'spells'] as const;
type Numbers = Record<(typeof keys)[number], Reading>;
const drafted = (s: Solved): number => s.moves.schedule.draft.reduce((sum, d) => sum + d.speed * (d.to - d.from), 0);
const slackTime = (o: Outcome, until: number): number => o.slackTime + (o.slackSince === undefined ? 0 : until - o.slackSince);
const known = (r: Reading): boolean => (isPoint(r) ? Number.isFinite(r.value) : Number.isFinite(extent(r).low) && Number.isFinite(extent(r).high));
const atLeastNothing = (r: Reading): Reading => (isPoint(r) ? r : { low: Math.max(0, extent(r).low), high: extent(r).high });

export function answer(question: unknown, options: AnswerOptions = {}): Reply<DraftCycleResult> {
  const s = solve(question);
  const { k, out, r, q: asked } = s;
  const units = options.units ?? metric;
  const quantity = (key: string, kind: Kind): Reading | undefined => (asked[key] === undefined ? undefined : r.quantity(asked[key], `/${key}`, kind));
  const [stretch, borne] = [quantity('yarnStretch', 'yarn-stiffness'), quantity('pullBorne', 'pull')];
  r.done();
  const readings = k.several((v) => numbersOf(s, v), s.inputs);
  const rows = [0, ...fills.map((_, i) => i + 1)].map((n) => Object.fromEntries(keys.map((key, i) => [key, readings[n * keys.length + i]!])) as Numbers);
  const [now, ...over] = rows as [Numbers, ...Numbers[]];
  const middle = valuesOf(s.inputs.map((e) => { const x = k.reading(e); return isPoint(x) ? x.value : (extent(x).low + extent(x).high) / 2; }));
  const { outcome, motion, set } = cycle(s, middle);
  if (!(set.torque > 1e-6)) {
    r.fail(asked['spindleFriction'] === undefined ? '/slipTorque' : '/spindleFriction', { code: 'impossible-geometry', detail: 'The bobbin’s own friction takes all that would draw in.', received: 'a slip torque no larger than the friction', expected: 'a slip torque above the friction' });
    r.done();
  }
  const q = (kind: Kind, x: Reading): Q => wire(kind, atLeastNothing(x), units);
  const n = (x: Reading): R => wire('number', atLeastNothing(x));
  const verdict = verdictText(now.verdict);
  const because = causeOf(s, outcome, motion.quickening, motion.ceiling);
  warn(s, verdict, because, outcome);
  if (extent(now.flyer).low / motion.until > 25) out.caution(fastFlyer);
  const hand = s.moves.habit;
  const quickness = hand === undefined || hand.rise === 0 ? undefined : fullFeed(hand) / hand.rise;
  const grab = outcome.grabs === 0 ? undefined : grabOf(s, now, stretch, borne, units);
  const along = alongMake(s, middle);
  if (known(now.first) && known(now.last) && extent(now.first).high < 0.75 * extent(now.last).low) out.warn(notes.uneven);
  out.assume(notes.evenTwist);
  if (outcome.stopped !== undefined) out.warn(notes.stalls);
  if (s.treadled) out.assume(notes.evenOverBobbin);
  const snarl = snarlOf(s, Math.max(outcome.slackTwist, outcome.mostTwist), outcome, units);
  const atHand = (x: Reading, way: 1 | -1): Reading => { const [p, e] = [extent(x), extent(k.reading(s.factor))]; return isPoint(x) && isPoint(k.reading(s.factor)) ? { value: x.value * (e.low ** way) } : { low: p.low * Math.min(e.low ** way, e.high ** way), high: p.high * Math.max(e.low ** way, e.high ** way) }; };
  const result: DraftCycleResult = {
    verdict, ...(because === undefined ? {} : { because }),
    slack: { most: q('part', now.slack), at: q('time', now.slackAt), share: wire('share', scaled(now.slackTime, 1 / motion.until), units), spells: n(now.spells) },
    ...(grab === undefined ? {} : { grab }),
    pull: { held: q('pull', now.held), ...(known(now.leastPull) ? { least: q('pull', now.leastPull), most: q('pull', now.mostPull), leastAtHand: q('pull', atHand(now.leastPull, -1)), mostAtHand: q('pull', atHand(now.mostPull, -1)) } : {}) },
    follows: { quickening: q('acceleration', now.quickening), ceiling: q('speed', now.ceiling), timeToCeiling: q('time', now.timeToCeiling), massFelt: q('mass', now.mass), ...(quickness === undefined ? {} : { handQuickening: q('acceleration', { value: quickness }) }), ...(hand === undefined ? {} : { handSpeed: q('speed', { value: fullFeed(hand) }) }), ...(middle.empty > 0 ? { quickestAt: q('part', { value: 2 * f.quickestRadius(middle) }) } : {}) },
    twist: { ...(known(now.mean) ? { mean: q('twist', now.mean), first: q('twist', now.first), last: q('twist', now.last) } : {}), inHand: q('twist', now.inHand), along: along.map((p) => ({ share: p.share, twist: q('twist', { value: p.twist }) })) },
    ...(snarl === undefined ? {} : { snarl }),
    drawnIn: q('length', now.wound),
    turns: { flyer: n(now.flyer), in: n(now.in), woundOn: n(now.woundOn), stored: n(now.stored) },
    overBobbin: over.map((o, i) => ({ fill: fills[i]!, woundDiameter: q('part', o.diameter), held: q('pull', o.held), quickening: q('acceleration', o.quickening), ceiling: q('speed', o.ceiling), slack: q('part', o.slack), difference: q('speed', o.hardest), ...(known(o.mean) ? { twist: q('twist', o.mean) } : {}) })),
    ...(s.treadled ? { treadled: treadledAnswer(outcome, units) } : {}),
    events: outcome.events.slice(0, 60).map((e) => ({ event: e.event, time: q('time', { value: e.time }), ...(e.difference === undefined ? {} : { difference: q('speed', { value: e.difference }) }) })),
    audits: { turns: wire('number', missing(outcome.audits.turns)), length: wire('part', missing(outcome.audits.length), units), energy: wire('energy', missing(outcome.audits.energy), units) },
  };
  const { step } = s.moves;
  if (step !== undefined) {
    if (motion.until / step > most.rows) {
      r.fail('/series', { code: 'too-many', detail: `Within an answer a series has at most ${most.rows} rows; by NDJSON or CSV it may have ${most.streamed}.`, received: `${Math.floor(motion.until / step)} rows`, expected: `steps of at least ${(motion.until / most.rows).toPrecision(2)} s` });
      r.done();
    }
    result.series = { ...rowsOf(s, middle, step, units) };
  }
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, snarl === undefined ? [kleinTwist, gum] : [kleinTwist, neukirch, gum], model, options);
}
function treadledAnswer(o: ReturnType<typeof cycle>['outcome'], units: UnitChoice): NonNullable<DraftCycleResult['treadled']> {
  const turning = (omega: number | undefined): Q => wire('turning', { value: (omega ?? 0) / (2 * Math.PI) }, units);
  const w = o.work!;
  const work = (value: number): Q => wire('energy', { value }, units);
  return {
    slowest: turning(o.slowest), fastest: turning(o.fastest), atEnd: turning(o.speed), wheelTurns: wire('number', { value: (o.angle ?? 0) / (2 * Math.PI) }), ...(o.stopped === undefined ? {} : { stoppedAfter: wire('time', { value: o.stopped }, units) }),
    spent: { treadle: work(w.treadle), slip: work(w.slip), drag: work(w.drag), bearing: work(w.bearing), spindle: work(w.spindle), yarn: work(w.yarn + w.snatch), wheel: work(w.kinetic) },
  };
}

/** What a balance misses, as the power of ten above it: its digits are chance. */
const missing = (x: number): Reading => ({ high: Math.max(1e-9, 10 ** Math.ceil(Math.log10(Math.max(1e-300, Math.abs(x))))) });
const scaled = (x: Reading, by: number): Reading => (isPoint(x) ? { value: x.value * by, ...(x.u === undefined ? {} : { u: x.u * by }) } : { low: Math.max(0, extent(x).low * by), high: extent(x).high * by });

function verdictText(code: Reading): Verdict {
  const { low, high } = extent(code);
  return low !== high ? 'too-close-to-say' : (['follows', 'grabs', 'falls-behind'] as const)[Math.round(low)]!;
}
function causeOf(s: Solved, o: Outcome, quickening: number, ceiling: number): Cause | undefined {
  if (o.mostSlack <= standing) return undefined;
  const { hand } = s.moves.schedule;
  if (hand.some((p) => Math.max(p.start, p.end) > ceiling * (1 + 1e-9))) return 'beyond-the-ceiling';
  // A piece that begins faster than the last one ended is a jump: no package follows that.
  const jumps = hand.some((p, i) => p.start > (i > 0 && hand[i - 1]!.to === p.from ? hand[i - 1]!.end : p.from === 0 ? s.moves.schedule.speed : 0) + 1e-12 || (p.end - p.start) / (p.to - p.from) > quickening);
  return jumps ? 'hand-too-quick' : 'treadle';
}
function warn(s: Solved, verdict: Verdict, because: Cause | undefined, o: Outcome): void {
  if (verdict === 'follows' || because === undefined) return;
  s.out.warn(because === 'beyond-the-ceiling' ? notes.cannotKeepUp : because === 'treadle' ? notes.treadleSlackens : notes.handTooQuick);
  if (o.slackTwist > 0) s.out.warn(notes.snarls);
}

/** The hardest grab, and its peak on a yarn that stretches. */
function grabOf(s: Solved, now: Numbers, stretch: Reading | undefined, borne: Reading | undefined, units: UnitChoice): NonNullable<DraftCycleResult['grab']> {
  if (stretch === undefined) s.out.assume(notes.stretchTaken);
  const [k1, k2] = [extent(stretch ?? { low: 100, high: 1000 }), extent(s.k.reading(s.factor))];
  const peak = (end: 'low' | 'high'): number => f.snatchPeak({ pull: extent(now.held)[end], mass: extent(now.mass)[end], difference: Math.max(0, extent(now.hardest)[end]), stiffness: k1[end] });
  const peakPull = { low: peak('low'), high: peak('high') };
  // It falls on the yarn at the package; orifice and hooks keep some of it from the hand.
  const bears = borne === undefined ? undefined : extent(borne).low >= peakPull.high ? 'yes' : extent(borne).high * k2.high < peakPull.low ? 'no' : extent(borne).high < peakPull.low ? 'no' : 'too-close-to-say';
  if (bears !== undefined && bears !== 'yes') s.out.warn(notes.tooHard);
  return { difference: wire('speed', atLeastNothing(now.hardest), units), at: wire('time', atLeastNothing(now.hardestAt), units), peakPull: wire('pull', stretch !== undefined && isPoint(stretch) && peakPull.low === peakPull.high ? { value: peakPull.low } : peakPull, units), ...(bears === undefined ? {} : { bears }), count: wire('number', atLeastNothing(now.grabs)) };
}

/** Twist of what the last make wound on, from its first yarn to its last. */
export function alongMake(s: Solved, values: Parameters<typeof cycle>[1], points = 9): { share: number; twist: number }[] {
  const { habit, schedule } = s.moves;
  const from = habit === undefined || habit.style === 'short-forward' ? 0 : (schedule.until * (habit.makes - 1)) / habit.makes;
  const seen: { wound: number; twist: number }[] = [];
  cycle(s, values, values.diameter, { step: (schedule.until - from) / 400, at: (m) => { if (m.time >= from * (1 - 1e-12) && m.drawIn > 0) seen.push({ wound: m.wound, twist: m.twist }); } });
  const [a, b] = [seen[0]?.wound ?? 0, seen.at(-1)?.wound ?? 0];
  if (!(b > a)) return [];
  let i = 0;
  return Array.from({ length: points }, (_, p) => {
    const share = p / (points - 1);
    const at = a + share * (b - a);
    while (i < seen.length - 2 && seen[i + 1]!.wound < at) i++;
    const [x, y] = [seen[i]!, seen[i + 1]!];
    const t = y.wound > x.wound ? Math.min(1, Math.max(0, (at - x.wound) / (y.wound - x.wound))) : 0;
    return { share, twist: x.twist + t * (y.twist - x.twist) };
  });
}
export const inUnit = (kind: Kind, si: number, units: UnitChoice): number => fromSI(si, outUnit(kind, units));
