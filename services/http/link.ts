/** A question asked by a link: flat text to a question, and what is wrong back to the parameter it came from, with the link mended. */
import type { AnswerOptions } from '../calculations/calculation.js';
import type { FieldSet } from '../foundation/fields.js';
import { mostIssues, problemOf, ProblemError, type Issue } from '../foundation/problems.js';
import type { UnitChoice } from '../foundation/quantity.js';
import { shown } from '../foundation/read.js';
import { readUnitChoice } from '../foundation/unit-choice.js';
import { queryIssues, queryText, type Query } from './query.js';

export const optionNames = ['units', 'strict'] as const;

const choices = new Map<string, UnitChoice>();
/** How the answer is wanted; what cannot be read is added to `issues`. */
export function optionsOf(query: Query, issues: Issue[]): AnswerOptions {
  const options: { units?: UnitChoice; strict?: boolean } = {};
  const units = query['units']?.[0];
  if (units !== undefined) {
    const choice = choices.get(units) ?? readUnitChoice(units);
    if (Array.isArray(choice)) for (const refused of choice as Omit<Issue, 'parameter'>[]) issues.push({ parameter: 'units', ...refused });
    else {
      options.units = choice as UnitChoice;
      if (choices.size < 100) choices.set(units, options.units);
    }
  }
  const strict = query['strict']?.[0];
  if (strict === 'true') options.strict = true;
  else if (strict !== undefined && strict !== 'false') issues.push({ parameter: 'strict', code: 'unknown-choice', detail: '“strict” is true or false.', received: shown(strict), expected: 'true or false' });
  return options;
}

/** Options of a request whose question is in its body. Throws when the query holds anything else. */
export function readOptions(query: Query): AnswerOptions {
  const issues = queryIssues(query, optionNames);
  const options = optionsOf(query, issues);
  if (issues.length > 0) throw problemOf(issues);
  return options;
}

export interface LinkDoor {
  readonly fields: FieldSet;
  /** The parameters that this address takes. */
  readonly names: readonly string[];
  readonly repeats: (name: string) => boolean;
}

export function linkDoor(fields: FieldSet, withWheel: boolean): LinkDoor {
  const list = withWheel ? fields.list : fields.list.filter((f) => f.ofWheel !== true);
  const many = new Set(list.filter((f) => f.repeats === true).map((f) => f.name));
  return { fields, names: [...list.map((f) => f.name), ...optionNames], repeats: (name) => many.has(name) };
}

/**
 * Puts the question of a link to `answer`. Whatever is wrong, in the names of the parameters or in the question, comes
 * back as one problem whose issues name parameters and offer the whole link, mended.
 */
export function askByLink<T>(door: LinkDoor, path: string, query: Query, wheel: unknown, answer: (question: unknown, options: AnswerOptions) => T): T;
export function askByLink<T>(door: LinkDoor, path: string, query: Query, wheel: unknown, answer: (question: unknown, options: AnswerOptions) => T | Promise<T>): T | Promise<T>;
export function askByLink<T>(door: LinkDoor, path: string, query: Query, wheel: unknown, answer: (question: unknown, options: AnswerOptions) => T | Promise<T>): T | Promise<T> {
  const issues = queryIssues(query, door.names, door.repeats);
  const options = optionsOf(query, issues);
  const flat: Record<string, readonly string[]> = {};
  for (const name of door.names) {
    const values = query[name];
    if (values !== undefined && name !== 'units' && name !== 'strict') flat[name] = values;
  }
  const { question, places, issues: more } = door.fields.toQuestion(flat);
  issues.push(...more);
  if (wheel !== undefined) question['wheel'] = wheel;
  const whole = (answered: T): T => {
    if (issues.length === 0) return answered;
    throw problemOf(mend(path, query, issues));
  };
  const failed = (error: unknown): never => {
    if (!(error instanceof ProblemError)) throw error;
    const located = error.issues.map((issue) => locate(issue, places, door.names));
    if (issues.length === 0) throw new ProblemError(error.code, error.message, { issues: mend(path, query, located), headers: error.headers });
    // A misspelt name is why something is missing; saying both would mislead.
    issues.push(...located.filter((issue) => issue.code !== 'missing-field'));
    throw problemOf(mend(path, query, issues));
  };
  let answered: T | Promise<T>;
  try {
    answered = answer(question, options);
  } catch (error) {
    return failed(error);
  }
  return answered instanceof Promise ? answered.then(whole, failed) : whole(answered);
}

/** Refuses names that are wrong, before anything is fetched for the question. */
export function checkNames(door: LinkDoor, path: string, query: Query): void {
  const issues = queryIssues(query, door.names, door.repeats);
  if (issues.length > 0) throw problemOf(mend(path, query, issues));
}

/** The issue with the parameter that its pointer came from, when this address takes it. */
function locate(issue: Issue, places: ReadonlyMap<string, string>, names: readonly string[]): Issue {
  const { pointer, ...rest } = issue;
  if (pointer === undefined) return issue;
  for (let at = pointer; at !== ''; at = at.slice(0, at.lastIndexOf('/'))) {
    const parameter = places.get(at);
    if (parameter !== undefined && names.includes(parameter)) return { parameter, ...rest };
  }
  return pointer === '' ? rest : issue;
}

/** Turns every suggestion into the one link in which all of them are followed; drops what is said twice. */
function mend(path: string, query: Query, issues: readonly Issue[]): Issue[] {
  const link: Record<string, string[]> = Object.create(null) as Record<string, string[]>;
  for (const name in query) link[name] = [...query[name]!];
  const said = new Set<string>();
  const kept: Issue[] = [];
  const mended: Issue[] = [];
  for (const issue of issues) {
    const key = `${issue.parameter ?? issue.pointer}\n${issue.code}\n${issue.received}\n${issue.detail}`;
    if (said.has(key)) continue;
    said.add(key);
    kept.push(issue);
    if (issue.try !== undefined && issue.parameter !== undefined && follow(link, issue)) mended.push(issue);
    if (kept.length === mostIssues) break;
  }
  const text = `${path}?${queryText(link)}`;
  return kept.map((issue) => (mended.includes(issue) ? { ...issue, try: text } : issue));
}

function follow(link: Record<string, string[]>, issue: Issue): boolean {
  const name = issue.parameter!;
  const values = link[name];
  if (values === undefined) return false;
  if (issue.code === 'unknown-field') {
    delete link[name];
    link[issue.try!] = [...(link[issue.try!] ?? []), ...values];
    return true;
  }
  const index = values.findIndex((value) => value === issue.received || shown(value) === issue.received || value.trim() === issue.received);
  const at = index >= 0 ? index : values.length === 1 && issue.code !== 'repeated-field' ? 0 : -1;
  if (at < 0) return false;
  values[at] = name === 'units' && index < 0 ? values[at]!.replace(issue.received ?? values[at]!, issue.try!) : issue.try!;
  return true;
}
