/** One row of a table of wheels: every cell read by what its column is, the original text beside. Nothing is dropped. */
import { fromSI, findUnit, type Kind } from '../foundation/quantity.js';
import type { Issue, ProblemError } from '../foundation/problems.js';
import { Reader, shown, type Limits } from '../foundation/read.js';
import { isPoint, type Reading } from '../foundation/reading.js';
import { conditions, driveAliases, drives, materials, type Drive } from '../wheels/words.js';
import { slipOfImpossible, type Flag } from './usual.js';
import { kindOf, listIn, withColumn, type Column, type Is, type MeasureName } from './columns.js';

/** A reason why a row is refused: which column, what stood there, what was expected. */
export interface RowIssue extends Omit<Issue, 'pointer' | 'parameter'> { readonly column?: string }

/** One measure of a cell. `si` is NaN where only an interval, or a ±, is known. */
export interface Measured { readonly text: string; readonly si: number; readonly reading: Reading; readonly measure: MeasureName; readonly rim?: true; readonly column: string }
export interface RowBobbin { groove?: Measured; core?: Measured; end?: Measured; full?: Measured; lengthBetweenEnds?: Measured; mass?: Measured; name?: string }
export interface RowWhorl { groove?: Measured; name?: string }
export interface RowRead {
  readonly row: number; readonly line: number;
  name?: string; drive?: Drive; condition?: (typeof conditions)[number]; material?: (typeof materials)[number]; doNotRun: boolean;
  driveWheel?: Measured; readonly whorls: RowWhorl[]; readonly bobbins: RowBobbin[]; band?: Measured; nearest?: Measured; farthest?: Measured;
  /** A whole profile, as the library has one, in place of cells. */
  profile?: Record<string, unknown>;
  /** Every measure is one number without a ±. */
  exact: boolean; measures: number;
  readonly issues: RowIssue[];
  /** Of sizes that no wheel can have: what they probably are. */
  readonly flags: Flag[];
  /** JSON of `read` and `kept`, without their braces. */
  read: string; kept: string;
}

const part: Limits = { moreThan: 1e-4, atMost: 5, says: 'from 0.1 mm to 5 m' };
const round: Limits = { moreThan: 1e-4 * Math.PI, atMost: 5 * Math.PI, says: 'from 0.4 mm to 15 m round' };
const thickness: Limits = { atLeast: 0, atMost: 0.05, says: 'from 0 to 50 mm' };
const stamped: Limits = { moreThan: 1e-3, atMost: 1e4, says: 'from 0.001 to 10 000' };
const masses: Limits = { moreThan: 0, atMost: 50 };
const limitsOf = ({ measure }: Is): Limits => (measure === 'circumference' || measure === 'bandTurn' ? round : measure === 'thickness' ? thickness : measure === 'ratio' ? stamped : measure === 'mass' ? masses : part);

/** `json` with its heading before it. */
interface Cell { readonly measures: readonly Measured[]; readonly json: string; readonly issue?: Omit<Issue, 'pointer' | 'parameter'>; readonly flag?: Flag }
const millimetre = findUnit('part', 'mm')!;
const gram = findUnit('mass', 'g')!;
/** Cells that are remembered of one column: people write the same sizes again and again. */
const mostRemembered = 4096;

function wireOf(reading: Reading, kind: Kind | 'ratio'): string {
  const out = (x: number): number => (kind === 'ratio' ? x : fromSI(x, kind === 'mass' ? gram : millimetre));
  const unit = kind === 'ratio' ? '' : `,"unit":"${kind === 'mass' ? 'g' : 'mm'}"`;
  if (isPoint(reading)) return `"value":${out(reading.value)}${reading.u === undefined ? '' : `,"plusMinus":${out(2 * reading.u)}`}${unit}`;
  return `${reading.low === undefined ? '' : `"low":${out(reading.low)}${reading.high === undefined ? '' : ','}`}${reading.high === undefined ? '' : `"high":${out(reading.high)}`}${unit}`;
}

/** What stands after the last digit, blank, point, comma or stroke. */
function lastWord(text: string): string | undefined {
  let at = text.length;
  while (at > 0 && !/[\d\s.,/]/.test(text[at - 1]!)) at--;
  return at === text.length ? undefined : text.slice(at);
}

