/**
 * The draft cycle in closed form: how a package follows the hand, what a grab pulls, and how twist rises while yarn is wound
 * on. SI in, SI out: lengths m, speeds m/s, torques N m, inertias kg m², twist turns/m. Derived here from the balance of
 * torques at the package, unless a source stands at the line. Valid for a bobbin that gives before the whorl does, and for
 * a hand that moves yarn along its own line.
 */

/** Inertia of a bobbin with yarn on it: I₀ + ½πρW(r⁴ - r₀⁴). */
export const bobbinInertia = (p: { empty: number; core: number; diameter: number; density: number; width: number }): number =>
  p.empty + (Math.PI / 2) * p.density * p.width * ((p.diameter / 2) ** 4 - (p.core / 2) ** 4);

/** How fast the draw-in can gain speed: a = rM/I, m/s². A hand that gains more lets slack in. */
export const quickening = (p: { torque: number; diameter: number; inertia: number }): number => ((p.diameter / 2) * p.torque) / p.inertia;
/** What the yarn has to pull along, as a mass at the end of it: m = I/r², kg. */
export const massFelt = (p: { diameter: number; inertia: number }): number => p.inertia / (p.diameter / 2) ** 2;
/** Pull at the package, yarn held: M/r, N. */
export const pullHeld = (p: { torque: number; diameter: number }): number => p.torque / (p.diameter / 2);
/** Speed of draw-in above which nothing goes: r times the most by which the package can turn past the flyer (rad/s). */
export const ceiling = (p: { diameter: number; most: number }): number => (p.diameter / 2) * p.most;
/** From standing beside the flyer to that ceiling, s. */
export const timeToCeiling = (p: { torque: number; inertia: number; most: number }): number => (p.inertia * p.most) / p.torque;
/** Package radius at which the draw-in gains speed quickest: r⁴ = (I₀ - κr₀⁴)/3κ, κ = πρW/2; the core where that is smaller. */
export function quickestRadius(p: { empty: number; core: number; density: number; width: number }): number {
  const k = (Math.PI * p.density * p.width) / 2;
  const fourth = (p.empty - k * (p.core / 2) ** 4) / (3 * k);
  return Math.max(p.core / 2, fourth > 0 ? fourth ** 0.25 : 0);
}

/**
 * The hand lets in at `feed` all at once, from rest. Most slack u²/2a, when the package has caught up in speed. Up to
 * half the ceiling the yarn is taut again after 2u/a and snatches at u; above it the package reaches its ceiling first,
 * v²/[2a(v - u)], and snatches at v - u; at the ceiling and beyond it never closes (Infinity).
 */
export function stepFeed(p: { feed: number; quickening: number; ceiling: number }): { slack: number; taut: number; snatch: number } {
  const { feed: u, quickening: a, ceiling: v } = p;
  const slack = u <= v ? u ** 2 / (2 * a) : Infinity;
  if (2 * u <= v) return { slack, taut: (2 * u) / a, snatch: u };
  return u < v ? { slack, taut: v ** 2 / (2 * a * (v - u)), snatch: v - u } : { slack, taut: Infinity, snatch: 0 };
}
/** Peak pull of a snatch on a yarn of stiffness k (N/m): P + √(P² + k m Δv²). */
export const snatchPeak = (p: { pull: number; mass: number; difference: number; stiffness: number }): number =>
  p.pull + Math.sqrt(p.pull ** 2 + p.stiffness * p.mass * p.difference ** 2);
/** Twist in the yarn that is left, after winding on from one length to another at `windOn` for each turn of the wheel: T₀ + (i/ℓ) ln(l₀/l₁). */
export const twistAfterWindOn = (p: { twist: number; ratio: number; windOn: number; from: number; to: number }): number =>
  p.twist + (p.ratio / p.windOn) * Math.log(p.from / p.to);
/** Pull below which a long twisted rod is certain to buckle into a loop: τ²/4B (Greenhill's long rod; from memory). */
export const loopsSurely = (p: { torque: number; stiffness: number }): number => p.torque ** 2 / (4 * p.stiffness);
/** Pull below which a loop pays in energy, 2πτ > 2π√(2BP): τ²/2B. A hand disturbs enough: this is where to warn. */
export const loopsMay = (p: { torque: number; stiffness: number }): number => p.torque ** 2 / (2 * p.stiffness);
