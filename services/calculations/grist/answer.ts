/** Grist from anything that tells it, and every yarn number from that. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { findUnit, fromSI, metric, type Unit } from '../../foundation/quantity.js';
import { isObject, Reader } from '../../foundation/read.js';
import { isPoint, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { gum, iso2060, taylor, yardAndPound } from '../../foundation/sources.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { categoriesByMetres, categoriesByWraps, type Category } from '../../reference/categories.js';
import { fibreAliases, fibreIds, fibres } from '../../reference/fibres.js';
import { preparations, volumeOfFactor, wrapFactor, wrappings, type Preparation, type Wrapping } from '../../reference/wraps.js';
import type { QIn, RIn } from '../../wheels/profile.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { diameterOf } from '../twist/formula.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export interface GristQuestion {
  grist?: QIn; length?: QIn; mass?: QIn; windings?: RIn; circumference?: QIn; finishedCircumference?: QIn; wraps?: QIn; wrapping?: Wrapping; wrapFactor?: RIn;
  balanceLength?: QIn; balanceArm?: QIn; balanceReference?: QIn; balanceReferenceLength?: QIn; diameter?: QIn; fibre?: string; preparation?: Preparation;
  fibreDiameter?: QIn; fibreDiameterSpread?: QIn; lengthLost?: QIn; regain?: QIn; regainWanted?: QIn; stock?: QIn; scaleStep?: QIn; within?: QIn;
}
export type YarnNumber = number | { low?: number; high?: number };
export interface GristResult {
  grist: Q; yarnNumbers: YarnNumbers; diameter?: Q; wraps?: { packed: Q; ruler: Q; loose: Q }; categories?: Category[]; fibresInSection?: R;
  readings?: { packed: Q; ruler: Q; loose: Q }; wrapFactor?: R; plies?: number; singles?: Q; length?: Q; finishedLength?: Q; lengthLost?: Q; finishedGrist?: Q;
  atRegain?: { grist: Q; mass?: Q }; stockLength?: Q; leastSample?: Q;
}
export const model = { id: 'grist', version: '1.0.0' } as const;
const names = ['grist', 'length', 'mass', 'windings', 'circumference', 'finishedCircumference', 'wraps', 'wrapping', 'wrapFactor', 'balanceLength', 'balanceArm', 'balanceReference', 'balanceReferenceLength',
  'diameter', 'fibre', 'preparation', 'fibreDiameter', 'fibreDiameterSpread', 'lengthLost', 'regain', 'regainWanted', 'stock', 'scaleStep', 'within'] as const;

/** Every yarn number that an answer carries, with the unit that defines it. */
export const yarnNumberUnits = {
  tex: 'tex', dtex: 'dtex', denier: 'den', metric: 'Nm', cotton: 'cotton-count', worsted: 'worsted-count', woollenRun: 'woollen-run', woollenCut: 'woollen-cut', yorkshireSkein: 'yorkshire-skein',
  galashielsCut: 'galashiels-cut', linenLea: 'linen-lea', yardsPerPound: 'yd/lb', metresPer100g: 'm/100g', metresPerKilogram: 'm/kg', ouncesPer100Yards: 'oz/100yd', yardsPerOunce: 'yd/oz',
  westOfEnglandSnap: 'snap', frenchCount: 'french-count', juteCount: 'jute-count', grainsPer120Yards: 'grain/120yd',
} as const;
export type YarnNumbers = Record<keyof typeof yarnNumberUnits, YarnNumber>;
const numberUnits = Object.entries(yarnNumberUnits).map(([key, unit]) => [key, findUnit('grist', unit)!] as [keyof YarnNumbers, Unit]);

