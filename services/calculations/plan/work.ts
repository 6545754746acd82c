/** The plan as expressions: from what is wanted back to strands, fibre, bobbins and hours, every allowance on the way named. */
import type { Assumption, Notes } from '../../foundation/notes.js';
import type { Kind } from '../../foundation/quantity.js';
import { extent, isPoint, middle, type Reading } from '../../foundation/reading.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { atRegain } from '../grist/formula.js';
import { packageOf } from '../package.js';
import { woundMass } from '../take-up/formula.js';
import { Reader } from '../../foundation/read.js';
import * as f from './formula.js';
import type { Given } from './inputs.js';
import * as notes from './notes.js';

export const allowanceNames = ['reserve', 'length-lost', 'plying-length', 'spinning-loss', 'samples', 'preparation-yield', 'scouring-yield', 'own-yield', 'moisture', 'cloth-shrinkage', 'loom-waste', 'grist-spread', 'yarn-on-the-bobbin', 'duty', 'plying-speed', 'plying-reserve', 'bobbin-change', 'skein-time', 'sitting'] as const;
export type AllowanceName = (typeof allowanceNames)[number];
export interface Allowance { readonly allowance: AllowanceName; readonly kind: Kind; readonly value: Expr; readonly basis: 'yours' | 'common-practice' }
export const stages = ['in-the-yarn', 'with-reserve', 'ready-to-spin', 'washed-fleece', 'raw-fleece', 'as-bought'] as const;
export type Stage = (typeof stages)[number];

const hour = 3600;
/** Unknown widths as likely ones: a range is taken as even (JCGM 100:2008, 4.3.7). A range without an end leaves nothing to say. */
export class Likely extends Knowns {
  endless = false;
  override assumed(r: Reading): Expr {
    if (isPoint(r)) return super.assumed(r);
    if (r.low === undefined || r.high === undefined) { this.endless = true; return super.assumed({ value: middle(r) }); }
    return super.assumed({ value: (r.low + r.high) / 2, u: (r.high - r.low) / Math.sqrt(12) });
  }
}

export interface Work {
  readonly k: Knowns; readonly allowances: readonly Allowance[];
  readonly pieces: Expr;
  /** Finished yarn that is wanted, without reserve. */
  readonly mass?: Expr; readonly length?: Expr; readonly warp?: Expr; readonly weft?: Expr;
  readonly grist?: Expr; readonly strand?: Expr; readonly fresh?: Expr;
  readonly lengths?: { readonly withReserve: Expr; readonly offTheWheel: Expr; readonly each: Expr; readonly all: Expr };
  readonly stages: readonly { readonly stage: Stage; readonly mass: Expr }[];
  readonly bobbins?: { readonly holds: Expr; readonly holdsPlied?: Expr; readonly sets: number; readonly strands: number; readonly eachFibre?: Expr; readonly eachLength: Expr; readonly pliedEach: Expr };
  readonly hours?: { readonly whileSpinning?: Expr; readonly over: Expr; readonly limitedBy?: 'twist' | 'draft'; readonly duty?: Expr; readonly spinning: Expr; readonly plying?: Expr; readonly handling: Expr; readonly total: Expr; readonly sittings: Expr; readonly weeks?: Expr };
  readonly stock?: { readonly yarn: Expr; readonly length?: Expr; readonly pieces: Expr; readonly spare: Expr; readonly margin: Expr; readonly reserveMargin: Expr; readonly hours?: Expr };
}

const washing = { worsted: { value: 0.05, u: 0.015 }, 'semi-worsted': { value: 0.07, u: 0.02 }, 'semi-woollen': { value: 0.09, u: 0.025 }, woollen: { value: 0.12, u: 0.03 } } as const;
const loss = { combed: { value: 0.03, u: 0.01 }, carded: { value: 0.08, u: 0.02 }, 'washed-fleece': { value: 0.05, u: 0.02 }, 'raw-fleece': { value: 0.05, u: 0.02 } } as const;

