/**
 * A plan: from finished yarn back to strands, fibre, bobbins and hours. SI in, SI out: lengths in m, masses in kg, grist in
 * kg/m, times in s, speeds in m/s, shares as fractions. Mass is kept through plying and washing, length is not: everything
 * here follows from that. Derived here where no source is named.
 */

/** A reserve is added to what the pattern asks for. */
export const withReserve = (p: { amount: number; reserve: number }): number => p.amount * (1 + p.reserve);

/** Length that must come off the wheel so that this much is left when a share is lost in washing. */
export const beforeLoss = (p: { amount: number; lost: number }): number => p.amount / (1 - p.lost);

/** Strand used for a plied length; the allowance is a share of the plied length (110 m of each strand for 100 m at 10 %). */
export const strandLength = (p: { plied: number; allowance: number }): number => p.plied * (1 + p.allowance);

/** Grist of one strand on the wheel, of yarn that is `grist` when finished: the same mass lies in more metres. */
export const strandGrist = (p: { grist: number; plies: number; lost: number; allowance: number }): number => (p.grist * (1 - p.lost)) / (p.plies * (1 + p.allowance));
/** The same turned round. */
export const finishedGrist = (p: { strand: number; plies: number; lost: number; allowance: number }): number => (p.strand * p.plies * (1 + p.allowance)) / (1 - p.lost);

/** Fibre ready to spin for this mass of yarn: what is lost on the way, and what goes into samples. */
export const fibreToSpin = (p: { yarn: number; lost: number; samples: number }): number => p.yarn / (1 - p.lost) + p.samples;
/** The yarn that this much fibre makes; nothing when all of it goes into samples. */
export const yarnOfFibre = (p: { fibre: number; lost: number; samples: number }): number => Math.max(0, p.fibre - p.samples) * (1 - p.lost);

/** Woven cloth off the loom is longer and wider by what it draws in and shrinks: finished/(1 - shrinkage). */
export const onTheLoom = (p: { finished: number; shrinkage: number }): number => p.finished / (1 - p.shrinkage);
/** Warp: ends across the width, each as long as the cloth on the loom and the loom's waste. Weft: a pick across the width for each place along the cloth. */
export const warpLength = (p: { width: number; length: number; sett: number; waste: number }): number => p.width * p.sett * (p.length + p.waste);
export const weftLength = (p: { width: number; length: number; sett: number }): number => p.length * p.sett * p.width;

/** Yarn in a piece, from a swatch of the same stuff: by area. */
export const fromSwatch = (p: { width: number; length: number; swatchWidth: number; swatchLength: number; yarn: number }): number =>
  (p.yarn * p.width * p.length) / (p.swatchWidth * p.swatchLength);

/** What the twist allows: flyer turns in a second over turns in a metre. What the hand allows: treadles in a second times the draft for one. */
export const twistLimited = (p: { treadling: number; ratio: number; twist: number }): number => (p.treadling * p.ratio) / p.twist;
export const draftLimited = (p: { treadling: number; draft: number }): number => p.treadling * p.draft;

/** Bobbins, or sets of them, that hold this much, none fuller than `holds`. */
export const fillsNeeded = (p: { amount: number; holds: number }): number => Math.max(1, Math.ceil(p.amount / p.holds - 1e-9));

/**
 * How likely something that is known as `mean` with standard uncertainty `u` is above nothing: the normal distribution
 * (JCGM 100:2008, 4.3.4 and annex G.2). Its integral by the continued fraction and the series of the error function, to 1e-12.
 */
export function likelihood(p: { mean: number; u: number }): number {
  const x = p.mean / (p.u * Math.SQRT2);
  const a = Math.abs(x);
  let tail: number;
  if (a < 2.5) {
    let [term, sum] = [a, a];
    for (let n = 1; Math.abs(term) > 1e-17 * Math.abs(sum) && n < 200; n++) { term *= -(a * a) / n; sum += term / (2 * n + 1); }
    tail = (1 - (2 / Math.sqrt(Math.PI)) * sum) / 2;
  } else {
    let f = a;
    for (let n = 120; n > 0; n--) f = a + n / 2 / f;
    tail = Math.exp(-a * a) / (f * Math.sqrt(Math.PI)) / 2;
  }
  return x >= 0 ? 1 - tail : tail;
}
