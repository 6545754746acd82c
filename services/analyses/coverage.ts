/**
 * Which singles the wheels of a table can make: grist by twist. A wheel counts for a single when one of its pairs draws in at
 * so soft a twist with an empty bobbin, its fastest whorl puts the twist in with at most 30 turns of the wheel to a draw of
 * 600 mm, and one setting of the tension from empty to full spares a yarn of that grist (0.6 g for each tex, 5 g at the hand to
 * draw in, hooks that double a pull). Common practice; a map of what to look at, no promise.
 */
import { middleOf } from './known.js';
import type { Verdict } from './verdict.js';

export const grists = [16, 25, 40, 60, 90, 130, 200, 300, 450, 700, 1000, 1600] as const;
export const twists = [40, 60, 90, 130, 190, 270, 390, 560, 800, 1150, 1650] as const;
export const cells = grists.length * twists.length;
const draw = 0.6;
const mostTurns = 30;
const spareOf = 0.6;
const drawIn = 5;
const hooks = 2;

/** Adds one wheel to the counts. False: too little is known of it. */
export function cover(counts: number[], v: Verdict): boolean {
  let softest = Infinity;
  let spread = Infinity;
  for (const p of v.pairs) {
    if (p.leastTwist === undefined || p.drawIn === 'flyer-leads') continue;
    softest = Math.min(softest, middleOf(p.leastTwist.empty));
    // The spread was given for hooks that multiply a pull by 1.4 to 3.
    if (p.spreadNeeded !== undefined && typeof p.spreadNeeded === 'object' && 'low' in p.spreadNeeded) spread = Math.min(spread, (p.spreadNeeded.low! / 1.96) * hooks ** 2);
  }
  const fastest = Math.max(0, ...v.whorls.map((w) => middleOf(w.flyerRatio)));
  if (!Number.isFinite(softest) || !Number.isFinite(spread) || fastest === 0) return false;
  const hardest = (fastest * mostTurns) / draw;
  const finest = (drawIn * spread) / spareOf;
  for (let g = 0; g < grists.length; g++) {
    if (grists[g]! < finest) continue;
    for (let t = 0; t < twists.length; t++) if (twists[t]! >= softest && twists[t]! <= hardest) counts[g * twists.length + t]!++;
  }
  return true;
}
