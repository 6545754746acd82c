/** A worker: takes chunks from the queue, one after the other, and lets whatever else its process does have its turn. */
import { setImmediate as breathe, setTimeout as sleep } from 'node:timers/promises';
import { linesOf, type Chunk, type Layout } from './intake.js';
import { Judge, type Broke } from './judge.js';
import { setAside } from './line.js';
import { packed } from './packing.js';
import { leaseSeconds, type AnalysisStore, type Settled, type Work } from './store.js';
import { Features, Fleet, Found, type Flag } from './fleet.js';
import { emptyTally } from './tally.js';
import { summaryOf } from './summary.js';

export interface WorkerOptions {
  /** Told of what goes wrong, and then goes on. */
  readonly warn?: (error: unknown) => void;
  /** Milliseconds to wait where there is nothing to do. */
  readonly idle?: number;
}
export interface Worker { stop(): Promise<void> }

/** A chunk on which so many workers were lost is taken apart, in so many pieces; a piece that takes one more worker with it is taken apart again. */
const mostCrashes = 3;
const pieces = 10;
/** One row alone is tried oftener before it is set aside: workers are lost for other reasons too. */
const mostOfOne = 4;
const beatEvery = (leaseSeconds * 1000) / 4;

/** The chunk cut before these rows, counted from 0; each of `at` above 0 and in order. */
export function cutAt({ layout, chunk }: Pick<Work, 'layout' | 'chunk'>, at: readonly number[]): Chunk[] {
  const lines = linesOf(layout);
  const found = [...lines.push(chunk.text), ...lines.end()];
  const text = chunk.text.split('\n');
  const starts = [0, ...at];
  return starts.map((from, i) => {
    const to = starts[i + 1];
    const [first, after] = [from === 0 ? 1 : found[from]!.line, to === undefined ? text.length + 1 : found[to]!.line];
    return { firstRow: chunk.firstRow + from, firstLine: chunk.firstLine + first - 1, rows: (to ?? chunk.rows) - from, text: `${text.slice(first - 1, after - 1).join('\n')}${to === undefined ? '' : '\n'}` };
  });
}

async function workOn(store: AnalysisStore, judge: Judge, work: Work, warn: (error: unknown) => void): Promise<void> {
  const { chunk, crashes } = work;
  if (crashes >= mostOfOne && chunk.rows === 1) {
    const tally = { ...emptyTally(), rows: 1, rejected: 1, reasons: { '\tinternal-error': 1 } };
    const features = new Features(chunk.firstRow);
    features.none();
    warn(new Error(`row ${chunk.firstRow} of ${work.analysis} was set aside: workers broke down on it`));
    await store.settle(work, { result: packed(setAside(chunk.firstRow, chunk.firstLine, chunk.text.trim())), features: features.packed(), tally, analysed: 0, rejected: 1 });
    return;
  }
  if (crashes >= mostCrashes && chunk.rows > 1) {
    const size = Math.ceil(chunk.rows / pieces);
    const at = Array.from({ length: Math.ceil(chunk.rows / size) - 1 }, (_, i) => (i + 1) * size);
    await store.split(work, cutAt(work, at).map((piece) => ({ chunk: piece, crashes: mostCrashes - 1 })));
    return;
  }
  const beating = setInterval(() => { store.beat(work).catch(warn); }, beatEvery);
  let judged: Settled | Broke;
  try {
    judged = await judge.judge(work);
  } finally {
    clearInterval(beating);
  }
  // What a lease that was lost meanwhile would settle does not count.
  if (!('brokeAt' in judged)) { await store.settle(work, judged); return; }
  warn(new Error(`an analysis broke down at row ${chunk.firstRow + Math.max(0, judged.brokeAt)} of ${work.analysis}: ${judged.why}`));
  // It is known which row it was: that one is tried once more, alone; before its first row, all of them are in doubt.
  if (judged.brokeAt < 0 || chunk.rows === 1) { await store.split(work, [{ chunk, crashes: chunk.rows === 1 ? mostOfOne : crashes + 1 }]); return; }
  const at = [judged.brokeAt, judged.brokeAt + 1].filter((row) => row > 0 && row < chunk.rows);
  await store.split(work, cutAt(work, at).map((piece) => ({ chunk: piece, crashes: piece.firstRow === chunk.firstRow + (judged as Broke).brokeAt ? mostOfOne - 1 : 0 })));
}

