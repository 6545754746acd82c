/** The wheel's own numbers, of whatever was measured, each beside its window. The formulas are those of the other calculations. */
import type { Notes } from '../../foundation/notes.js';
import type { Kind, UnitChoice } from '../../foundation/quantity.js';
import type { Reader } from '../../foundation/read.js';
import { extent, wire, type Reading, type Span, type Wire } from '../../foundation/reading.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import type { BobbinRead, WheelRead } from '../../wheels/profile.js';
import { readBagTest } from '../bag-test.js';
import { fullBelowRim, oneWheelTurn } from '../take-up/notes.js';
import { diameterAt, frictionFactor, leastTwistDouble, leastTwistFlyerLead, mostDouble, mostLed } from '../take-up/formula.js';
import { spreadNeeded } from '../tension/formula.js';
import { pullBorneTaken, pullNeededTaken } from '../tension/notes.js';
import { readTreadling, readTurns } from '../treadles.js';
import { bobbinLeadTwist, turnsPerLap } from '../twist/formula.js';
import { buildTrain, type Asked, type BobbinPulley, type Pulley, type Train } from '../ratio/train.js';
import type { QuantityId } from './cause.js';
import type { Found } from './formula.js';
import type { Fill } from '../../reference/signs.js';

export interface QuantityAnswer { of: QuantityId; value: Wire; atLeast?: Wire; atMost?: Wire; found: Found; times?: Wire }
export interface Measured { readonly of: QuantityId; readonly found: Found; wire(units: UnitChoice): QuantityAnswer }
/** Nearer to equal than this, a pair is too close to say (as `ratio` has it). */
const nearEqual = 0.02;
const grams = 0.00980665;
/** A flyer of wood above this is not safe: turns in a second. */
const fastest = 1500 / 60;
/** Most spin at 40 to 90 treadles a minute. */
const fastFeet = 90 / 60;
const smallestWhorl = 0.02;
/** A lap's turn matters from this share of the twist. */
const lapShare = 0.1;
/** Share of the twist that is wanted within which it is right. */
const [least, greatest] = [0.8, 1.25];

type Json = Readonly<Record<string, unknown>>;
interface Part { readonly whorl?: Pulley; readonly bobbin?: BobbinPulley; readonly read?: BobbinRead; readonly rho?: Expr }

const hullOf = <T extends Reading>(list: readonly T[]): T | Required<Span> | undefined => {
  if (list.length < 2) return list[0];
  const ends = list.map(extent);
  return { low: Math.min(...ends.map((e) => e.low)), high: Math.max(...ends.map((e) => e.high)) };
};
/** A number with the ends of its window; what the wheel has several of is taken together. */
interface Beside { readonly value: Expr; readonly low?: Expr; readonly high?: Expr }
function measured(of: QuantityId, kind: Kind | 'number', list: readonly Beside[], k: Knowns, decided?: Found): Measured | undefined {
  const all = (make: (b: Beside) => Expr | undefined): Reading | undefined => hullOf(list.flatMap((b) => { const e = make(b); return e === undefined ? [] : [k.reading(e)]; }));
  const over = (end: 'low' | 'high') => all((b) => (b[end] === undefined ? undefined : expr((x, y) => x / y, b.value, b[end])));
  const value = all((b) => b.value);
  if (value === undefined) return undefined;
  const [atLeast, atMost, toLow, toHigh] = [all((b) => b.low), all((b) => b.high), over('low'), over('high')];
  const [low, high] = [toLow === undefined ? undefined : extent(toLow), toHigh === undefined ? undefined : extent(toHigh)];
  const found = decided ?? ((high?.low ?? 0) > 1 ? 'above' : (low?.high ?? 2) < 1 ? 'below' : (low?.low ?? 2) >= 1 && (high?.high ?? 0) <= 1 ? 'inside' : 'near');
  const times = found === 'above' ? toHigh : found === 'below' ? toLow : undefined;
  const w = (r: Reading, units: UnitChoice): Wire => wire(kind as Kind, r, units);
  return { of, found, wire: (units) => ({ of, value: w(value, units), ...(atLeast === undefined ? {} : { atLeast: w(atLeast, units) }), ...(atMost === undefined ? {} : { atMost: w(atMost, units) }), found, ...(times === undefined ? {} : { times: wire('number', times) }) }) };
}

