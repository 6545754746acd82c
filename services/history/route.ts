/** Doors to what a wheel was, and to copies of it. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import { etagOf, sendCacheable, tagMatches } from '../http/etag.js';
import { privateCaching, publicCaching } from '../http/headers.js';
import { idempotencyKey, idempotencyProblems, sendOnce } from '../http/idempotency.js';
import type { Operation } from '../http/operation.js';
import { pageProblems, pageQuery, readPage, sendPage } from '../http/paging.js';
import { readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import { examples as wheelExamples, ifMatch, keptWheel, wheelId } from '../wheels/contract.js';
import { partsRestored } from '../wheels/parts.js';
import { bodyOf, madeWheel, sendChanged } from '../wheels/route.js';
import type { Library } from '../wheels/store.js';
import { examples, forkBody, forkList, keptRevision, lineage, revisionList, revisionOf } from './contract.js';
import { listedRevision, readFork, revisionRead, type Revision } from './rules.js';

const json = 'application/json; charset=utf-8';
const notFound = (): ProblemError => new ProblemError('wheel-not-found');
const noRevision = (): ProblemError => new ProblemError('revision-not-found');
const idOf = (request: FastifyRequest): string => (request.params as { id: string }).id;
/** Undefined: no revision is called so. */
function numberOf(request: FastifyRequest): number | undefined {
  const text = (request.params as { revision: string }).revision;
  return /^[1-9]\d{0,8}$/.test(text) ? Number(text) : undefined;
}

export function historyRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  /** The revision that the address names, for whoever asks; a wheel that they may not see has none. */
  const named = async (request: FastifyRequest, guild: string | undefined): Promise<Revision> => {
    const revision = numberOf(request);
    const found = revision === undefined ? undefined : await library.history.revision(idOf(request), revision, guild);
    if (found !== undefined) return found;
    throw (await library.history.revision(idOf(request), undefined, guild)) === undefined ? notFound() : noRevision();
  };

  app.get('/v1/wheels/:id/revisions', { config: { operation: operations.list } }, async (request, reply) => {
    const page = readPage(request.query);
    const guild = (await callerOf(library, request))?.guild;
    const found = await library.history.revisions(idOf(request), page, guild);
    if (found === undefined) throw notFound();
    return sendPage(request, reply, page.limit, { ...found, items: found.items.map((one) => listedRevision(one, guild)) }, guild === undefined ? publicCaching : privateCaching);
  });

  app.get('/v1/wheels/:id/revisions/:revision', { config: { operation: operations.read } }, async (request, reply) => {
    readQuery(request.query, []);
    const guild = (await callerOf(library, request))?.guild;
    const found = await named(request, guild);
    return sendCacheable(request, reply.header('vary', 'Authorization'), serialize(revisionRead(found, guild)), json, guild === undefined ? publicCaching : privateCaching);
  });

  app.post('/v1/wheels/:id/revisions/:revision/restore', { config: { operation: operations.restore } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'write');
    const newest = await library.history.revision(idOf(request), undefined, caller.guild);
    if (newest === undefined) throw notFound();
    if (newest.guild !== caller.guild) throw new ProblemError('forbidden', 'This wheel belongs to another guild. Its own guild may change it.');
    const then = await named(request, caller.guild);
    const match = request.headers['if-match'];
    if (match === undefined) throw new ProblemError('precondition-required');
    // A retired wheel cannot be read: there the newest revision stands for it.
    const now = newest.change === 'retired' ? undefined : await library.wheel(newest.wheel, caller.guild);
    const tag = etagOf(now === undefined ? serialize(revisionRead(newest, caller.guild)) : bodyOf(now));
    if (!tagMatches(match, tag, true)) throw new ProblemError('precondition-failed');
    // Who may see it stays as it is: an old revision must not publish what was taken back since.
    const wheel = await library.replace(newest.wheel, { profile: then.profile, visibility: newest.visibility, parts: partsRestored(then.parts, newest.parts), restored: then.revision }, newest.revision, caller);
    if (wheel === undefined) throw new ProblemError('precondition-failed');
    return sendChanged(reply, wheel);
  });

  app.post('/v1/wheels/:id/fork', { config: { operation: operations.fork } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'write');
    const id = idOf(request);
    const wheel = await library.wheel(id, caller.guild);
    if (wheel === undefined) throw notFound();
    const wanted = readFork(request.body);
    const copied = wanted.revision === undefined ? wheel : await library.history.revision(id, wanted.revision, caller.guild);
    if (copied === undefined) throw noRevision();
    const profile = wanted.name === undefined ? copied.profile : { ...copied.profile, name: wanted.name };
    const change = { profile, visibility: wanted.visibility, parts: copied.parts.filter((part) => part.at !== undefined), forkedFrom: { id, revision: copied.revision } };
    return sendOnce(library, request, reply, caller, async (within) => madeWheel(await library.create(change, caller, within)));
  });

  app.get('/v1/wheels/:id/lineage', { config: { operation: operations.lineage } }, async (request, reply) => {
    readQuery(request.query, []);
    const guild = (await callerOf(library, request))?.guild;
    if ((await library.wheel(idOf(request), guild)) === undefined) throw notFound();
    const body = serialize({ items: await library.history.lineage(idOf(request), guild) });
    return sendCacheable(request, reply.header('vary', 'Authorization'), body, json, guild === undefined ? publicCaching : privateCaching);
  });

  app.get('/v1/wheels/:id/forks', { config: { operation: operations.forks } }, async (request, reply) => {
    const page = readPage(request.query);
    const guild = (await callerOf(library, request))?.guild;
    if ((await library.wheel(idOf(request), guild)) === undefined) throw notFound();
    return sendPage(request, reply, page.limit, await library.history.forks(idOf(request), page, guild), guild === undefined ? publicCaching : privateCaching);
  });
}