/**
 * The rows of a whole table with each other. Every worker learns all sizes by itself, which takes a small part of the time, and
 * then takes chunk after chunk: what one has done stands, whoever is lost, and whoever is late can join. The last sums up.
 */
class Comparer {
  private known: { readonly analysis: string; readonly fleet: Fleet } | undefined;
  private after = 0;
  constructor(private readonly store: AnalysisStore) {}

  async one(): Promise<boolean> {
    const { store } = this;
    await store.beginComparing();
    const taken = await store.takeComparison(this.known?.analysis, this.after);
    if (taken !== undefined) {
      const fleet = await this.fleetOf(taken, () => store.beatComparison(taken));
      if (fleet === undefined) return true;
      const features = Features.of(taken.features, taken.rows);
      const found: [number, Flag[]][] = [];
      for (let from = 0; from < taken.rows; from += 250) {
        found.push(...fleet.flags(taken.firstRow, features, from, Math.min(taken.rows, from + 250)));
        await breathe();
      }
      await store.flag(taken, JSON.stringify(found));
      this.after = taken.firstRow;
      return true;
    }
    const summing = await store.takeSummary(this.known?.analysis);
    if (summing === undefined) return false;
    const fleet = await this.fleetOf(summing, () => store.beatSummary(summing));
    if (fleet === undefined) return true;
    const found = new Found();
    const all = await this.pages((after) => store.flags(summing.analysis, after, 50), ({ flags }) => found.add(JSON.parse(flags) as [number, Flag[]][]), () => store.beatSummary(summing));
    if (all) await store.settleSummary(summing, summaryOf(fleet, found, summing.layout));
    this.forget();
    return true;
  }
  forget(): void { this.known = undefined; }

  private async pages<T extends { readonly firstRow: number }>(read: (after: number) => Promise<T[]>, visit: (one: T) => void, beat: () => Promise<boolean>): Promise<boolean> {
    let beaten = performance.now();
    for (let after = 0; ;) {
      const page = await read(after);
      if (page.length === 0) return true;
      for (const one of page) { visit(one); await breathe(); }
      after = page.at(-1)!.firstRow;
      if (performance.now() - beaten < beatEvery) continue;
      if (!(await beat())) return false;
      beaten = performance.now();
    }
  }
  private async fleetOf({ analysis, layout }: { readonly analysis: string; readonly layout: Layout }, beat: () => Promise<boolean>): Promise<Fleet | undefined> {
    if (this.known?.analysis === analysis) return this.known.fleet;
    const fleet = new Fleet(layout);
    if (!(await this.pages((after) => this.store.tallies(analysis, after, 20), (c) => fleet.learn(c.tally, Features.of(c.features, c.rows), c.firstRow), beat))) return undefined;
    fleet.learnt();
    this.after = 0;
    this.known = { analysis, fleet };
    return fleet;
  }
}

/** Begins to work. `stop` lets the chunk at hand be finished. */
export function startWorker(store: AnalysisStore, { warn = () => undefined, idle = 250 }: WorkerOptions = {}): Worker {
  const stopping = new AbortController();
  const comparer = new Comparer(store);
  const judge = new Judge();
  let swept = 0;
  const one = async (): Promise<boolean> => {
    const work = await store.take();
    if (work !== undefined) { await workOn(store, judge, work, warn); return true; }
    if (await comparer.one()) return true;
    if (Date.now() - swept > 60_000) { swept = Date.now(); comparer.forget(); await judge.close(); await store.sweep(); }
    return false;
  };
  const loop = async (): Promise<void> => {
    while (!stopping.signal.aborted) {
      const did = await one().catch((error: unknown) => { warn(error); return undefined; });
      // Nothing to do, or the database is away: look again in a moment.
      if (did !== true) await sleep(did === undefined ? 1000 : idle, undefined, { signal: stopping.signal }).catch(() => undefined);
      else await breathe();
    }
  };
  const running = loop();
  return { stop: async () => { stopping.abort(); await running; await judge.close(); } };
}
