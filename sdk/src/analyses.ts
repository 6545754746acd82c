/** What a whole table needs beside the generated operations: a file that tells how far it is, and waiting until it is done. */
import { Aborted, WheelgristError } from './errors.js';
import type { Call, CallOptions } from './options.js';
import type { Analysis } from './types.gen.js';

/** The pieces of a file as they are; `told` hears how many bytes have gone out. For Node, where a stream may be sent. */
export async function* withProgress(pieces: AsyncIterable<Uint8Array>, told: (bytes: number) => void): AsyncGenerator<Uint8Array, void, undefined> {
  let bytes = 0;
  for await (const piece of pieces) {
    yield piece;
    told((bytes += piece.length));
  }
}

export interface WaitOptions extends CallOptions {
  /** Milliseconds between two looks, 1000 when left out. */
  readonly every?: number;
  readonly onProgress?: (analysis: Analysis) => void;
}
/** Waits until the analysis is done. Throws where it was cancelled, or where `signal` ends the wait; a service that is away for a while is asked again. */
export async function analysisDone(client: { readAnalysis(args: { readonly id: string }, options?: CallOptions): Call<Analysis> }, id: string, { every = 1000, onProgress, ...options }: WaitOptions = {}): Promise<Analysis> {
  for (;;) {
    const analysis = await client.readAnalysis({ id }, options);
    onProgress?.(analysis);
    if (analysis.state === 'done') return analysis;
    if (analysis.state === 'cancelled') throw new WheelgristError('The analysis was cancelled.');
    await new Promise<void>((go, stop) => {
      const timer = setTimeout(go, every);
      options.signal?.addEventListener('abort', () => { clearTimeout(timer); stop(new Aborted('Ended by its caller.', { cause: options.signal?.reason })); }, { once: true });
    });
  }
}
