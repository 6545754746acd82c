/** Set-ups: from a yarn that is wanted to what to set at the wheel, ranked, and the ply after. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric, type UnitChoice } from '../../foundation/quantity.js';
import { ProblemError, type Issue } from '../../foundation/problems.js';
import { Reader } from '../../foundation/read.js';
import { extent, isPoint, wire, type Q } from '../../foundation/reading.js';
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
import * as notes from './notes.js';
import { betterPly, plySetups, type PlySetup } from './plying.js';
import { rowOf, type SetupRow } from './row.js';
import { readSpinner, type DraftingStyle, type Spinner } from './spinner.js';
import { readTarget, type Target, type YarnUse } from './target.js';

export interface SetupsQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; grist?: QIn; wraps?: QIn; wrapping?: Wrapping; plies?: RIn; twist?: QIn; angle?: QIn; use?: YarnUse; plyTwist?: QIn; direction?: Direction; lengthLost?: QIn;
  fibre?: string; staple?: Staple; preparation?: Preparation; treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; draftingStyle?: DraftingStyle; pull?: QIn; pullBorne?: QIn; hookFactor?: RIn; bagTest?: BagTest; duty?: QIn; packageDensity?: QIn; plyDraw?: QIn;
}
export interface SetupsResult {
  yarn: { plies: number; strandGrist: Q; strandTwist: Q; direction: Direction; diameter: Q; pliedGrist?: Q; plyTwist?: Q; plyDirection?: Direction };
  setups: SetupRow[]; considered: number; fitting: number; ply?: PlySetup[]; blocked?: { wheel: string; condition: words.Condition }[];
}
export const model = { id: 'setups', version: '1.0.0' } as const;
const names = ['wheel', 'wheelId', 'drive', 'grist', 'wraps', 'wrapping', 'plies', 'twist', 'angle', 'use', 'plyTwist', 'direction', 'lengthLost', 'fibre', 'staple', 'preparation', 'treadling', 'counted', 'draftLength', 'draftingStyle', 'pull', 'pullBorne', 'hookFactor', 'bagTest', 'duty', 'packageDensity', 'plyDraw'] as const;
/** As many as a person compares. */
const mostShown = 5;
const mostPly = 3;

interface OneWheel { readonly name: string; readonly id?: string; readonly profile: unknown; readonly read: WheelRead; readonly drives: readonly (words.Drive | undefined)[] }

export function answer(question: unknown, options: AnswerOptions = {}): Reply<SetupsResult> {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const units = options.units ?? metric;
  const wheels = readWheels(q, r);
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
  if (blocked.length > 0) { result.blocked = blocked.map((w) => ({ wheel: w.name, condition: 'do-not-run' })); out.caution(ratioNotes.doNotRun); }
  const usable = wheels.filter((w) => w.read.condition !== 'do-not-run');
  const found = usable.flatMap((w) => ofWheel(w, target, spinner, out, q['packageDensity']).map((c) => ({ c, w })));
  found.sort((a, b) => better(a.c, b.c, target.fine));
  result.considered = found.length;
  const fits = (c: Candidate): boolean => c.rooms.every((x) => x >= 1 - 1e-9);
  result.fitting = found.filter(({ c }) => fits(c)).length;
  result.setups = found.slice(0, mostShown).map(({ c, w }) => rowOf(c, w, target.strand, spinner, out, units));
  say(result, usable, spinner, out);
  if (target.plied !== undefined && usable.length > 0) result.ply = plying(usable, target, found[0], plyDraw, out, units);
  // Widths of a target count as known: they were given, or follow from what was.
  if ([target.strand.grist, target.strand.twist].every((x) => isPoint(x) && x.u === undefined) && found.every(({ c }) => !c.s.train.knowns.hasUncertainty)) out.warn(noUncertainty);
  return reply(result, out, [kleinTwist, gum], model, options);
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
  if (q['wheelId'] !== undefined) r.fail('/wheelId', { code: 'wheel-not-found', detail: 'A wheel is named by its id only where the library can be asked.', received: typeof q['wheelId'] === 'string' ? q['wheelId'].slice(0, 80) : 'no text', expected: 'the wheel itself, as wheel' });
  if (q['wheel'] === undefined) { if (q['wheelId'] === undefined) missingWheel(r); return []; }
  const read = readWheel(r, q['wheel'], '/wheel');
  return read === undefined ? [] : [{ name: read.name ?? 'this wheel', profile: q['wheel'], read, drives: drive !== undefined ? [drive] : read.modes.length > 0 ? [...new Set(read.modes.map((m) => m.drive))] : [undefined] }];
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

function plying(wheels: readonly OneWheel[], target: Target, best: { c: Candidate } | undefined, asked: ReturnType<Reader['quantity']>, out: Notes, units: UnitChoice): PlySetup[] {
  if (asked === undefined) out.assume(notes.plyDrawTaken);
  const draw = asked ?? { value: 0.6 };
  // As much as full bobbins of the strands come to.
  const capacity = best === undefined || best.c.drive === 'spindle' ? undefined : rowCapacity(best.c);
  if (capacity !== undefined) out.assume(notes.plyOnOneBobbin);
  const mass = capacity === undefined ? undefined : { value: capacity * target.plies };
  return wheels.flatMap((w) => w.drives.flatMap((drive) => {
    try {
      return plySetups(w, drive, target.plied!, draw, mass, out, units);
    } catch (error) {
      if (error instanceof ProblemError) return [];
      throw error;
    }
  })).sort(betterPly).slice(0, mostPly).map((x) => x.row);
}
const rowCapacity = (c: Candidate): number => {
  const { core, full, width } = c.pair.pack;
  const k = c.s.train.knowns;
  const [a, d, w, rho] = [core, full, width, c.s.density].map((e) => k.centre(e));
  return woundMass({ core: a!, diameter: d!, width: w!, density: rho! });
};