export function work(g: Given, k: Knowns, out: Notes): Work {
  const allowances: Allowance[] = [];
  const given = (place: string): Expr | undefined => { const r = g.of.get(place); return r === undefined ? undefined : k.input(r); };
  const allow = (allowance: AllowanceName, place: string, kind: Kind, usual: Reading, note: Assumption): Expr => {
    const own = given(place);
    if (own === undefined) out.assume(note);
    const value = own ?? k.assumed(usual);
    allowances.push({ allowance, kind, value, basis: own === undefined ? 'common-practice' : 'yours' });
    return value;
  };
  const { plies } = g;
  const pieces = given('pieces') ?? k.assumed({ value: 1 });
  const reserve = allow('reserve', 'reserve', 'share', { value: 0.1 }, notes.reserveTaken);

  // ---- the yarn
  const lost = allow('length-lost', 'lengthLost', 'share', g.preparation === undefined ? { value: 0.08, u: 0.03 } : washing[g.preparation], notes.washingTaken);
  const chain = g.plyingWay === 'chain';
  const plyUse = plies === undefined || plies === 1 ? k.assumed({ value: 0 }) : allow('plying-length', 'plyAllowance', 'share', chain ? { value: 0.05, u: 0.015 } : { value: 0, u: 0.025 }, chain ? notes.chainTaken : notes.plyTaken);
  const n = plies ?? 1;
  const sample = g.of.has('singlesSample/mass') ? expr((m, l) => m / l, given('singlesSample/mass')!, given('singlesSample/length')!) : undefined;
  const grist = sample === undefined ? (g.grist === undefined ? undefined : k.input(g.grist)) : expr((strand, l, a) => f.finishedGrist({ strand, plies: n, lost: l, allowance: a }), sample, lost, plyUse);
  const strand = plies === undefined || grist === undefined ? undefined : (sample ?? expr((x, l, a) => f.strandGrist({ grist: x, plies, lost: l, allowance: a }), grist, lost, plyUse));
  const fresh = grist === undefined ? undefined : expr((x, l) => x * (1 - l), grist, lost);

  // ---- what is wanted
  const cloth = g.of.has('cloth/width') ? clothYarn(g, given, allow, out) : undefined;
  const times = (e: Expr | undefined): Expr | undefined => (e === undefined ? undefined : expr((x, p) => x * p, e, pieces));
  const lengthGiven = times(cloth?.yarn ?? given('length'));
  const massGiven = times(given('mass'));
  const length = lengthGiven ?? (massGiven === undefined || grist === undefined ? undefined : expr((m, x) => m / x, massGiven, grist));
  const mass = massGiven ?? (length === undefined || grist === undefined ? undefined : expr((l, x) => l * x, length, grist));
  const more = (e: Expr): Expr => expr((amount, r) => f.withReserve({ amount, reserve: r }), e, reserve);
  let lengths: Work['lengths'];
  if (length !== undefined) {
    const withReserve = more(length);
    const offTheWheel = expr((amount, l) => f.beforeLoss({ amount, lost: l }), withReserve, lost);
    const each = expr((plied, allowance) => f.strandLength({ plied, allowance }), offTheWheel, plyUse);
    lengths = { withReserve, offTheWheel, each, all: expr((l) => l * n, each) };
  }

  // ---- the fibre
  const list: { stage: Stage; mass: Expr }[] = [];
  const spin = mass === undefined ? undefined : fibre(g, mass, more(mass), k, given, allow, allowances, out, list);
  const bobbins = plies === undefined || lengths === undefined ? undefined : bobbinsOf(g, plies, chain, lengths, fresh, spin, given, allow, k, out);
  const hours = lengths === undefined || bobbins === undefined ? undefined : hoursOf(g, n, strand, lengths, bobbins, given, allow, k, out);
  const stock = mass === undefined || spin === undefined || !g.of.has('stock') ? undefined : stockOf(g, given('stock')!, mass, more(mass), list.at(-1)!.mass, spin, grist, strand, hours?.over, k, allow, pieces);
  if (g.plies === undefined) out.warn(notes.howManyPlies);
  if (allowances.some((a) => a.basis === 'common-practice')) out.assume(notes.practice);
  const rest = { mass, length, warp: times(cloth?.warp), weft: times(cloth?.weft), grist, strand, fresh, lengths, bobbins, hours, stock };
  return { k, allowances, pieces, stages: list, ...(Object.fromEntries(Object.entries(rest).filter(([, v]) => v !== undefined)) as Partial<Work>) };
}

type Get = (place: string) => Expr | undefined;
type Allow = (allowance: AllowanceName, place: string, kind: Kind, usual: Reading, note: Assumption) => Expr;

