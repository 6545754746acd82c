/** Verdict lines as they go out: NDJSON with what was found by comparing, and CSV. Pure. */
import { csvLine } from '../foundation/csv.js';
import type { Flag } from './usual.js';
import type { Layout } from './intake.js';
import { middleOf, type Known } from './known.js';
import type { PairVerdict, Verdict } from './verdict.js';

export interface Part { readonly firstRow: number; readonly result: string; readonly flags: string | undefined }

/** Lines of a chunk, each with its flags. */
export function* linesOfPart({ firstRow, result, flags }: Part, rejectedOnly = false): Generator<string, void, undefined> {
  const found = flags === undefined ? undefined : new Map(JSON.parse(flags) as [number, Flag[]][]);
  let row = firstRow;
  for (const line of result.split('\n')) {
    const own = found?.get(row);
    row++;
    if (rejectedOnly && !line.startsWith('{"verdict":"rejected"')) continue;
    yield own === undefined ? line : `${line.slice(0, -1)},"flags":${JSON.stringify(own)}}`;
  }
}
export const endRecord = (counts: { readonly rows: number; readonly analysed: number; readonly rejected: number }): string => JSON.stringify({ end: true, rows: counts.rows, analysed: counts.analysed, rejected: counts.rejected });

type Line = Partial<Verdict> & { verdict: string; row: number; line: number; name?: string; doNotRun: boolean; flags?: Flag[]; errors?: { column?: string; code: string; detail: string; received?: string; expected?: string }[]; read: Record<string, { text: string }>; kept: Record<string, string> };
const number = (k: Known | undefined): string | number | undefined => (k === undefined ? undefined : typeof k === 'number' ? k : 'value' in k ? k.value : `${k.low ?? ''}–${k.high ?? ''}`);
const flagText = ({ code, part, read, probably, row }: Flag): string => (code === 'duplicate' ? `duplicate of row ${row}` : `${code}: ${part}, read ${read} mm, probably ${probably} mm`);

/** Columns of the results as CSV, for a table understood so: its own columns, then what was found. */
export function csvOf(layout: Layout): { readonly head: readonly string[]; readonly row: (line: string) => (string | number | boolean | undefined)[] } {
  const most = (part: 'whorl' | 'bobbin'): number => Math.max(1, ...layout.columns.map((c) => (c.is?.part === part ? c.is.n + 1 : 0)));
  const [whorls, bobbins] = [most('whorl'), most('bobbin')];
  const own = layout.columns.map((c) => c.heading);
  const count = (n: number, name: string): string[] => Array.from({ length: n }, (_, i) => `${name}_${i + 1}`);
  const head = ['row', 'line', 'verdict', 'do_not_run', ...own, 'drive', 'draws_in', ...count(whorls, 'flyer_ratio'), ...count(bobbins, 'bobbin_ratio'), 'bobbin_per_flyer_turn', 'least_twist_empty_turns_per_m', 'most_drawn_in_full_mm', 'one_setting_serves', 'band_length_mm', 'missing', 'taken', 'flags', 'errors'];
  return {
    head,
    row: (text) => {
      const l = JSON.parse(text) as Line;
      const pairs = (of: (p: PairVerdict) => Known | string | undefined): string | number | undefined => {
        const all = (l.pairs ?? []).map((p) => { const x = of(p); return typeof x === 'string' ? x : number(x); });
        return all.length === 1 ? all[0] : all.every((x) => x === undefined) ? undefined : all.map((x) => x ?? '').join(' | ');
      };
      const spread = (list: readonly Known[], n: number): (string | number | undefined)[] => Array.from({ length: n }, (_, i) => (i === n - 1 && list.length > n ? list.slice(i).map(number).join(' | ') : number(list[i])));
      return [
        l.row, l.line, l.verdict, l.doNotRun, ...own.map((h) => l.read[h]?.text ?? l.kept[h]), l.drive, l.drawsIn, ...spread((l.whorls ?? []).map((w) => w.flyerRatio), whorls), ...spread((l.bobbins ?? []).map((b) => b.bobbinRatio), bobbins),
        pairs((p) => p.bobbinPerFlyerTurn), pairs((p) => p.leastTwist && middleOf(p.leastTwist.empty)), pairs((p) => p.mostDrawnInPerWheelTurn && middleOf(p.mostDrawnInPerWheelTurn.full)), pairs((p) => p.oneSettingServes), pairs((p) => p.bandLength),
        l.missing?.join('; '), l.taken?.join('; '), l.flags?.map(flagText).join('; '), l.errors?.map((e) => `${e.column === undefined ? '' : `${e.column}: `}${e.detail} Read: ${e.received ?? ''}`).join(' | '),
      ];
    },
  };
}
/** Rejects as CSV: a line for each reason. */
export const rejectHead = ['row', 'line', 'do_not_run', 'column', 'code', 'detail', 'received', 'expected', 'try'] as const;
export function rejectRows(text: string): (string | number | boolean | undefined)[][] {
  const l = JSON.parse(text) as Omit<Line, 'errors'> & { errors: { column?: string; code: string; detail: string; received?: string; expected?: string; try?: string }[] };
  return l.errors.map((e) => [l.row, l.line, l.doNotRun, e.column, e.code, e.detail, e.received, e.expected, e.try]);
}
export { csvLine };
