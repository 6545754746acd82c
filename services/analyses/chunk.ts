/** A chunk of rows to its verdict lines. Pure: the same in a worker, in the command and in a test. */
import { shown } from '../foundation/read.js';
import { flatRow, isProfile, linesOf, type Chunk, type Layout } from './intake.js';
import { judge, type Judged } from './line.js';
import { RowReader, type RowIssue, type RowRead } from './row.js';

export interface OneRow extends Judged { readonly row: RowRead; readonly source: string }

export class Analyser {
  private readonly rows: RowReader;
  private readonly headings: ReadonlyMap<string, number>;
  constructor(private readonly layout: Layout) {
    this.rows = new RowReader(layout.columns);
    this.headings = new Map(layout.columns.map((c, i) => [c.heading, i]));
  }

  /** Every row of the chunk, in order; `began` is told of each before it is looked at. */
  *judged(chunk: Pick<Chunk, 'firstRow' | 'firstLine' | 'text'>, began?: () => void): Generator<OneRow, void, undefined> {
    const lines = linesOf(this.layout);
    let n = chunk.firstRow;
    for (const found of [...lines.push(chunk.text), ...lines.end()]) {
      began?.();
      const line = chunk.firstLine + found.line - 1;
      const row = this.layout.format === 'csv' ? this.rows.read(found.cells, n, line) : this.fromJson(found.text, n, line);
      n++;
      if (found.openQuote === true) row.issues.push({ code: 'row-does-not-fit', detail: 'A quote opens a cell of this row and is never closed.', received: shown(found.text), expected: 'the closing quote; an inch mark that begins a cell is written twice, within quotes' });
      yield { row, source: found.text, ...judge(row, found.text) };
    }
  }

  private fromJson(text: string, n: number, line: number): RowRead {
    const empty = (issue: RowIssue): RowRead => {
      const row = this.rows.read([], n, line);
      row.issues.splice(0, row.issues.length, issue);
      row.kept = `"text":${JSON.stringify(shown(text))}`;
      return row;
    };
    let value: unknown;
    try {
      value = JSON.parse(text);
    } catch {
      return empty({ code: 'invalid-json', detail: 'The line is not JSON.', received: shown(text), expected: 'one JSON object on each line' });
    }
    const flat = flatRow(value, this.headings);
    if (flat !== undefined) {
      const row = this.rows.read(flat.cells, n, line);
      for (const [key, cell] of flat.more) row.kept += `${row.kept === '' ? '' : ','}${JSON.stringify(key)}:${JSON.stringify(cell)}`;
      return row;
    }
    if (typeof value !== 'object' || value === null || Array.isArray(value) || !isProfile(value as Record<string, unknown>)) return empty({ code: 'wrong-type', detail: 'The line is no object.', received: shown(value), expected: 'one JSON object on each line' });
    const row = this.rows.read([], n, line);
    row.issues.length = 0;
    const { name, condition } = value as { name?: unknown; condition?: unknown };
    if (typeof name === 'string') row.name = name;
    row.doNotRun = condition === 'do-not-run';
    row.profile = value as Record<string, unknown>;
    row.exact = false;
    row.read = `"profile":{"text":${JSON.stringify(text)}}`;
    return row;
  }
}
