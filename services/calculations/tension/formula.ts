/**
 * Forces of band, brake and yarn. SI in, SI out: forces in N, torques in N m, diameters and radii in m, angles in rad, friction
 * as a plain number. Friction of cord on turned wood is known only as a range; every answer that uses it is one.
 * Capstan T_t/T_s = e^{μ'θ}: open textbook of statics, belts and V-belts. The rest: derived here where no source is named.
 */

/** V groove of half angle β: μ' = μ/sin β. (Hamrock et al., Fundamentals of Machine Elements, problem 19.14: 0.2/sin 18° = 0.647.) */
export const frictionInV = (p: { friction: number; halfAngle: number }): number => p.friction / Math.sin(p.halfAngle);
/**
 * Round groove touched from γ₁ to γ₂ on each side: μ' = 4μ(sin γ₂ - sin γ₁)/(sin 2γ₂ - sin 2γ₁ + 2γ₂ - 2γ₁).
 * (Feyrer, Wire Ropes, eq. 3.32: 1.170 μ at ±60°, 4μ/π over the half circle.)
 */
export function frictionInRound(p: { friction: number; from: number; to: number }): number {
  const { from: a, to: b } = p;
  return (4 * p.friction * (Math.sin(b) - Math.sin(a))) / (Math.sin(2 * b) - Math.sin(2 * a) + 2 * b - 2 * a);
}

/** Slip torque of one loop with fixed shafts, (T_t + T_s)/2 = T₀: C = T₀ d tanh(μ'θ/2). */
export const slipTorque = (p: { tension: number; diameter: number; friction: number; wrap: number }): number => p.tension * p.diameter * Math.tanh((p.friction * p.wrap) / 2);

/** Brake band: spring at the slack end S(d/2)(e^{μφ} - 1), at the tight end S(d/2)(1 - e^{-μφ}), at both ends S d tanh(μφ/2). */
export const brakeTorque = (p: { spring: number; diameter: number; friction: number; wrap: number; end: 'slack' | 'tight' | 'both' }): number => {
  const x = p.friction * p.wrap;
  return p.end === 'slack' ? (p.spring * p.diameter * Math.expm1(x)) / 2 : p.end === 'tight' ? (p.spring * p.diameter * -Math.expm1(-x)) / 2 : p.spring * p.diameter * Math.tanh(x / 2);
};
/** Reversing the spin changes a brake with one spring by e^{μφ}. */
export const reversalFactor = (p: { friction: number; wrap: number }): number => Math.exp(p.friction * p.wrap);

export interface OneLoop { readonly tension: number; readonly whorl: number; readonly bobbin: number; readonly drag: number; readonly bobbinGrip: number; readonly whorlGrip: number }
/**
 * The doubled band as one loop, yarn held, bobbin slipping: both tight sides run to the same pull t. Grips are E = e^{μ'θ}.
 * t = (4T₀ + M_d/R_w)/[3 + 1/E_b + (R_b/R_w)(1 - 1/E_b)], M_b = R_b t(1 - 1/E_b), s_w = t - M_w/R_w with M_w = M_d - M_b.
 */
export function heldLoop(p: OneLoop): { tight: number; slackBobbin: number; runWhorl: number; bobbinTorque: number; whorlTorque: number; whorlHolds: boolean } {
  const [rw, rb, e] = [p.whorl / 2, p.bobbin / 2, 1 / p.bobbinGrip];
  const tight = (4 * p.tension + p.drag / rw) / (3 + e + (rb / rw) * (1 - e));
  const bobbinTorque = rb * tight * (1 - e);
  const whorlTorque = p.drag - bobbinTorque;
  const runWhorl = tight - whorlTorque / rw;
  const ratio = runWhorl / tight;
  return { tight, slackBobbin: tight * e, runWhorl, bobbinTorque, whorlTorque, whorlHolds: Math.max(ratio, 1 / ratio) <= p.whorlGrip };
}
/** Static band tension at which the one loop gives this bobbin torque: heldLoop turned round. */
export function loopTension(p: Omit<OneLoop, 'tension' | 'whorlGrip'> & { torque: number }): number {
  const [rw, rb, e] = [p.whorl / 2, p.bobbin / 2, 1 / p.bobbinGrip];
  return ((p.torque * (3 + e + (rb / rw) * (1 - e))) / (rb * (1 - e)) - p.drag / rw) / 4;
}
/** The one loop when the whorl slips and the bobbin holds: s_w = E_w t, M_b = M_d + R_w t(E_w - 1). */
export function whorlSlips(p: OneLoop): { tight: number; bobbinTorque: number; bobbinHolds: boolean } {
  const [rw, rb, ew] = [p.whorl / 2, p.bobbin / 2, p.whorlGrip];
  const tight = (4 * p.tension + p.drag / rb) / (3 + ew - (rw / rb) * (ew - 1));
  const bobbinTorque = p.drag + rw * tight * (ew - 1);
  const slackBobbin = tight - bobbinTorque / rb;
  return { tight, bobbinTorque, bobbinHolds: slackBobbin > 0 && tight / slackBobbin <= p.bobbinGrip };
}
/** Separate loops: the bobbin gives first when C_b ≤ C_w + M_d. */
export const slipOrder = (p: { bobbin: number; whorl: number; drag: number }): number => p.bobbin / (p.whorl + p.drag);

