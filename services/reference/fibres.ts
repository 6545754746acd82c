/**
 * Fibre densities at 65 % relative humidity, kg/m³ (Morton & Hearle, Physical Properties of Textile Fibres, 4th ed., Table 5.1),
 * except where marked from memory.
 */
export interface Fibre { readonly id: string; readonly density: number; readonly fromMemory?: true; /** How its yarn usually packs. */ readonly packs: 'wool' | 'cotton' | 'firm' }
export const fibres: readonly Fibre[] = [
  { id: 'wool', density: 1310, packs: 'wool' },
  { id: 'cotton', density: 1520, packs: 'cotton' },
  { id: 'silk', density: 1340, packs: 'firm' },
  { id: 'linen', density: 1530, packs: 'firm' },
  { id: 'viscose', density: 1490, packs: 'cotton' },
  { id: 'nylon', density: 1140, packs: 'cotton' },
  { id: 'polyester', density: 1390, packs: 'cotton' },
  { id: 'acrylic', density: 1190, packs: 'wool' },
  { id: 'hemp', density: 1480, fromMemory: true, packs: 'firm' },
  { id: 'ramie', density: 1510, fromMemory: true, packs: 'firm' },
  { id: 'alpaca', density: 1310, fromMemory: true, packs: 'wool' },
  { id: 'mohair', density: 1320, fromMemory: true, packs: 'wool' },
  { id: 'cashmere', density: 1310, fromMemory: true, packs: 'wool' },
];
export const fibreIds = fibres.map((f) => f.id) as readonly string[];
export const fibreAliases: Readonly<Record<string, string>> = { flax: 'linen', merino: 'wool', lambswool: 'wool', rayon: 'viscose', tencel: 'viscose' };