function readCell(text: string, is: Is, comma: boolean, column: string): Cell {
  const kind = kindOf(is) as Kind | 'ratio';
  const parts = is.part === 'whorl' || is.part === 'bobbin' ? listIn(text) : [text];
  // 60; 48; 40 mm: the unit stands once, at the end.
  const unit = parts.length > 1 && is.unit === undefined ? lastWord(parts.at(-1)!) : undefined;
  const measures: Measured[] = [];
  const pieces: string[] = [];
  for (const one of parts) {
    const typed = withColumn(unit !== undefined && /^[\d.,/\s]+$/.test(one) ? `${one} ${unit}` : one, is, comma);
    const reader = new Reader();
    const reading = kind === 'ratio' ? reader.ratio(typed, '', limitsOf(is)) : reader.quantity(typed, '', kind, limitsOf(is));
    if (reading === undefined) {
      const { pointer: _, ...issue } = reader.issues[0]!;
      const flag = issue.code === 'out-of-range' && kind === 'part' ? probably(typed, is) : undefined;
      return { measures: [], json: `{"text":${JSON.stringify(text)}}`, ...(flag === undefined ? {} : { flag }), issue: { ...issue, ...(flag === undefined ? {} : { try: `${flag.probably} mm` }), detail: issue.detail.replace('The question', 'The cell'), received: shown(text) } };
    }
    measures.push({ text: typed, reading, si: isPoint(reading) && reading.u === undefined ? reading.value : Number.NaN, measure: is.measure, column, ...(is.rim === undefined ? {} : { rim: is.rim }) });
    pieces.push(wireOf(reading, kind));
  }
  return { measures, json: pieces.length === 1 ? `{"text":${JSON.stringify(text)},${pieces[0]}}` : `{"text":${JSON.stringify(text)},"values":[${pieces.map((p) => `{${p}}`).join(',')}]}` };
}

/** What a size beyond all wheels was probably meant to be. */
function probably(typed: string, is: Is): Flag | undefined {
  const reading = new Reader().quantity(typed, '', 'part', { moreThan: 1e-9, atMost: 1e6 });
  const what = is.part === 'whorl' || is.part === 'driveWheel' || is.part === 'band' ? is.part : is.measure === 'core' || is.measure === 'end' ? is.measure : is.part === 'bobbin' && is.measure === 'diameter' ? 'bobbin' : undefined;
  if (reading === undefined || !isPoint(reading) || what === undefined || is.measure === 'circumference' || is.measure === 'bandTurn') return undefined;
  return slipOfImpossible(what, is.part === 'driveWheel' ? 'drive wheel' : is.part === 'whorl' || what === 'bobbin' ? `${is.part} ${is.n + 1}` : what === 'end' ? 'ends' : what, reading.value);
}

