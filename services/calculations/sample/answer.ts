/** A measured sample against what it should be: a real difference or not, what to change, and how many measurements would tell. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, type Reading } from '../../foundation/reading.js';
import { gum } from '../../foundation/sources.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { yarnStates, type YarnState } from '../../reference/states.js';
import { wrappings, type Wrapping } from '../../reference/wraps.js';
import type { QIn, RIn } from '../../wheels/profile.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { change, type Change } from './change.js';
import { compare, type Compared } from './compare.js';
import * as f from './formula.js';
import { hasGrist, hasTwist, measure, measuredNames } from './measured.js';
import * as notes from './notes.js';

export interface SampleQuestion {
  skeins?: QIn[]; wrapCounts?: QIn[]; wrapping?: Wrapping; twistCounts?: QIn[]; wantedGrist?: QIn; wantedWraps?: QIn; wantedTwist?: QIn; within?: QIn;
  grist?: QIn; length?: QIn; mass?: QIn; scaleStep?: QIn; windings?: RIn; circumference?: QIn; balanceLength?: QIn; balanceArm?: QIn; diameter?: QIn; wrapFactor?: RIn; fibre?: string; spread?: QIn; measurements?: RIn;
  bumps?: RIn; bumpsOver?: QIn; plies?: RIn; plyBack?: QIn; untwistTurns?: RIn; gaugeLength?: QIn; angle?: QIn; state?: YarnState; wantedState?: YarnState; restingLost?: QIn; lengthLost?: QIn; massLost?: QIn;
  ratio?: RIn; otherRatios?: RIn[]; treadles?: RIn; draftLength?: QIn;
}
export interface SampleResult { compared: Compared[]; toChange?: Change }
export const model = { id: 'sample', version: '1.0.0' } as const;
const names = [...measuredNames, 'wantedGrist', 'wantedWraps', 'wantedTwist', 'wantedState', 'within', 'ratio', 'otherRatios', 'treadles', 'draftLength'] as const;

export function answer(question: unknown, options: AnswerOptions = {}): Reply<SampleResult> {
  const out = new Notes();
  const r = new Reader(out);
  const k = new Knowns();
  const units = options.units ?? metric;
  const q = r.object(question, '', names) ?? {};
  const read = (key: string, kind: Kind, limits = {}): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const input = (v: Reading | undefined): Expr | undefined => (v === undefined ? undefined : k.input(v));
  const wantedState = q['wantedState'] === undefined ? undefined : r.choice(q['wantedState'], '/wantedState', yarnStates);
  if (wantedState !== undefined && q['state'] === undefined) r.missing('/state', 'The state in which the sample was measured', yarnStates.join(', '));
  const [grist, wraps, twist] = [read('wantedGrist', 'grist'), read('wantedWraps', 'wraps'), read('wantedTwist', 'twist')];
  const within = q['within'] === undefined ? undefined : r.quantity(q['within'], '/within', 'share', { moreThan: 0, atMost: 1, says: 'more than 0 and at most 100 %' });
  const wrapping = q['wrapping'] === undefined ? undefined : r.choice(q['wrapping'], '/wrapping', wrappings);
  const sample = measure(q, r, k, out, wantedState);
  const limits = { moreThan: 1e-3, atMost: 1e4 };
  const [ratio, treadles, draftLength] = [input(q['ratio'] === undefined ? undefined : r.ratio(q['ratio'], '/ratio', limits)), input(q['treadles'] === undefined ? undefined : r.number(q['treadles'], '/treadles', limits)), read('draftLength', 'part', { moreThan: 1e-5, atMost: 100, says: 'more than 0' })];
  const others = (q['otherRatios'] === undefined ? [] : (r.list(q['otherRatios'], '/otherRatios', 24, 'ratios') ?? [])).flatMap((v, i) => input(r.ratio(v, `/otherRatios/${i}`, limits)) ?? []);
  if (others.length > 0 && q['ratio'] === undefined) r.missing('/ratio', 'The ratio that the sample was spun at', 'such as 9:1');
  needed(q, r);
  r.done();

  // Wraps are compared as wraps where they were counted; else those that the grist gives, for the way of wrapping that was said.
  const ownWraps = sample.wraps ?? (wraps !== undefined && wrapping !== undefined && sample.wrapsBy !== undefined ? { value: sample.wrapsBy[wrapping], ...(sample.grist?.repeated === undefined ? {} : { repeated: { ...sample.grist.repeated, spread: sample.grist.repeated.spread / 2, half: sample.grist.repeated.half / 2 } }) } : undefined);
  if (wraps !== undefined && ownWraps === undefined) { r.missing('/wrapping', 'How the wraps that you want are counted', wrappings.join(', ')); r.done(); }
  const near = within === undefined ? undefined : extent(within).low;
  const compared: Compared[] = [];
  if (grist !== undefined && sample.grist !== undefined) compared.push(compare('grist', sample.grist, grist, near, k, out, units));
  if (wraps !== undefined && ownWraps !== undefined) { out.assume(notes.wrapsAsCounted); compared.push(compare('wraps', ownWraps, wraps, near, k, out, units)); }
  if (twist !== undefined && sample.twist !== undefined) compared.push(compare('twist', sample.twist, twist, near, k, out, units));

  const off = (what: Compared['what']): boolean => compared.some((c) => c.what === what && c.differs !== 'no' && c.nearEnough !== 'yes' && c.direction !== 'as-wanted');
  const gristFactor = off('grist') ? expr((g, w) => g / w, sample.grist!.value, grist!) : grist === undefined && off('wraps') ? expr((m, w) => f.gristFactorOfWraps({ measured: m, wanted: w }), ownWraps!.value, wraps!) : undefined;
  const course = change({
    ...(sample.grist === undefined ? {} : { grist: sample.grist.value }), ...(sample.twist === undefined ? {} : { twist: sample.twist.value }), ...(grist === undefined ? {} : { wantedGrist: grist }),
    ...(off('twist') ? { wantedTwist: twist! } : {}), ...(gristFactor === undefined ? {} : { gristFactor }),
  }, { ...(ratio === undefined ? {} : { ratio }), others, ...(treadles === undefined ? {} : { treadles }), ...(draftLength === undefined ? {} : { draftLength }) }, k, out, units);
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply({ compared, ...(course === undefined ? {} : { toChange: course }) }, out, [gum], model, options);
}

/** Something measured, something wanted, and each wanted thing measured. */
function needed(q: Readonly<Record<string, unknown>>, r: Reader): void {
  if (r.issues.length > 0) return;
  const [byGrist, byTwist] = [hasGrist(q), hasTwist(q)];
  const wantsYarn = q['wantedGrist'] !== undefined || q['wantedWraps'] !== undefined;
  if (!wantsYarn && q['wantedTwist'] === undefined) r.missing(byTwist && !byGrist ? '/wantedTwist' : '/wantedGrist', 'What the yarn should be: its grist, wraps or twist,', byTwist && !byGrist ? 'such as 9 turns/in' : 'such as 1500 yd/lb');
  if (wantsYarn && !byGrist) r.missing('/skeins', 'The grist or the wraps of the sample, measured,', 'such as 20 yd/3.1 g');
  if (q['wantedTwist'] !== undefined && !byTwist) r.missing('/twistCounts', 'The twist of the sample, counted,', 'such as 8 turns/in');
}
