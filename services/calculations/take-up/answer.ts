/** Take-up: what each pair can draw in from empty to full, the softest twist, the twist that goes in. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { gum, kleinTwist } from '../../foundation/sources.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { BobbinRead, QIn, RIn, Wheel, WheelRead } from '../../wheels/profile.js';
import * as words from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { readBagTest, type BagRead, type BagTest } from '../bag-test.js';
import { packageOf, type Package } from '../package.js';
import { drawInOf, type DrawIn } from '../ratio/answer.js';
import * as ratioNotes from '../ratio/notes.js';
import { buildTrain, neededWheel, type BobbinPulley, type Pulley, type Train } from '../ratio/train.js';
import { reply } from '../reply.js';
import { readTreadling, readTurns } from '../treadles.js';
import { bobbinLeadTwist, turnsPerLap } from '../twist/formula.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export interface TakeUpQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; steps?: RIn; treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; wheelTurns?: RIn; treadles?: RIn; grist?: QIn; twist?: QIn;
  packageDensity?: QIn; wound?: QIn; flyerSpeed?: QIn; drawSpeed?: QIn; bagTest?: BagTest;
}
export interface FillAnswer {
  fill?: number; woundDiameter: Q; woundLength?: Q; mostDrawnInPerWheelTurn?: Q; mostDrawnInSpeed?: Q; leastTwist?: Q; insertedTwist?: Q; flyerTurnsPerWheelTurn?: R; bobbinTurnsPerWheelTurn?: R; bobbinSpeed?: Q; pull?: { drawingIn: Q; held: Q; pullingOff: Q };
}
export interface TakeUpResult {
  pairs: { whorl?: string; bobbin: string; groove?: string; drawIn?: DrawIn; bobbinPerFlyerTurn?: R; fill: FillAnswer[]; wound?: FillAnswer; reachesTwistFrom?: Q; capacity: { length?: Q; mass: Q } }[];
}
export const model = { id: 'take-up', version: '1.0.0' } as const;
const names = ['wheel', 'wheelId', 'drive', 'steps', 'treadling', 'counted', 'draftLength', 'wheelTurns', 'treadles', 'grist', 'twist', 'packageDensity', 'wound', 'flyerSpeed', 'drawSpeed', 'bagTest'] as const;

/** Pairs times steps: 24 whorls with one bobbin in 101 steps, or 24 with 24 in four. More would hold up everybody else. */
const mostFills = 24 * 101;

export interface SolvedPair { readonly whorl?: Pulley; readonly bobbin: { readonly name: string; readonly read: BobbinRead; readonly pulley?: BobbinPulley }; readonly rho?: Expr; readonly drawIn?: DrawIn; readonly pack: Package }
export interface Solved {
  readonly train: Train; readonly pairs: readonly SolvedPair[]; readonly steps: number; readonly out: Notes; readonly density: Expr;
  readonly treadling?: Expr; readonly draft?: Expr; readonly turns?: Expr; readonly grist?: Expr; readonly target?: Expr; readonly wound?: Expr; readonly flyerSpeed?: Expr; readonly drawSpeed?: Expr;
  readonly bag?: BagRead;
}

