/**
 * Yarn numbers that a plain number with a unit does not cover: plied counts (`2/24 worsted`, `16/2 cotton`,
 * `Nm 30/2`), resultants (`R 50 tex/2`), and a length with a weight (`ca. 442g/1100m`, `230 m per 100 g`).
 * Which end of 2/24 is the plies depends on the trade: worsted and British practice write the plies first, cotton and
 * linen the size first; metric counts are met both ways, and there the smaller number is the plies (common practice).
 */
import { numeral } from './numerals.js';
import { findUnit, toSI, type Unit } from './quantity.js';
import type { Refusal, Simple } from './read-text.js';

type Order = 'plies-first' | 'size-first' | 'smaller-is-plies';
const system = (words: string): { unit: Unit; order: Order; resultant?: true } | undefined => {
  const w = words.toLowerCase().replace(/^'?s\b/, '').replace(/[.']/g, '').trim();
  if (w === 'silk' || w === 'spun silk') return { unit: findUnit('grist', 'cotton-count')!, order: 'size-first', resultant: true };
  const unit = findUnit('grist', w);
  if (unit === undefined || !unit.reciprocal || !/^(Nm|.*-(count|run|cut|lea|skein)|snap)$/.test(unit.name)) return undefined;
  if (unit.name === 'Nm') return { unit, order: 'smaller-is-plies' };
  return { unit, order: unit.name === 'cotton-count' || unit.name === 'linen-lea' ? 'size-first' : 'plies-first' };
};

const choices = 'Name the system: cotton-count, worsted-count, linen-lea, Nm, woollen-run, woollen-cut, galashiels-cut, yorkshire-skein.';
const ambiguous = (text: string, detail: string, tries: string): Refusal => ({
  code: 'ambiguous-yarn-number', detail, received: text, expected: 'a yarn number with its system, such as 2/24 worsted, 16/2 cotton, Nm 2/28, 1500 yd/lb', try: tries,
});

export function yarnNumber(text: string): Simple | Refusal | undefined {
  const s = text.trim();
  return pair(s) ?? resultantTex(s) ?? plied(s) ?? bareWord(s);
}

/** A length and a weight of the same yarn, either first. */
function pair(s: string): Simple | undefined {
  const a = numeral(s);
  if (a === undefined || 'ambiguous' in a) return undefined;
  const rest = s.slice(a.text.length).trim();
  const m = /^([a-z]+\.?)\s*(?:\/|\bper\b|\bto\b|\bfor\b|\bin\b|=|,|;|\bweighs?\b|\bweighing\b|\s)\s*(.+)$/i.exec(rest);
  if (m === null) return undefined;
  const b = numeral(m[2]!) ?? { value: 1, text: '' };
  if ('ambiguous' in b) return undefined;
  const second = m[2]!.slice(b.text.length).trim();
  const one = { l: findUnit('length', m[1]!), m: findUnit('mass', m[1]!) };
  const two = { l: findUnit('length', second), m: findUnit('mass', second) };
  const ends = one.l && two.m ? [toSI(a.value, one.l), toSI(b.value, two.m)] : one.m && two.l ? [toSI(b.value, two.l), toSI(a.value, one.m)] : undefined;
  return ends === undefined ? undefined : { value: ends[1]! / ends[0]! };
}

/** `R 50 tex`, `R 50 tex/2`: the resultant of the plies, so nothing is divided. */
function resultantTex(s: string): Simple | undefined {
  const m = /^R\s*([\d.,]+)\s*(d?tex)(?:\s*[/x]\s*(\d+))?$/i.exec(s);
  const n = m === null ? undefined : numeral(m[1]!);
  if (m === null || n === undefined || 'ambiguous' in n) return undefined;
  const unit = findUnit('grist', m[2]!)!;
  return { value: toSI(n.value, unit), unit, ...(m[3] === undefined ? {} : { plies: Number(m[3]) }) };
}

function plied(s: string): Simple | Refusal | undefined {
  const m = /^(?:([a-z][a-z .]*?)\s*)?(\d+(?:[.,]\d+)?)\s*\/\s*(\d+(?:[.,]\d+)?)\s*('?s?\b.*)?$/i.exec(s);
  const prefix = m === null ? /^([a-z][a-z. -]*?)\s*([\d.,]+)\s*('?s)?$/i.exec(s) : null;
  if (prefix !== null) {
    const n = numeral(prefix[2]!);
    const unit = findUnit('grist', prefix[1]!);
    if (n === undefined || 'ambiguous' in n || unit === undefined) return undefined;
    return { value: toSI(n.value, unit), unit, ...(n.decimalComma ? { comma: true as const } : {}) };
  }
  if (m === null) {
    // 30's cotton, 16s worsted
    const one = /^([\d.]+)\s*'?s\s+([a-z ]+)$/i.exec(s);
    const sys = one === null ? undefined : system(one[2]!);
    return one === null || sys === undefined ? undefined : { value: toSI(Number(one[1]), sys.unit), unit: sys.unit };
  }
  const words = [m[1] ?? '', m[4] ?? ''].map((w) => w.trim()).filter((w) => w !== '' && !/^'?s$/i.test(w));
  const [a, b] = [m[2]!, m[3]!].map((x) => Number(x.replace(',', '.'))) as [number, number];
  if (words.length === 0) {
    return ambiguous(s, `${a}/${b} alone does not say its trade: worsted reads ${a} plies of ${b}, cotton reads ${b} plies of ${a}. ${choices}`, `${s} worsted`);
  }
  const sys = words.map(system).find((x) => x !== undefined);
  if (sys === undefined || !(a > 0) || !(b > 0)) return undefined;
  const usual = sys.order === 'plies-first' ? [a, b] : sys.order === 'size-first' ? [b, a] : [Math.min(a, b), Math.max(a, b)];
  // More plies than size never happens in one order and always in the other: then it was written the other way round.
  const flipped = sys.order !== 'smaller-is-plies' && usual[0]! > usual[1]! && usual[0]! > 6;
  const [plies, size] = flipped ? [usual[1]!, usual[0]!] : [usual[0]!, usual[1]!];
  if (!Number.isInteger(plies)) return undefined;
  return { value: toSI(sys.resultant ? size : size / plies, sys.unit), unit: sys.unit, plies, ...(flipped ? { flipped: true as const } : {}) };
}

/** `20 lea`, `12 cut`, `8 count`: the word alone names no system. */
function bareWord(s: string): Refusal | undefined {
  const m = /^(?:[\d.,/ ]+\s*'?s?\s*)?(count|counts|leas?|cuts?|hanks?|skeins?|ne?c?l?)\s*[\d.,/ ]*$/i.exec(s);
  if (m === null || !/\d/.test(s)) return undefined;
  const number = /[\d.,/]+/.exec(s)![0];
  return ambiguous(s, `“${m[1]}” alone names no one system. ${choices}`, `${number} linen-lea`);
}
