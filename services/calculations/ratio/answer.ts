/** Drive ratio: question to answer. Pure; throws a ProblemError whose issues point into the question. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { nearest, Reader } from '../../foundation/read.js';
import { extent, span, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { metric } from '../../foundation/quantity.js';
import { engineeringMechanics, gum } from '../../foundation/sources.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { GrooveRead, QIn, RIn, Wheel, WheelRead } from '../../wheels/profile.js';
import * as words from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { fastTreadling, readTreadling } from '../treadles.js';
import { readCounts, reconcile, type Count, type CountRead } from './counts.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import { askedWheel, buildTrain, missingWheel, type BobbinPulley, type Pulley, type Train } from './train.js';

export interface RatioQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; counts?: Count[]; treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; wanted?: RIn[]; wantedFlyerSpeed?: QIn;
}
export type DrawIn = 'bobbin-leads' | 'flyer-leads' | 'too-close-to-say';
export interface RatioResult {
  whorls?: { name: string; flyerRatio: R; bareRatio?: R; flyerSpeed?: Q; treadlingNeeded?: Q }[];
  bobbins: { name: string; groove: string; bobbinRatio: R; bareRatio?: R; bobbinSpeed?: Q; treadlingNeeded?: Q }[];
  pairs: { whorl: string; bobbin: string; groove: string; bobbinPerFlyerTurn: R; bobbinGainPerWheelTurn?: R; flyerTurnsPerLap?: R; drawIn: DrawIn }[];
  counts: CountAnswer[];
  wanted: { ratio: R; grooveDiameter?: Q; driveWheels?: { whorl: string; grooveDiameter: Q }[]; comparedWith?: { whorl: string; times: R }[] }[];
  flyerSpeed?: Q;
}
export interface CountAnswer {
  whorl?: string; bobbin?: string; counted?: R; measured?: R; agreement?: 'agrees' | 'slip' | 'recheck'; slip?: R; combined?: R;
  bobbinCounted?: R; bobbinMeasured?: R; bobbinAgreement?: 'agrees' | 'slip' | 'recheck'; bobbinSlip?: R; bobbinPerFlyerTurn?: R; drawIn?: DrawIn;
}

export const model = { id: 'ratio', version: '1.0.0' } as const;
const names = ['wheel', 'wheelId', 'drive', 'counts', 'treadling', 'counted', 'wanted', 'wantedFlyerSpeed'] as const;

/** What a question holds once it is read, and the pulleys that follow from it. */
export interface Solved { readonly train: Train | undefined; readonly treadling: Reading | undefined; readonly wanted: readonly Reading[]; readonly wantedSpeed: Reading | undefined; readonly counts: readonly CountRead[]; readonly out: Notes }

export function solve(question: unknown): Solved {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const treadling = readTreadling(q, r, out);
  const wanted = q['wanted'] === undefined ? [] : (r.list(q['wanted'], '/wanted', 24, 'wanted ratios') ?? []).flatMap((v, i) => r.ratio(v, `/wanted/${i}`, { moreThan: 1e-3, atMost: 1e4, says: 'from 0.001 to 10 000' }) ?? []);
  const wantedSpeed = q['wantedFlyerSpeed'] === undefined ? undefined : r.quantity(q['wantedFlyerSpeed'], '/wantedFlyerSpeed', 'turning', { moreThan: 0, atMost: 1000 });
  const counts = q['counts'] === undefined ? [] : readCounts(q['counts'], r, out);
  const { wheel, chosen } = askedWheel(q, r);
  let train: Train | undefined;
  if (wheel !== undefined && chosen !== undefined) {
    train = buildTrain(wheel, chosen, r, out);
    namedParts(train, counts, r);
    requireParts(train, wheel, wanted.length > 0 || (wantedSpeed !== undefined && treadling !== undefined), counts.length > 0, r);
  } else if (q['wheel'] === undefined && counts.length === 0 && q['wheelId'] === undefined) missingWheel(r);
  r.done();
  return { train, treadling, wanted, wantedSpeed, counts, out };
}

