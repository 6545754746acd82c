/** Grist from anything that tells it, and every yarn number from that. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, isPoint, middle, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { gum, iso2060, kleinSection, taylor, yardAndPound } from '../../foundation/sources.js';
import { studentT } from '../../foundation/student.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { categoriesByMetres, categoriesByWraps, type Category } from '../../reference/categories.js';
import { fibreAliases, fibreIds, fibreOf } from '../../reference/fibres.js';
import type { FibreForm, RegainStandard } from '../../reference/regains.js';
import { factorSquaredTimesVolume, preparations, volumeOfFactor, wrapFactor, wrappings, type Preparation, type Wrapping } from '../../reference/wraps.js';
import type { QIn, RIn } from '../../wheels/profile.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { diameterOf } from '../twist/formula.js';
import { readStates, stateNames, yarnStates, type States, type YarnState } from '../yarn-states.js';
import * as f from './formula.js';
import { moistureNames, moistureOf, readMoisture, type MoistureResult } from './moisture.js';
import * as notes from './notes.js';
import { readSection, sectionNames, sectionOf, type SectionResult } from './section.js';
import { halfWidthOf, hasOtherWay, readGrist, scattered, skeinLength, weighed, type Repeats, type Skein } from './ways.js';
import { inEverySystem, type YarnNumbers } from './yarn-numbers.js';

export interface GristQuestion {
  grist?: QIn; length?: QIn; mass?: QIn; windings?: RIn; circumference?: QIn; finishedCircumference?: QIn; skeins?: QIn[]; averagedBy?: 'length' | 'weight'; spread?: QIn; measurements?: RIn;
  wraps?: QIn; wrapping?: Wrapping; wrapFactor?: RIn; calibrationWraps?: QIn; calibrationGrist?: QIn; balanceLength?: QIn; balanceArm?: QIn; balanceReference?: QIn; balanceReferenceLength?: QIn;
  diameter?: QIn; yarnDensity?: QIn; fibre?: string; preparation?: Preparation; fibreDiameter?: QIn; fibreDiameterSpread?: QIn; fibreGrist?: QIn; micronaire?: RIn; woolGrade?: string; fibresInSection?: RIn; fewestFibres?: RIn; irregularity?: QIn; irregularityConstant?: RIn; tenacity?: QIn; strengthSpread?: QIn;
  state?: YarnState; restingLost?: QIn; lengthLost?: QIn; massLost?: QIn; regain?: QIn; moistureContent?: QIn; regainWanted?: QIn; regainStandard?: RegainStandard; fibreForm?: FibreForm; plies?: RIn; stock?: QIn; scaleStep?: QIn; within?: QIn;
}
export interface GristResult extends SectionResult {
  grist: Q; yarnNumbers: YarnNumbers; diameter?: Q; wraps?: { packed: Q; ruler: Q; loose: Q }; categories?: Category[];
  readings?: { packed: Q; ruler: Q; loose: Q }; wrapFactor?: R; packing?: { yarnDensity: Q; fibreShare?: Q }; plies?: number; singles?: Q; singlesWraps?: { sameWrapping: Q; byRule?: Q }; length?: Q; finishedLength?: Q; lengthLost?: Q; finishedGrist?: Q;
  states?: { state: YarnState; grist: Q; length?: Q }[]; repeats?: { count: R; spread: Q; standardError: Q; halfWidth: Q; needed?: R }; moisture?: MoistureResult; atRegain?: { grist: Q; mass?: Q }; stockLength?: Q; leastSample?: Q; measuringPull: Q;
}
export { yarnStates };
export const model = { id: 'grist', version: '1.1.0' } as const;
const names = ['grist', 'length', 'mass', 'windings', 'circumference', 'finishedCircumference', 'skeins', 'averagedBy', 'spread', 'measurements', 'wraps', 'wrapping', 'wrapFactor', 'calibrationWraps', 'calibrationGrist', 'balanceLength', 'balanceArm',
  'balanceReference', 'balanceReferenceLength', 'diameter', 'yarnDensity', 'fibre', 'preparation', ...sectionNames, ...stateNames, ...moistureNames, 'plies', 'stock', 'scaleStep', 'within'] as const;

type Json = Record<string, unknown>;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<GristResult> {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const k = new Knowns();
  const units = options.units ?? metric;
  const known = (e: Expr): Reading => k.reading(e);
  const wrapping = q['wrapping'] === undefined ? undefined : r.choice(q['wrapping'], '/wrapping', wrappings);
  const preparation = q['preparation'] === undefined ? undefined : r.choice(q['preparation'], '/preparation', preparations);
  const fibre = fibreOf(q['fibre'] === undefined ? undefined : r.choice(q['fibre'], '/fibre', fibreIds, fibreAliases));
  const read = (key: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const wraps = read('wraps', 'wraps', { moreThan: 0, atMost: 1e5 });
  const density = read('yarnDensity', 'density', { moreThan: 20, atMost: 2000, says: 'from 20 to 2000 kg/m3' });
  const ownFactor = factorOfOwn(q, r, k);
  const usualPacked = (): { low: number; high: number } => wrapFactor('packed', fibre?.packs, preparation);
  const factorFor = (w: Wrapping): Expr => {
    if (ownFactor !== undefined && w === wrapping) return ownFactor;
    if (density !== undefined && w === 'packed') return expr((rho) => Math.sqrt((factorSquaredTimesVolume * rho) / 1000), density);
    out.assume(notes.wrapFactorRange);
    const { low, high } = wrapFactor(w, fibre?.packs, preparation);
    return k.assumed({ low, high });
  };
  // Only wraps that are pushed together until they touch say how the yarn is packed.
  const packed = density !== undefined ? expr((rho) => 1 / rho, density) : ownFactor !== undefined && wrapping === 'packed' ? expr(volumeOfFactor, ownFactor) : undefined;
  const volume = (): Expr => {
    if (packed !== undefined) return packed;
    out.assume(notes.packing);
    const { low, high } = usualPacked();
    return k.assumed({ low: volumeOfFactor(high), high: volumeOfFactor(low) });
  };
  const states = readStates(q, r, k, out);
  const given = states === undefined ? read('lengthLost', 'share', { atLeast: 0, atMost: 0.99, says: 'from 0 to 99 %' }) : undefined;
  const skein = skeinLength(q, r, k);
  const { mass, step } = weighed(q, r, k, out);
  const section = readSection(q, r, k, out, fibre);
  const found = readGrist(q, r, k, out, { wraps, wrapping, ownFactor, factorFor, volume, skein, mass, section });
  const moisture = readMoisture(q, r, k, out, fibre);
  const plies = q['plies'] === undefined ? undefined : r.number(q['plies'], '/plies', { atLeast: 1, atMost: 100, says: 'from 1 to 100' });
  const [stock, within] = [read('stock', 'mass'), read('within', 'share', { moreThan: 0, atMost: 1 })];
  const repeats = found.repeats ?? saidRepeats(q, r, k);
  if (within !== undefined && step === undefined && repeats === undefined) r.missing('/scaleStep', 'The step of the scale, or how the skeins spread,', 'such as 0.5 g');
  if (step !== undefined && within === undefined && mass === undefined) r.missing('/within', 'How near the grist should be', 'such as 5 %');
  r.done();
  const repeated = repeats === undefined ? undefined : repeatsOf(repeats, within, k, units);
  const grist = repeated === undefined ? found.grist! : scattered(found.grist!, repeated.half, k);
  if (repeated !== undefined) { out.assume(notes.scatter); if (middle(known(repeats!.count)) < 3) out.warn(notes.fewSkeins); }

  const result: GristResult = { grist: wire('grist', known(grist), units), yarnNumbers: inEverySystem(known(grist)), measuringPull: wire('pull', known(expr((g) => f.measuringPull({ grist: g }), grist)), units) };
  if (found.plies !== undefined) { const plies = found.plies; Object.assign(result, { plies, singles: wire('grist', known(expr((g) => g / plies, grist)), units) }); }
  if (plies !== undefined) ofPlies(plies);
  if (repeated !== undefined) result.repeats = repeated.result;
  const unsaid = wraps !== undefined && unsaidWraps(q, wrapping, ownFactor);
  if (!unsaid) {
    const thick = q['diameter'] !== undefined ? read('diameter', 'part')! : wraps !== undefined && wrapping === 'packed' ? expr((w) => 1 / w, wraps) : expr((g, v) => diameterOf({ grist: g, volume: v }), grist, volume());
    result.diameter = wire('part', known(thick), units);
    const by = (w: Wrapping): Q => wire('wraps', known(wraps !== undefined && w === wrapping ? wraps : expr((g, x) => f.wrapsOfGrist({ grist: g, factor: x }), grist, factorFor(w))), units);
    result.wraps = { packed: by('packed'), ruler: by('ruler'), loose: by('loose') };
  } else {
    const each = (w: Wrapping): Q => wire('grist', known(expr((n, x) => f.gristOfWraps({ wraps: n, factor: x }), wraps, factorFor(w))), units);
    result.readings = { packed: each('packed'), ruler: each('ruler'), loose: each('loose') };
  }
  if (wraps !== undefined && hasOtherWay(q)) result.wrapFactor = wire('number', known(expr((w, g) => f.wrapFactorOf({ wraps: w, grist: g }), wraps, grist)));
  else if (q['calibrationWraps'] !== undefined) result.wrapFactor = wire('number', known(ownFactor!));
  if (packed !== undefined) {
    result.packing = { yarnDensity: wire('density', known(expr((v) => 1 / v, packed)), units), ...(fibre === undefined ? {} : { fibreShare: wire('share', known(expr((v) => 1 / (v * fibre.density), packed)), units) }) };
  }
  categories(result, known, wraps, wrapping, grist, hasOtherWay(q), out);
  Object.assign(result, sectionOf(section, grist, k, out, fibre, preparation, units));
  if (skein !== undefined) {
    out.assume(notes.skeinMeasure);
    result.length = wire('length', known(skein.wound), units);
    if (skein.finished !== undefined) {
      result.finishedLength = wire('length', known(skein.finished), units);
      result.lengthLost = wire('share', known(expr((a, b) => 1 - b / a, skein.wound, skein.finished)), units);
      out.assume(notes.finishedLength);
    }
  }
  if (given !== undefined) result.finishedGrist = wire('grist', known(expr((g, lost) => f.afterLoss({ grist: g, lost }), grist, given)), units);
  if (states !== undefined) result.states = inStates(states, grist, q['length'] === undefined ? skein : { wound: read('length', 'length')! }, known, units);
  const has = moistureOf(moisture, k, units);
  if (has !== undefined) result.moisture = has;
  if (moisture.has !== undefined && moisture.wanted !== undefined) {
    const at = (e: Expr): Expr => expr((amount, from, to) => f.atRegain({ amount, from, to }), e, moisture.has!, moisture.wanted!);
    result.atRegain = { grist: wire('grist', known(at(grist)), units), ...(mass === undefined ? {} : { mass: wire('mass', known(at(mass)), units) }) };
  }
  if (stock !== undefined) result.stockLength = wire('length', known(expr((m, g) => m / g, stock, grist)), units);
  if (step !== undefined && within !== undefined) result.leastSample = wire('mass', known(expr((s, w) => s / w, k.assumed(step), within)), units);
  if (!k.hasUncertainty) out.warn(noUncertainty);
  /** What each strand of a yarn of so many plies should be, before take-up. */
  function ofPlies(n: Reading): void {
    const count = k.input(n);
    out.assume(notes.strandsByRule);
    if (!unsaidWraps(q, wrapping, ownFactor)) result.singles = wire('grist', known(expr((g, x) => g / x, grist, count)), units);
    if (wraps === undefined) return;
    const whole = isPoint(n) && (n.value === 2 || n.value === 3);
    result.singlesWraps = { sameWrapping: wire('wraps', known(expr((w, x) => f.wrapsOfStrand({ wraps: w, plies: x }), wraps, count)), units), ...(whole ? { byRule: wire('wraps', known(expr((w, x) => f.wrapsOfStrandByRule({ wraps: w, plies: x }), wraps, count)), units) } : {}) };
  }
  return reply(result, out, [yardAndPound, iso2060, taylor, ...(section.fibreGrist === undefined ? [] : [kleinSection]), gum], model, options);
}

