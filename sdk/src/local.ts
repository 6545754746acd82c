/** What offline answers share: options as the service reads them, flat text as links carry it, refusals as the service words them. */
import type { AnswerOptions, Reply } from '../../services/calculations/calculation.js';
import { placeOf, type FieldSet } from '../../services/foundation/fields.js';
import { problemOf, ProblemError, type Issue } from '../../services/foundation/problems.js';
import { nearest, shown } from '../../services/foundation/read.js';
import { readUnitChoice } from '../../services/foundation/unit-choice.js';
import { ProblemReply } from './errors.js';
import type { OfflineArgs } from './options.js';

type Answer<T> = (question: unknown, options: AnswerOptions) => T;

/** A calculation as the command needs it. */
export interface Command { readonly id: string; readonly title: string; readonly summary: string; readonly fields: FieldSet; readonly answer: Answer<Reply<unknown>>; readonly example: string }

/** Throws what the service would answer with, as the same error. */
export function settle<T>(answer: () => T): T {
  try {
    return answer();
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    throw new ProblemReply({ status: error.status, headers: {}, requestId: undefined }, error.document());
  }
}

export function optionsOf(args: OfflineArgs = {}): AnswerOptions {
  const issues: Issue[] = [];
  const options = readOptions(args, issues);
  if (issues.length > 0) throw problemOf(issues);
  return options;
}
function readOptions({ units, strict }: OfflineArgs, issues: Issue[]): AnswerOptions {
  const choice = units === undefined ? undefined : readUnitChoice(units);
  if (choice !== undefined && !('system' in choice)) issues.push(...choice.map((refused) => ({ parameter: 'units', ...refused })));
  return { ...(choice !== undefined && 'system' in choice ? { units: choice } : {}), ...(strict === true ? { strict } : {}) };
}

/** The answer to flat text. Issues name the argument that they came from. */
export function byLink<T>(fields: FieldSet, args: object, answer: Answer<T>): T {
  const issues: Issue[] = [];
  const names = [...fields.list.map((field) => field.name), 'units', 'strict'];
  const flat: Record<string, readonly string[]> = {};
  for (const [name, value] of Object.entries(args) as [string, string | readonly string[] | undefined][]) {
    if (value === undefined || name === 'units' || name === 'strict') continue;
    const values = typeof value === 'string' ? [value] : Array.isArray(value) ? (value as readonly string[]) : [String(value)];
    if (!names.includes(name)) {
      const near = nearest(name, names);
      issues.push({ parameter: shown(name), code: 'unknown-field', detail: `“${shown(name)}” is not known here.${near === undefined ? '' : ` Is “${near}” meant?`}`, received: shown(name), expected: near ?? `one of ${names.join(', ')}`, ...(near === undefined ? {} : { try: near }) });
    } else if (values.length > 1 && fields.list.find((field) => field.name === name)?.repeats !== true) {
      issues.push({ parameter: name, code: 'repeated-field', detail: `“${name}” is taken once.`, received: shown(values.join(', ')), expected: 'one value' });
    } else if (values.length > 0) flat[name] = values;
  }
  const options = readOptions(args as OfflineArgs, issues);
  const { question, places, issues: more } = fields.toQuestion(flat);
  issues.push(...more);
  try {
    const answered = answer(question, options);
    if (issues.length === 0) return answered;
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    const located = error.issues.map(({ pointer, ...rest }): Issue => {
      const parameter = pointer === undefined ? undefined : placeOf(places, pointer);
      return parameter === undefined ? { ...(pointer === undefined || pointer === '' ? {} : { pointer }), ...rest } : { parameter, ...rest };
    });
    if (issues.length === 0) throw new ProblemError(error.code, error.message, { issues: located });
    issues.push(...located.filter((issue) => issue.code !== 'missing-field'));
  }
  throw problemOf(issues);
}