/** Names what is missing for this drive. A wanted ratio may stand in for the wheel or for a whorl: any one of the three is found from the others. */
function requireParts(train: Train, wheel: WheelRead, hasWanted: boolean, hasCounts: boolean, r: Reader): void {
  const { drive } = train;
  if (r.issues.length > 0) return;
  if (drive === 'electric') {
    if (wheel.flyerSpeed?.slowest === undefined && wheel.flyerSpeed?.fastest === undefined) r.missing('/wheel/flyerSpeed', 'An electric spinner has no drive wheel. Its flyer speed', '{"slowest": "200/min", "fastest": "1200/min"}');
    return;
  }
  const driven: readonly Pulley[] = drive === 'bobbin-lead' ? train.bobbins : train.bobbins.length === 0 ? train.whorls : [...train.whorls, ...train.bobbins];
  const needsWheel = driven.some((p) => p.ratio === undefined);
  if (drive === 'bobbin-lead' && train.bobbins.length === 0 && !hasWanted && !hasCounts) {
    r.missing('/wheel/bobbins/0/grooves/0/grooveDiameter', 'On a bobbin-lead wheel the band drives the bobbin: its groove', 'the groove of the bobbin, such as 60 mm');
  } else if (driven.length === 0 && !hasWanted && !hasCounts) {
    const what = drive === 'spindle' ? 'The groove of the spindle’s whorl (and both grooves of an accelerating head, if there is one)' : 'The groove of a whorl';
    r.missing('/wheel/whorls/0/grooveDiameter', what, 'the groove of a whorl, such as 60 mm, or its stamped ratio');
  }
  if (train.wheelPitch === undefined && !(hasCounts && driven.length === 0) && (needsWheel || driven.length === 0) && !(hasWanted && driven.length > 0)) {
    r.missing('/wheel/driveWheel', `The drive wheel${without(train)}`, 'its diameter or circumference where the band sits, such as 560 mm');
  }
}
/** A count must name parts that the wheel has. */
function namedParts(train: Train, counts: readonly CountRead[], r: Reader): void {
  for (const c of counts) {
    for (const [key, list] of [['whorl', train.wheel.whorls], ['bobbin', train.wheel.bobbins]] as const) {
      const name = c[key];
      if (name === undefined || list.some((p) => p.name === name)) continue;
      const near = nearest(name, list.map((p) => p.name));
      r.fail(`${c.at}/${key}`, { code: 'not-known-part', detail: `This wheel has no ${key} of that name.`, received: name, expected: list.map((p) => p.name).join(', ') || `no ${key} was given`, ...(near === undefined ? {} : { try: near }) });
    }
  }
}
/** Without the wheel, pulleys can still be compared with each other. */
function without(train: Train): string {
  const [a, b] = train.whorls.filter((w) => w.pitch !== undefined);
  if (a === undefined || b === undefined) return '';
  const times = train.knowns.reading(expr((x, y) => x / y, a.pitch!, b.pitch!));
  return ` (without it only this can be said: ${b.name} turns ${wire('number', times).text} times as fast as ${a.name})`;
}

/** Which of the two leads. Too close: the interval (k = 2) holds 1, or an end that is known comes within 0.02 of it. */
export function drawInOf(rho: Reading): DrawIn {
  const { low, high } = extent(rho);
  const near = (x: number): boolean => Math.abs(x - 1) < 0.02 - 1e-12;
  if ((low <= 1 && high >= 1) || ('value' in rho ? near(rho.value) : near(low) || near(high))) return 'too-close-to-say';
  return low > 1 ? 'bobbin-leads' : 'flyer-leads';
}

