/**
 * POSTs that create, at most once for each Idempotency-Key. What is made and its reply are one transaction: whatever breaks
 * off in between, the same request sent again gets the same reply, and nothing is made twice.
 */
import { createHash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { problemOf } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import { keyOf } from '../guilds/caller.js';
import { hoursKept, type Asked, type Made, type ReplyStore, type Within } from './store.js';

export type { Made, Within } from './store.js';

/** The header, for an operation's `headers`; extend it where there are others. */
export const idempotencyKey = z.strictObject({
  'Idempotency-Key': z.string().min(1).max(200).exactOptional().describe(`Any text of your own, new for each thing to be made. Sent again with the same body within ${hoursKept} hours, it gets the same reply, and nothing is made twice.`),
});
/** What an operation that takes it may be refused with because of it. */
export const idempotencyProblems = ['idempotency-key-reused', 'request-in-flight', 'invalid-request'] as const;

function nameOf(request: FastifyRequest): string | undefined {
  const name = request.headers['idempotency-key'];
  if (name === undefined) return undefined;
  if (typeof name === 'string' && /^[\x20-\x7e]{1,200}$/.test(name)) return name;
  throw problemOf([{ parameter: 'Idempotency-Key', code: 'invalid-request', detail: 'An Idempotency-Key is 1 to 200 signs of ASCII.', received: shown(String(name)), expected: 'such as 3f1c9d52-loft-wheel' }]);
}

/**
 * Sends what `make` makes, or what it made when it was asked before. `who` is the caller (without a guild: the house).
 * `make` gets the transaction, hands it to every store that it calls, and awaits nothing but those; a refusal that it
 * throws undoes all, and is not remembered. `body` in place of the JSON body where that is not what tells two requests apart.
 */
export async function sendOnce(store: ReplyStore, request: FastifyRequest, reply: FastifyReply, who: { readonly guild?: string; readonly keyId: string; readonly request?: string }, make: (within: Within) => Promise<Made>, body?: string): Promise<FastifyReply> {
  const made = await store.once(askedBy(request, who, body ?? request.body ?? null), make);
  return reply.code(made.status).headers(made.headers).send(made.body);
}
function askedBy(request: FastifyRequest, { guild, keyId }: { readonly guild?: string; readonly keyId: string }, what: unknown, part = ''): Asked {
  const name = nameOf(request);
  const fingerprint = createHash('sha256').update(JSON.stringify([request.method, request.url, what])).digest('base64url');
  return { ...(guild === undefined ? {} : { guild }), keyId, request: request.id, ...(name === undefined ? {} : { name: `${name}${part}` }), secret: keyOf(request) ?? '', fingerprint };
}

/**
 * As `sendOnce`, for what is too much for one transaction: each part is made in one of its own, and its outcome kept there.
 * Sent again after it broke off, what was made is told, and the rest is made. `body` tells two requests apart.
 */
export async function onceInParts<Part, Outcome>(store: ReplyStore, request: FastifyRequest, who: { readonly guild?: string; readonly keyId: string }, body: string, parts: readonly Part[], make: (part: Part, within: Within) => Promise<Outcome>): Promise<Outcome[]> {
  const outcomes: Outcome[] = [];
  for (const [i, part] of parts.entries()) {
    const { body: outcome } = await store.once(askedBy(request, who, body, `\n${i}`), async (within) => ({ status: 200, headers: {}, body: JSON.stringify(await make(part, within)) }));
    outcomes.push(JSON.parse(outcome) as Outcome);
  }
  return outcomes;
}
