/**
 * A Reading is a number as it is known: a value, perhaps with a standard uncertainty, or only an interval.
 * `wire` turns it into what a reply carries: the number at full precision and a text rounded as far as it is known.
 */
import { fromSI, metric, outUnit, type Kind, type Unit, type UnitChoice } from './quantity.js';

export interface Point {
  readonly value: number;
  /** Standard uncertainty (k = 1). Absent: not known. */
  readonly u?: number;
}
export interface Span {
  /** Absent: unbounded on that side. */
  readonly low?: number;
  readonly high?: number;
}
export type Reading = Point | Span;

export const isPoint = (r: Reading): r is Point => (r as Point).value !== undefined;
export const point = (value: number, u?: number): Point => (u === undefined ? { value } : { value, u });
export const span = (low: number | undefined, high: number | undefined): Span => ({
  ...(low === undefined ? {} : { low }),
  ...(high === undefined ? {} : { high }),
});

/** Coverage factor of every `plusMinus` (JCGM 100:2008, 6.2 and annex G): about 95 %. */
export const coverage = 2;

/** The interval within which the number lies: the span itself, or value ± 2u. */
export function extent(r: Reading): { low: number; high: number } {
  if (isPoint(r)) {
    const half = coverage * (r.u ?? 0);
    return { low: r.value - half, high: r.value + half };
  }
  return { low: r.low ?? -Infinity, high: r.high ?? Infinity };
}

/** One number to stand for the reading: its value, or the middle of a closed span, or its one bound. */
export function middle(r: Reading): number {
  if (isPoint(r)) return r.value;
  if (r.low !== undefined && r.high !== undefined) return (r.low + r.high) / 2;
  return r.low ?? r.high ?? Number.NaN;
}

export interface WirePoint { value: number; unit?: string; plusMinus?: number; text: string }
export interface WireSpan { low?: number; high?: number; unit?: string; text: string }
export type Wire = WirePoint | WireSpan;
export interface QPoint extends WirePoint { unit: string }
export interface QSpan extends WireSpan { unit: string }
/** A quantity in a reply. */
export type Q = QPoint | QSpan;
/** A ratio (`9.06 : 1`) or a plain number in a reply. */
export type R = WirePoint | WireSpan;

/** Decimal places that show `digits` significant figures of x. */
const placesFor = (x: number, digits: number): number =>
  x === 0 ? 0 : Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(x)) + 1e-12));
const round = (x: number, places: number): number => {
  const r = Number(x.toFixed(Math.min(places, 20)));
  return Object.is(r, -0) ? 0 : r;
};
/** Figures shown of a number whose uncertainty is not known: 9.06, 150, as a person would say it. */
const figures = 3;

function plain(x: number): string {
  if (x === 0) return '0';
  const size = Math.abs(x);
  if (size >= 1e-3 && size < 1e6) {
    // In whole steps of the third figure: the same as toPrecision there, at a tenth of its price.
    const step = size < 1e-2 ? 1e5 : size < 0.1 ? 1e4 : size < 1 ? 1e3 : size < 10 ? 100 : size < 100 ? 10 : size < 1000 ? 1 : size < 1e4 ? 0.1 : size < 1e5 ? 0.01 : 0.001;
    const steps = size * step;
    // Near a tie the product may fall on the wrong side of it.
    if (Math.abs(steps % 1 - 0.5) > 1e-9) { const n = Math.round(steps); const r = step >= 1 ? n / step : n * Math.round(1 / step); return String(x < 0 ? -r : r); }
  }
  const rounded = Number(x.toPrecision(figures));
  if (Math.abs(rounded) >= 1e-4 && Math.abs(rounded) < 1e15) return String(rounded);
  return rounded.toExponential().replace('e+', 'e');
}

/** Text of x when it is good to ± half. */
export function roundedBy(x: number, half: number): string {
  if (!(half > 0)) return plain(x);
  const places = placesFor(half, /^1/.test(half.toExponential()) ? 2 : 1);
  if (places > 15) return plain(x);
  if (places > 0) return round(x, places).toFixed(places);
  // A ± that begins with 1 keeps two figures here too: ± 140 must not become ± 100.
  const step = 10 ** (Math.floor(Math.log10(half) + 1e-12) - (half >= 10 && /^1/.test(half.toExponential()) ? 1 : 0));
  return String(Math.round(x / step) * step || 0);
}

