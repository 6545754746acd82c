/**
 * A measure as a person types it, read into SI: `22 1/16 in`, `520 ± 4 mm`, `8-12 tpi`, `about 1200 yds/lb`, `18+`,
 * `5' 3/4"`, `16 50 gram balls`. What can be read in two ways is refused with both readings.
 */
import { numeral, plainSigns, type Numeral } from './numerals.js';
import { findUnit, kinds, toSI, unitNames, type Kind, type Unit } from './quantity.js';
import { coverage, type Reading } from './reading.js';
import type { Issue } from './problems.js';
import { yarnNumber } from './yarn-number.js';

export type Remark = 'approximate' | 'decimal-comma' | 'multiplied' | 'ply-order';
export interface Read {
  readonly reading: Reading;
  readonly remarks: readonly Remark[];
  /** Plies, where a yarn number names them (`2/24 worsted`). */
  readonly plies?: number;
}
export type Refusal = Omit<Issue, 'pointer' | 'parameter'>;
export type TextKind = Kind | 'ratio' | 'number';
export const isRefusal = (x: object): x is Refusal => 'code' in x;

/** One number in SI with its unit, before it becomes a reading. */
export interface Simple { value: number; unit?: Unit; comma?: true; multiplied?: true; plies?: number; flipped?: true; low?: number; high?: number }

