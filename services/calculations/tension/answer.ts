/** Tension: the window that draws in and spares the yarn, what gives first, and checks without a gauge. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { feyrer, gum, hamrock } from '../../foundation/sources.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import * as words from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { bagByHand, readBagTest, type BagRead, type BagTest } from '../bag-test.js';
import * as ratioNotes from '../ratio/notes.js';
import { cordOf } from '../drive-band/answer.js';
import { cordTooTight } from '../drive-band/notes.js';
import { buildTrain, neededWheel, type Train } from '../ratio/train.js';
import { reply } from '../reply.js';
import { packageOf } from '../package.js';
import { diameterAt } from '../take-up/formula.js';
import { checkList, readChecks, type Check, type Measured, type Run, type RunEnds } from './checks.js';
import { readForces } from './forces.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import { bandVerdict, loadOf, servesFrom, settingOf, waysToOpen, type BandVerdict, type PullAtFill, type Setting, type WayToOpen, type Yes } from './setting.js';
import { brakeWindow, doubleWindow, givesFirst, gripOf, grooveFriction, torques, type Forces, type Grip, type State, type Window } from './window.js';

export interface TensionQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; axleDistance?: QIn; wheelIs?: words.WheelIs; bandFriction?: RIn; drag?: QIn; spindleFriction?: QIn; startTorque?: QIn; hookFactor?: RIn; pullNeeded?: QIn; pullBorne?: QIn;
  bagTest?: BagTest; brakeSpring?: QIn; sagCheck?: { run: QIn; weight: QIn; sag: QIn; cordStiffness?: QIn; cordMass?: QIn; runIs?: Run; ends?: RunEnds }; pitchCheck?: { run: QIn; pitch: QIn; cordMass?: QIn };
}
/** Every pair costs some thousand steps of arithmetic; more would hold up everybody else. */
const mostParts = 24;

interface WindowAnswer { least: Q; most?: Q; state: State }
export interface TensionResult {
  windows: {
    whorl?: string; bobbin: string; groove?: string; of: 'band-tension' | 'brake-torque'; empty: WindowAnswer; half: WindowAnswer; full: WindowAnswer; wholeFill: WindowAnswer;
    oneSettingServes: Yes; spreadNeeded: R; spreadAllowed: R; givesFirst?: 'bobbin' | 'whorl' | 'too-close-to-say'; bandTensionNeeded?: Q;
    bySag?: BandVerdict; byPitch?: BandVerdict; pull?: PullAtFill[]; setting?: Setting; wheelLoad?: { held: Q; drawingIn: Q }; ways?: WayToOpen[];
  }[];
  brake?: { torque: Q; whenReversed: Q; reversalFactor: R };
  checks: Check[];
}
export const model = { id: 'tension', version: '1.2.0' } as const;
const names = ['wheel', 'wheelId', 'drive', 'axleDistance', 'wheelIs', 'bandFriction', 'drag', 'spindleFriction', 'startTorque', 'hookFactor', 'pullNeeded', 'pullBorne', 'bagTest', 'brakeSpring', 'sagCheck', 'pitchCheck'] as const;

export interface Part { readonly whorl?: { readonly name: string; readonly grip: Grip; readonly ratio?: Expr }; readonly bobbin: string; readonly groove?: string; readonly bobbinGrip?: Grip; readonly bobbinRatio?: Expr; readonly core: Expr; readonly full: Expr }
export interface Solved { readonly train: Train; readonly parts: readonly Part[]; readonly x: Forces; readonly bag?: BagRead; readonly brake?: { readonly spring: Expr; readonly diameter: Expr; readonly grip: Expr; readonly end: 'slack' | 'tight' | 'both' }; readonly done: Measured; readonly wheelIs?: words.WheelIs; readonly out: Notes }

