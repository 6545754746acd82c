/**
 * Plying. SI in, SI out: twist in turns per metre of the yarn that carries it (ply twist per metre of plied yarn), lengths
 * in m, grist in kg/m, angles in rad from the yarn's axis. Contraction is the share of the strands' length that plying
 * takes; less than 0 where the plied yarn is longer than its strands were.
 */

/** Plied grist: strands side by side, in less length: Σ grist / (1 - c). Exact by definition; notation of ISO 1139. */
export const pliedGrist = (p: { sum: number; contraction: number }): number => p.sum / (1 - p.contraction);
/** And back: the sum of the strands. */
export const sumOfStrands = (p: { plied: number; contraction: number }): number => p.plied * (1 - p.contraction);
/** Contraction that the grists tell: 1 - Σ grist / plied. */
export const measuredContraction = (p: { sum: number; plied: number }): number => 1 - p.sum / p.plied;
/** Extra strand for each plied length, x, as a share of the strands: x/(1 + x). Exact by definition. */
export const contractionOfExtra = (p: { extra: number }): number => p.extra / (1 + p.extra);
export const extraOfContraction = (p: { contraction: number }): number => p.contraction / (1 - p.contraction);

/** Centre lines of 2 to 6 touching strands lie on a ring of radius d/(2 sin(π/n)): d/2, d/√3, d/√2, … Derived here; exact for strands that lie along the axis. */
export const ringRadius = (p: { diameter: number; plies: number }): number => p.diameter / (2 * Math.sin(Math.PI / p.plies));
/** tan β = 2π a t: the angle of the strands in the ply. (Form: Klein, The Technology of Short-staple Spinning: the twist equation.) */
export const plyAngle = (p: { radius: number; twist: number }): number => Math.atan(2 * Math.PI * p.radius * p.twist);
/** Strands that keep their length: 1 - cos β. Exact for a helix. */
export const helixContraction = (p: { angle: number }): number => 1 - Math.cos(p.angle);

/** Twist left in a strand, a metre of it: t - t_ply cos²β where the ply turns against it. `against` is 1, or -1 for a ply that turns the same way. (Journal of the Textile Machinery Society of Japan 14 (3-4), p. 115.) */
export const twistLeft = (p: { singles: number; ply: number; angle: number; against: number }): number => p.singles - p.against * p.ply * Math.cos(p.angle) ** 2;

/** -ln(cos θ) cos θ/(1 - cos θ), with e = 1 - cos θ: the length of a twisted strand over that of its fibres (same abstract). */
const shortening = (e: number): number => (e < 1e-9 ? 1 - e / 2 : (-Math.log1p(-e) * (1 - e)) / e);
/** q² = tan²θ × that = -(1 + cos θ) ln(cos θ)/cos θ. */
const qSquared = (e: number): number => (-(2 - e) * Math.log1p(-e)) / (1 - e);
const versine = (angle: number): number => 2 * Math.sin(angle / 2) ** 2;

/** The angle at which q reaches a value; q rises from 0 at 0° without end. */
function versineOfQ(q2: number): number {
  let [low, high] = [0, 1];
  // q² is about 2e for small e; a step that leaves the bracket is halved instead.
  let e = Math.min(q2 / 2, 0.5);
  for (let i = 0; i < 80; i++) {
    const miss = qSquared(e) - q2;
    if (miss > 0) high = e; else low = e;
    const slope = Math.log1p(-e) / (1 - e) + (2 - e) / (1 - e) ** 2 - ((2 - e) * Math.log1p(-e)) / (1 - e) ** 2;
    let next = e - miss / slope;
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (Math.abs(next - e) <= 1e-16 * next) return next;
    e = next;
  }
  return e;
}

/**
 * Contraction of a ply whose strands grow longer as they lose twist: k₁ = 1 - (1 - k')/(1 - k) cos β, with
 * q(θ') = (1 - (t_p/t_s) cos²β) q(θ). Less than 0 where they gain more than the helix takes. `ratio` is t_p/t_s, negative
 * for a ply that turns the same way. (Journal of the Textile Machinery Society of Japan 14 (3-4), p. 115, for two strands;
 * with another ring radius for more, derived here.)
 */
export function pliedContraction(p: { singlesAngle: number; plyAngle: number; ratio: number }): number {
  const e = versine(p.singlesAngle);
  const cos = Math.cos(p.plyAngle);
  const after = versineOfQ((1 - p.ratio * cos ** 2) ** 2 * qSquared(e));
  return 1 - (shortening(after) / shortening(e)) * cos;
}

export interface PlyGeometry { readonly strand: number; readonly volume: number; readonly plies: number; readonly singlesTwist: number; readonly plyTwist: number; readonly against: number }
/** The same from the strand itself: its grist, specific volume in m³/kg, twists. */
export function contractionOf(p: PlyGeometry): number {
  const diameter = Math.sqrt((4 * p.strand * p.volume) / Math.PI);
  return pliedContraction({
    singlesAngle: Math.atan(Math.PI * diameter * p.singlesTwist), plyAngle: plyAngle({ radius: ringRadius({ diameter, plies: p.plies }), twist: p.plyTwist }), ratio: (p.against * p.plyTwist) / p.singlesTwist,
  });
}
/** The strand that gives a plied grist, when contraction depends on the strand itself: n g/(1 - c(g)) = plied. */
export function strandOfPlied(p: Omit<PlyGeometry, 'strand'> & { readonly plied: number }): number {
  const gap = (strand: number): number => pliedGrist({ sum: strand * p.plies, contraction: contractionOf({ ...p, strand }) }) / p.plied - 1;
  // Lengthening is a few per cent at most; contraction may take nearly all. Both ends hold the root.
  let [low, high] = [0, (p.plied / p.plies) * 2];
  let [a, b] = [-1, gap(high)];
  let x = p.plied / p.plies;
  for (let i = 0; i < 200; i++) {
    const y = gap(x);
    if (Math.abs(y) < 1e-15) return x;
    if (y > 0) { high = x; b = y; } else { low = x; a = y; }
    // False position for speed, halving every third step for safety.
    const next = i % 3 === 2 || !Number.isFinite(b) ? (low + high) / 2 : low - (a * (high - low)) / (b - a);
    if (high - low < 1e-16 * high || next === x) return next;
    x = next;
  }
  return x;
}

