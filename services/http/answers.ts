/** An answer as bytes, about a wheel of the library too. For the doors, and for the threads that answer long questions. */
import type { AnswerOptions, Calculation, Reply } from '../calculations/calculation.js';
import { refuseWarnings } from '../calculations/reply.js';
import type { Assumption } from '../foundation/notes.js';
import { isObject } from '../foundation/read.js';
import { birge } from '../foundation/sources.js';
import { serializeReply } from './serialize.js';

export interface FoundWheel {
  readonly profile: unknown;
  readonly isPublic: boolean;
  /** What was measured beside the profile: goes into a question that takes it and says nothing of it. */
  readonly given?: Readonly<Record<string, unknown>>;
  /** How the profile was put together from what was measured: stands first in every answer. */
  readonly notes?: Pick<Reply<unknown>, 'assumptions' | 'warnings'>;
}

export const answerText = (calculation: Calculation, question: unknown, options: AnswerOptions, wheel?: FoundWheel): string => serializeReply(answerAbout(calculation, question, options, wheel));

/** The answer, with what is to be said of the library's wheel before it. */
function answerAbout(calculation: Calculation, question: unknown, options: AnswerOptions, wheel: FoundWheel | undefined): Reply<unknown> {
  const { assumptions = [], warnings = [] } = wheel?.notes ?? {};
  if (assumptions.length + warnings.length === 0) return calculation.answer(question, options);
  if (options.strict === true && warnings.length > 0) refuseWarnings(warnings);
  const reply = calculation.answer(question, options);
  const sources = reply.sources.some((s) => s.id === birge.id) ? reply.sources : [...reply.sources, birge];
  return { ...reply, sources, assumptions: [...assumptions, ...taken(calculation, question, wheel), ...reply.assumptions], warnings: [...warnings, ...reply.warnings] };
}
const takenOf: Readonly<Record<string, string>> = { drag: 'The drag of the flyer was taken from its coast-down.', hookFactor: 'What orifice and hooks multiply a pull by was taken from the bag tests of this wheel.' };
const taken = (calculation: Calculation, question: unknown, wheel: FoundWheel | undefined): Assumption[] =>
  Object.entries(wheel?.given ?? {}).flatMap(([name, value]) => (isObject(question) && question[name] === value && takes(calculation, name) ? [{ code: `measured-${name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}`, text: takenOf[name] ?? `${name} was taken from what was measured.` }] : []));
const takes = (calculation: Calculation, name: string): boolean => calculation.fields.list.some((f) => f.name === name);
/** The question about this wheel, with what was measured of it where the question takes that and says nothing of it. */
export function about(calculation: Calculation, question: Record<string, unknown>, wheel: FoundWheel): Record<string, unknown> {
  const whole = { ...question, wheel: wheel.profile };
  // A bag test in the question measures the hooks anew.
  for (const [name, value] of Object.entries(wheel.given ?? {})) if (takes(calculation, name) && whole[name as keyof typeof whole] === undefined && !(name === 'hookFactor' && question['bagTest'] !== undefined)) Object.assign(whole, { [name]: value });
  return whole;
}