/** The parts that may be meant: those that were named, or all. */
function partsOf(train: Train | undefined, wheel: WheelRead | undefined, q: Json, r: Reader): Part[] {
  const named = <T extends { readonly name: string }>(list: readonly T[], key: 'whorl' | 'bobbin'): readonly T[] => {
    if (q[key] === undefined) return list;
    const name = r.text(q[key], `/${key}`, 80);
    const found = list.filter((x) => x.name === name);
    if (name !== undefined && found.length === 0 && (key === 'bobbin' ? wheel?.bobbins.length : wheel?.whorls.length) !== 0 && list.length > 0) r.fail(`/${key}`, { code: 'not-known-part', detail: 'The wheel has no part of that name.', received: name, expected: [...new Set(list.map((x) => x.name))].join(' or ') });
    return found;
  };
  if (train === undefined || wheel === undefined) return [];
  const [whorls, bobbins, reads] = [named(train.whorls, 'whorl'), named(train.bobbins, 'bobbin'), named(wheel.bobbins, 'bobbin')];
  if (train.drive === 'double-drive' && train.pairs.length > 0) return train.pairs.filter((p) => whorls.includes(p.whorl) && bobbins.includes(p.bobbin)).map((p) => ({ whorl: p.whorl, bobbin: p.bobbin, read: p.bobbin.bobbin, rho: p.rho }));
  if (train.drive === 'bobbin-lead') return bobbins.map((b) => ({ bobbin: b, read: b.bobbin }));
  const some = whorls.length > 0 ? whorls : [undefined];
  return some.flatMap((w) => (reads.length > 0 ? reads : [undefined]).map((b) => ({ ...(w === undefined ? {} : { whorl: w }), ...(b === undefined ? {} : { read: b }) })));
}

