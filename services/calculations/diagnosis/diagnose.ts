/** Diagnosis: from signs to the next thing to try. Pure; throws a ProblemError. What is known of causes is handed in: see answer.ts. */
import { Notes } from '../../foundation/notes.js';
import { metric } from '../../foundation/quantity.js';
import { Reader, isObject } from '../../foundation/read.js';
import { extent, wire, type R, type Q } from '../../foundation/reading.js';
import { gum, shannon } from '../../foundation/sources.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import type { Drive } from '../../wheels/words.js';
import type { BagTest } from '../bag-test.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { reply } from '../reply.js';
import { askedWheel, type Asked } from '../ratio/train.js';
import type { Acts, Cause, Seen } from './cause.js';
import { contradictionsOf, type Contradiction } from './contradict.js';
import type { Knowledge } from './knowledge.js';
import { measure, type QuantityAnswer } from './measures.js';
import * as notes from './notes.js';
import { inOrder, likelihood, questionsOf, rank, type Evidence, type Ranked } from './formula.js';
import { changes, fills, habits, signIds, signOf, signs, type Change, type Fill, type Habit, type SignId } from '../../reference/signs.js';

export const strengths = ['slight', 'plain', 'strong'] as const;
export type Strength = (typeof strengths)[number];
export interface DiagnosisQuestion {
  signs?: (SignId | { sign: SignId; strength?: Strength })[]; notSeen?: SignId[]; wheel?: Wheel; wheelId?: string; drive?: Drive; whorl?: string; bobbin?: string; fill?: Fill; changed?: Change; habits?: Habit[]; stepsTightened?: RIn;
  treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; wheelTurns?: RIn; treadles?: RIn; twist?: QIn; bagTest?: BagTest; pullNeeded?: QIn; pullBorne?: QIn;
}
export type Verdict = 'stop' | 'stands-out' | 'look-first';
export interface CauseAnswer { id: string; name: string; fit: Q; cautions: string[]; why: string; checkFirst: string; tryNext: string; quantity?: QuantityAnswer; tension: 'loosen' | 'tighten' | 'leave'; technicianOnly: boolean; explains: string[]; notExplained: string[] }
export interface AskNext { id: string; asks: string; bits: R; ifYes: string; ifNo: string }
export interface DiagnosisResult { verdict: Verdict; doFirst: string[]; causes: CauseAnswer[]; questions: AskNext[]; contradictions: Contradiction[]; measures: QuantityAnswer[] }
export const model = { id: 'diagnosis', version: '1.0.0' } as const;

const names = ['signs', 'notSeen', 'wheel', 'wheelId', 'drive', 'whorl', 'bobbin', 'fill', 'changed', 'habits', 'stepsTightened', 'treadling', 'counted', 'draftLength', 'wheelTurns', 'treadles', 'twist', 'bagTest', 'pullNeeded', 'pullBorne'] as const;
const weights: Readonly<Record<Strength, number>> = { slight: 0.5, plain: 1, strong: 1.3 };
const changeIds = Object.keys(changes) as Change[];
const habitIds = Object.keys(habits) as Habit[];
const fillIds = Object.keys(fills) as Fill[];
/** More signs than this describe two wheels. */
const mostSigns = 24;
/** Small steps of tightening after which another cause is looked for. */
const stepsInVain = 3;
const [mostCauses, leastShare, standsOut] = [6, 0.02, 0.5];
/** Signs of too much tension, and of too little. */
export const strongSigns: readonly SignId[] = ['yanks', 'hands-hurt', 'thin-spots', 'under-twisted', 'wheel-gets-ahead', 'strong-since-empty'];
export const weakSigns: readonly SignId[] = ['will-not-draw-in', 'draws-in-weakly', 'yarn-slack', 'hands-drift-back', 'band-slips', 'weaker-as-it-fills'];

