/** Where arguments stand that do not go into the query. Each operation names only what it needs, so that a page carries no more. */
import type { Place } from './options.js';

/** `{name}` of the path. */
export const inPath: Place = (path, left) =>
  path.replace(/\{(\w+)\}/g, (_, name: string) => {
    const value = String(left[name] ?? '');
    delete left[name];
    if (/^\.{0,2}$/.test(value)) throw new TypeError(`“${name}” is empty, or cannot stand in an address.`);
    return encodeURIComponent(value);
  });

/** The revision that is to be changed. */
export const ifMatch: Place = (path, left, headers) => {
  if (left['ifMatch'] !== undefined) headers['if-match'] = String(left['ifMatch']);
  delete left['ifMatch'];
  return path;
};

/** A name for this one call, the same over all its tries, so that the service does the thing once. The caller's own name goes before. */
export const keyed: Place = (path, _left, headers) => {
  const name = crypto.getRandomValues(new Uint32Array(4));
  headers['idempotency-key'] = Array.from(name, (part) => part.toString(36)).join('-');
  return path;
};

export const both = (...places: readonly Place[]): Place => (path, left, headers) => places.reduce((at, place) => place(at, left, headers), path);
