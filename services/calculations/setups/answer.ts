/** Set-ups: from a yarn that is wanted to what to set at the wheel, ranked, and the ply after. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric, type UnitChoice } from '../../foundation/quantity.js';
import { ProblemError, type Issue } from '../../foundation/problems.js';
import { isObject, Reader, shown } from '../../foundation/read.js';
import { extent, isPoint, wire, type Q, type R } from '../../foundation/reading.js';
import { gum, kleinTwist } from '../../foundation/sources.js';
import type { Staple } from '../../reference/twists.js';
import type { Preparation, Wrapping } from '../../reference/wraps.js';
import { readWheel, type QIn, type RIn, type Wheel, type WheelRead } from '../../wheels/profile.js';
import * as words from '../../wheels/words.js';
import type { BagTest } from '../bag-test.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import { dutyTaken } from '../plan/notes.js';
import type { Direction } from '../ply/strands.js';
import * as ratioNotes from '../ratio/notes.js';
import { missingWheel } from '../ratio/train.js';
import { reply } from '../reply.js';
import { woundMass } from '../take-up/formula.js';
import { smallSteps, soreHands } from '../tension/notes.js';
import { better, candidatesOf, type Candidate } from './enumerate.js';
import { toMake } from './make.js';
import { withMatch, type Match } from './match.js';
import * as notes from './notes.js';
import { betterPly, plySetups, type PlySetup } from './plying.js';
import { rowOf, type SetupRow } from './row.js';
import { readSpinner, type DraftingStyle, type Spinner } from './spinner.js';
import { readTarget, type Target, type YarnUse } from './target.js';

export interface SetupsQuestion {
  wheel?: Wheel; wheelId?: string; wheels?: { wheelId?: string; wheel: Wheel }[]; wheelIds?: string[]; library?: LibrarySearch; best?: Best; match?: Match; wanted?: RIn[]; drive?: words.Drive; grist?: QIn; wraps?: QIn; wrapping?: Wrapping; plies?: RIn; twist?: QIn; angle?: QIn; use?: YarnUse; plyTwist?: QIn; direction?: Direction; lengthLost?: QIn;
  fibre?: string; staple?: Staple; preparation?: Preparation; treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; draftingStyle?: DraftingStyle; pull?: QIn; pullBorne?: QIn; hookFactor?: RIn; bagTest?: BagTest; duty?: QIn; packageDensity?: QIn; plyDraw?: QIn;
}
/** Wheels of the library: the public ones, or the guild's own, narrowed. */
export interface LibrarySearch { of?: 'public' | 'guild'; name?: string; style?: words.Style; drive?: words.Drive }
export const bests = ['of-all', 'of-each-wheel'] as const;
export type Best = (typeof bests)[number];
export interface ToMake { wheel: string; drive: words.Drive; ratio: R; grooveDiameter?: Q }
export interface SetupsResult {
  yarn: { plies: number; strandGrist: Q; strandTwist: Q; direction: Direction; diameter: Q; pliedGrist?: Q; plyTwist?: Q; plyDirection?: Direction };
  setups: SetupRow[]; considered: number; fitting: number; toMake?: ToMake[]; ply?: PlySetup[]; blocked?: { wheel: string; wheelId?: string; condition: words.Condition }[]; leftOut?: { wheel: string; wheelId?: string; why: string }[]; more?: number;
}
export const model = { id: 'setups', version: '1.1.0' } as const;
const names = ['wheel', 'wheelId', 'wheels', 'wheelIds', 'library', 'best', 'match', 'wanted', 'drive', 'grist', 'wraps', 'wrapping', 'plies', 'twist', 'angle', 'use', 'plyTwist', 'direction', 'lengthLost', 'fibre', 'staple', 'preparation', 'treadling', 'counted', 'draftLength', 'draftingStyle', 'pull', 'pullBorne', 'hookFactor', 'bagTest', 'duty', 'packageDensity', 'plyDraw'] as const;
/** As many as a person compares. */
const mostShown = 5;
const mostPly = 3;
/** Wheels of one question, set-ups that are looked at, and wheels on one sheet: more would hold up everybody else, or not go on a page. */
export const mostWheels = 500;
const mostLookedAt = 5000;
const mostOnSheet = 30;

export interface OneWheel { readonly name: string; readonly id?: string; readonly profile: unknown; readonly read: WheelRead; readonly drives: readonly (words.Drive | undefined)[]; /** The only one asked about. */ readonly alone: boolean }