/** Two figures; what a person would write with three as it stands is left so. */
function rough(x: number): string {
  const shown = plain(x);
  return Math.abs(Number(shown) - x) <= 1e-9 * Math.abs(x) ? shown : plain(Number(x.toPrecision(2)));
}
function spanText(low: number | undefined, high: number | undefined): string {
  if (low === undefined && high === undefined) return 'anything';
  if (low === undefined) return `at most ${plain(high!)}`;
  if (high === undefined) return `at least ${plain(low)}`;
  const least = Math.min(Math.abs(low) || Math.abs(high), Math.abs(high) || Math.abs(low));
  // Ends that lie far apart are each rounded by themselves, and roughly: nobody knows so wide a range to three figures.
  if (least > 0 && (least < 1e-4 || Math.max(Math.abs(low), Math.abs(high)) >= 2 * least)) return `${rough(low)} to ${rough(high)}`;
  const places = Math.min(15, placesFor(least, 3));
  const [a, b] = [round(low, places), round(high, places)];
  if (a === b) return plain(low) === plain(high) ? plain(low) : `${plain(low)} to ${plain(high)}`;
  // Both ends show as many places as either needs, 46.0 to 52.1; what is whole as it stands stays so, 7.5 to 8.
  const needed = Math.min(places, Math.max(...[a, b].map((x) => (String(x).split('.')[1] ?? '').length)));
  const end = (x: number, rounded: number): string => (Number.isInteger(x) ? String(x) : rounded.toFixed(needed));
  return `${end(low, a)} to ${end(high, b)}`;
}

const suffixes = new Map<Unit, string>();
function suffix(kind: Kind | 'ratio' | 'number', u: Unit | undefined): string {
  if (kind === 'ratio') return ' : 1';
  if (u === undefined || u.name === '1') return '';
  let text = suffixes.get(u);
  if (text === undefined) {
    const said = u.spoken ?? u.name;
    suffixes.set(u, (text = /^[%/]/.test(said) ? (said === '%' ? ' %' : said) : ` ${said}`));
  }
  return text;
}

/** What a reply carries for a reading of this kind. */
export function wire(kind: Kind, r: Reading, units?: UnitChoice): Q;
export function wire(kind: 'ratio' | 'number', r: Reading, units?: UnitChoice): R;
export function wire(kind: Kind | 'ratio' | 'number', r: Reading, units?: UnitChoice): Wire;
export function wire(kind: Kind | 'ratio' | 'number', r: Reading, units: UnitChoice = metric): Wire {
  const u = kind === 'ratio' || kind === 'number' ? undefined : outUnit(kind, units);
  const tail = suffix(kind, u);
  if (isPoint(r)) {
    const value = (u === undefined ? r.value : fromSI(r.value, u)) + 0;
    if (r.u === undefined) return u === undefined ? { value, text: plain(value) + tail } : { value, unit: u.name, text: plain(value) + tail };
    // A reciprocal unit turns the relative uncertainty over unchanged, to first order (JCGM 100, 5.1.2).
    const half = coverage * (u === undefined ? r.u : u.reciprocal ? Math.abs((value * r.u) / r.value) : fromSI(r.u, u));
    const text = roundedBy(value, half) + tail;
    return u === undefined ? { value, plusMinus: half, text } : { value, unit: u.name, plusMinus: half, text };
  }
  // An end that is nowhere is no end.
  let [low, high] = [r.low === -Infinity ? undefined : r.low, r.high === Infinity ? undefined : r.high];
  if (u !== undefined) {
    const [a, b] = [low === undefined ? undefined : fromSI(low, u), high === undefined ? undefined : fromSI(high, u)];
    [low, high] = u.reciprocal ? [b, a] : [a, b];
    if (u.reciprocal) [low, high] = [low === Infinity ? undefined : low, high === Infinity ? undefined : high];
  }
  const out: WireSpan = { text: spanText(low, high) + tail };
  return { ...(low === undefined ? {} : { low }), ...(high === undefined ? {} : { high }), ...(u === undefined ? {} : { unit: u.name }), ...out };
}

/** `9.06 ± 0.05 : 1`: for pages, pictures and embeds, where the ± stands beside the number. */
export function withPlusMinus(w: Wire): string {
  if (!('value' in w) || w.plusMinus === undefined || w.plusMinus === 0) return w.text;
  const places = placesFor(w.plusMinus, /^1/.test(w.plusMinus.toExponential()) ? 2 : 1);
  const half = places > 0 ? w.plusMinus.toFixed(Math.min(places, 15)) : roundedBy(w.plusMinus, w.plusMinus);
  const number = roundedBy(w.value, w.plusMinus);
  return w.text.startsWith(number) ? `${number} ± ${half}${w.text.slice(number.length)}` : `${w.text} ± ${half}`;
}
