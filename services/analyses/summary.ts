/** What the whole table shows, in words that a keeper of wheels reads. */
import { grists, twists } from './coverage.js';
import type { Fleet, Found } from './fleet.js';
import type { Flag } from './usual.js';
import type { Layout } from './intake.js';
import { spreadNames, spreadOf, type Spread } from './tally.js';

export interface Summary {
  readonly rows: number; readonly analysed: number; readonly rejected: number; readonly doNotRun: number;
  readonly drives: Record<string, number>; readonly drawsIn: Record<string, number>; readonly missing: Record<string, number>;
  readonly reasons: { readonly column?: string; readonly code: string; readonly rows: number }[];
  readonly cannotDrawIn: readonly number[];
  readonly flags: Record<string, number>; readonly flagged: readonly (Flag & { readonly at: number })[];
  readonly spreads: Record<string, Spread>;
  readonly coverage: { readonly grist: readonly number[]; readonly twist: readonly number[]; readonly wheels: number; readonly counts: readonly (readonly number[])[] };
  readonly columns: { readonly heading: string; readonly understood: boolean }[];
}

export function summaryOf(fleet: Fleet, found: Found, layout: Layout): Summary {
  const t = fleet.tally;
  return {
    rows: t.rows, analysed: t.analysed, rejected: t.rejected, doNotRun: t.doNotRun, drives: t.drives, drawsIn: t.drawsIn, missing: t.missing,
    reasons: Object.entries(t.reasons).map(([key, rows]) => { const [column = '', code = ''] = key.split('\t'); return { ...(column === '' ? {} : { column }), code: code || 'others', rows }; }).toSorted((a, b) => b.rows - a.rows),
    cannotDrawIn: t.cannot, flags: Object.fromEntries([...new Set([...Object.keys(found.flagged), ...Object.keys(t.slips)])].map((code) => [code, (found.flagged[code] ?? 0) + (t.slips[code] ?? 0)])), flagged: [...t.shown, ...found.shown].toSorted((a, b) => a.at - b.at),
    spreads: Object.fromEntries(spreadNames.flatMap((name) => { const s = spreadOf(t.spreads[name]); return s === undefined ? [] : [[name, s]]; })),
    coverage: { grist: grists, twist: twists, wheels: t.covered, counts: grists.map((_, g) => t.coverage.slice(g * twists.length, (g + 1) * twists.length)) },
    columns: layout.columns.map((c) => ({ heading: c.heading, understood: c.is !== undefined })),
  };
}