type Json = Record<string, unknown>;
const ways = [['grist'], ['length', 'mass'], ['windings', 'mass'], ['balanceLength'], ['diameter'], ['wraps']] as const;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<GristResult> {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const k = new Knowns();
  const units = options.units ?? metric;
  const wrapping = q['wrapping'] === undefined ? undefined : r.choice(q['wrapping'], '/wrapping', wrappings);
  const preparation = q['preparation'] === undefined ? undefined : r.choice(q['preparation'], '/preparation', preparations);
  const fibreId = q['fibre'] === undefined ? undefined : r.choice(q['fibre'], '/fibre', fibreIds, fibreAliases);
  const fibre = fibres.find((x) => x.id === fibreId);
  const read = (key: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const share = { atLeast: 0, atMost: 0.99, says: 'from 0 to 99 %' };
  const wraps = read('wraps', 'wraps', { moreThan: 0, atMost: 1e5 });
  const ownFactor = q['wrapFactor'] === undefined ? undefined : r.number(q['wrapFactor'], '/wrapFactor', { moreThan: 0.05, atMost: 2, says: 'from 0.05 to 2' });
  const factorFor = (w: Wrapping): Expr => {
    if (ownFactor !== undefined && (wrapping === undefined ? w === 'packed' : w === wrapping)) return k.input(ownFactor);
    out.assume(notes.wrapFactorRange);
    const { low, high } = wrapFactor(w, fibre?.packs, preparation);
    return k.assumed({ low, high });
  };
  const volume = (): Expr => {
    out.assume(notes.packing);
    const { low, high } = wrapFactor('packed', fibre?.packs, preparation);
    return k.assumed({ low: volumeOfFactor(high), high: volumeOfFactor(low) });
  };
  const lossLimits = share;
  const given = read('lengthLost', 'share', lossLimits);
  const skein = skeinLength(q, r, k);
  const { grist, plies, result: more } = readGrist(q, r, k, out, { wraps, wrapping, ownFactor, factorFor, volume, skein });
  const [regain, regainWanted] = [read('regain', 'share', share), read('regainWanted', 'share', share)];
  const [stock, step, within] = [read('stock', 'mass'), read('scaleStep', 'mass'), read('within', 'share', { moreThan: 0, atMost: 1 })];
  const mass = q['mass'] === undefined || r.issues.length > 0 ? undefined : k.input(r.quantity(q['mass'], '/mass', 'mass') ?? { value: 1 });
  const [micron, spread] = [read('fibreDiameter', 'fibre-diameter', { moreThan: 1e-7, atMost: 1e-3, says: 'from 0.1 to 1000 micron' }), read('fibreDiameterSpread', 'share', { atLeast: 0, atMost: 2 })];
  if ((regain === undefined) !== (regainWanted === undefined)) r.missing(regain === undefined ? '/regain' : '/regainWanted', 'Both regains, the one that it has and the one wanted,', 'such as 18.25 % and 14 %');
  if ((step === undefined) !== (within === undefined)) r.missing(step === undefined ? '/scaleStep' : '/within', 'The step of the scale and how near the grist should be', 'such as 0.5 g and 5 %');
  r.done();
  const known = (e: Expr): Reading => k.reading(e);
  const result: GristResult = { grist: wire('grist', known(grist!), units), yarnNumbers: yarnNumbers(known(grist!)), ...more };
  if (plies !== undefined) Object.assign(result, { plies, singles: wire('grist', known(expr((g) => g / plies, grist!)), units) });
  const unsaid = wraps !== undefined && wrapping === undefined && ownFactor === undefined && !hasOtherWay(q);
  if (!unsaid) {
    const thick = q['diameter'] === undefined ? (wraps !== undefined && wrapping === 'packed' ? expr((w) => 1 / w, wraps) : expr((g, v) => diameterOf({ grist: g, volume: v }), grist!, volume())) : read('diameter', 'part')!;
    result.diameter = wire('part', known(thick), units);
    const by = (w: Wrapping): Q => wire('wraps', known(wraps !== undefined && w === wrapping ? wraps : expr((g, x) => f.wrapsOfGrist({ grist: g, factor: x }), grist!, factorFor(w))), units);
    result.wraps = { packed: by('packed'), ruler: by('ruler'), loose: by('loose') };
  } else {
    const each = (w: Wrapping): Q => wire('grist', known(expr((n, x) => f.gristOfWraps({ wraps: n, factor: x }), wraps, factorFor(w))), units);
    result.readings = { packed: each('packed'), ruler: each('ruler'), loose: each('loose') };
  }
  if (wraps !== undefined && hasOtherWay(q)) result.wrapFactor = wire('number', known(expr((w, g) => f.wrapFactorOf({ wraps: w, grist: g }), wraps, grist!)));
  categories(result, known, wraps, wrapping, grist!, hasOtherWay(q), out);
  if (micron !== undefined) {
    if (fibre === undefined) out.assume(notes.woolTaken);
    if (fibre?.fromMemory) out.assume(notes.densityFromMemory);
    const density = fibre?.density ?? 1310;
    result.fibresInSection = wire('number', known(expr((g, d, c) => f.fibresInSection({ grist: g, density, diameter: d, spread: c }), grist!, micron, spread ?? k.assumed({ value: 0 }))));
  }
  if (skein !== undefined) {
    out.assume(notes.skeinMeasure);
    result.length = wire('length', known(skein.wound), units);
    if (skein.finished !== undefined) {
      result.finishedLength = wire('length', known(skein.finished), units);
      result.lengthLost = wire('share', known(expr((a, b) => 1 - b / a, skein.wound, skein.finished)), units);
      out.assume(notes.finishedLength);
    }
  }
  if (given !== undefined) result.finishedGrist = wire('grist', known(expr((g, lost) => f.afterLoss({ grist: g, lost }), grist!, given)), units);
  if (regain !== undefined) {
    const at = (e: Expr): Expr => expr((amount, from, to) => f.atRegain({ amount, from, to }), e, regain, regainWanted!);
    result.atRegain = { grist: wire('grist', known(at(grist!)), units), ...(mass === undefined ? {} : { mass: wire('mass', known(at(mass)), units) }) };
  }
  if (stock !== undefined) result.stockLength = wire('length', known(expr((m, g) => m / g, stock, grist!)), units);
  if (step !== undefined) result.leastSample = wire('mass', known(expr((s, w) => s / w, step, within!)), units);
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, [yardAndPound, iso2060, taylor, gum], model, options);
}

