/**
 * One way to push what is known about the inputs through any scalar formula:
 * standard uncertainties by the law of propagation (JCGM 100:2008, 5.1.2 eq. 10, and 5.2.2 eq. 13 where inputs are
 * correlated), intervals by the least and the most that the formula reaches over them.
 */
import { coverage, isPoint, middle, type Point, type Reading } from './reading.js';

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
 * of f over them, widened at each end by twice the uncertainty that the other inputs give there.
 */
export function derive(f: (x: readonly number[]) => number, inputs: readonly Reading[], correlations: readonly Correlation[] = []): Reading {
  const us = inputs.map((r) => (isPoint(r) ? r.u : undefined));
  const known = us.some((x) => x !== undefined);
  if (inputs.every(isPoint)) {
    const at = (inputs as readonly Point[]).map((r) => r.value);
    const value = f(at);
    return known ? { value, u: propagate(f, at, us, correlations) } : { value };
  }
  const halfAt = (x: readonly number[]): number => (known ? coverage * propagate(f, x, us, correlations) : 0);
  const spans = inputs.flatMap((r, i) => (isPoint(r) || !(r.low! < r.high!) ? [] : [i]));
  if (inputs.every((r) => isPoint(r) || (r.low !== undefined && r.high !== undefined))) {
    const low = 0 - furthest((x) => halfAt(x) - f(x), inputs as readonly Closed[], spans);
    const high = 0 + furthest((x) => halfAt(x) + f(x), inputs as readonly Closed[], spans);
    return { ...(Number.isFinite(low) ? { low } : {}), ...(Number.isFinite(high) ? { high } : {}) };
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
    const half = !open && Number.isFinite(value) ? halfAt(corner) : 0;
    low = Math.min(low, open && value === 0 ? -Infinity : value - half);
    high = Math.max(high, value + half);
  }
  return { ...(Number.isFinite(low) ? { low } : {}), ...(Number.isFinite(high) ? { high } : {}) };
}

type Closed = Point | { readonly low: number; readonly high: number };

/**
 * The most that `edge` reaches over the intervals. Up to four of them every corner is looked at; with more, one climbs from
 * corner to corner, an input at a time. From the best corner each input is then moved a little inward: where that reaches
 * further, as yarn length does over the core of a bobbin, the top inside is sought.
 */