/** Wraps alone, and nobody said how they were laid. */
const unsaidWraps = (q: Json, wrapping: Wrapping | undefined, own: Expr | undefined): boolean => q['wraps'] !== undefined && wrapping === undefined && own === undefined && !hasOtherWay(q);

/** The asker's own factor: said, or from one skein of hers that she wrapped and weighed. */
function factorOfOwn(q: Json, r: Reader, k: Knowns): Expr | undefined {
  const said = q['wrapFactor'] === undefined ? undefined : r.number(q['wrapFactor'], '/wrapFactor', { moreThan: 0.05, atMost: 2, says: 'from 0.05 to 2' });
  const [wraps, grist] = [q['calibrationWraps'] === undefined ? undefined : r.quantity(q['calibrationWraps'], '/calibrationWraps', 'wraps', { moreThan: 0, atMost: 1e5 }), q['calibrationGrist'] === undefined ? undefined : r.quantity(q['calibrationGrist'], '/calibrationGrist', 'grist')];
  if ((q['calibrationWraps'] === undefined) !== (q['calibrationGrist'] === undefined)) {
    r.missing(q['calibrationWraps'] === undefined ? '/calibrationWraps' : '/calibrationGrist', 'Of the skein that you know: its wraps and its grist', 'such as 12 wraps/in and 254 yd/2.125 oz');
  }
  if (said !== undefined && q['calibrationWraps'] !== undefined) return r.fail('/wrapFactor', { code: 'one-of', detail: 'A wrap factor was given, and a skein to find it from.', received: 'wrapFactor and calibrationWraps', expected: 'one of them' });
  if (said !== undefined) return k.input(said);
  return wraps === undefined || grist === undefined ? undefined : expr((w, g) => f.wrapFactorOf({ wraps: w, grist: g }), k.input(wraps), k.input(grist));
}