interface Skein { readonly wound: Expr; readonly finished?: Expr }
/** Length by turns of a winder, on it and finished. */
function skeinLength(q: Json, r: Reader, k: Knowns): Skein | undefined {
  if (q['windings'] === undefined) return undefined;
  const n = r.number(q['windings'], '/windings', { moreThan: 0, atMost: 1e6 });
  const girth = q['circumference'] === undefined ? r.missing('/circumference', 'The length of one turn of the winder, measured', 'such as 1.5 yd or 54 in') : r.quantity(q['circumference'], '/circumference', 'length');
  const after = q['finishedCircumference'] === undefined ? undefined : r.quantity(q['finishedCircumference'], '/finishedCircumference', 'length');
  if (n === undefined || girth === undefined) return undefined;
  const turns = k.input(n);
  return { wound: expr((a, b) => a * b, turns, k.input(girth)), ...(after === undefined ? {} : { finished: expr((a, b) => a * b, turns, k.input(after)) }) };
}

const hasOtherWay = (q: Json): boolean => ways.some((w) => w[0] !== 'wraps' && w.every((key) => q[key] !== undefined));

interface Means {
  wraps: Expr | undefined; wrapping: Wrapping | undefined; ownFactor: Reading | undefined; factorFor: (w: Wrapping) => Expr; volume: () => Expr; skein: Skein | undefined;
}
function readGrist(q: Json, r: Reader, k: Knowns, out: Notes, m: Means): { grist?: Expr; plies?: number; result: Partial<GristResult> } {
  const found = ways.filter((w) => w[0] !== 'wraps' && q[w[0]] !== undefined);
  if (found.length > 1) {
    r.fail('', { code: 'one-of', detail: `Grist was given in ${found.length} ways.`, received: found.map((w) => w.join(' and ')).join('; '), expected: 'one of them (wraps may stand beside it)' });
    return { result: {} };
  }
  const way = found[0]?.[0];
  const amount = (key: string, kind: 'mass' | 'length' | 'part'): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind);
    return v === undefined ? undefined : k.input(v);
  };
  if (way === 'grist') {
    const g = r.read(q['grist'], '/grist', 'grist', { moreThan: 1e-12, atMost: 10, says: 'a yarn' });
    return g === undefined ? { result: {} } : { grist: k.input(g.reading), ...(g.plies === undefined ? {} : { plies: g.plies }), result: {} };
  }
  if (way === 'length' || way === 'windings') {
    const [length, mass] = [way === 'length' ? amount('length', 'length') : (m.skein?.finished ?? m.skein?.wound), amount('mass', 'mass')];
    if (q['mass'] === undefined) r.missing('/mass', 'The weight of that length', 'such as 100 g or 3.5 oz');
    return length === undefined || mass === undefined ? { result: {} } : { grist: expr((x, l) => f.gristOf({ mass: x, length: l }), mass, length), result: {} };
  }
  if (way === 'balanceLength') return { ...balance(q, r, k, out, amount), result: {} };
  if (way === 'diameter') {
    const d = amount('diameter', 'part');
    return d === undefined ? { result: {} } : { grist: expr((x, v) => f.gristOfDiameter({ diameter: x, volume: v }), d, m.volume()), result: {} };
  }
  if (q['wraps'] !== undefined) {
    if (m.wraps === undefined) return { result: {} };
    const { wraps } = m;
    if (m.wrapping !== undefined || m.ownFactor !== undefined) return { grist: expr((n, x) => f.gristOfWraps({ wraps: n, factor: x }), wraps, m.factorFor(m.wrapping ?? 'packed')), result: {} };
    out.warn(notes.whichWrapping);
    const [a, b] = [wrapFactor('loose', undefined, undefined), wrapFactor('packed', undefined, undefined)];
    return { grist: expr((n, x) => f.gristOfWraps({ wraps: n, factor: x }), wraps, k.assumed({ low: a.low, high: b.high })), result: {} };
  }
  const half = q['mass'] !== undefined ? 'length' : undefined;
  r.missing(half === undefined ? '/grist' : '/length', half === undefined ? 'A grist, or a length with its weight, or wraps, or a balance reading, or a diameter,' : 'The length of that weight', half === undefined ? 'such as 1500 yd/lb' : 'such as 254 yd');
  return { result: {} };
}

