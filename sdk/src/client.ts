/**
 * The run time under the generated operations: one call, with its tries, its deadline and its errors.
 * `fetch` is called with an address and plain settings, so any fetch will do.
 */
import { Aborted, NetworkFailure, ProblemReply, Timeout, UnreadableReply, WheelgristError, type ReplyFacts } from './errors.js';
import type { Call, CallOptions, Clock, Fetch, Fetched, Operation, TransportOptions, Whole } from './options.js';
import type { Problem } from './types.gen.js';

const json = 'application/json';
/** Reads a good reply. */
type Read<T> = (response: Fetched, facts: ReplyFacts) => Promise<T> | T;

export class Transport {
  /** Private, so that neither a log nor an inspector shows the key. */
  readonly #options: TransportOptions;
  /** Further tries that are allowed now: each call earns a tenth of one, so that a service in trouble gets at most 10 % more. */
  #allowance = 10;
  /** The service asked to be left alone until then: every call waits, a minute at most. */
  #pausedUntil = 0;

  constructor(options: TransportOptions) {
    const { key, baseUrl, allowKeyInBrowser } = options;
    const { window, document } = globalThis as { window?: unknown; document?: unknown };
    if (key && !/^[!-~]+$/.test(key)) throw new TypeError('The key holds a blank or line break.');
    if (key && window && document && !allowKeyInBrowser) throw new TypeError('All can read a key in a page (allowKeyInBrowser).');
    if (!/^https?:\/\/[^@?#]+$/.test(baseUrl)) throw new TypeError('baseUrl is like https://wheels.example');
    this.#options = options;
  }

  /** Asks, and reads the answer as its media type says. */
  call<T>(operation: Operation, args?: object, options?: CallOptions, body?: unknown): Call<T> {
    const { accept = json } = operation;
    const whole = this.send(operation, args, options, body, async (response, facts) => {
      const text = await response.text();
      if (facts.status === 204) return undefined as T;
      if (!facts.headers['content-type']?.toLowerCase().startsWith(accept)) throw new UnreadableReply(`The reply is not ${accept}.`, facts);
      // JSON that breaks off is a reply that broke off.
      return (accept.endsWith('json') ? JSON.parse(text) : text) as T;
    });
    const data = whole.then((w) => w.data);
    // Who takes the whole reply sees its failure there, and need not see it twice.
    return Object.assign(data, { withResponse: () => (data.catch(() => {}), whole) });
  }

  /** Asks, and hands a good reply to `read`. The deadline holds until `read` is done. */
  async send<T>(operation: Operation, args: object | undefined, options: CallOptions | undefined, body: unknown, read: Read<T>): Promise<Whole<T>> {
    const all = { ...this.#options, ...options };
    const { key, signal, retries = 2 } = all;
    const { now, setTimeout: start, clearTimeout: end } = all.clock ?? ({ now: Date.now, setTimeout, clearTimeout } as Clock);
    const chance = all.random ?? Math.random;
    const { method, accept = json, sends = json } = operation;
    // A file takes as long as it takes, unless a deadline was given.
    const isFile = !/[/+]json$/.test(sends);
    const deadline = all.deadline ?? (isFile ? 0 : 30_000);
    const fixed: Record<string, string> = { accept };
    if (body) fixed['content-type'] = sends;
    const left: Record<string, unknown> = { ...args };
    const path = operation.place?.(operation.path, left, fixed) ?? operation.path;
    const query = new URLSearchParams();
    for (const name in left) for (const value of [left[name]].flat()) if (value !== undefined) query.append(name, value as string);
    const url = all.baseUrl.replace(/\/$/, '') + `${path}?${query}`.replace(/\?$/, '');
    Object.assign(fixed, this.#options.headers, options?.headers);
    const sent = body ? (isFile ? body : JSON.stringify(body)) : null;
    // What came out of a stream cannot be sent again.
    const streams = isFile && Symbol.asyncIterator in Object(body);
    const tries = !streams && (operation.again || fixed['idempotency-key']) ? retries : 0;

    const ends = deadline ? now() + deadline : Infinity;
    const control = new AbortController();
    let last: WheelgristError | undefined;
    const stop = (): void => control.abort(new Aborted('Ended by its caller.', { cause: signal?.reason }));
    const timer = deadline && start(() => control.abort(new Timeout(`No answer within ${deadline} ms.`, { cause: last })), deadline);
    const stopped = new Promise<never>((_, reject) => control.signal.addEventListener('abort', reject));
    stopped.catch(() => {});
    /** Waits for one thing, and no longer than the call may last, even where that thing does not heed the signal. */
    const wait = async <V>(what: () => Promise<V> | V): Promise<V> => {
      try {
        return await Promise.race([stopped, what()]);
      } catch (error) {
        control.signal.throwIfAborted();
        throw error instanceof WheelgristError ? error : new NetworkFailure('No whole reply came.', { cause: this.#hidden(error) });
      }
    };
    let resting: unknown;
    const rest = (milliseconds: number): Promise<unknown> => wait(() => new Promise<void>((go) => { resting = start(go, milliseconds); }));
    if (signal?.aborted) stop();
    signal?.addEventListener('abort', stop);
    this.#allowance = Math.min(10, this.#allowance + 0.1);
    try {
      for (let attempt = 1; ; attempt++) {
        while (this.#pausedUntil > now()) await rest(this.#pausedUntil - now() + chance() * 250);
        control.signal.throwIfAborted();
        const request = { operation, url, attempt };
        const headers = { ...fixed };
        all.onRequest?.({ ...request, headers });
        const began = now();
        let again = true;
        let after = 0;
        try {
          const response = await wait(() => (all.fetch ?? (fetch as Fetch))(url, { method, headers: { ...headers, ...(key && { authorization: `Bearer ${key}` }) }, signal: control.signal, body: sent, ...(streams && { duplex: 'half' as const }) }));
          const { status } = response;
          const got: Record<string, string> = {};
          response.headers.forEach((value, name) => { got[name] = value; });
          const facts: ReplyFacts = { status, headers: got, requestId: got['request-id'] };
          all.onResponse?.({ ...facts, ...request, milliseconds: now() - began });
          // None below 200 comes out of a fetch.
          if (status < 300) return { ...facts, data: await wait(() => read(response, facts)), attempts: attempt, response };
          last = new ProblemReply(facts, this.#problem(await wait(() => response.text())));
          // 408, 425, 429 and what went wrong over there may pass by themselves.
          again = /408|42[59]|5../.test(`${status}`);
          // Seconds or a date (RFC 9110, 10.2.3).
          const asked = got['retry-after']!;
          after = Math.max(0, (+asked >= 0 ? +asked * 1000 : Date.parse(asked) - now()) || 0);
          if (status === 429) this.#pausedUntil = now() + Math.min(after, 60_000);
        } catch (error) {
          if (!(error instanceof NetworkFailure)) throw error;
          last = error;
        }
        // Full jitter: any moment up to a bound that doubles. What the service asked for comes first.
        const pause = after + chance() * Math.min(8000, 125 * 2 ** attempt);
        if (!again || attempt > tries || this.#allowance < 1 || now() + pause >= ends) throw last;
        this.#allowance--;
        all.onRetry?.({ ...request, wait: pause, error: last });
        await rest(pause);
      }
    } finally {
      end(timer);
      end(resting);
      signal?.removeEventListener('abort', stop);
    }
  }

  #problem(text: string): Problem | undefined {
    try {
      const found = JSON.parse(this.#redact(text)) as Problem;
      return found.type ? found : undefined;
    } catch {
      return undefined;
    }
  }
  #redact(text: string): string {
    const { key } = this.#options;
    return key ? text.replaceAll(key, '…') : text;
  }
  /** The error itself, or its redacted message when it quotes the key. */
  #hidden(error: unknown): unknown {
    const said = `${(error as Error)?.stack}`;
    const shown = this.#redact(said);
    return said === shown ? error : new Error(shown);
  }
}
