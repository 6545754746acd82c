/** What the run time is given, and what it tells: no code here. */
import type { ReplyFacts, WheelgristError } from './errors.js';

/** What the generated table says of an operation. */
export interface Operation {
  readonly id: string;
  readonly method: string;
  /** With `{name}` where an argument goes. */
  readonly path: string;
  /** Media type of its answer, application/json when left out. */
  readonly accept?: string;
  /** Media type of its body, where that is not application/json. */
  readonly sends?: string;
  /** It only asks, so that it may be tried again. */
  readonly again?: true;
  /** Puts the arguments that stand elsewhere than in the query into their places. */
  readonly place?: Place;
}

/** Takes arguments out of `left`, and sets headers of the call. Gives the path with its arguments in it. */
export type Place = (path: string, left: Record<string, unknown>, headers: Record<string, string>) => string;

/** A file as it is sent: text, bytes, a Blob or File, or bytes piece by piece. A page sends a File: a stream does not go out over HTTP/1.1. */
export type Upload = string | Uint8Array | { stream(): unknown; readonly size: number } | AsyncIterable<Uint8Array>;

export interface FetchInit {
  method: string;
  headers: Record<string, string>;
  /** An Upload or null; each platform's own fetch names it in types of its own. */
  // oxlint-disable-next-line typescript/no-explicit-any
  body: any;
  /** Set where the body is a stream. */
  duplex?: 'half';
  signal: AbortSignal;
}
export interface FetchedBody {
  getReader(): { read(): Promise<{ done: boolean; value?: Uint8Array | undefined }>; cancel(reason?: unknown): Promise<unknown> };
}
export interface Fetched {
  readonly status: number;
  readonly headers: { get(name: string): string | null; forEach(each: (value: string, name: string) => void): void };
  readonly body: FetchedBody | null;
  text(): Promise<string>;
}
export type Fetch = (url: string, init: FetchInit) => Promise<Fetched>;
export interface Clock {
  /** Milliseconds since 1970. */
  now(): number;
  setTimeout(run: () => void, milliseconds: number): unknown;
  clearTimeout(timer: unknown): void;
}

export interface AttemptInfo { readonly operation: Operation; readonly url: string; /** 1 for the first try. */ readonly attempt: number }
export interface RequestInfo extends AttemptInfo { /** May be added to. The key is not among them. */ readonly headers: Record<string, string> }
export interface ResponseInfo extends AttemptInfo, ReplyFacts { readonly milliseconds: number }
export interface RetryInfo extends AttemptInfo { /** Milliseconds until the next try. */ readonly wait: number; /** What the try met. */ readonly error: WheelgristError }

export interface TransportOptions {
  /** Where the service stands, such as `https://wheels.example`. */
  readonly baseUrl: string;
  /** A guild's key. Public wheels and calculations need none. */
  readonly key?: string;
  /** A key in a page can be read by everyone who opens the page, so it is refused there unless this says otherwise. */
  readonly allowKeyInBrowser?: boolean;
  /** The global fetch when left out. */
  readonly fetch?: Fetch;
  /** Milliseconds for all tries of a call together, 30 000 when left out; 0: no deadline. */
  readonly deadline?: number;
  /** Further tries of a call that may be tried again, 2 when left out. */
  readonly retries?: number;
  /** Sent with every call. Names in lower case. */
  readonly headers?: ExtraHeaders;
  readonly onRequest?: (info: RequestInfo) => void;
  readonly onResponse?: (info: ResponseInfo) => void;
  readonly onRetry?: (info: RetryInfo) => void;
  /** For tests: time, and chance from 0 to 1. */
  readonly clock?: Clock;
  readonly random?: () => number;
}

export type ExtraHeaders = Readonly<Record<Lowercase<string>, string>>;

export interface CallOptions {
  readonly signal?: AbortSignal;
  /** In place of those of the client. */
  readonly deadline?: number;
  readonly retries?: number;
  /**
   * Names in lower case. An `idempotency-key` names a call that creates something: one is made for each such call when left
   * out; give your own to go on after a restart.
   */
  readonly headers?: ExtraHeaders;
}

/** How an answer is wanted that is computed here. */
export interface OfflineArgs {
  /** `metric`, `imperial`, or by kind: `metric,twist:turns/in`. */
  readonly units?: string;
  /** Be refused rather than warned. */
  readonly strict?: boolean;
}

/** An answer on its way. Await it for the data, or `withResponse()` for the whole reply. */
export interface Call<T> extends Promise<T> {
  withResponse(): Promise<Whole<T>>;
}

/** The whole of a reply: `data` as read, and what came with it. */
export interface Whole<T> extends ReplyFacts {
  readonly data: T;
  /** How many tries it took. */
  readonly attempts: number;
  /** The reply as fetched; its body has been read. */
  readonly response: Fetched;
}