/** A beam balance: against its own arm, or against a length of a yarn whose grist is known. */
function balance(q: Json, r: Reader, k: Knowns, out: Notes, amount: (key: string, kind: 'mass' | 'length' | 'part') => Expr | undefined): { grist?: Expr } {
  const length = amount('balanceLength', 'part');
  const reference = q['balanceReference'] === undefined ? undefined : r.quantity(q['balanceReference'], '/balanceReference', 'grist');
  if (reference !== undefined) {
    const of = q['balanceReferenceLength'] === undefined ? r.missing('/balanceReferenceLength', 'The length of the known yarn on the other side', 'such as 120 cm') : amount('balanceReferenceLength', 'part');
    return length === undefined || of === undefined ? {} : { grist: expr((g, a, b) => (g * a) / b, k.input(reference), of, length) };
  }
  const arm = amount('balanceArm', 'mass');
  if (arm !== undefined && length !== undefined) return { grist: expr((a, l) => f.gristOfBalance({ arm: a, length: l }), arm, length) };
  if (q['balanceArm'] !== undefined) return {};
  if (!typedInInches(q['balanceLength'])) {
    r.missing('/balanceArm', 'A balance that is not read in inches: what its arm weighs', 'the weight of the arm, such as 0.126 g');
    return {};
  }
  out.assume(notes.inchBalance);
  return length === undefined ? {} : { grist: expr((l) => f.gristOfBalance({ arm: f.inchArm, length: l }), length) };
}
const typedInInches = (v: unknown): boolean => (typeof v === 'string' ? /\d\s*(?:in\b|ins\b|inch|["″”])/i.test(v) : isObject(v) && typeof v['unit'] === 'string' && findUnit('part', v['unit'])?.name === 'in');

function yarnNumbers(g: Reading): YarnNumbers {
  const out: Partial<YarnNumbers> = {};
  for (const [key, unit] of numberUnits) {
    if (isPoint(g)) { out[key] = fromSI(g.value, unit); continue; }
    const [a, b] = [g.low === undefined ? undefined : fromSI(g.low, unit), g.high === undefined ? undefined : fromSI(g.high, unit)];
    const [low, high] = unit.reciprocal ? [b, a] : [a, b];
    out[key] = { ...(low === undefined || !Number.isFinite(low) ? {} : { low }), ...(high === undefined || !Number.isFinite(high) ? {} : { high }) };
  }
  return out as YarnNumbers;
}

function categories(result: GristResult, known: (e: Expr) => Reading, wraps: Expr | undefined, wrapping: Wrapping | undefined, grist: Expr, weighed: boolean, out: Notes): void {
  const ends = (r: Reading): [number, number] => (isPoint(r) ? [r.value, r.value] : [r.low ?? 0, r.high ?? Infinity]);
  const list: Category[] = [];
  if (wraps !== undefined && wrapping !== 'packed') { const [a, b] = ends(known(wraps)); list.push(...categoriesByWraps(a * 0.0254 - 1e-9, b * 0.0254 + 1e-9)); }
  else if (weighed) { const [a, b] = ends(known(grist)); list.push(...categoriesByMetres(0.1 / b, a === 0 ? Infinity : 0.1 / a)); }
  if (list.length === 0) return;
  result.categories = list;
  out.assume(notes.categoryIsNoMeasure);
}
