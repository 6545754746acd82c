/** Twist: any one of ratio, wheel turns, draft length, twist. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, isPoint, middle, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { gum, iso17202, kleinTwist, millHandbook, pliedContractionAbstract, spinningHandbook, teal } from '../../foundation/sources.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import type { Staple, TwistUse } from '../../reference/twists.js';
import { preparations, type Preparation } from '../../reference/wraps.js';
import { fibreAliases, fibreIds } from '../../reference/fibres.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import * as words from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { measuringPull } from '../grist/formula.js';
import { reply } from '../reply.js';
import { readTreadling, readTurns } from '../treadles.js';
import { readStates, turnsStay, yarnStates, type YarnState } from '../yarn-states.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import { readSays, saysNames, saysOf, type SaysResult } from './says.js';
import { directTwist, plyBackStates, yarnOf } from './sources-of-twist.js';
import { ratiosOf, type RatioOption } from './whorls.js';

export interface TwistQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; whorl?: string; bobbin?: string; ratio?: RIn; wheelTurns?: RIn; treadles?: RIn; counted?: 'wheel-turns' | 'each-foot'; flyerTurns?: RIn;
  draftLength?: QIn; twist?: QIn; finishedTwist?: QIn; lengthLost?: QIn; bumps?: RIn; bumpsOver?: QIn; plies?: RIn; plyBack?: QIn; angle?: QIn; angleBefore?: QIn; twistFactor?: RIn; twistFactorIn?: f.FactorSystem;
  grist?: QIn; diameter?: QIn; yarnDensity?: QIn; fibre?: string; preparation?: Preparation; direction?: 'S' | 'Z'; woundDiameter?: QIn; unwound?: Unwound; treadling?: QIn; flyerSpeed?: QIn; drawSpeed?: QIn; share?: QIn;
  plyBackState?: 'fresh' | 'rested'; untwistTurns?: RIn; retwistTurns?: RIn; gaugeLength?: QIn; untwistedLength?: QIn; length?: QIn; contractionFactor?: RIn; use?: TwistUse; staple?: Staple; state?: YarnState; restingLost?: QIn;
}
export const unwounds = ['sideways', 'over-orifice-end', 'over-far-end'] as const;
export type Unwound = (typeof unwounds)[number];
export type SolvedFor = 'twist' | 'ratio' | 'wheelTurns' | 'draftLength' | 'flyerTurns' | 'flyerSpeed' | 'drawSpeed' | 'treadling' | 'nothing';
export interface TwistResult extends SaysResult {
  solvedFor: SolvedFor; twist?: Q; ratio?: R; wheelTurns?: R; flyerTurns?: R; draftLength?: Q; draftLengthPerWheelTurn?: Q; flyerSpeed?: Q; drawSpeed?: Q; treadling?: Q; angle?: Q; twistFactor?: Record<f.FactorSystem, number | { low?: number; high?: number }>;
  direction?: 'S' | 'Z'; consistency?: { twist: Q; difference: Q }; finishedTwist?: Q; bumpsPerLength?: { bumps: R; over: Q }; twistLost?: Q; angleLost?: Q; afterUnwinding?: Q;
  texFactor?: R; measuringPull?: Q; states?: { state: YarnState; twist: Q }[];
  whorls?: { name: string; ratio: R; twist?: Q; draftLength?: Q; wheelTurns?: R; nearest?: boolean }[];
}
export { plyBackStates, yarnStates };
export const model = { id: 'twist', version: '1.1.0' } as const;
const names = ['wheel', 'wheelId', 'drive', 'whorl', 'bobbin', 'ratio', 'wheelTurns', 'treadles', 'counted', 'flyerTurns', 'draftLength', 'twist', 'finishedTwist', 'lengthLost', 'bumps', 'bumpsOver', 'plies', 'plyBack', 'angle',
  'angleBefore', 'twistFactor', 'twistFactorIn', 'grist', 'diameter', 'yarnDensity', 'fibre', 'preparation', 'direction', 'woundDiameter', 'unwound', 'treadling', 'flyerSpeed', 'drawSpeed', 'share', 'plyBackState', 'untwistTurns', 'retwistTurns', 'gaugeLength', 'state', 'restingLost', ...saysNames] as const;

type Json = Record<string, unknown>;
const turnLimits = { moreThan: 0, atMost: 1e7, says: 'more than 0' };

export function answer(question: unknown, options: AnswerOptions = {}): Reply<TwistResult> {
  const out = new Notes();
  const r = new Reader(out);
  const k = new Knowns();
  const q = r.object(question, '', names) ?? {};
  const units = options.units ?? metric;
  const input = (v: Reading | undefined): Expr | undefined => (v === undefined ? undefined : k.input(v));
  const quantity = (key: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Expr | undefined => (q[key] === undefined ? undefined : input(r.quantity(q[key], `/${key}`, kind, limits)));
  const number = (key: string): Expr | undefined => (q[key] === undefined ? undefined : input(r.number(q[key], `/${key}`, turnLimits)));

  const { drive, options: fromWheel } = ratiosOf(q, r, k, out);
  const own = q['ratio'] === undefined ? undefined : input(r.ratio(q['ratio'], '/ratio', { moreThan: 1e-3, atMost: 1e4 }));
  const ratio = own ?? (fromWheel.length === 1 ? fromWheel[0]!.ratio : undefined);
  const turns = input(readTurns(q, r, out));
  const flyerTurns = number('flyerTurns');
  const draft = quantity('draftLength', 'part', { moreThan: 1e-5, atMost: 100, says: 'more than 0' });
  const yarn = yarnOf(q, r, k, out, { preparations, fibreIds, fibreAliases });
  const gauge = quantity('gaugeLength', 'part', { moreThan: 1e-4, atMost: 10, says: 'more than 0' });
  const given = directTwist(q, r, k, out, yarn, quantity, number, gauge);
  const says = readSays(q, r, k, gauge);
  const states = readStates(q, r, k, out, 'length');
  const [treadling, flyerSpeed, drawSpeed] = [input(readTreadling(q, r, out)), quantity('flyerSpeed', 'turning', { moreThan: 0, atMost: 1000 }), quantity('drawSpeed', 'speed')];
  const share = quantity('share', 'share', { moreThan: 0, atMost: 1 });
  const direction = q['direction'] === undefined ? undefined : r.choice(q['direction'], '/direction', ['S', 'Z'] as const, { s: 'S', z: 'Z', clockwise: 'Z', anticlockwise: 'S', 'counter-clockwise': 'S', counterclockwise: 'S' });
  const unwound = q['unwound'] === undefined ? undefined : r.choice(q['unwound'], '/unwound', unwounds);
  let wound = quantity('woundDiameter', 'part', { moreThan: 1e-3, atMost: 1, says: 'from 1 mm to 1 m' });
  if (r.issues.length === 0 && wound === undefined && (drive === 'bobbin-lead' || (unwound !== undefined && unwound !== 'sideways'))) {
    out.assume(notes.packageSpan);
    wound = k.assumed({ low: 0.025, high: 0.067 });
  }
  // On a bobbin-lead wheel what the wheel turns is the bobbin: each lap of yarn takes a turn away again.
  const lap = drive === 'bobbin-lead' && wound !== undefined ? expr((diameter) => f.turnsPerLap({ diameter }), wound) : undefined;
  const net = (gross: Expr): Expr => (lap === undefined ? gross : expr((a, b) => a - b, gross, lap));
  const gross = (t: Expr): Expr => (lap === undefined ? t : expr((a, b) => a + b, t, lap));

  const result: TwistResult = { solvedFor: 'nothing' };
  const known = (e: Expr): Reading => k.reading(e);
  const driven = flyerTurns ?? (ratio !== undefined && turns !== undefined ? expr((a, b) => a * b, ratio, turns) : undefined);
  const rate = flyerSpeed ?? (ratio !== undefined && treadling !== undefined ? expr((a, b) => a * b, ratio, treadling) : undefined);
  const speed = drawSpeed === undefined ? undefined : share === undefined ? drawSpeed : expr((v, s) => v / s, drawSpeed, share);
  let t = given;
  const byDraw = driven !== undefined && draft !== undefined ? net(expr((n, l) => f.twist({ turns: n, length: l }), driven, draft)) : undefined;
  const byRate = rate !== undefined && speed !== undefined ? net(expr((n, v) => n / v, rate, speed)) : undefined;
  const solved: Partial<Record<'ratio' | 'turns' | 'draft' | 'flyerTurns' | 'rate' | 'speed' | 'treadling', Expr>> = {};
  if (r.issues.length === 0) {
    if (t === undefined && (byDraw ?? byRate) !== undefined) { t = byDraw ?? byRate; result.solvedFor = 'twist'; }
    else if (t !== undefined && (byDraw ?? byRate) !== undefined) {
      const other = known((byDraw ?? byRate)!);
      const [a, b] = [extent(known(t)), extent(other)];
      result.consistency = { twist: wire('twist', other, units), difference: wire('share', known(expr((x, y) => x / y - 1, t, (byDraw ?? byRate)!)), units) };
      const gap = Math.abs(middle(other) / middle(known(t)) - 1);
      if ((a.low > b.high || a.high < b.low) && gap > 0.005) out.warn(notes.inconsistent);
    } else if (t !== undefined) solveFor(t);
    if (t === undefined && result.solvedFor === 'nothing' && !(fromWheel.length > 1 && draft !== undefined && turns !== undefined) && !only(q)) needed(q, r, ratio, turns, flyerTurns, draft);
  }
  r.done();

  function solveFor(tw: Expr): void {
    const g = gross(tw);
    if (draft !== undefined && turns !== undefined && ratio === undefined && flyerTurns === undefined) { solved.ratio = expr((x, l, n) => (x * l) / n, g, draft, turns); result.solvedFor = 'ratio'; }
    else if (draft !== undefined && ratio !== undefined && turns === undefined && flyerTurns === undefined) { solved.turns = expr((x, l, i) => (x * l) / i, g, draft, ratio); result.solvedFor = 'wheelTurns'; }
    else if (driven !== undefined && draft === undefined) { solved.draft = expr((n, x) => n / x, driven, g); result.solvedFor = 'draftLength'; }
    else if (draft !== undefined) { solved.flyerTurns = expr((x, l) => x * l, g, draft); result.solvedFor = 'flyerTurns'; }
    else if (ratio !== undefined && rate === undefined && speed === undefined) { solved.draft = expr((i, x) => i / x, ratio, g); result.solvedFor = 'draftLength'; }
    if (rate !== undefined && speed === undefined) { solved.speed = expr((n, x) => n / x, rate, g); if (result.solvedFor === 'nothing') result.solvedFor = 'drawSpeed'; }
    if (rate === undefined && speed !== undefined) {
      solved.rate = expr((x, v) => x * v, g, speed);
      if (result.solvedFor === 'nothing') result.solvedFor = ratio === undefined ? 'flyerSpeed' : 'treadling';
      if (ratio !== undefined) solved.treadling = expr((n, i) => n / i, solved.rate, ratio);
    }
  }

  const put = <T>(e: Expr | undefined, write: (v: Reading) => T): T | undefined => (e === undefined ? undefined : write(known(e)));
  const set = (key: keyof TwistResult, value: unknown): void => { if (value !== undefined) (result as unknown as Json)[key] = value; };
  if (byDraw !== undefined || byRate !== undefined || result.solvedFor !== 'nothing') out.assume(notes.noSlip);
  set('twist', put(t, (v) => { if (extent(v).high <= 0) out.warn(notes.noTwistLeft); return wire('twist', v, units); }));
  set('ratio', put(ratio ?? solved.ratio, (v) => wire('ratio', v)));
  set('wheelTurns', put(turns ?? solved.turns, (v) => wire('number', v)));
  set('flyerTurns', put(drive === 'bobbin-lead' ? undefined : (driven ?? solved.flyerTurns), (v) => wire('number', v)));
  set('draftLength', put(draft ?? solved.draft, (v) => wire('part', v, units)));
  set('draftLengthPerWheelTurn', put((draft ?? solved.draft) !== undefined && (turns ?? solved.turns) !== undefined ? expr((l, n) => l / n, (draft ?? solved.draft)!, (turns ?? solved.turns)!) : undefined, (v) => wire('part', v, units)));
  set('flyerSpeed', put(drive === 'bobbin-lead' ? undefined : (rate ?? solved.rate), (v) => { if (extent(v).high > 25) out.caution(notes.fastFlyer); return wire('turning', v, units); }));
  set('drawSpeed', put(speed ?? solved.speed, (v) => wire('speed', v, units)));
  set('treadling', put(treadling ?? solved.treadling, (v) => { if (extent(v).high > 2) out.warn(notes.stretchedTreadling); return wire('turning', v, units); }));
  if (drive === 'electric') out.caution(notes.powered);
  if (t !== undefined) describe(t);
  const factor = t === undefined || yarn.grist === undefined ? yarn.factor : expr((x, grist) => f.texFactor({ twist: x, grist }), t, yarn.grist);
  const angle = t === undefined || yarn.diameter === undefined ? (yarn.angle ?? yarn.alone) : expr((x, diameter) => f.surfaceAngle({ twist: x, diameter }), t, yarn.diameter);
  if (factor !== undefined) { result.twistFactor = factors(known(factor)); set('texFactor', wire('number', known(factor))); }
  set('angle', put(angle, (v) => wire('angle', v, units)));
  const plied = yarn.plies !== undefined && middle(known(yarn.plies)) > 1.5;
  Object.assign(result, saysOf(says, {
    ...(angle === undefined ? {} : { angle }), ...(factor === undefined ? {} : { factor }), ...(yarn.grist === undefined ? {} : { grist: yarn.grist }), ...(yarn.diameter === undefined ? {} : { diameter: yarn.diameter }), plied,
    cotton: yarn.fibre === 'cotton' || q['twistFactorIn'] === 'cotton', ...(yarn.fibre === undefined ? {} : { fibre: yarn.fibre }), ...(yarn.preparation === undefined ? {} : { preparation: yarn.preparation }),
  }, k, out, units));
  if (gauge !== undefined && yarn.grist !== undefined) set('measuringPull', wire('pull', known(expr((grist) => measuringPull({ grist }), yarn.grist)), units));
  if (states !== undefined && t !== undefined) {
    out.assume(turnsStay);
    result.states = yarnStates.map((state) => ({ state, twist: wire('twist', known(expr((x, l) => x / l, t, states.length[state])), units) }));
  }
  if (yarn.lost !== undefined) { set('twistLost', wire('share', known(yarn.lost.twist), units)); set('angleLost', wire('share', known(yarn.lost.angle), units)); }
  whorlTable(fromWheel);
  if (direction !== undefined) { result.direction = direction; if (typeof q['direction'] === 'string' && q['direction'].length > 1) out.assume(notes.clockwiseIsZ); }
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, [kleinTwist, ...(result.shortening === undefined ? [] : [pliedContractionAbstract, millHandbook]), ...(result.recommended === undefined ? [] : [spinningHandbook, teal]), ...(q['retwistTurns'] === undefined ? [] : [iso17202]), gum], model, options);

  /** What else a twist tells: bumps, finished twist, twist after unwinding. */
  function describe(tw: Expr): void {
    if (yarn.plies !== undefined) {
      const over = units.system === 'imperial' ? 0.0254 : 0.01;
      result.bumpsPerLength = { bumps: wire('number', known(expr((x, n) => x * n * over, tw, yarn.plies))), over: { value: 1, unit: units.system === 'imperial' ? 'in' : 'cm', text: units.system === 'imperial' ? '1 in' : '1 cm' } };
    }
    if (yarn.lengthLost !== undefined) { out.assume(notes.untwistLength); set('finishedTwist', wire('twist', known(expr((x, l) => x / (1 - l), tw, yarn.lengthLost)), units)); }
    if (unwound !== undefined) set('afterUnwinding', wire('twist', known(unwind(tw)), units));
  }
  /** Over an end, twist becomes bobbin turns in the length; over the other end the lap counts the other way. Sideways nothing changes. */
  function unwind(tw: Expr): Expr {
    if (unwound === 'sideways' || wound === undefined) return tw;
    const sign = (unwound === 'over-orifice-end' ? 1 : -1) * (drive === 'flyer-lead' || drive === 'electric' ? -1 : 1);
    return expr((x, diameter) => x + sign * f.turnsPerLap({ diameter }), tw, wound);
  }
  /** The same wish on each whorl of the wheel. */
  function whorlTable(list: readonly RatioOption[]): void {
    if (list.length === 0) return;
    const want = solved.ratio === undefined ? undefined : middle(known(solved.ratio));
    const near = want === undefined ? undefined : list.reduce((a, b) => (Math.abs(Math.log(middle(known(b.ratio)) / want)) < Math.abs(Math.log(middle(known(a.ratio)) / want)) ? b : a));
    result.whorls = list.map((w) => ({
      name: w.name, ratio: wire('ratio', known(w.ratio)),
      ...(draft !== undefined && turns !== undefined ? { twist: wire('twist', known(net(expr((i, n, l) => (i * n) / l, w.ratio, turns, draft))), units) } : {}),
      ...(given !== undefined && (turns !== undefined || draft === undefined) ? { draftLength: wire('part', known(turns === undefined ? expr((i, x) => i / x, w.ratio, gross(given)) : expr((i, n, x) => (i * n) / x, w.ratio, turns, gross(given))), units) } : {}),
      ...(given !== undefined && draft !== undefined && turns === undefined ? { wheelTurns: wire('number', known(expr((x, l, i) => (x * l) / i, gross(given), draft, w.ratio))) } : {}),
      ...(near === undefined ? {} : { nearest: w === near }),
    }));
  }
}

