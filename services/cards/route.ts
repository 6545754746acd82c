/** The doors of the cards. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import type { Caller } from '../guilds/keys.js';
import { etagOf, sendCacheable, tagMatches } from '../http/etag.js';
import { privateCaching } from '../http/headers.js';
import { idempotencyKey, idempotencyProblems, sendOnce } from '../http/idempotency.js';
import type { Operation } from '../http/operation.js';
import { readLimit, readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import { effective } from '../wheels/rules.js';
import type { Library } from '../wheels/store.js';
import { listed, readCard, withoutMember, type Card, type StoredCard, type Visibility } from './card.js';
import { cardId, cardList, cardRevisions, cardToKeep, examples, ifMatch, keptCard, listQuery, pageQuery } from './contract.js';
import { opensOf, ratioOf, type Opens } from './opens.js';

const json = 'application/json; charset=utf-8';
const publicCaching = 'public, no-cache';
const idOf = (request: FastifyRequest): string => (request.params as { id: string }).id;
const next = (reply: FastifyReply, path: string, limit: number, after: string | undefined, more = ''): void => { if (after !== undefined) reply.header('link', `<${path}?limit=${limit}${more}&after=${after}>; rel="next"`); };

export function cardRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  const bodyOf = async (card: StoredCard, guild: string | undefined): Promise<string> => {
    const shape = { ...listed(card), opens: await cardOpens(library, card, guild) };
    return serialize(card.guild === guild ? shape : withoutMember(shape));
  };

  app.get('/v1/cards', { config: { operation: operations.list } }, async (request, reply) => {
    const { limit: asked, after, wheel } = readQuery(request.query, ['limit', 'after', 'wheel']);
    const limit = readLimit(asked);
    const caller = await callerOf(library, request);
    const page = await library.cards.cards({ limit, ...(after === undefined ? {} : { after }), ...(wheel === undefined ? {} : { wheel }), ...(caller === undefined ? {} : { guild: caller.guild }) });
    next(reply, '/v1/cards', limit, page.next, wheel === undefined ? '' : `&wheel=${encodeURIComponent(wheel)}`);
    const body = serialize({ items: page.items.map((card) => (card.guild === caller?.guild ? listed(card) : withoutMember(listed(card)))), ...(page.next === undefined ? {} : { next: page.next }) });
    return sendCacheable(request, reply.header('vary', 'Authorization'), body, json, caller === undefined ? publicCaching : privateCaching);
  });

  app.post('/v1/cards', { config: { operation: operations.create } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'write');
    const card = await onItsWheel(library, readCard(request.body), caller);
    return sendOnce(library, request, reply, caller, async (within) => {
      const made = await library.cards.create(card, caller, within);
      // The wheel was read before; within a transaction nothing but the database may be awaited.
      const body = serialize({ ...listed(made), opens: opensOf(made.card, card.ratio) });
      return { status: 201, headers: { location: `/v1/cards/${made.id}`, etag: etagOf(body), 'cache-control': privateCaching, 'content-type': json }, body };
    });
  });

  app.get('/v1/cards/:id', { config: { operation: operations.read } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await callerOf(library, request);
    const card = await found(library, request, caller);
    return sendCacheable(request, reply.header('vary', 'Authorization'), await bodyOf(card, caller?.guild), json, card.visibility === 'public' && caller === undefined ? publicCaching : privateCaching);
  });

  /** The card as it is now, once it is sure that this caller may change it and has seen it as it is. */
  const toChange = async (request: FastifyRequest): Promise<{ caller: Caller; now: StoredCard }> => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'write');
    const now = await found(library, request, caller);
    if (now.guild !== caller.guild) throw new ProblemError('forbidden', 'This card belongs to another guild. Its own guild may change it.');
    const match = request.headers['if-match'];
    if (match === undefined) throw new ProblemError('precondition-required');
    if (!tagMatches(match, etagOf(await bodyOf(now, caller.guild)), true)) throw new ProblemError('precondition-failed');
    return { caller, now };
  };
  app.put('/v1/cards/:id', { config: { operation: operations.replace } }, async (request, reply) => {
    const { caller, now } = await toChange(request);
    const card = await library.cards.replace(now.id, await onItsWheel(library, readCard(request.body, listed(now)), caller, now), now.revision, caller);
    if (card === undefined) throw new ProblemError('precondition-failed');
    const body = await bodyOf(card, caller.guild);
    return reply.header('etag', etagOf(body)).header('cache-control', privateCaching).type(json).send(body);
  });
  app.delete('/v1/cards/:id', { config: { operation: operations.retire } }, async (request, reply) => {
    const { caller, now } = await toChange(request);
    if (!(await library.cards.retire(now.id, now.revision, caller))) throw new ProblemError('precondition-failed');
    return reply.code(204).send();
  });

  app.get('/v1/cards/:id/revisions', { config: { operation: operations.revisions } }, async (request, reply) => {
    const { limit: asked, after } = readQuery(request.query, ['limit', 'after']);
    const limit = readLimit(asked);
    const caller = await requireCaller(library, request, 'read');
    const page = await library.cards.revisions(idOf(request), { limit, ...(after === undefined ? {} : { after }) }, caller.guild);
    if (page.items.length === 0 && after === undefined) throw new ProblemError('card-not-found');
    next(reply, `/v1/cards/${encodeURIComponent(idOf(request))}/revisions`, limit, page.next);
    return sendCacheable(request, reply.header('vary', 'Authorization'), serialize({ items: page.items.map((r) => ({ ...r, madeAt: r.madeAt.toISOString() })), ...(page.next === undefined ? {} : { next: page.next }) }), json, privateCaching);
  });
}

