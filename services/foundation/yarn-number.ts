/**
 * Yarn numbers that a plain number with a unit does not cover: plied counts (`2/24 worsted`, `16/2 cotton`,
 * `Nm 30/2`), tex as ISO 1139 writes it (`R 50 tex/2`, `34 tex × 2`), and a length with a weight (`ca. 442g/1100m`, `230 m per 100 g`).
 * Which end of 2/24 is the plies depends on the trade: worsted and British practice write the plies first, cotton and
 * linen the size first; metric counts are met both ways, and there the smaller number is the plies (common practice).
 */
import { numeral } from './numerals.js';
import { findUnit, toSI, type Unit } from './quantity.js';
import type { Refusal, Simple } from './read-text.js';

type Order = 'plies-first' | 'size-first' | 'smaller-is-plies';
type System = { unit: Unit; order: Order; resultant?: true };
function named(words: string): System | undefined {
  const w = words.toLowerCase().replace(/^'?s\b/, '').replace(/[.']/g, '').trim();
  if (w === 'silk' || w === 'spun silk') return { unit: findUnit('grist', 'cotton-count')!, order: 'size-first', resultant: true };
  const unit = findUnit('grist', w) ?? findUnit('grist', w.split(' ').reverse().join(' '));
  if (unit === undefined || !unit.reciprocal || !/^(Nm|.*-(count|run|cut|lea|skein)|snap)$/.test(unit.name)) return undefined;
  if (unit.name === 'Nm') return { unit, order: 'smaller-is-plies' };
  return { unit, order: unit.name === 'cotton-count' || unit.name === 'linen-lea' ? 'size-first' : 'plies-first' };
}
/** The system that the words name: as a whole, or by the one word among them that names one (`mercerised cotton`, `worsted spun wool`). */
function system(words: string): System | undefined {
  const whole = named(words);
  if (whole !== undefined) return whole;
  const found = words.split(/[^a-z]+/i).map((w) => (w === '' ? undefined : named(w))).filter((x) => x !== undefined);
  return new Set(found.map((x) => x.unit.name)).size === 1 ? found[0] : undefined;
}

const choices = 'Name the system: cotton-count, worsted-count, linen-lea, Nm, woollen-run, woollen-cut, galashiels-cut, yorkshire-skein.';
const ambiguous = (text: string, detail: string, tries: string): Refusal => ({
  code: 'ambiguous-yarn-number', detail, received: text, expected: 'a yarn number with its system, such as 2/24 worsted, 16/2 cotton, Nm 2/28, 1500 yd/lb', try: tries,
});

export function yarnNumber(text: string): Simple | Refusal | undefined {
  const s = text.trim();
  return resultantTex(s) ?? plied(s) ?? bareWord(s);
}

/**
 * Tex as ISO 1139 writes it. From single to folded: `34 tex S 600 × 2 Z 400; R 69.3 tex`, `20 tex × 2 × 3`. From folded to
 * single: `R 69.3 tex Z 400 / 2 S 600; 34 tex`, `R 50 tex/2`. A resultant stands as it is; without one the strands are added.
 */
const texHead = /^(R?)\s*([\d.,]+)\s*(d?tex)\b\s*(?:f\s*\d+)?/i;
const turnsSaid = '(?:\\s*[SZ](?:\\s*\\d+(?:[.,]\\d+)?)?)?';
const folds = new RegExp(`^${turnsSaid}((?:\\s*[/x×]\\s*\\d+${turnsSaid})*)$`, 'i');
function resultantTex(typed: string): Simple | Refusal | undefined {
  // 2 x 20 tex is 20 tex x 2.
  const s = typed.replace(/^(\d+)\s*[x×]\s*([\d.,]+\s*d?tex)$/i, '$2 x $1');
  const [said, other, ...rest] = s.split(';').map((part) => part.trim());
  const head = texHead.exec(said!);
  const tail = head === null ? null : folds.exec(said!.slice(head[0].length));
  if (head === null || tail === null || rest.length > 0) return undefined;
  const resultant = head[1] !== '';
  const counts = [...tail[1]!.matchAll(/([/x×])\s*(\d+)/gi)];
  if (!resultant && counts.some((c) => c[1] === '/')) {
    const [number, n] = [said!.slice(0, head[0].length).trim(), counts[0]![2]!];
    return { code: 'ambiguous-yarn-number', detail: `${s} does not say whether ${number} is one strand or the whole yarn.`, received: s, expected: `R ${number}/${n} for the whole yarn, ${number} x ${n} for strands of that`, try: `${number} x ${n}` };
  }
  if (counts.some((c) => (c[1] === '/') !== resultant || Number(c[2]) < 1)) return undefined;
  const second = other === undefined ? undefined : texHead.exec(other);
  if (second === null || (second !== undefined && ((second[1] !== '') === resultant || second[0].length !== other!.length))) return undefined;
  const [value, whole] = [numeral(head[2]!), second === undefined ? undefined : numeral(second[2]!)];
  if (value === undefined || 'ambiguous' in value || (second !== undefined && (whole === undefined || 'ambiguous' in whole))) return undefined;
  const plies = counts.reduce((n, c) => n * Number(c[2]), 1);
  const [unit, unitOfWhole] = [findUnit('grist', head[3]!)!, second === undefined ? undefined : findUnit('grist', second[3]!)];
  const ofPlies = counts.length === 0 ? {} : { plies };
  if (resultant) return { value: toSI(value.value, unit), unit, ...ofPlies };
  return unitOfWhole === undefined ? { value: toSI(value.value, unit) * plies, unit, ...ofPlies } : { value: toSI((whole as { value: number }).value, unitOfWhole), unit: unitOfWhole, ...ofPlies };
}

