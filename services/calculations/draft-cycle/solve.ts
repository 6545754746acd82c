/** A draft cycle as asked: the pair, what turns and how heavily, what the hand does; as one function from what is known to a run. Pure. */
import { Notes } from '../../foundation/notes.js';
import { Reader, nearest } from '../../foundation/read.js';
import { extent, isPoint, middle, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { BobbinRead } from '../../wheels/profile.js';
import { readBagTest } from '../bag-test.js';
import { packageOf } from '../package.js';
import * as ratioNotes from '../ratio/notes.js';
import { buildTrain, neededWheel, type Train } from '../ratio/train.js';
import { diameterAt, frictionFactor, heldPull } from '../take-up/formula.js';
import { densityTaken } from '../take-up/notes.js';
import { hooksTaken } from '../tension/notes.js';
import { readTreadling } from '../treadles.js';
import { dragTaken, wheelBearingTaken, wheelTaken } from '../flyer/notes.js';
import { powered } from '../twist/notes.js';
import * as f from './formula.js';
import { readMoves, type Moves } from './hand.js';
import { run, type Motion, type Outcome } from './motion.js';
import type { Look } from './tally.js';
import { treadle, type Treadled, type TreadledOutcome } from './treadled.js';
import * as notes from './notes.js';

export const names = [
  'wheel', 'wheelId', 'drive', 'whorl', 'bobbin', 'treadling', 'counted', 'flyerSpeed', 'drafting', 'draftLength', 'draftTime', 'holdTime', 'windOnTime', 'handRise', 'leftBehind', 'makes', 'hand', 'draft', 'start',
  'woundDiameter', 'bagTest', 'slipTorque', 'spindleFriction', 'bobbinInertia', 'flyerInertia', 'packageDensity', 'hookFactor', 'treadleSwing', 'swingsPerTurn', 'yarnStretch', 'pullBorne', 'fibreDiameter', 'fibresInSection', 'series', 'treadlePush', 'wheelInertia', 'wheelBearing', 'flyerDrag', 'airDrag',
] as const;

/** What a run is made of, in the order of `inputs`. */
export interface Values { turning: number; flyer: number; bobbin: number; diameter: number; torque: number; spindle: number; given: number; core: number; full: number; width: number; density: number; empty: number; flyerInertia: number; swing: number; push: number; wheel: number; bearing: number; drag: number; air: number }
const order = ['turning', 'flyer', 'bobbin', 'diameter', 'torque', 'spindle', 'given', 'core', 'full', 'width', 'density', 'empty', 'flyerInertia', 'swing', 'push', 'wheel', 'bearing', 'drag', 'air'] as const satisfies readonly (keyof Values)[];
export interface Solved {
  readonly train: Train; readonly k: Knowns; readonly out: Notes; readonly r: Reader; readonly q: Record<string, unknown>;
  readonly whorl?: string; readonly bobbin?: string; readonly moves: Moves; readonly inputs: readonly Expr[]; readonly factor: Expr; readonly core: Expr; readonly full: Expr; readonly swings: number; readonly treadled: boolean;
}
/** Where in the question they stand; the others come from the wheel. */
const keyOf: Partial<Record<(typeof order)[number], string>> = {
  turning: 'treadling', diameter: 'woundDiameter', torque: 'slipTorque', spindle: 'spindleFriction', given: 'bobbinInertia', density: 'packageDensity', flyerInertia: 'flyerInertia', swing: 'treadleSwing', push: 'treadlePush', wheel: 'wheelInertia', bearing: 'wheelBearing', drag: 'flyerDrag', air: 'airDrag',
};
export const valuesOf = (v: readonly number[]): Values => Object.fromEntries(order.map((name, i) => [name, v[i]])) as unknown as Values;

export function solve(question: unknown): Solved {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const { wheel, chosen } = neededWheel(q, r);
  if (chosen.drive === 'spindle') {
    r.fail('/drive', { code: 'not-known-part', detail: 'A spindle winds on as far as it is turned: nothing slips, so nothing lags or grabs.', received: 'spindle', expected: 'double-drive, flyer-lead, bobbin-lead or electric' });
    r.done();
  }
  const train = buildTrain(wheel, chosen, r, out);
  const k = train.knowns;
  if (wheel.condition === 'do-not-run') out.caution(ratioNotes.doNotRun);
  out.caution(notes.looseThings);
  if (chosen.drive === 'electric' || wheel.turnedBy === 'motor') out.caution(powered);
  const quantity = (key: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Reading | undefined => (q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits));
  const or = (read: Reading | undefined, note: Parameters<Notes['assume']>[0], usual: Reading): Expr => (read === undefined ? (out.assume(note), k.assumed(usual)) : k.input(read));
  const pair = pairOf(q, train, r);
  const bobbin: BobbinRead = wheel.bobbins.find((b) => b.name === pair.bobbin) ?? wheel.bobbins[0] ?? { name: 'bobbin 1', at: '/wheel/bobbins/0', grooves: [] };
  const electric = chosen.drive === 'electric';
  const treadling = electric ? quantity('flyerSpeed', 'turning', { moreThan: 0, atMost: 1000 }) : readTreadling(q, r, out);
  if (electric && treadling === undefined) r.missing('/flyerSpeed', 'The speed of an electric flyer', 'such as 800/min');
  const inertia = quantity('bobbinInertia', 'inertia', { moreThan: 0, atMost: 1 });
  const flyer = wheel.flyers.find((x) => x.inertia !== undefined)?.inertia;
  const pack = packageOf(bobbin, train, r, out, inertia === undefined);
  const wound = quantity('woundDiameter', 'part', { moreThan: 1e-3, atMost: 1, says: 'from 1 mm to 1 m' });
  if (wound === undefined) out.assume(notes.halfFull);
  const diameter = wound === undefined ? expr((core, full) => diameterAt({ core, full, fill: 0.5 }), pack.core, pack.full) : k.input(wound);
  const bag = readBagTest(q['bagTest'], r, k, out);
  const slip = quantity('slipTorque', 'torque', { moreThan: 0, atMost: 10 });
  if (bag !== undefined && slip !== undefined) r.fail('/slipTorque', { code: 'one-of', detail: 'The bag test tells the torque: give one of them.', received: 'bagTest and slipTorque', expected: 'one of them' });
  const torque = bag === undefined ? or(slip, notes.torqueTaken, { low: 0.003, high: 0.009 })
    : expr((lifts, pullsOff, d) => (heldPull({ lifts, pullsOff }) * d) / 2, bag.lifts, bag.off, bag.at ?? pack.core);
  const factor = q['hookFactor'] !== undefined ? k.input(r.number(q['hookFactor'], '/hookFactor', { atLeast: 1, atMost: 100, says: 'from 1 to 100' }) ?? { value: 1 })
    : bag === undefined ? or(undefined, hooksTaken, { low: 1.4, high: 3 }) : expr((lifts, pullsOff) => frictionFactor({ lifts, pullsOff }), bag.lifts, bag.off);
  const swing = quantity('treadleSwing', 'share', { atLeast: 0, atMost: 0.9, says: 'from 0 to 90 %' });
  if (swing === undefined && !electric && q['treadlePush'] === undefined) out.assume(notes.evenTreadling);
  const perTurn = q['swingsPerTurn'] === undefined ? undefined : r.number(q['swingsPerTurn'], '/swingsPerTurn', { atLeast: 0.1, atMost: 12, says: 'from 0.1 to 12' });
  const push = quantity('treadlePush', 'torque', { moreThan: 0, atMost: 100 });
  const treadled = push !== undefined;
  const moves = readMoves(q, r, out, treadled);
  if (treadled && electric) r.fail('/treadlePush', { code: 'not-known-part', detail: 'An electric spinner has no treadle.', received: 'treadlePush', expected: 'a wheel with a treadle' });
  if (treadled && swing !== undefined) r.fail('/treadleSwing', { code: 'one-of', detail: 'With the push of the treadle the swing is found, not given.', received: 'treadlePush and treadleSwing', expected: 'one of them' });
  for (const key of ['wheelInertia', 'wheelBearing', 'flyerDrag', 'airDrag']) if (!treadled && q[key] !== undefined) r.missing('/treadlePush', `For ${key} to matter the push of the treadle`, 'such as 260 mN m');
  const none = k.assumed({ value: 0 });
  const led = chosen.drive === 'bobbin-lead';
  const rotates = k.assumed({ value: 1 });
  const inputs: Record<keyof Values, Expr> = {
    turning: or(treadling, notes.treadlingTaken, { value: 1 }), flyer: pair.flyer ?? (led ? none : rotates), bobbin: pair.bobbinRatio ?? none, diameter, torque,
    spindle: or(quantity('spindleFriction', 'torque', { atLeast: 0, atMost: 1 }), notes.spindleTaken, { value: 0.0002 }),
    given: (led && !treadled) || inertia === undefined ? none : k.input(inertia), core: pack.core, full: pack.full, width: pack.width,
    density: (led && !treadled) || inertia !== undefined ? none : or(quantity('packageDensity', 'density', { moreThan: 20, atMost: 2000 }), densityTaken, { value: 300 }),
    empty: (led && !treadled) || inertia !== undefined ? none : or(undefined, notes.bobbinTaken, { value: 3.5e-5 }),
    flyerInertia: led || treadled ? or(quantity('flyerInertia', 'inertia', { moreThan: 0, atMost: 1 }) ?? flyer, notes.flyerTaken, { value: 3e-4 }) : none,
    swing: swing === undefined ? none : k.input(swing),
    push: push === undefined ? none : k.input(push),
    wheel: treadled ? or(quantity('wheelInertia', 'inertia', { moreThan: 0, atMost: 100 }), wheelTaken, { value: 0.1 }) : none,
    bearing: treadled ? or(quantity('wheelBearing', 'torque', { atLeast: 0, atMost: 100 }), wheelBearingTaken, { value: 0.005 }) : none,
    drag: treadled ? or(quantity('flyerDrag', 'torque', { atLeast: 0, atMost: 100 }), dragTaken, { value: 0.003 }) : none,
    air: treadled && q['airDrag'] !== undefined ? k.input(quantity('airDrag', 'torque', { atLeast: 0, atMost: 100 }) ?? { value: 0 }) : none,
  };
  if (!led && !treadled && q['flyerInertia'] !== undefined) quantity('flyerInertia', 'inertia', { moreThan: 0, atMost: 1 });
  if (led && q['packageDensity'] !== undefined) quantity('packageDensity', 'density', { moreThan: 20, atMost: 2000 });
  r.done();
  // A run needs both ends of everything: of "over 25 N m" nobody can say how fast it goes.
  for (const name of order) {
    const { low, high } = extent(k.reading(inputs[name]));
    if (Number.isFinite(low) && Number.isFinite(high)) continue;
    const key = keyOf[name];
    r.fail(key === undefined ? '/wheel' : `/${key}`, { code: 'out-of-range', detail: 'A range that is open to one side is too little to follow a draw by.', received: low === -Infinity ? 'no least' : 'no most', expected: 'a measure, or a range with both ends' });
  }
  r.done();
  return {
    train, k, out, r, q, moves, inputs: order.map((name) => inputs[name]), factor, core: pack.core, full: pack.full, treadled,
    swings: perTurn === undefined ? (wheel.turnedBy === 'two-treadles' ? 2 : 1) : middle(perTurn), ...(pair.whorl === undefined ? {} : { whorl: pair.whorl }), ...(pair.bobbin === undefined ? {} : { bobbin: pair.bobbin }),
  };
}

/** The whorl and bobbin that were named, or the first that go together. */
function pairOf(q: Record<string, unknown>, train: Train, r: Reader): { whorl?: string; bobbin?: string; flyer?: Expr; bobbinRatio?: Expr } {
  const { wheel, drive } = train;
  const named = (key: 'whorl' | 'bobbin', all: readonly string[]): string | undefined => {
    const wanted = q[key] === undefined ? undefined : r.text(q[key], `/${key}`, 80);
    if (wanted === undefined || all.includes(wanted)) return wanted;
    const near = nearest(wanted, all);
    return r.fail(`/${key}`, { code: 'not-known-part', detail: `This wheel has no ${key} of that name.`, received: wanted, expected: all.join(', ') || `no ${key} was given`, ...(near === undefined ? {} : { try: near }) });
  };
  const [whorl, bobbin] = [named('whorl', wheel.whorls.map((w) => w.name)), named('bobbin', wheel.bobbins.map((b) => b.name))];
  const fits = (x: { name: string }, name: string | undefined): boolean => name === undefined || x.name === name;
  const shown = bobbin ?? (wheel.bobbins.length === 1 ? wheel.bobbins[0]!.name : undefined);
  if (drive === 'electric') return shown === undefined ? {} : { bobbin: shown };
  if (drive === 'bobbin-lead') {
    const b = train.bobbins.find((x) => fits(x, bobbin) && x.ratio !== undefined);
    if (b === undefined) { r.missing('/wheel/bobbins/0/grooves/0/grooveDiameter', 'On a bobbin-lead wheel the band drives the bobbin: the wheel and its groove', 'such as 560 mm and 60 mm'); return {}; }
    return { bobbin: b.name, bobbinRatio: b.ratio! };
  }
  if (drive === 'double-drive') {
    const w = train.whorls.find((x) => fits(x, whorl) && x.ratio !== undefined);
    const b = train.bobbins.find((x) => fits(x, bobbin) && x.ratio !== undefined && (w?.flyer === undefined || x.flyer === undefined || x.flyer === w.flyer));
    if (w === undefined || b === undefined) { r.missing(w === undefined ? '/wheel/whorls/0/grooveDiameter' : '/wheel/bobbins/0/grooves/0/grooveDiameter', 'A double drive needs the wheel and both grooves: one of them', 'such as 560 mm, 60 mm and 48 mm'); return {}; }
    return { whorl: w.name, bobbin: b.name, flyer: w.ratio!, bobbinRatio: b.ratio! };
  }
  const w = train.whorls.find((x) => fits(x, whorl) && x.ratio !== undefined);
  if (w === undefined) { r.missing('/wheel/whorls/0/grooveDiameter', 'The wheel and a whorl, or a stamped ratio', 'such as 560 mm and 60 mm'); return {}; }
  return { whorl: w.name, ...(shown === undefined ? {} : { bobbin: shown }), flyer: w.ratio! };
}

export interface SetUp { readonly torque: number; readonly inertia: number; /** Of the bobbin with its yarn. */ readonly bobbin: number; readonly most: number; readonly motion: Omit<Motion, 'hand' | 'draft' | 'until' | 'start'> }
/** The wheel's side of a run: what follows the hand, and how. */
export function setUpOf(s: Solved, v: Values, diameter = v.diameter): SetUp {
  const { drive } = s.train;
  const omega = 2 * Math.PI * v.turning;
  const [double, led] = [drive === 'double-drive', drive === 'bobbin-lead'];
  const torque = Math.max(1e-7, v.torque - v.spindle);
  const bobbin = v.given > 0 ? v.given : f.bobbinInertia({ empty: v.empty, core: v.core, diameter: Math.max(v.core, diameter), density: v.density, width: v.width });
  const inertia = led ? v.flyerInertia : bobbin;
  // A whorl smaller than the bobbin's groove winds on backwards: the same, the other way round.
  const most = omega * (double ? Math.abs(v.bobbin - v.flyer) : led ? v.bobbin : v.flyer);
  const rate = omega * s.swings;
  return {
    torque, inertia, bobbin, most,
    motion: {
      quickening: f.quickening({ torque, diameter, inertia }), ceiling: f.ceiling({ diameter, most }), mass: f.massFelt({ diameter, inertia }), radius: diameter / 2, carrier: omega * (led ? v.bobbin : v.flyer), perLap: led,
      pulse: { depth: v.swing, rate, with: double && v.bobbin > v.flyer ? -1 : 1 },
    },
  };
}

/** Wheel, flyer and bobbin, as the treadle drives them. */
export function treadledOf(s: Solved, v: Values, set: SetUp, motion: Motion): Treadled {
  const [double, led] = [s.train.drive === 'double-drive', s.train.drive === 'bobbin-lead'];
  return {
    wheel: v.wheel, carrierInertia: led ? set.bobbin : v.flyerInertia, follower: set.inertia, carrier: led ? v.bobbin : v.flyer, sticksTo: double ? v.bobbin : 0, way: double && v.bobbin > v.flyer ? 1 : -1, radius: motion.radius,
    // What was tested on a bobbin-lead wheel holds the drag of the flyer already.
    slip: led ? Math.max(0, v.torque - v.drag) : v.torque, spindle: v.spindle, drag: v.drag, air: v.air / ((2000 * Math.PI) / 60) ** 2, bearing: v.bearing, flyerFollows: led, push: v.push, pushes: s.swings === 2 ? 2 : 1,
    start: { speed: 2 * Math.PI * v.turning, angle: 0, length: motion.start.length, turns: motion.start.turns, drawIn: motion.start.speed ?? 0 }, hand: motion.hand, draft: motion.draft, until: motion.until,
  };
}

/** One run of what was asked, with the package at this diameter. */
export function cycle(s: Solved, v: Values, diameter = v.diameter, look?: Look): { readonly set: SetUp; readonly outcome: Outcome & Partial<Pick<TreadledOutcome, 'work' | 'speed' | 'slowest' | 'fastest' | 'stopped' | 'followerSpeed' | 'angle'>>; readonly motion: Motion } {
  const set = setUpOf(s, v, diameter);
  const { schedule, startTurns, habit } = s.moves;
  const whole = (turns: number, until: number): Motion => ({ ...set.motion, hand: schedule.hand, draft: schedule.draft, until, start: { length: schedule.length, turns, speed: schedule.speed } });
  let turns = startTurns;
  if (turns === undefined && habit !== undefined) {
    const flyerTurns = (time: number, length: number): number => (set.motion.carrier * time) / (2 * Math.PI) - (set.motion.perLap ? length / (Math.PI * diameter) : 0);
    const period = schedule.until / habit.makes;
    turns = (schedule.length * flyerTurns(period, habit.draftLength)) / habit.draftLength;
    // From make to make what is left of a wrong start fades; with a swing the rounds are those of the treadle, and never quite alike.
    if (habit.style !== 'short-forward') {
      for (let i = 0; i < 40; i++) {
        const tally = run(whole(turns, period));
        const then = tally.twist * schedule.length;
        const [was, settled] = [turns, Math.abs(then - turns) <= 1e-10 * Math.abs(then)];
        turns = then;
        if (settled || !Number.isFinite(was)) break;
      }
    }
  }
  const motion = whole(turns ?? 0, schedule.until);
  // From the empty bobbin to the full one the wheel is taken to turn evenly.
  return { set, outcome: s.treadled && diameter === v.diameter ? treadle(treadledOf(s, v, set, motion), look) : run(motion, look), motion };
}
export const pointOf = (r: Reading): number => (isPoint(r) ? r.value : middle(r));