// ---- balance
/** Plied so that the sum of the twist left in n strands is that of the ply: t_p = n (t_s - t_p), so n/(n + 1). Derived from what Ross, Handspinner's Workbook, says. */
export const sharedRatio = (p: { plies: number }): number => p.plies / (p.plies + 1);
/** The same twist factor in strand and ply: t_p √(n Tt) = t_s √Tt, so 1/√n. Exact by definition. */
export const equalFactorRatio = (p: { plies: number }): number => 1 / Math.sqrt(p.plies);

/** 1 + 2 (B/C) sin²β/cos 2β: what bending adds to the twist that a ply can carry. */
const bendingShare = (angle: number, stiffness: number): number => 1 + (2 * stiffness * Math.sin(angle) ** 2) / Math.cos(2 * angle);
/** Balanced t_p/t_s of two elastic rods laid together: 1/{cos²β [1 + 2 (B/C) sin²β/cos 2β]}, B bending and C torsional stiffness, untensioned, β < 45°. Derived here by least energy at fixed contact. */
export const elasticRatio = (p: { angle: number; stiffness: number }): number => 1 / (Math.cos(p.angle) ** 2 * bendingShare(p.angle, p.stiffness));
/**
 * The ply angle at which it is balanced: tan α_s = sin β cos β [1 + 2 (B/C) sin²β/cos 2β], α_s the surface angle of the
 * strand; with s = 2β that is ((1 - B/C) sin s + (B/C) tan s)/2, which rises from 0 at 0 without end at 90°. Derived here.
 */
export function elasticAngle(p: { singlesAngle: number; stiffness: number }): number {
  const [r, wanted] = [p.stiffness, 2 * Math.tan(p.singlesAngle)];
  let [low, high] = [0, Math.PI / 2];
  let s = Math.atan(wanted);
  for (let i = 0; i < 100; i++) {
    const miss = (1 - r) * Math.sin(s) + r * Math.tan(s) - wanted;
    if (miss > 0) high = s; else low = s;
    // Newton's step; one that leaves the bracket is halved instead.
    let next = s - miss / ((1 - r) * Math.cos(s) + r / Math.cos(s) ** 2);
    if (!(next > low && next < high)) next = (low + high) / 2;
    if (Math.abs(next - s) <= 2e-16 * s) return next / 2;
    s = next;
  }
  return s / 2;
}

// ---- the tightest ply
export interface Tightest { /** From the axis. */ readonly angle: number; /** Plied length over strand length. */ readonly share: number; /** Ring radius over strand diameter. */ readonly radius: number; /** Most turns in a length of strand, and of ply, that is one strand diameter long. */ readonly perStrand: number; readonly perPly: number }
/**
 * Strands laid with as many turns as they will take: such a rope neither twists nor untwists under a pull (Bohr & Olsen, EPL
 * 93 (2011) 60004; solved here). Touching helices of ring radius a and slope ω = cot β: D²/a² is the least of
 * g = 2 - 2 cos(φ + ψ) + ω²φ², ψ = 2π/n, so ω² = sin(φ + ψ)/-φ; turns in a strand, √g/(2π√(1 + ω²)), are most where
 * φ² = 2 - 2 cos(φ + ψ), that is x = 2 sin((ψ - x)/2) with x = -φ. For 2 to 4 strands.
 */
export function tightestPly(p: { plies: number }): Tightest {
  const psi = (2 * Math.PI) / p.plies;
  let [low, high] = [0, psi];
  for (let i = 0; i < 100; i++) {
    const x = (low + high) / 2;
    if (x < 2 * Math.sin((psi - x) / 2)) low = x; else high = x;
  }
  const x = (low + high) / 2;
  const slope2 = Math.sin(psi - x) / x;
  const g = x * x * (1 + slope2);
  const perStrand = x / (2 * Math.PI);
  const share = Math.sqrt(slope2 / (1 + slope2));
  return { angle: Math.atan(1 / Math.sqrt(slope2)), share, radius: 1 / Math.sqrt(g), perStrand, perPly: perStrand / share };
}

// ---- snarling
/** Bending stiffness of n fibres that slip freely, n E π d⁴/64, N m²: the least that a strand can have. Derived here, standard mechanics of beams. */
export const slippingStiffness = (p: { fibres: number; modulus: number; diameter: number }): number => (p.fibres * p.modulus * Math.PI * p.diameter ** 4) / 64;
/** Torque of a fresh strand of twist t: 2π t C, with C = B/(B/C). Derived here. */
export const strandTorque = (p: { stiffness: number; ratio: number; twist: number }): number => (2 * Math.PI * p.twist * p.stiffness) / p.ratio;
/** A straight rod under torque M snarls below the tension M²/(4 B). The constant (Greenhill, 1883) is from memory; the jump of a long rod is in Neukirch, van der Heijden, Thompson, J. Mech. Phys. Solids 50 (2002) 1175. */
export const leastTension = (p: { torque: number; stiffness: number }): number => p.torque ** 2 / (4 * p.stiffness);
