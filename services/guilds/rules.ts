/** What a guild and a key may be, and how they are shown. Pure. */
import { Reader } from '../foundation/read.js';
import { isPoint } from '../foundation/reading.js';

export const scopes = ['read', 'write', 'admin'] as const;
export type Scope = (typeof scopes)[number];

export interface Guild { readonly id: string; readonly name: string; readonly createdAt: Date }
/** A key, by what a person knows it again; the key itself is told once, when it is made. */
export interface KeptKey {
  readonly id: string;
  readonly guild: string;
  readonly label: string;
  readonly prefix: string;
  readonly scopes: readonly Scope[];
  readonly createdAt: Date;
  readonly expiresAt?: Date;
  readonly revokedAt?: Date;
  readonly rotatedFrom?: string;
}
export interface AuditEntry { readonly id: number; readonly at: Date; readonly action: string; readonly what: string; readonly subject: string; readonly revision?: number; readonly keyId?: string; readonly requestId?: string }

export const guildRead = ({ id, name, createdAt }: Guild) => ({ id, name, createdAt: createdAt.toISOString() });
export const keyRead = ({ createdAt, expiresAt, revokedAt, rotatedFrom, ...key }: KeptKey) => ({
  id: key.id, guild: key.guild, label: key.label, prefix: key.prefix, scopes: key.scopes, createdAt: createdAt.toISOString(),
  ...(expiresAt === undefined ? {} : { expiresAt: expiresAt.toISOString() }), ...(revokedAt === undefined ? {} : { revokedAt: revokedAt.toISOString() }), ...(rotatedFrom === undefined ? {} : { rotatedFrom }),
});
export const auditRead = ({ id, at, action, what, subject, revision, keyId, requestId }: AuditEntry) => ({
  id: String(id), at: at.toISOString(), action, what, subject,
  ...(revision === undefined ? {} : { revision }), ...(keyId === undefined ? {} : { keyId }), ...(requestId === undefined ? {} : { requestId }),
});

/** Text that a person reads on one line: no database takes every control sign. */
function line(r: Reader, value: unknown, at: string, most: number): string | undefined {
  const text = r.text(value, at, most);
  // oxlint-disable-next-line no-control-regex
  if (text !== undefined && /[\u0000-\u001f\u007f]|\p{Surrogate}/u.test(text)) return r.fail(at, { code: 'out-of-range', detail: 'This text holds a control sign or half a sign.', received: JSON.stringify(text).slice(0, 80), expected: 'text on one line' });
  return text;
}

/** Throws a problem that names every place, as do the next two. */
export function readGuildBody(body: unknown): { name: string } {
  const r = new Reader();
  const o = r.object(body, '', ['name']) ?? {};
  const name = o['name'] === undefined ? r.missing('/name', 'The name of the guild', 'a name such as Thornmere Guild') : line(r, o['name'], '/name', 120);
  r.done();
  return { name: name! };
}

export interface KeyWanted { readonly label: string; readonly scopes: readonly Scope[]; readonly expiresAt?: number }
/** `now`: milliseconds of the epoch. */
export function readKeyBody(body: unknown, now: number): KeyWanted {
  const r = new Reader();
  const o = r.object(body, '', ['label', 'scopes', 'expiresAt']) ?? {};
  const label = o['label'] === undefined ? r.missing('/label', 'What the key is for', 'a label such as spinning room') : line(r, o['label'], '/label', 120);
  const list = o['scopes'] === undefined ? r.missing('/scopes', 'What the key may do', `a list of ${scopes.join(', ')}`) : r.list(o['scopes'], '/scopes', scopes.length, 'scopes');
  if (list?.length === 0) r.missing('/scopes', 'At least one scope', `one of ${scopes.join(', ')}`);
  const wanted = (list ?? []).map((one, i) => r.choice(one, `/scopes/${i}`, scopes));
  const expiresAt = o['expiresAt'] === undefined ? undefined : moment(r, o['expiresAt'], '/expiresAt', now);
  r.done();
  return { label: label!, scopes: scopes.filter((scope) => wanted.includes(scope)), ...(expiresAt === undefined ? {} : { expiresAt }) };
}

function moment(r: Reader, value: unknown, at: string, now: number): number | undefined {
  if (typeof value !== 'string') return r.wrongType(at, value, 'a date and time');
  const time = /^\d{4}-\d\d-\d\dT\d\d:\d\d(?::\d\d(?:\.\d{1,6})?)?(?:Z|[+-]\d\d:\d\d)$/.test(value) ? Date.parse(value) : Number.NaN;
  if (Number.isNaN(time)) return r.fail(at, { code: 'out-of-range', detail: 'This is not a date and time with its zone (RFC 3339).', received: value.slice(0, 80), expected: 'such as 2031-05-01T12:00:00Z' });
  if (time <= now) return r.fail(at, { code: 'out-of-range', detail: 'A key cannot expire before it is made.', received: value, expected: 'a time that is still to come' });
  return time;
}

/** Longest time that an old key and the new one both work, in seconds: 30 days. */
const longestOverlap = 30 * 24 * 3600;
/** Seconds that the old key goes on working. */
export function readRotation(body: unknown): { overlap: number } {
  const r = new Reader();
  const o = body === undefined ? {} : (r.object(body, '', ['overlap']) ?? {});
  const overlap = o['overlap'] === undefined ? { value: 24 * 3600 } : r.quantity(o['overlap'], '/overlap', 'hours', { atLeast: 0, atMost: longestOverlap, says: 'from 0 to 720 h' });
  if (overlap !== undefined && !isPoint(overlap)) r.fail('/overlap', { code: 'out-of-range', detail: 'The overlap is one time, not a range.', received: 'a range', expected: 'such as 24 h' });
  r.done();
  return { overlap: (overlap as { value: number }).value };
}