/** Reads the measures of the question, and works out all that they and the wheel give. */
export function measure(q: Json, asked: Asked, fill: Fill | undefined, r: Reader, out: Notes): { readonly numbers: readonly Measured[]; readonly train?: Train } {
  const { wheel, chosen } = asked;
  const k = new Knowns();
  const train = wheel === undefined || chosen === undefined ? undefined : buildTrain(wheel, chosen, r, out, k);
  const quantity = (key: string, kind: Kind, limits = {}): Expr | undefined => { const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits); return v === undefined ? undefined : k.input(v); };
  const input = (v: Reading | undefined): Expr | undefined => (v === undefined ? undefined : k.input(v));
  const treadling = input(readTreadling(q, r, out));
  const draft = quantity('draftLength', 'part', { moreThan: 1e-5, atMost: 100, says: 'more than 0' });
  let turns = input(readTurns(q, r, out));
  if (draft !== undefined && turns === undefined) { out.assume(oneWheelTurn); turns = k.assumed({ value: 1 }); }
  const wanted = quantity('twist', 'twist');
  const bag = readBagTest(q['bagTest'], r, k, out);
  const pull = (key: string, note: typeof pullNeededTaken, g: number): Expr => quantity(key, 'pull', { moreThan: 0, atMost: 100 }) ?? (bag === undefined ? undefined : (out.assume(note), k.assumed({ value: g * grams }))) ?? k.assumed({ value: g * grams });
  const [needed, borne] = [pull('pullNeeded', pullNeededTaken, 5), pull('pullBorne', pullBorneTaken, 60)];
  const parts = partsOf(train, wheel, q, r);
  const numbers: Measured[] = [];
  /** Only where every part that may be meant gives it. */
  const add = (of: QuantityId, kind: Kind | 'number', list: readonly (Beside | undefined)[], decided?: Found): void => {
    if (list.length === 0 || list.some((b) => b === undefined)) return;
    const one = measured(of, kind, list as readonly Beside[], k, decided);
    if (one !== undefined) numbers.push(one);
  };
  const fixed = (value: number): Expr => k.assumed({ value });

  const drive = train?.drive;
  const rho = hullOf(parts.flatMap((p) => (p.rho === undefined ? [] : [extent(k.reading(p.rho))])));
  const apart = rho === undefined ? undefined : rho.low > 1 + nearEqual ? 'inside' : rho.high < 1 - nearEqual ? 'below' : 'near';
  add('bobbin-per-flyer-turn', 'number', parts.map((p) => p.rho && { value: p.rho, low: fixed(1 + nearEqual) }), apart);
  const across = parts.map((p) => acrossOf(p.read, fill, k, out));
  const per = (make: (p: Part, d: Expr) => Beside | undefined): (Beside | undefined)[] => parts.map((p, i) => { const d = across[i]; return d === undefined ? undefined : make(p, d); });
  if (draft !== undefined && turns !== undefined) {
    const perTurn = expr((l, n) => l / n, draft, turns);
    add('feed', 'part', per((p, d) => {
      const [i, j] = [p.whorl?.ratio, p.bobbin?.ratio];
      if (drive === 'double-drive') return i === undefined || j === undefined || apart === 'near' ? undefined : { value: perTurn, high: expr((diameter, flyerRatio, bobbinRatio) => mostDouble({ diameter, flyerRatio, bobbinRatio }), d, i, j) };
      const led = drive === 'flyer-lead' ? i : drive === 'bobbin-lead' ? j : undefined;
      return led && { value: perTurn, high: expr((diameter, ratio) => mostLed({ diameter, ratio }), d, led) };
    }));
    if (wanted !== undefined) {
      const window = { low: expr((t) => least * t, wanted), high: expr((t) => greatest * t, wanted) };
      if (drive === 'bobbin-lead') add('twist', 'twist', per((p, d) => p.bobbin?.ratio && { value: expr((i, n, length, diameter) => bobbinLeadTwist({ bobbinTurns: i * n, length, diameter }), p.bobbin.ratio, turns, draft, d), ...window }));
      else add('twist', 'twist', parts.map((p) => p.whorl?.ratio && { value: expr((i, n, l) => (i * n) / l, p.whorl.ratio, turns, draft), ...window }));
    }
  }
  if (wanted !== undefined) {
    if (drive === 'double-drive' && apart !== 'near') add('softest-twist', 'twist', per((p, d) => p.rho && { value: expr((diameter, bobbinPerFlyerTurn) => leastTwistDouble({ diameter, bobbinPerFlyerTurn }), d, p.rho), high: wanted }));
    if (drive === 'flyer-lead' || drive === 'electric') add('softest-twist', 'twist', per((_, d) => ({ value: expr((diameter) => leastTwistFlyerLead({ diameter }), d), high: wanted })));
    if (drive === 'bobbin-lead') add('twist-of-a-lap', 'twist', per((_, d) => ({ value: expr((diameter) => turnsPerLap({ diameter }), d), high: expr((t) => lapShare * t, wanted) })));
  }
  if (bag !== undefined) {
    add('draws-in', 'pull', [{ value: bag.lifts, low: needed }]);
    add('pulls-off', 'pull', [{ value: bag.off, high: borne }]);
    add('spread', 'number', parts.map((p) => { const full = p.read && fullOf(p.read, k, out); return p.read?.core === undefined || full === undefined ? undefined : { value: expr((core, f, lifts, pullsOff) => spreadNeeded({ core, full: f, factor: frictionFactor({ lifts, pullsOff }) }), k.input(p.read.core), full, bag.lifts, bag.off), high: expr((b, n) => b / n, borne, needed) }; }));
  }
  if (treadling !== undefined) {
    add('treadling', 'turning', [{ value: treadling, high: fixed(fastFeet) }]);
    add('flyer-speed', 'turning', parts.map((p) => { const i = p.whorl?.ratio ?? p.bobbin?.ratio; return i && { value: expr((a, b) => a * b, i, treadling), high: fixed(fastest) }; }));
  }
  add('whorl-size', 'part', parts.map((p) => { const pitch = drive === 'bobbin-lead' ? p.bobbin?.pitch : p.whorl?.pitch; return pitch && { value: pitch, low: fixed(smallestWhorl) }; }));
  return { numbers, ...(train === undefined ? {} : { train }) };
}

function fullOf(b: BobbinRead, k: Knowns, out: Notes): Expr | undefined {
  if (b.full !== undefined) return k.input(b.full);
  if (b.end === undefined) return undefined;
  out.assume(fullBelowRim);
  return expr((e) => e - 0.008, k.input(b.end));
}
/** Yarn on the bobbin, across: as full as it was said to be, or anything from core to full. */
function acrossOf(b: BobbinRead | undefined, fill: Fill | undefined, k: Knowns, out: Notes): Expr | undefined {
  if (b?.core === undefined) return undefined;
  const core = k.input(b.core);
  if (fill === 'empty') return core;
  const full = fullOf(b, k, out);
  return full === undefined ? undefined : expr((c, f, x) => diameterAt({ core: c, full: f, fill: x }), core, full, k.assumed(fill === undefined ? { low: 0, high: 1 } : { value: fill === 'half' ? 0.5 : 1 }));
}
