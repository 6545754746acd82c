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
const bin = (x: number): number => Math.round(Math.log(x) / step);
const usualRows = 50;
const least = 1e-4;

/** How often a size comes, by its logarithm, smoothed. */
class Density {
  private readonly counts = new Map<number, number>();
  private readonly known = new Map<number, number>();
  private all = 0;
  constructor(private readonly measure: Usual) {}
  add(x: number): void {
    if (!(x > 0)) return;
    const b = bin(x);
    this.counts.set(b, (this.counts.get(b) ?? 0) + 1);
    this.all++;
  }
  /** Share per bin about x. */
  at(x: number): number {
    if (!(x > 0)) return least * step;
    const b = bin(x);
    let found = this.known.get(b);
    if (found === undefined) {
      let near = 0;
      for (let i = -3; i <= 3; i++) near += (this.counts.get(b + i) ?? 0) * kernel[i + 3]!;
      const [middle, spread] = usual[this.measure];
      const z = (Math.log(x) - Math.log(middle)) / spread;
      const own = (step / (spread * 2.5)) / (1 + (z * z) / 3) ** 2;
      found = Math.max(least * step, (near + usualRows * own) / (this.all + usualRows));
      this.known.set(b, found);
    }
    return found;
  }
}
const kernel = [0.05, 0.12, 0.2, 0.26, 0.2, 0.12, 0.05];

/** How many wheels have about this drive wheel, whorl and bobbin. */
const base = 2048;
const mostCells = 400_000;
class Together {
  private readonly cells = new Map<number, number>();
  private key(a: number, b: number, c: number): number { return ((a + base) * 4096 + (b + base)) * 4096 + (c + base); }
  private bins(D: number, w: number, b: number): [number, number, number] { return [Number.isNaN(D) ? -1999 : bin(D), Number.isNaN(w) ? -1999 : bin(w), Number.isNaN(b) ? -1999 : bin(b)]; }
  add(D: number, w: number, b: number): void {
    const key = this.key(...this.bins(D, w, b));
    const before = this.cells.get(key);
    if (before !== undefined || this.cells.size < mostCells) this.cells.set(key, (before ?? 0) + 1);
  }
  about(D: number, w: number, b: number): number {
    const [x, y, z] = this.bins(D, w, b);
    const reach = (v: number): number => (v === -1999 ? 0 : 1);
    let sum = 0;
    for (let i = -reach(x); i <= reach(x); i++) for (let j = -reach(y); j <= reach(y); j++) for (let k = -reach(z); k <= reach(z); k++) sum += this.cells.get(this.key(x + i, y + j, z + k)) ?? 0;
    return sum;
  }
}

interface Hypothesis { readonly code: Slip; readonly part: string; readonly read: number; readonly probably: number; readonly sizes: Float32Array; readonly prior: number }
const doubleDrive = 0;
const rims = [0.004, 0.006, 0.008, 0.01, 0.012];

export class Fleet {
  readonly tally: Tally = emptyTally();
  readonly flagged: Record<string, number> = {};
  /** The first few rows of each kind. */
  readonly shown: (Flag & { readonly at: number })[] = [];
  private readonly densities = Object.fromEntries((Object.keys(usual) as Usual[]).map((m) => [m, new Density(m)])) as Record<Usual, Density>;
  private readonly together = new Together();
  private marks = new Float64Array(1024);
  private count = 0;
  private repeated = new Map<number, number>();
  private readonly circumferences: boolean;
  constructor(layout?: Layout) { this.circumferences = layout?.columns.some((c) => c.is?.measure === 'circumference') === true; }

  /** First every chunk is learnt, in any order. */
  learn(tally: Tally, features: Features): void {
    addTally(this.tally, tally);
    for (let i = 0; i < features.count; i++) {
      const mark = features.mark(i);
      if (mark === 0) continue;
      if (this.count === this.marks.length) { const more = new Float64Array(this.count * 2); more.set(this.marks); this.marks = more; }
      this.marks[this.count++] = mark;
      const s = features.at(i);
      const d = this.densities;
      d.driveWheel.add(s[0]!); d.band.add(s[1]!); d.core.add(s[2]!); d.end.add(s[3]!); d.endToCore.add(s[3]! / s[2]!);
      for (let k = 0; k < pulleys; k++) {
        d.whorl.add(s[whorlAt + k]!); d.bobbin.add(s[bobbinAt + k]!); d.wheelToWhorl.add(s[0]! / s[whorlAt + k]!);
      }
      each(s, (D, w, b) => { this.together.add(D, w, b); d.whorlToBobbin.add(w / b); });
    }
  }
  learnt(): void {
    const sorted = this.marks.subarray(0, this.count).toSorted();
    for (let i = 1; i < sorted.length; i++) if (sorted[i] === sorted[i - 1]) this.repeated.set(sorted[i]!, 0);
    this.marks = new Float64Array(0);
  }

