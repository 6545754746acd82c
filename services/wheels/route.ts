/** The library's doors. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import type { Caller } from '../guilds/keys.js';
import { etagOf, sendCacheable, tagMatches } from '../http/etag.js';
import { privateCaching, publicCaching } from '../http/headers.js';
import type { Operation } from '../http/operation.js';
import { idempotencyKey, idempotencyProblems, sendOnce, type Made } from '../http/idempotency.js';
import { readPage, sendPage } from '../http/paging.js';
import { readLimit, readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import { examples, ifMatch, keptWheel, listQuery, similarList, similarQuery, wheelId, wheelList, wheelPatch, wheelToKeep } from './contract.js';
import { readOf, readSearch, searchNames } from './finding.js';
import { listed, mergePatch, read, readWheelBody, type StoredWheel } from './rules.js';
import type { Library } from './store.js';

const json = 'application/json; charset=utf-8';
export const bodyOf = (wheel: StoredWheel): string => serialize(read(wheel));
const idOf = (request: FastifyRequest): string => (request.params as { id: string }).id;

export function wheelRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  app.get('/v1/wheels', { config: { operation: operations.list } }, async (request, reply) => {
    const asked = readPage(request.query, ['of', ...searchNames]);
    const query = readQuery(request.query, ['limit', 'after', 'of', ...searchNames]);
    const search = readSearch(query);
    const of = readOf(query['of']);
    const caller = of === 'guild' ? await requireCaller(library, request, 'read') : await callerOf(library, request);
    const page = await library.wheels({ ...asked, ...(of === undefined ? {} : { of }), ...(search === undefined ? {} : { search }), ...(caller === undefined ? {} : { guild: caller.guild }) });
    return sendPage(request, reply, asked.limit, { ...page, items: page.items.map(listed) }, caller === undefined ? publicCaching : privateCaching);
  });

  app.post('/v1/wheels', { config: { operation: operations.create } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'write');
    const wheel = readWheelBody(request.body);
    return sendOnce(library, request, reply, caller, async (within) => madeWheel(await library.create(wheel, caller, within)));
  });

  app.get('/v1/wheels/:id', { config: { operation: operations.read } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await callerOf(library, request);
    const wheel = await found(library, request, caller);
    const open = wheel.visibility === 'public' && caller === undefined;
    return sendCacheable(request, reply.header('vary', 'Authorization'), bodyOf(wheel), json, open ? publicCaching : privateCaching);
  });

  app.get('/v1/wheels/:id/similar', { config: { operation: operations.similar } }, async (request, reply) => {
    const limit = readLimit(readQuery(request.query, ['limit'])['limit'], { otherwise: 10, most: 50 });
    const caller = await callerOf(library, request);
    const items = await library.similar(await found(library, request, caller), limit, caller?.guild);
    return sendCacheable(request, reply.header('vary', 'Authorization'), serialize({ items: items.map(({ wheel, ...how }) => ({ wheel: listed(wheel), ...how })) }), json, caller === undefined ? publicCaching : privateCaching);
  });

  app.put('/v1/wheels/:id', { config: { operation: operations.replace } }, (request, reply) =>
    change(library, request, reply, (now) => readWheelBody(request.body, now)));

  app.patch('/v1/wheels/:id', { config: { operation: operations.patch } }, (request, reply) =>
    change(library, request, reply, (now) => readWheelBody(mergePatch({ ...now.profile, visibility: now.visibility }, request.body), now)));

  app.delete('/v1/wheels/:id', { config: { operation: operations.retire } }, async (request, reply) => {
    const { caller, now } = await toChange(library, request);
    if (!(await library.retire(now.id, now.revision, caller))) throw new ProblemError('precondition-failed');
    return reply.code(204).send();
  });
}

async function found(library: Library, request: FastifyRequest, caller: Caller | undefined): Promise<StoredWheel> {
  return (await library.wheel(idOf(request), caller?.guild)) ?? Promise.reject(new ProblemError('wheel-not-found'));
}

/** The wheel as it is now, once it is sure that this caller may change it and has seen it as it is. */
async function toChange(library: Library, request: FastifyRequest): Promise<{ caller: Caller; now: StoredWheel }> {
  readQuery(request.query, []);
  const caller = await requireCaller(library, request, 'write');
  const now = await found(library, request, caller);
  if (now.guild !== caller.guild) throw new ProblemError('forbidden', 'This wheel belongs to another guild. Its own guild may change it.');
  const match = request.headers['if-match'];
  if (match === undefined) throw new ProblemError('precondition-required');
  if (!tagMatches(match, etagOf(bodyOf(now)), true)) throw new ProblemError('precondition-failed');
  return { caller, now };
}

async function change(library: Library, request: FastifyRequest, reply: FastifyReply, make: (now: StoredWheel) => ReturnType<typeof readWheelBody>): Promise<FastifyReply> {
  const { caller, now } = await toChange(library, request);
  const wheel = await library.replace(now.id, make(now), now.revision, caller);
  if (wheel === undefined) throw new ProblemError('precondition-failed');
  return sendChanged(reply, wheel);
}

