/** Time and a service in the hand of a test. Nothing global is touched: both are given to the client. */
import type { Clock, Fetch, Fetched, FetchInit, TransportOptions } from '../../sdk/src/index.js';
import { Wheelgrist } from '../../sdk/src/index.js';

const settle = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

export class FakeClock {
  time = Date.parse('2026-01-01T00:00:00Z');
  private timers: { at: number; run: () => void }[] = [];
  readonly clock: Clock = {
    now: () => this.time,
    setTimeout: (run, milliseconds) => {
      const timer = { at: this.time + milliseconds, run };
      this.timers.push(timer);
      return timer;
    },
    clearTimeout: (timer) => { this.timers = this.timers.filter((t) => t !== timer); },
  };
  get waiting(): number { return this.timers.length; }
  /** Lets so many milliseconds go by, timer after timer, and whatever follows from each. */
  async pass(milliseconds: number): Promise<void> {
    const end = this.time + milliseconds;
    for (;;) {
      await settle();
      const next = this.timers.filter((t) => t.at <= end).toSorted((a, b) => a.at - b.at)[0];
      if (next === undefined) break;
      this.time = Math.max(this.time, next.at);
      this.timers = this.timers.filter((t) => t !== next);
      next.run();
    }
    this.time = end;
  }
}

export interface Asked extends FetchInit { readonly url: string; readonly at: number }
export type Step = Fetched | Error | 'never' | ((asked: Asked) => Fetched | Promise<Fetched>);

export function fetched(status: number, body: unknown = { ok: true }, headers: Record<string, string> = {}): Fetched {
  const text = typeof body === 'string' ? body : JSON.stringify(body);
  const type = status < 400 ? 'application/json; charset=utf-8' : 'application/problem+json';
  return new Response([204, 304].includes(status) ? null : text, { status, headers: { 'content-type': type, ...headers } });
}
export const problem = (status: number, code: string, headers: Record<string, string> = {}): Fetched =>
  fetched(status, { type: `/problems/${code}`, title: 'Title', status, detail: `Detail of ${code}.`, requestId: 'r-body' }, { 'request-id': 'r-1', ...headers });

/** A fetch that plays its steps in order, the last one again and again, and remembers what it was asked. */
export function script(clock: FakeClock, ...steps: Step[]): { fetch: Fetch; asked: Asked[] } {
  const asked: Asked[] = [];
  const fetch: Fetch = async (url, init) => {
    const step = steps[Math.min(asked.length, steps.length - 1)]!;
    const one = { ...init, headers: { ...init.headers }, url, at: clock.time };
    asked.push(one);
    if (step === 'never') return new Promise<never>(() => {});
    if (step instanceof Error) throw step;
    return typeof step === 'function' ? step(one) : (step as Response).clone();
  };
  return { fetch, asked };
}

/** A client on a scripted service, at a fake time, with chance always one half unless said otherwise. */
export function scripted(options: Partial<TransportOptions>, ...steps: Step[]): { clock: FakeClock; asked: Asked[]; wheelgrist: Wheelgrist } {
  const clock = new FakeClock();
  const { fetch, asked } = script(clock, ...steps);
  return { clock, asked, wheelgrist: new Wheelgrist({ baseUrl: 'http://service.test', fetch, clock: clock.clock, random: () => 0.5, ...options }) };
}

/** The outcome of a promise, once it has one. */
export function outcome<T>(promise: PromiseLike<T>): { value?: T; error?: unknown; done: boolean } {
  const seen: { value?: T; error?: unknown; done: boolean } = { done: false };
  promise.then((value) => Object.assign(seen, { value, done: true }), (error: unknown) => Object.assign(seen, { error, done: true }));
  return seen;
}
