/**
 * How unlike two wheels are, and why: a sum of parts, each told. A ratio or a size counts by how many times larger it is,
 * so that 5 to 10 is as far as 10 to 20. Weights are judgement: ratios decide what can be spun, style is description. Pure.
 */
import type { Traits } from './finding.js';
import { driveNames } from './words.js';

export type Comparable = Pick<Traits, 'drives' | 'style' | 'ratios' | 'wheelSize' | 'orifice'>;
export const alikeParts = ['drive', 'style', 'ratios', 'wheel-size', 'orifice'] as const;
export interface Unlike { readonly part: (typeof alikeParts)[number]; /** Its share of the distance. */ readonly distance: number; readonly text: string }

/** What counts as 1: no drive in common, another style, twice the ratio or the size. */
const weights = { drive: 1, style: 0.5, ratios: 2, 'wheel-size': 1, orifice: 0.5 } as const satisfies Record<(typeof alikeParts)[number], number>;
/** Where one of the two does not tell: between alike and not. */
const untold = 0.5;

const doublings = (a: number, b: number): number => Math.abs(Math.log2(a / b));
const middleOf = ({ low, high }: { readonly low: number; readonly high: number }): number => Math.sqrt(Math.max(low, 1e-9) * Math.max(high, 1e-9));
const nearest = (one: number, many: readonly number[]): number => Math.min(...many.map((other) => doublings(one, other)));
/** Each ratio to the nearest of the other wheel, both ways. */
const between = (a: readonly number[], b: readonly number[]): number => [...a.map((x) => nearest(x, b)), ...b.map((x) => nearest(x, a))].reduce((sum, d) => sum + d, 0) / (a.length + b.length);
const ratioText = (list: readonly number[]): string => `${list.toSorted((a, b) => a - b).map((r) => Number(r.toPrecision(3))).join(', ')} : 1`;
const mm = (n: number): string => `${Number(n.toPrecision(3))} mm`;

export function unlike(a: Comparable, b: Comparable): { readonly distance: number; readonly why: Unlike[] } {
  const why: Unlike[] = [];
  const add = (part: Unlike['part'], distance: number, text: string): void => { why.push({ part, distance: Math.round(weights[part] * distance * 1000) / 1000, text }); };
  const compare = <T>(part: Unlike['part'], [x, y]: readonly [T | undefined, T | undefined], distance: (x: T, y: T) => number, said: (value: T) => string): void => {
    if (x !== undefined && y !== undefined) { const d = distance(x, y); add(part, d, d === 0 ? `Both: ${said(x)}` : `${said(x)}; there ${said(y)}`); }
    else if (x !== undefined || y !== undefined) add(part, untold, x === undefined ? `Not told of this one; there ${said(y!)}` : `${said(x)}; not told there`);
  };
  const some = <T>(list: readonly T[]): readonly T[] | undefined => (list.length === 0 ? undefined : list);
  compare('drive', [some(a.drives), some(b.drives)], (x, y) => 1 - x.filter((drive) => y.includes(drive)).length / new Set([...x, ...y]).size, (drives) => drives.map((drive) => driveNames[drive] ?? drive).join(', '));
  compare('style', [a.style, b.style], (x, y) => Number(x !== y), (style) => style);
  compare('ratios', [some(a.ratios.map(middleOf)), some(b.ratios.map(middleOf))], between, ratioText);
  compare('wheel-size', [a.wheelSize, b.wheelSize], doublings, mm);
  compare('orifice', [a.orifice, b.orifice], doublings, mm);
  return { distance: Math.round(why.reduce((sum, one) => sum + one.distance, 0) * 1000) / 1000, why: why.toSorted((x, y) => y.distance - x.distance) };
}
