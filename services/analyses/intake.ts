/**
 * A file of wheels as it arrives: bytes to text, text to rows, rows to chunks. Bytes that are no text, a row without an end
 * and a table without headings are refused with the place; what stands in a single row is that row's affair.
 */
import { cellsOf, CsvReader, delimiterNames, delimiterOf, delimiters, type CsvRow, type Delimiter } from '../foundation/csv.js';
import { ProblemError, type Issue } from '../foundation/problems.js';
import { isObject, shown } from '../foundation/read.js';
import { isOf, mostColumns, understand, type Column } from './columns.js';

export interface Layout {
  readonly format: 'csv' | 'ndjson';
  readonly delimiter?: Delimiter;
  readonly columns: readonly Column[];
  /** Lines above the headings. */
  readonly above: readonly string[];
}
export interface Chunk { readonly firstRow: number; readonly rows: number; readonly firstLine: number; readonly text: string }

export const rowsOfChunk = 1000;
/** Signs of a chunk; and of one row, beyond which a file is no table. */
const signsOfChunk = 400_000;
const longestRow = 200_000;
export const mostRows = 10_000_000;
/** Rows by which columns are understood. */
const sampled = 200;

const refuse = (code: Issue['code'], detail: string, received: string, expected: string): ProblemError => new ProblemError(code, detail, { issues: [{ pointer: '', code, detail, received, expected }] });

const kindsOfFile: readonly { readonly bytes: readonly number[]; readonly what: string; readonly say: string }[] = [
  { bytes: [0x50, 0x4b, 0x03, 0x04], what: 'a zip archive (a spreadsheet file is one too)', say: 'Save the sheet as CSV, or unpack the archive, and send that.' },
  { bytes: [0x1f, 0x8b], what: 'a gzip file', say: 'Unpack it and send what is in it.' },
  { bytes: [0x25, 0x50, 0x44, 0x46], what: 'a PDF', say: 'Send the table itself as CSV.' },
  { bytes: [0xd0, 0xcf, 0x11, 0xe0], what: 'an old spreadsheet file', say: 'Save the sheet as CSV and send that.' },
  { bytes: [0xff, 0xfe], what: 'text in UTF-16', say: 'Save it as UTF-8.' },
  { bytes: [0xfe, 0xff], what: 'text in UTF-16', say: 'Save it as UTF-8.' },
];
const expectedText = 'CSV or NDJSON in UTF-8 (or the charset that Content-Type names, such as windows-1252)';

/** Bytes to text, however they are cut. */
export class TextIntake {
  private readonly decoder: InstanceType<typeof TextDecoder>;
  private seen = 0;
  private lines = 1;
  private head: number[] = [];
  constructor(private readonly charset = 'utf-8') {
    try {
      this.decoder = new TextDecoder(charset, { fatal: true });
    } catch {
      throw refuse('unreadable-file', `“${shown(charset)}” is not a charset that is read here.`, shown(charset), expectedText);
    }
  }
  push(bytes: Uint8Array): string {
    if (this.head.length < 4) {
      this.head.push(...bytes.subarray(0, 4 - this.head.length));
      const kind = kindsOfFile.find((k) => k.bytes.every((b, i) => this.head[i] === b));
      if (kind !== undefined) throw refuse('unreadable-file', `The file is ${kind.what}, not a table as text. ${kind.say}`, kind.what, expectedText);
    }
    return this.take(() => this.decoder.decode(bytes, { stream: true }), bytes.length);
  }
  end(): string { return this.take(() => this.decoder.decode(), 0); }
  private take(decode: () => string, length: number): string {
    let text;
    try {
      text = decode();
    } catch {
      throw refuse('unreadable-file', `The file is not ${this.charset === 'utf-8' ? 'UTF-8' : this.charset}: after line ${this.lines} come bytes that no sign is written with. Save it as UTF-8, or name its charset: Content-Type: text/csv; charset=windows-1252.`, `bytes ${this.seen + 1} to ${this.seen + length}`, expectedText);
    }
    this.seen += length;
    if (text.includes('\u0000')) throw refuse('unreadable-file', `The file holds a NUL sign after line ${this.lines + countLines(text.slice(0, text.indexOf('\u0000')))}: it is no text, or was damaged.`, 'NUL', expectedText);
    this.lines += countLines(text);
    return text;
  }
}
function countLines(text: string): number {
  let n = 0;
  for (let i = text.indexOf('\n'); i >= 0; i = text.indexOf('\n', i + 1)) n++;
  return n;
}

export interface IntakeOptions { readonly format?: 'csv' | 'ndjson'; readonly map?: ReadonlyMap<string, string>; readonly delimiter?: Delimiter }

