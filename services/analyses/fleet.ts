/**
 * Rows against each other: which measure is probably another than it was written as. Every hypothesis, such as “these are
 * inches under a heading of millimetres”, turns a row into another; it is believed where wheels like that other are many and
 * wheels like the row itself are few, in the fleet and by what wheels are at all. A row is flagged with its probable reading
 * and is never mended. What wheels are at all is common practice, and counts as much as some fifty rows.
 */
import type { Layout } from './intake.js';
import { Features, bobbinAt, driveAt, pulleys, whorlAt } from './features.js';
import { rounded, usual, type Flag, type Slip, type Usual } from './usual.js';
import { addTally, emptyTally, type Tally } from './tally.js';

export { Features } from './features.js';
export type { Flag, Slip } from './usual.js';

const step = 0.025;
const usualRows = 50;
const least = 1e-4;
/** Sizes and their quotients as logarithms, in bins of one part in forty: from 1e-22 to 1e22, which holds whatever a row can. */
const bins = 2048;
const bin = (log: number): number => Math.max(-bins, Math.min(bins - 1, Math.round(log / step)));

/** How often a size comes, by its logarithm, smoothed. */
class Density {
  private readonly counts = new Float64Array(2 * bins);
  private readonly known = new Float64Array(2 * bins).fill(Number.NaN);
  private all = 0;
  constructor(private readonly measure: Usual) {}
  add(log: number): void {
    if (Number.isNaN(log)) return;
    this.counts[bin(log) + bins]!++;
    this.all++;
  }
  /** Logarithm of the density about there. */
  at(log: number): number {
    const b = bin(log);
    const found = this.known[b + bins]!;
    return Number.isNaN(found) ? (this.known[b + bins] = this.density(b)) : found;
  }
  private density(b: number): number {
    let near = 0;
    for (let i = -3; i <= 3; i++) near += (this.counts[b + i + bins] ?? 0) * kernel[i + 3]!;
    const [middle, spread] = usual[this.measure];
    const z = (b * step - Math.log(middle)) / spread;
    const own = (step / (spread * 2.5)) / (1 + (z * z) / 3) ** 2;
    return Math.log(Math.max(least * step, (near + usualRows * own) / (this.all + usualRows)) / step);
  }
}
const kernel = [0.05, 0.12, 0.2, 0.26, 0.2, 0.12, 0.05];

/** How many wheels have about this drive wheel, whorl and bobbin. */
const mostCells = 400_000;
const mostRemembered = 100_000;
const none = -1999;
class Together {
  private readonly cells = new Map<number, number>();
  private readonly sums = new Map<number, number>();
  private key(a: number, b: number, c: number): number { return ((a + bins) * 4096 + (b + bins)) * 4096 + (c + bins); }
  private bin(log: number): number { return Number.isNaN(log) ? none : Math.max(none + 2, bin(log)); }
  add(D: number, w: number, b: number): void {
    const key = this.key(this.bin(D), this.bin(w), this.bin(b));
    const before = this.cells.get(key);
    if (before !== undefined || this.cells.size < mostCells) this.cells.set(key, (before ?? 0) + 1);
  }
  about(D: number, w: number, b: number): number {
    const [x, y, z] = [this.bin(D), this.bin(w), this.bin(b)];
    const key = this.key(x, y, z);
    let sum = this.sums.get(key);
    if (sum !== undefined) return sum;
    sum = 0;
    const [i1, j1, k1] = [x === none ? 0 : 1, y === none ? 0 : 1, z === none ? 0 : 1];
    for (let i = -i1; i <= i1; i++) for (let j = -j1; j <= j1; j++) for (let k = -k1; k <= k1; k++) sum += this.cells.get(this.key(x + i, y + j, z + k)) ?? 0;
    if (this.sums.size >= mostRemembered) this.sums.clear();
    this.sums.set(key, sum);
    return sum;
  }
}

