/** Wheels of the library by a search, and cards by their ids, for questions that name them. */
import type { FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import { effective } from '../wheels/rules.js';
import type { Library, WheelPage } from '../wheels/store.js';
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

/** Wheels that are looked through at most, page by page. */
const mostRead = 5000;
/** Every public wheel, or every wheel of the guild, that is like that. */
export async function searchIn(library: Library, wanted: WheelSearch, most: number, guild?: string): Promise<ListedWheel[]> {
  const found: ListedWheel[] = [];
  const wantedName = wanted.name?.trim().toLowerCase();
  let [after, seen]: [string | undefined, number] = [undefined, 0];
  do {
    const page: WheelPage = await library.wheels({ limit: 100, ...(after === undefined ? {} : { after }), ...(guild === undefined ? {} : { guild }) });
    for (const wheel of page.items) {
      const profile = effective(wheel);
      if ((guild !== undefined && wheel.guild !== guild) || (wantedName !== undefined && !(profile.name ?? '').toLowerCase().includes(wantedName))) continue;
      if ((wanted.style !== undefined && profile.style !== wanted.style) || (wanted.drive !== undefined && !(profile.modes ?? []).some((m) => m.drive === wanted.drive))) continue;
      found.push({ id: wheel.id, profile });
    }
    seen += page.items.length;
    after = page.next;
    if (found.length > most || (after !== undefined && seen >= mostRead)) {
      throw problemOf([{ pointer: '/library', code: 'too-many', detail: `The library has more wheels like that than the ${most} that one question takes.`, received: `more than ${Math.min(found.length, most)} wheels`, expected: 'a narrower search: by drive, style, or part of the name' }]);
    }
  } while (after !== undefined);
  return found;
}