function clothYarn(g: Given, given: Get, allow: Allow, out: Notes): { yarn: Expr; warp?: Expr; weft?: Expr } {
  const [width, length] = [given('cloth/width')!, given('cloth/length')!];
  if (g.of.has('swatch/yarn')) {
    out.assume(notes.byArea);
    return { yarn: expr((w, l, sw, sl, yarn) => f.fromSwatch({ width: w, length: l, swatchWidth: sw, swatchLength: sl, yarn }), width, length, given('swatch/width')!, given('swatch/length')!, given('swatch/yarn')!) };
  }
  const shrinkage = allow('cloth-shrinkage', 'cloth/shrinkage', 'share', { value: 0.1, u: 0.02 }, notes.shrinkageTaken);
  const waste = allow('loom-waste', 'cloth/loomWaste', 'length', { value: 0.7, u: 0.1 }, notes.loomWasteTaken);
  const [w, l] = [width, length].map((e) => expr((finished, s) => f.onTheLoom({ finished, shrinkage: s }), e, shrinkage)) as [Expr, Expr];
  const warp = expr((a, b, sett, x) => f.warpLength({ width: a, length: b, sett, waste: x }), w, l, given('cloth/warpSett')!, waste);
  const weft = expr((a, b, sett) => f.weftLength({ width: a, length: b, sett }), w, l, given('cloth/weftSett')!);
  return { yarn: expr((a, b) => a + b, warp, weft), warp, weft };
}

interface Spin { readonly lost: Expr; readonly samples: Expr; /** Of what is at hand, the share that is ready to spin. */ readonly ready: Expr; readonly withoutSamples: Expr }
function fibre(g: Given, mass: Expr, wanted: Expr, k: Knowns, given: Get, allow: Allow, allowances: Allowance[], out: Notes, list: { stage: Stage; mass: Expr }[]): Spin {
  const lost = allow('spinning-loss', 'spinningLoss', 'share', g.fibreForm === undefined ? { value: 0.05, u: 0.02 } : loss[g.fibreForm], notes.lossTaken);
  const samples = allow('samples', 'samples', 'mass', { value: 0.01 }, notes.samplesTaken);
  list.push({ stage: 'in-the-yarn', mass }, { stage: 'with-reserve', mass: wanted }, { stage: 'ready-to-spin', mass: expr((yarn, l, s) => f.fibreToSpin({ yarn, lost: l, samples: s }), wanted, lost, samples) });
  let ready = k.assumed({ value: 1 });
  const back = (stage: Stage, share: Expr): void => { list.push({ stage, mass: expr((m, y) => m / y, list.at(-1)!.mass, share) }); ready = expr((a, b) => a * b, ready, share); };
  const fleece = g.fibreForm === 'raw-fleece' || g.fibreForm === 'washed-fleece';
  if (fleece || g.of.has('ownYield/before')) out.caution(notes.fleece);
  if (g.of.has('ownYield/before')) {
    const own = expr((a, b) => b / a, given('ownYield/before')!, given('ownYield/after')!);
    allowances.push({ allowance: 'own-yield', kind: 'share', value: own, basis: 'yours' });
    back(g.fibreForm === 'washed-fleece' ? 'washed-fleece' : 'raw-fleece', own);
  } else {
    if (fleece || g.of.has('preparationYield')) back('washed-fleece', allow('preparation-yield', 'preparationYield', 'share', g.preparation === 'worsted' ? { value: 0.62, u: 0.06 } : { value: 0.9, u: 0.025 }, notes.preparationTaken));
    if (g.fibreForm === 'raw-fleece' || g.of.has('scouringYield')) back('raw-fleece', allow('scouring-yield', 'scouringYield', 'share', { value: 0.65, u: 0.06 }, notes.scouringTaken));
  }
  if (g.of.has('regainBought')) {
    const factor = expr((bought, room) => atRegain({ amount: 1, from: bought, to: room }), given('regainBought')!, given('regainRoom')!);
    allowances.push({ allowance: 'moisture', kind: 'share', value: factor, basis: 'yours' });
    back('as-bought', factor);
  } else out.assume(notes.sameAir);
  if (g.fibreForm === undefined && !g.of.has('ownYield/before') && !g.of.has('scouringYield')) out.warn(notes.whichForm);
  return { lost, samples, ready, withoutSamples: expr((yarn, l) => f.fibreToSpin({ yarn, lost: l, samples: 0 }), wanted, lost) };
}

