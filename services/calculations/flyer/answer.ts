/** Flyer and treadle: what drags, when it hops, what the arms bear, how it coasts; what the foot feels and how the wheel swings. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, isPoint, wire, type Q, type Reading } from '../../foundation/reading.js';
import { frictionTables, gum } from '../../foundation/sources.js';
import { expr, type Expr, Knowns } from '../../foundation/uncertainty.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import { turnedBys, wheelPlaces, type Drive, type TurnedBy, type WheelIs } from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { bobbinTaken, flyerTaken, treadlingTaken } from '../draft-cycle/notes.js';
import * as ratioNotes from '../ratio/notes.js';
import { askedWheel, buildTrain } from '../ratio/train.js';
import { reply } from '../reply.js';
import { readTreadling } from '../treadles.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export const bearings = ['dry-leather', 'greased-leather', 'greased-bronze'] as const;
/** Engineering friction tables: leather on clean metal 0.6, greasy 0.2; steel on greased sintered bronze 0.06 to 0.09. */
const frictions: Readonly<Record<(typeof bearings)[number], Reading>> = { 'dry-leather': { value: 0.6 }, 'greased-leather': { value: 0.2 }, 'greased-bronze': { low: 0.06, high: 0.09 } };
export interface FlyerQuestion {
  wheel?: Wheel; wheelId?: string; drive?: Drive; whorl?: string; treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; flyerSpeed?: QIn; arms?: RIn; armWidth?: QIn; armLength?: QIn; armRadius?: QIn; armThickness?: QIn; barHeight?: QIn; woodDensity?: QIn;
  shaftDiameter?: QIn; bearingLoad?: QIn; bearing?: (typeof bearings)[number]; bearingFriction?: RIn; unbalance?: QIn; unbalanceRadius?: QIn; flyerMass?: QIn; bandTension?: QIn; bandWrap?: QIn; wheelIs?: WheelIs;
  flyerInertia?: QIn; coastFrom?: QIn; coastTo?: QIn; coastTime?: QIn; coastToLater?: QIn; coastTimeLater?: QIn; drag?: QIn; slipTorque?: QIn; wheelBearing?: QIn; wheelInertia?: QIn; bobbinInertia?: QIn; stroke?: QIn; turnedBy?: TurnedBy; twist?: QIn;
}
export interface FlyerResult {
  speed?: Q;
  drag?: { bearing?: Q; air?: Q; whole: Q; power?: Q };
  hop?: { speed: Q; restLoad: Q; state?: 'steady' | 'hops' | 'too-close-to-say' };
  arm?: { stress: Q; state: 'low' | 'watch' | 'too-much' };
  coast?: { bearing: Q; air?: Q; atThousand?: Q };
  treadle?: { load: Q; slackLoad?: Q; footForce?: Q; power: Q; workPerTurn: Q; peakPush: Q; turning: Q; swing: Q };
  made?: { drawSpeed: Q; draftLengthPerWheelTurn: Q };
}
export const model = { id: 'flyer', version: '1.0.0' } as const;
const names = [
  'wheel', 'wheelId', 'drive', 'whorl', 'treadling', 'counted', 'flyerSpeed', 'arms', 'armWidth', 'armLength', 'armRadius', 'armThickness', 'barHeight', 'woodDensity', 'shaftDiameter', 'bearingLoad', 'bearing', 'bearingFriction', 'unbalance', 'unbalanceRadius', 'flyerMass', 'bandTension', 'bandWrap', 'wheelIs',
  'flyerInertia', 'coastFrom', 'coastTo', 'coastTime', 'coastToLater', 'coastTimeLater', 'drag', 'slipTorque', 'wheelBearing', 'wheelInertia', 'bobbinInertia', 'stroke', 'turnedBy', 'twist',
] as const;
const twoPi = 2 * Math.PI;
/** Across the grain wood bears several MPa; half of that is where to look. */
const watchful = { watch: 2e6, most: 5e6 } as const;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<FlyerResult> {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const units = options.units ?? metric;
  const { wheel, chosen } = askedWheel(q, r);
  const train = wheel === undefined || chosen === undefined ? undefined : buildTrain(wheel, chosen, r, out);
  const k = train?.knowns ?? new Knowns();
  if (wheel?.condition === 'do-not-run') out.caution(ratioNotes.doNotRun);
  const read = (key: string, kind: Kind, limits = {}): Expr | undefined => { const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits); return v === undefined ? undefined : k.input(v); };
  const number = (key: string, limits: object): Expr | undefined => { const v = q[key] === undefined ? undefined : r.number(q[key], `/${key}`, limits); return v === undefined ? undefined : k.input(v); };
  const or = (e: Expr | undefined, note: Parameters<Notes['assume']>[0], usual: Reading): Expr => e ?? (out.assume(note), k.assumed(usual));
  const tell = (kind: Kind, e: Expr): Q => wire(kind, k.reading(e), units);
  const small = { moreThan: 1e-5, atMost: 2, says: 'from 0.01 mm to 2 m' };
  const torque = { atLeast: 0, atMost: 100, says: 'from 0 to 100 N m' };
  const inertia = { moreThan: 0, atMost: 100 };
  const x = {
    arms: number('arms', { atLeast: 1, atMost: 12, says: 'from 1 to 12' }), armWidth: read('armWidth', 'part', small), armLength: read('armLength', 'part', small), armRadius: read('armRadius', 'part', small), armThickness: read('armThickness', 'part', small), barHeight: read('barHeight', 'part', small), woodDensity: read('woodDensity', 'density', { moreThan: 50, atMost: 20000 }),
    shaft: read('shaftDiameter', 'part', small), load: read('bearingLoad', 'pull', { moreThan: 0, atMost: 1e4 }), unbalance: read('unbalance', 'mass', { moreThan: 0, atMost: 5 }), unbalanceRadius: read('unbalanceRadius', 'part', small), mass: read('flyerMass', 'mass', { moreThan: 0, atMost: 50 }), bandTension: read('bandTension', 'band-tension', { atLeast: 0, atMost: 1000 }), bandWrap: read('bandWrap', 'angle', { moreThan: 0, atMost: Math.PI * 1.9 }),
    flyerInertia: read('flyerInertia', 'inertia', inertia), coastFrom: read('coastFrom', 'turning', { moreThan: 0, atMost: 1000 }), coastTo: read('coastTo', 'turning', { atLeast: 0, atMost: 1000 }), coastTime: read('coastTime', 'time', { moreThan: 0, atMost: 3600 }), coastToLater: read('coastToLater', 'turning', { atLeast: 0, atMost: 1000 }), coastTimeLater: read('coastTimeLater', 'time', { moreThan: 0, atMost: 3600 }),
    drag: read('drag', 'torque', torque), slip: read('slipTorque', 'torque', torque), wheelBearing: read('wheelBearing', 'torque', torque), wheelInertia: read('wheelInertia', 'inertia', inertia), bobbinInertia: read('bobbinInertia', 'inertia', inertia), stroke: read('stroke', 'part', small), twist: read('twist', 'twist'),
  };
  const bearing = q['bearing'] === undefined ? undefined : r.choice(q['bearing'], '/bearing', bearings);
  const friction = number('bearingFriction', { moreThan: 0, atMost: 3, says: 'more than 0 and at most 3' });
  const place = q['wheelIs'] === undefined ? wheel?.wheelIs : r.choice(q['wheelIs'], '/wheelIs', wheelPlaces);
  const turnedBy = q['turnedBy'] === undefined ? wheel?.turnedBy : r.choice(q['turnedBy'], '/turnedBy', turnedBys);
  const treadlingRead = readTreadling(q, r, out);
  const own = read('flyerSpeed', 'turning', { moreThan: 0, atMost: 1000 });
  // The pair: the whorl that is named, or the first; on a bobbin-lead wheel the bobbin turns with the wheel.
  const wanted = q['whorl'] === undefined ? undefined : r.text(q['whorl'], '/whorl', 80);
  const led = train?.drive === 'bobbin-lead';
  const member = led ? train.bobbins.find((b) => b.ratio !== undefined) : train?.whorls.find((w) => w.ratio !== undefined && (wanted === undefined || w.name === wanted));
  if (wanted !== undefined && train !== undefined && member === undefined) r.fail('/whorl', { code: 'not-known-part', detail: 'This wheel has no whorl of that name.', received: wanted, expected: train.whorls.map((w) => w.name).join(', ') || 'a whorl' });
  const ratio = member?.ratio;
  const treadling = ratio === undefined ? (treadlingRead === undefined ? undefined : k.input(treadlingRead)) : treadlingRead === undefined ? (own === undefined ? or(undefined, treadlingTaken, { value: 1 }) : undefined) : k.input(treadlingRead);
  const flyerTurns = own ?? (ratio === undefined || treadling === undefined ? undefined : expr((a, b) => a * b, ratio, treadling));
  const cadence = treadling ?? (ratio === undefined || own === undefined ? undefined : expr((a, b) => a / b, own, ratio));
  r.done();
  const omega = flyerTurns === undefined ? undefined : expr((t) => twoPi * t, flyerTurns);
  const result: FlyerResult = {};
  if (flyerTurns !== undefined) {
    result.speed = tell('turning', flyerTurns);
    if (extent(k.reading(flyerTurns)).high > 25) out.caution(ratioNotes.fastFlyer);
  }
  const needs = (what: string, at: string, such: string): void => { r.missing(at, what, such); };

  // ---- drag
  let whole = x.drag;
  const arms = x.armWidth !== undefined || x.barHeight !== undefined;
  if (arms && x.armRadius === undefined) needs('For the air’s drag how far the arms stand from the middle', '/armRadius', 'such as 60 mm');
  if (x.armWidth !== undefined && x.armLength === undefined) needs('For the air’s drag the length of the arms', '/armLength', 'such as 150 mm');
  if (arms && omega === undefined) needs('For the air’s drag a speed', '/flyerSpeed', 'such as 600/min, or a wheel and its treadling');
  if ((x.shaft === undefined) !== (x.load === undefined)) needs('For the bearings both the shaft and what lies on it', x.shaft === undefined ? '/shaftDiameter' : '/bearingLoad', x.shaft === undefined ? 'such as 8 mm' : 'such as 400 g');
  r.done();
  let airTorque: Expr | undefined;
  if (arms && omega !== undefined && x.armRadius !== undefined) {
    out.assume(notes.airTaken);
    const zero = k.assumed({ value: 0 });
    const fromArms = x.armWidth === undefined || x.armLength === undefined ? zero : expr((n, width, length, radius, speed) => f.armDrag({ arms: n, width, length, radius, speed }), or(x.arms, notes.twoArms, { value: 2 }), x.armWidth, x.armLength, x.armRadius, omega);
    const fromBar = x.barHeight === undefined ? zero : expr((height, radius, speed) => f.yokeDrag({ height, radius, speed }), x.barHeight, x.armRadius, omega);
    airTorque = expr((a, b) => a + b, fromArms, fromBar);
  }
  let bearingTorque: Expr | undefined;
  if (x.shaft !== undefined && x.load !== undefined) {
    const mu = friction ?? (bearing === undefined ? or(undefined, notes.bearingLeather, { low: 0.2, high: 0.6 }) : k.assumed(frictions[bearing]));
    bearingTorque = expr((a, load, diameter) => f.bearingDrag({ friction: a, load, diameter }), mu, x.load, x.shaft);
  }
  const found = airTorque !== undefined && bearingTorque !== undefined ? expr((a, b) => a + b, airTorque, bearingTorque) : airTorque ?? bearingTorque;
  whole ??= found;
  if (found !== undefined || x.drag !== undefined) {
    result.drag = { ...(bearingTorque === undefined ? {} : { bearing: tell('torque', bearingTorque) }), ...(airTorque === undefined ? {} : { air: tell('torque', airTorque) }), whole: tell('torque', whole!), ...(omega === undefined ? {} : { power: tell('power', expr((load, speed) => f.power({ load, speed }), whole!, omega)) }) };
  }
  // ---- hop
  if (x.unbalance !== undefined || x.unbalanceRadius !== undefined) {
    if (x.unbalance === undefined) needs('The mass that is out of balance', '/unbalance', 'such as 5 g');
    if (x.unbalanceRadius === undefined) needs('How far out it stands', '/unbalanceRadius', 'such as 60 mm');
    if (x.mass === undefined) needs('What flyer and bobbin weigh', '/flyerMass', 'such as 250 g');
    r.done();
    const weight = expr((m) => 9.80665 * m, x.mass!);
    const way = place === 'below' ? 'down' : place === 'above' ? 'up' : 'across';
    if (x.bandTension !== undefined && place === undefined) out.assume(notes.bandAcross);
    const band = x.bandTension === undefined ? k.assumed({ value: 0 }) : expr((tension, wrap) => f.bandPull({ tension, wrap, loops: train?.drive === 'double-drive' ? 2 : 1 }), x.bandTension, or(x.bandWrap, notes.wrapTaken, { value: twoPi / 3 }));
    const load = expr((w, b) => f.restLoad({ weight: w, band: b, way }), weight, band);
    const hop = expr((l, mass, radius) => f.hopSpeed({ load: l, mass, radius }) / twoPi, load, x.unbalance!, x.unbalanceRadius!);
    const state = flyerTurns === undefined ? undefined : compare(k.reading(flyerTurns), k.reading(hop));
    if (state === 'above') out.warn(notes.hops);
    result.hop = { speed: tell('turning', hop), restLoad: tell('pull', load), ...(state === undefined ? {} : { state: state === 'above' ? 'hops' : state === 'below' ? 'steady' : 'too-close-to-say' }) };
  }
  // ---- arms
  if (x.armThickness !== undefined) {
    for (const [e, at, such] of [[x.armLength, '/armLength', 'such as 150 mm'], [x.armRadius, '/armRadius', 'such as 60 mm'], [omega, '/flyerSpeed', 'such as 1500/min']] as const) if (e === undefined) needs('For the stress in an arm its length, its distance from the middle and a speed: one of them', at, such);
    r.done();
    const stress = expr((density, speed, radius, length, thickness) => f.armStress({ density, speed, radius, length, thickness }), or(x.woodDensity, notes.woodTaken, { value: 700 }), omega!, x.armRadius!, x.armLength!, x.armThickness);
    const most = extent(k.reading(stress)).high;
    if (most >= watchful.watch) { out.warn(notes.stressed); out.caution(ratioNotes.fastFlyer); }
    result.arm = { stress: tell('stress', stress), state: most >= watchful.most ? 'too-much' : most >= watchful.watch ? 'watch' : 'low' };
  }
  // ---- coasting down
  if (x.coastTime !== undefined || x.coastFrom !== undefined) {
    for (const [e, key, such] of [[x.coastFrom, 'coastFrom', 'such as 1000/min'], [x.coastTo, 'coastTo', 'such as 500/min'], [x.coastTime, 'coastTime', 'such as 3.3 s']] as const) if (e === undefined) needs('For a coast-down the speed at first, a lower one, and the time between', `/${key}`, such);
    if ((x.coastToLater === undefined) !== (x.coastTimeLater === undefined)) needs('For the second time its speed and its seconds', x.coastToLater === undefined ? '/coastToLater' : '/coastTimeLater', x.coastToLater === undefined ? 'such as 100/min' : 'such as 9 s');
    r.done();
    out.caution(notes.coastSafely);
    if (extent(k.reading(x.coastFrom!)).low <= extent(k.reading(x.coastTo!)).high) r.fail('/coastTo', { code: 'impossible-geometry', detail: 'A flyer that coasts down is slower at the end.', received: 'coastTo as fast as coastFrom', expected: 'a speed below coastFrom' });
    r.done();
    const I = or(x.flyerInertia, flyerTaken, { value: 3e-4 });
    if (x.coastToLater === undefined || x.coastTimeLater === undefined) {
      out.assume(notes.noAir);
      result.coast = { bearing: tell('torque', expr((i, a, b, time) => f.coastBearing({ inertia: i, from: twoPi * a, to: twoPi * b, time }), I, x.coastFrom!, x.coastTo!, x.coastTime!)) };
    } else {
      const fit = (of: 'bearing' | 'air'): Expr => expr((i, a, b, time, c, timeLater) => f.coastFit({ inertia: i, first: { from: twoPi * a, to: twoPi * b, time }, second: { from: twoPi * a, to: twoPi * c, time: timeLater } })[of], I, x.coastFrom!, x.coastTo!, x.coastTime!, x.coastToLater!, x.coastTimeLater!);
      const b = k.reading(fit('bearing'));
      if (isPoint(b) && !Number.isFinite(b.value)) {
        r.fail('/coastTimeLater', { code: 'impossible-geometry', detail: 'No bearing and air together slow a flyer so. Count both times from the same start, and read the speeds again.', received: 'these two times', expected: 'the later time at the lower speed, from the same start' });
        r.done();
      }
      const thousand = (twoPi * 1000) / 60;
      result.coast = { bearing: wire('torque', b, units), air: tell('torque', expr((c, from) => c * (twoPi * from) ** 2, fit('air'), x.coastFrom!)), atThousand: tell('torque', expr((m, c) => m + c * thousand ** 2, fit('bearing'), fit('air'))) };
    }
  }
  // ---- at the treadle
  const treadled = x.wheelInertia ?? x.stroke ?? x.wheelBearing ?? x.slip;
  if (treadled !== undefined) {
    if (ratio === undefined || cadence === undefined) needs('For the load at the wheel the ratio: the wheel and its whorl', '/wheel', '{"driveWheel": {"grooveDiameter": "560 mm"}, "whorls": [{"grooveDiameter": "60 mm"}]}');
    r.done();
    const drag = whole ?? or(undefined, notes.dragTaken, { value: 0.003 });
    const slip = x.slip ?? k.assumed({ value: 0 });
    const own2 = or(x.wheelBearing, notes.wheelBearingTaken, { value: 0.005 });
    const b = train!.drive === 'double-drive' ? train!.bobbins.find((p) => p.ratio !== undefined)?.ratio : undefined;
    const load = b === undefined ? expr((i, d, brake, bearingOfWheel) => f.loadFlyerLead({ ratio: i, drag: d, brake, bearing: bearingOfWheel }), ratio!, drag, slip, own2)
      : expr((flyer, bobbin, d, c, bearingOfWheel) => f.loadDoubleHeld({ flyer, bobbin, drag: d, slip: c, bearing: bearingOfWheel }), ratio!, b, drag, slip, own2);
    const slack = b === undefined ? undefined : expr((flyer, bobbin, d, c, bearingOfWheel) => f.loadDoubleSlack({ flyer, bobbin, drag: d, slip: c, bearing: bearingOfWheel }), ratio!, b, drag, slip, own2);
    if (turnedBy === undefined) out.assume(notes.oneTreadle);
    out.assume(notes.sineFoot);
    const pushes = turnedBy === 'two-treadles' ? 2 : 1;
    const turning = expr((wheelOnly, i, flyer, bobbin) => f.lockedInertia({ wheel: wheelOnly, ratio: i, flyer, bobbin }), or(x.wheelInertia, notes.wheelTaken, { value: 0.1 }), ratio!, or(x.flyerInertia, flyerTaken, { value: 3e-4 }), or(x.bobbinInertia, bobbinTaken, { value: 3.5e-5 }));
    const swing = k.reading(expr((l, inertiaAll, c) => f.speedSwing({ energy: f.swingEnergy({ load: l, pushes }), inertia: inertiaAll, speed: twoPi * c }), load, turning, cadence!));
    if (extent(swing).high > 0.3) out.warn(notes.dead);
    result.treadle = {
      load: tell('torque', load), ...(slack === undefined ? {} : { slackLoad: tell('torque', slack) }), ...(x.stroke === undefined ? {} : { footForce: tell('band-tension', expr((l, stroke) => f.footForce({ load: l, stroke, pushes }), load, x.stroke)) }),
      power: tell('power', expr((l, c) => f.power({ load: l, speed: twoPi * c }), load, cadence!)), workPerTurn: tell('energy', expr((l) => twoPi * l, load)), peakPush: tell('torque', expr((l) => f.peakPush({ load: l, pushes }), load)), turning: tell('inertia', turning), swing: wire('share', swing, units),
    };
  }
  if (x.twist !== undefined) {
    if (ratio === undefined || cadence === undefined) needs('For the yarn made the ratio and the treadling', '/wheel', 'a wheel and its whorl');
    r.done();
    const made = expr((i, c, twist) => f.yarnPerSecond({ ratio: i, cadence: c, twist }), ratio!, cadence!, x.twist);
    result.made = { drawSpeed: tell('speed', made), draftLengthPerWheelTurn: tell('part', expr((v, c) => v / c, made, cadence!)) };
  }
  if (Object.keys(result).every((key) => key === 'speed') && result.speed === undefined) {
    needs('Something to find out: a speed, the arms, the bearings, an unbalance, a coast-down, or the wheel and its treadle: one of them', '/flyerSpeed', 'such as 600/min');
    r.done();
  }
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, [frictionTables, gum], model, options);
}
/** Whether one reading lies wholly below or above another. */
function compare(a: Reading, b: Reading): 'below' | 'above' | 'unclear' {
  const [p, q] = [extent(a), extent(b)];
  return p.high < q.low ? 'below' : p.low > q.high ? 'above' : 'unclear';
}
