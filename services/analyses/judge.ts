/**
 * Judges chunks in a thread of its own, so that whoever waits for it stays awake, and so that a row that never ends, eats all
 * memory or throws what nobody foresaw ends that thread alone, and is known by its place.
 */
import type { Worker } from 'node:worker_threads';
import { startThread } from '../threads.js';
import type { Settled, Work } from './store.js';

export type Asked = Pick<Work, 'analysis' | 'layout' | 'chunk'>;
export type Told = Settled;
/** The row at which it ended, from 0 within its chunk; -1: before the first. */
export interface Broke { readonly brokeAt: number; readonly why: string }

/** Seconds of processor time, and of any time, that one row may take: a row of 24 whorls and 24 bobbins, all with their ±, takes less than one. */
const longest = { processor: 3, any: 120 };
const look = 500;
const processorSeconds = (): number => { const { user, system } = process.cpuUsage(); return (user + system) / 1e6; };

export class Judge {
  private thread: Worker | undefined;
  private readonly at = new Int32Array(new SharedArrayBuffer(4));
  private over: (out: Told | Broke) => void = () => undefined;

  judge({ analysis, layout, chunk }: Asked): Promise<Told | Broke> {
    const thread = (this.thread ??= this.begin());
    return new Promise((resolve) => {
      let [row, since, spent] = [-2, 0, 0];
      const watch = setInterval(() => {
        const now = Atomics.load(this.at, 0);
        if (now !== row) { [row, since, spent] = [now, performance.now(), processorSeconds()]; return; }
        if (processorSeconds() - spent > longest.processor || performance.now() - since > longest.any * 1000) this.broke(thread, `it was at one row for ${Math.round((performance.now() - since) / 1000)} s`);
      }, look);
      this.over = (out) => { clearInterval(watch); resolve(out); };
      thread.postMessage({ analysis, layout, chunk } satisfies Asked);
    });
  }
  async close(): Promise<void> {
    const { thread } = this;
    this.thread = undefined;
    await thread?.terminate();
  }
  private broke(thread: Worker, why: string): void {
    if (this.thread !== thread) return;
    this.thread = undefined;
    void thread.terminate();
    this.over({ brokeAt: Atomics.load(this.at, 0), why });
  }
  /** Its listeners stay as long as it does: a thread whose last listener was taken away is heard no more. */
  private begin(): Worker {
    Atomics.store(this.at, 0, -1);
    const thread = startThread(import.meta.url, 'judge-thread', { at: this.at.buffer }, { maxOldGenerationSizeMb: 160, maxYoungGenerationSizeMb: 16 });
    thread.on('message', (told: Told) => { if (this.thread === thread) this.over(told); });
    thread.on('error', (error) => this.broke(thread, error.message));
    thread.on('exit', () => this.broke(thread, 'its thread ended'));
    return thread;
  }
}