function bobbinsOf(g: Given, plies: number, chain: boolean, lengths: NonNullable<Work['lengths']>, fresh: Expr | undefined, spin: Spin | undefined, given: Get, allow: Allow, k: Knowns, out: Notes): Work['bobbins'] {
  const strands = chain ? 1 : plies;
  const own = given('bobbinHolds');
  const usual = g.preparation === 'woollen' ? { value: 260, u: 25 } : g.preparation === 'worsted' ? { value: 330, u: 25 } : { value: 300, u: 25 };
  const density = own === undefined ? allow('yarn-on-the-bobbin', 'packageDensity', 'density', usual, notes.holdsTaken) : k.assumed(usual);
  // The plied yarn is taken as it usually lies, whatever was said of the strand.
  if (own === undefined) out.assume(notes.holdsTaken);
  const r = new Reader();
  const pack = own === undefined ? packageOf(g.bobbin ?? { name: 'bobbin 1', at: '/wheel/bobbins/0', grooves: [] }, { knowns: k }, r, out) : undefined;
  r.done();
  const room = (d: Expr): Expr => expr((core, diameter, width, rho) => woundMass({ core, diameter, width, density: rho }), pack!.core, pack!.full, pack!.width, d);
  const holds = own ?? room(density);
  const holdsPlied = plies === 1 ? undefined : (own ?? room(k.assumed({ value: 300, u: 25 })));
  const pliedMass = fresh === undefined ? undefined : expr((l, x) => l * x, lengths.offTheWheel, fresh);
  const most = (amount: Expr, limit: Expr): number => { const r = k.reading(expr((a, h) => a / h, amount, limit)); const { high } = extent(r); return f.fillsNeeded({ amount: Number.isFinite(high) ? high : middle(r), holds: 1 }); };
  let sets = 1;
  const count = g.of.get('singlesBobbins');
  if (count !== undefined) {
    sets = Math.max(1, Math.floor(middle(count) / strands));
    if (middle(count) !== sets * strands) out.warn(notes.unevenBobbins);
  } else if (pliedMass !== undefined) sets = Math.max(most(expr((m) => m / strands, pliedMass), holds), holdsPlied === undefined ? 1 : most(pliedMass, holdsPlied));
  const each = expr((l) => l / sets, chain ? lengths.all : lengths.each);
  return { holds, ...(holdsPlied === undefined ? {} : { holdsPlied }), sets, strands, eachLength: each, pliedEach: expr((l) => l / sets, lengths.offTheWheel), ...(spin === undefined ? {} : { eachFibre: expr((m) => m / (sets * strands), spin.withoutSamples) }) };
}

