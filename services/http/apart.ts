/**
 * Questions that take long are answered in threads apart, so that none keeps everybody else waiting: the same function, the
 * same bytes. What a question may take is reckoned from the pairs of whorl and bobbin groove that it names.
 */
import { availableParallelism } from 'node:os';
import type { Worker } from 'node:worker_threads';
import type { AnswerOptions, Calculation, Reply } from '../calculations/calculation.js';
import { ProblemError, type Issue, type ProblemCode } from '../foundation/problems.js';
import { isObject } from '../foundation/read.js';
import { startThread } from '../threads.js';
import type { FoundWheel } from './answers.js';

export type Made = 'answer' | 'picture' | 'ndjson' | 'csv';
export interface Long { readonly calculation: string; readonly make: Made; readonly question: unknown; readonly options: AnswerOptions; readonly wheel?: FoundWheel }
export interface Job extends Long { readonly id: number }
export type Outcome = { readonly id: number } & ({ readonly text: string } | { readonly problem: { readonly code: ProblemCode; readonly detail: string; readonly issues: readonly Issue[]; readonly headers: Readonly<Record<string, string>> } } | { readonly fault: string });

/** Milliseconds that one pair may take, every measure of it a range; measured on one core (`npm run bench` shows the usual). */
const perPair: Readonly<Record<string, number>> = { ratio: 0.4, 'take-up': 1.5, 'drive-band': 8, tension: 6, setups: 3 };
const usualSteps = 11;
/** What takes longer by this reckoning is done apart. */
const longest = 25;
/** Questions that may wait for a thread. */
const mostWaiting = 64;
/** Milliseconds that an idle thread is kept. */
const idleFor = 60_000;

const count = (list: unknown): number => (Array.isArray(list) ? Math.max(1, Math.min(list.length, 1000)) : 1);
/** Milliseconds that this question may take. */
export function reckoned(calculation: string, question: unknown): number {
  // A draw that is simulated step by step, or told step by step, or drawn many times.
  if (calculation === 'draft-cycle' && isObject(question) && (question['treadlePush'] !== undefined || question['series'] !== undefined || question['makes'] !== undefined)) return 2 * longest;
  const each = perPair[calculation];
  if (each === undefined || !isObject(question)) return 0;
  const steps = calculation === 'take-up' && typeof question['steps'] === 'number' ? Math.min(Math.max(question['steps'], 1), 1000) / usualSteps : 1;
  const wheels: readonly unknown[] = Array.isArray(question['wheels']) ? question['wheels'].slice(0, 1000).map((one: unknown) => (isObject(one) ? one['wheel'] : one)) : [question['wheel'] ?? question];
  return each * steps * wheels.reduce<number>((sum, wheel) => sum + pairsOf(wheel), 0);
}
function pairsOf(wheel: unknown): number {
  if (!isObject(wheel)) return 1;
  const bobbins = Array.isArray(wheel['bobbins']) ? wheel['bobbins'].slice(0, 1000).reduce<number>((sum, bobbin) => sum + (isObject(bobbin) ? count(bobbin['grooves']) : 1), 0) : 1;
  return count(wheel['whorls']) * Math.max(1, bobbins);
}
export const isLong = (calculation: string, question: unknown): boolean => reckoned(calculation, question) > longest;

/** The answer to a question that may be long, for whoever shows it otherwise than as JSON. */
export const replyFrom = async (apart: Apart, calculation: Calculation, question: unknown, options: AnswerOptions): Promise<Reply<unknown>> =>
  (isLong(calculation.id, question) ? (JSON.parse(await apart.ask({ calculation: calculation.id, make: 'answer', question, options })) as Reply<unknown>) : calculation.answer(question, options));
/** Its picture, likewise. Of a calculation that has one. */
export const pictureFrom = async (apart: Apart, calculation: Calculation, question: unknown, options: AnswerOptions): Promise<string> =>
  (isLong(calculation.id, question) ? apart.ask({ calculation: calculation.id, make: 'picture', question, options }) : calculation.picture!(question, options));

const tooBusy = (): ProblemError => new ProblemError('too-busy', undefined, { headers: { 'retry-after': '2' } });
interface Waiting { readonly job: Job; readonly resolve: (text: string) => void; readonly reject: (error: unknown) => void }

export class Apart {
  private readonly idle: Worker[] = [];
  private readonly busy = new Map<Worker, Waiting>();
  private readonly waiting: Waiting[] = [];
  private readonly timers = new Map<Worker, NodeJS.Timeout>();
  private next = 1;
  private closed = false;
  constructor(private readonly most = Math.max(1, Math.min(4, availableParallelism() - 1))) {}

  ask(long: Long): Promise<string> {
    if (this.closed || this.waiting.length >= mostWaiting) return Promise.reject(tooBusy());
    return new Promise((resolve, reject) => {
      this.waiting.push({ job: { id: this.next++, ...long }, resolve, reject });
      this.work();
    });
  }
  /** Ends the threads; who still waits is told to come again. */
  async close(): Promise<void> {
    this.closed = true;
    for (const one of this.waiting.splice(0)) one.reject(tooBusy());
    await Promise.all([...this.idle, ...this.busy.keys()].map((thread) => thread.terminate()));
  }

  private work(): void {
    if (this.closed || this.waiting.length === 0) return;
    const thread = this.idle.pop() ?? (this.busy.size < this.most ? this.start() : undefined);
    if (thread === undefined) return;
    clearTimeout(this.timers.get(thread));
    const one = this.waiting.shift()!;
    this.busy.set(thread, one);
    thread.ref();
    thread.postMessage(one.job);
  }
  private start(): Worker {
    const thread = startThread(import.meta.url, 'apart-worker');
    thread.on('message', (outcome: Outcome) => {
      const one = this.busy.get(thread);
      this.busy.delete(thread);
      this.rest(thread);
      if ('text' in outcome) one?.resolve(outcome.text);
      else if ('problem' in outcome) one?.reject(new ProblemError(outcome.problem.code, outcome.problem.detail, { issues: outcome.problem.issues, headers: { ...outcome.problem.headers } }));
      else one?.reject(new Error(outcome.fault));
      this.work();
    });
    const gone = (error: Error): void => {
      this.busy.get(thread)?.reject(this.closed ? tooBusy() : error);
      this.busy.delete(thread);
      const at = this.idle.indexOf(thread);
      if (at >= 0) this.idle.splice(at, 1);
      this.work();
    };
    thread.on('error', gone);
    thread.on('exit', () => gone(new Error('a thread for long questions has ended')));
    return thread;
  }
  private rest(thread: Worker): void {
    this.idle.push(thread);
    thread.unref();
    this.timers.set(thread, setTimeout(() => { if (this.idle.includes(thread)) void thread.terminate(); }, idleFor).unref());
  }
}