type WhorlAnswer = NonNullable<RatioResult['whorls']>[number];
type BobbinAnswer = RatioResult['bobbins'][number];
/** Turning of a driven part at the treadling that was given, and the treadling that a wanted speed needs. */
interface Cadence { readonly units: NonNullable<AnswerOptions['units']>; readonly turning: Expr | undefined; readonly aim: Expr | undefined }
const times = (i: number, n: number): number => i * n;
const over = (n: number, i: number): number => n / i;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<RatioResult> {
  const s = solve(question);
  const units = options.units ?? metric;
  const { train, treadling, out } = s;
  const result: RatioResult = train === undefined || train.drive === 'bobbin-lead' ? { bobbins: [], pairs: [], counts: [], wanted: [] } : { whorls: [], bobbins: [], pairs: [], counts: [], wanted: [] };
  if (train !== undefined) {
    cautions(train, s.counts.length > 0, out);
    const cadence: Cadence = { units, turning: treadling && train.knowns.input(treadling), aim: s.wantedSpeed && train.knowns.input(s.wantedSpeed) };
    for (const w of train.whorls) if (w.ratio !== undefined && result.whorls !== undefined) result.whorls.push(whorlAnswer(train, w, w.ratio, cadence, out));
    for (const b of train.bobbins) if (b.ratio !== undefined) result.bobbins.push(bobbinAnswer(train, b, b.ratio, cadence, out));
    for (const p of train.pairs) result.pairs.push(pairAnswer(train, p, out));
    result.wanted = wanted(s, train, units);
    // Another groove means another whorl to screw on.
    if (result.wanted.length > 0 && (train.drive === 'flyer-lead' || train.drive === 'double-drive')) out.caution(notes.leftHandThread);
    for (const w of result.wanted) if (w.grooveDiameter !== undefined && train.drive !== 'spindle' && small(w.grooveDiameter)) out.warn(notes.tinyWhorl);
    if (train.drive === 'electric') {
      const { slowest, fastest } = train.wheel.flyerSpeed!;
      const top = fastest === undefined ? undefined : extent(fastest).high;
      if ((top ?? 0) > 25) out.caution(notes.fastFlyer);
      result.flyerSpeed = wire('turning', { ...(slowest === undefined ? {} : { low: extent(slowest).low }), ...(top === undefined ? {} : { high: top }) }, units);
    }
    if (train.wheel.whorls.some(isStamped) || train.wheel.bobbins.some((b) => b.grooves.some(isStamped))) out.assume(notes.statedAsGiven);
    if (train.drive === 'double-drive' && train.bobbins.length === 0) out.warn(notes.bobbinMissing);
    if (train.drive === 'double-drive' && train.whorls.length === 0) out.warn(notes.whorlMissing);
  }
  result.counts = reconcile(s.counts, train, out, drawInOf);
  if (train !== undefined && !train.knowns.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, sources, model, options);
}
const sources = [engineeringMechanics, gum];
const isStamped = (p: { readonly groove?: GrooveRead }): boolean => p.groove?.measure === 'stated';

function whorlAnswer(train: Train, w: Pulley, ratio: Expr, cadence: Cadence, out: Notes): WhorlAnswer {
  const flyerRatio = train.knowns.reading(ratio);
  checkRatio(flyerRatio, out);
  if (w.pitch !== undefined && train.drive !== 'spindle' && extent(train.knowns.reading(w.pitch)).low < 0.02) out.warn(notes.tinyWhorl);
  const one: WhorlAnswer = { name: w.name, flyerRatio: wire('ratio', flyerRatio) };
  if (w.bare !== undefined) one.bareRatio = wire('ratio', train.knowns.reading(w.bare));
  const speed = speedAt(train, ratio, cadence, out);
  if (speed !== undefined) one.flyerSpeed = speed;
  const treadling = treadlingFor(train, ratio, cadence, out);
  if (treadling !== undefined) one.treadlingNeeded = treadling;
  return one;
}
function bobbinAnswer(train: Train, b: BobbinPulley, ratio: Expr, cadence: Cadence, out: Notes): BobbinAnswer {
  const bobbinRatio = train.knowns.reading(ratio);
  checkRatio(bobbinRatio, out);
  const one: BobbinAnswer = { name: b.name, groove: b.groove, bobbinRatio: wire('ratio', bobbinRatio) };
  if (b.bare !== undefined) one.bareRatio = wire('ratio', train.knowns.reading(b.bare));
  if (train.drive !== 'bobbin-lead') return one;
  const speed = speedAt(train, ratio, cadence, out);
  if (speed !== undefined) one.bobbinSpeed = speed;
  const treadling = treadlingFor(train, ratio, cadence, out);
  if (treadling !== undefined) one.treadlingNeeded = treadling;
  return one;
}
function speedAt(train: Train, ratio: Expr, { turning, units }: Cadence, out: Notes): Q | undefined {
  if (turning === undefined) return undefined;
  const speed = train.knowns.reading(expr(times, ratio, turning));
  out.assume(notes.noSlip);
  if (extent(speed).high > 25) out.caution(notes.fastFlyer);
  return wire('turning', speed, units);
}
function treadlingFor(train: Train, ratio: Expr, { aim, units }: Cadence, out: Notes): Q | undefined {
  if (aim === undefined) return undefined;
  const needed = train.knowns.reading(expr(over, aim, ratio));
  if (extent(needed).high > 2) out.warn(fastTreadling);
  return wire('turning', needed, units);
}