/** A fixed setting can serve core to full only when F_out/F_in ≥ (r₁/r₀) e², e what hooks and orifice multiply a pull by. Necessary, not sufficient. */
export const spreadNeeded = (p: { core: number; full: number; factor: number }): number => (p.full / p.core) * p.factor ** 2;

/** Torque at the package that still draws in: F_in e r + M_sp. */
export const torqueToDrawIn = (p: { pull: number; factor: number; diameter: number; spindle: number }): number => (p.pull * p.factor * p.diameter) / 2 + p.spindle;
/** Torque at which pulling off reaches what yarn and hand bear: F_out r/e - M_sp. */
export const torqueBorne = (p: { pull: number; factor: number; diameter: number; spindle: number }): number => (p.pull * p.diameter) / (2 * p.factor) - p.spindle;

/** Load at the wheel: double drive held i_f(M_d - M_b) + i_b M_b, drawing in freely i_f M_d + i_b M_b; flyer-lead i_f(M_d + M_br); bobbin-lead i_b(M_d + M_br). */
export const wheelLoad = (p: { flyerRatio: number; bobbinRatio: number; drag: number; bobbin: number; brake: number; drive: 'double-drive' | 'flyer-lead' | 'bobbin-lead'; held: boolean }): number =>
  p.drive === 'double-drive' ? p.flyerRatio * (p.held ? p.drag - p.bobbin : p.drag) + p.bobbinRatio * p.bobbin : (p.drive === 'flyer-lead' ? p.flyerRatio : p.bobbinRatio) * (p.drag + p.brake);

// ---- checks that a person can do

/** Standard gravity, m/s²: by definition. */
export const gravity = 9.80665;
export interface Sag { readonly run: number; readonly mass: number; readonly sag: number; readonly stiffness: number; readonly freeLength: number }
/** Tension of a level run from a small weight at mid-run: T = FS/4δ - 2kδ²/S, k = EA/L_e; δ from the unloaded line. */
export const tensionFromSag = (p: Sag): number => (p.mass * gravity * p.run) / (4 * p.sag) - (2 * (p.stiffness / p.freeLength) * p.sag ** 2) / p.run;
/** While the weight hangs: FS/4δ. */
export const tensionWhileLoaded = (p: Pick<Sag, 'run' | 'mass' | 'sag'>): number => (p.mass * gravity * p.run) / (4 * p.sag);
/** Sag of a run: δ solves F = 4Tδ/S + 8kδ³/S². */
export function sagOf(p: { run: number; mass: number; tension: number; stiffness: number; freeLength: number }): number {
  const k = p.stiffness / p.freeLength;
  const force = p.mass * gravity;
  if (k === 0) return (force * p.run) / (4 * p.tension);
  const a = (p.tension * p.run) / (2 * k);
  const b = (force * p.run ** 2) / (8 * k);
  return 2 * Math.sqrt(a / 3) * Math.sinh(Math.asinh(((3 * b) / (2 * a)) * Math.sqrt(3 / a)) / 3);
}
/**
 * The same of a cord that weighs `weight` N/m itself, from where it hung before: δ = (FS/4 + wS²/8)/T' - wS²/8T,
 * T' = T + kΔL, ΔL = (F²h/4 + Fwh²/2 + w²h³/3)/T'² - w²h³/3T², h = S/2. Solved by halving: T' lies above T.
 */
export function sagOfHeavyCord(p: { run: number; mass: number; tension: number; stiffness: number; freeLength: number; weight: number }): number {
  const [F, S, T, w, h, k] = [p.mass * gravity, p.run, p.tension, p.weight, p.run / 2, p.stiffness / p.freeLength];
  const longer = (t: number): number => ((F * F * h) / 4 + (F * w * h * h) / 2 + (w * w * h ** 3) / 3) / t ** 2 - (w * w * h ** 3) / (3 * T * T);
  let [low, high] = [T, T + k * Math.max(0, longer(T))];
  for (let i = 0; i < 200; i++) {
    const t = (low + high) / 2;
    if (T + k * longer(t) > t) low = t;
    else high = t;
  }
  return ((F * S) / 4 + (w * S * S) / 8) / high - (w * S * S) / (8 * T);
}
/** How the run hangs: radii of its two pulleys, m, and whether the weight draws it towards the line of their centres (1) or away from it (-1); what the cord weighs, N/m. */
export interface Hung extends Sag { readonly radii?: readonly [number, number]; readonly side?: 1 | -1; readonly weight?: number }
/**
 * The same without smallness, T' while the weight hangs and T without it. On its pulleys, σ the side:
 * δ = h tan α_i - σR_i(sec α_i - 1), F = T' Σ sin α_i, ΔL = Σ[h(sec α_i - 1) - σR_i(tan α_i - α_i)], h = S/2, T = T' - kΔL.
 * A cord that weighs something: two halves of a catenary (`heavyCord`), its pulleys by the first order in δ.
 */