export function solve(question: unknown): Solved {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const { wheel, chosen } = neededWheel(q, r);
  if (chosen.drive === 'spindle' || chosen.drive === 'electric') {
    r.fail('/drive', { code: 'not-known-part', detail: chosen.drive === 'spindle' ? 'A spindle has no brake and no bobbin that slips: there is no window to set.' : 'On an electric spinner set the brake as on a flyer-lead wheel: ask for that drive.', received: chosen.drive, expected: 'double-drive, flyer-lead or bobbin-lead' });
    r.done();
  }
  const train = buildTrain(wheel, chosen, r, out);
  const k = train.knowns;
  const wheelIs = q['wheelIs'] === undefined ? wheel.wheelIs : r.choice(q['wheelIs'], '/wheelIs', words.wheelPlaces);
  const quantity = (key: string, kind: Kind, limits = {}): Expr | undefined => { const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits); return v === undefined ? undefined : k.input(v); };
  const bag = readBagTest(q['bagTest'], r, k, out);
  if (q['bagTest'] === undefined) out.warn(notes.needsTest);
  const x = readForces(q, r, k, out, bag, chosen.mode?.band?.material);
  if (extent(k.reading(x.borne)).high > 8.9) out.warn(notes.painful);
  const done = readChecks(q, r, train, wheelIs, out);
  const brake = readBrake(q, r, train, out);
  const parts = r.issues.length > 0 ? [] : partsOf(train, x, quantity('axleDistance', 'part', { moreThan: 1e-3, atMost: 20 }), r, out);
  if (parts.length > mostParts) r.fail('/wheel/bobbins', { code: 'too-many', detail: `${parts.length} pairs are more than one question takes.`, received: `${parts.length} pairs`, expected: `at most ${mostParts}: fewer whorls or bobbins` });
  r.done();
  return { train, parts, x, done, out, ...(bag === undefined ? {} : { bag }), ...(brake === undefined ? {} : { brake }), ...(wheelIs === undefined ? {} : { wheelIs }) };
}

function readBrake(q: Record<string, unknown>, r: Reader, train: Train, out: Notes): Solved['brake'] | undefined {
  const spring = q['brakeSpring'] === undefined ? undefined : r.quantity(q['brakeSpring'], '/brakeSpring', 'pull', { moreThan: 0, atMost: 1000 });
  if (spring === undefined) return undefined;
  const b = train.mode?.brake;
  const end = train.wheel.bobbins.find((x) => x.end !== undefined)?.end;
  const k = train.knowns;
  const diameter = b?.groove !== undefined && b.groove.measure !== 'stated' ? (b.groove.measure === 'diameter' ? k.input(b.groove.size) : expr((c) => c / Math.PI, k.input(b.groove.size))) : expr((e) => e - 0.004, end === undefined ? k.assumed({ value: 0.075 }) : k.input(end));
  out.assume(notes.brakeTaken);
  return { spring: k.input(spring), diameter, grip: k.assumed({ low: 0.15 * Math.PI, high: 0.4 * Math.PI }), end: b?.springs === 'both-ends' ? 'both' : b?.springSide === 'tight' ? 'tight' : 'slack' };
}