/** Sizes as logarithms, where Features has them in m. */
type Logs = Float64Array;
/** The size at `at` (and `also`) is another. */
interface Hypothesis { readonly code: Slip; readonly part: string; readonly at: number; readonly also?: number; readonly read: number; readonly probably: number; readonly logs: Logs; readonly prior: number }
const doubleDrive = 0;
const rims = [0.004, 0.006, 0.008, 0.01, 0.012];

/** What was found in a whole table: how often, and the first few rows of each kind. */
export class Found {
  readonly flagged: Record<string, number> = {};
  readonly shown: (Flag & { readonly at: number })[] = [];
  add(flags: Iterable<readonly [number, readonly Flag[]]>): void {
    for (const [row, found] of flags) for (const flag of found) {
      const n = this.flagged[flag.code] = (this.flagged[flag.code] ?? 0) + 1;
      if (n <= 20) this.shown.push({ at: row, ...flag });
    }
  }
}

export class Fleet {
  readonly tally: Tally = emptyTally();
  private readonly densities = Object.fromEntries((Object.keys(usual) as Usual[]).map((m) => [m, new Density(m)])) as Record<Usual, Density>;
  private readonly together = new Together();
  private marks = new Float64Array(1024);
  private rows = new Int32Array(1024);
  private count = 0;
  /** The first row of each wheel that stands there twice. */
  private readonly repeated = new Map<number, number>();
  private readonly circumferences: boolean;
  constructor(layout?: Layout) { this.circumferences = layout?.columns.some((c) => c.is?.measure === 'circumference') === true; }

  /** First every chunk is learnt, in any order. */
  learn(tally: Tally, features: Features, firstRow: number): void {
    addTally(this.tally, tally);
    for (let i = 0; i < features.count; i++) {
      const mark = features.mark(i);
      if (mark === 0) continue;
      if (this.count === this.marks.length) {
        const [more, further] = [new Float64Array(this.count * 2), new Int32Array(this.count * 2)];
        more.set(this.marks);
        further.set(this.rows);
        [this.marks, this.rows] = [more, further];
      }
      this.rows[this.count] = firstRow + i;
      this.marks[this.count++] = mark;
      const s = logsOf(features.at(i));
      const d = this.densities;
      d.driveWheel.add(s[0]!); d.band.add(s[1]!); d.core.add(s[2]!); d.end.add(s[3]!); d.endToCore.add(s[3]! - s[2]!);
      for (let k = 0; k < pulleys; k++) {
        d.whorl.add(s[whorlAt + k]!); d.bobbin.add(s[bobbinAt + k]!); d.wheelToWhorl.add(s[0]! - s[whorlAt + k]!);
      }
      each(s, (D, w, b) => { this.together.add(D, w, b); d.whorlToBobbin.add(w - b); });
    }
  }
  learnt(): void {
    const sorted = this.marks.subarray(0, this.count).toSorted();
    for (let i = 1; i < sorted.length; i++) if (sorted[i] === sorted[i - 1]) this.repeated.set(sorted[i]!, Infinity);
    for (let i = 0; i < this.count; i++) {
      const first = this.repeated.get(this.marks[i]!);
      if (first !== undefined && this.rows[i]! < first) this.repeated.set(this.marks[i]!, this.rows[i]!);
    }
    [this.marks, this.rows] = [new Float64Array(0), new Int32Array(0)];
  }

  /** Then every chunk is looked at, in any order and by anybody who has learnt the same: what is found, by row. */
  flags(firstRow: number, features: Features, from = 0, to = features.count): Map<number, Flag[]> {
    const out = new Map<number, Flag[]>();
    for (let i = from; i < to; i++) {
      const mark = features.mark(i);
      if (mark === 0) continue;
      const row = firstRow + i;
      const found: Flag[] = [];
      const first = this.repeated.get(mark);
      if (first !== undefined && first !== row) found.push({ code: 'duplicate', row: first });
      const sizes = features.at(i);
      const slip = this.slipOf(sizes, logsOf(sizes));
      if (slip !== undefined) found.push(slip);
      if (found.length > 0) out.set(row, found);
    }
    return out;
  }

