/**
 * A measure as a person types it, read into SI: `22 1/16 in`, `520 ± 4 mm`, `8-12 tpi`, `about 1200 yds/lb`, `18+`,
 * `5' 3/4"`, `16 50 gram balls`. What can be read in two ways is refused with both readings.
 */
import { numeral, plainSigns, plainWords, type Numeral } from './numerals.js';
import { perUnit, things } from './per-unit.js';
import { findUnit, kinds, toSI, unitNames, type Kind, type Unit } from './quantity.js';
import { coverage, extent, type Reading } from './reading.js';
import type { Issue } from './problems.js';
import { yarnNumber } from './yarn-number.js';

export type Remark = 'approximate' | 'decimal-comma' | 'multiplied' | 'ply-order';
export interface Read {
  readonly reading: Reading;
  readonly remarks: readonly Remark[];
  /** Plies, where a yarn number names them (`2/24 worsted`). */
  readonly plies?: number;
  /** Typed in an indirect yarn number: the larger, the finer. */
  readonly reciprocal?: true;
}
export type Refusal = Omit<Issue, 'pointer' | 'parameter'>;
export type TextKind = Kind | 'ratio' | 'number';
export const isRefusal = (x: object): x is Refusal => 'code' in x;

/** One number in SI with its unit, before it becomes a reading. */
export interface Simple { value: number; unit?: Unit; comma?: true; multiplied?: true; plies?: number; flipped?: true; low?: number; high?: number }

