/**
 * Wheels as rows of a table, and back, losing nothing. A column is a place of the profile, parts counted from 1:
 * `whorls.1.grooveDiameter`. A cell is text as it was posted, or JSON where it is more than text. A part that does not fit
 * its columns stands whole, as JSON, in the column that bears its name alone. Pure.
 */
import { isDeepStrictEqual } from 'node:util';
import { ProblemError, type Issue } from '../foundation/problems.js';
import { isObject, nearest, shown } from '../foundation/read.js';
import type { Wheel } from '../wheels/profile.js';

/** What the library says of a wheel; it is told, and not taken back. */
export const told = ['id', 'revision', 'guild', 'createdAt', 'updatedAt', 'forkedFrom.id', 'forkedFrom.revision'] as const;
const alone = ['name', 'style', 'condition', 'turnedBy', 'wheelIs'] as const;
const count = (n: number, part: string, names: readonly string[]): string[] => Array.from({ length: n }, (_, i) => names.map((name) => `${part}.${i + 1}.${name}`)).flat();
const measures = ['grooveDiameter', 'grooveCircumference', 'bandTurn'] as const;
/** The columns of each part that holds others. What is measured more seldom goes with the whole part. */
const partColumns: Readonly<Record<string, readonly string[]>> = {
  driveWheel: measures.map((name) => `driveWheel.${name}`),
  stages: [],
  modes: count(3, 'modes', ['drive', 'band.thickness', 'band.material', 'brake.on']),
  whorls: count(6, 'whorls', ['name', ...measures, 'statedRatio']),
  bobbins: count(4, 'bobbins', ['name', 'grooves.1.grooveDiameter', 'grooves.2.grooveDiameter', 'coreDiameter', 'endDiameter', 'fullDiameter', 'lengthBetweenEnds', 'mass']),
  flyers: count(2, 'flyers', ['name', 'orificeDiameter']),
  axleToFlyer: ['axleToFlyer.nearest', 'axleToFlyer.farthest'],
  flyerSpeed: ['flyerSpeed.slowest', 'flyerSpeed.fastest'],
};
const parts = Object.keys(partColumns);
export const columns: readonly string[] = [...told, 'visibility', ...alone, ...Object.entries(partColumns).flatMap(([part, own]) => [...own, part])];

type Json = Record<string, unknown>;
const number = /^-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?$/;
/** Only what is stamped may be a plain number. */
const mayBeNumber = (column: string): boolean => column.endsWith('statedRatio');
const isJson = (text: string): boolean => /^\s*["{[]/.test(text);

function cellOf(value: unknown, column: string): string | undefined {
  if (value === undefined) return '';
  if (typeof value === 'string') return value.trim() === '' || isJson(value) || (mayBeNumber(column) && number.test(value)) ? JSON.stringify(value) : value;
  if (typeof value === 'number') return mayBeNumber(column) ? JSON.stringify(value) : undefined;
  return JSON.stringify(value);
}
/** Throws a ProblemError that says what is wrong with the JSON. */
function valueOf(cell: string, column: string, parse: (text: string) => unknown): unknown {
  if (isJson(cell)) return parse(cell);
  return mayBeNumber(column) && number.test(cell.trim()) ? Number(cell) : cell;
}

const stepsOf = (column: string): (string | number)[] => column.split('.').map((step) => (/^\d+$/.test(step) ? Number(step) - 1 : step));
function at(value: unknown, column: string): unknown {
  let here = value;
  for (const step of stepsOf(column)) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, step)) return undefined;
    here = (here as Record<string | number, unknown>)[step];
  }
  return here;
}
/** Puts it there, making what it stands in. False: something that holds nothing stands in the way. */
function put(into: Json, column: string, value: unknown): boolean {
  const steps = stepsOf(column);
  let here: Record<string | number, unknown> = into;
  for (const [i, step] of steps.entries()) {
    if (Array.isArray(here) !== (typeof step === 'number')) return false;
    if (i === steps.length - 1) { if (Object.hasOwn(here, step)) return false; here[step] = value; return true; }
    if (!Object.hasOwn(here, step)) here[step] = typeof steps[i + 1] === 'number' ? [] : {};
    const next = here[step];
    if (typeof next !== 'object' || next === null) return false;
    here = next as Record<string | number, unknown>;
  }
  return false;
}

/** Cells of a part in its columns; undefined where they do not tell all of it. */
function cellsOfPart(part: string, value: unknown): Map<string, string> | undefined {
  const cells = new Map<string, string>();
  const again: Json = {};
  for (const column of partColumns[part]!) {
    const one = at({ [part]: value }, column);
    const cell = cellOf(one, column);
    if (cell === undefined) return undefined;
    if (one !== undefined && !put(again, column, one)) return undefined;
    if (cell !== '') cells.set(column, cell);
  }
  return isDeepStrictEqual(again[part], value) ? cells : undefined;
}