  /** Logarithm of how likely those sizes are in this fleet that have to do with the one at `at`. */
  private likelihood(s: Logs, at: number): number {
    const d = this.densities;
    if (at === 1) return d.band.at(s[1]!);
    if (at === 2) return d.core.at(s[2]!) + part(d.endToCore, s[3]! - s[2]!);
    if (at === 3) return d.end.at(s[3]!) + part(d.endToCore, s[3]! - s[2]!);
    let log = at === 0 ? d.driveWheel.at(s[0]!) : 0;
    if (at === 0) for (let k = 0; k < pulleys; k++) log += part(d.wheelToWhorl, s[0]! - s[whorlAt + k]!);
    else if (at < bobbinAt) {
      log += d.whorl.at(s[at]!) + part(d.wheelToWhorl, s[0]! - s[at]!);
      for (let k = 0; k < pulleys; k++) log += part(d.whorlToBobbin, s[at]! - s[bobbinAt + k]!);
    } else {
      log += d.bobbin.at(s[at]!);
      for (let k = 0; k < pulleys; k++) log += part(d.whorlToBobbin, s[whorlAt + k]! - s[at]!);
    }
    return log;
  }
  /** How many wheels have about these pulleys; 0 where they are fewer than `atLeast`. */
  private alike(s: Logs, atLeast: number): number {
    let fewest = Infinity;
    each(s, (D, w, b) => { if (fewest >= atLeast) fewest = Math.min(fewest, this.together.about(D, w, b)); });
    return fewest === Infinity || fewest < atLeast ? 0 : fewest;
  }

  private slipOf(sizes: Float32Array, s: Logs): Flag | undefined {
    if (sizes[driveAt]! > 2) return undefined;
    const own = this.alike(s, 0);
    const all = this.count;
    let best: Flag | undefined;
    let most = -Infinity;
    // Where many are like it, its pulleys are what they are.
    const usualPulleys = own > Math.max(8, 0.012 * all);
    const enough = Math.max(5, (own - 1) / 0.12);
    let now = 0;
    let nowAt = -1;
    for (const h of hypotheses(sizes, s, this.circumferences, usualPulleys)) {
      const pulley = h.at === 0 || h.at >= whorlAt;
      // Many wheels are like the other, few like the row: a slip that is made again and again has company too.
      const alike = pulley ? this.alike(h.logs, enough) : 0;
      const byCompany = alike > 0 ? Math.log(alike / own) + h.prior : -Infinity;
      const rare = (!pulley || own <= Math.max(2, 0.003 * all)) && h.code !== 'rim-for-groove';
      if (!(byCompany > 0) && !rare) continue;
      if (h.also === undefined && h.at !== nowAt) [now, nowAt] = [this.likelihood(s, h.at), h.at];
      const gain = h.prior + (h.also === undefined ? this.likelihood(h.logs, h.at) - now : this.ofBoth(h.logs, h.at, h.also) - this.ofBoth(s, h.at, h.also));
      const score = Math.max(byCompany > 0 ? byCompany + Math.max(0, gain) : -Infinity, rare && gain > 5 ? gain : -Infinity);
      if (score <= most || score === -Infinity) continue;
      most = score;
      best = { code: h.code, part: h.part, read: rounded(h.read), probably: rounded(h.probably), times: Number(Math.exp(Math.min(score, 60)).toPrecision(2)) };
    }
    return best;
  }
  /** Of a whorl and a bobbin: what they have to do with each other counts once. */
  private ofBoth(s: Logs, whorl: number, bobbin: number): number { return this.likelihood(s, whorl) + this.likelihood(s, bobbin) - this.densities.whorlToBobbin.at(s[whorl]! - s[bobbin]!); }
}
const part = (d: Density, log: number): number => (Number.isNaN(log) ? 0 : d.at(log));

