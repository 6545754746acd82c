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

/** Strength of yarns, N/tex. Upland cotton: 17.4 ± 1.8 gf/tex (Bioresources and Bioprocessing 7, 2020, Table 9); the rest from memory. */
export interface YarnStrength { readonly fibre: string; readonly preparation?: 'worsted' | 'woollen'; readonly low: number; readonly high: number; readonly fromMemory?: true }
export const yarnStrengths: readonly YarnStrength[] = [
  { fibre: 'cotton', low: 15.6 * 0.00980665, high: 19.2 * 0.00980665 }, { fibre: 'wool', preparation: 'worsted', low: 0.05, high: 0.09, fromMemory: true }, { fibre: 'wool', preparation: 'woollen', low: 0.02, high: 0.05, fromMemory: true },
  { fibre: 'linen', low: 0.15, high: 0.25, fromMemory: true }, { fibre: 'silk', low: 0.2, high: 0.3, fromMemory: true },
];
