/** What people note beside a measure: plain text, a day, a reference. */
import { shown, type Reader } from './read.js';

/** Lines of a note: as many as go on the sheet with all else. */
const mostLines = 40;
/** Control signs in any text: no database takes all of them. A note may have lines. */
export function plainText(r: Reader, text: string, at: string, lines = false): void {
  // oxlint-disable-next-line no-control-regex
  if ((lines ? /[\u0000-\u0009\u000b-\u001f\u007f]|\p{Surrogate}/u : /[\u0000-\u001f\u007f]|\p{Surrogate}/u).test(text)) r.fail(at, { code: 'out-of-range', detail: 'This text holds a control sign or half a sign.', received: shown(JSON.stringify(text)), expected: lines ? 'plain text' : 'text on one line' });
  if (text.split('\n').length > mostLines) r.fail(at, { code: 'out-of-range', detail: `A note has at most ${mostLines} lines: it is to go on one sheet with the rest.`, received: `${text.split('\n').length} lines`, expected: `at most ${mostLines} lines` });
}

const daysOf = (year: number): readonly number[] => [31, (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0 ? 29 : 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
/** A day of the calendar (ISO 8601, RFC 3339 full-date). */
export function readDate(r: Reader, value: unknown, at: string): string | undefined {
  const text = r.text(value, at, 40);
  if (text === undefined) return undefined;
  const [year, month, day] = (/^(\d{4})-(\d{2})-(\d{2})$/.exec(text) ?? []).slice(1).map(Number);
  if (year !== undefined && year >= 1700 && year <= 2200 && day! >= 1 && day! <= (daysOf(year)[month! - 1] ?? 0)) return text;
  return r.fail(at, { code: 'out-of-range', detail: 'A day is written as year, month, day.', received: shown(value), expected: 'such as 2026-03-14' });
}

/** A reference of one's own, which tells nothing by itself: no name and no address. */
export function readReference(r: Reader, value: unknown, at: string): string | undefined {
  const text = r.text(value, at, 80);
  if (text === undefined || /^[\w.-]{1,80}$/.test(text)) return text;
  return r.fail(at, { code: 'out-of-range', detail: `“${at.slice(at.lastIndexOf('/') + 1)}” is a reference: letters, digits, - _ and . alone.`, received: shown(value), expected: 'such as m-017' });
}
