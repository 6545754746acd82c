/**
 * Drive ratio. SI in, SI out; angles in radians, ratios as turns of the driven part for one turn of the driving part.
 * Validated for bands thinner than the grooves they run in; slip is an input, never a hidden allowance.
 *
 * The pitch diameter is the band's centre line: seat diameter plus band thickness, velocity ratio (D + t)/(d + t) with
 * (1 - slip) (A Textbook of Engineering Mechanics, Example 33.3). Groove geometry: derived here.
 */

/** Pitch diameter of a band that lies on a seat of diameter `seat`, m. */
export const pitchOnSeat = (p: { seat: number; band: number }): number => p.seat + p.band;

/** Seat diameter from a tape round it: a tape of thickness `tape` reads the circle of its own middle. m. */
export const seatFromCircumference = (p: { circumference: number; tape: number }): number => p.circumference / Math.PI - p.tape;

/** Pitch diameter from one turn of the band itself, mark to mark: nothing to add. m. */
export const pitchFromTurn = (p: { turn: number }): number => p.turn / Math.PI;

/** A round band in a V of half angle β has its centre t/(2 sin β) above the apex: d + t/sin β. Derived here. m, rad. */
export const pitchFromApex = (p: { apex: number; band: number; halfAngle: number }): number => p.apex + p.band / Math.sin(p.halfAngle);

/** The apex lies (w/2)/tan β below the rim on either side: d_rim - w/tan β. Derived here. m, rad. */
export const apexFromRim = (p: { rim: number; opening: number; halfAngle: number }): number => p.rim - p.opening / Math.tan(p.halfAngle);

/** The rim above an apex: d_apex + w/tan β. Derived here. m, rad. */
export const rimFromApex = (p: { apex: number; opening: number; halfAngle: number }): number => p.apex + p.opening / Math.tan(p.halfAngle);

/** How far a band stands above the rim of its groove; less than 0 where it lies below: (pitch + t - d_rim)/2. Derived here. m. */
export const bandAboveRim = (p: { pitch: number; band: number; rim: number }): number => (p.pitch + p.band - p.rim) / 2;

/** V with a flat bottom of width f: the band lies on the flat, or hangs between the flanks, whichever is higher. Derived here. m, rad. */
export const pitchOnFlat = (p: { bottom: number; flat: number; band: number; halfAngle: number }): number =>
  p.bottom + 2 * Math.max(p.band / 2, p.band / (2 * Math.sin(p.halfAngle)) - p.flat / (2 * Math.tan(p.halfAngle)));

/** Turns of the driven part per turn of the driving part; slip as a share of the turns. */
export const driveRatio = (p: { driving: number; driven: number; slip?: number }): number => (p.driving / p.driven) * (1 - (p.slip ?? 0));

/** Stages in a row: the product of their ratios. */
export const compound = (ratios: readonly number[]): number => ratios.reduce((a, b) => a * b, 1);

/** Seat diameter whose ratio is `ratio`, for a driving pitch diameter and a band on the seat: D/i - t. m. */
export const seatForRatio = (p: { driving: number; ratio: number; band: number }): number => p.driving / p.ratio - p.band;

/** Bobbin turns in one flyer turn when nothing slips: i_b/i_f. Above 1 the bobbin leads and draws in. */
export const bobbinPerFlyerTurn = (p: { bobbin: number; flyer: number }): number => p.bobbin / p.flyer;

/** Flyer turns for one lap of yarn round the bobbin: 1/|ρ - 1|. Infinite at ρ = 1: nothing is wound. */
export const flyerTurnsPerLap = (p: { bobbinPerFlyerTurn: number }): number => 1 / Math.abs(p.bobbinPerFlyerTurn - 1);

/** Elastic creep of a linear band: share of turns lost, (T_t - T_s)/(EA + T_t). Derived here from steady mass flow. N. */
export const creep = (p: { tight: number; slack: number; stiffness: number }): number => (p.tight - p.slack) / (p.stiffness + p.tight);

/**
 * Standard uncertainty of a count read to a step q at `ends` ends: q √(ends/12), each end rectangular over one step
 * (JCGM 100:2008, 4.3.7). Turns.
 */
export const countUncertainty = (p: { step: number; ends: number }): number => p.step * Math.sqrt(p.ends / 12);

/** Wheel turns to count for a relative standard uncertainty `target` of a ratio near `ratio`, rounded up. */
export const turnsNeeded = (p: { ratio: number; step: number; ends: number; target: number }): number =>
  Math.ceil(countUncertainty(p) / (p.ratio * p.target) - 1e-9);

export interface Compared { readonly mean: number; readonly u: number; readonly z: number; readonly slip: number; readonly uSlip: number }

/**
 * A measured and a counted ratio: weighted mean (only meaningful when |z| ≤ 2), z = (i_g - i_c)/√(u_g² + u_c²), and the
 * slip 1 - i_c/i_g with its first-order uncertainty, uncorrelated (JCGM 100:2008, 5.1.2).
 */
export function compare(p: { measured: number; uMeasured: number; counted: number; uCounted: number }): Compared {
  const [wg, wc] = [1 / p.uMeasured ** 2, 1 / p.uCounted ** 2];
  const q = p.counted / p.measured;
  return {
    mean: (p.measured * wg + p.counted * wc) / (wg + wc),
    u: 1 / Math.sqrt(wg + wc),
    z: (p.measured - p.counted) / Math.hypot(p.uMeasured, p.uCounted),
    slip: 1 - q,
    uSlip: Math.hypot(p.uCounted / p.measured, (q * p.uMeasured) / p.measured),
  };
}