/** Every pair with its grips and its package. */
function partsOf(train: Train, x: Forces, given: Expr | undefined, r: Reader, out: Notes): Part[] {
  const k = train.knowns;
  const { wheel, drive } = train;
  const D = train.wheelPitch;
  let distance = given;
  if (distance === undefined && wheel.axleToFlyer?.nearest !== undefined && wheel.axleToFlyer.farthest !== undefined) distance = k.input({ low: extent(wheel.axleToFlyer.nearest).low, high: extent(wheel.axleToFlyer.farthest).high });
  if (distance === undefined && D !== undefined) { out.assume(notes.distanceTaken); distance = expr((d, more) => d / 2 + more, D, k.assumed({ low: 0.14, high: 0.3 })); }
  const package_ = (b: (typeof wheel.bobbins)[number] | undefined): { core: Expr; full: Expr } => packageOf(b ?? { name: 'bobbin 1', at: '/wheel/bobbins/0', grooves: [] }, train, r, out, false);
  const grip = (pitch: Expr | undefined, g: Parameters<typeof grooveFriction>[0], usual: 'v' | 'round'): Grip | undefined => {
    if (pitch === undefined || D === undefined || distance === undefined) return undefined;
    if (g?.shape === undefined) out.assume(notes.grooveShapes);
    return gripOf(pitch, D, distance, grooveFriction(g, usual, x.friction, k));
  };
  const whorlGroove = (name: string): Parameters<typeof grooveFriction>[0] => wheel.whorls.find((w) => w.name === name)?.groove;
  const touching = (pitch: Expr): boolean => D !== undefined && distance !== undefined && extent(k.reading(expr((c, a, b) => c - (a + b) / 2, distance, D, pitch))).low <= 0;
  const list: Part[] = [];
  if (drive === 'double-drive') {
    for (const p of train.pairs) {
      const [w, b] = [grip(p.whorl.pitch, whorlGroove(p.whorl.name), 'v'), grip(p.bobbin.pitch, p.bobbin.bobbin.grooves.find((g, i) => (g.name ?? `groove ${i + 1}`) === p.bobbin.groove)?.groove, 'round')];
      if (w === undefined || b === undefined) { r.missing(D === undefined ? '/wheel/driveWheel' : '/wheel/whorls/0/grooveDiameter', 'For a window the wheel and both grooves must be measured: one of them', 'grooveDiameter, grooveCircumference or bandTurn'); return []; }
      if (touching(w.pitch) || touching(b.pitch)) { r.fail('/axleDistance', { code: 'impossible-geometry', detail: 'Wheel and pulleys would touch at that distance.', received: 'the distance from axle to flyer', expected: 'more than half the wheel and half the pulley' }); return []; }
      list.push({ whorl: { name: p.whorl.name, grip: w, ...(p.whorl.ratio === undefined ? {} : { ratio: p.whorl.ratio }) }, bobbin: p.bobbin.name, groove: p.bobbin.groove, bobbinGrip: b, ...(p.bobbin.ratio === undefined ? {} : { bobbinRatio: p.bobbin.ratio }), ...package_(p.bobbin.bobbin) });
    }
    if (list.length === 0) r.missing(train.bobbins.length === 0 ? '/wheel/bobbins/0/grooves/0/grooveDiameter' : '/wheel/whorls/0/grooveDiameter', 'A double drive’s window needs both grooves: one of them', 'such as 48 mm');
  } else if (drive === 'bobbin-lead') {
    for (const b of train.bobbins) {
      const g = grip(b.pitch, b.bobbin.grooves[0]?.groove, 'v');
      list.push({ bobbin: b.name, groove: b.groove, ...(g === undefined ? {} : { bobbinGrip: g }), ...(b.ratio === undefined ? {} : { bobbinRatio: b.ratio }), ...package_(b.bobbin) });
    }
    if (list.length === 0) r.missing('/wheel/bobbins/0/grooves/0/grooveDiameter', 'On a bobbin-lead wheel the band drives the bobbin: its groove', 'the groove of the bobbin, such as 60 mm');
  } else {
    for (const w of train.whorls) {
      const g = grip(w.pitch, whorlGroove(w.name), 'v');
      for (const b of wheel.bobbins.length > 0 ? wheel.bobbins.filter((o) => o.flyer === undefined || w.flyer === undefined || o.flyer === w.flyer) : [undefined]) {
        list.push({ ...(g === undefined ? {} : { whorl: { name: w.name, grip: g, ...(w.ratio === undefined ? {} : { ratio: w.ratio }) } }), bobbin: b?.name ?? 'bobbin 1', ...package_(b) });
      }
    }
    if (list.length === 0) r.missing('/wheel/whorls/0/grooveDiameter', 'The groove of a whorl', 'such as 60 mm');
  }
  return list;
}

/** The window at two diameters: drawing in judged at the one, pulling off at the other. */
export function windowAt(s: Solved, p: Part, drawAt: Expr, bearAt: Expr): Window {
  return s.train.drive === 'double-drive' ? doubleWindow(s.train.knowns, s.x, p.whorl!.grip, p.bobbinGrip!, drawAt, bearAt) : brakeWindow(s.train.knowns, s.x, s.train.drive, drawAt, bearAt);
}

