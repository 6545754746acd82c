/**
 * Strict JSON (RFC 8259): a name stands once in its object, every number can be held, nesting is limited.
 * The engine's own parser makes the values (an own `__proto__` stays plain data there). What it lets through is caught by
 * two cheap observations: a walk over the values sees overflow and depth, and counts names; every name has a colon, so
 * when the text holds no more colons than the values hold names, no name was lost to a duplicate. Anything else goes to
 * the careful reader in json-places.ts, which finds the place.
 */
import { isUtf8 } from 'node:buffer';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { inspect } from './json-places.js';

export const deepest = 32;

/** Names in the value, or -1 when a number overflowed or the nesting is too deep. */
function names(value: unknown, depth: number): number {
  if (typeof value !== 'object' || value === null) return typeof value === 'number' && !Number.isFinite(value) ? -1 : 0;
  if (depth === deepest) return -1;
  let count = 0;
  if (Array.isArray(value)) {
    for (let i = 0; i < value.length; i++) {
      const element: unknown = value[i];
      if (typeof element === 'string') continue;
      const n = names(element, depth + 1);
      if (n < 0) return -1;
      count += n;
    }
    return count;
  }
  for (const key in value) {
    count++;
    const member = (value as Record<string, unknown>)[key];
    if (typeof member === 'string') continue;
    const n = names(member, depth + 1);
    if (n < 0) return -1;
    count += n;
  }
  return count;
}

function colons(text: string): number {
  let count = 0;
  for (let i = text.indexOf(':'); i >= 0; i = text.indexOf(':', i + 1)) count++;
  return count;
}

/** The value of a JSON text. Throws a ProblemError that names the place of what is wrong. */
export function parseJson(text: string): unknown {
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    inspect(text, deepest);
    throw new ProblemError('invalid-json');
  }
  const n = names(value, 0);
  if (n < 0 || n !== colons(text)) inspect(text, deepest);
  return value;
}

const refuse = (detail: string, received: string, expected: string): ProblemError =>
  new ProblemError('invalid-json', detail, { issues: [{ pointer: '', code: 'invalid-json', detail, received, expected }] });

export function parseJsonBody(body: Buffer): unknown {
  if (body.length === 0) throw refuse('The body is empty.', 'nothing', 'a JSON object');
  if (!isUtf8(body)) throw refuse('The body is not UTF-8.', 'bytes that are not UTF-8', 'JSON in UTF-8');
  return parseJson(body.toString('utf8'));
}

/** Reads JSON bodies with this parser, and no other kind. */
export function jsonBodies(app: FastifyInstance): void {
  app.removeAllContentTypeParsers();
  app.addContentTypeParser(['application/json', 'application/merge-patch+json'], { parseAs: 'buffer' }, (_request: FastifyRequest, body: Buffer, done) => {
    try {
      done(null, parseJsonBody(body));
    } catch (error) {
      done(error as Error, undefined);
    }
  });
}