/** The reply to what was made. */
export function madeWheel(wheel: StoredWheel): Made {
  const body = bodyOf(wheel);
  return { status: 201, headers: { location: `/v1/wheels/${wheel.id}`, etag: etagOf(body), 'cache-control': privateCaching, 'content-type': json }, body };
}

export function sendChanged(reply: FastifyReply, wheel: StoredWheel): FastifyReply {
  const body = bodyOf(wheel);
  return reply.header('etag', etagOf(body)).header('cache-control', privateCaching).type(json).send(body);
}

const kept = (description: string) => ({ description, schema: keptWheel, example: examples.kept, headers: ['ETag', 'Cache-Control'] as const });
const write = ['unauthorized', 'forbidden', 'library-unavailable', 'unknown-field', 'invalid-request', 'cannot-answer'] as const;
const changing = [...write, 'wheel-not-found', 'precondition-required', 'precondition-failed'] as const;
const operations = {
  list: {
    id: 'listWheels', tag: 'Wheels', summary: 'Wheels of the library', description: 'Public wheels, and with a key those of its guild, in the order of their ids; those alone that are like all that is asked. A cursor belongs to its search.', query: listQuery, parameterExamples: { limit: 20 },
    replies: { 200: { description: 'One page.', schema: wheelList, example: examples.list, headers: ['ETag', 'Cache-Control', 'Link'] }, 304: { description: 'It has not changed.' } },
    problems: ['unknown-field', 'unknown-choice', 'out-of-range', 'invalid-request', 'cannot-answer', 'invalid-cursor', 'unauthorized', 'forbidden', 'library-unavailable'], key: 'optional',
  },
  create: {
    id: 'createWheel', tag: 'Wheels', summary: 'Adds a wheel to the library', description: 'It belongs to the guild of the key, which alone may read it unless visibility is public.', headers: idempotencyKey, body: { schema: wheelToKeep, example: examples.toKeep },
    replies: { 201: { ...kept('It was made.'), headers: ['ETag', 'Cache-Control', 'Location'] } }, problems: [...write, ...idempotencyProblems], key: 'needed',
  },
  read: {
    id: 'readWheel', tag: 'Wheels', summary: 'One wheel', description: 'The profile as it was posted, what the library says of it, and the effective profile that calculations by this id use.', params: wheelId, parameterExamples: { id: 'thornmere-4' },
    replies: { 200: kept('The wheel.'), 304: { description: 'It has not changed.' } }, problems: ['unknown-field', 'wheel-not-found', 'unauthorized', 'library-unavailable'], key: 'optional',
  },
  similar: {
    id: 'similarWheels', tag: 'Wheels', summary: 'Wheels like this one', description: 'The most alike first, by a distance that is told part by part: drives in common (no drive: 1), style (another: 0.5), ratios (twice as high, each to the nearest of the other: 2), drive wheel (twice as large: 1), orifice (twice as wide: 0.5); between, by how many times larger. What one of the two does not tell counts half.',
    params: wheelId, query: similarQuery, parameterExamples: { id: 'thornmere-4' }, replies: { 200: { description: 'Wheels, each with why.', schema: similarList, example: examples.similar, headers: ['ETag', 'Cache-Control'] }, 304: { description: 'It has not changed.' } },
    problems: ['unknown-field', 'out-of-range', 'wheel-not-found', 'unauthorized', 'library-unavailable'], key: 'optional',
  },
  replace: {
    id: 'replaceWheel', tag: 'Wheels', summary: 'Replaces the profile of a wheel', description: 'A wheel may be sent back whole as it was read, with its changes. Every revision is kept.', params: wheelId, headers: ifMatch, body: { schema: wheelToKeep, example: examples.toKeep },
    replies: { 200: kept('The wheel as it is now.') }, problems: changing, key: 'needed',
  },
  patch: {
    id: 'changeWheel', tag: 'Wheels', summary: 'Changes parts of a wheel', description: 'A JSON merge patch (RFC 7396). Every revision is kept.', params: wheelId, headers: ifMatch, body: { schema: wheelPatch, example: examples.patch, mediaType: 'application/merge-patch+json' },
    replies: { 200: kept('The wheel as it is now.') }, problems: changing, key: 'needed',
  },
  retire: {
    id: 'retireWheel', tag: 'Wheels', summary: 'Takes a wheel out of the library', description: 'Its revisions are kept.', params: wheelId, headers: ifMatch,
    replies: { 204: { description: 'It is out of the library.' } }, problems: ['unknown-field', 'unauthorized', 'forbidden', 'wheel-not-found', 'precondition-required', 'precondition-failed', 'library-unavailable'], key: 'needed',
  },
} as const satisfies Record<string, Operation>;