function plied(s: string): Simple | Refusal | undefined {
  const m = /^(?:([a-z][a-z .]*?)\s*)?(\d+(?:[.,]\d+)?)\s*\/\s*(\d+(?:[.,]\d+)?)(?:\s*\/\s*(\d+))?\s*((?:'?s\b|[a-z]).*|'s)?$/i.exec(s);
  if (m === null) {
    // 30's cotton, 16s worsted, 14 cut Galashiels
    const one = /^([\d.]+)\s*(?:'?s\b)?\s*([a-z][a-z -]+)$/i.exec(s.replace(/[()]/g, ' ').trim());
    const sys = one === null ? undefined : named(one[2]!.replaceAll('-', ' '));
    return one === null || sys === undefined ? undefined : { value: toSI(Number(one[1]), sys.unit), unit: sys.unit };
  }
  const words = [m[1] ?? '', m[5] ?? ''].map((w) => w.trim()).filter((w) => w !== '' && !/^'?s$/i.test(w));
  const [a, b] = [m[2]!, m[3]!].map((x) => Number(x.replace(',', '.'))) as [number, number];
  if (words.length === 0) {
    if (m[4] !== undefined) return ambiguous(s, `${s} alone does not say its trade. ${choices}`, `${s} ${a > b ? 'cotton' : 'worsted'}`);
    return ambiguous(s, `${a}/${b} alone does not say its trade: worsted reads ${a} plies of ${b}, cotton reads ${b} plies of ${a}. ${choices}`, `${s} ${a > b ? 'cotton' : 'worsted'}`);
  }
  const sys = words.map(system).find((x) => x !== undefined);
  if (!(a > 0) || !(b > 0) || words.some((w) => findUnit('length', w) !== undefined || findUnit('mass', w) !== undefined)) return undefined;
  if (sys === undefined) return ambiguous(s, `${a}/${b} with “${words.join(' ').slice(0, 40)}” does not say its system. ${choices}`, `${a}/${b} ${a > b ? 'cotton' : 'worsted'}`);
  if (m[4] !== undefined) return cabled([a, b, Number(m[4])], sys);
  const usual = sys.order === 'plies-first' ? [a, b] : sys.order === 'size-first' ? [b, a] : [Math.min(a, b), Math.max(a, b)];
  // More plies than size never happens in one order and always in the other: then it was written the other way round.
  const flipped = sys.order !== 'smaller-is-plies' && usual[0]! > usual[1]! && usual[0]! > 6;
  const [plies, size] = flipped ? [usual[1]!, usual[0]!] : [usual[0]!, usual[1]!];
  if (!Number.isInteger(plies)) return undefined;
  return { value: toSI(sys.resultant ? size : size / plies, sys.unit), unit: sys.unit, plies, ...(flipped ? { flipped: true as const } : {}) };
}

/** `Nm 28/2/3`, `60/2/3 cotton`, `2/3/24 worsted`: plied yarns plied again. */
function cabled(parts: readonly number[], sys: System): Simple | undefined {
  const size = sys.order === 'size-first' ? parts[0]! : sys.order === 'plies-first' ? parts[2]! : Math.max(...parts);
  const plies = parts.reduce((x, y) => x * y, 1) / size;
  return Number.isInteger(plies) && plies > 0 ? { value: toSI(sys.resultant ? size : size / plies, sys.unit), unit: sys.unit, plies } : undefined;
}

/** `20 lea`, `12 cut`, `8 count`: the word alone names no system. */
function bareWord(s: string): Refusal | undefined {
  const m = /^(?:[\d.,/ ]+(?:'?s)? ?)?(counts?|leas?|cuts?|hanks?|skeins?|'?s|ne?c?l?)[\d.,/ ]*$/i.exec(s);
  if (m === null || !/\d/.test(s)) return undefined;
  const number = /[\d.,/]+/.exec(s)![0];
  const word = m[1]!.toLowerCase();
  const likely = word.startsWith('lea') ? 'linen-lea' : word.startsWith('cut') ? 'woollen-cut' : word.startsWith('skein') ? 'yorkshire-skein' : 'cotton-count';
  return ambiguous(s, `“${/^'?s$/.test(word) ? s : m[1]}” alone names no one system. ${choices}`, `${number} ${likely}`);
}
