/** Cursors of a list: opaque, and signed, so that one made by hand is told from ours. */
import { createHmac, timingSafeEqual } from 'node:crypto';
import { ProblemError } from '../foundation/problems.js';

const sign = (key: string, text: string): Buffer => createHmac('sha256', key).update(text).digest().subarray(0, 12);

/** `list` names the list and who reads it: a cursor of one does not open another. */
export function makeCursor(key: string, list: string, last: string): string {
  return Buffer.concat([sign(key, `${list}\n${last}`), Buffer.from(last)]).toString('base64url');
}

export function readCursor(key: string, list: string, cursor: string): string {
  const bytes = Buffer.from(cursor, 'base64url');
  const last = bytes.subarray(12).toString();
  const expected = sign(key, `${list}\n${last}`);
  if (bytes.length <= 12 || bytes.toString('base64url') !== cursor || !timingSafeEqual(bytes.subarray(0, 12), expected)) {
    throw new ProblemError('invalid-cursor', undefined, { issues: [{ parameter: 'after', code: 'invalid-cursor', detail: 'This cursor is not one of this list.', expected: 'the next of the page before' }] });
  }
  return last;
}