function checkRatio(i: Reading, out: Notes): void {
  if (extent(i).high < 1) out.warn(notes.reversed);
}
const small = (q: Q): boolean => {
  const mm = q.unit === 'mm' ? 1 : q.unit === 'cm' ? 10 : q.unit === 'm' ? 1000 : q.unit === 'in' ? 25.4 : q.unit === 'ft' ? 304.8 : Number.NaN;
  return ('value' in q ? q.value : (q.low ?? q.high ?? 0)) * mm < 20;
};

const less = (b: number, w: number): number => b - w;
const perLap = (bobbinPerFlyerTurn: number): number => f.flyerTurnsPerLap({ bobbinPerFlyerTurn });

function pairAnswer(train: Train, { whorl, bobbin, rho: between }: Train['pairs'][number], out: Notes): RatioResult['pairs'][number] {
  const rho = train.knowns.reading(between);
  const drawIn = drawInOf(rho);
  if (drawIn === 'flyer-leads') out.warn(notes.flyerLeads);
  if (drawIn === 'too-close-to-say') out.warn(notes.tooClose);
  const one: Partial<RatioResult['pairs'][number]> = { whorl: whorl.name, bobbin: bobbin.name, groove: bobbin.groove, bobbinPerFlyerTurn: wire('number', rho) };
  if (bobbin.ratio !== undefined && whorl.ratio !== undefined) one.bobbinGainPerWheelTurn = wire('number', train.knowns.reading(expr(less, bobbin.ratio, whorl.ratio)));
  // Near equal grooves a lap takes any number of turns: say nothing rather than a number without meaning.
  if (drawIn !== 'too-close-to-say') one.flyerTurnsPerLap = wire('number', train.knowns.reading(expr(perLap, between)));
  one.drawIn = drawIn;
  return one as RatioResult['pairs'][number];
}

function wanted(s: Solved, train: Train, units: NonNullable<AnswerOptions['units']>): RatioResult['wanted'] {
  if (s.wanted.length === 0 && s.wantedSpeed === undefined) return [];
  const { knowns } = train;
  const aims = s.wanted.map((r) => ({ ratio: knowns.input(r) }));
  if (s.wantedSpeed !== undefined && s.treadling !== undefined) aims.push({ ratio: expr((n, t) => n / t, knowns.input(s.wantedSpeed), knowns.input(s.treadling)) });
  return aims.map(({ ratio }) => {
    const one: RatioResult['wanted'][number] = { ratio: wire('ratio', knowns.reading(ratio)) };
    if (train.drivingPitch !== undefined) {
      const groove = knowns.reading(expr((D, i, t) => f.seatForRatio({ driving: D, ratio: i, band: t }), train.drivingPitch, ratio, train.band));
      if (extent(groove).low <= 0) s.out.warn(notes.noSuchGroove);
      // A groove of less than nothing is none: only what could be turned is shown.
      const possible: Reading | undefined = 'value' in groove ? (groove.value > 0 ? groove : undefined) : (groove.high ?? 1) <= 0 ? undefined : (groove.low ?? 1) <= 0 ? span(undefined, groove.high) : groove;
      if (possible !== undefined) one.grooveDiameter = wire('part', possible, units);
    } else if (train.stages.length === 0) {
      const measured = train.whorls.filter((w) => w.pitch !== undefined);
      if (measured.length > 0) one.driveWheels = measured.map((w) => ({ whorl: w.name, grooveDiameter: wire('part', knowns.reading(expr((i, d, t) => i * d - t, ratio, w.pitch!, train.band)), units) }));
    }
    const stated = train.whorls.filter((w) => w.pitch === undefined && w.ratio !== undefined);
    if (stated.length > 0) one.comparedWith = stated.map((w) => ({ whorl: w.name, times: wire('number', knowns.reading(expr((have, want) => have / want, w.ratio!, ratio))) }));
    return one;
  });
}

function cautions(train: Train, counting: boolean, out: Notes): void {
  if (train.wheel.condition === 'do-not-run') out.caution(notes.doNotRun);
  if (train.drive === 'electric' || train.wheel.turnedBy === 'motor') out.caution(notes.powered);
  if (counting) out.caution(notes.handCount);
  if (train.whorls.length > 1 || train.wheel.whorls.some((w) => w.thread === 'left-hand')) out.caution(notes.leftHandThread);
}
