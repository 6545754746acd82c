/**
 * What a round urethane cord bears: greatest tension and smallest pulley at a low rate of flexing, for cord of hardness
 * 83A and 85A, by thickness. In the source's own units: mm, lbf, in (manufacturers' data for round urethane cord).
 */
import type { Reading } from '../foundation/reading.js';

const table = [
  { mm: 2, lbf: 0.4, inch: 0.44 },
  { mm: 3, lbf: 1.1, inch: 0.75 },
  { mm: 4, lbf: 1.7, inch: 0.83 },
  { mm: 5, lbf: 2.5, inch: 1 },
] as const;
const lbf = 0.45359237 * 9.80665;

/** Greatest tension (N) and smallest pulley (m) for a thickness (m). Between two rows of the table: both, as an interval. Undefined outside of it. */
export function urethaneCord(thickness: { readonly low: number; readonly high: number }): { readonly greatestTension: Reading; readonly smallestPulley: Reading } | undefined {
  const near = 1e-9;
  const below = table.findLast((row) => row.mm / 1000 <= thickness.low + near);
  const above = table.find((row) => row.mm / 1000 >= thickness.high - near);
  if (below === undefined || above === undefined) return undefined;
  if (below === above) return { greatestTension: { value: below.lbf * lbf }, smallestPulley: { value: below.inch * 0.0254 } };
  return { greatestTension: { low: below.lbf * lbf, high: above.lbf * lbf }, smallestPulley: { low: below.inch * 0.0254, high: above.inch * 0.0254 } };
}
