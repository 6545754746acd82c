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

const gravity = 9.80665;
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
/** Exact, constant pulleys apart: T' = F/(2 sin α), tan α = δ/(S/2), T = T' - kS(sec α - 1). */
export function tensionFromSagExact(p: Sag): { loaded: number; unloaded: number } {
  const alpha = Math.atan((2 * p.sag) / p.run);
  const loaded = (p.mass * gravity) / (2 * Math.sin(alpha));
  return { loaded, unloaded: loaded - (p.stiffness / p.freeLength) * p.run * (1 / Math.cos(alpha) - 1) };
}
/** Pitch of a plucked run: T = 4 μ S² f², μ in kg/m. */
export const tensionFromPitch = (p: { run: number; frequency: number; massPerLength: number }): number => 4 * p.massPerLength * p.run ** 2 * p.frequency ** 2;
export const pitchOf = (p: { run: number; tension: number; massPerLength: number }): number => Math.sqrt(p.tension / p.massPerLength) / (2 * p.run);
