/** A seeded generator (xorshift32, four words), so that a check draws the same numbers on every run. */
export function seeded(seed: number): { uniform(): number; normal(): number; between(low: number, high: number): number } {
  let [x, y, z, w] = [seed | 0 || 1, 362436069, 521288629, 88675123];
  const uniform = (): number => {
    const t = x ^ (x << 11);
    [x, y, z] = [y, z, w];
    w = w ^ (w >>> 19) ^ t ^ (t >>> 8);
    return ((w >>> 0) + 0.5) / 4294967296;
  };
  for (let i = 0; i < 20; i++) uniform();
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(uniform())) * Math.cos(2 * Math.PI * uniform()),
    between: (low, high) => low + (high - low) * uniform(),
  };
}

/** Mean and standard deviation of n draws. */
export function spreadOf(n: number, draw: () => number): { mean: number; sd: number } {
  let [mean, m2] = [0, 0];
  for (let i = 1; i <= n; i++) {
    const v = draw();
    const d = v - mean;
    mean += d / i;
    m2 += d * (v - mean);
  }
  return { mean, sd: Math.sqrt(m2 / (n - 1)) };
}
