/**
 * Which part is which. A whorl, bobbin or flyer keeps its id through every revision of its wheel: while it bears its name,
 * while it is renamed but otherwise as it was, and when it is put back after it was taken off. Pure.
 */
import type { Wheel } from './profile.js';

export const partKinds = ['whorl', 'bobbin', 'flyer'] as const;
export type PartKind = (typeof partKinds)[number];
/** `at` is its place in the profile, as a JSON pointer; absent while it is not there. */
export interface Part { readonly id: string; readonly kind: PartKind; readonly name: string; readonly flyer?: string; readonly at?: string }

/** Parts that are not there any more, remembered at most. */
const mostAbsent = 200;

interface There { readonly kind: PartKind; readonly name: string; readonly flyer?: string; readonly at: string; readonly named: boolean; readonly rest: string }

function partsIn(profile: Wheel): There[] {
  const lists = [['whorl', 'whorls', profile.whorls], ['bobbin', 'bobbins', profile.bobbins], ['flyer', 'flyers', profile.flyers]] as const;
  return lists.flatMap(([kind, key, list]) => (list ?? []).map((part, i): There => {
    const { name, ...rest } = part;
    const flyer = 'flyer' in part ? part.flyer : undefined;
    return { kind, name: name ?? `${kind} ${i + 1}`, ...(flyer === undefined ? {} : { flyer }), at: `/${key}/${i}`, named: name !== undefined, rest: JSON.stringify(rest) };
  }));
}

/** The parts of `profile`. `before` are those of the revision that it replaces, whose profile was `was`. */
export function partsOf(profile: Wheel, before: readonly Part[] = [], was: Wheel = {}): Part[] {
  const old = new Map(partsIn(was).map((part) => [part.at, part]));
  const free = new Map(before.map((part) => [part.id, part]));
  const found = new Map<There, string>();
  const there = partsIn(profile);
  const match = (same: (now: There, part: Part, then: There | undefined) => boolean): void => {
    for (const now of there) {
      if (found.has(now)) continue;
      for (const part of free.values()) {
        if (part.kind !== now.kind || !same(now, part, part.at === undefined ? undefined : old.get(part.at))) continue;
        found.set(now, part.id);
        free.delete(part.id);
        break;
      }
    }
  };
  // The surest sign first. A part without a name goes by its place, and so by what it is before that.
  match((now, part) => now.named && part.name === now.name && part.flyer === now.flyer);
  match((now, part, then) => then !== undefined && then.rest === now.rest && part.at === now.at);
  match((now, _part, then) => then !== undefined && then.rest === now.rest);
  match((now, part) => now.named && part.name === now.name);
  match((now, part, then) => !now.named && then !== undefined && !then.named && part.at === now.at);

  const ids = new Map([...found].map(([now, id]) => [id, now]));
  const rows = before.map((part): Part => {
    const now = ids.get(part.id);
    if (now !== undefined) return row(part.id, now);
    const { at: _, ...absent } = part;
    return absent;
  });
  let last = Math.max(0, ...before.map((part) => Number(part.id.slice('part-'.length))));
  for (const now of there) if (!found.has(now)) rows.push(row(`part-${++last}`, now));
  return remembered(rows);
}

/** The parts of a revision that is restored: as they were then; what came later is not there now, and keeps its id. */
export function partsRestored(then: readonly Part[], now: readonly Part[]): Part[] {
  const known = new Set(then.map((part) => part.id));
  return remembered([...then, ...now.filter((part) => !known.has(part.id)).map(({ at: _, ...absent }): Part => absent)]);
}

const row = (id: string, { kind, name, flyer, at }: There): Part => ({ id, kind, name, ...(flyer === undefined ? {} : { flyer }), at });

function remembered(rows: readonly Part[]): Part[] {
  let tooMany = rows.filter((part) => part.at === undefined).length - mostAbsent;
  return rows.filter((part) => part.at !== undefined || tooMany-- <= 0);
}