const id = { params: wheelId, parameterExamples: { id: 'thornmere-4' } } as const;
const revision = { params: revisionOf, parameterExamples: { id: 'thornmere-4', revision: '1' } } as const;
const same = { description: 'It has not changed.' } as const;
const reading = ['unknown-field', 'wheel-not-found', 'unauthorized', 'library-unavailable'] as const;
const writing = [...reading, 'forbidden', 'invalid-request', 'cannot-answer'] as const;
const cacheable = ['ETag', 'Cache-Control'] as const;
const operations = {
  list: {
    id: 'listRevisions', tag: 'Wheels', summary: 'Every revision of a wheel', description: 'The newest first. Its own guild sees those of a retired wheel too.', query: pageQuery, ...id,
    replies: { 200: { description: 'One page.', schema: revisionList, example: examples.revisions, headers: [...cacheable, 'Link'] }, 304: same }, problems: [...pageProblems, ...reading], key: 'optional',
  },
  read: {
    id: 'readRevision', tag: 'Wheels', summary: 'A wheel as it was', ...revision,
    replies: { 200: { description: 'The wheel at this revision.', schema: keptRevision, example: examples.revision, headers: cacheable }, 304: same }, problems: [...reading, 'revision-not-found'], key: 'optional',
  },
  restore: {
    id: 'restoreRevision', tag: 'Wheels', summary: 'Makes a wheel what it was at a revision', params: revisionOf, parameterExamples: { revision: '1' },
    headers: ifMatch, description: 'That is a new revision; none is lost. A retired wheel comes back; then If-Match is the ETag of its newest revision. Who may see it stays as it is.',
    replies: { 200: { description: 'The wheel as it is now.', schema: keptWheel, example: wheelExamples.kept, headers: cacheable } }, problems: [...reading, 'forbidden', 'revision-not-found', 'precondition-required', 'precondition-failed'], key: 'needed',
  },
  fork: {
    id: 'forkWheel', tag: 'Wheels', summary: 'Copies a wheel into the guild of the key', description: 'The copy is the guild’s own, and says what it was copied from.', ...id, headers: idempotencyKey, body: { schema: forkBody, example: examples.fork, optional: true },
    replies: { 201: { description: 'It was made.', schema: keptWheel, example: wheelExamples.kept, headers: [...cacheable, 'Location'] } }, problems: [...writing, 'revision-not-found', ...idempotencyProblems], key: 'needed',
  },
  lineage: {
    id: 'readLineage', tag: 'Wheels', summary: 'What a wheel was copied from', description: 'The nearest first; it ends at one that may not be seen.', ...id,
    replies: { 200: { description: 'Its ancestors.', schema: lineage, example: examples.lineage, headers: cacheable }, 304: same }, problems: reading, key: 'optional',
  },
  forks: {
    id: 'listForks', tag: 'Wheels', summary: 'Wheels that were copied from this one', query: pageQuery, ...id,
    replies: { 200: { description: 'One page.', schema: forkList, example: examples.forks, headers: [...cacheable, 'Link'] }, 304: same }, problems: [...pageProblems, ...reading], key: 'optional',
  },
} as const satisfies Record<string, Operation>;
