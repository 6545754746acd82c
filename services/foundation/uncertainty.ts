/**
 * One way to push what is known about the inputs through any scalar formula:
 * standard uncertainties by the law of propagation (JCGM 100:2008, 5.1.2 eq. 10, and 5.2.2 eq. 13 where inputs are
 * correlated), intervals by their corners. A formula is taken to be monotonic in each interval input.
 */
import { coverage, isPoint, type Point, type Reading } from './reading.js';

export interface Correlation { readonly a: number; readonly b: number; readonly r: number }

/** ∂f/∂x_i by central differences with one Richardson step: relative error about 1e-11 for a smooth f. */
export function slope(f: (x: readonly number[]) => number, at: readonly number[], i: number): number {
  const h = 1e-3 * (Math.abs(at[i]!) || 1e-3);
  const x = at.slice();
  const d = (step: number): number => {
    x[i] = at[i]! + step;
    const up = f(x);
    x[i] = at[i]! - step;
    const down = f(x);
    return (up - down) / (2 * step);
  };
  return (4 * d(h / 2) - d(h)) / 3;
}

/** Standard uncertainty of f at `at`, given each input's own (undefined or 0: taken as exact). */
export function propagate(
  f: (x: readonly number[]) => number, at: readonly number[], u: readonly (number | undefined)[], correlations: readonly Correlation[] = [],
): number {
  const c = at.map((_, i) => (u[i] ? slope(f, at, i) * u[i]! : 0));
  let sum = 0;
  for (const x of c) sum += x * x;
  for (const { a, b, r } of correlations) sum += 2 * r * c[a]! * c[b]!;
  return Math.sqrt(Math.max(0, sum));
}

/**
 * f of the readings, as a reading. All points: the value, with u when any input has one. Any interval: the interval
 * of f over the corners, widened at each end by twice the uncertainty that the other inputs give there.
 */
export function derive(f: (x: readonly number[]) => number, inputs: readonly Reading[], correlations: readonly Correlation[] = []): Reading {
  const us = inputs.map((r) => (isPoint(r) ? r.u : undefined));
  const known = us.some((x) => x !== undefined);
  if (inputs.every(isPoint)) {
    const at = (inputs as readonly Point[]).map((r) => r.value);
    const value = f(at);
    return known ? { value, u: propagate(f, at, us, correlations) } : { value };
  }
  let low = Infinity;
  let high = -Infinity;
  for (const corner of corners(inputs)) {
    // A side without a bound stands at 0 or at infinity; a result that is 0 or infinite there has no bound either.
    const open = corner.some((x, i) => !Number.isFinite(x) || (x === 0 && !isPoint(inputs[i]!) && (inputs[i] as { low?: number }).low === undefined));
    const value = f(corner);
    if (Number.isNaN(value)) {
      // A formula with no limit at an open end says nothing about that side.
      [low, high] = openEnds(f, inputs, low, high);
      continue;
    }
    const half = known && !open && Number.isFinite(value) ? coverage * propagate(f, corner, us, correlations) : 0;
    low = Math.min(low, open && value === 0 ? -Infinity : value - half);
    high = Math.max(high, value + half);
  }
  return { ...(Number.isFinite(low) ? { low } : {}), ...(Number.isFinite(high) ? { high } : {}) };
}

/** Where an input has no bound and f no plain limit there, let the far end stand at a very large number. */
function openEnds(f: (x: readonly number[]) => number, inputs: readonly Reading[], low: number, high: number): [number, number] {
  for (const corner of corners(inputs)) {
    const value = f(corner.map((x) => (x === Infinity ? 1e12 : x === -Infinity ? -1e12 : x)));
    if (Number.isNaN(value)) return [-Infinity, Infinity];
    low = Math.min(low, value);
    high = Math.max(high, value);
  }
  return [low, high];
}

function* corners(inputs: readonly Reading[]): Generator<number[]> {
  const spans = inputs.flatMap((r, i) => (isPoint(r) ? [] : [i]));
  for (let bits = 0; bits < 2 ** spans.length; bits++) {
    yield inputs.map((r, i) => {
      if (isPoint(r)) return r.value;
      return bits & (1 << spans.indexOf(i)) ? (r.high ?? Infinity) : (r.low ?? 0);
    });
  }
}

/** A number that depends on what is known: which inputs it uses, and how to find it from all inputs. */
export interface Expr { readonly uses: readonly number[]; at(x: readonly number[]): number }

/** f of other expressions. Inputs that they share stay shared, so that their uncertainty is not counted twice. */
export const expr = (f: (...v: number[]) => number, ...args: readonly Expr[]): Expr => new Derived(f, args);

class Derived implements Expr {
  private found?: readonly number[];
  constructor(private readonly f: (...v: number[]) => number, private readonly args: readonly Expr[]) {}
  /** Only a question with an uncertainty asks for it. */
  get uses(): readonly number[] {
    return (this.found ??= this.args.length === 1 ? this.args[0]!.uses : [...new Set(this.args.flatMap((a) => a.uses))]);
  }
  at(x: readonly number[]): number {
    const { f, args } = this;
    switch (args.length) {
      case 1: return f(args[0]!.at(x));
      case 2: return f(args[0]!.at(x), args[1]!.at(x));
      case 3: return f(args[0]!.at(x), args[1]!.at(x), args[2]!.at(x));
      default: return f(...args.map((a) => a.at(x)));
    }
  }
}

/** The inputs of one question. */
export class Knowns {
  private readonly readings: Reading[] = [];
  private readonly start: number[] = [];
  private exact = true;
  private told = false;

  /** A measure that was given. */
  input(r: Reading): Expr {
    if (!isPoint(r) || r.u !== undefined) this.told = true;
    return this.assumed(r);
  }
  /** A value that was taken for granted: its width is ours, not the asker's. */
  assumed(r: Reading): Expr {
    const i = this.readings.push(r) - 1;
    this.start.push(isPoint(r) ? r.value : Number.NaN);
    if (!isPoint(r) || r.u !== undefined) this.exact = false;
    return { uses: [i], at: (x) => x[i]! };
  }
  /** What is known of `e`. */
  reading(e: Expr): Reading {
    if (this.exact) return { value: e.at(this.start) };
    const x = this.start.slice();
    const inputs = e.uses.map((i) => this.readings[i]!);
    return derive((v) => {
      for (let k = 0; k < v.length; k++) x[e.uses[k]!] = v[k]!;
      return e.at(x);
    }, inputs);
  }
  /** Whether any measure that was given came with an uncertainty or as an interval. */
  get hasUncertainty(): boolean { return this.told; }
}