export function solve(question: unknown): Solved {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const stepsRead = q['steps'] === undefined ? undefined : r.number(q['steps'], '/steps', { atLeast: 2, atMost: 101, says: 'a whole number from 2 to 101' });
  const steps = stepsRead === undefined ? 3 : 'value' in stepsRead && Number.isInteger(stepsRead.value) ? stepsRead.value : (r.fail('/steps', { code: 'out-of-range', detail: 'Steps are a whole number.', received: JSON.stringify(q['steps']).slice(0, 40), expected: 'a whole number from 2 to 101' }), 3);
  const { wheel, chosen } = neededWheel(q, r);
  const train = buildTrain(wheel, chosen, r, out);
  const k = train.knowns;
  const input = (v: Reading | undefined): Expr | undefined => (v === undefined ? undefined : k.input(v));
  const quantity = (key: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Expr | undefined => (q[key] === undefined ? undefined : input(r.quantity(q[key], `/${key}`, kind, limits)));
  const treadling = input(readTreadling(q, r, out));
  const draft = quantity('draftLength', 'part', { moreThan: 1e-5, atMost: 100, says: 'more than 0' });
  let turns = input(readTurns(q, r, out));
  if (draft !== undefined && turns === undefined && chosen.drive !== 'electric') { out.assume(notes.oneWheelTurn); turns = k.assumed({ value: 1 }); }
  const more = {
    treadling, draft, turns, grist: quantity('grist', 'grist', { moreThan: 1e-9, atMost: 1, says: 'a yarn' }), target: quantity('twist', 'twist'), wound: quantity('wound', 'length', { atLeast: 0, atMost: 1e7 }),
    flyerSpeed: quantity('flyerSpeed', 'turning', { moreThan: 0, atMost: 1000 }), drawSpeed: quantity('drawSpeed', 'speed'), bag: readBagTest(q['bagTest'], r, k, out),
  };
  if (more.wound !== undefined && more.grist === undefined) r.missing('/grist', 'To know how full the bobbin is, the grist', 'such as 100 tex');
  let density = quantity('packageDensity', 'density', { moreThan: 20, atMost: 2000, says: 'from 20 to 2000 kg/m3' });
  if (density === undefined) { out.assume(notes.densityTaken); density = k.assumed({ value: 300, u: 25 }); }
  const pairs = r.issues.length > 0 ? [] : pairsOf(train, wheel, r, out);
  if (pairs.length * steps > mostFills) r.fail('/steps', { code: 'too-many', detail: `${pairs.length} pairs in ${steps} steps are more than one question takes.`, received: `${pairs.length} pairs × ${steps} steps`, expected: `at most ${mostFills} in all: fewer steps, or fewer whorls and bobbins` });
  r.done();
  const given = Object.fromEntries(Object.entries(more).filter(([, v]) => v !== undefined)) as Partial<Solved>;
  return { train, pairs, steps, out, density, ...given };
}

/** Every whorl with every bobbin groove that can run with it; the bobbin alone where its groove plays no part. */
function pairsOf(train: Train, wheel: WheelRead, r: Reader, out: Notes): SolvedPair[] {
  const { drive } = train;
  const packs = new Map<BobbinRead, Package>();
  const pack = (b: BobbinRead): Package => {
    let p = packs.get(b);
    if (p === undefined) packs.set(b, (p = packageOf(b, train, r, out)));
    return p;
  };
  const missing = (at: string, what: string, example: string): SolvedPair[] => { r.missing(at, what, example); return []; };
  if (drive === 'double-drive') {
    if (train.whorls.length === 0) return missing('/wheel/whorls/0/grooveDiameter', 'The groove of a whorl', 'the groove of a whorl, such as 60 mm');
    if (train.bobbins.length === 0) return missing('/wheel/bobbins/0/grooves/0/grooveDiameter', 'On a double drive the groove of the bobbin', 'the groove of the bobbin, such as 48 mm');
    return train.pairs.map((p) => {
      const drawIn = drawInOf(train.knowns.reading(p.rho));
      if (drawIn === 'flyer-leads') out.warn(ratioNotes.flyerLeads);
      if (drawIn === 'too-close-to-say') out.warn(notes.tooClose);
      return { whorl: p.whorl, bobbin: { name: p.bobbin.name, read: p.bobbin.bobbin, pulley: p.bobbin }, rho: p.rho, drawIn, pack: pack(p.bobbin.bobbin) };
    });
  }
  if (drive === 'bobbin-lead') {
    if (train.bobbins.length === 0) return missing('/wheel/bobbins/0/grooves/0/grooveDiameter', 'On a bobbin-lead wheel the band drives the bobbin: its groove', 'the groove of the bobbin, such as 60 mm');
    if (train.bobbins.some((b) => b.ratio === undefined)) return missing('/wheel/driveWheel', 'The drive wheel', 'its diameter where the band sits, such as 560 mm');
    return train.bobbins.map((b) => ({ bobbin: { name: b.name, read: b.bobbin, pulley: b }, pack: pack(b.bobbin) }));
  }
  const bobbins: readonly BobbinRead[] = wheel.bobbins.length > 0 ? wheel.bobbins : [{ name: drive === 'spindle' ? 'cop' : 'bobbin 1', at: '/wheel/bobbins/0', grooves: [] }];
  if (drive === 'electric') return bobbins.map((b) => ({ bobbin: { name: b.name, read: b }, pack: pack(b) }));
  if (train.whorls.length === 0) return missing('/wheel/whorls/0/grooveDiameter', 'The groove of a whorl', 'the groove of a whorl, such as 60 mm');
  if (train.whorls.some((w) => w.ratio === undefined)) return missing('/wheel/driveWheel', 'The drive wheel', 'its diameter where the band sits, such as 560 mm');
  return train.whorls.flatMap((whorl) => bobbins.filter((b) => b.flyer === undefined || whorl.flyer === undefined || b.flyer === whorl.flyer).map((b) => ({ whorl, bobbin: { name: b.name, read: b }, pack: pack(b) })));
}

export function answer(question: unknown, options: AnswerOptions = {}): Reply<TakeUpResult> {
  const s = solve(question);
  const { train, out } = s;
  const units = options.units ?? metric;
  const k = train.knowns;
  if (train.wheel.condition === 'do-not-run') out.caution(ratioNotes.doNotRun);
  if (train.drive === 'electric' || train.wheel.turnedBy === 'motor') out.caution(ratioNotes.powered);
  if (train.drive !== 'spindle') out.assume(notes.noBandSlip);
  const q = (kind: Parameters<typeof wire>[0], e: Expr): Q => wire(kind, k.reading(e), units) as Q;
  const pairs = s.pairs.map((p) => {
    const fill = Array.from({ length: s.steps }, (_, i) => {
      const share = i / (s.steps - 1);
      return { fill: share, ...at(s, p, expr((core, full) => f.diameterAt({ core, full, fill: share }), p.pack.core, p.pack.full), q) };
    });
    const mass = expr((core, diameter, width, density) => f.woundMass({ core, diameter, width, density }), p.pack.core, p.pack.full, p.pack.width, s.density);
    const one: TakeUpResult['pairs'][number] = {
      ...(p.whorl === undefined ? {} : { whorl: p.whorl.name }), bobbin: p.bobbin.name, ...(p.bobbin.pulley === undefined ? {} : { groove: p.bobbin.pulley.groove }),
      ...(p.drawIn === undefined ? {} : { drawIn: p.drawIn }), ...(p.rho === undefined ? {} : { bobbinPerFlyerTurn: wire('number', k.reading(p.rho)) }), fill,
      capacity: { ...(s.grist === undefined ? {} : { length: q('length', expr((m, g) => m / g, mass, s.grist)) }), mass: q('mass', mass) },
    };
    if (s.wound !== undefined && s.grist !== undefined) {
      const now = expr((core, length, width, density, grist) => f.diameterAfter({ core, length, width, density, grist }), p.pack.core, s.wound, p.pack.width, s.density, s.grist);
      one.wound = at(s, p, now, q);
      if (extent(k.reading(expr((d, full) => d - full, now, p.pack.full))).low > 0) out.warn(notes.overfull);
    }
    if (s.target !== undefined && p.rho !== undefined && p.drawIn !== 'too-close-to-say') one.reachesTwistFrom = q('part', expr((twist, x) => f.diameterForTwist({ twist, bobbinPerFlyerTurn: x }), s.target, p.rho));
    return one;
  });
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply({ pairs }, out, [kleinTwist, gum], model, options);
}

/** Ceilings, softest twist, twist that goes in, turns and pull, at one wound diameter. */
export function at(s: Solved, p: SolvedPair, d: Expr, q: (kind: Parameters<typeof wire>[0], e: Expr) => Q): Omit<FillAnswer, 'fill'> {
  const { train, out } = s;
  const k = train.knowns;
  const one: Omit<FillAnswer, 'fill'> = { woundDiameter: q('part', d) };
  if (s.grist !== undefined) one.woundLength = q('length', expr((core, diameter, width, density, grist) => f.woundLength({ core, diameter, width, density, grist }), p.pack.core, d, p.pack.width, s.density, s.grist));
  const { most, least, perSecond } = ceilings(s, p, d);
  if (most !== undefined) one.mostDrawnInPerWheelTurn = q('part', most);
  const speed = perSecond ?? (most !== undefined && s.treadling !== undefined ? expr((m, n) => m * n, most, s.treadling) : undefined);
  if (speed !== undefined) one.mostDrawnInSpeed = q('speed', speed);
  if (least !== undefined) {
    one.leastTwist = q('twist', least);
    if (s.target !== undefined && extent(k.reading(expr((a, b) => a - b, least, s.target))).low > 0) out.warn(notes.softestAboveTarget);
  }
  turnsAt(s, p, d, most, one, q);
  if (s.bag !== undefined) {
    const { lifts, off } = s.bag;
    const where = s.bag.at ?? p.pack.core;
    const held = expr((a, b, w, x) => (f.heldPull({ lifts: a, pullsOff: b }) * w) / x, lifts, off, where, d);
    const factor = expr((a, b) => f.frictionFactor({ lifts: a, pullsOff: b }), lifts, off);
    one.pull = { drawingIn: q('pull', expr((h, e) => h / e, held, factor)), held: q('pull', held), pullingOff: q('pull', expr((h, e) => h * e, held, factor)) };
  }
  return one;
}

/** The most that is wound, and the softest twist, at this diameter; absent where there is none. */
export function ceilings(s: Solved, p: SolvedPair, d: Expr): { most?: Expr; least?: Expr; perSecond?: Expr } {
  switch (s.train.drive) {
    case 'double-drive': {
      if (p.rho === undefined || p.drawIn === 'too-close-to-say') return {};
      const least = expr((diameter, x) => f.leastTwistDouble({ diameter, bobbinPerFlyerTurn: x }), d, p.rho);
      const [i, j] = [p.whorl?.ratio, p.bobbin.pulley?.ratio];
      return i === undefined || j === undefined ? { least } : { least, most: expr((diameter, flyerRatio, bobbinRatio) => f.mostDouble({ diameter, flyerRatio, bobbinRatio }), d, i, j) };
    }
    case 'flyer-lead': return { most: expr((diameter, ratio) => f.mostLed({ diameter, ratio }), d, p.whorl!.ratio!), least: expr((diameter) => f.leastTwistFlyerLead({ diameter }), d) };
    case 'bobbin-lead': return { most: expr((diameter, ratio) => f.mostLed({ diameter, ratio }), d, p.bobbin.pulley!.ratio!) };
    case 'electric': return { least: expr((diameter) => f.leastTwistFlyerLead({ diameter }), d), ...(s.flyerSpeed === undefined ? {} : { perSecond: expr((diameter, ratio) => f.mostLed({ diameter, ratio }), d, s.flyerSpeed) }) };
    default: return {};
  }
}

/** Twist that goes in when the draft is known, with no ceiling looked at: for wheels that have none. */
export function insertedAt(s: Solved, p: SolvedPair, d: Expr): Expr | undefined {
  const driver = s.train.drive === 'bobbin-lead' ? p.bobbin.pulley?.ratio : p.whorl?.ratio;
  if (s.draft === undefined || s.turns === undefined || driver === undefined || s.train.drive === 'double-drive') return undefined;
  const lap = s.train.drive === 'bobbin-lead' ? 1 : 0;
  return expr((i, l, n, diameter) => (i * n) / l - lap * turnsPerLap({ diameter }), driver, s.draft, s.turns, d);
}

/** Twist that goes in, and the turns of flyer and bobbin while it does, when the draft is known. */
function turnsAt(s: Solved, p: SolvedPair, d: Expr, most: Expr | undefined, one: Omit<FillAnswer, 'fill'>, q: (kind: Parameters<typeof wire>[0], e: Expr) => Q): void {
  const { train, out } = s;
  const k = train.knowns;
  if (train.drive === 'electric') {
    if (s.flyerSpeed === undefined || s.drawSpeed === undefined) return;
    one.insertedTwist = q('twist', expr((n, v) => n / v, s.flyerSpeed, s.drawSpeed));
    one.bobbinSpeed = q('turning', expr((n, v, diameter) => n - f.laps({ length: v, diameter }), s.flyerSpeed, s.drawSpeed, d));
    return;
  }
  if (s.draft === undefined || s.turns === undefined) return;
  const perTurn = expr((l, n) => l / n, s.draft, s.turns);
  const driver = train.drive === 'bobbin-lead' ? p.bobbin.pulley?.ratio : p.whorl?.ratio;
  if (driver === undefined) return;
  if (most !== undefined && extent(k.reading(expr((l, m) => l - m, perTurn, most))).low > 0) { out.warn(notes.cannotDrawInSoMuch); return; }
  const laps = expr((length, diameter) => f.laps({ length, diameter }), perTurn, d);
  if (train.drive === 'bobbin-lead') {
    const twist = expr((bobbinTurns, length, diameter) => bobbinLeadTwist({ bobbinTurns, length, diameter }), driver, perTurn, d);
    if (extent(k.reading(twist)).high <= 0) { out.warn(notes.noTwistLeft); return; }
    one.insertedTwist = q('twist', twist);
    one.flyerTurnsPerWheelTurn = wire('number', k.reading(expr((i, w) => i - w, driver, laps)));
    one.bobbinTurnsPerWheelTurn = wire('number', k.reading(driver));
    return;
  }
  one.insertedTwist = q('twist', expr((i, l) => i / l, driver, perTurn));
  one.flyerTurnsPerWheelTurn = wire('number', k.reading(driver));
  if (train.drive === 'spindle') return;
  const sign = train.drive === 'double-drive' && p.drawIn !== 'flyer-leads' ? 1 : -1;
  one.bobbinTurnsPerWheelTurn = wire('number', k.reading(expr((i, w) => i + sign * w, driver, laps)));
}
