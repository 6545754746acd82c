/**
 * Band lengths and where the axle must be. SI in, SI out: pitch diameters and distances in m, angles in rad. Exact for
 * round pulleys with parallel shafts; bands thin beside the pulleys.
 * Open and crossed: Shigley, Mechanical Engineering Design, ch. 17, eqs 17-1 and 17-2. Doubled loop: derived here.
 */
export interface Two { readonly wheel: number; readonly pulley: number; readonly distance: number }

/** φ = asin((D - d)/2C). */
const lean = (p: Two): number => Math.asin((p.wheel - p.pulley) / (2 * p.distance));
const crossLean = (p: Two): number => Math.asin((p.wheel + p.pulley) / (2 * p.distance));

/** L = 2C cos φ + (D/2)(π + 2φ) + (d/2)(π - 2φ). */
export function openLength(p: Two): number {
  const phi = lean(p);
  return 2 * p.distance * Math.cos(phi) + (p.wheel / 2) * (Math.PI + 2 * phi) + (p.pulley / 2) * (Math.PI - 2 * phi);
}
/** L = 2C cos ψ + ((D + d)/2)(π + 2ψ). */
export function crossedLength(p: Two): number {
  const psi = crossLean(p);
  return 2 * p.distance * Math.cos(psi) + ((p.wheel + p.pulley) / 2) * (Math.PI + 2 * psi);
}
/** Free run between the tangent points. */
export const openSpan = (p: Two): number => p.distance * Math.cos(lean(p));
export const crossedSpan = (p: Two): number => p.distance * Math.cos(crossLean(p));
export const wrapOnPulley = (p: Two): number => Math.PI - 2 * lean(p);
export const wrapOnWheel = (p: Two): number => Math.PI + 2 * lean(p);
export const crossedWrap = (p: Two): number => Math.PI + 2 * crossLean(p);

export interface Doubled {
  readonly wheel: number; readonly whorl: number; readonly bobbin: number; readonly distance: number;
  /** How far aside each span goes, m: the two at the whorl and the two at the bobbin. */
  readonly whorlAside: readonly [number, number]; readonly bobbinAside: readonly [number, number];
}
const whorlOf = (p: Doubled): Two => ({ wheel: p.wheel, pulley: p.whorl, distance: p.distance });
const bobbinOf = (p: Doubled): Two => ({ wheel: p.wheel, pulley: p.bobbin, distance: p.distance });

/**
 * One loop: wheel, whorl, wheel, bobbin. L = D(π + φ_w + φ_b) + (d_w/2)(π - 2φ_w) + (d_b/2)(π - 2φ_b) + Σ₄ √(span² + Δx²).
 * Without offsets it is the sum of the two open bands: both driven parts turn with the wheel.
 */
export function doubledLength(p: Doubled): number {
  const arcs = (two: Two): number => openLength(two) - 2 * openSpan(two);
  const runs = (span: number, aside: readonly [number, number]): number => Math.hypot(span, aside[0]) + Math.hypot(span, aside[1]);
  return arcs(whorlOf(p)) + arcs(bobbinOf(p)) + runs(openSpan(whorlOf(p)), p.whorlAside) + runs(openSpan(bobbinOf(p)), p.bobbinAside);
}

/** dL/dC: 2 cos φ. */
export const openSlope = (p: Two): number => 2 * Math.cos(lean(p));
export const crossedSlope = (p: Two): number => 2 * Math.cos(crossLean(p));
/** Exact with offsets: Σ₄ C/√(p² + Δx²) - 2 sin φ_w tan φ_w - 2 sin φ_b tan φ_b. Derived here. */
export function doubledSlope(p: Doubled): number {
  const part = (two: Two, aside: readonly [number, number]): number => {
    const [phi, span] = [lean(two), openSpan(two)];
    return p.distance / Math.hypot(span, aside[0]) + p.distance / Math.hypot(span, aside[1]) - 2 * Math.sin(phi) * Math.tan(phi);
  };
  return part(whorlOf(p), p.whorlAside) + part(bobbinOf(p), p.bobbinAside);
}

/**
 * The distance at which a band of this length fits, by Newton, kept within a bracket: L rises with C and is convex, so Newton
 * comes down monotonically, except very near touching pulleys with far offsets, where the bracket is halved instead.
 * Undefined: the band is shorter than the pulleys touching each other.
 */
export function distanceFor(length: number, least: number, lengthAt: (distance: number) => number, slopeAt: (distance: number) => number): number | undefined {
  let low = least * (1 + 1e-12);
  if (lengthAt(low) > length) return undefined;
  let high = low + length;
  let c = Math.min(high, low + (length - lengthAt(low)) / 2);
  for (let i = 0; i < 200; i++) {
    const over = lengthAt(c) - length;
    if (over > 0) high = c;
    else low = c;
    const newton = c - over / slopeAt(c);
    const next = newton > low && newton < high ? newton : (low + high) / 2;
    if (Math.abs(next - c) <= 1e-15 * c || high - low <= 1e-15 * c) return next;
    c = next;
  }
  return c;
}

/** Skew of a run: atan(offset / planar span). */
export const fleetAngle = (p: { aside: number; span: number }): number => Math.atan(p.aside / p.span);
/** A tape laid inside reads πt less for one loop, 2πt for a doubled one, which turns through 4π. */
export const insideOfPitch = (p: { pitch: number; band: number; loops: 1 | 2 }): number => p.pitch - p.loops * Math.PI * p.band;
/** N for a metre of travel: EA (dL/dC)/L. */
export const tensionPerTravel = (p: { stiffness: number; slope: number; length: number }): number => (p.stiffness * p.slope) / p.length;

export type Run = 'lower' | 'upper' | 'left' | 'right';
/** The one crossing of a doubled loop lies on the run that leaves the wheel, seen by the spinner. Common practice. */
export function crossingRun(p: { wheelIs: 'right' | 'left' | 'below' | 'above'; direction: 'S' | 'Z' }): Run {
  const clockwise = { right: 'lower', left: 'upper', below: 'left', above: 'right' } as const;
  const other = { lower: 'upper', upper: 'lower', left: 'right', right: 'left' } as const;
  return p.direction === 'Z' ? clockwise[p.wheelIs] : other[clockwise[p.wheelIs]];
}
