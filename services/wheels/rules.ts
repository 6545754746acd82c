/** What may be done with a wheel of the library, and how it is shown. Pure. */
import { isDeepStrictEqual } from 'node:util';
import { problemOf, type Issue } from '../foundation/problems.js';
import { isObject, shown } from '../foundation/read.js';
import { effectiveProfile, unmeasured, type Effective } from '../measurements/effective.js';
import type { StoredMeasurement } from '../measurements/measurement.js';
import { partsOf, type Part } from './parts.js';
import { checkWheel, type Wheel } from './profile.js';

export const visibilities = ['public', 'guild'] as const;
export type Visibility = (typeof visibilities)[number];

/** A wheel as the library keeps it. */
export interface StoredWheel {
  readonly id: string;
  readonly revision: number;
  readonly visibility: Visibility;
  readonly guild: string;
  readonly profile: Wheel;
  /** Those that stand; absent where they were not asked for. */
  readonly measurements?: readonly StoredMeasurement[];
  readonly parts: readonly Part[];
  /** The wheel that it was copied from, and its revision then. */
  readonly forkedFrom?: { readonly id: string; readonly revision: number };
  readonly createdAt: Date;
  readonly updatedAt: Date;
}

/** A wheel as it is listed: what the library keeps of it, and its own keys beside. */
export const listed = (wheel: StoredWheel) => ({
  id: wheel.id, revision: wheel.revision, visibility: wheel.visibility, guild: wheel.guild,
  createdAt: wheel.createdAt.toISOString(), updatedAt: wheel.updatedAt.toISOString(),
  ...(wheel.forkedFrom === undefined ? {} : { forkedFrom: wheel.forkedFrom }), ...wheel.profile,
});
/** A wheel as it is read. `parts` are those that it has now; `effective` is the profile that calculations by its id use. */
export const read = (wheel: StoredWheel) => ({ ...listed(wheel), parts: wheel.parts.filter((part) => part.at !== undefined), effective: effective(wheel) });
export const effective = (wheel: StoredWheel): Wheel => effectiveOf(wheel).profile;
/** Put together once for each time that a wheel is read. */
const known = new WeakMap<StoredWheel, Effective>();
export function effectiveOf(wheel: StoredWheel): Effective {
  const { measurements = [], profile } = wheel;
  if (measurements.length === 0) return unmeasured(profile);
  let found = known.get(wheel);
  if (found === undefined) known.set(wheel, (found = effectiveProfile(profile, measurements)));
  return found;
}

/** Names that the library gives and nobody sets. */
export const given = ['id', 'revision', 'guild', 'createdAt', 'updatedAt', 'forkedFrom', 'parts', 'effective'] as const;

/** What is to be kept of a body. `now` is the wheel that it replaces. Throws a problem that names every place. */
export function readWheelBody(body: unknown, now?: StoredWheel): { profile: Wheel; visibility: Visibility; parts: Part[] } {
  if (!isObject(body)) throw problemOf([{ pointer: '', code: 'wrong-type', detail: 'The body should be a wheel.', received: shown(body), expected: 'a JSON object' }]);
  const issues: Issue[] = [];
  const { visibility = now?.visibility ?? 'guild', ...profile } = body;
  if (!(visibilities as readonly unknown[]).includes(visibility)) {
    issues.push({ pointer: '/visibility', code: typeof visibility === 'string' ? 'unknown-choice' : 'wrong-type', detail: 'A wheel is for everybody, or for its guild.', received: shown(visibility), expected: visibilities.join(' or ') });
  }
  const asRead: Record<string, unknown> = now === undefined ? {} : read(now);
  for (const name of given) {
    if (!Object.hasOwn(profile, name)) continue;
    // A whole wheel may be read, changed and sent back: what the library gave it is taken when it is as it was.
    if (!isDeepStrictEqual(profile[name], asRead[name])) {
      issues.push({ pointer: `/${name}`, code: 'unknown-field', detail: `“${name}” is given by the library and cannot be set.`, received: shown(profile[name]), expected: now === undefined ? `no ${name}` : `${name} as it was read, or none` });
    }
    delete profile[name];
  }
  issues.push(...checkWheel(profile), ...unkeepable(profile, ''));
  if (issues.length > 0) throw problemOf(issues);
  return { profile: profile as Wheel, visibility: visibility as Visibility, parts: partsOf(profile as Wheel, now?.parts, now?.profile) };
}

/** Control signs in any text: no name has them, and a database does not take all of them. */
function unkeepable(value: unknown, at: string): Issue[] {
  if (typeof value === 'string') {
    // oxlint-disable-next-line no-control-regex
    return /[\u0000-\u001f\u007f]|\p{Surrogate}/u.test(value) ? [{ pointer: at, code: 'out-of-range', detail: 'This text holds a control sign or half a sign.', received: shown(JSON.stringify(value)), expected: 'text on one line' }] : [];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, member]) => unkeepable(member, `${at}/${key}`));
}

/** RFC 7396: what the patch names is replaced, null takes away, objects are gone into. */
export function mergePatch(target: unknown, patch: unknown): unknown {
  if (!isObject(patch)) return patch;
  const out = new Map(isObject(target) ? Object.entries(target) : []);
  for (const [key, value] of Object.entries(patch)) {
    if (value === null) out.delete(key);
    else out.set(key, mergePatch(out.get(key), value));
  }
  return Object.fromEntries(out);
}
