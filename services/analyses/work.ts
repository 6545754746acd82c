/** A worker: takes chunks from the queue, one after the other, and lets whatever else its process does have its turn. */
import { setImmediate as breathe, setTimeout as sleep } from 'node:timers/promises';
import { Analyser } from './chunk.js';
import { linesOf, type Chunk, type Layout } from './intake.js';
import { setAside } from './line.js';
import { leaseSeconds, type AnalysisStore, type Settled, type Work } from './store.js';
import { Features, Fleet, Found, type Flag } from './fleet.js';
import { emptyTally, tallyRow } from './tally.js';
import { summaryOf } from './summary.js';

export interface WorkerOptions {
  /** Told of what goes wrong, and then goes on. */
  readonly warn?: (error: unknown) => void;
  /** Milliseconds to wait where there is nothing to do. */
  readonly idle?: number;
}
export interface Worker { stop(): Promise<void> }

/** Milliseconds after which others get their turn. */
const turn = 15;
/** A chunk on which so many workers were lost is taken apart. One row alone is tried as often before it is set aside. */
const mostCrashes = 3;
const beatEvery = (leaseSeconds * 1000) / 3;

/** Verdicts of a chunk, and what the fleet is compared by. */
export async function analyse(work: Work, beat: () => Promise<boolean>): Promise<Settled | undefined> {
  const { layout, chunk } = work;
  const tally = emptyTally();
  const features = new Features(chunk.firstRow);
  const lines: string[] = [];
  let since = performance.now();
  let beaten = since;
  for (const one of new Analyser(layout).judged(chunk)) {
    lines.push(one.line);
    tallyRow(tally, one);
    features.add(one);
    const now = performance.now();
    if (now - since < turn) continue;
    if (now - beaten > beatEvery) {
      if (!(await beat())) return undefined;
      beaten = now;
    }
    await breathe();
    since = performance.now();
  }
  return { result: lines.join('\n'), features: features.packed(), tally, analysed: tally.analysed, rejected: tally.rejected };
}

/** The two halves of a chunk, by rows. */
export function halves({ layout, chunk }: Pick<Work, 'layout' | 'chunk'>): [Chunk, Chunk] {
  const lines = linesOf(layout);
  const found = [...lines.push(chunk.text), ...lines.end()];
  const middle = found[Math.floor(found.length / 2)]!;
  const cut = Math.floor(found.length / 2);
  const text = chunk.text.split('\n');
  return [
    { ...chunk, rows: cut, text: `${text.slice(0, middle.line - 1).join('\n')}\n` },
    { firstRow: chunk.firstRow + cut, firstLine: chunk.firstLine + middle.line - 1, rows: chunk.rows - cut, text: text.slice(middle.line - 1).join('\n') },
  ];
}

async function workOn(store: AnalysisStore, work: Work): Promise<void> {
  if (work.crashes >= mostCrashes) {
    if (work.chunk.rows > 1) {
      await store.split(work, ...halves(work));
      return;
    }
    const tally = { ...emptyTally(), rows: 1, rejected: 1, reasons: { '\tinternal-error': 1 } };
    const features = new Features(work.chunk.firstRow);
    features.none();
    await store.settle(work, { result: setAside(work.chunk.firstRow, work.chunk.firstLine, work.chunk.text.trim()), features: features.packed(), tally, analysed: 0, rejected: 1 });
    return;
  }
  const settled = await analyse(work, () => store.beat(work));
  if (settled !== undefined) await store.settle(work, settled);
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
  let swept = 0;
  const one = async (): Promise<boolean> => {
    const work = await store.take();
    if (work !== undefined) { await workOn(store, work); return true; }
    if (await comparer.one()) return true;
    if (Date.now() - swept > 60_000) { swept = Date.now(); comparer.forget(); await store.sweep(); }
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
  return { stop: async () => { stopping.abort(); await running; } };
}