/** What was seen, with its strength, as the question names it. */
function readSigns(q: Readonly<Record<string, unknown>>, r: Reader): { seen: Map<Seen, number>; notSeen: Set<Seen> } {
  const seen = new Map<Seen, number>();
  const notSeen = new Set<Seen>();
  for (const [i, one] of (q['signs'] === undefined ? [] : (r.list(q['signs'], '/signs', mostSigns, 'signs') ?? [])).entries()) {
    const o = isObject(one) ? r.object(one, `/signs/${i}`, ['sign', 'strength']) : undefined;
    if (o !== undefined && o['sign'] === undefined) { r.missing(`/signs/${i}/sign`, 'The sign', 'such as will-not-draw-in; see /v1/signs'); continue; }
    const sign = r.choice(o === undefined ? one : o['sign'], o === undefined ? `/signs/${i}` : `/signs/${i}/sign`, signIds);
    const strength = o?.['strength'] === undefined ? 'plain' : r.choice(o['strength'], `/signs/${i}/strength`, strengths);
    if (sign !== undefined && strength !== undefined) seen.set(sign, Math.max(seen.get(sign) ?? 0, weights[strength]));
  }
  for (const [i, one] of (q['notSeen'] === undefined ? [] : (r.list(q['notSeen'], '/notSeen', 2 * mostSigns, 'signs') ?? [])).entries()) {
    const sign = r.choice(one, `/notSeen/${i}`, signIds);
    if (sign !== undefined && seen.has(sign)) r.fail(`/notSeen/${i}`, { code: 'one-of', detail: 'A sign is either seen or not.', received: sign, expected: 'in one of the two lists' });
    if (sign !== undefined) notSeen.add(sign);
  }
  for (const [i, one] of (q['habits'] === undefined ? [] : (r.list(q['habits'], '/habits', habitIds.length, 'habits') ?? [])).entries()) { const habit = r.choice(one, `/habits/${i}`, habitIds); if (habit !== undefined) seen.set(`habit/${habit}`, 1); }
  return { seen, notSeen };
}

export function diagnose(question: unknown, options: AnswerOptions, knowledge: Knowledge): Reply<DiagnosisResult> {
  const { causes: allCauses, contradictions } = knowledge;
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const { seen, notSeen } = readSigns(q, r);
  const asked: Asked = askedWheel(q, r);
  const changed = q['changed'] === undefined ? undefined : r.choice(q['changed'], '/changed', changeIds);
  const fill = q['fill'] === undefined ? undefined : r.choice(q['fill'], '/fill', fillIds);
  const steps = q['stepsTightened'] === undefined ? undefined : r.number(q['stepsTightened'], '/stepsTightened', { atLeast: 0, atMost: 1000, says: 'how many steps, from 0' });
  const { numbers, train } = measure(q, asked, fill, r, out);
  if (q['signs'] === undefined || (Array.isArray(q['signs']) && q['signs'].length === 0)) r.missing('/signs', 'At least one sign', 'a list of signs such as will-not-draw-in; see /v1/signs');
  r.done();
  if (changed !== undefined) seen.set(`changed/${changed}`, 1);
  if (fill !== undefined) seen.set(`fill/${fill}`, 1);

  const drive = train?.drive ?? asked.drive;
  const powered = drive === 'electric' || asked.wheel?.turnedBy === 'motor' || seen.has('motor-hot') || seen.has('motor-fades') || seen.has('bad-wire');
  const stopping = signs.filter((s) => s.danger === 'stop' && seen.has(s.id));
  if (stopping.length > 0 || asked.wheel?.condition === 'do-not-run') {
    out.caution(notes.stop);
    if (asked.wheel?.condition === 'do-not-run') out.caution(notes.doNotRun);
    if (powered) out.caution(notes.powered);
    out.caution(notes.clear);
    const dangerous = allCauses.filter((c) => c.acts === 'stop' && stopping.some((s) => likelihood(c, s.id) > 0.5));
    const share = dangerous.length === 0 ? 0 : 1 / dangerous.length;
    const result: DiagnosisResult = { verdict: 'stop', doFirst: ['Stop the wheel, and leave it standing. Everything else waits.'], causes: dangerous.map((cause) => told({ cause, share }, { seen, drive, stopTightening: true }, [], options, knowledge)), questions: [], contradictions: [], measures: [] };
    return reply(result, out, [shannon, gum], model, options);
  }

  if (seen.has('hands-hurt')) out.caution(notes.soreHands);
  if (powered) out.caution(notes.powered);
  const stopTightening = (steps !== undefined && extent(steps).low >= stepsInVain) || seen.has('tightening-changes-nothing');
  if (stopTightening) out.caution(notes.smallSteps);
  out.caution(notes.clear);
  out.assume(notes.common);
  out.assume(notes.oneCause);
  if (drive === undefined) out.assume(notes.driveOpen);
  if (asked.wheel === undefined) out.assume(notes.wheelOpen);

  const found = new Map(numbers.map((n) => [n.of, n.found]));
  const evidence: Evidence = { seen, notSeen, numbers: found, tightenedInVain: stopTightening };
  const possible = allCauses.filter((c) => c.acts !== 'stop' && (drive === undefined || c.drives === undefined || c.drives.includes(drive)));
  const ranked = rank(possible, evidence);
  const tooStrong = strongSigns.some((s) => seen.has(s)) && !weakSigns.some((s) => seen.has(s));
  const shown = inOrder(ranked.slice(0, mostCauses).filter((x, i) => i < 3 || x.share >= leastShare), tooStrong);
  const units = options.units ?? metric;
  const measures = numbers.map((n) => n.wire(units));
  const askable = signs.filter((s) => s.danger === undefined && !seen.has(s.id) && !notSeen.has(s.id)).map((s): Seen => s.id);
  const whatChanged = changed === undefined ? changeIds.map((c): Seen => `changed/${c}`) : [];
  const result: DiagnosisResult = {
    verdict: (ranked[0]?.share ?? 0) >= standsOut ? 'stands-out' : 'look-first',
    doFirst: firstSteps(shown, changed, stopTightening, tooStrong, seen),
    causes: shown.map((x) => told(x, { seen, drive, stopTightening }, measures, options, knowledge)),
    questions: questionsOf(ranked, [...askable, ...whatChanged]).map(({ sign, bits, ifYes, ifNo }): AskNext => ({ id: sign, asks: asks(sign), bits: wire('number', { value: bits }), ifYes: knowledge.words[ifYes.id]![0], ifNo: knowledge.words[ifNo.id]![0] })),
    contradictions: contradictionsOf(seen, found, drive, ranked, contradictions),
    measures,
  };
  return reply(result, out, [shannon, gum], model, options);
}