const logsOf = (sizes: Float32Array): Logs => {
  const out = new Float64Array(driveAt);
  for (let i = 0; i < driveAt; i++) out[i] = sizes[i]! > 0 ? Math.log(sizes[i]!) : Number.NaN;
  return out;
};

/** Whorl with bobbin, each with the drive wheel; a whorl or a bobbin alone where there is no other. */
function each(s: Logs, visit: (D: number, w: number, b: number) => void): void {
  let any = false;
  for (let i = 0; i < pulleys; i++) {
    if (Number.isNaN(s[whorlAt + i]!)) continue;
    let paired = false;
    for (let j = 0; j < pulleys; j++) if (!Number.isNaN(s[bobbinAt + j]!)) { visit(s[0]!, s[whorlAt + i]!, s[bobbinAt + j]!); paired = true; any = true; }
    if (!paired) { visit(s[0]!, s[whorlAt + i]!, Number.NaN); any = true; }
  }
  if (!any) for (let j = 0; j < pulleys; j++) if (!Number.isNaN(s[bobbinAt + j]!)) visit(s[0]!, Number.NaN, s[bobbinAt + j]!);
}

/** A whorl and a bobbin that are alike are told of as such: that is no measure at the rim. */
function hasLike(s: Float32Array, at: number): boolean {
  const others = at < bobbinAt ? bobbinAt : whorlAt;
  for (let i = 0; i < pulleys; i++) if (Math.abs(s[at]! / s[others + i]! - 1) < 0.033) return true;
  return false;
}

function* hypotheses(s: Float32Array, logs: Logs, circumferences: boolean, usualPulleys: boolean): Generator<Hypothesis, void, undefined> {
  const one = (code: Slip, part: string, at: number, x: number, prior: number): Hypothesis => {
    const changed = logs.slice();
    changed[at] = Math.log(x);
    return { code, part, at, read: s[at]!, probably: x, logs: changed, prior };
  };
  for (const [part, at] of places) {
    const x = s[at]!;
    if (Number.isNaN(x) || (usualPulleys && (at === 0 || at >= whorlAt))) continue;
    yield one('inches-for-millimetres', part, at, x * 25.4, 0);
    yield one('millimetres-for-inches', part, at, x / 25.4, 0);
    if (part !== 'band') yield one('circumference-for-diameter', part, at, x / Math.PI, 0);
    if (circumferences && part !== 'band') yield one('diameter-for-circumference', part, at, x * Math.PI, -1);
    yield one('decimal-slip', part, at, x * 10, 0);
    yield one('decimal-slip', part, at, x / 10, 0);
    if (at >= whorlAt && !hasLike(s, at)) for (const rim of rims) if (x - rim > 0.006) yield one('rim-for-groove', part, at, x - rim, -1);
  }
  if (s[driveAt] !== doubleDrive || usualPulleys) return;
  for (let i = 0; i < pulleys; i++) {
    const [w, b] = [s[whorlAt + i]!, s[bobbinAt + i]!];
    if (Number.isNaN(w) || Number.isNaN(b) || Math.abs(w / b - 1) < 0.02) continue;
    const changed = logs.slice();
    changed[whorlAt + i] = logs[bobbinAt + i]!;
    changed[bobbinAt + i] = logs[whorlAt + i]!;
    yield { code: 'swapped-whorl-and-bobbin', part: `whorl ${i + 1}`, at: whorlAt + i, also: bobbinAt + i, read: w, probably: b, logs: changed, prior: 0.5 };
  }
}
const places: readonly (readonly [string, number])[] = [['drive wheel', 0], ['band', 1], ['core', 2], ['ends', 3], ...Array.from({ length: pulleys }, (_, i) => [[`whorl ${i + 1}`, whorlAt + i], [`bobbin ${i + 1}`, bobbinAt + i]] as const).flat()];
