/** What the sample is, by whichever way it was measured: asked of grist and twist, once or several times. */
import type { Notes } from '../../foundation/notes.js';
import { ProblemError } from '../../foundation/problems.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import type { Reader } from '../../foundation/read.js';
import { coverage, isPoint, type Q, type Reading } from '../../foundation/reading.js';
import { meanAndDeviation } from '../../foundation/student.js';
import type { Expr, Knowns } from '../../foundation/uncertainty.js';
import type { YarnState } from '../../reference/states.js';
import type { Wrapping } from '../../reference/wraps.js';
import type { Reply } from '../calculation.js';
import { answer as gristOf, type GristResult } from '../grist/answer.js';
import { halfWidthOf } from '../grist/ways.js';
import { answer as twistOf, type TwistResult } from '../twist/answer.js';
import * as notes from './notes.js';

type Json = Record<string, unknown>;
/** How many measurements, their standard deviation as a share of the mean, and the half-width of the mean, likewise. */
export interface Repeated { readonly count: number; readonly spread: number; readonly half: number }
export interface Measured { readonly value: Expr; readonly repeated?: Repeated }
export interface Sample { readonly grist?: Measured; readonly twist?: Measured; readonly wraps?: Measured; readonly wrapsBy?: Readonly<Record<Wrapping, Expr>> }

const ofGrist = ['grist', 'skeins', 'length', 'mass', 'windings', 'circumference', 'balanceLength', 'balanceArm', 'diameter'] as const;
const besideGrist = ['scaleStep', 'wrapping', 'wrapFactor', 'fibre', 'spread', 'measurements'] as const;
const ofTwist = ['bumps', 'plyBack', 'untwistTurns', 'angle'] as const;
const besideTwist = ['bumpsOver', 'plies', 'gaugeLength', 'diameter'] as const;
const ofStates = ['state', 'restingLost', 'lengthLost'] as const;
export const measuredNames = [...ofGrist, ...besideGrist, ...ofTwist, ...besideTwist.filter((x) => x !== 'diameter'), ...ofStates, 'massLost', 'wrapCounts', 'twistCounts'] as const;

/** What a grist says of things that a sample does not ask for. */
const aboutWords = new Set(['category-is-no-measure']);
const aboutWraps = new Set([...aboutWords, 'yarn-packing', 'wrap-factor']);

const some = (q: Json, keys: readonly string[]): Json => Object.fromEntries(keys.filter((key) => q[key] !== undefined).map((key) => [key, q[key]]));
export const hasTwist = (q: Json): boolean => q['twistCounts'] !== undefined || ofTwist.some((key) => q[key] !== undefined);
export const hasGrist = (q: Json): boolean => q['wrapCounts'] !== undefined || ofGrist.some((key) => q[key] !== undefined && (key !== 'diameter' || q['angle'] === undefined));

const renamed: Readonly<Record<string, string>> = { '/wraps': '/wrapCounts', '/twist': '/twistCounts' };
/** Another calculation's answer; what it refuses is refused here, by the same pointers, and what it notes is noted. */
function asked<T>(ask: () => Reply<T>, r: Reader, out: Notes, unsaid: ReadonlySet<string> = new Set()): T | undefined {
  let reply: Reply<T>;
  try {
    reply = ask();
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    for (const { pointer = '', parameter: _, ...issue } of error.issues) r.fail(renamed[pointer] ?? pointer, { ...issue, received: issue.received ?? '', expected: issue.expected ?? '' });
    return undefined;
  }
  for (const a of reply.assumptions) if (!unsaid.has(a.code)) out.assume(a);
  for (const w of reply.warnings) if (w.code !== 'no-uncertainty' && w.code !== 'few-skeins') out.warn(w);
  for (const c of reply.cautions) out.caution(c);
  return reply.result;
}

/** One or several counts of the same thing: their mean, with its scatter by Student's t beside the ± of each. */
function counts(q: Json, key: string, kind: Kind, r: Reader, out: Notes): { reading: Reading; repeated?: Repeated } | undefined {
  if (q[key] === undefined) return undefined;
  const list = r.list(q[key], `/${key}`, 100, 'measurements');
  if (list === undefined) return undefined;
  if (list.length === 0) return r.missing(`/${key}/0`, 'At least one measurement', kind === 'twist' ? 'such as 8 turns/in' : 'such as 12 wraps/in');
  const readings = list.map((v, i) => r.quantity(v, `/${key}/${i}`, kind));
  if (readings.some((x) => x === undefined)) return undefined;
  if (readings.length === 1) return { reading: readings[0]! };
  const ends = (readings as Reading[]).map((x) => (isPoint(x) ? { low: x.value, high: x.value } : x));
  if (!(readings as Reading[]).every(isPoint)) {
    const low = ends.every((e) => e.low !== undefined) ? ends.reduce((a, e) => a + e.low!, 0) / ends.length : undefined;
    const high = ends.every((e) => e.high !== undefined) ? ends.reduce((a, e) => a + e.high!, 0) / ends.length : undefined;
    return { reading: { ...(low === undefined ? {} : { low }), ...(high === undefined ? {} : { high }) } };
  }
  const points = readings as { value: number; u?: number }[];
  const { mean, deviation } = meanAndDeviation(points.map((p) => p.value));
  const spread = deviation / mean;
  const half = halfWidthOf(spread, points.length);
  const own = Math.sqrt(points.reduce((a, p) => a + (p.u ?? 0) ** 2, 0)) / points.length;
  out.assume(notes.wrapsScatter);
  return { reading: { value: mean, u: Math.hypot((half * mean) / 2, own) }, repeated: { count: points.length, spread, half } };
}

