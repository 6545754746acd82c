/** Plying at a wheel: turns for each draw, on the wheel's own whorls and bobbins, and whether the plied yarn fits. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import { nearest, type Reader } from '../../foundation/read.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { BobbinRead } from '../../wheels/profile.js';
import * as ratioNotes from '../ratio/notes.js';
import { askedWheel, buildTrain, type BobbinPulley, type Train } from '../ratio/train.js';
import { packageOf } from '../package.js';
import { leastTwistDouble, leastTwistFlyerLead, woundMass } from '../take-up/formula.js';
import { drawInOf } from '../ratio/answer.js';
import { powered } from '../twist/notes.js';
import type { Drive } from '../../wheels/words.js';
import * as notes from './notes.js';

export const reaches = ['all-the-way', 'when-fuller', 'no', 'too-close-to-say'] as const;
export type Reach = (typeof reaches)[number];
export interface PairRow { whorl?: string; bobbin?: string; groove?: string; ratio: R; wheelTurns?: R; plyTwist?: Q; draftLengthPerWheelTurn?: Q; leastTwistEmpty?: Q; leastTwistFull?: Q; reach?: Reach }
export interface RoomRow { bobbin: string; holds: Q; fits: 'yes' | 'no' | 'too-close-to-say' }
/** What drives the yarn, with the softest twist that it can make at the core and when full, where it has one. */
export interface Driver { readonly whorl?: string; readonly bobbin?: string; readonly groove?: string; readonly ratio: Expr; readonly least?: { readonly empty: Expr; readonly full: Expr } }
export interface PlyWheel { readonly drive?: Drive; readonly train?: Train; readonly drivers: readonly Driver[] }

type Json = Record<string, unknown>;
export function plyWheel(q: Json, r: Reader, k: Knowns, out: Notes): PlyWheel {
  const { drive, wheel, chosen } = askedWheel(q, r);
  if (wheel === undefined || chosen === undefined) return { drivers: [], ...(drive === undefined ? {} : { drive }) };
  const train = buildTrain(wheel, chosen, r, out, k);
  if (wheel.condition === 'do-not-run') out.caution(ratioNotes.doNotRun);
  if (chosen.drive === 'electric' || wheel.turnedBy === 'motor') out.caution(powered);
  if (chosen.mode?.brake?.springs === 'one-end') out.assume(notes.resetBrake);
  if (r.issues.length > 0) return { drive: chosen.drive, train, drivers: [] };
  const named = (key: 'whorl' | 'bobbin', all: readonly string[]): string | undefined => {
    const wanted = q[key] === undefined ? undefined : r.text(q[key], `/${key}`, 80);
    if (wanted === undefined || all.includes(wanted)) return wanted;
    const near = nearest(wanted, all);
    return r.fail(`/${key}`, { code: 'not-known-part', detail: `This wheel has no ${key} of that name.`, received: wanted, expected: all.join(', ') || `no ${key} was given`, ...(near === undefined ? {} : { try: near }) });
  };
  const [whorl, bobbin] = [named('whorl', wheel.whorls.map((w) => w.name)), named('bobbin', wheel.bobbins.map((b) => b.name))];
  const driver = driversOf(train, r, out).filter((d) => (whorl === undefined || d.whorl === undefined || d.whorl === whorl) && (bobbin === undefined || d.bobbin === undefined || d.bobbin === bobbin));
  return { drive: chosen.drive, train, drivers: driver };
}

/** Only a bobbin whose measures are known has a softest twist of its own. */
const measured = (b: BobbinRead): boolean => b.core !== undefined && (b.end ?? b.full) !== undefined;
function driversOf(train: Train, r: Reader, out: Notes): Driver[] {
  const at = (b: BobbinRead, least: (d: Expr) => Expr): Pick<Driver, 'least'> => {
    if (!measured(b)) return {};
    const { core, full } = packageOf(b, train, r, out, false);
    return { least: { empty: least(core), full: least(full) } };
  };
  const groove = (b: BobbinPulley): { bobbin: string; groove?: string } => ({ bobbin: b.name, ...(b.bobbin.grooves.length > 1 ? { groove: b.groove } : {}) });
  if (train.drive === 'bobbin-lead') return train.bobbins.flatMap((b) => (b.ratio === undefined ? [] : [{ ...groove(b), ratio: b.ratio }]));
  if (train.drive === 'double-drive' && train.pairs.length > 0) {
    return train.pairs.flatMap((p) => {
      if (p.whorl.ratio === undefined) return [];
      const least = (d: Expr): Expr => expr((diameter, x) => leastTwistDouble({ diameter, bobbinPerFlyerTurn: x }), d, p.rho);
      return [{ whorl: p.whorl.name, ...groove(p.bobbin), ratio: p.whorl.ratio, ...(drawInOf(train.knowns.reading(p.rho)) === 'too-close-to-say' ? {} : at(p.bobbin.bobbin, least)) }];
    });
  }
  const softest = (d: Expr): Expr => expr((diameter) => leastTwistFlyerLead({ diameter }), d);
  return train.whorls.flatMap((w) => {
    if (w.ratio === undefined) return [];
    const ratio = w.ratio;
    const bobbins = train.drive === 'flyer-lead' ? train.wheel.bobbins.filter((b) => measured(b) && (b.flyer === undefined || w.flyer === undefined || b.flyer === w.flyer)) : [];
    return bobbins.length === 0 ? [{ whorl: w.name, ratio }] : bobbins.map((b) => ({ whorl: w.name, bobbin: b.name, ratio, ...at(b, softest) }));
  });
}

