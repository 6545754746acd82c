/** One measure against what is wanted: how far off, whether that is real, whether it is near enough, and how many measurements would tell. */
import { coverage, isPoint, middle, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import type { Kind, UnitChoice } from '../../foundation/quantity.js';
import type { Notes } from '../../foundation/notes.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import * as f from './formula.js';
import type { Measured } from './measured.js';
import * as notes from './notes.js';

export const whats = ['grist', 'wraps', 'twist'] as const;
export type What = (typeof whats)[number];
export const differs = ['yes', 'no', 'not-known'] as const;
export const nearEnoughs = ['yes', 'no', 'too-close-to-say'] as const;
export const directions = ['thicker', 'finer', 'more-twist', 'less-twist', 'as-wanted'] as const;
export interface Compared {
  what: What; measured: Q; wanted: Q; off: Q; direction: (typeof directions)[number]; differs: (typeof differs)[number]; nearEnough?: (typeof nearEnoughs)[number];
  repeats?: { count: R; spread: Q; standardError: Q; halfWidth: Q }; measurementsNeeded?: R; measurementsMore?: R;
}

/** Where a share may lie: its value with twice its standard uncertainty, or its interval. */
function span(share: Reading): { low: number; high: number } | undefined {
  if (!isPoint(share)) return { low: share.low ?? -Infinity, high: share.high ?? Infinity };
  return share.u === undefined ? undefined : { low: share.value - coverage * share.u, high: share.value + coverage * share.u };
}

export function compare(what: What, measured: Measured, wanted: Expr, within: number | undefined, k: Knowns, out: Notes, units: UnitChoice): Compared {
  const kind: Kind = what;
  const off = k.reading(expr((m, w) => f.shareOff({ measured: m, wanted: w }), measured.value, wanted));
  const where = span(off);
  const value = middle(off);
  const thicker = what === 'wraps' ? value < 0 : value > 0;
  const result: Compared = {
    what, measured: wire(kind, k.reading(measured.value), units), wanted: wire(kind, k.reading(wanted), units),
    off: wire('share', off, units),
    direction: Math.abs(value) < 1e-12 ? 'as-wanted' : what === 'twist' ? (value > 0 ? 'more-twist' : 'less-twist') : thicker ? 'thicker' : 'finer',
    differs: where === undefined ? 'not-known' : where.low > 0 || where.high < 0 ? 'yes' : 'no',
  };
  if (where === undefined) out.warn(notes.measuredOnce);
  if (within !== undefined) {
    const { low, high } = where ?? { low: value, high: value };
    const inside = low >= -within && high <= within;
    const outside = low > within || high < -within;
    result.nearEnough = where === undefined ? 'too-close-to-say' : inside ? 'yes' : outside ? 'no' : 'too-close-to-say';
  }
  const { repeated } = measured;
  if (repeated === undefined) return result;
  const { count, spread, half } = repeated;
  result.repeats = { count: wire('number', { value: count }), spread: wire('share', { value: spread }, units), standardError: wire('share', { value: spread / Math.sqrt(count) }, units), halfWidth: wire('share', { value: half }, units) };
  if (count < 3) out.warn(notes.twoMeasured);
  const open = within === undefined ? result.differs === 'no' : result.nearEnough === 'too-close-to-say';
  if (!open || !isPoint(off) || spread === 0) return result;
  // What stays unsure however often one measures: what is wanted, and the ± of the measuring itself. In shares of the wanted value.
  const scale = 1 + value;
  const other = Math.sqrt(Math.max(0, (coverage * (off.u ?? 0)) ** 2 - (half * scale) ** 2));
  const gap = within === undefined ? Math.abs(value) : Math.abs(Math.abs(value) - within);
  const needed = f.measurementsToTell({ spread: spread * scale, gap, other });
  if (needed === undefined || needed <= count) { if (gap <= other) out.warn(notes.otherTooWide); return result; }
  result.measurementsNeeded = wire('number', { value: needed });
  result.measurementsMore = wire('number', { value: needed - count });
  return result;
}