export function tensionFromSagExact(p: Hung): { loaded: number; unloaded: number } {
  const [force, half, k, side] = [p.mass * gravity, p.run / 2, p.stiffness / p.freeLength, p.side ?? 1];
  const radii = p.radii ?? [0, 0];
  if ((p.weight ?? 0) > 0) {
    const bend = (side * (radii[0] + radii[1]) * p.sag) / p.run ** 2;
    const { loaded, longer } = heavyCord({ force, half, sag: p.sag, weight: p.weight!, k });
    const onPulleys = loaded / (1 + bend);
    return { loaded: onPulleys, unloaded: onPulleys - k * longer * (1 + (2 / 3) * bend) };
  }
  let [sines, longer] = [0, 0];
  for (const radius of radii) {
    const r = side * radius;
    const alpha = Math.asin(r / Math.hypot(half, r - p.sag)) - Math.atan2(r - p.sag, half);
    sines += Math.sin(alpha);
    longer += half * (1 / Math.cos(alpha) - 1) - r * (Math.tan(alpha) - alpha);
  }
  const loaded = force / sines;
  return { loaded, unloaded: loaded - k * longer };
}

/** Mean pull along a piece of catenary of horizontal pull H, from where its upright pull is a to where it is b: ∫√(H² + V²) dV/(b - a). */
function meanPull(H: number, a: number, b: number): number {
  const whole = (v: number): number => (v * Math.hypot(H, v) + H * H * Math.asinh(v / H)) / 2;
  return (whole(b) - whole(a)) / (b - a);
}
/** The root of a falling function near two places on its two sides: the chord, the end that stays weighed down (Illinois); some ten looks. */
function rootOfFalling(f: (x: number) => number, low: number, high: number): number {
  let [a, b] = [low, high];
  let [atA, atB] = [f(a), f(b)];
  for (let i = 0; i < 60 && atA < 0; i++) { [b, atB, a] = [a, atA, a / 2]; atA = f(a); }
  for (let i = 0; i < 60 && atB > 0; i++) { [a, atA, b] = [b, atB, b * 2]; atB = f(b); }
  let [x, last, side] = [a, Infinity, 0];
  for (let i = 0; i < 60 && Math.abs(x - last) > 1e-14 * x; i++) {
    last = x;
    x = (a * atB - b * atA) / (atB - atA);
    const at = f(x);
    if (at === 0) break;
    if (at > 0) { [a, atA] = [x, at]; if (side === 1) atB /= 2; side = 1; } else { [b, atB] = [x, at]; if (side === -1) atA /= 2; side = -1; }
  }
  return x;
}
/**
 * Two halves of a catenary under F at mid-span: h = (H/w)[asinh(V_s/H) - asinh(F/2H)], depth (H/w)[√(1 + V_s²/H²) - √(1 + F²/4H²)],
 * length (2V_s - F)/w; δ is the depth less that of the bare cord. T and T' are means along the cord, which stretches by them.
 */
function heavyCord(p: { force: number; half: number; sag: number; weight: number; k: number }): { loaded: number; longer: number } {
  const { force: F, half: h, weight: w, k } = p;
  const hung = (H: number, f: number): { depth: number; length: number; pull: number } => {
    const end = H * Math.sinh((w * h) / H + Math.asinh(f / (2 * H)));
    // cosh x - cosh y by its product: near each other their difference would lose its figures.
    const [x, y] = [Math.asinh(end / H), Math.asinh(f / (2 * H))];
    return { depth: ((2 * H) / w) * Math.sinh((x + y) / 2) * Math.sinh((x - y) / 2), length: (2 * end - f) / w, pull: meanPull(H, f / 2, end) };
  };
  const stretched = (bare: number): { loaded: number; longer: number; tension: number } => {
    const without = hung(bare, 0);
    const wanted = p.sag + without.depth;
    const most = (F * h) / (2 * wanted) + (w * h * h) / (2 * wanted);
    const H = rootOfFalling((x) => hung(x, F).depth - wanted, most / 4, most * 4);
    const loaded = hung(H, F);
    const longer = loaded.length - without.length;
    return { loaded: loaded.pull, longer, tension: loaded.pull - k * longer - without.pull };
  };
  const guess = (F * h) / (2 * p.sag);
  // Below that the bare cord would hang in a deep bow, and no band does.
  const low = Math.max(guess / 20, (w * h) / 2);
  // A cord so stiff that the weight alone would stretch it this far was slack: then its own weight tells nothing.
  const { loaded, longer } = stretched(stretched(low).tension <= 0 ? guess * 4 : rootOfFalling((x) => stretched(x).tension, low, Math.max(guess, low) * 4));
  return { loaded, longer };
}
/** Pitch of a plucked run: T = 4 μ S² f², μ in kg/m. */
export const tensionFromPitch = (p: { run: number; frequency: number; massPerLength: number }): number => 4 * p.massPerLength * p.run ** 2 * p.frequency ** 2;
export const pitchOf = (p: { run: number; tension: number; massPerLength: number }): number => Math.sqrt(p.tension / p.massPerLength) / (2 * p.run);
