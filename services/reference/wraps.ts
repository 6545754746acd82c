/**
 * How many wraps a yarn makes: wraps per inch = k √(yd/lb). k depends on how one wraps, and within that on the yarn.
 * k² v = 1.021 475, v the specific volume in cm³/g, when the wraps just touch (derived here from exact yard and pound).
 */
export const wrappings = ['packed', 'ruler', 'loose'] as const;
export type Wrapping = (typeof wrappings)[number];
export const wrappingChoices = [
  { value: 'packed', label: 'packed together until no more go in' }, { value: 'ruler', label: 'side by side round a ruler' }, { value: 'loose', label: 'loosely, as knitters wind' },
] as const;
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

/** Diameters in an inch over the root of yards in a pound, as others print or use it, with what it implies. Common practice where no source stands. */
export interface PrintedFactor { readonly factor: number; readonly yarn: string; readonly wrapping: Wrapping; readonly source?: 'taylor' | 'mill' | 'teal' | 'memory' }
export const printedFactors: readonly PrintedFactor[] = [
  { factor: 0.966, yarn: 'cotton, 28 √count', wrapping: 'packed', source: 'mill' }, { factor: 0.95, yarn: 'cotton, the root less 5 %', wrapping: 'packed', source: 'taylor' },
  { factor: 0.92, yarn: 'cotton and linen', wrapping: 'packed', source: 'memory' }, { factor: 0.91, yarn: 'silk, cotton and linen, very firm', wrapping: 'packed' }, { factor: 0.903, yarn: 'worsted, fine', wrapping: 'packed', source: 'teal' },
  { factor: 0.9, yarn: 'worsted and other firm yarn', wrapping: 'packed' }, { factor: 0.86, yarn: 'woollen', wrapping: 'packed' }, { factor: 0.85, yarn: 'woollen, soft', wrapping: 'packed' },
  { factor: 0.84, yarn: 'woollen, tweed', wrapping: 'packed' }, { factor: 0.837, yarn: 'worsted, thick', wrapping: 'packed', source: 'teal' },
  { factor: 0.63, yarn: 'round a ruler', wrapping: 'ruler' }, { factor: 0.5, yarn: 'as knitters wind, half of packed', wrapping: 'loose' }, { factor: 0.37, yarn: 'as knitters wind, thin end of a table', wrapping: 'loose' }, { factor: 0.29, yarn: 'as knitters wind, thick end of a table', wrapping: 'loose' },
];
