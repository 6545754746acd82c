/** A reply as bytes, with the promise that every number in it is finite. */

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
