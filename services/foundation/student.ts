/**
 * Student's t: how many standard uncertainties wide an interval must be when the spread itself was found from few
 * measurements. (JCGM 100:2008, annex G.3; Abramowitz & Stegun, Handbook of Mathematical Functions, 26.5.1, 26.5.8, 26.7.1.)
 */

/** Γ(a + 1/2)/Γ(a): raised to a large a by Γ(x + 1) = x Γ(x), there Tricomi's series in 1/a (relative error below 1e-15). */
function gammaRatio(a: number): number {
  let factor = 1;
  for (; a < 25; a++) factor *= a / (a + 0.5);
  const x = 1 / a;
  return factor * Math.sqrt(a) * (1 + x * (-1 / 8 + x * (1 / 128 + x * (5 / 1024 + x * (-21 / 32768 + x * (-399 / 262144 + x * (869 / 4194304 + x * (39325 / 33554432))))))));
}

/** Continued fraction of the incomplete beta function, by Lentz's method; x < (a + 1)/(a + b + 2). */
function betaFraction(a: number, b: number, x: number): number {
  const tiny = 1e-300;
  let [c, d] = [1, 1 / (1 - ((a + b) * x) / (a + 1) || tiny)];
  let h = d;
  for (let m = 1; m < 1e6; m++) {
    for (const n of [(m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m)), (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1))]) {
      d = 1 / (1 + n * d || tiny);
      c = 1 + n / c || tiny;
      h *= d * c;
    }
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return h;
}

/** Within, and beyond, ±t; each to full precision where it is the smaller. `density` is that of T at t. */
function shares(t: number, nu: number): { within: number; beyond: number; density: number } {
  const s = (t * t) / nu;
  const ratio = gammaRatio(nu / 2) / Math.sqrt(Math.PI);
  const power = Math.exp((-nu / 2) * Math.log1p(s));
  const density = (ratio * power) / Math.sqrt(nu * (1 + s));
  // I_x(a, b) with the power and 1/B(a, b) taken out: B(ν/2, 1/2) = √π Γ(ν/2)/Γ((ν + 1)/2).
  const front = ratio * power * Math.sqrt(s / (1 + s));
  const [x, a] = [1 / (1 + s), nu / 2];
  if (x < (a + 1) / (a + 2.5)) {
    const beyond = (front / a) * betaFraction(a, 0.5, x);
    return { beyond, within: 1 - beyond, density };
  }
  const within = front * 2 * betaFraction(0.5, a, s / (1 + s));
  return { within, beyond: 1 - within, density };
}

/** Beyond so many degrees of freedom the fraction would lose figures. */
const most = 1e6;

/**
 * Two-sided quantile: the t with P(|T| ≤ t) = `probability` for `degreesOfFreedom` ν, which need not be whole.
 * `studentT(0.95, 9)` is 2.262. Relative error below 1e-10 (checked against closed forms in 50 digits). Throws a RangeError
 * unless 0 < probability < 1 and ν > 0; with ν infinite it is the normal distribution's.
 */
export function studentT(probability: number, degreesOfFreedom: number): number {
  if (!(probability > 0 && probability < 1)) throw new RangeError('probability must lie between 0 and 1');
  if (!(degreesOfFreedom > 0)) throw new RangeError('degrees of freedom must be more than 0');
  if (degreesOfFreedom > most) {
    // t is a series in 1/ν (same, 26.7.5): from two points to the limit, and from there back to ν.
    const [half, whole] = [studentT(probability, most / 2), studentT(probability, most)];
    const limit = 2 * whole - half;
    return limit + ((whole - limit) * most) / degreesOfFreedom;
  }
  // Newton on log-log axes, where the share beyond falls as a power of t and the share within rises with t; kept inside a bracket.
  const far = probability > 0.5;
  let [low, high, t] = [0, Infinity, 1];
  for (let step = 0; step < 200; step++) {
    const { within, beyond, density } = shares(t, degreesOfFreedom);
    const off = far ? Math.log(beyond / (1 - probability)) : Math.log(within / probability);
    if ((off > 0) === far) low = t; else high = t;
    const move = Math.exp((far ? beyond : -within) * off / (2 * t * density));
    const next = t * move;
    if (Math.abs(move - 1) < 1e-15) return next;
    t = next > low && next < high ? next : high === Infinity ? t * 10 : low === 0 ? t / 10 : Math.sqrt(low * high);
  }
  return t;
}

/** Mean and standard deviation of several measurements (n - 1). JCGM 100:2008, 4.2.1 and 4.2.2. */
export function meanAndDeviation(values: readonly number[]): { mean: number; deviation: number } {
  const mean = values.reduce((a, b) => a + b, 0) / values.length;
  return { mean, deviation: Math.sqrt(values.reduce((a, x) => a + (x - mean) ** 2, 0) / (values.length - 1)) };
}
