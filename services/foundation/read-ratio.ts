/**
 * A ratio as a person writes it: `9:1`, `1:9` (the same), `9 to 1`, `7.5/8:1` (7.5 to 8), `1:65 to 1:100`, `9.5`.
 * Turns of the driven part for one turn of the wheel. A ratio below 1 is kept, with a remark: it may be written backwards.
 */
import { numeral, plainSigns, plainWords } from './numerals.js';
import { coverage, extent, type Reading } from './reading.js';
import { bounded, isRefusal, readText, refuse, roughly, type Refusal, type Remark } from './read-text.js';

const one1 = '(?:\\d[\\d.,]*(?: \\d+\\/\\d+)?)';
const side = `(?:${one1}(?:\\s*(?:/|-|\\bto\\b)\\s*${one1})?)`;
const colon = new RegExp(`^(${side})\\s*(?::|-?to-?|-?zu-?)\\s*(${side})$`, 'i');
const pair = new RegExp(`^(?:between\\s+|from\\s+)?(${one1}\\s*:\\s*${one1})\\s*(?:-|to|and|bis)\\s*(${one1}\\s*:\\s*${one1})$`, 'i');
const half = '(?:\\(?\\s*(?:±|\\+\\s*\\/?\\s*-|(?<!\\d)\\/-|(?<=\\d)\\/-|plus or minus))\\s*([\\d.,]+)\\s*\\)?';
const halfLast = new RegExp(`\\s*${half}$`, 'i');
const halfWithin = new RegExp(`^([\\d.,]+)\\s*${half}\\s*(?=:|to\\b)`, 'i');

export function readRatioText(text: string): { reading: Reading; remarks: readonly Remark[] } | Refusal {
  let s = plainSigns(text).replace(/^(?:ratio|drive ratio)\s*:?\s*/i, '');
  const got = one(s);
  if (got !== undefined && !isRefusal(got)) return { reading: got, remarks: [] };
  s = plainWords(s);
  const remarks: Remark[] = [];
  const rough = roughly(s);
  if (rough !== undefined) { remarks.push('approximate'); s = rough; }
  const bound = bounded(s);
  if (bound !== undefined) {
    const whole = readRatioText(bound.rest);
    if (isRefusal(whole)) return { ...whole, received: text };
    const { low, high } = extent(whole.reading);
    return { reading: bound.side === 'low' ? { low } : { high }, remarks: [...remarks, ...whole.remarks] };
  }
  const pm = halfLast.exec(s) ?? halfWithin.exec(s);
  if (pm !== null && (pm.index > 0 || pm.length > 2)) {
    const whole = readRatioText(pm.length > 2 ? pm[1] + s.slice(pm[0].length) : s.slice(0, pm.index));
    const h = numeral(pm[pm.length - 1]!);
    if (isRefusal(whole)) return { ...whole, received: text };
    if (h !== undefined && !('ambiguous' in h) && 'value' in whole.reading) {
      return { reading: { value: whole.reading.value, u: h.value / coverage }, remarks: [...remarks, ...whole.remarks] };
    }
  }
  const reading = between(s) ?? one(s.replace(/^([\d.,]+)\s*\/\s*1$/, '$1:1'));
  if (reading !== undefined && !isRefusal(reading)) return { reading, remarks };
  if (reading !== undefined) return { ...reading, received: text };
  const slash = /^(\d+(?:\.\d+)?)\s*\/\s*(\d+(?:\.\d+)?)$/.exec(s);
  if (slash !== null && Number(slash[1]) > 1 && Number(slash[1]) < Number(slash[2])) {
    return refuse('ambiguous-number', `This can be read as ${slash[1]} to ${slash[2]} : 1, or as ${slash[1]} divided by ${slash[2]}.`, text, 'ratio', { try: `${slash[1]}-${slash[2]}:1` });
  }
  const n = readText(s, 'number');
  if (isRefusal(n)) return refuse(n.code === 'ambiguous-number' || n.code === 'number-too-large' || n.code === 'range-reversed' ? n.code : 'unreadable-quantity', n.code === 'ambiguous-number' ? n.detail : 'This cannot be read as a ratio.', text, 'ratio', n.try === undefined ? {} : { try: n.try });
  return { reading: n.reading, remarks: [...remarks, ...n.remarks] };
}

/** `1:65 to 1:100`, `9:1 - 11:1` */
function between(s: string): Reading | Refusal | undefined {
  const m = pair.exec(s);
  if (m === null) return undefined;
  const [a, b] = [one(m[1]!), one(m[2]!)];
  if (a === undefined || b === undefined || isRefusal(a) || isRefusal(b) || !('value' in a) || !('value' in b)) return undefined;
  return { low: Math.min(a.value, b.value), high: Math.max(a.value, b.value) };
}

function one(s: string): Reading | Refusal | undefined {
  const m = colon.exec(s.trim());
  if (m === null) return undefined;
  const [left, right] = [ends(m[1]!), ends(m[2]!)];
  if (left === undefined || right === undefined) return undefined;
  if (isRefusal(left)) return left;
  if (isRefusal(right)) return right;
  // The driven part turns more: 1:9 and 9:1 are the same ratio.
  const [top, bottom] = right.low === 1 && right.high === 1 ? [left, right] : left.low === 1 && left.high === 1 ? [right, left] : [left, right];
  if (!(bottom.low > 0)) return undefined;
  const [low, high] = [top.low / bottom.high, top.high / bottom.low];
  return low === high ? { value: low } : { low, high };
}

function ends(s: string): { low: number; high: number } | Refusal | undefined {
  const parts = s.split(/\s*(?:(?<! \d+)\/|-|\bto\b)\s*/i).map((p) => numeral(p));
  const values: number[] = [];
  for (const p of parts) {
    if (p === undefined) return undefined;
    if ('ambiguous' in p) return refuse('ambiguous-number', `This can be read as ${p.ambiguous.join(' or as ')}.`, s, 'ratio');
    values.push(p.value);
  }
  return { low: Math.min(...values), high: Math.max(...values) };
}
