/**
 * Tables as text: comma, semicolon or tab (RFC 4180, and how people really save them). Reading loses nothing: a row keeps
 * its text and its line. An inch mark inside a cell is a sign like any other: a quote opens a cell only where the cell
 * begins. Writing is safe for spreadsheets, which take a cell that begins with = + - @ for a formula.
 */
export type Delimiter = ',' | ';' | '\t';
export const delimiters: readonly Delimiter[] = [',', ';', '\t'];
export const delimiterNames: Readonly<Record<Delimiter, string>> = { ',': 'comma', ';': 'semicolon', '\t': 'tab' };

export interface CsvRow {
  /** Line of the file on which it begins; the first is 1. */
  readonly line: number;
  /** As it stands in the file, without the end of its last line. */
  readonly text: string;
  readonly cells: readonly string[];
  /** A quote that is never closed: the cells are those of its one line, read as they stand. */
  readonly openQuote?: true;
}

/** A quoted cell may hold line ends, but not for ever: a forgotten quote must not swallow the file. */
export const mostLinesOfRow = 50;
export const mostSignsOfRow = 1_000_000;

/** Cells of one row. `open`: a quote at the start of a cell is not closed by the end of the text. `astray`: signs follow a closing quote. */
export function cellsOf(text: string, delimiter: Delimiter): { readonly cells: string[]; readonly open: boolean; readonly astray: boolean } {
  if (!text.includes('"')) return { cells: text.split(delimiter), open: false, astray: false };
  const cells: string[] = [];
  let astray = false;
  let at = 0;
  for (;;) {
    if (text[at] !== '"') {
      const end = text.indexOf(delimiter, at);
      if (end < 0) { cells.push(text.slice(at)); return { cells, open: false, astray }; }
      cells.push(text.slice(at, end));
      at = end + 1;
      continue;
    }
    let close = text.indexOf('"', at + 1);
    while (close >= 0 && text[close + 1] === '"') close = text.indexOf('"', close + 2);
    if (close < 0) { cells.push(text.slice(at)); return { cells, open: true, astray }; }
    const after = text.indexOf(delimiter, close + 1);
    const tail = text.slice(close + 1, after < 0 ? undefined : after);
    const inner = text.slice(at + 1, close).replaceAll('""', '"');
    // "small" whorl: what follows the quote is kept, and the quotes with it.
    if (tail.trim() !== '') { astray = true; cells.push(text.slice(at, close + 1) + tail); } else cells.push(inner);
    if (after < 0) return { cells, open: false, astray };
    at = after + 1;
  }
}

/** Reads a table piece by piece, as it arrives. Empty lines are passed over. */
export class CsvReader {
  private rest = '';
  private line = 1;
  /** Lines of a row whose quote is still open. */
  private held: string[] = [];
  private heldSigns = 0;
  private first = true;

  constructor(private readonly delimiter: Delimiter) {}

  /** Rows that are whole by now. Nothing of `text` is lost: what is not whole waits for the next piece. */
  push(text: string): CsvRow[] {
    const out: CsvRow[] = [];
    if (text === '') return out;
    let piece = this.rest + text;
    if (this.first && piece.charCodeAt(0) === 0xfeff) piece = piece.slice(1);
    this.first = false;
    let from = 0;
    for (let end = piece.indexOf('\n'); end >= 0; end = piece.indexOf('\n', from)) {
      this.take(piece.slice(from, piece[end - 1] === '\r' && end > from ? end - 1 : end), out);
      from = end + 1;
    }
    this.rest = piece.slice(from);
    return out;
  }
  end(): CsvRow[] {
    const out: CsvRow[] = [];
    const rest = this.rest.endsWith('\r') ? this.rest.slice(0, -1) : this.rest;
    this.rest = '';
    if (rest !== '') this.take(rest, out);
    while (this.held.length > 0) this.giveUp(out);
    return out;
  }
  /** Signs that wait for the end of their row: a caller that limits rows looks here. */
  get waiting(): number { return this.rest.length + this.heldSigns; }