  /** Then every chunk is looked at, in order: what is found, by row. */
  flags(firstRow: number, features: Features): Map<number, Flag[]> {
    const out = new Map<number, Flag[]>();
    for (let i = 0; i < features.count; i++) {
      const mark = features.mark(i);
      if (mark === 0) continue;
      const row = firstRow + i;
      const found: Flag[] = [];
      const first = this.repeated.get(mark);
      if (first === 0) this.repeated.set(mark, row);
      else if (first !== undefined) found.push({ code: 'duplicate', row: first });
      const slip = this.slipOf(features.at(i));
      if (slip !== undefined) found.push(slip);
      for (const flag of found) {
        this.flagged[flag.code] = (this.flagged[flag.code] ?? 0) + 1;
        if (this.flagged[flag.code]! <= 20) this.shown.push({ at: row, ...flag });
      }
      if (found.length > 0) out.set(row, found);
    }
    return out;
  }

  /** How likely these sizes are in this fleet; `alike`: how many wheels have about these pulleys. */
  private likelihood(s: Float32Array): { log: number; alike: number } {
    const d = this.densities;
    let log = 0;
    const add = (m: Usual, x: number): void => { if (!Number.isNaN(x)) log += Math.log(d[m].at(x) / step); };
    add('driveWheel', s[0]!); add('band', s[1]!); add('core', s[2]!); add('end', s[3]!); add('endToCore', s[3]! / s[2]!);
    let n = 0;
    for (let k = 0; k < pulleys; k++) { add('whorl', s[whorlAt + k]!); add('bobbin', s[bobbinAt + k]!); add('wheelToWhorl', s[0]! / s[whorlAt + k]!); }
    let alike = Infinity;
    each(s, (D, w, b) => { n++; add('whorlToBobbin', w / b); alike = Math.min(alike, this.together.about(D, w, b)); });
    return { log, alike: n === 0 ? 0 : alike };
  }

  private slipOf(s: Float32Array): Flag | undefined {
    if (s[driveAt]! > 2) return undefined;
    const own = this.likelihood(s);
    const all = this.count;
    let best: Flag | undefined;
    let most = -Infinity;
    // Where many are like it, its pulleys are what they are.
    const usualPulleys = own.alike > Math.max(8, 0.012 * all);
    for (const h of hypotheses(s, this.circumferences, usualPulleys)) {
      const other = this.likelihood(h.sizes);
      const gain = other.log - own.log + h.prior;
      const pulley = h.part !== 'core' && h.part !== 'ends' && h.part !== 'band';
      // Many wheels are like the other, few like the row: a slip that is made again and again has company too.
      const byCompany = pulley && other.alike >= 5 && own.alike - 1 <= 0.12 * other.alike ? Math.log(other.alike / own.alike) + h.prior : -Infinity;
      const rare = !pulley || own.alike <= Math.max(2, 0.003 * all);
      const score = Math.max(byCompany > 0 ? byCompany + Math.max(0, gain) : -Infinity, rare && gain > 5 && h.code !== 'rim-for-groove' ? gain : -Infinity);
      if (score <= most || score === -Infinity) continue;
      most = score;
      best = { code: h.code, part: h.part, read: rounded(h.read), probably: rounded(h.probably), times: Number(Math.exp(Math.min(score, 60)).toPrecision(2)) };
    }
    return best;
  }
}

/** Whorl with bobbin, each with the drive wheel; a whorl or a bobbin alone where there is no other. */
function each(s: Float32Array, visit: (D: number, w: number, b: number) => void): void {
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

function* hypotheses(s: Float32Array, circumferences: boolean, usualPulleys: boolean): Generator<Hypothesis, void, undefined> {
  const changed = (at: number, x: number): Float32Array => { const out = s.slice(); out[at] = x; return out; };
  const one = (code: Slip, part: string, at: number, x: number, prior: number): Hypothesis => ({ code, part, read: s[at]!, probably: x, sizes: changed(at, x), prior });
  const places: [string, number][] = [['drive wheel', 0], ['band', 1], ['core', 2], ['ends', 3]];
  for (let i = 0; i < pulleys; i++) places.push([`whorl ${i + 1}`, whorlAt + i], [`bobbin ${i + 1}`, bobbinAt + i]);
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
    const sizes = s.slice();
    sizes[whorlAt + i] = b;
    sizes[bobbinAt + i] = w;
    yield { code: 'swapped-whorl-and-bobbin', part: `whorl ${i + 1}`, read: w, probably: b, sizes, prior: 0.5 };
  }
}