function furthest(edge: (x: readonly number[]) => number, inputs: readonly Closed[], spans: readonly number[]): number {
  const ends = (i: number): { low: number; high: number } => inputs[i] as { low: number; high: number };
  const start = inputs.map((r) => (isPoint(r) ? r.value : r.low));
  let [best, at] = [edge(start), start];
  const better = (x: number[]): boolean => {
    const e = edge(x);
    if (!(e > best)) return false;
    [best, at] = [e, x];
    return true;
  };
  const moved = (i: number, v: number): number[] => { const x = at.slice(); x[i] = v; return x; };
  if (spans.length <= 4) {
    for (let bits = 1; bits < 2 ** spans.length; bits++) better(start.map((v, i) => (spans.includes(i) && bits & (1 << spans.indexOf(i)) ? ends(i).high : v)));
  } else {
    better(start.map((v, i) => (spans.includes(i) ? ends(i).high : v)));
    // Round and round until every input was tried since the last step up: turning that one back cannot help.
    for (let n = 0, tried = 0; tried < spans.length && n < 4 * spans.length; n++) {
      const i = spans[n % spans.length]!;
      tried = better(moved(i, at[i] === ends(i).low ? ends(i).high : ends(i).low)) ? 1 : tried + 1;
    }
  }
  for (const i of spans) {
    const { low, high } = ends(i);
    if (!better(moved(i, at[i] === low ? low + (high - low) / 1000 : high - (high - low) / 1000))) continue;
    // Golden section: each step keeps 0.618 of what is left, and one of its two looks.
    let [a, b] = [low, high];
    let [atC, atD]: (number | undefined)[] = [];
    for (let step = 0; step < 44; step++) {
      const [c, d] = [b - (b - a) * 0.6180339887498949, a + (b - a) * 0.6180339887498949];
      atC ??= edge(moved(i, c));
      atD ??= edge(moved(i, d));
      if (atC > atD) [b, atC, atD] = [d, undefined, atC];
      else [a, atC, atD] = [c, atD, undefined];
    }
    better(moved(i, (a + b) / 2));
  }
  return best;
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

class Input implements Expr {
  constructor(private readonly i: number) {}
  get uses(): readonly number[] { return [this.i]; }
  at(x: readonly number[]): number { return x[this.i]!; }
}

class Derived implements Expr {
  private found?: readonly number[];
  constructor(readonly f: (...v: number[]) => number, readonly args: readonly Expr[]) {}
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

/**
 * The same numbers as `e.at`, for many looks at vectors that differ in an input or two, as the search for an edge takes them:
 * each part of the expression is found once, and again only when an input under it has moved. `inputs` are those that `e` uses.
 */
function remembering(e: Expr, inputs: readonly number[], x: number[]): (v: readonly number[]) => number {
  const bit = new Map(inputs.map((i, k) => [i, 1 << k]));
  const [values, masks, steps]: [number[], number[], (() => number)[]] = [[], [], []];
  const places = new Map<Expr, number>();
  const place = (node: Expr): number => {
    const known = places.get(node);
    if (known !== undefined) return known;
    if (node instanceof Derived) {
      const { f } = node;
      const [a, b, c, d, ...more] = node.args.map(place);
      masks.push(node.args.reduce((m, arg) => m | masks[places.get(arg)!]!, 0));
      if (b === undefined) steps.push(() => f(values[a!]!));
      else if (c === undefined) steps.push(() => f(values[a!]!, values[b]!));
      else if (d === undefined) steps.push(() => f(values[a!]!, values[b]!, values[c]!));
      else if (more.length === 0) steps.push(() => f(values[a!]!, values[b]!, values[c]!, values[d]!));
      else steps.push(() => f(values[a!]!, values[b]!, values[c]!, values[d]!, ...more.map((i) => values[i]!)));
    } else {
      masks.push(node.uses.reduce((m, i) => m | bit.get(i)!, 0));
      steps.push(() => node.at(x));
    }
    places.set(node, steps.length - 1);
    return steps.length - 1;
  };
  const top = place(e);
  let all = true;
  return (v) => {
    let moved = 0;
    for (let k = 0; k < v.length; k++) {
      if (!all && x[inputs[k]!] === v[k]) continue;
      x[inputs[k]!] = v[k]!;
      moved |= 1 << k;
    }
    const every = all;
    // Where a part throws, what is remembered is worth nothing.
    all = true;
    for (let i = 0; i <= top; i++) if (every || (masks[i]! & moved) !== 0) values[i] = steps[i]!();
    all = false;
    return values[top]!;
  };
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
    return new Input(i);
  }
  /** What is known of `e`. */
  reading(e: Expr): Reading {
    if (this.exact) {
      const value = e.at(this.start);
      // Finding it may have brought in a default that has a width of its own.
      if (this.exact) return { value };
    }
    const x = this.start.slice();
    const { uses } = e;
    const inputs = uses.map((i) => this.readings[i]!);
    // Few inputs take few looks: those are not worth the preparing. A mask has room for thirty.
    if (uses.length > 4 && uses.length <= 30) return derive(remembering(e, uses, x), inputs);
    return derive((v) => {
      for (let k = 0; k < v.length; k++) x[uses[k]!] = v[k]!;
      return e.at(x);
    }, inputs);
  }
  /** `e` with every input at its middle: for weighing many against each other, where an interval would cost too much. */
  centre(e: Expr): number { return e.at(this.readings.map(middle)); }
  /**
   * Several numbers that are found together, as by a simulation: uncertainties by differences to both sides, intervals by their
   * corners and middles (beyond four of them by one end at a time). Far cheaper than each number by itself, and less
   * thorough within an interval. Where a number is not finite at an end, nothing is known of it.
   */
  several(f: (v: readonly number[]) => readonly number[], args: readonly Expr[]): Reading[] {
    const uses = [...new Set(args.flatMap((a) => a.uses))];
    const at = (change: (i: number, r: Reading) => number): readonly number[] => {
      const x = this.start.slice();
      for (const i of uses) x[i] = change(i, this.readings[i]!);
      return f(args.map((a) => a.at(x)));
    };
    const end = (r: Reading, high: boolean): number => (isPoint(r) ? r.value : high ? r.high ?? 1e12 : r.low ?? 0);
    const centre = (r: Reading): number => (isPoint(r) ? r.value : (end(r, false) + end(r, true)) / 2);
    const base = at((_, r) => centre(r));
    const variance = base.map(() => 0);
    const measured = uses.filter((i) => isPoint(this.readings[i]!) && (this.readings[i] as Point).u);
    for (const i of measured) {
      const u = (this.readings[i] as Point).u!;
      const [up, down] = [1, -1].map((way) => at((j, r) => centre(r) + (j === i ? way * u : 0)));
      for (const n of base.keys()) variance[n]! += ((up![n]! - down![n]!) / 2) ** 2;
    }
    const spans = uses.filter((i) => !isPoint(this.readings[i]!));
    const ends = spans.length === 0 ? [] : spans.length <= 4
      ? Array.from({ length: 2 ** spans.length }, (_, bits) => at((i, r) => end(r, (bits & (1 << spans.indexOf(i))) !== 0)))
      : [at((_, r) => end(r, false)), at((_, r) => end(r, true)), ...spans.flatMap((k) => [false, true].map((high) => at((i, r) => (i === k ? end(r, high) : centre(r)))))];
    return base.map((value, n): Reading => {
      const u = Math.sqrt(variance[n]!);
      if (spans.length === 0) return measured.length === 0 || Number.isNaN(u) ? { value } : { value, u };
      const all = [value, ...ends.map((e) => e[n]!)];
      return { low: Math.min(...all) - coverage * u, high: Math.max(...all) + coverage * u };
    });
  }
  /** Whether any measure that was given came with an uncertainty or as an interval. */
  get hasUncertainty(): boolean { return this.told; }
}
