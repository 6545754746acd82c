/** A number as it is known: alone, or an interval, or with its ± (95 %). */
export type Known = number | { readonly low?: number; readonly high?: number } | { readonly value: number; readonly plusMinus: number };
/** One number to stand for it. */
export const middleOf = (k: Known): number => (typeof k === 'number' ? k : 'value' in k ? k.value : k.low !== undefined && k.high !== undefined ? (k.low + k.high) / 2 : (k.low ?? k.high)!);
