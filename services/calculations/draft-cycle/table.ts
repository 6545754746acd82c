/** Every moment of a run as text, line by line, for programs that want more rows than an answer holds. Pure; throws a ProblemError. */
import { csvLine } from '../../foundation/csv.js';
import { metric } from '../../foundation/quantity.js';
import type { AnswerOptions } from '../calculation.js';
import { columnsOf, eachRow } from './series.js';
import { pointOf, solve, valuesOf } from './solve.js';

export const forms = ['ndjson', 'csv'] as const;
export type Form = (typeof forms)[number];

/**
 * NDJSON: the columns with their units first, a list of numbers for each moment, and an end record with their count last.
 * CSV: a head with the units in it, then the same numbers.
 */
export function table(question: unknown, options: AnswerOptions, form: Form): string {
  const s = solve(question);
  if (s.q['series'] === undefined) s.r.missing('/series', 'The step between two rows', 'such as 0.01 s');
  s.r.done();
  const units = options.units ?? metric;
  const values = valuesOf(s.inputs.map((e) => pointOf(s.k.reading(e))));
  const columns = columnsOf(units);
  const lines: string[] = [form === 'csv' ? csvLine(columns.map((c) => `${c.name} (${c.unit})`)) : `${JSON.stringify({ columns })}\n`];
  eachRow(s, values, s.moves.step!, units, (row) => lines.push(form === 'csv' ? `${row.join(',')}\r\n` : `${JSON.stringify(row)}\n`));
  if (form === 'ndjson') lines.push(`${JSON.stringify({ end: true, rows: lines.length - 1 })}\n`);
  return lines.join('');
}
