/**
 * The one list of fibres. Densities in kg/m³ at 65 % relative humidity (Morton & Hearle, Physical Properties of Textile Fibres,
 * 4th ed., Table 5.1) and strengths (same, Table 13.1), except where marked from memory.
 */
export interface FibreStrength {
  /** Which sort the values are of. */
  readonly sort?: string;
  /** N/tex, a share, N/tex. */
  readonly tenacity: number; readonly extension: number; readonly modulus: number;
}
export interface Fibre {
  readonly id: string;
  readonly label: string;
  readonly density: number;
  readonly fromMemory?: true;
  /** How its yarn usually packs. */
  readonly packs: 'wool' | 'cotton' | 'firm';
  /** Weakest first. */
  readonly strengths?: readonly FibreStrength[];
}
const of = (tenacity: number, extension: number, modulus: number, sort?: string): FibreStrength => ({ tenacity, extension, modulus, ...(sort === undefined ? {} : { sort }) });

export const fibres: readonly Fibre[] = [
  { id: 'wool', label: 'wool', density: 1310, packs: 'wool', strengths: [of(0.11, 0.425, 2.3, '64s'), of(0.12, 0.298, 3, '36s'), of(0.14, 0.429, 2.1, '56s')] },
  { id: 'cotton', label: 'cotton', density: 1520, packs: 'cotton', strengths: [of(0.19, 0.056, 3.9, 'Bengal'), of(0.32, 0.071, 5, 'upland'), of(0.45, 0.068, 7.3, 'fine')] },
  { id: 'silk', label: 'silk', density: 1340, packs: 'firm', strengths: [of(0.38, 0.234, 7.3)] },
  { id: 'linen', label: 'linen (flax)', density: 1530, packs: 'firm', strengths: [of(0.54, 0.03, 18)] },
  { id: 'viscose', label: 'viscose', density: 1490, packs: 'cotton', strengths: [of(0.18, 0.272, 4.8)] },
  { id: 'nylon', label: 'nylon', density: 1140, packs: 'cotton', strengths: [of(0.47, 0.26, 2.6)] },
  { id: 'polyester', label: 'polyester', density: 1390, packs: 'cotton' },
  { id: 'acrylic', label: 'acrylic', density: 1190, packs: 'wool' },
  { id: 'hemp', label: 'hemp', density: 1480, fromMemory: true, packs: 'firm', strengths: [of(0.47, 0.022, 21.7)] },
  { id: 'ramie', label: 'ramie', density: 1510, fromMemory: true, packs: 'firm', strengths: [of(0.59, 0.037, 14.6)] },
  { id: 'jute', label: 'jute', density: 1450, fromMemory: true, packs: 'firm', strengths: [of(0.31, 0.018, 17.2)] },
  { id: 'alpaca', label: 'alpaca', density: 1310, fromMemory: true, packs: 'wool' },
  { id: 'mohair', label: 'mohair', density: 1320, fromMemory: true, packs: 'wool' },
  { id: 'cashmere', label: 'cashmere', density: 1310, fromMemory: true, packs: 'wool' },
  { id: 'camel', label: 'camel', density: 1310, fromMemory: true, packs: 'wool' },
  { id: 'casein', label: 'casein (milk)', density: 1300, packs: 'cotton' },
  { id: 'pla', label: 'PLA (corn)', density: 1250, packs: 'cotton' },
];
export const fibreIds = fibres.map((f) => f.id) as readonly string[];
export const fibreAliases: Readonly<Record<string, string>> = {
  flax: 'linen', merino: 'wool', lambswool: 'wool', rayon: 'viscose', tencel: 'viscose', lyocell: 'viscose', modal: 'viscose', bamboo: 'viscose', milk: 'casein', corn: 'pla', polyamide: 'nylon', 'camel-down': 'camel', 'baby-alpaca': 'alpaca',
};
/** For the fields of a question. */
export const fibreChoices = fibres.map(({ id, label }) => ({ value: id, label }));
export const fibreOf = (id: string | undefined): Fibre | undefined => (id === undefined ? undefined : fibres.find((f) => f.id === id));
/** Hair of animals other than sheep: the regain and the strength of wool stand for it where it has none of its own. */
export const isHair = (id: string): boolean => ['alpaca', 'mohair', 'cashmere', 'camel'].includes(id);

/** Young's modulus, Pa: initial modulus in N/tex times density, since 1 N/tex = 10⁶ N/(kg/m). Exact by definition. */
export const youngsModulus = (p: { modulus: number; density: number }): number => p.modulus * 1e6 * p.density;