export function answer(question: unknown, options: AnswerOptions = {}): Reply<SetupsResult> {
  const out = new Notes();
  const r = new Reader(out);
  const whole = r.object(question, '', names) ?? {};
  const units = options.units ?? metric;
  const wheels = readWheels(whole, r);
  const best = whole['best'] === undefined ? 'of-all' : (r.choice(whole['best'], '/best', bests) ?? 'of-all');
  const q = withMatch(whole, r, out);
  if (r.issues.length > 0 && whole['match'] !== undefined) r.done();
  const target = readTarget(q, r, out);
  if (target === undefined) { r.done(); throw new Error('unreachable: a question without a yarn is refused'); }
  r.done();
  const spinner = readSpinner(q, target, r, out);
  const plyDraw = q['plyDraw'] === undefined ? undefined : r.quantity(q['plyDraw'], '/plyDraw', 'part', { moreThan: 1e-2, atMost: 20 });
  if (q['packageDensity'] !== undefined) r.quantity(q['packageDensity'], '/packageDensity', 'density', { moreThan: 20, atMost: 2000, says: 'from 20 to 2000 kg/m3' });
  r.done();
  out.caution(notes.beforeYouSpin);

  const result: SetupsResult = { yarn: yarnOf(target, units), setups: [], considered: 0, fitting: 0 };
  const blocked = wheels.filter((w) => w.read.condition === 'do-not-run');
  if (blocked.length > 0) { result.blocked = blocked.map((w) => ({ ...called(w), condition: 'do-not-run' })); out.caution(ratioNotes.doNotRun); }
  const usable = wheels.filter((w) => w.read.condition !== 'do-not-run');
  const found = everySetup(usable, target, spinner, q, result, out).sort((a, b) => better(a.c, b.c, target.fine));
  result.considered = found.length;
  result.fitting = found.filter(({ c }) => c.rooms.every((x) => x >= 1 - 1e-9)).length;
  const listed = best === 'of-all' ? found : [...new Map(found.toReversed().map((x) => [x.w, x])).values()].sort((a, b) => better(a.c, b.c, target.fine));
  const page = listed.slice(0, best === 'of-all' ? mostShown : mostOnSheet);
  if (best === 'of-each-wheel' && listed.length > page.length) result.more = listed.length - page.length;
  result.setups = page.map(({ c, w }) => rowOf(c, w, target.strand, spinner, out, units));
  say(result, usable, spinner, out);
  const make = toMake(found[0], usable, target, spinner, q['wanted'], units);
  if (make.length > 0) result.toMake = make;
  if (target.plied !== undefined && usable.length > 0) result.ply = plying(best === 'of-all' && usable.length > 1 ? page.map((x) => x.w).filter((w, i, all) => all.indexOf(w) === i) : usable.slice(0, mostOnSheet), target, found[0], plyDraw, best, out, units);
  if ([target.strand.grist, target.strand.twist].every((x) => isPoint(x) && x.u === undefined) && found.every(({ c }) => !c.s.train.knowns.hasUncertainty)) out.warn(noUncertainty);
  return reply(result, out, [kleinTwist, gum], model, options);
}
const called = (w: OneWheel): { wheel: string; wheelId?: string } => ({ wheel: w.name, ...(w.id === undefined ? {} : { wheelId: w.id }) });

/** Of one wheel what is missing is said as a problem; of several the wheel is left out, and why is said. */
function everySetup(usable: readonly OneWheel[], target: Target, spinner: Spinner, q: Readonly<Record<string, unknown>>, result: SetupsResult, out: Notes): { c: Candidate; w: OneWheel }[] {
  const list: { c: Candidate; w: OneWheel }[] = [];
  for (const w of usable) {
    try {
      for (const c of ofWheel(w, target, spinner, out, q['packageDensity'])) list.push({ c, w });
    } catch (error) {
      if (!(error instanceof ProblemError) || w.alone) throw error;
      (result.leftOut ??= []).push({ ...called(w), why: [...new Set(error.issues.map((i) => i.detail))].join(' ') });
      out.warn(notes.wheelsLeftOut);
    }
    if (list.length > mostLookedAt) throw new ProblemError('too-many', undefined, { issues: [{ pointer: q['library'] === undefined ? '/wheels' : '/library', code: 'too-many', detail: `These wheels have more than ${mostLookedAt} set-ups between them.`, received: `${usable.length} wheels`, expected: 'fewer wheels: narrow them by drive, style or name' }] });
  }
  return list;
}

function say(result: SetupsResult, usable: readonly OneWheel[], spinner: Spinner, out: Notes): void {
  if (result.setups.length === 0) return;
  out.caution(soreHands);
  out.caution(smallSteps);
  if (result.setups.some((s) => extent(asReading(s.flyerSpeed)).high > 1500)) out.caution(ratioNotes.fastFlyer);
  if (result.setups.some((s) => s.drive === 'electric') || usable.some((w) => w.read.turnedBy === 'motor')) out.caution(ratioNotes.powered);
  if (new Set(result.setups.map((s) => s.whorl)).size > 1) out.caution(ratioNotes.leftHandThread);
  out.assume(notes.roomExplained);
  if (spinner.duty === undefined) out.assume(dutyTaken);
  if (result.setups.some((s) => s.drive === 'bobbin-lead')) out.assume(notes.lapsAtHalf);
  if (result.setups.some((s) => s.limits.some((l) => l.limit === 'orifice'))) out.assume(notes.orificeTaken);
  if (result.fitting === 0) out.warn(notes.nothingFits);
}
const asReading = (q: Q) => ('value' in q ? { value: q.value, u: (q.plusMinus ?? 0) / 2 } : q);

