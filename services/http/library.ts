/** The library as the doors need it, and what stands in its place while there is none. */
import type { FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import type { Shelf } from '../pages/index.js';
import { effective, effectiveOf, type StoredWheel } from '../wheels/rules.js';
import type { Summary } from '../analyses/summary.js';
import type { Library } from '../wheels/store.js';
import { withoutMember } from '../cards/card.js';
import { opensOf, ratioOf } from '../cards/opens.js';
import { hoursOf } from '../loans/care.js';
import { laterStore } from '../later.js';
import type { FindWheel } from './mount.js';

const away = (): Promise<never> => Promise.reject(new ProblemError('library-unavailable', undefined, { headers: { 'retry-after': '5' } }));
/** Refuses everything: the calculators answer without a library. */
export const noLibrary: Library = { wheel: away, wheels: away, create: away, createAll: away, similar: away, once: away, spent: away, replace: away, retire: away, history: laterStore<Library['history']>(away), guilds: laterStore<Library['guilds']>(away), cards: laterStore<Library['cards']>(away), measurements: laterStore<Library['measurements']>(away), loans: laterStore<Library['loans']>(away), analyses: laterStore<Library['analyses']>(away), caller: away, ready: away, close: () => Promise.resolve() };

const notFound = (id: string): ProblemError =>
  new ProblemError('wheel-not-found', undefined, { issues: [{ code: 'wheel-not-found', detail: 'There is no wheel with this id that you may see.', received: id.slice(0, 80), expected: 'the id of a wheel, as GET /v1/wheels lists them' }] });

async function wheelFor(library: Library, id: string, request: FastifyRequest): Promise<StoredWheel> {
  const caller = await callerOf(library, request);
  return (await library.wheel(id, caller?.guild)) ?? Promise.reject(notFound(id));
}

/** The profile that calculations by id use, for whoever asks. */
export const findWheelIn = (library: Library): FindWheel => async (id, request) => {
  const wheel = await wheelFor(library, id, request);
  const { profile, given, assumptions, warnings } = effectiveOf(wheel);
  return { profile, isPublic: wheel.visibility === 'public', given, notes: { assumptions, warnings } };
};

/** Wheels and cards for pages: public ones, and with a key its guild’s own. */
export const shelfOf = (library: Library): Shelf => ({
  find: async (id, request) => {
    const wheel = await wheelFor(library, id, request);
    return { id: wheel.id, profile: effective(wheel), measured: wheel.measurements?.length ?? 0 };
  },
  measured: async (id, request) => {
    const wheel = await wheelFor(library, id, request);
    return [{ id: wheel.id, name: wheel.profile.name! }, wheel.measurements ?? [], effectiveOf(wheel)];
  },
  register: async (id, request) => {
    const caller = await requireCaller(library, request, 'read');
    const wheel = await wheelFor(library, id, request);
    if (wheel.guild !== caller.guild) throw notFound(id);
    const { entries, loans } = await library.loans.log(wheel.id, caller.guild);
    return [{ id: wheel.id, name: wheel.profile.name!, doNotRun: wheel.profile.condition === 'do-not-run' }, loans, hoursOf(entries, loans)];
  },
  analysis: async (id, request) => {
    const caller = await requireCaller(library, request, 'read');
    const found = await library.analyses.find(id, caller.guild);
    if (found === undefined) throw new ProblemError('analysis-not-found');
    const { state, rows, analysed, rejected, createdAt, summary } = found;
    return { id: found.id, state, rows, settled: analysed + rejected, createdAt, ...(state === 'done' ? { summary: summary as Summary } : {}) };
  },
  list: async (after) => {
    const { items, next } = await library.wheels({ limit: 50, ...(after === undefined ? {} : { after }) });
    return { items: items.map((wheel) => ({ id: wheel.id, profile: effective(wheel) })), ...(next === undefined ? {} : { next }) };
  },
  card: async (id, request) => {
    const caller = await callerOf(library, request);
    const found = await library.cards.card(id, caller?.guild);
    if (found === undefined) throw new ProblemError('card-not-found');
    const wheel = found.card.wheelId === undefined ? undefined : await library.wheel(found.card.wheelId, caller?.guild);
    const card = found.guild === caller?.guild ? found.card : withoutMember(found.card);
    return {
      id: found.id, card, opens: opensOf(card, wheel === undefined ? undefined : ratioOf(card, effective(wheel))),
      ...(wheel === undefined ? {} : { wheel: wheel.profile.name! }), ...(found.wheelRevision === null ? {} : { wheelRevision: found.wheelRevision }),
    };
  },
  cards: async (after) => {
    const { items, next } = await library.cards.cards({ limit: 50, ...(after === undefined ? {} : { after }) });
    return { items, ...(next === undefined ? {} : { next }) };
  },
});