const asks = (sign: Seen): string => (sign.startsWith('changed/') ? `Was this changed last: ${changes[sign.slice(8) as Change]}?` : `Is it so? ${signOf(sign as SignId).says}.`);
const isSaid = (sign: Seen): string => (sign.startsWith('changed/') ? `Changed last: ${changes[sign.slice(8) as Change]}` : sign.startsWith('fill/') ? `The bobbin is ${fills[sign.slice(5) as Fill]}` : sign.startsWith('habit/') ? habits[sign.slice(6) as Habit] : signOf(sign as SignId).says);

/** Before any one cause: what holds for all of them. */
function firstSteps(shown: readonly Ranked<Cause>[], changed: Change | undefined, stopTightening: boolean, tooStrong: boolean, seen: ReadonlyMap<Seen, number>): string[] {
  const lines = ['Touch nothing yet: look, and change one thing at a time.'];
  if (changed !== undefined) lines.push(`Begin with what was changed last: ${changes[changed]}. If it can be put back as it was, do that first and see.`);
  if (stopTightening) lines.push('Stop tightening, and go back to where you began. What three small steps do not mend, tension does not mend.');
  else if (tooStrong) lines.push('Slacken before you tighten anything.');
  else if (shown.some((x) => x.cause.acts === 'tighten')) lines.push('Look for caught yarn, the leader and the hooks before you touch any tension.');
  if (seen.has('hands-hurt')) lines.push('Stop spinning for today.');
  return lines;
}

interface Case { readonly seen: ReadonlyMap<Seen, number>; readonly drive: Drive | undefined; readonly stopTightening: boolean }
const noFurther = 'Do not tighten any further. Go back to the setting at which you began, and look for another cause.';
function told({ cause, share }: Ranked<Cause>, c: Case, measures: readonly QuantityAnswer[], options: AnswerOptions, { words, cautions }: Knowledge): CauseAnswer {
  const [name, why, checkFirst, advice] = words[cause.id]!;
  const quantity = cause.quantity === undefined ? undefined : measures.find((m) => m.of === cause.quantity![0]);
  const remedy = typeof advice === 'string' ? advice : ((c.drive === undefined ? undefined : advice[c.drive]) ?? advice.any);
  const acts: Record<Acts, CauseAnswer['tension']> = { loosen: 'loosen', tighten: 'tighten', look: 'leave', stop: 'leave', other: 'leave' };
  return {
    id: cause.id, name, fit: wire('share', { value: share }, options.units), cautions: cause.cautions.map((x) => ({ ...notes.sharedCautions, ...cautions })[x].text), why, checkFirst,
    tryNext: cause.acts === 'tighten' && c.stopTightening ? noFurther : remedy, ...(quantity === undefined ? {} : { quantity }), tension: cause.acts === 'tighten' && c.stopTightening ? 'leave' : acts[cause.acts], technicianOnly: cause.technicianOnly === true,
    explains: [...c.seen.keys()].filter((s) => cause.seen.has(s)).map(isSaid), notExplained: [...c.seen.keys()].filter((s) => !cause.seen.has(s) && !s.includes('/')).map(isSaid),
  };
}
