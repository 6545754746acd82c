/** What a whole table holds: counts, and how its sizes and ratios are spread. Tallies of parts add up to that of the whole. */
import { cells, cover } from './coverage.js';
import { middleOf } from './known.js';
import type { Verdict } from './verdict.js';
import type { Flag } from './usual.js';
import type { OneRow } from './chunk.js';

/** Counts by logarithm: a step of half a per cent, so that the middle and the tails are known to a quarter of one, however many rows. */
const step = 0.005;
export type Histogram = Record<string, number>;
export const binOf = (x: number): number => Math.round(Math.log(x) / step);
export const ofBin = (bin: number): number => Math.exp(bin * step);
export function count(h: Histogram, x: number): void {
  if (!(x > 0) || !Number.isFinite(x)) return;
  const bin = binOf(x);
  h[bin] = (h[bin] ?? 0) + 1;
}
export interface Spread { readonly count: number; readonly low: number; readonly quarter: number; readonly middle: number; readonly threeQuarters: number; readonly high: number }
/** 5, 25, 50, 75 and 95 % of what was counted. Undefined: nothing was. */
export function spreadOf(h: Histogram): Spread | undefined {
  const bins = Object.entries(h).map(([bin, n]) => [Number(bin), n] as const).toSorted((a, b) => a[0] - b[0]);
  const all = bins.reduce((sum, [, n]) => sum + n, 0);
  if (all === 0) return undefined;
  const at = (share: number): number => {
    let seen = 0;
    for (const [bin, n] of bins) if ((seen += n) >= share * all) return ofBin(bin);
    return ofBin(bins.at(-1)![0]);
  };
  return { count: all, low: at(0.05), quarter: at(0.25), middle: at(0.5), threeQuarters: at(0.75), high: at(0.95) };
}

export interface Tally {
  rows: number; analysed: number; rejected: number; doNotRun: number;
  drives: Record<string, number>; drawsIn: Record<string, number>; missing: Record<string, number>;
  /** Why rows were refused, by column and code. */
  reasons: Record<string, number>;
  /** Sizes that no wheel can have, by what they probably are, and the first of them. */
  slips: Record<string, number>; shown: (Flag & { readonly at: number })[];
  /** The first few rows that cannot draw in. */
  cannot: number[];
  spreads: Record<SpreadName, Histogram>;
  /** Wheels that can make each grist and twist (coverage.ts), and of how many that is known. */
  coverage: number[]; covered: number;
}
export const spreadNames = ['driveWheel', 'whorl', 'bobbin', 'band', 'core', 'flyerRatio', 'bobbinPerFlyerTurn', 'leastTwist'] as const;
export type SpreadName = (typeof spreadNames)[number];
export const emptyTally = (): Tally => ({
  rows: 0, analysed: 0, rejected: 0, doNotRun: 0, drives: {}, drawsIn: {}, missing: {}, reasons: {}, slips: {}, shown: [], cannot: [], coverage: Array.from({ length: cells }, () => 0), covered: 0,
  spreads: Object.fromEntries(spreadNames.map((name) => [name, {}])) as Record<SpreadName, Histogram>,
});
const named = 50;
/** Kinds of reasons that are told apart; a table that is wrong in every cell must not fill the summary. */
const mostReasons = 200;

const add = (counts: Record<string, number>, name: string, n = 1, most = Infinity): void => {
  if (counts[name] === undefined && Object.keys(counts).length >= most) name = 'others';
  counts[name] = (counts[name] ?? 0) + n;
};

export function tallyRow(t: Tally, { row, line, ok, verdict }: OneRow): void {
  t.rows++;
  if (row.doNotRun) t.doNotRun++;
  if (!ok) {
    t.rejected++;
    for (const flag of row.flags) { add(t.slips, flag.code); if (t.shown.length < 20) t.shown.push({ at: row.row, ...flag }); }
    for (const issue of (JSON.parse(line) as { errors: { column?: string; code: string }[] }).errors) add(t.reasons, `${issue.column ?? ''}\t${issue.code}`, 1, mostReasons);
    return;
  }
  t.analysed++;
  tallyVerdict(t, verdict!);
  if (!row.doNotRun && cover(t.coverage, verdict!)) t.covered++;
  if ((verdict!.drawsIn === 'no' || verdict!.drawsIn === 'too-close-to-say') && t.cannot.length < named) t.cannot.push(row.row);
  const { spreads } = t;
  const across = (m: { si: number; measure: string } | undefined): number => (m === undefined || m.measure === 'ratio' ? Number.NaN : m.measure === 'circumference' || m.measure === 'bandTurn' ? m.si / Math.PI : m.si);
  count(spreads.driveWheel, across(row.driveWheel) * 1000);
  for (const w of row.whorls) if (w?.groove !== undefined) count(spreads.whorl, across(w.groove) * 1000);
  for (const b of row.bobbins) if (b !== undefined) { count(spreads.bobbin, across(b.groove) * 1000); count(spreads.core, (b.core?.si ?? Number.NaN) * 1000); }
  count(spreads.band, (row.band?.si ?? Number.NaN) * 1000);
}
function tallyVerdict(t: Tally, v: Verdict): void {
  add(t.drives, v.drive);
  add(t.drawsIn, v.drawsIn);
  for (const part of v.missing) add(t.missing, part);
  for (const w of v.whorls) count(t.spreads.flyerRatio, middleOf(w.flyerRatio));
  for (const p of v.pairs) {
    if (p.bobbinPerFlyerTurn !== undefined) count(t.spreads.bobbinPerFlyerTurn, middleOf(p.bobbinPerFlyerTurn));
    if (p.leastTwist !== undefined) count(t.spreads.leastTwist, middleOf(p.leastTwist.empty));
  }
}

/** Adds `more` to `t`. */
export function addTally(t: Tally, more: Tally): void {
  for (const key of ['rows', 'analysed', 'rejected', 'doNotRun', 'covered'] as const) t[key] += more[key];
  t.shown.push(...more.shown.slice(0, Math.max(0, 20 - t.shown.length)));
  for (const key of ['drives', 'drawsIn', 'missing', 'slips'] as const) for (const [name, n] of Object.entries(more[key])) add(t[key], name, n);
  for (const [name, n] of Object.entries(more.reasons)) add(t.reasons, name, n, mostReasons);
  for (let i = 0; i < t.coverage.length; i++) t.coverage[i]! += more.coverage[i]!;
  t.cannot.push(...more.cannot.slice(0, named - t.cannot.length));
  for (const name of spreadNames) for (const [bin, n] of Object.entries(more.spreads[name])) t.spreads[name][bin] = (t.spreads[name][bin] ?? 0) + n;
}