/** Reads all of it. `wanted`: the state in which the yarn is to be compared. */
export function measure(q: Json, r: Reader, k: Knowns, out: Notes, wanted: YarnState | undefined): Sample {
  const input = (w: Q | undefined, kind: Kind): Expr | undefined => {
    if (w === undefined) return undefined;
    // Our own answer: where its ± is wider than itself, an end of it may lie below nothing.
    const v = r.quantity(w, '', kind, { atLeast: -1e12 });
    return v === undefined ? undefined : k.input(v);
  };
  const wraps = counts(q, 'wrapCounts', 'wraps', r, out);
  const sample: { -readonly [K in keyof Sample]: Sample[K] } = {};
  if (wraps !== undefined) sample.wraps = { value: k.input(wraps.reading), ...(wraps.repeated === undefined ? {} : { repeated: wraps.repeated }) };
  if (hasGrist(q)) {
    const question: Json = { ...some(q, [...ofGrist, ...besideGrist, ...ofStates, 'massLost']) };
    if (q['angle'] !== undefined) delete question['diameter'];
    if (wraps !== undefined) question['wraps'] = inWraps(wraps.reading);
    // Wraps of which nobody says how they were laid are compared as wraps, not as a grist.
    const needed = ofGrist.some((key) => question[key] !== undefined) || q['wrapping'] !== undefined || q['wantedGrist'] !== undefined || q['wrapFactor'] !== undefined;
    const result = needed ? asked<GristResult>(() => gristOf(question, { units: metric }), r, out, q['diameter'] !== undefined || q['wrapCounts'] !== undefined || q['wantedWraps'] !== undefined ? aboutWords : aboutWraps) : undefined;
    const grist = input(result === undefined ? undefined : inState(result.states, wanted, 'grist', result.grist), 'grist');
    if (grist !== undefined) {
      const { repeats } = result!;
      const number = (w: { value?: number } | undefined): number => w?.value ?? Number.NaN;
      sample.grist = { value: grist, ...(repeats === undefined ? {} : { repeated: { count: number(repeats.count as { value: number }), spread: number(repeats.spread as { value: number }) / 100, half: number(repeats.halfWidth as { value: number }) / 100 } }) };
      if (result!.wraps !== undefined) sample.wrapsBy = Object.fromEntries(Object.entries(result!.wraps).map(([way, w]) => [way, input(w, 'wraps')!])) as Record<Wrapping, Expr>;
    }
  }
  if (hasTwist(q)) {
    const twists = counts(q, 'twistCounts', 'twist', r, out);
    const question: Json = { ...some(q, [...ofTwist, ...besideTwist, ...ofStates]) };
    if (twists !== undefined) question['twist'] = inTurns(twists.reading);
    const result = q['twistCounts'] !== undefined && twists === undefined ? undefined : asked<TwistResult>(() => twistOf(question, { units: metric }), r, out);
    const twist = input(result === undefined ? undefined : inState(result.states, wanted, 'twist', result.twist), 'twist');
    if (twist !== undefined) sample.twist = { value: twist, ...(twists?.repeated === undefined ? {} : { repeated: twists.repeated }) };
    else if (result !== undefined && q['wantedTwist'] !== undefined) r.missing('/twistCounts', 'The twist of the sample, or how thick it is for its angle,', 'such as 8 turns/in');
  }
  return sample;
}

const inUnit = (reading: Reading, unit: string, si: number): Json => (isPoint(reading)
  ? { value: reading.value / si, unit, ...(reading.u === undefined ? {} : { plusMinus: (coverage * reading.u) / si }) }
  : { ...(reading.low === undefined ? {} : { low: reading.low / si }), ...(reading.high === undefined ? {} : { high: reading.high / si }), unit });
const inTurns = (reading: Reading): Json => inUnit(reading, 'turns/m', 1);
const inWraps = (reading: Reading): Json => inUnit(reading, 'wraps/cm', 100);

/** The measure in the state wanted, where states were said; else as it was measured. */
function inState<K extends string>(states: readonly ({ readonly state: YarnState } & Readonly<Record<K, Q>>)[] | undefined, wanted: YarnState | undefined, key: K, measured: Q | undefined): Q | undefined {
  if (wanted === undefined || states === undefined) return measured;
  return states.find((s) => s.state === wanted)?.[key] ?? measured;
}
