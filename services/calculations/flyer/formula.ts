/**
 * Flyer and treadle: air, bearings, unbalance, stress, coasting down; load and swing at the wheel. SI in, SI out: speeds rad/s,
 * torques N m, inertias kg m². Derived here unless a source stands at the line. Air: arms and bar as cylinders across the
 * flow, Reynolds numbers 10³ to 10⁵, drag coefficient 1.2 (cylinder drag: textbooks, about 1).
 */
export const air = { density: 1.2, coefficient: 1.2 } as const;

/** Arms at radius R: n·½ρC_d·b·ℓ·R³·ω². */
export const armDrag = (p: { arms: number; width: number; length: number; radius: number; speed: number }): number =>
  p.arms * 0.5 * air.density * air.coefficient * p.width * p.length * p.radius ** 3 * p.speed ** 2;
/** The bar that joins them, from -R to R: ρC_d·b·R⁴·ω²/4. */
export const yokeDrag = (p: { height: number; radius: number; speed: number }): number => (air.density * air.coefficient * p.height * p.radius ** 4 * p.speed ** 2) / 4;
/** Journal: μF·d/2. Coefficients: engineering friction tables. */
export const bearingDrag = (p: { friction: number; load: number; diameter: number }): number => (p.friction * p.load * p.diameter) / 2;

/** What a band of tension T pulls the flyer with, for each of its loops: 2T·sin(wrap/2). */
export const bandPull = (p: { tension: number; wrap: number; loops: number }): number => p.loops * 2 * p.tension * Math.sin(p.wrap / 2);
/** Load at rest in open bearings: weight with the band across it, down, or up. */
export const restLoad = (p: { weight: number; band: number; way: 'across' | 'down' | 'up' }): number => (p.way === 'across' ? Math.hypot(p.weight, p.band) : p.way === 'down' ? p.weight + p.band : Math.max(0, p.weight - p.band));
/** Speed at which an unbalance lifts it: √(load/(m·e)). A couple of unbalances at both ends is not in it. */
export const hopSpeed = (p: { load: number; mass: number; radius: number }): number => Math.sqrt(p.load / (p.mass * p.radius));

/** Bending at the root of an arm that its own mass throws outward: 3ρω²Rℓ²/h. */
export const armStress = (p: { density: number; speed: number; radius: number; length: number; thickness: number }): number => (3 * p.density * p.speed ** 2 * p.radius * p.length ** 2) / p.thickness;

/** Coasting down from one speed to another under M₀ + cω²: I/√(M₀c)·[atan(ω₀√(c/M₀)) - atan(ω₁√(c/M₀))]. */
export const coastTime = (p: { inertia: number; bearing: number; air: number; from: number; to: number }): number => {
  const x = Math.sqrt(p.air / p.bearing);
  return (p.inertia / (p.bearing * x)) * (Math.atan(p.from * x) - Math.atan(p.to * x));
};
/** Bearing drag alone, from one time. */
export const coastBearing = (p: { inertia: number; from: number; to: number; time: number }): number => (p.inertia * (p.from - p.to)) / p.time;
/** How long a coast takes from one speed to another: rad/s, s. */
export interface Coast { readonly from: number; readonly to: number; readonly time: number }
/**
 * M₀ and c from two coasts, t = I/√(M₀c) · [atan(ω₀√(c/M₀)) - atan(ω₁√(c/M₀))]: the ratio of their times depends on s = √(c/M₀)
 * alone, and rises or falls with it throughout. NaN where no such drag exists.
 */
export function coastFit(p: { inertia: number; first: Coast; second: Coast }): { bearing: number; air: number } {
  const { first, second, inertia } = p;
  const span = (run: Coast, s: number): number => (s === 0 ? run.from - run.to : (Math.atan(run.from * s) - Math.atan(run.to * s)) / s);
  const off = (s: number): number => span(first, s) / span(second, s) - first.time / second.time;
  // A flyer that coasts to a standstill has no last speed to go by.
  const top = 1e6 / Math.min(first.from, second.from);
  const at0 = off(0);
  // As good as no air drag.
  if (Math.abs(at0) * (second.time / first.time) < 1e-9) return { bearing: coastBearing({ inertia, ...first }), air: 0 };
  if (!(at0 * off(top) < 0)) return { bearing: Number.NaN, air: Number.NaN };
  let [low, high] = [0, top];
  for (let i = 0; i < 200 && high - low > 1e-16 * high; i++) {
    const middle = (low + high) / 2;
    if (off(middle) * at0 > 0) low = middle; else high = middle;
  }
  const s = (low + high) / 2;
  const bearing = (inertia * span(first, s)) / first.time;
  return { bearing, air: bearing * s * s };
}

/** Torque felt at the wheel: flyer-lead, brake held by the yarn. */
export const loadFlyerLead = (p: { ratio: number; drag: number; brake: number; bearing: number }): number => p.ratio * (p.drag + p.brake) + p.bearing;
/** Double drive, yarn held: the bobbin drives the flyer through the yarn. */
export const loadDoubleHeld = (p: { flyer: number; bobbin: number; drag: number; slip: number; bearing: number }): number => p.flyer * (p.drag - p.slip) + p.bobbin * p.slip + p.bearing;
/** Double drive, yarn slack. */
export const loadDoubleSlack = (p: { flyer: number; bobbin: number; drag: number; slip: number; bearing: number }): number => p.flyer * p.drag + p.bobbin * p.slip + p.bearing;
/** What one push must do, on average over its stroke: all the work of a turn. */
export const footForce = (p: { load: number; stroke: number; pushes: number }): number => (2 * Math.PI * p.load) / (p.stroke * p.pushes);
export const power = (p: { load: number; speed: number }): number => p.load * p.speed;

/** All that turns with the wheel while the yarn is held: I_D + i²(I_f + I_b) (flyer-lead, double drive); on bobbin-lead the same by the bobbin's ratio. */
export const lockedInertia = (p: { wheel: number; ratio: number; flyer: number; bobbin: number }): number => p.wheel + p.ratio ** 2 * (p.flyer + p.bobbin);
/** Greatest push of a half sine that makes up the load: π (one treadle) or π/2 (two) times it. Turning-moment diagrams, theory of machines. */
export const peakPush = (p: { load: number; pushes: number }): number => (Math.PI * p.load) / p.pushes;
/** Energy that the wheel takes up and gives back: one treadle M[2π cos α - (π - 2α)], sin α = 1/π; two M[π cos α - (π - 2α)], sin α = 2/π. */
export function swingEnergy(p: { load: number; pushes: number }): number {
  const alpha = Math.asin(p.pushes / Math.PI);
  return p.load * ((2 * Math.PI * Math.cos(alpha)) / p.pushes - (Math.PI - 2 * alpha));
}
/** Swing of speed, slowest to fastest over the mean: ΔE/(JΩ²). */
export const speedSwing = (p: { energy: number; inertia: number; speed: number }): number => p.energy / (p.inertia * p.speed ** 2);

/** Yarn that twist allows: i·cadence/T; and what goes in with one turn of the wheel. */
export const yarnPerSecond = (p: { cadence: number; ratio: number; twist: number }): number => (p.cadence * p.ratio) / p.twist;