export function answer(question: unknown, options: AnswerOptions = {}): Reply<TensionResult> {
  const s = solve(question);
  const { train, x, out } = s;
  const k = train.knowns;
  const units = options.units ?? metric;
  const q = (kind: Kind, e: Expr): Q => wire(kind, k.reading(e), units);
  if (train.wheel.condition === 'do-not-run') out.caution(ratioNotes.doNotRun);
  out.caution(bagByHand);
  out.caution(notes.soreHands);
  out.caution(notes.smallSteps);
  const double = train.drive === 'double-drive';
  if (double) out.assume(notes.theory);
  const kind: Kind = double ? 'band-tension' : 'torque';
  const borne = extent(cordOf(train)?.greatestTension ?? {}).high;
  // Nothing is said where the cord is not known: nothing is more than Infinity.
  const watch = (tension: Reading): void => { if (extent(tension).low > borne) out.warn(cordTooTight); };
  for (const measured of [s.done.sag?.unloaded, s.done.pitch]) if (measured !== undefined) watch(k.reading(measured));
  /** What a tension that was measured is beside the window of a doubled band, or beside what a single drive's band needs. */
  const measuredBy = (to: Window | Reading | undefined): { bySag?: BandVerdict; byPitch?: BandVerdict } => {
    if (to === undefined) return {};
    const said = (e: Expr | undefined): BandVerdict | undefined => (e === undefined ? undefined : bandVerdict(k.reading(e), to));
    const [bySag, byPitch] = [said(s.done.sag?.unloaded), said(s.done.pitch)];
    return { ...(bySag === undefined ? {} : { bySag }), ...(byPitch === undefined ? {} : { byPitch }) };
  };
  const told = (w: Window): WindowAnswer => ({ least: wire(kind, w.low, units), ...(extent(w.high).high <= 0 ? {} : { most: wire(kind, clamp(w.high), units) }), state: w.state });
  const windows = s.parts.map((p): TensionResult['windows'][number] => {
    const half = expr((core, full) => diameterAt({ core, full, fill: 0.5 }), p.core, p.full);
    const whole = windowAt(s, p, p.full, p.core);
    const { least } = torques(x, p.full, p.core);
    const oneSettingServes = servesFrom(s, x, p.full, p.core);
    const spread = (full: Expr, core: Expr, factor: Expr): Reading => k.reading(expr((a, b, c) => f.spreadNeeded({ full: a, core: b, factor: c }), full, core, factor));
    if (oneSettingServes === 'no') out.warn(notes.closed);
    const single = double ? undefined : bandNeeded(s, p, whole);
    if (double) watch(whole.low);
    if (single !== undefined) watch(single);
    return {
      ...(p.whorl === undefined ? {} : { whorl: p.whorl.name }), bobbin: p.bobbin, ...(p.groove === undefined ? {} : { groove: p.groove }), of: double ? 'band-tension' : 'brake-torque',
      empty: told(windowAt(s, p, p.core, p.core)), half: told(windowAt(s, p, half, half)), full: told(windowAt(s, p, p.full, p.full)), wholeFill: told(whole),
      oneSettingServes, spreadNeeded: wire('number', spread(p.full, p.core, x.factor)), spreadAllowed: wire('number', k.reading(expr((a, b) => a / b, x.borne, x.needed))),
      ...(double ? { givesFirst: givesFirst(k, x, p.whorl!.grip, p.bobbinGrip!, (out.assume(notes.ordinaryTension), k.assumed({ low: 0.2, high: 0.5 }))) } : single === undefined ? {} : { bandTensionNeeded: wire('band-tension', single, units) }),
      ...measuredBy(double ? whole : single), ...settingOf(s, p, q), ...loadOf(s, p, least, q),
      ...(oneSettingServes === 'yes' ? {} : { ways: waysToOpen(s, p, half, spread, q) }),
    };
  });
  const result: TensionResult = { windows, checks: checkList(train.drive, train.wheel, s.wheelIs, s.done, (e) => k.reading(e), (kd, r) => wire(kd, r, units)) };
  if (s.brake !== undefined) result.brake = brakeAnswer(s.brake, q, (e) => wire('number', k.reading(e)));
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, [feyrer, hamrock, gum], model, options);
}
const clamp = (r: Reading): Reading => ('value' in r ? r : { ...r, ...(r.low === undefined ? {} : { low: Math.max(0, r.low) }) });

function brakeAnswer(b: NonNullable<Solved['brake']>, q: (kind: Kind, e: Expr) => Q, n: (e: Expr) => R): NonNullable<TensionResult['brake']> {
  const other = b.end === 'both' ? 'both' as const : b.end === 'slack' ? 'tight' as const : 'slack' as const;
  const torque = (end: 'slack' | 'tight' | 'both'): Expr => expr((spring, diameter, x) => f.brakeTorque({ spring, diameter, friction: x, wrap: 1, end }), b.spring, b.diameter, b.grip);
  return { torque: q('torque', torque(b.end)), whenReversed: q('torque', torque(other)), reversalFactor: n(b.end === 'both' ? expr(() => 1, b.grip) : expr((x) => f.reversalFactor({ friction: x, wrap: 1 }), b.grip)) };
}

/** Band tension that a single drive needs so that its band does not slip at the strongest brake of the window. */
function bandNeeded(s: Solved, p: Part, whole: Window): Reading | undefined {
  const grip = s.train.drive === 'bobbin-lead' ? p.bobbinGrip : p.whorl?.grip;
  if (grip === undefined || extent(whole.low).high < 0) return undefined;
  const brake = s.train.knowns.assumed({ low: Math.max(0, extent(whole.low).low), high: Math.max(0, extent(whole.high).high) });
  return s.train.knowns.reading(expr((drag, b, start, d, g) => (drag + b + start) / (d * Math.tanh(g / 2)), s.x.drag, brake, s.x.start, grip.pitch, grip.grip));
}