  private take(text: string, out: CsvRow[]): void {
    if (this.held.length === 0) {
      if (text === '') { this.line++; return; }
      if (!text.includes('"')) { out.push({ line: this.line++, text, cells: text.split(this.delimiter) }); return; }
    }
    this.held.push(text);
    this.heldSigns += text.length + 1;
    // A line without a quote cannot close one.
    if (this.held.length === 1 || text.includes('"')) {
      const whole = this.held.length === 1 ? text : this.held.join('\n');
      const { cells, open, astray } = cellsOf(whole, this.delimiter);
      if (!open && (this.held.length === 1 || !astray)) {
        out.push({ line: this.line, text: whole, cells });
        this.drop(this.held.length);
        return;
      }
      if (!open) { this.giveUp(out); return; }
    }
    if (this.held.length >= mostLinesOfRow || this.heldSigns > mostSignsOfRow) this.giveUp(out);
  }
  /** The first line stands alone, and the others are read anew. */
  private giveUp(out: CsvRow[]): void {
    const [text = '', ...others] = this.held;
    if (text !== '') out.push({ line: this.line, text, cells: cellsOf(text, this.delimiter).cells, openQuote: true });
    this.drop(this.held.length, 1);
    for (const other of others) this.take(other, out);
  }
  private drop(lines: number, passed = lines): void {
    this.held = [];
    this.heldSigns = 0;
    this.line += passed;
  }
}

/** A whole table that is in memory. */
export function readCsv(text: string, delimiter: Delimiter = delimiterOf(text)): CsvRow[] {
  const reader = new CsvReader(delimiter);
  return [...reader.push(text), ...reader.end()];
}

/** The delimiter under which the first lines fall into the same number of cells, the most of them. A comma where nothing tells. */
export function delimiterOf(head: string): Delimiter {
  let best: Delimiter = ',';
  let most = 0;
  for (const delimiter of delimiters) {
    const counts = head.replace(/^\ufeff/, '').split(/\r?\n/, 21).filter((line) => line !== '').slice(0, 20).map((line) => cellsOf(line, delimiter).cells.length);
    const first = counts[0] ?? 1;
    if (first < 2) continue;
    // The header decides, and the rows that follow it bear it out; decimal commas make rows longer than their header.
    const borne = counts.filter((n) => n === first).length / counts.length;
    const score = borne * Math.log2(first + 1);
    if (score > most + 1e-9) [best, most] = [delimiter, score];
  }
  return best;
}

/** Signs that begin a formula, also in their full width, and those that a spreadsheet drops before it looks. */
const formula = /^[\s\u00a0\ufeff]*[=+\-@\uff1d\uff0b\uff0d\uff20]|^[\t\r\n]/;
const plainNumber = /^[+-]?(?:\d+(?:[.,]\d+)?|\.\d+)(?:e[+-]?\d{1,3})?$/i;

/** What is written with an apostrophe before it: what a spreadsheet would take for a formula, and what looks like one that was written so, so that reading finds each again. */
const isGuarded = (text: string): boolean => { const bare = text.replace(/^'+/, ''); return formula.test(bare) && !plainNumber.test(bare); };

export interface CsvWriting {
  readonly delimiter?: Delimiter;
  /** As it is: whoever reads it is a program. */
  readonly raw?: boolean;
}
/** One cell. What a spreadsheet would take for a formula gets an apostrophe before it; a number stays a number. */
export function csvCell(value: string | number | boolean | undefined, { delimiter = ',', raw = false }: CsvWriting = {}): string {
  if (typeof value !== 'string') return value === undefined ? '' : String(value);
  const text = !raw && isGuarded(value) ? `'${value}` : value;
  // Any of the three delimiters is quoted: a spreadsheet may cut at another than ours.
  return /[",;\t\r\n]/.test(text) || text.includes(delimiter) || /^\s|\s$/.test(text) ? `"${text.replaceAll('"', '""')}"` : text;
}
/** One row with its end (RFC 4180: CR LF). */
export const csvLine = (cells: readonly (string | number | boolean | undefined)[], how: CsvWriting = {}): string =>
  `${cells.map((cell) => csvCell(cell, how)).join(how.delimiter ?? ',')}\r\n`;

/** A cell that `csvCell` made safe, as it was before. */
export const withoutGuard = (cell: string): string => (cell.startsWith("'") && isGuarded(cell) ? cell.slice(1) : cell);
