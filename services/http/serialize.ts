/** A reply as bytes, with the promise that every number in it is finite. */
import type { Reply } from '../calculations/calculation.js';

/** Where a value stands that JSON cannot hold, or undefined. */
export function unfit(value: unknown, at = ''): string | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? undefined : at;
  if (value === null || value === undefined) return at;
  if (typeof value !== 'object') return typeof value === 'string' || typeof value === 'boolean' ? undefined : at;
  if (Array.isArray(value)) {
    for (const [i, element] of value.entries()) {
      const found = unfit(element, `${at}/${i}`);
      if (found !== undefined) return found;
    }
    return undefined;
  }
  for (const key in value) {
    const member = (value as Record<string, unknown>)[key];
    const found = member === undefined ? undefined : unfit(member, `${at}/${key}`);
    if (found !== undefined) return found;
  }
  return undefined;
}

/**
 * JSON of a reply. JSON.stringify writes null for every number that is not finite and for a hole in a list, and no reply
 * holds null of its own: so a text without the word is fit, and one with it is looked through.
 */
export function serialize(reply: unknown): string {
  const text = JSON.stringify(reply);
  if (text.includes('null')) {
    const at = unfit(reply);
    if (at !== undefined) throw new Error(`a reply holds what JSON cannot: ${at}`);
  }
  return text;
}

/** Notes, sources and models are the same objects in most replies, and nobody changes them: their JSON is made once. */
const made = new WeakMap<object, string>();
function once(part: object): string {
  let text = made.get(part);
  if (text === undefined) made.set(part, (text = serialize(part)));
  return text;
}
function list(parts: readonly object[]): string {
  let text = '';
  for (const part of parts) text += text === '' ? once(part) : `,${once(part)}`;
  return text;
}

/** The same bytes as `serialize` gives, sooner. */
export const serializeReply = (reply: Reply<unknown>): string =>
  `{"result":${serialize(reply.result)},"assumptions":[${list(reply.assumptions)}],"warnings":[${list(reply.warnings)}],"cautions":[${list(reply.cautions)}],"sources":[${list(reply.sources)}],"model":${once(reply.model)}}`;