export interface Draw { readonly twist?: Expr; readonly length?: Expr; readonly turns?: Expr; /** Turn that each lap costs on a bobbin-lead wheel, 1/(πd). */ readonly lap?: Expr }
/** Turns of the wheel for a draw, or the ply twist that a draw gets, on each driver. */
export function pairRows(drivers: readonly Driver[], d: Draw, k: Knowns, units: UnitChoice): PairRow[] {
  const known = (e: Expr): Reading => k.reading(e);
  return drivers.map((x) => {
    const row: PairRow = { ...(x.whorl === undefined ? {} : { whorl: x.whorl }), ...(x.bobbin === undefined ? {} : { bobbin: x.bobbin }), ...(x.groove === undefined ? {} : { groove: x.groove }), ratio: wire('ratio', known(x.ratio)) };
    const found = turnsFor(x.ratio, d);
    if (found.wheelTurns !== undefined) row.wheelTurns = wire('number', known(found.wheelTurns));
    if (found.plyTwist !== undefined) row.plyTwist = wire('twist', known(found.plyTwist), units);
    if (found.perTurn !== undefined) row.draftLengthPerWheelTurn = wire('part', known(found.perTurn), units);
    if (x.least === undefined) return row;
    const [empty, full] = [known(x.least.empty), known(x.least.full)];
    row.leastTwistEmpty = wire('twist', empty, units);
    row.leastTwistFull = wire('twist', full, units);
    const wanted = d.twist ?? found.plyTwist;
    if (wanted !== undefined) {
      const [atCore, atFull] = [x.least.empty, x.least.full].map((least) => extent(known(expr((t, l) => t - l, wanted, least))));
      row.reach = atCore!.low >= 0 ? 'all-the-way' : atFull!.high < 0 ? 'no' : atCore!.high < 0 && atFull!.low >= 0 ? 'when-fuller' : 'too-close-to-say';
    }
    return row;
  });
}
export function turnsFor(ratio: Expr, d: Draw): { wheelTurns?: Expr; plyTwist?: Expr; perTurn?: Expr } {
  const gross = (t: Expr): Expr => (d.lap === undefined ? t : expr((a, b) => a + b, t, d.lap));
  if (d.twist === undefined) {
    if (d.length === undefined || d.turns === undefined) return {};
    const t = expr((i, n, l) => (i * n) / l, ratio, d.turns, d.length);
    return { plyTwist: d.lap === undefined ? t : expr((a, b) => a - b, t, d.lap), perTurn: expr((l, n) => l / n, d.length, d.turns) };
  }
  const perTurn = expr((i, t) => i / t, ratio, gross(d.twist));
  return d.length === undefined ? { perTurn } : { perTurn, wheelTurns: expr((t, l, i) => (t * l) / i, gross(d.twist), d.length, ratio) };
}

/** Whether so much plied yarn fits on each bobbin whose measures are known. */
export function rooms(w: PlyWheel, mass: Expr, r: Reader, k: Knowns, out: Notes, units: UnitChoice): RoomRow[] {
  if (w.train === undefined) return [];
  const { train } = w;
  const density = (): Expr => { out.assume(notes.roomDensity); return k.assumed({ value: 300, u: 25 }); };
  return train.wheel.bobbins.filter((b) => measured(b) && b.lengthBetweenEnds !== undefined).map((b) => {
    const { core, full, width } = packageOf(b, train, r, out);
    const holds = expr((c, diameter, wide, rho) => woundMass({ core: c, diameter, width: wide, density: rho }), core, full, width, density());
    const spare = extent(k.reading(expr((h, m) => h - m, holds, mass)));
    const fits = spare.low >= 0 ? 'yes' : spare.high < 0 ? 'no' : 'too-close-to-say';
    if (fits === 'no') out.warn(notes.doesNotFit);
    return { bobbin: b.name, holds: wire('mass', k.reading(holds), units), fits };
  });
}