function yarnOf(t: Target, units: UnitChoice): SetupsResult['yarn'] {
  return {
    plies: t.plies, strandGrist: wire('grist', t.strand.grist, units), strandTwist: wire('twist', t.strand.twist, units), direction: t.strand.direction, diameter: wire('part', t.strand.diameter, units),
    ...(t.plied === undefined ? {} : { pliedGrist: wire('grist', t.plied.grist, units), plyTwist: wire('twist', t.plied.twist, units), plyDirection: t.plied.direction }),
  };
}

function readWheels(q: Readonly<Record<string, unknown>>, r: Reader): OneWheel[] {
  const drive = q['drive'] === undefined ? undefined : r.choice(q['drive'], '/drive', words.drives, words.driveAliases);
  for (const key of ['wheelId', 'wheelIds', 'library'] as const) {
    if (q[key] !== undefined) r.fail(`/${key}`, { code: 'wheel-not-found', detail: 'Wheels are named by id, or searched for, only where the library can be asked.', received: shown(q[key]), expected: key === 'wheelId' ? 'the wheel itself, as wheel' : 'the wheels themselves, as wheels' });
  }
  if (q['wheel'] !== undefined && q['wheels'] !== undefined) r.fail('/wheels', { code: 'one-of', detail: 'One wheel was given, and several.', received: 'wheel, wheels', expected: 'one of them' });
  const one = (value: unknown, at: string, id: string | undefined, alone: boolean): OneWheel[] => {
    const read = readWheel(alone ? r : new Reader(), value, at);
    const drives = read === undefined ? [] : drive !== undefined ? [drive] : read.modes.length > 0 ? [...new Set(read.modes.map((m) => m.drive))] : [undefined];
    return read === undefined ? [] : [{ name: read.name ?? id ?? 'this wheel', ...(id === undefined ? {} : { id }), profile: value, read, drives, alone }];
  };
  if (q['wheels'] !== undefined) {
    return (r.list(q['wheels'], '/wheels', mostWheels, 'wheels') ?? []).flatMap((v, i) => {
      const o = r.object(v, `/wheels/${i}`, ['wheelId', 'wheel']);
      if (o === undefined) return [];
      if (o['wheel'] === undefined) return r.missing(`/wheels/${i}/wheel`, 'The wheel', '{"driveWheel": …}') ?? [];
      const id = o['wheelId'] === undefined ? undefined : r.text(o['wheelId'], `/wheels/${i}/wheelId`, 80);
      if (!isObject(o['wheel'])) { r.wrongType(`/wheels/${i}/wheel`, o['wheel'], 'an object'); return []; }
      return one(o['wheel'], '/wheel', id, false);
    });
  }
  if (q['wheel'] === undefined) { if (r.issues.length === 0) missingWheel(r); return []; }
  return one(q['wheel'], '/wheel', undefined, true);
}

/** Every way to run it. A way that lacks a measure is left out, unless all do: then what is missing is said. */
function ofWheel(w: OneWheel, target: Target, spinner: Spinner, out: Notes, density: unknown): Candidate[] {
  const issues: Issue[] = [];
  let problem: ProblemError | undefined;
  const list = w.drives.flatMap((drive) => {
    try {
      return candidatesOf(w.profile, drive, target.strand, spinner, out, density);
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      problem ??= error;
      issues.push(...error.issues);
      return [];
    }
  });
  if (list.length === 0 && problem !== undefined) throw new ProblemError(problem.code, problem.message, { issues });
  return list;
}

function plying(wheels: readonly OneWheel[], target: Target, best: { c: Candidate } | undefined, asked: ReturnType<Reader['quantity']>, of: Best, out: Notes, units: UnitChoice): PlySetup[] {
  if (asked === undefined) out.assume(notes.plyDrawTaken);
  const draw = asked ?? { value: 0.6 };
  // As much as full bobbins of the strands come to.
  const capacity = best === undefined || best.c.drive === 'spindle' ? undefined : rowCapacity(best.c);
  if (capacity !== undefined) out.assume(notes.plyOnOneBobbin);
  const mass = capacity === undefined ? undefined : { value: capacity * target.plies };
  const ranked = wheels.flatMap((w) => w.drives.flatMap((drive) => {
    try {
      return plySetups(w, drive, target.plied!, draw, mass, out, units);
    } catch (error) {
      if (error instanceof ProblemError) return [];
      throw error;
    }
  })).sort(betterPly).map((x) => x.row);
  return of === 'of-all' ? ranked.slice(0, mostPly) : [...new Map(ranked.toReversed().map((row) => [row.wheelId ?? row.wheel, row])).values()].toReversed().slice(0, mostOnSheet);
}
const rowCapacity = (c: Candidate): number => {
  const { core, full, width } = c.pair.pack;
  const k = c.s.train.knowns;
  const [a, d, w, rho] = [core, full, width, c.s.density].map((e) => k.centre(e));
  return woundMass({ core: a!, diameter: d!, width: w!, density: rho! });
};