function factors(v: Reading): NonNullable<TwistResult['twistFactor']> {
  return Object.fromEntries(Object.entries(f.factorSystems).map(([key, by]) => [key, isPoint(v) ? v.value * by : { ...(v.low === undefined ? {} : { low: v.low * by }), ...(v.high === undefined ? {} : { high: v.high * by }) }])) as NonNullable<TwistResult['twistFactor']>;
}
/** Questions that ask for no turns at all: a factor in other systems, an angle, a contraction, or what tables recommend. */
const only = (q: Json): boolean => q['twistFactor'] !== undefined || q['angle'] !== undefined || q['contractionFactor'] !== undefined || (q['use'] !== undefined && q['grist'] !== undefined && q['fibre'] !== undefined);

function needed(q: Json, r: Reader, ratio: Expr | undefined, turns: Expr | undefined, flyerTurns: Expr | undefined, draft: Expr | undefined): void {
  if (flyerTurns === undefined && ratio === undefined) r.missing(q['wheel'] === undefined ? '/ratio' : '/whorl', 'The ratio (or the flyer’s turns, or the twist itself)', 'such as 9:1');
  if (flyerTurns === undefined && turns === undefined) r.missing('/wheelTurns', 'How many turns of the wheel go into one draw', 'such as 2');
  if (draft === undefined) r.missing('/draftLength', 'The length drafted in those turns: a ratio alone is no twist', 'such as 3 in');
}
