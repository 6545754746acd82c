/**
 * How few fibres a yarn's section can do with, by the way of spinning. Klein, The Technology of Short-staple Spinning:
 * fibres in the yarn cross-section; the rest from memory. Advice, not a limit: a hand may make finer yarn than a frame.
 */
export interface FewestFibres { readonly way: string; readonly from: number; readonly to: number; readonly fromMemory?: true }
export const fewestFibres: readonly FewestFibres[] = [
  { way: 'ring frame, combed cotton', from: 33, to: 33 }, { way: 'ring frame, carded cotton', from: 75, to: 75 }, { way: 'ring frame, synthetic', from: 50, to: 50 }, { way: 'rotor', from: 100, to: 100 },
  { way: 'worsted', from: 35, to: 40, fromMemory: true }, { way: 'woollen', from: 100, to: 120, fromMemory: true },
];
/** √(1 + 4 CV²), the usual constant of limit irregularity where the fibre's own spread is not known: 1.06 cotton, 1.12 wool (from memory), 1 for a fibre of one thickness. */
export const usualIrregularity = { cotton: 1.06, wool: 1.12, even: 1 } as const;
