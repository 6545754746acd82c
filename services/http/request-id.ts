/** Names of requests: for the reply, the log and every problem. */
import { randomBytes } from 'node:crypto';
import type { FastifyReply } from 'fastify';

/** A name of this process and a count: unique, and cheap to make. */
export function requestIds(): () => string {
  const start = randomBytes(6).toString('base64url');
  let count = 0;
  return () => `${start}-${(++count).toString(36)}`;
}

const traceForm = /^00-(?!0{32})[0-9a-f]{32}-(?!0{16})[0-9a-f]{16}-[0-9a-f]{2}$/;
/** Hands a well-formed trace context back, so that whoever sent it can join its log with ours. */
export function traceOf(header: string | string[], reply: FastifyReply): void {
  if (typeof header === 'string' && traceForm.test(header)) reply.header('traceparent', header);
}