/** JSON of a text: most hold nothing that needs to be escaped. */
export const quoted = (text: string): string => (/["\\\u0000-\u001f\ud800-\udfff]/.test(text) ? JSON.stringify(text) : `"${text}"`);

const yes = /^(?:y|yes|true|1|x|ja|oui|do not run|do-not-run|unsafe|cracked|broken)$/i;
const no = /^(?:|n|no|false|0|nein|non|ok|sound|runs?|safe)$/i;

/** Reads rows of one table. */
export class RowReader {
  private readonly heads: readonly string[];
  private readonly caches: Map<string, Cell>[];
  private readonly words: Map<string, { readonly found?: string; readonly issue?: RowIssue }>[];
  constructor(private readonly columns: readonly Column[]) {
    this.heads = columns.map((c) => `${JSON.stringify(c.heading)}:`);
    this.caches = columns.map(() => new Map());
    this.words = columns.map(() => new Map());
  }

  read(cells: readonly string[], row: number, line: number): RowRead {
    const out: RowRead = { row, line, doNotRun: false, whorls: [], bobbins: [], exact: true, measures: 0, issues: [], flags: [], read: '', kept: '' };
    const { columns } = this;
    if (cells.length > columns.length && cells.slice(columns.length).some((c) => c.trim() !== '')) {
      out.issues.push({ code: 'row-does-not-fit', detail: `The row has ${cells.length} cells and the table ${columns.length} columns: a comma or a sign that parts cells stands in one of them.`, received: `${cells.length} cells`, expected: `${columns.length} cells; a cell that holds the sign between cells is put in quotes` });
    }
    for (let i = 0; i < columns.length; i++) {
      const text = cells[i]?.trim() ?? '';
      if (text === '') continue;
      const { is } = columns[i]!;
      if (is === undefined) { out.kept += `${out.kept === '' ? '' : ','}${this.heads[i]}${quoted(text)}`; continue; }
      if (kindOf(is) === 'word') this.word(out, is, text, i);
      else this.measure(out, is, text, i);
    }
    if (out.measures === 0 && out.issues.length === 0) out.issues.push({ code: 'missing-field', detail: 'The row holds no measure that could be analysed.', received: 'nothing', expected: 'the drive wheel and a whorl, or a whorl and a bobbin groove' });
    return out;
  }

  private add(out: RowRead, i: number, json: string): void { out.read += `${out.read === '' ? '' : ','}${this.heads[i]}${json}`; }

  private word(out: RowRead, { part: what, n }: Is, text: string, i: number): void {
    this.add(out, i, `{"text":${quoted(text)}}`);
    const column = this.columns[i]!.heading;
    const choice = <T extends string>(choices: readonly T[], aliases: Readonly<Record<string, T>> = {}): T | undefined => {
      const words = this.words[i]!;
      let word = words.get(text);
      if (word === undefined) {
        const reader = new Reader();
        const found = reader.choice(text, '', choices, aliases);
        const { pointer: _, ...issue } = reader.issues[0] ?? { code: 'unknown-choice', detail: '' };
        word = found === undefined ? { issue: { column, ...issue } } : { found };
        if (words.size >= mostRemembered) words.clear();
        words.set(text, word);
      }
      if (word.issue !== undefined) out.issues.push(word.issue);
      return word.found as T | undefined;
    };
    switch (what) {
      case 'drive': { const drive = choice(drives, moreDrives); if (drive !== undefined) out.drive = drive; break; }
      case 'condition': { if (yes.test(text)) { out.condition = 'do-not-run'; out.doNotRun = true; break; } const c = choice(conditions, { ok: 'sound', good: 'sound', fine: 'sound', fair: 'watch' }); if (c !== undefined) { out.condition = c; out.doNotRun ||= c === 'do-not-run'; } break; }
      case 'doNotRun':
        if (yes.test(text)) { out.doNotRun = true; out.condition = 'do-not-run'; } else if (!no.test(text)) out.issues.push({ column, code: 'unknown-choice', detail: `“${shown(text)}” is neither yes nor no.`, received: shown(text), expected: 'yes or no' });
        break;
      case 'material': { const m = choice(materials); if (m !== undefined) out.material = m; break; }
      case 'whorl': (out.whorls[n] ??= {}).name = text; break;
      case 'bobbin': (out.bobbins[n] ??= {}).name = text; break;
      default: out.name = text;
    }
  }

  private measure(out: RowRead, is: Is, text: string, i: number): void {
    const cache = this.caches[i]!;
    let cell = cache.get(text);
    if (cell === undefined) {
      const { decimalComma, heading } = this.columns[i]!;
      cell = readCell(text, is, decimalComma, heading);
      cell = { ...cell, json: this.heads[i]! + cell.json };
      if (cache.size >= mostRemembered) cache.clear();
      cache.set(text, cell);
    }
    out.read = out.read === '' ? cell.json : `${out.read},${cell.json}`;
    if (cell.issue !== undefined) { out.issues.push({ column: this.columns[i]!.heading, ...cell.issue }); if (cell.flag !== undefined) out.flags.push(cell.flag); return; }
    for (let k = 0; k < cell.measures.length; k++) {
      const found = cell.measures[k]!;
      out.measures++;
      if (Number.isNaN(found.si)) out.exact = false;
      const before = put(out, is, is.n + k, found);
      // The same thing in two columns: one of them, when they agree.
      if (before !== undefined) this.twice(out, before, found);
    }
  }

  private twice(out: RowRead, before: Measured, found: Measured): void {
    const across = (m: Measured): number => (m.measure === 'circumference' ? m.si / Math.PI : m.si);
    if (before.measure !== 'ratio' && found.measure !== 'ratio' && before.measure !== 'bandTurn' && found.measure !== 'bandTurn' && Math.abs(across(before) / across(found) - 1) <= 0.02) return;
    out.issues.push({ column: found.column, code: 'one-of', detail: `The same part was measured in “${before.column}” too, and they differ.`, received: `${before.text}; ${found.text}`, expected: 'one of them, or two that agree' });
  }
}
const moreDrives: Readonly<Record<string, Drive>> = { ...driveAliases, 'double': 'double-drive', dd: 'double-drive', 'scotch-brake': 'flyer-lead', st: 'flyer-lead', 'single-drive': 'flyer-lead', 'bobbin-brake': 'flyer-lead', 'flyer-brake': 'bobbin-lead' };

/** Puts a measure where it belongs. Gives what stood there already, which stays. */
function put(out: RowRead, is: Is, n: number, found: Measured): Measured | undefined {
  const into = <K extends string>(o: Partial<Record<K, Measured>>, key: K): Measured | undefined => {
    const before = o[key];
    if (before === undefined) o[key] = found;
    return before;
  };
  switch (is.part) {
    case 'driveWheel': return into(out, 'driveWheel');
    case 'whorl': return into(out.whorls[n] ??= {}, 'groove');
    case 'band': return into(out, 'band');
    case 'axle': return into(out, is.measure === 'farthest' ? 'farthest' : 'nearest');
    default: {
      const key = is.measure;
      return into(out.bobbins[n] ??= {}, key === 'core' || key === 'end' || key === 'full' || key === 'lengthBetweenEnds' || key === 'mass' ? key : 'groove');
    }
  }
}

const ways = { circumference: 'grooveCircumference', bandTurn: 'bandTurn', ratio: 'statedRatio' } as const;
const grooveOf = (m: Measured): Record<string, unknown> => ({ [ways[m.measure as keyof typeof ways] ?? 'grooveDiameter']: m.text });
/** The wheel of a row as any calculation takes it: what is asked alone and what is asked in bulk is the same. */
export function wheelOf(row: RowRead): Record<string, unknown> {
  if (row.profile !== undefined) return row.profile;
  const drive = row.drive ?? (row.bobbins.some((b) => b?.groove !== undefined) ? 'double-drive' : 'flyer-lead');
  const band = { ...(row.band === undefined ? {} : { thickness: row.band.text }), ...(row.material === undefined ? {} : { material: row.material }) };
  const whorls = row.whorls.flatMap((w, i) => (w?.groove === undefined ? [] : [{ name: w.name ?? `whorl ${i + 1}`, ...grooveOf(w.groove) }]));
  const bobbins = row.bobbins.flatMap((b, i) => (b === undefined ? [] : [{
    name: b.name ?? `bobbin ${i + 1}`, ...(b.groove === undefined ? {} : { grooves: [grooveOf(b.groove)] }), ...(b.core === undefined ? {} : { coreDiameter: b.core.text }), ...(b.end === undefined ? {} : { endDiameter: b.end.text }),
    ...(b.full === undefined ? {} : { fullDiameter: b.full.text }), ...(b.lengthBetweenEnds === undefined ? {} : { lengthBetweenEnds: b.lengthBetweenEnds.text }), ...(b.mass === undefined ? {} : { mass: b.mass.text }),
  }]));
  return {
    ...(row.name === undefined ? {} : { name: row.name.slice(0, 120) }), ...(row.driveWheel === undefined ? {} : { driveWheel: grooveOf(row.driveWheel) }), modes: [{ drive, ...(Object.keys(band).length === 0 ? {} : { band }) }],
    ...(whorls.length === 0 ? {} : { whorls }), ...(bobbins.length === 0 ? {} : { bobbins }), ...(row.condition === undefined ? {} : { condition: row.condition }),
  };
}

/** A problem as the reasons of a row. */
export const reasonsOf = (error: ProblemError): RowIssue[] => error.issues.map(({ pointer, ...issue }) => ({ ...(pointer === undefined || pointer === '' ? {} : { column: pointer }), ...issue }));
