/** The library of a running service: opened while the service answers already, and waited for by whoever needs it. */
import type { Database } from '../db/client.js';
import type { Embedded } from '../db/embedded.js';
import { openDatabase, type Place } from '../db/open.js';
import { ProblemError } from './foundation/problems.js';
import type { Caller } from './guilds/keys.js';
import { laterStore } from './later.js';
import type { Library } from './wheels/store.js';

export type { Library } from './wheels/store.js';
export interface OpenedLibrary {
  readonly library: Library;
  /** The key of the demo guild, told once: when the library was made by this start. */
  readonly firstKey?: string;
}
/**
 * Opens what `place` names, brings it up to date, and on a first embedded start puts the demo guild into it. The embedded
 * folder must be locked; `client` is that database where it was opened already. Throws a LibraryError, or `library-unavailable`.
 */
export const openLibrary = async (place: Place, client?: Promise<Embedded>): Promise<OpenedLibrary> => libraryOver(await openDatabase(place, client));

/** The library over a database that is open and up to date. What it needs is loaded late: that takes longer than a calculation. */
export async function libraryOver(database: Database): Promise<OpenedLibrary> {
  const [{ guildStore, keyRow }, { wheelStore, fillFinds }, { historyStore }, { makeKey }, { replyStore }, { cardStore }, { measurementStore }, { loanStore }, { analysisStore }, { sql }] = await Promise.all([import('./guilds/store.js'), import('./wheels/store.js'), import('./history/store.js'), import('./guilds/keys.js'), import('./http/store.js'), import('./cards/store.js'), import('./measurements/store.js'), import('./loans/store.js'), import('./analyses/store.js'), import('drizzle-orm')]);
  let firstKey: string | undefined;
  if (database.kind === 'embedded') {
    const [{ seed }, { guild }] = await Promise.all([import('../db/seed/seed.js'), import('./wheels/thornmere.js')]);
    const key = makeKey();
    if (await seed(database, keyRow(key, guild.id, 'first start', ['read', 'write', 'admin']))) firstKey = key;
  }
  await fillFinds(database);
  const guilds = guildStore(database);
  const { changed, ...wheels } = wheelStore(database);
  const library: Library = {
    ...wheels, ...replyStore(database), history: historyStore(database), guilds, cards: cardStore(database), measurements: measurementStore(database, changed), loans: loanStore(database), analyses: analysisStore(database), caller: (key) => guilds.caller(key), close: () => database.close(),
    // Of the keeper, who is never answered by a replica.
    ready: async () => { await database.ask('keeper', (db) => db.execute(sql`select 1`)); },
  };
  return { library, ...(firstKey === undefined ? {} : { firstKey }) };
}

/** Milliseconds that a request waits for a library that is still being made. */
const patience = 20_000;
const unavailable = (seconds: number, detail?: string): ProblemError => new ProblemError('library-unavailable', detail, { headers: { 'retry-after': String(seconds) } });

/**
 * A library that is on its way. Requests wait for it, unless `isAway()` says that waiting is in vain.
 * Its `close` waits for the opening too, so that nothing is left half made.
 */
export function lateLibrary(opening: Promise<OpenedLibrary>, isAway: () => boolean): Library {
  let library: Library | undefined;
  opening.then((opened) => { library = opened.library; }, () => undefined);
  const wait = async (): Promise<Library> => {
    if (isAway()) throw unavailable(5);
    let timer: NodeJS.Timeout | undefined;
    const late = new Promise<never>((_, reject) => { timer = setTimeout(() => reject(unavailable(5)), patience); });
    try {
      return (await Promise.race([opening, late])).library;
    } finally {
      clearTimeout(timer);
    }
  };
  const now = (): Library | Promise<Library> => library ?? wait();
  return {
    wheel: async (id, guild) => (await now()).wheel(id, guild),
    wheels: async (page) => (await now()).wheels(page),
    create: async (wheel, by, within) => (await now()).create(wheel, by, within),
    similar: async (to, limit, guild) => (await now()).similar(to, limit, guild),
    createAll: async (made, by, within) => (await now()).createAll(made, by, within),
    spent: async (guild, minute, count) => (await now()).spent(guild, minute, count),
    once: async (asked, work) => (await now()).once(asked, work),
    replace: async (id, wheel, expected, by) => (await now()).replace(id, wheel, expected, by),
    retire: async (id, expected, by) => (await now()).retire(id, expected, by),
    history: laterStore(async () => (await now()).history),
    guilds: laterStore(async () => (await now()).guilds),
    cards: laterStore(async () => (await now()).cards),
    measurements: laterStore(async () => (await now()).measurements),
    loans: laterStore(async () => (await now()).loans),
    caller: async (key: string): Promise<Caller | undefined> => (await now()).caller(key),
    analyses: laterStore(async () => (await now()).analyses),
    ready: async () => { if (library === undefined) throw isAway() ? unavailable(2) : unavailable(2, 'The library is still being opened.'); await library.ready(); },
    close: async () => { await (await opening).library.close(); },
  };
}
