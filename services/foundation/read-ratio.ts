/**
 * A ratio as a person writes it: `9:1`, `1:9` (the same), `9 to 1`, `7.5/8:1` (7.5 to 8), `1:65 to 1:100`, `9.5`.
 * Turns of the driven part for one turn of the wheel. A ratio below 1 is kept, with a remark: it may be written backwards.
 */
import { numeral, plainSigns } from './numerals.js';
import { coverage, type Reading } from './reading.js';
import { isRefusal, readText, refuse, type Refusal, type Remark } from './read-text.js';

const side = '(?:\\d[\\d.,]*(?:\\s*(?:/|-|\\bto\\b)\\s*\\d[\\d.,]*)?)';
const colon = new RegExp(`^(${side})\\s*(?::|\\bto\\b|\\bzu\\b)\\s*(${side})$`, 'i');

export function readRatioText(text: string): { reading: Reading; remarks: readonly Remark[] } | Refusal {
  let s = plainSigns(text).replace(/^(?:ratio|drive ratio)\s*:?\s*/i, '');
  const remarks: Remark[] = [];
  const about = /^(?:~|about|approximately|approx\.?|circa|ca\.?|around|roughly)\s*(?=\d)/i.exec(s);
  if (about !== null) { remarks.push('approximate'); s = s.slice(about[0].length); }
  const pm = /\s*(?:\(?\s*(?:±|\+\s*\/?\s*-|(?<!\d)\/-|(?<=\d)\/-|plus or minus))\s*([\d.,]+)\s*\)?$/i.exec(s);
  if (pm !== null && pm.index > 0) {
    const whole = readRatioText(s.slice(0, pm.index));
    const half = numeral(pm[1]!);
    if (isRefusal(whole)) return { ...whole, received: text };
    if (half !== undefined && !('ambiguous' in half) && 'value' in whole.reading) {
      return { reading: { value: whole.reading.value, u: half.value / coverage }, remarks: [...remarks, ...whole.remarks] };
    }
  }
  const reading = between(s) ?? one(s);
  if (reading !== undefined && !isRefusal(reading)) return { reading, remarks };
  if (reading !== undefined) return { ...reading, received: text };
  const n = readText(s, 'number');
  if (isRefusal(n)) return refuse(n.code === 'ambiguous-number' || n.code === 'number-too-large' ? n.code : 'unreadable-quantity', n.code === 'ambiguous-number' ? n.detail : 'This cannot be read as a ratio.', text, 'ratio', n.try === undefined ? {} : { try: n.try });
  return { reading: n.reading, remarks: [...remarks, ...n.remarks] };
}

/** `1:65 to 1:100`, `9:1 - 11:1` */
function between(s: string): Reading | Refusal | undefined {
  const m = /^(?:between\s+|from\s+)?([\d.,]+\s*:\s*[\d.,]+)\s*(?:-|to|and|bis)\s*([\d.,]+\s*:\s*[\d.,]+)$/i.exec(s);
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
  const parts = s.split(/\s*(?:\/|-|\bto\b)\s*/i).map((p) => numeral(p));
  const values: number[] = [];
  for (const p of parts) {
    if (p === undefined) return undefined;
    if ('ambiguous' in p) return refuse('ambiguous-number', `This can be read as ${p.ambiguous.join(' or as ')}.`, s, 'ratio');
    values.push(p.value);
  }
  return { low: Math.min(...values), high: Math.max(...values) };
}
