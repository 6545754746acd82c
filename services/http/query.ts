/** The query of an address: every value kept, in order, nothing coerced. `+` is a space, as forms send it. */
import { problemOf, type Issue } from '../foundation/problems.js';
import { nearest, shown } from '../foundation/read.js';
import type { Flat } from '../foundation/fields.js';

/** Names that could not be decoded stand under this key. */
const undecodable = Symbol('undecodable');
export type Query = Record<string, string[]> & { [undecodable]?: string[] };

const none: Query = Object.freeze(Object.create(null)) as Query;

function decoded(text: string): string | undefined {
  if (!text.includes('%') && !text.includes('+')) return text;
  try {
    return decodeURIComponent(text.replaceAll('+', ' '));
  } catch {
    return undefined;
  }
}

/** Never throws: the router calls it before any error can be answered. What cannot be decoded is refused by `readQuery`. */
export function parseQuery(text: string): Query {
  if (text === '' || text === undefined) return none;
  const query = Object.create(null) as Query;
  for (const part of text.split('&')) {
    if (part === '') continue;
    const cut = part.indexOf('=');
    const name = decoded(cut < 0 ? part : part.slice(0, cut));
    const value = decoded(cut < 0 ? '' : part.slice(cut + 1));
    if (name === undefined || value === undefined) (query[undecodable] ??= []).push(part);
    else (query[name] ??= []).push(value);
  }
  return query;
}

/** What is wrong with the names of a query: undecodable, unknown or repeated. */
export function queryIssues(query: Query, known: readonly string[], repeats: (name: string) => boolean = () => false): Issue[] {
  const issues: Issue[] = [];
  for (const part of query[undecodable] ?? []) {
    issues.push({ parameter: shown(part.split('=')[0]!), code: 'invalid-request', detail: 'A percent sign in the address is not followed by two hexadecimal digits of UTF-8.', received: shown(part), expected: 'percent-encoded UTF-8; a percent sign itself is %25' });
  }
  for (const name in query) {
    if (!known.includes(name)) {
      const near = nearest(name, known);
      issues.push({
        parameter: shown(name), code: 'unknown-field', detail: near === undefined ? `“${shown(name)}” is not known here.` : `“${shown(name)}” is not known here. Is “${near}” meant?`,
        received: shown(name), expected: near ?? (known.length === 0 ? 'no parameters' : `one of ${known.join(', ')}`), ...(near === undefined ? {} : { try: near }),
      });
    } else if (query[name]!.length > 1 && !repeats(name)) {
      issues.push({ parameter: name, code: 'repeated-field', detail: `“${name}” is taken once.`, received: shown(query[name]!.join(', ')), expected: 'one value' });
    }
  }
  return issues;
}

/** The query, each known name at most once. Throws a problem that names what is unknown or repeated. */
export function readQuery(query: unknown, known: readonly string[]): Readonly<Record<string, string | undefined>> {
  const q = query as Query;
  const issues = queryIssues(q, known);
  if (issues.length > 0) throw problemOf(issues);
  const out: Record<string, string | undefined> = {};
  for (const name of known) if (q[name] !== undefined) out[name] = q[name][0];
  return out;
}

/** How many things a page of a list is to hold: 20 when left out. */
export function readLimit(text: string | undefined, { otherwise = 20, most = 100 } = {}): number {
  if (text === undefined) return otherwise;
  const limit = /^\d{1,3}$/.test(text) ? Number(text) : 0;
  if (limit < 1 || limit > most) throw problemOf([{ parameter: 'limit', code: 'out-of-range', detail: `A page holds 1 to ${most}.`, received: shown(text), expected: `a number from 1 to ${most}` }]);
  return limit;
}

/** Query text of these values, spaces as +. */
export function queryText(flat: Flat): string {
  const parts: string[] = [];
  for (const name in flat) for (const value of flat[name]!) parts.push(`${encoded(name)}=${encoded(value)}`);
  return parts.join('&');
}
/** Percent-encoded, leaving what may stand in a query and is easier to read so. */
const encoded = (text: string): string =>
  encodeURIComponent(text.replace(/\p{Surrogate}/gu, '\ufffd')).replaceAll('%20', '+').replaceAll('%2F', '/').replaceAll('%3A', ':').replaceAll('%2C', ',');
