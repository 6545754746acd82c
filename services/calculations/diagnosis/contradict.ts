/** Finds what does not go together in what was said. */
import type { Drive } from '../../wheels/words.js';
import type { Cause, QuantityId, Seen } from './cause.js';
import type { Found, Ranked } from './formula.js';
import { signOf, type SignId } from '../../reference/signs.js';

export const kinds = ['between-signs', 'sign-and-wheel', 'sign-and-test'] as const;
export interface Contradiction { kind: (typeof kinds)[number]; says: string; look: string }
export type Signs = readonly SignId[];
export interface Contradictions {
  /** Signs that seldom go with such signs, and what to look at. */
  readonly pairs: readonly (readonly [Signs, Signs, string])[];
  /** Signs that no wheel of such a drive can show. */
  readonly ofDrives: readonly (readonly [readonly Drive[], Signs, string])[];
  /** Signs, a number, and where it stands although the signs say otherwise. */
  readonly besideNumbers: readonly (readonly [Signs, QuantityId, Found, Contradiction['kind'], string, string])[];
}

export function contradictionsOf(seen: ReadonlyMap<Seen, number>, numbers: ReadonlyMap<QuantityId, Found>, drive: Drive | undefined, ranked: readonly Ranked<Cause>[], { pairs, ofDrives, besideNumbers }: Contradictions): Contradiction[] {
  const list: Contradiction[] = [];
  const has = (of: Signs): SignId | undefined => of.find((s) => seen.has(s));
  const quoted = (s: SignId): string => `“${signOf(s).says}”`;
  for (const [one, other, look] of pairs) {
    const [a, b] = [has(one), has(other)];
    if (a !== undefined && b !== undefined) list.push({ kind: 'between-signs', says: `${quoted(a)} and ${quoted(b)} seldom go together.`, look });
  }
  for (const [drives, signs, says] of ofDrives) {
    if (drive === undefined || !drives.includes(drive)) continue;
    for (const s of signs) if (seen.has(s)) list.push({ kind: 'sign-and-wheel', says: `${quoted(s)} ${says}.`, look: 'Is the drive named rightly, and the band laid as for that drive?' });
  }
  for (const [signs, of, found, kind, says, look] of besideNumbers) if (has(signs) !== undefined && numbers.get(of) === found) list.push({ kind, says, look });
  // Signs that no one cause explains.
  const told = [...seen.keys()].filter((s) => !s.includes('/'));
  const best = ranked[0];
  if (list.length === 0 && best !== undefined && told.length >= 4 && told.filter((s) => best.cause.seen.has(s)).length < told.length / 2) {
    list.push({ kind: 'between-signs', says: 'No one cause explains even half of these signs.', look: 'Two things may be wrong at once. Mend the one that is surest, and look again.' });
  }
  return list;
}