async function found(library: Library, request: FastifyRequest, caller: Caller | undefined): Promise<StoredCard> {
  return (await library.cards.card(idOf(request), caller?.guild)) ?? Promise.reject(new ProblemError('card-not-found'));
}

/** The revision of the wheel that a card names, and the ratio of its whorl. `now`: the card before, whose wheel stands as it was then. */
async function onItsWheel(library: Library, read: { card: Card; visibility: Visibility }, caller: Caller, now?: StoredCard): Promise<{ card: Card; visibility: Visibility; wheelRevision?: number; ratio?: string }> {
  const { wheelId } = read.card;
  if (wheelId === undefined) return read;
  const wheel = await library.wheel(wheelId, caller.guild);
  if (wheel === undefined && now?.card.wheelId !== wheelId) throw problemOf([{ pointer: '/wheelId', code: 'wheel-not-found', detail: 'There is no wheel with this id that you may see.', received: shown(wheelId), expected: 'the id of a wheel, as GET /v1/wheels lists them' }]);
  const revision = now?.card.wheelId === wheelId ? now.wheelRevision : wheel!.revision;
  const ratio = wheel === undefined ? undefined : ratioOf(read.card, effective(wheel));
  return { ...read, ...(revision === null ? {} : { wheelRevision: revision }), ...(ratio === undefined ? {} : { ratio }) };
}

/** The calculations that a card opens, for whoever may see its wheel. */
export async function cardOpens(library: Library, { card }: StoredCard, guild: string | undefined): Promise<Opens[]> {
  const wheel = card.wheelId === undefined ? undefined : await library.wheel(card.wheelId, guild);
  return opensOf(card, wheel === undefined ? undefined : ratioOf(card, effective(wheel)));
}

const kept = (description: string) => ({ description, schema: keptCard, example: examples.kept, headers: ['ETag', 'Cache-Control'] as const });
const write = ['unauthorized', 'forbidden', 'library-unavailable', 'unknown-field', 'invalid-request', 'cannot-answer', 'wheel-not-found'] as const;
const changing = [...write, 'card-not-found', 'precondition-required', 'precondition-failed'] as const;
const read = ['unknown-field', 'card-not-found', 'unauthorized', 'library-unavailable'] as const;
const operations = {
  list: {
    id: 'listCards', tag: 'Cards', summary: 'Cards of what was spun', description: 'Public cards, and with a key those of its guild, in the order of their ids.', query: listQuery, parameterExamples: { limit: 20 },
    replies: { 200: { description: 'One page.', schema: cardList, example: examples.list, headers: ['ETag', 'Cache-Control', 'Link'] }, 304: { description: 'It has not changed.' } }, problems: ['unknown-field', 'out-of-range', 'invalid-cursor', 'unauthorized', 'library-unavailable'], key: 'optional',
  },
  create: {
    id: 'createCard', tag: 'Cards', summary: 'Keeps a card', description: 'It belongs to the guild of the key, which alone may read it unless visibility is public. Whatever was not noted is left out.', headers: idempotencyKey, body: { schema: cardToKeep, example: examples.toKeep },
    replies: { 201: { ...kept('It was kept.'), headers: ['ETag', 'Cache-Control', 'Location'] } }, problems: [...write, ...idempotencyProblems], key: 'needed',
  },
  read: {
    id: 'readCard', tag: 'Cards', summary: 'One card', description: 'The card as it was written, and the calculations that it opens, with its values filled in.', params: cardId,
    replies: { 200: kept('The card.'), 304: { description: 'It has not changed.' } }, problems: read, key: 'optional',
  },
  replace: {
    id: 'replaceCard', tag: 'Cards', summary: 'Replaces a card', description: 'A card may be sent back whole as it was read, with its changes. Every revision is kept.', params: cardId, headers: ifMatch, body: { schema: cardToKeep, example: examples.toKeep },
    replies: { 200: kept('The card as it is now.') }, problems: changing, key: 'needed',
  },
  retire: {
    id: 'retireCard', tag: 'Cards', summary: 'Puts a card away', description: 'Its revisions are kept.', params: cardId, headers: ifMatch,
    replies: { 204: { description: 'It is put away.' } }, problems: ['unauthorized', 'forbidden', 'precondition-required', 'precondition-failed', ...read], key: 'needed',
  },
  revisions: {
    id: 'listCardRevisions', tag: 'Cards', summary: 'Every revision of a card', description: 'The newest first. They are told to the guild that keeps the card, also when it was put away.', params: cardId, query: pageQuery, parameterExamples: { limit: 20 },
    replies: { 200: { description: 'One page.', schema: cardRevisions, example: examples.revisions, headers: ['ETag', 'Cache-Control', 'Link'] }, 304: { description: 'It has not changed.' } }, problems: ['out-of-range', 'invalid-cursor', 'forbidden', ...read], key: 'needed',
  },
} as const satisfies Record<string, Operation>;
