/** Wheels of the library by a search, and cards by their ids, for questions that name them. */
import type { FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import { wordsOf } from '../wheels/finding.js';
import { effective } from '../wheels/rules.js';
import type { Library } from '../wheels/store.js';
import type { ListedWheel, WheelSearch } from './library-wheels.js';
import type { FindInLibrary, FindWheel } from './mount.js';

/** What finds one wheel, and beside it what finds several, and cards. */
export const findingIn = (library: Library, find: FindWheel): FindInLibrary => Object.assign((id: string, request: FastifyRequest) => find(id, request), {
  card: async (id: string, request: FastifyRequest) => {
    const found = await library.cards.card(id, (await callerOf(library, request))?.guild);
    if (found === undefined) throw new ProblemError('card-not-found');
    return found.card;
  },
  search: async (wanted: WheelSearch, most: number, request: FastifyRequest) => {
    const guild = wanted.of === 'guild' ? (await requireCaller(library, request, 'read')).guild : undefined;
    return searchIn(library, wanted, most, guild);
  },
});

/** Every public wheel, or every wheel of the guild, that is like that. */
export async function searchIn(library: Library, { name, style, drive }: WheelSearch, most: number, guild?: string): Promise<ListedWheel[]> {
  const words = name === undefined ? undefined : wordsOf(name);
  // No word of letters or numbers: no wheel has it.
  if (words?.length === 0) return [];
  const search = { ...(words === undefined ? {} : { text: words.join(' ') }), ...(style === undefined ? {} : { style }), ...(drive === undefined ? {} : { drive }) };
  const { items, next } = await library.wheels({ limit: most, of: guild === undefined ? 'public' : 'guild', ...(guild === undefined ? {} : { guild }), ...(Object.keys(search).length === 0 ? {} : { search }) });
  if (next !== undefined) throw problemOf([{ pointer: '/library', code: 'too-many', detail: `The library has more wheels like that than the ${most} that one question takes.`, received: `more than ${most} wheels`, expected: 'a narrower search: by drive, style, or words of the name' }]);
  return items.map((wheel) => ({ id: wheel.id, profile: effective(wheel) }));
}