/** Spread and number of measurements, when somebody has worked them out already. */
function saidRepeats(q: Json, r: Reader, k: Knowns): Repeats | undefined {
  if (q['spread'] === undefined && q['measurements'] === undefined) return undefined;
  const spread = q['spread'] === undefined ? r.missing('/spread', 'How the measurements spread (CV)', 'such as 10 %') : r.quantity(q['spread'], '/spread', 'share', { atLeast: 0, atMost: 3 });
  const count = q['measurements'] === undefined ? r.missing('/measurements', 'How many measurements the spread is from', 'such as 10') : r.number(q['measurements'], '/measurements', { atLeast: 2, atMost: 1e6, says: 'at least 2' });
  if (spread === undefined || count === undefined) return undefined;
  if (!isPoint(spread) || !isPoint(count)) return r.fail(isPoint(spread) ? '/measurements' : '/spread', { code: 'out-of-range', detail: 'One number is needed here, not a range.', received: 'a range', expected: isPoint(spread) ? 'such as 10' : 'such as 10 %' });
  return { spread: k.assumed(spread), count: k.assumed(count) };
}
function repeatsOf(p: Repeats, within: Expr | undefined, k: Knowns, units: NonNullable<AnswerOptions['units']>): { half: number; result: NonNullable<GristResult['repeats']> } {
  const [spread, count] = [middle(k.reading(p.spread)), middle(k.reading(p.count))];
  const half = halfWidthOf(spread, count);
  return { half, result: {
    count: wire('number', { value: count }), spread: wire('share', { value: spread }, units), standardError: wire('share', { value: f.standardError({ spread, count }) }, units), halfWidth: wire('share', { value: half }, units),
    ...(within === undefined ? {} : { needed: wire('number', { value: Math.max(2, Math.ceil(f.measurementsNeeded({ spread, within: extent(k.reading(within)).low, factor: studentT(0.95, Infinity) }) - 1e-9)) }) }),
  } };
}