function hoursOf(g: Given, plies: number, strand: Expr | undefined, lengths: NonNullable<Work['lengths']>, bobbins: NonNullable<Work['bobbins']>, given: Get, allow: Allow, k: Knowns, out: Notes): Work['hours'] {
  let whileSpinning = given('spinningSpeed');
  let over = given('hourlyRate');
  let limitedBy: 'twist' | 'draft' | undefined;
  let duty: Expr | undefined;
  if (g.of.has('pace/time')) {
    const [l, m, t] = [given('pace/length'), given('pace/mass'), given('pace/time')!];
    over = l !== undefined ? expr((a, b) => a / b, l, t) : strand === undefined ? undefined : expr((a, b, x) => a / x / b, m!, t, strand);
    if (over === undefined) return undefined;
  }
  if (over !== undefined) {
    if (whileSpinning !== undefined) {
      duty = expr((a, b) => a / b, over, whileSpinning);
      if (extent(k.reading(duty)).low > 1) out.warn(notes.dutyOdd);
    }
  } else {
    if (whileSpinning === undefined) {
      const treadling = g.treadling === undefined ? undefined : k.input(g.treadling);
      const [draft, ratio, twist] = [given('draftLength'), given('ratio'), given('twist')];
      const byTwist = treadling === undefined || ratio === undefined || twist === undefined ? undefined : expr((a, b, c) => f.twistLimited({ treadling: a, ratio: b, twist: c }), treadling, ratio, twist);
      const byDraft = treadling === undefined || draft === undefined ? undefined : expr((a, b) => f.draftLimited({ treadling: a, draft: b }), treadling, draft);
      if (byTwist !== undefined && byDraft !== undefined) {
        const e = extent(k.reading(expr((a, b) => a / b, byTwist, byDraft)));
        limitedBy = e.high < 1 ? 'twist' : e.low > 1 ? 'draft' : undefined;
        whileSpinning = expr(Math.min, byTwist, byDraft);
      } else whileSpinning = byTwist ?? byDraft;
    }
    if (whileSpinning === undefined) {
      out.assume(notes.rateTaken);
      out.warn(notes.timeYourself);
      whileSpinning = expr((a, b) => f.draftLimited({ treadling: a, draft: b }), k.assumed({ low: 40 / 60, high: 1.5 }), k.assumed({ low: 0.03, high: 0.08 }));
    }
    over = expr((a, b) => a * b, whileSpinning, allow('duty', 'duty', 'share', { value: 0.75, u: 0.06 }, notes.dutyTaken));
  }
  const spinning = expr((l, v) => l / v, lengths.all, over);
  const skeins = bobbins.sets;
  const handling = expr((a, b) => a * bobbins.sets * (bobbins.strands + (plies > 1 ? 1 : 0)) + b * skeins, allow('bobbin-change', 'bobbinChange', 'minutes', { value: 300 }, notes.handlingTaken), allow('skein-time', 'skeinTime', 'minutes', { value: 900 }, notes.handlingTaken));
  let plying: Expr | undefined;
  if (plies > 1) {
    plying = expr((l, v, r) => (l / v) * (1 + r), lengths.offTheWheel, allow('plying-speed', 'plyingSpeed', 'speed', { low: 150 / hour, high: 370 / hour }, notes.plyingSpeedTaken), allow('plying-reserve', 'plyingReserve', 'share', { value: 0.5 }, notes.plyingReserveTaken));
  }
  const total = plying === undefined ? expr((a, b) => a + b, spinning, handling) : expr((a, b, c) => a + b + c, spinning, handling, plying);
  const sitting = allow('sitting', 'sitting', 'minutes', { low: 1800, high: 2700 }, notes.sittingTaken);
  if (extent(k.reading(sitting)).high > 2700.001) out.warn(notes.sittingLong);
  const sittings = expr((a, b) => a / b, total, sitting);
  const perWeek = given('sittingsPerWeek');
  return { ...(whileSpinning === undefined ? {} : { whileSpinning }), over, ...(limitedBy === undefined ? {} : { limitedBy }), ...(duty === undefined ? {} : { duty }), spinning, ...(plying === undefined ? {} : { plying }), handling, total, sittings, ...(perWeek === undefined ? {} : { weeks: expr((a, b) => a / b, sittings, perWeek) }) };
}

function stockOf(g: Given, stock: Expr, mass: Expr, wanted: Expr, needed: Expr, spin: Spin, grist: Expr | undefined, strand: Expr | undefined, over: Expr | undefined, k: Knowns, allow: Allow, pieces: Expr): Work['stock'] {
  const yarn = expr((m, ready, lost, samples) => f.yarnOfFibre({ fibre: m * ready, lost, samples }), stock, spin.ready, spin.lost, spin.samples);
  // A weight that is wanted is met by weight; a length takes more when the yarn comes out thick.
  const halfWidth = g.of.has('mass') ? undefined : allow('grist-spread', 'gristSpread', 'share', { value: 0.1 }, notes.gristSpread);
  const spread = halfWidth === undefined ? k.assumed({ value: 1 }) : k.assumed(k instanceof Likely ? { value: 1, u: middle(k.reading(halfWidth)) / 2 } : { value: 1 });
  const length = grist === undefined ? undefined : expr((m, x) => m / x, yarn, grist);
  return {
    yarn, ...(length === undefined ? {} : { length }), pieces: expr((y, m, p) => (y / m) * p, yarn, mass, pieces), spare: expr((a, b) => a - b, stock, needed),
    margin: expr((y, m, s) => y - m * s, yarn, mass, spread), reserveMargin: expr((y, m) => y - m, yarn, wanted),
    ...(strand === undefined || over === undefined ? {} : { hours: expr((y, x, v) => y / x / v, yarn, strand, over) }),
  };
}
