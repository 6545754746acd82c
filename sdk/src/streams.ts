/** Answers that come piece by piece: pages of a list, and rows of a stream. */
import type { Transport } from './client.js';
import { Aborted, NetworkFailure, UnreadableReply } from './errors.js';
import type { Call, CallOptions, Operation } from './options.js';

/** Every item of a list, page after page. */
export async function* items<Item>(page: (cursor: string | undefined) => Call<{ readonly items: readonly Item[]; readonly next?: string }>, cursor?: string): AsyncGenerator<Item, void, undefined> {
  for (;;) {
    const { data, ...facts } = await page(cursor).withResponse();
    yield* data.items;
    if (data.next === undefined) return;
    if (data.next === cursor) throw new UnreadableReply('The list names the same page as its next.', facts);
    cursor = data.next;
  }
}

/**
 * Every row of an NDJSON reply as it arrives. The deadline holds until the first byte, the signal until the last.
 * Leaving the loop early closes the stream.
 */
export async function* rows<Row>(transport: Transport, operation: Operation, args: object = {}, options: CallOptions = {}, body?: unknown): AsyncGenerator<Row, void, undefined> {
  const { data: stream, ...facts } = await transport.send(operation, args, options, body, (response) => response.body);
  const reader = stream?.getReader();
  if (reader === undefined) throw new UnreadableReply('The reply has no body.', facts);
  const { signal } = options;
  let stop = (): void => {};
  const stopped = new Promise<never>((_, reject) => { stop = () => reject(new Aborted('The stream was ended by its reader.', { cause: signal?.reason })); });
  stopped.catch(() => {});
  if (signal?.aborted) stop();
  else signal?.addEventListener('abort', stop);
  try {
    const decoder = new TextDecoder();
    let rest = '';
    for (;;) {
      const { done, value } = await Promise.race([stopped, reader.read()]).catch((cause: unknown) => {
        throw cause instanceof Aborted ? cause : new NetworkFailure('The stream broke off.', { cause });
      });
      rest += done ? decoder.decode() : decoder.decode(value, { stream: true });
      const lines = rest.split('\n');
      rest = done ? '' : lines.pop()!;
      for (const line of lines) if (line.trim() !== '') yield rowOf<Row>(line, facts);
      if (done) return;
    }
  } finally {
    signal?.removeEventListener('abort', stop);
    reader.cancel().catch(() => {});
  }
}

function rowOf<Row>(line: string, facts: ConstructorParameters<typeof UnreadableReply>[1]): Row {
  try {
    return JSON.parse(line) as Row;
  } catch (cause) {
    throw new UnreadableReply('A row of the stream is not whole JSON.', facts, { cause });
  }
}
