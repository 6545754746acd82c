/** What a measured sample says against what is wanted. SI in, SI out; shares are of the wanted value. */
import { studentT } from '../../foundation/student.js';

/** How far off, as a share of what is wanted: 0.04 is 4 % more. */
export const shareOff = ({ measured, wanted }: { measured: number; wanted: number }): number => measured / wanted - 1;

/**
 * The least number of measurements whose mean is known to `gap` at 95 %: t(n - 1) CV/√n, with what is uncertain whatever
 * their number (`other`, a half-width at 95 %) added in quadrature. All are shares. JCGM 100:2008, G.3 and 4.3; undefined
 * when `other` alone is too much, or a million would not do.
 */
export function measurementsToTell({ spread, gap, other }: { spread: number; gap: number; other: number }): number | undefined {
  if (!(gap > other) || !(gap > 0)) return undefined;
  const enough = (n: number): boolean => Math.hypot((studentT(0.95, n - 1) * spread) / Math.sqrt(n), other) <= gap;
  let high = 2;
  while (!enough(high)) if ((high *= 2) > 1e6) return undefined;
  let low = high / 2;
  // The half-width falls with every measurement, so what is sought lies between.
  while (high - low > 1) {
    const middle = Math.floor((low + high) / 2);
    if (middle >= 2 && enough(middle)) high = middle; else low = middle;
  }
  return Math.max(2, high);
}

/** Wraps go with the root of the grist, whichever way they are wound: the grist for so many times the wraps. */
export const gristFactorOfWraps = ({ measured, wanted }: { measured: number; wanted: number }): number => (wanted / measured) ** 2;

/** The same angle of twist at another grist, the yarn packed alike: tan α = π D T, and D goes with the root of the grist. */
export const twistForSameAngle = ({ twist, grist, wantedGrist }: { twist: number; grist: number; wantedGrist: number }): number => twist * Math.sqrt(grist / wantedGrist);
