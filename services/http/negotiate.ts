/** Whether a reader takes what an address makes (RFC 9110, 12.5.1). */
import { ProblemError } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import type { Operation } from './operation.js';

export function mediaTypesOf(operation: Operation): readonly string[] {
  const made = Object.entries(operation.replies).filter(([status]) => Number(status) < 300)
    .flatMap(([, reply]) => (reply.mediaType !== undefined ? [reply.mediaType] : reply.schema !== undefined ? ['application/json'] : []));
  return [...new Set(made)];
}

/** Quality with which `accept` takes a media type; the most specific range decides. */
function quality(accept: string, type: string): number {
  let best = -1;
  let q = 0;
  for (const part of accept.split(',')) {
    const [range = '', ...parameters] = part.split(';').map((p) => p.trim().toLowerCase());
    const specific = range === type ? 2 : range === `${type.split('/')[0]}/*` ? 1 : range === '*/*' ? 0 : -1;
    if (specific < 0 || specific <= best) continue;
    best = specific;
    const given = parameters.find((p) => p.startsWith('q='));
    q = given === undefined ? 1 : Number(given.slice(2)) || 0;
  }
  return q;
}

/** Throws when none of `made` is taken. */
export function requireAcceptable(accept: string, made: readonly string[]): void {
  if (made.length === 0 || accept.trim() === '' || made.some((type) => quality(accept, type) > 0)) return;
  throw new ProblemError('not-acceptable', undefined, { issues: [{ parameter: 'Accept', code: 'not-acceptable', detail: 'None of the media types named is made here.', received: shown(accept), expected: made.join(', ') }] });
}
