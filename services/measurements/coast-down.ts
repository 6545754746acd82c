/**
 * Drag from a flyer that coasts down, band off: I dω/dt = -(M₀ + c ω²), so that
 * t = I/√(M₀c) · [atan(ω₀√(c/M₀)) - atan(ω₁√(c/M₀))]. Derived here. SI; rad/s.
 */
import { coastBearing } from '../calculations/flyer/formula.js';

export interface Run { readonly from: number; readonly to: number; readonly time: number }

/** One run: the mean torque between its speeds. N m. */
export const meanDrag = coastBearing;

/**
 * Two runs: bearing drag M₀ (N m) and air drag c (N m s²). The ratio of the two times depends on s = √(c/M₀) alone, and
 * rises or falls with it throughout; what cannot come from such a drag gives NaN.
 */
export function dragOf(p: { inertia: number; first: Run; second: Run }): { bearing: number; air: number } {
  const { first, second, inertia } = p;
  const span = (run: Run, s: number): number => (s === 0 ? run.from - run.to : (Math.atan(run.from * s) - Math.atan(run.to * s)) / s);
  const off = (s: number): number => span(first, s) / span(second, s) - first.time / second.time;
  const top = 1e3 / Math.min(first.to, second.to);
  const at0 = off(0);
  // As good as no air drag.
  if (Math.abs(at0) * (second.time / first.time) < 1e-9) return { bearing: meanDrag({ inertia, ...first }), air: 0 };
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
