/** A grist in every system of yarn numbers. */
import { findUnit, fromSI, type Unit } from '../../foundation/quantity.js';
import { isPoint, type Reading } from '../../foundation/reading.js';

/** Every yarn number that an answer carries, with the unit that defines it. */
export const yarnNumberUnits = {
  tex: 'tex', dtex: 'dtex', denier: 'den', metric: 'Nm', cotton: 'cotton-count', worsted: 'worsted-count', woollenRun: 'woollen-run', woollenCut: 'woollen-cut', yorkshireSkein: 'yorkshire-skein',
  galashielsCut: 'galashiels-cut', linenLea: 'linen-lea', yardsPerPound: 'yd/lb', metresPer100g: 'm/100g', metresPerKilogram: 'm/kg', ouncesPer100Yards: 'oz/100yd', yardsPerOunce: 'yd/oz',
  westOfEnglandSnap: 'snap', asbestosCut: 'asbestos-cut', frenchCount: 'french-count', juteCount: 'jute-count', grainsPer120Yards: 'grain/120yd',
} as const;
export type YarnNumber = number | { low?: number; high?: number };
export type YarnNumbers = Record<keyof typeof yarnNumberUnits, YarnNumber>;
const numberUnits = Object.entries(yarnNumberUnits).map(([key, unit]) => [key, findUnit('grist', unit)!] as [keyof YarnNumbers, Unit]);

export function inEverySystem(g: Reading): YarnNumbers {
  const out: Partial<YarnNumbers> = {};
  for (const [key, unit] of numberUnits) {
    if (isPoint(g)) { out[key] = fromSI(g.value, unit); continue; }
    const [a, b] = [g.low === undefined ? undefined : fromSI(g.low, unit), g.high === undefined ? undefined : fromSI(g.high, unit)];
    const [low, high] = unit.reciprocal ? [b, a] : [a, b];
    out[key] = { ...(low === undefined || !Number.isFinite(low) ? {} : { low }), ...(high === undefined || !Number.isFinite(high) ? {} : { high }) };
  }
  return out as YarnNumbers;
}