function inStates(s: States, grist: Expr, skein: Skein | undefined, known: (e: Expr) => Reading, units: NonNullable<AnswerOptions['units']>): NonNullable<GristResult['states']> {
  const length = skein?.finished ?? skein?.wound;
  return yarnStates.map((state) => ({
    state, grist: wire('grist', known(expr((g, m, l) => (g * m) / l, grist, s.mass[state], s.length[state])), units), ...(length === undefined ? {} : { length: wire('length', known(expr((x, l) => x * l, length, s.length[state])), units) }),
  }));
}

function categories(result: GristResult, known: (e: Expr) => Reading, wraps: Expr | undefined, wrapping: Wrapping | undefined, grist: Expr, byWeight: boolean, out: Notes): void {
  const ends = (x: Reading): [number, number] => (isPoint(x) ? [x.value, x.value] : [x.low ?? 0, x.high ?? Infinity]);
  const list: Category[] = [];
  if (wraps !== undefined && wrapping !== 'packed') { const [a, b] = ends(known(wraps)); list.push(...categoriesByWraps(a * 0.0254 - 1e-9, b * 0.0254 + 1e-9)); }
  else if (byWeight) { const [a, b] = ends(known(grist)); list.push(...categoriesByMetres(0.1 / b, a === 0 ? Infinity : 0.1 / a)); }
  if (list.length === 0) return;
  result.categories = list;
  out.assume(notes.categoryIsNoMeasure);
}
