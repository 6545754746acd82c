/**
 * Several estimates of one size as one: the mean weighted by 1/u² and its uncertainty, whether they agree (χ² and the
 * Birge ratio), and which lies too far out. (Birge, The calculation of errors by the method of least squares, Phys. Rev. 40
 * (1932) 207: the ratio of external to internal consistency; χ²: Abramowitz & Stegun, Handbook of Mathematical Functions, 26.4.)
 */
export interface Estimate { /** The id of a measurement, or `profile`. */ readonly from: string; readonly value: number; readonly u: number }
export interface Combined {
  readonly value: number;
  /** Standard uncertainty; widened by the Birge ratio where the estimates do not agree. */
  readonly u: number;
  readonly chiSquare: number;
  readonly freedom: number;
  /** √(χ²/ν): near 1 when estimates scatter as their uncertainties say. Absent of one estimate. */
  readonly birge?: number;
  /** one: there is one only. agree. left-out: one or more lie so far out that the rest agree without them. disagree: nobody can say which is wrong. */
  readonly verdict: 'one' | 'agree' | 'left-out' | 'disagree';
  /** The farthest one, or those that were left out. */
  readonly outliers: readonly string[];
  readonly used: readonly Estimate[];
}

/** Probability of a larger χ² with k degrees of freedom, Q(k/2, x/2): series below, continued fraction above (A&S 6.5.29, 6.5.31). */
export function chiSquareTail(p: { chiSquare: number; freedom: number }): number {
  const [a, x] = [p.freedom / 2, p.chiSquare / 2];
  if (x <= 0) return 1;
  const front = Math.exp(a * Math.log(x) - x - logGamma(a));
  if (x < a + 1) {
    let [term, sum] = [1 / a, 1 / a];
    for (let n = 1; n < 10_000 && term > sum * 1e-17; n++) sum += term *= x / (a + n);
    return 1 - front * sum;
  }
  // Lentz's method.
  let b = x + 1 - a;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < 10_000; n++) {
    const an = n * (a - n);
    b += 2;
    d = 1 / (an * d + b || 1e-300);
    c = b + an / c || 1e-300;
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return front * h;
}
/** log Γ of a half or whole number, by Γ(x + 1) = x Γ(x) from Γ(1/2) = √π and Γ(1) = 1. */
function logGamma(a: number): number {
  let log = a % 1 === 0 ? 0 : Math.log(Math.PI) / 2;
  for (let x = a % 1 === 0 ? 1 : 0.5; x < a; x++) log += Math.log(x);
  return log;
}

function mean(list: readonly Estimate[]): { value: number; u: number; chiSquare: number } {
  let [weights, sum] = [0, 0];
  for (const { value, u } of list) { weights += 1 / u ** 2; sum += value / u ** 2; }
  const value = sum / weights;
  return { value, u: 1 / Math.sqrt(weights), chiSquare: list.reduce((s, e) => s + ((e.value - value) / e.u) ** 2, 0) };
}
/** Estimates agree when a χ² as large comes by chance once in twenty. */
const least = 0.05;

export function combine(list: readonly Estimate[]): Combined {
  const whole = mean(list);
  const freedom = list.length - 1;
  if (freedom === 0) return { value: whole.value, u: whole.u, chiSquare: 0, freedom, verdict: 'one', outliers: [], used: list };
  const birge = Math.sqrt(whole.chiSquare / freedom);
  const all = { ...whole, freedom, birge, used: list };
  if (chiSquareTail({ chiSquare: whole.chiSquare, freedom }) >= least) return { ...all, verdict: 'agree', outliers: [] };
  // How far each lies from the mean of the others.
  const away = list.map((e, i) => { const rest = mean(list.filter((_, j) => j !== i)); return Math.abs(e.value - rest.value) / Math.hypot(e.u, rest.u); });
  const far = away.indexOf(Math.max(...away));
  // Of two that differ nobody can say which is wrong; of three or more a majority must agree without the one.
  if (list.length >= 3) {
    const rest = combine(list.filter((_, i) => i !== far));
    if (rest.verdict !== 'disagree' && rest.used.length >= 2 && rest.used.length > list.length / 2) return { ...rest, verdict: 'left-out', outliers: [list[far]!.from, ...rest.outliers] };
  }
  return { ...all, u: whole.u * Math.max(1, birge), verdict: 'disagree', outliers: list.length >= 3 ? [list[far]!.from] : [] };
}