const roughWords = '(?:~|about|approximately|approx\\.?|circa|ca\\.?|c\\.|around|roughly|some|nearly|almost|ungefähr|etwa|environ|cirka)';
const roughFirst = new RegExp(`^${roughWords}\\s*(?=[\\d.~<>(a-z])`, 'i');
const roughLast = /\s*(?:\(?\b(?:approximately|approx|circa|ca|roughly|about)\b\.?\)?|\bor so\b|\bgive or take\b)\.?$/i;
const roughWithin = /^([\d.,/ ]*\d)\s*(?:-?ish\b|\bor so\b)/i;
const lowWords = /^(?:>=?|over|more than|at least|above|no less than|not less than|not under|min(?:imum)?\.?(?: of)?)\s*(?=[\d.])/i;
const highWords = /^(?:<=?|under|less than|at most|below|up to|no more than|not more than|not over|max(?:imum)?\.?(?: of)?)\s*(?=[\d.])/i;
const boundLast = /\s*(?:\bor (?:(more|over|above)|less|under|fewer)|\band (up|over)|\b(at least|minimum)|\b(?:at most|max|maximum|tops))\.?$/i;
const boundWithin = /^([\d.,/ ]*\d)\s*(?:or (more|over|above)|or less|or under|or fewer|and (up|over))\b/i;
const plusMinus = /\s*(?:\+\s*\/?\s*-|±|(?<!\d)\/-|\s\/\s?-|(?<=\d)\/-|\(?plus or minus|plus\/minus|\(?give or take)\s*/i;

/** The rest of `about 45 mm`, `45 mm or so`, `45ish mm`; undefined when nothing says that it is rough. */
export function roughly(s: string): string | undefined {
  const first = roughFirst.exec(s);
  if (first !== null) { const rest = s.slice(first[0].length).trim(); return roughly(rest) ?? rest; }
  const last = roughLast.exec(s);
  if (last !== null && last.index > 0) return s.slice(0, last.index);
  return roughWithin.test(s) ? s.replace(roughWithin, '$1') : undefined;
}

/** `over 9`, `9 or more`, `18+ wpi`, `8- wpi`, `9:1+`: which side is known, and the text without it. A hyphen before a unit, 10-inch, is no bound. */
export function bounded(s: string): { side: 'low' | 'high'; rest: string } | undefined {
  const low = lowWords.exec(s);
  if (low !== null) return { side: 'low', rest: s.slice(low[0].length).trim() };
  const high = highWords.exec(s);
  if (high !== null) return { side: 'high', rest: s.slice(high[0].length).trim() };
  const last = boundLast.exec(s);
  if (last !== null && last.index > 0) return { side: last[1] ?? last[2] ?? last[3] ? 'low' : 'high', rest: s.slice(0, last.index) };
  const within = boundWithin.exec(s);
  if (within !== null) return { side: within[2] ?? within[3] ? 'low' : 'high', rest: `${within[1]}${s.slice(within[0].length)}` };
  const sign = /^(.*[\d.])(?:\s*(\++(?![\d.\s]*\/?\s*-))|(-)(?=\s|$))\s*([^\d+-]*)$/.exec(s) ?? /^(.*[^\s+-])(?:\s*(\++)|(?<=[a-z"'])(-))()$/i.exec(s);
  if (sign === null) return undefined;
  const after = sign[4]!;
  return { side: sign[3] === undefined ? 'low' : 'high', rest: after === '' || after.startsWith(':') ? `${sign[1]}${after}` : `${sign[1]} ${after}` };
}

export function expected(kind: TextKind): string {
  if (kind === 'ratio') return 'a ratio such as 9:1, or a number more than 0';
  if (kind === 'number') return 'a number';
  const info = kinds[kind];
  return `${info.says} with its unit (${unitNames(kind).slice(0, 8).join(', ')}), such as ${info.example}`;
}
export const refuse = (code: Refusal['code'], detail: string, received: string, kind: TextKind, more: Partial<Refusal> = {}): Refusal => ({
  code, detail, received: received.length > 120 ? `${received.slice(0, 117)}…` : received, expected: expected(kind), ...more,
});

const quick = /^(\d{1,12}(?:\.\d{1,12})?) ?([^\d\s,.+-][^\d]{0,20})$/;

/** Reads `text` as a quantity of this kind, in SI. */
export function readText(text: string, kind: Kind | 'number'): Read | Refusal {
  const m = kind === 'number' ? null : quick.exec(text);
  if (m !== null) {
    const unit = findUnit(kind as Kind, m[2]!);
    if (unit !== undefined) return { reading: { value: toSI(Number(m[1]), unit) }, remarks: [] };
  }
  if (text.length > 200) return refuse('unreadable-quantity', 'The text is too long for a measure.', text, kind);
  const r = slowly(plainSigns(text), kind, text);
  // What is offered is what was typed, with its ± or +, and a unit after it.
  return isRefusal(r) && r.code === 'missing-unit' && kind !== 'number' ? missingUnit(text.trim(), kind) : r;
}

function slowly(typed: string, kind: Kind | 'number', text: string): Read | Refusal {
  const first = simple(typed, kind);
  if (first !== undefined && !isRefusal(first)) return finish(first, first, undefined, [], kind, text);
  let s = plainWords(typed).replace(/^\+\s*(?=[\d.])/, '');
  if (kind === 'part') s = s.replace(/^[øØ⌀]\s*/, '').replace(/\s*(?:\bdia(?:m(?:eter)?)?\b\.?|\bacross|\bthick|\bwide|[øØ⌀])$/i, '');
  if (kind === 'mass' || kind === 'length') s = s.replace(/\s+of\s+[a-z][a-z ]*$/i, '');
  const before = kind === 'number' ? null : /^([a-z][a-z/. -]*)(?:[:=] ?)?(\d[^a-z]*)$/i.exec(s);
  if (before !== null && findUnit(kind as Kind, before[1]!.trim()) !== undefined) s = `${before[2]} ${before[1]!.trim()}`;
  const rough = roughly(s);
  if (rough !== undefined) {
    const r = slowly(rough, kind, text);
    return isRefusal(r) ? r : { ...r, remarks: ['approximate', ...r.remarks.filter((x) => x !== 'approximate')] };
  }
  const negative = /^-\s*(?=[\d.])/.exec(s);
  if (negative !== null) {
    const span = /^-\s*([\d.,]+)\s*((?!to\b|bis\b|e-)[^\d\s-]*)\s*(?:-|\bto\b|\bbis\b|\.\.+)\s*(-?)\s*([\d.,]+)\s*(.*)$/i.exec(s);
    if (span !== null) return belowNothing(span, kind, text);
    const r = slowly(s.slice(negative[0].length), kind, text);
    if (isRefusal(r)) return r;
    if ('value' in r.reading) return { ...r, reading: { ...r.reading, value: -r.reading.value } };
    const { low, high } = r.reading;
    return { ...r, reading: { ...(low === undefined ? {} : { low: -low }), ...(high === undefined ? {} : { high: -high }) } };
  }
  if (kind !== 'number') {
    const beside = /^([^()]+?)\s*\(([^()]+)\)$/.exec(s) ?? (measured.has(kind) ? /^(.*[a-z"'.])\s*(?:\/|=|\bor\b)\s*(\d[^/=]*[a-z"'.])$/i.exec(s) : null);
    const twice = beside === null ? undefined : saidTwice(beside[1]!, beside[2]!, kind, text);
    if (twice !== undefined) return twice;
  }
  const grouped = /^(\d{1,3})((?: \d{3})+)(?![\d/])/.exec(s);
  if (grouped !== null && !new RegExp(`${things}$`, 'i').test(s)) {
    const joined = s.replace(grouped[0], grouped[0].replaceAll(' ', ''));
    if ((kind !== 'mass' && kind !== 'length') || grouped[2]!.startsWith(' 0')) return slowly(joined, kind, text);
    return ambiguous({ ambiguous: [joined, s.replace(' ', ' x ')] }, text, kind);
  }
  const bound = bounded(s);
  if (bound !== undefined) {
    const r = slowly(bound.rest, kind, text);
    if (isRefusal(r)) return r;
    // More yards to the pound is less in kg/m: bounds and ends are turned over together.
    const { low, high } = extent(r.reading);
    const over = r.reciprocal ? bound.side === 'high' : bound.side === 'low';
    return { ...r, reading: over ? { low } : { high } };
  }
  const fast = s === typed ? first : simple(s, kind);
  if (fast !== undefined && !isRefusal(fast)) return finish(fast, fast, undefined, [], kind, text);
  return spread(s, kind, text) ?? fast ?? unreadable(s, text, kind);
}
const measured: ReadonlySet<string> = new Set(['part', 'length', 'mass']);

/** `-2 to 10 %`, `-5--1 %`: a range that begins below 0. */
function belowNothing([, first, itsUnit, sign, second, unit]: readonly (string | undefined)[], kind: Kind | 'number', text: string): Read | Refusal {
  const b = simple(`${second} ${unit}`.trim(), kind);
  const a = simple(`${first} ${itsUnit === '' ? unit : itsUnit}`.trim(), kind);
  if (a === undefined || b === undefined) return unreadable(text, text, kind);
  if (isRefusal(a)) return a;
  if (isRefusal(b)) return b;
  return finish({ ...a, value: -a.value }, { ...b, value: sign === '' ? b.value : -b.value }, undefined, [], kind, text);
}

/** `56 cm (22 in)`: the same measure twice, or `2 1/4 (ounces)`: the unit in brackets. */
function saidTwice(outer: string, inner: string, kind: Kind, text: string): Read | Refusal | undefined {
  if (findUnit(kind, inner) !== undefined) return readText(`${outer} ${inner}`, kind);
  const [a, b] = [readText(outer, kind), readText(inner, kind)];
  if (isRefusal(a) || isRefusal(b) || !('value' in a.reading) || !('value' in b.reading)) return undefined;
  if (Math.abs(a.reading.value / b.reading.value - 1) <= 0.02) return a;
  return refuse('ambiguous-number', `The two measures differ: ${outer} is not ${inner}.`, text, kind, { try: outer });
}

/** `a ± b`, `a (± b)`, `a - b`, `a to b`, `between a and b`. */
function spread(s: string, kind: Kind | 'number', text: string): Read | Refusal | undefined {
  const bare = s.replace(/[()]/g, ' ').trim();
  const pm = plusMinus.exec(bare);
  if (pm !== null && pm.index > 0) {
    const [left, right] = [bare.slice(0, pm.index).trim(), bare.slice(pm.index + pm[0].length).trim()];
    const percent = kind === 'share' ? null : /^([\d.,/ ]+?)\s*%$/.exec(right);
    const b = percent === null ? simple(right, kind) : numeral(percent[1]!);
    const a = simple(left, kind, b !== undefined && 'unit' in b ? b.unit : undefined);
    if (a === undefined || isRefusal(a)) return a;
    const h = b === undefined || isRefusal(b) ? simple(right, kind, a.unit) : b;
    if (h === undefined || isRefusal(h)) return h;
    if ('ambiguous' in h) return ambiguous(h, text, kind);
    const half = percent !== null ? Math.abs((a.value * h.value) / 100)
      : a.unit?.reciprocal ? Math.abs((a.value * toSI(1, a.unit)) / (h.value * inUnit(a))) : h.value;
    return finish(a, a, half, [], kind, text);
  }
  const words = /^(?:between|from) (.+?)(?:\band\b|\bto\b|&|-)(.+)$/is.exec(bare) ?? /^(.+?)(?:\bto\b|\bbis\b|\.\.)(.+)$/is.exec(bare);
  const cuts: [string, string][] = words === null ? [] : [[words[1]!.trim(), words[2]!.replace(/^\.+/, '').trim()]];
  for (let i = bare.indexOf('-', 1); i > 0; i = bare.indexOf('-', i + 1)) cuts.push([bare.slice(0, i).trim(), bare.slice(i + 1).trim()]);
  for (const [l, r] of cuts) {
    const b = simple(r, kind);
    if (b === undefined) continue;
    if (isRefusal(b)) { if (b.code === 'missing-unit' || b.code === 'ambiguous-number') return { ...b, received: text }; continue; }
    const a = simple(l, kind, b.unit);
    if (a === undefined || isRefusal(a)) { if (a !== undefined && a.code === 'ambiguous-number') return a; continue; }
    return finish(a, b, undefined, [], kind, text);
  }
  // 10-inch: a hyphen, not a range.
  const joined = /^([\d./ ]*\d)\s*-\s*([a-z].*)$/i.exec(bare);
  const one = joined === null ? undefined : simple(`${joined[1]} ${joined[2]}`, kind);
  return one === undefined || isRefusal(one) ? one : finish(one, one, undefined, [], kind, text);
}
const inUnit = (a: Simple): number => toSI(1, a.unit!) / a.value;

function finish(a: Simple, b: Simple, half: number | undefined, remarks: readonly Remark[], kind: TextKind, text: string): Read | Refusal {
  const all = [...remarks, ...(a.comma || b.comma ? ['decimal-comma' as const] : []), ...(a.multiplied ? ['multiplied' as const] : []), ...(a.flipped ? ['ply-order' as const] : [])];
  const plies = { ...(a.plies === undefined ? {} : { plies: a.plies }), ...(a.unit?.reciprocal ? { reciprocal: true as const } : {}) };
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
export function simple(s: string, kind: Kind | 'number', unitIfNone?: Unit): Simple | Refusal | undefined {
  if (kind === 'grist' && /^\d+(?:[.,]\d+)?\s*\/\s*\d/.test(s)) {
    const plied = yarnNumber(s);
    if (plied !== undefined) return plied;
  }
  const n = numeral(s);
  if (n === undefined) return kind === 'grist' ? yarnNumber(s) : undefined;
  const rest = s.slice(n.text.length).trim();
  if ('ambiguous' in n) {
    return ambiguous({ ambiguous: n.ambiguous.map((a) => `${a} ${rest}`.trim()) }, s, kind);
  }
  const comma = n.decimalComma === undefined ? {} : { comma: true as const };
  if (kind === 'number') {
    if (rest !== '' && !/^(?:turns?|treadles?|times|x|plies|ply|strokes?|bumps?|wraps?|fibres?)\.?$/i.test(rest)) return undefined;
    return { value: n.value, ...comma };
  }
  const unit = rest === '' ? unitIfNone : findUnit(kind, rest) ?? perUnit(kind, rest);
  if (unit !== undefined) return { value: toSI(n.value, unit), unit, ...comma };
  if (kind === 'grist') {
    const y = yarnNumber(s);
    if (y !== undefined) return y;
  }
  if (rest === '') return missingUnit(s, kind);
  return compound(n, rest, kind) ?? product(n, rest, kind);
}

/** The refusal that offers a unit: first the one that such a number most likely has. */
function missingUnit(s: string, kind: Kind): Refusal {
  const { metric, imperial } = kinds[kind];
  const value = Number(/\d+(?:\.\d+)?/.exec(s)?.[0] ?? 0);
  const fraction = /\d\/\d|[½¼¾⅓⅔⅛⅜⅝⅞]/.test(s);
  const inches = fraction || (kind === 'part' && value < 30 && !Number.isInteger(value)) || kind === 'wraps' || (kind === 'twist' && value < 60) || (kind === 'grist' && value >= 600);
  const written = [...new Set(inches ? [imperial, metric] : [metric, imperial])].map((name) => {
    const spoken = kinds[kind].units.find((u) => u.name === name)?.spoken ?? name;
    return /^[/%]/.test(spoken) ? `${s}${spoken}` : `${s} ${spoken}`;
  });
  return refuse('missing-unit', `The unit is missing: is it ${written.join(' or ')}?`, s, kind, { try: written[0]! });
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
    rest = rest.slice(word.length).replace(word === "'" ? /^\s*(?:,|and\b|&|-)?\s*/i : /^\s*(?:,|and\b|&)?\s*/i, '');
    if (rest === '') return { value: total, unit };
    const next = numeral(rest);
    if (next === undefined || 'ambiguous' in next) return undefined;
    n = next;
    rest = rest.slice(next.text.length).trim();
    // 5'3 and 1h30: after feet come inches, after hours minutes.
    if (rest === '') rest = unit.name === 'ft' ? 'in' : unit.name === 'h' ? 'min' : '';
  }
}

/** `16 50 gram balls`, `16 x 50 g`, `3 skeins of 100 g`: so many of so much. */
function product(count: { value: number }, rest: string, kind: Kind): Simple | undefined {
  if (kind !== 'mass' && kind !== 'length') return undefined;
  const m = new RegExp(`^(?:[x*]\\s*|${things}\\s*(?:of|at|à)?\\s*)?(.+?)(?:\\s*-?\\s*${things})?(?:\\s+each)?$`, 'i').exec(rest);
  if (m === null || !(/^[x*]|^[a-z]/i.test(rest) || new RegExp(`${things}$`, 'i').test(rest))) return undefined;
  const each = numeral(m[1]!.replace(/-(?=[a-z])/i, ' '));
  if (each === undefined || 'ambiguous' in each) return undefined;
  const unit = findUnit(kind, m[1]!.replace(/-(?=[a-z])/i, ' ').slice(each.text.length).trim());
  return unit === undefined || unit.reciprocal ? undefined : { value: count.value * toSI(each.value, unit), unit, multiplied: true };
}