/** Rows of one kind of file, from pieces of text. */
interface Lines { push(text: string): CsvRow[]; end(): CsvRow[]; readonly waiting: number }
class PlainLines implements Lines {
  private rest = '';
  private line = 1;
  push(text: string): CsvRow[] {
    const all = (this.rest + text).split('\n');
    this.rest = all.pop()!;
    return all.flatMap((one) => this.row(one));
  }
  end(): CsvRow[] { const last = this.rest; this.rest = ''; return this.row(last); }
  get waiting(): number { return this.rest.length; }
  private row(text: string): CsvRow[] {
    const line = this.line++;
    const whole = (line === 1 ? text.replace(/^\ufeff/, '') : text).replace(/\r$/, '');
    return whole.trim() === '' ? [] : [{ line, text: whole, cells: [] }];
  }
}
export const linesOf = (layout: Pick<Layout, 'format' | 'delimiter'>): Lines => (layout.format === 'ndjson' ? new PlainLines() : new CsvReader(layout.delimiter ?? ','));

/** A row of NDJSON as cells under these headings; `more` are names that no heading has. Undefined: it is no object, or a whole profile. */
export function flatRow(value: unknown, headings: ReadonlyMap<string, number>): { readonly cells: string[]; readonly more: readonly [string, string][] } | undefined {
  if (!isObject(value) || isProfile(value)) return undefined;
  const cells: string[] = [];
  const more: [string, string][] = [];
  for (const [key, member] of Object.entries(value)) {
    const text = member === null ? '' : typeof member === 'string' ? member : JSON.stringify(member);
    const at = headings.get(key);
    if (at === undefined) more.push([key, text]);
    else cells[at] = text;
  }
  return { cells: Array.from(cells, (c) => c ?? ''), more };
}
/** A wheel as the library has it. */
export const isProfile = (value: Record<string, unknown>): boolean => ['driveWheel', 'whorls', 'bobbins', 'modes', 'stages'].some((key) => typeof value[key] === 'object' && value[key] !== null);

/** The sign between cells under which the most headings are understood; a title above the table has none. */
function delimiterByHeadings(start: string, map?: ReadonlyMap<string, string>): Delimiter | undefined {
  let best: Delimiter | undefined;
  let most = 1;
  for (const delimiter of delimiters) {
    for (const line of start.split(/\r?\n/, 10)) {
      const n = line.length > longestRow ? 0 : cellsOf(line, delimiter).cells.filter((c) => map?.has(c.trim()) === true || isOf(c) !== undefined).length;
      if (n > most) [best, most] = [delimiter, n];
    }
  }
  return best;
}

export class Intake {
  /** Known once the head of the file was seen. */
  layout: Layout | undefined;
  rows = 0;
  private lines: Lines | undefined;
  private head = '';
  private early: CsvRow[] = [];
  private chunk: CsvRow[] = [];
  private signs = 0;
  constructor(private readonly options: IntakeOptions = {}) {}

  /** Chunks that are whole by now. */
  push(text: string): Chunk[] {
    const out: Chunk[] = [];
    if (this.lines === undefined) {
      this.head += text;
      if (this.head.length < 65_536) return out;
      this.open();
    } else this.take(this.lines.push(text), out);
    this.drain(out);
    if (this.lines!.waiting > longestRow) throw refuse('row-too-long', `A row begins after row ${this.rows} of the file and has no end within ${longestRow} signs: it is no table, or a line end or a closing quote is missing.`, `more than ${longestRow} signs without a line end`, `rows of at most ${longestRow} signs`);
    return out;
  }
  end(): Chunk[] {
    const out: Chunk[] = [];
    if (this.lines === undefined) this.open();
    this.take(this.lines!.end(), out);
    if (this.layout === undefined) this.understood();
    this.drain(out);
    if (this.rows === 0) throw refuse('nothing-to-analyse', 'The file has headings and no rows.', shown(this.layout!.columns.map((c) => c.heading).join(', ')), 'one row for each wheel');
    if (this.chunk.length > 0) this.cut(out);
    return out;
  }

