/**
 * How many wraps a yarn makes: wraps per inch = k √(yd/lb). k depends on how one wraps, and within that on the yarn.
 * k² v = 1.021 475, v the specific volume in cm³/g, when the wraps just touch (derived here from exact yard and pound).
 */
export const wrappings = ['packed', 'ruler', 'loose'] as const;
export type Wrapping = (typeof wrappings)[number];
export const preparations = ['worsted', 'semi-worsted', 'semi-woollen', 'woollen'] as const;
export type Preparation = (typeof preparations)[number];

export interface Factor { readonly low: number; readonly high: number; readonly source?: 'taylor' | 'teal' }

/**
 * Packed: pushed together until no more go in. Cotton 0.95 (Taylor, Cotton Weaving and Designing, 6th ed., pp. 453, 458),
 * 0.966 after Peirce, down to 0.90; worsted 0.90, woollen 0.84 (agreed in the trade, and the ends of Teal's table).
 */
const packed = {
  any: { low: 0.84, high: 0.97 }, worsted: { low: 0.9, high: 0.91 }, woollen: { low: 0.84, high: 0.862 }, between: { low: 0.85, high: 0.9 }, cotton: { low: 0.9, high: 0.966 }, firm: { low: 0.9, high: 0.935 },
} as const;
/** Side by side round a ruler: 0.7 of 0.90. Common practice. */
const ruler: Factor = { low: 0.58, high: 0.68 };
/** As knitters wind: 0.25 to 0.61 on real skeins. Common practice. */
const loose: Factor = { low: 0.25, high: 0.61 };

export function wrapFactor(wrapping: Wrapping, packs: 'wool' | 'cotton' | 'firm' | undefined, preparation: Preparation | undefined): Factor {
  if (wrapping === 'ruler') return ruler;
  if (wrapping === 'loose') return loose;
  if (packs === 'cotton') return packed.cotton;
  if (packs === 'firm') return packed.firm;
  if (preparation === 'worsted') return packed.worsted;
  if (preparation === 'woollen') return packed.woollen;
  if (preparation !== undefined) return packed.between;
  return packs === 'wool' ? { low: 0.84, high: 0.91 } : packed.any;
}

/** k² v for wraps that touch, cm³/g: (25.4 mm / 0.035 682 5)² over the yards in a pound of 1 tex. */
export const factorSquaredTimesVolume = (25.4 ** 2 * Math.PI * 1e3) / (4 * (453.59237 / 0.9144) * 1e3);
/** Specific volume, m³/kg, of a yarn whose packed wraps have the factor k. */
export const volumeOfFactor = (k: number): number => (factorSquaredTimesVolume / k ** 2) / 1000;