/** The cells of `columns`. `wheel`: as it is listed. */
export function rowOf(wheel: Wheel & Json): string[] {
  const cells = new Map<string, string>();
  for (const column of [...told, 'visibility', ...alone]) {
    const value = at(wheel, column);
    if (value !== undefined) cells.set(column, column === 'revision' || column === 'forkedFrom.revision' ? String(value) : cellOf(value, column)!);
  }
  for (const part of parts) {
    const value = wheel[part];
    if (value === undefined) continue;
    for (const [column, cell] of cellsOfPart(part, value) ?? new Map([[part, JSON.stringify(value)]])) cells.set(column, cell);
  }
  return columns.map((column) => cells.get(column) ?? '');
}

const headings = /^[a-zA-Z]+(?:\.(?:[a-zA-Z]+|[1-9]\d?))*$/;
/** What is wrong with the headings of a table. */
export function headingIssues(names: readonly string[]): Issue[] {
  const issues: Issue[] = [];
  for (const [i, name] of names.entries()) {
    const place = { pointer: `/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`, received: shown(name) };
    if (names.indexOf(name) !== i) issues.push({ ...place, code: 'repeated-field', detail: `Two columns are headed “${shown(name)}”.`, expected: 'one of them' });
    else if (!columns.includes(name) && !(headings.test(name) && parts.includes(name.split('.')[0]!))) {
      const near = nearest(name, columns);
      issues.push({ ...place, code: 'unknown-field', detail: `“${shown(name)}” is no column of a table of wheels.${near === undefined ? '' : ` Is “${near}” meant?`}`, expected: near ?? 'a column as the export has it, such as whorls.1.grooveDiameter', ...(near === undefined ? {} : { try: near }) });
    }
  }
  if (!names.includes('name')) issues.push({ pointer: '/name', code: 'missing-field', detail: 'No column is headed “name”, and every wheel needs one.', received: shown(names.join(', ')), expected: 'a column name' });
  return issues;
}

export interface RowIssue extends Issue { readonly column?: string }

/** The wheel of a row, with the columns that could not be read. `parse` reads strict JSON, and throws a ProblemError. */
export function wheelOf(names: readonly string[], cells: readonly string[], parse: (text: string) => unknown): { readonly wheel: Json; readonly issues: readonly RowIssue[] } {
  const wheel: Json = {};
  const issues: RowIssue[] = [];
  const order = names.map((column, i) => ({ column, cell: cells[i] ?? '' })).toSorted((a, b) => Number(parts.includes(b.column)) - Number(parts.includes(a.column)));
  for (const { column, cell } of order) {
    if (cell.trim() === '' || (told as readonly string[]).includes(column)) continue;
    try {
      const value = valueOf(cell, column, parse);
      if (parts.includes(column) && typeof value !== 'object') issues.push({ column, code: 'wrong-type', detail: `“${column}” holds a whole part, as JSON.`, received: shown(cell), expected: column.endsWith('s') ? 'a list, such as [{…}], or an empty cell' : 'an object, such as {…}, or an empty cell' });
      else if (!put(wheel, column, value)) issues.push({ column, code: 'one-of', detail: `“${column}” stands in a part that was given whole in a column of its own.`, received: shown(cell), expected: 'one of them' });
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      issues.push({ column, code: 'invalid-json', detail: `The cell begins as JSON does, and is none. ${error.message}`, received: shown(cell), expected: 'JSON, or text that begins with another sign' });
    }
  }
  // A list whose first place is empty would move up, and parts go by their number where they have no name.
  const holes = (value: unknown, place: string): void => {
    if (Array.isArray(value)) {
      for (let i = 0; i < value.length; i++) {
        if (!(i in value)) issues.push({ column: `${place}.${i + 1}`, code: 'missing-field', detail: `${place}.${i + 2} and what follows stand without ${place}.${i + 1}.`, received: 'nothing', expected: `${place} counted from 1, none left out` });
        else holes(value[i], `${place}.${i + 1}`);
      }
    } else if (isObject(value)) for (const [key, member] of Object.entries(value)) holes(member, place === '' ? key : `${place}.${key}`);
  };
  holes(wheel, '');
  return { wheel, issues };
}

/** The column of a place, such as `whorls.1.grooveDiameter` for /whorls/0/grooveDiameter; of `names` the one that holds it, where there are any. */
export function columnOf(pointer: string | undefined, names?: readonly string[]): string | undefined {
  if (pointer === undefined || pointer === '') return undefined;
  const steps = pointer.slice(1).split('/').map((step) => (/^\d+$/.test(step) ? String(Number(step) + 1) : step.replaceAll('~1', '/').replaceAll('~0', '~')));
  for (let n = steps.length; n > 0; n--) {
    const column = steps.slice(0, n).join('.');
    if (names?.includes(column) ?? true) return column;
  }
  return steps.join('.');
}