  private open(): void {
    const start = this.head.replace(/^\ufeff/, '');
    if (start.trim() === '') throw refuse('nothing-to-analyse', 'The file is empty.', 'nothing', 'a table with headings and a row for each wheel');
    const format = this.options.format ?? (/^\s*\{/.test(start) ? 'ndjson' : 'csv');
    const delimiter = this.options.delimiter ?? delimiterByHeadings(start, this.options.map) ?? delimiterOf(start);
    this.format = { format, ...(format === 'csv' ? { delimiter } : {}) };
    this.lines = linesOf(this.format);
    this.early = this.lines.push(this.head);
    this.head = '';
  }
  private format: Pick<Layout, 'format' | 'delimiter'> = { format: 'csv' };

  private take(rows: readonly CsvRow[], out: Chunk[]): void {
    if (this.layout === undefined) this.early.push(...rows);
    else for (const row of rows) this.add(row, out);
  }
  private drain(out: Chunk[]): void {
    if (this.layout === undefined && this.early.length > sampled) this.understood();
    if (this.layout === undefined) return;
    for (const row of this.early) this.add(row, out);
    this.early = [];
  }

  private understood(): void {
    const rows = this.early;
    const map = this.options.map ?? new Map<string, string>();
    if (this.format.format === 'ndjson') {
      const values = rows.slice(0, sampled).flatMap((row) => { try { return [JSON.parse(row.text) as unknown]; } catch { return []; } });
      const headings = [...new Set(values.flatMap((v) => (isObject(v) && !isProfile(v) ? Object.keys(v) : [])))];
      if (headings.length > mostColumns) throw tooMany(headings.length);
      const at = new Map(headings.map((h, i) => [h, i]));
      const sample = values.flatMap((v) => flatRow(v, at)?.cells ?? []).length === 0 ? [] : values.flatMap((v) => { const flat = flatRow(v, at); return flat === undefined ? [] : [flat.cells]; });
      this.layout = { ...this.format, columns: understand(headings, sample, map), above: [] };
      if (values.length > 0 && !values.some((v) => isObject(v) && isProfile(v))) this.mustKnow(headings);
      return;
    }
    // A title or a note may stand above the headings: they are the first row of which two cells or more are understood.
    const named = rows.slice(0, 10).findIndex((row) => row.cells.filter((c) => map.has(c.trim()) || isOf(c) !== undefined).length >= 2);
    const headRow = rows[Math.max(named, 0)]!;
    if (headRow.cells.length > mostColumns) throw tooMany(headRow.cells.length);
    if (headRow.text.length > longestRow) throw refuse('row-too-long', `The first line has ${headRow.text.length} signs.`, `${headRow.text.length} signs`, `at most ${longestRow}`);
    const seen = new Map<string, number>();
    const headings = headRow.cells.map((cell, i) => {
      const name = cell.trim().slice(0, 200) || `column ${i + 1}`;
      const before = seen.get(name) ?? 0;
      seen.set(name, before + 1);
      return before === 0 ? name : `${name} (${before + 1})`;
    });
    const plain = headings.map((h) => h.replace(/ \(\d+\)$/, ''));
    const data = rows.slice(Math.max(named, 0) + 1);
    const columns = understand(plain, data.slice(0, sampled).map((row) => row.cells), map).map((c, i) => ({ ...c, heading: headings[i]! }));
    this.layout = { ...this.format, columns, above: rows.slice(0, Math.max(named, 0)).map((row) => row.text.slice(0, 200)) };
    this.early = data;
    this.mustKnow(headings);
  }
  private mustKnow(headings: readonly string[]): void {
    const known = this.layout!.columns.filter((c) => c.is !== undefined && !['name', 'doNotRun', 'condition', 'drive'].includes(c.is.part));
    if (known.length > 0) return;
    const parts = this.format.delimiter === undefined ? '' : ` Its cells were taken as parted by a ${delimiterNames[this.format.delimiter]}.`;
    throw refuse('nothing-to-analyse', `No heading names a part of a wheel.${parts}`, shown(headings.join(', ')), 'headings such as “drive wheel (mm)”, “whorl 1 (in)”, “bobbin groove (mm)”, “band thickness (mm)”; or map: Heading=drive wheel (mm)');
  }

  private add(row: CsvRow, out: Chunk[]): void {
    if (row.text.length > longestRow) throw refuse('row-too-long', `Line ${row.line} has ${row.text.length} signs.`, `${row.text.length} signs`, `at most ${longestRow}`);
    if (++this.rows > mostRows) throw refuse('too-many', `The file has more than ${mostRows} rows.`, 'more', `at most ${mostRows} rows; send it in parts`);
    this.chunk.push(row);
    this.signs += row.text.length + 1;
    if (this.chunk.length >= rowsOfChunk || this.signs >= signsOfChunk) this.cut(out);
  }
  private cut(out: Chunk[]): void {
    const [first] = this.chunk;
    let text = '';
    let line = first!.line;
    for (const row of this.chunk) {
      // Empty lines are kept, so that a row's line is its line of the file.
      text += `${'\n'.repeat(row.line - line)}${row.text}\n`;
      line = row.line + 1 + countLines(row.text);
    }
    out.push({ firstRow: this.rows - this.chunk.length + 1, rows: this.chunk.length, firstLine: first!.line, text });
    this.chunk = [];
    this.signs = 0;
  }
}
const tooMany = (n: number): ProblemError => refuse('too-many', `The table has ${n} columns.`, `${n} columns`, `at most ${mostColumns}; leave out what is not needed`);
