/** A worker: takes chunks from the queue, one after the other, and lets whatever else its process does have its turn. */
import { setImmediate as breathe, setTimeout as sleep } from 'node:timers/promises';
import { Analyser } from './chunk.js';
import { linesOf, type Chunk } from './intake.js';
import { setAside } from './line.js';
import { leaseSeconds, type AnalysisStore, type Settled, type Work } from './store.js';
import { Fleet, Features } from './fleet.js';
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

/** The rows of a whole analysis with each other. */
async function compare(store: AnalysisStore): Promise<boolean> {
  const taken = await store.takeComparison();
  if (taken === undefined) return false;
  const { analysis, lease } = taken;
  const fleet = new Fleet(analysis.layout);
  const each = async (visit: (chunk: Awaited<ReturnType<AnalysisStore['tallies']>>[number]) => Promise<void> | void): Promise<boolean> => {
    for (let after = 0; ;) {
      const page = await store.tallies(analysis.id, after, 20);
      if (page.length === 0) return true;
      for (const chunk of page) { await visit(chunk); await breathe(); }
      after = page.at(-1)!.firstRow;
      if (!(await store.beatComparison(analysis.id, lease))) return false;
    }
  };
  if (!(await each(({ tally, features, rows }) => fleet.learn(tally, Features.of(features, rows))))) return true;
  fleet.learnt();
  const flagged = await each(async ({ firstRow, features, rows }) => {
    const flags = fleet.flags(firstRow, Features.of(features, rows));
    if (flags.size > 0) await store.flag(analysis.id, firstRow, JSON.stringify([...flags]));
  });
  if (flagged) await store.settleComparison(analysis.id, lease, summaryOf(fleet, analysis.layout));
  return true;
}

/** Begins to work. `stop` lets the chunk at hand be finished. */
export function startWorker(store: AnalysisStore, { warn = () => undefined, idle = 250 }: WorkerOptions = {}): Worker {
  const stopping = new AbortController();
  let swept = 0;
  const one = async (): Promise<boolean> => {
    const work = await store.take();
    if (work !== undefined) { await workOn(store, work); return true; }
    if (Date.now() - swept > 60_000) { swept = Date.now(); await store.sweep(); }
    return compare(store);
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