const approximately = /^(?:~|about|approximately|approx\.?|circa|ca\.?|c\.|around|roughly|some|nearly|almost|ungefähr|etwa|environ|cirka)\s*(?=[\d.~<>(a-z])/i;
const lowWords = /^(?:>=?|over|more than|at least|above|no less than|not less than|min(?:imum)?\.?(?: of)?)\s*(?=[\d.])/i;
const highWords = /^(?:<=?|under|less than|at most|below|up to|no more than|not more than|max(?:imum)?\.?(?: of)?)\s*(?=[\d.])/i;
const plusMinus = /\s*(?:\+\s*\/?\s*-|±|(?<!\d)\/-|\s\/\s?-|(?<=\d)\/-|\(?plus or minus|plus\/minus)\s*/i;

export function expected(kind: TextKind): string {
  if (kind === 'ratio') return 'a ratio such as 9:1, or a number more than 0';
  if (kind === 'number') return 'a number';
  const info = kinds[kind];
  return `${info.says} with its unit (${unitNames(kind).slice(0, 8).join(', ')}), such as ${info.example}`;
}
export const refuse = (code: Refusal['code'], detail: string, received: string, kind: TextKind, more: Partial<Refusal> = {}): Refusal => ({
  code, detail, received: received.length > 120 ? `${received.slice(0, 117)}…` : received, expected: expected(kind), ...more,
});

/** Reads `text` as a quantity of this kind, in SI. */
export function readText(text: string, kind: Kind | 'number'): Read | Refusal {
  if (text.length > 200) return refuse('unreadable-quantity', 'The text is too long for a measure.', text, kind);
  let s = plainSigns(text);
  const remarks: Remark[] = [];
  let bound: 'low' | 'high' | undefined;
  for (let again = true; again; ) {
    again = false;
    const a = approximately.exec(s);
    if (a !== null) { s = s.slice(a[0].length).trim(); remarks.push('approximate'); again = true; }
    const l = lowWords.exec(s);
    const h = l === null ? highWords.exec(s) : null;
    if (l !== null) { bound = 'low'; s = s.slice(l[0].length).trim(); again = true; }
    if (h !== null) { bound = 'high'; s = s.slice(h[0].length).trim(); again = true; }
  }
  s = s.replace(/^an?\s+(?=[\d.])/i, '');
  const negative = /^-\s*(?=[\d.])/.exec(s);
  if (negative !== null) {
    const r = readText(s.slice(negative[0].length), kind);
    return isRefusal(r) || !('value' in r.reading) ? r : { ...r, reading: { ...r.reading, value: -r.reading.value } };
  }
  const beside = /^([^()]+?)\s*\(([^()]+)\)$/.exec(s);
  if (beside !== null && kind !== 'number') {
    const twice = saidTwice(beside[1]!, beside[2]!, kind, text);
    if (twice !== undefined) return twice;
  }
  const grouped = /^(\d{1,3})((?: \d{3})+)(?![\d/.,])/.exec(s);
  if (grouped !== null && !new RegExp(`${things}$`, 'i').test(s)) {
    const joined = s.replace(grouped[0], grouped[0].replaceAll(' ', ''));
    if (kind !== 'mass' && kind !== 'length') return readText(joined, kind);
    return ambiguous({ ambiguous: [joined, s.replace(' ', ' x ')] }, text, kind);
  }
  const fast = simple(s, kind);
  if (fast !== undefined && !isRefusal(fast) && bound === undefined) return finish(fast, fast, undefined, remarks, kind, text);
  const tail = /\s*(?:\bor (more|over|above|less|under|fewer)|\band (up|over))\.?$/i.exec(s);
  if (tail !== null) { bound = /less|under|fewer/i.test(tail[0]) ? 'high' : 'low'; s = s.slice(0, tail.index); }
  const sign = /^(.*?[\d.])\s*(\++|-)\s*([^\d+-]*)$/.exec(s);
  if (sign !== null) { bound = sign[2] === '-' ? 'high' : 'low'; s = `${sign[1]}${sign[3] === '' ? '' : ` ${sign[3]}`}`; }
  else { const end = /^(.*[^\s+-])\s*(\++)$/.exec(s); if (end !== null) { bound = 'low'; s = end[1]!; } }
  if (bound !== undefined) {
    const one = simple(s, kind);
    if (one === undefined) return unreadable(s, text, kind);
    if (isRefusal(one)) return one;
    const r = finish(one, one, undefined, remarks, kind, text);
    return isRefusal(r) ? r : { ...r, reading: boundOf(one, bound) };
  }
  return spread(s, kind, remarks, text) ?? (fast !== undefined && isRefusal(fast) ? fast : unreadable(s, text, kind));
}

/** `56 cm (22 in)`: the same measure twice, or `2 1/4 (ounces)`: the unit in brackets. */
function saidTwice(outer: string, inner: string, kind: Kind, text: string): Read | Refusal | undefined {
  if (findUnit(kind, inner) !== undefined) return readText(`${outer} ${inner}`, kind);
  const [a, b] = [readText(outer, kind), readText(inner, kind)];
  if (isRefusal(a) || isRefusal(b) || !('value' in a.reading) || !('value' in b.reading)) return undefined;
  if (Math.abs(a.reading.value / b.reading.value - 1) <= 0.02) return a;
  return refuse('ambiguous-number', `The two measures differ: ${outer} is not ${inner}.`, text, kind, { try: outer });
}

/** At least n of a reciprocal unit (over 700 yd/oz) is at most so much in SI. */
function boundOf(one: Simple, bound: 'low' | 'high'): Reading {
  const side = one.unit?.reciprocal ? (bound === 'low' ? 'high' : 'low') : bound;
  return side === 'low' ? { low: one.value } : { high: one.value };
}

/** `a ± b`, `a (± b)`, `a - b`, `a to b`, `between a and b`. */
function spread(s: string, kind: Kind | 'number', remarks: Remark[], text: string): Read | Refusal | undefined {
  const bare = s.replace(/[()]/g, ' ').trim();
  const pm = plusMinus.exec(bare);
  if (pm !== null && pm.index > 0) {
    const right = bare.slice(pm.index + pm[0].length).trim();
    const left = bare.slice(0, pm.index).trim();
    const percent = /^([\d.,/ ]+?)\s*%$/.exec(right);
    const unitText = /[a-z"'%/].*$/i.exec(right.replace(/^[\d.,/\s]+/, ''))?.[0] ?? '';
    const a = simple(left, kind, unitText);
    if (a === undefined || isRefusal(a)) return a;
    const b = percent !== null && kind !== 'share' ? numeral(percent[1]!) : simple(right, kind, a.unit?.name ?? '');
    if (b === undefined) return undefined;
    if (isRefusal(b)) return b;
    if ('ambiguous' in b) return ambiguous(b, text, kind);
    const relative = percent !== null && kind !== 'share' ? b.value / 100 : undefined;
    const half = relative !== undefined ? Math.abs(a.value * relative)
      : a.unit?.reciprocal ? Math.abs((a.value * toSI(1, a.unit)) / ((b as Simple).value * inUnit(a))) : (b as Simple).value;
    return finish(a, a, half, remarks, kind, text);
  }
  const words = /^(?:between|from)\s+(.+?)\s+(?:and|to)\s+(.+)$/i.exec(bare) ?? /^(.+?)\s*(?:\bto\b|\bbis\b|\.\.+)\s*(.+)$/i.exec(bare);
  const cuts: [string, string][] = words === null ? [] : [[words[1]!, words[2]!]];
  for (let i = bare.indexOf('-', 1); i > 0; i = bare.indexOf('-', i + 1)) cuts.push([bare.slice(0, i).trim(), bare.slice(i + 1).trim()]);
  for (const [l, r] of cuts) {
    const b = simple(r, kind);
    if (b === undefined) continue;
    if (isRefusal(b)) { if (b.code === 'missing-unit' || b.code === 'ambiguous-number') return { ...b, received: text }; continue; }
    const a = simple(l, kind, b.unit?.name ?? '');
    if (a === undefined || isRefusal(a)) { if (a !== undefined && a.code === 'ambiguous-number') return a; continue; }
    return finish(a, b, undefined, remarks, kind, text);
  }
  return undefined;
}
const inUnit = (a: Simple): number => toSI(1, a.unit!) / a.value;

function finish(a: Simple, b: Simple, half: number | undefined, remarks: Remark[], kind: TextKind, text: string): Read | Refusal {
  const all = [...remarks, ...(a.comma || b.comma ? ['decimal-comma' as const] : []), ...(a.multiplied ? ['multiplied' as const] : []), ...(a.flipped ? ['ply-order' as const] : [])];
  const plies = a.plies === undefined ? {} : { plies: a.plies };
  if (a === b) {
    if (!Number.isFinite(a.value) && a.low === undefined) return refuse('number-too-large', 'The number is beyond what can be computed.', text, kind);
    return { reading: half === undefined ? { value: a.value } : { value: a.value, u: half / coverage }, remarks: all, ...plies };
  }
  // Both ends carry the unit of the typed text, so which is smaller is judged as typed.
  const [low, high] = a.unit?.reciprocal ? [b.value, a.value] : [a.value, b.value];
  if (low > high) return refuse('range-reversed', 'The first end of the range is larger than the second.', text, kind);
  return { reading: { low, high }, remarks: all, ...plies };
}

const ambiguous = (n: { ambiguous: readonly string[] }, text: string, kind: TextKind): Refusal =>
  refuse('ambiguous-number', `This can be read as ${n.ambiguous.join(' or as ')}.`, text, kind, { try: n.ambiguous[0]! });

function unreadable(s: string, text: string, kind: Kind | 'number'): Refusal {
  const n = numeral(s);
  const rest = n === undefined ? '' : s.slice(n.text.length).trim();
  if (n !== undefined && kind !== 'number' && /^[a-zµμ°'"%²³*·/.\d ]+$/i.test(rest) && rest !== '') {
    return refuse('unknown-unit', `“${rest.slice(0, 40)}” is not a unit that is known here.`, text, kind);
  }
  return refuse('unreadable-quantity', 'This cannot be read as a measure.', text, kind);
}

/** One number with its unit, or a compound (5 ft 3 in), a product (16 50 gram balls), a yarn number. Undefined: not of that form. */
export function simple(s: string, kind: Kind | 'number', unitIfNone = ''): Simple | Refusal | undefined {
  if (kind === 'grist' && /^\d+(?:[.,]\d+)?\s*\/\s*\d/.test(s)) {
    const plied = yarnNumber(s);
    if (plied !== undefined) return plied;
  }
  const n = numeral(s);
  if (n === undefined) {
    if (kind === 'grist') return yarnNumber(s);
    return prefixed(s, kind);
  }
  const rest = s.slice(n.text.length).trim();
  if ('ambiguous' in n) {
    return ambiguous({ ambiguous: n.ambiguous.map((a) => `${a} ${rest}`.trim()) }, s, kind);
  }
  const comma = n.decimalComma === undefined ? {} : { comma: true as const };
  if (kind === 'number') {
    if (rest !== '' && !/^(?:turns?|treadles?|times|x|plies|ply|strokes?|bumps?|wraps?|fibres?)\.?$/i.test(rest)) return undefined;
    return { value: n.value, ...comma };
  }
  const unit = findUnit(kind, rest === '' ? unitIfNone : rest);
  if (unit !== undefined) return { value: toSI(n.value, unit), unit, ...comma };
  if (kind === 'grist') {
    const y = yarnNumber(s);
    if (y !== undefined) return y;
  }
  if (rest === '') return missingUnit(n, s, kind);
  return compound(n, rest, kind) ?? product(n, rest, kind);
}

function missingUnit(n: { value: number }, s: string, kind: Kind): Refusal {
  const { metric, imperial } = kinds[kind];
  const small = kind === 'part' ? n.value < 30 && !Number.isInteger(n.value) : false;
  const offer = small ? imperial : metric;
  const spoken = kinds[kind].units.find((u) => u.name === offer)?.spoken ?? offer;
  const offers = [...new Set([metric, imperial])].map((u) => `${s} ${kinds[kind].units.find((x) => x.name === u)?.spoken ?? u}`);
  return refuse('missing-unit', `The unit is missing: is it ${offers.join(' or ')}?`, s, kind, { try: /^[/%]/.test(spoken) ? `${s}${spoken}` : `${s} ${spoken}` });
}

/** `5' 3/4"`, `60 ft 1 in`, `2 lb 3 oz`: each smaller unit in turn. */
function compound(first: Extract<Numeral, { value: number }>, after: string, kind: Kind): Simple | undefined {
  let rest = after;
  let total = 0;
  let n: Extract<Numeral, { value: number }> = first;
  let last: Unit | undefined;
  for (;;) {
    const word = /^(?:''|["']|[a-zµ]+\.?)/i.exec(rest)?.[0];
    if (word === undefined) return undefined;
    const unit = findUnit(kind, word);
    if (unit === undefined || unit.reciprocal || (last !== undefined && toSI(1, unit) >= toSI(1, last))) return undefined;
    total += toSI(n.value, unit);
    last = unit;
    rest = rest.slice(word.length).replace(/^\s*(?:,|and\b|&)?\s*/i, '');
    if (rest === '') return { value: total, unit };
    const next = numeral(rest);
    if (next === undefined || 'ambiguous' in next) return undefined;
    n = next;
    rest = rest.slice(next.text.length).trim();
  }
}

const things = '(?:balls?|skeins?|hanks?|cones?|bobbins?|braids?|bumps?|bags?|cakes?)';
/** `16 50 gram balls`, `16 x 50 g`, `3 skeins of 100 g`: so many of so much. */
function product(count: { value: number }, rest: string, kind: Kind): Simple | undefined {
  if (kind !== 'mass' && kind !== 'length') return undefined;
  const m = new RegExp(`^(?:x\\s*|${things}\\s*(?:of|at|à)?\\s*)?(.+?)(?:\\s*-?\\s*${things})?(?:\\s+each)?$`, 'i').exec(rest);
  if (m === null || !(/^x|^[a-z]/i.test(rest) || new RegExp(`${things}$`, 'i').test(rest))) return undefined;
  const each = numeral(m[1]!.replace(/-(?=[a-z])/i, ' '));
  if (each === undefined || 'ambiguous' in each) return undefined;
  const unit = findUnit(kind, m[1]!.replace(/-(?=[a-z])/i, ' ').slice(each.text.length).trim());
  return unit === undefined || unit.reciprocal ? undefined : { value: count.value * toSI(each.value, unit), unit, multiplied: true };
}

/** `tpi 8`, `wpi: 12`: the unit before the number. */
function prefixed(s: string, kind: Kind | 'number'): Simple | undefined {
  const m = kind === 'number' ? null : /^([a-z/]+)\s*[:=]?\s*([\d.,/ ]+)$/i.exec(s);
  if (m === null) return undefined;
  const n = numeral(m[2]!);
  const unit = findUnit(kind as Kind, m[1]!);
  if (n === undefined || 'ambiguous' in n || unit === undefined || n.text.length !== m[2]!.length) return undefined;
  return { value: toSI(n.value, unit), unit, ...(n.decimalComma ? { comma: true as const } : {}) };
}
