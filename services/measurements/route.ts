/** The doors of measurements: of one wheel, and what they say together. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { Reader } from '../foundation/read.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import type { Caller } from '../guilds/keys.js';
import { etagOf, sendCacheable, tagMatches } from '../http/etag.js';
import { privateCaching } from '../http/headers.js';
import { idempotencyKey, idempotencyProblems, sendOnce } from '../http/idempotency.js';
import type { Operation } from '../http/operation.js';
import { readLimit, readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import { readWheel } from '../wheels/profile.js';
import { effectiveOf, type StoredWheel } from '../wheels/rules.js';
import type { Library } from '../wheels/store.js';
import { effectiveReply, examples, ifMatch, keptMeasurement, measurementId, measurementList, measurementToKeep, pageQuery, wheelId } from './contract.js';
import type { Effective } from './effective.js';
import { gives } from './gives.js';
import { readMeasurement, type StoredMeasurement } from './measurement.js';

const json = 'application/json; charset=utf-8';
/** Of one wheel. All of them are read with the wheel. */
const most = 500;
const paramsOf = (request: FastifyRequest): { id: string; measurement: string } => request.params as { id: string; measurement: string };

/** As it is told to this caller: a member to the guild alone. */
function told({ id, revision, createdAt, measurement }: StoredMeasurement, wheel: StoredWheel, caller: Caller | undefined): object {
  const { member, ...rest } = measurement;
  return { id, revision, createdAt: createdAt.toISOString(), ...(member !== undefined && caller?.guild === wheel.guild ? measurement : rest), gives: gives(measurement, readWheel(new Reader(), wheel.profile, '')) };
}
export const report = ({ profile, found, given, assumptions, warnings }: Effective): object => ({
  profile, given, assumptions, warnings,
  found: found.map(({ combined: { chiSquare, freedom, birge, verdict, outliers, used }, of, what, value, agreement }) => {
    const weights = used.reduce((sum, e) => sum + 1 / e.u ** 2, 0);
    return { of, what, value, verdict, chiSquare, freedom, ...(birge === undefined ? {} : { birge }), outliers, ...(agreement === undefined ? {} : { agreement }), estimates: used.map((e) => ({ from: e.from, value: e.value, plusMinus: 2 * e.u, weight: 1 / e.u ** 2 / weights })) };
  }),
});

export function measurementRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  const wheelOf = async (request: FastifyRequest, caller: Caller | undefined): Promise<StoredWheel> => (await library.wheel(paramsOf(request).id, caller?.guild)) ?? Promise.reject(new ProblemError('wheel-not-found'));
  /** The wheel, of which this caller may write. */
  const ownWheel = async (request: FastifyRequest): Promise<{ caller: Caller; wheel: StoredWheel }> => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'write');
    const wheel = await wheelOf(request, caller);
    if (wheel.guild !== caller.guild) throw new ProblemError('forbidden', 'This wheel belongs to another guild. Its own guild measures it.');
    return { caller, wheel };
  };
  const send = (request: FastifyRequest, reply: FastifyReply, wheel: StoredWheel, caller: Caller | undefined, body: object): FastifyReply =>
    sendCacheable(request, reply.header('vary', 'Authorization'), serialize(body), json, wheel.visibility === 'public' && caller === undefined ? 'public, no-cache' : privateCaching);

  app.get('/v1/wheels/:id/measurements', { config: { operation: operations.list } }, async (request, reply) => {
    const { limit: asked, after } = readQuery(request.query, ['limit', 'after']);
    const limit = readLimit(asked);
    const caller = await callerOf(library, request);
    const wheel = await wheelOf(request, caller);
    const { items, next } = await library.measurements.list(wheel.id, { limit, ...(after === undefined ? {} : { after }) }, caller?.guild);
    if (next !== undefined) reply.header('link', `</v1/wheels/${wheel.id}/measurements?limit=${limit}&after=${next}>; rel="next"`);
    return send(request, reply, wheel, caller, { items: items.map((m) => told(m, wheel, caller)), ...(next === undefined ? {} : { next }) });
  });

  app.post('/v1/wheels/:id/measurements', { config: { operation: operations.create } }, async (request, reply) => {
    const { caller, wheel } = await ownWheel(request);
    const measurement = readMeasurement(request.body, wheel.profile);
    if ((await library.measurements.count(wheel.id, caller.guild)) >= most) throw problemOf([{ pointer: '', code: 'too-many', detail: `A wheel has at most ${most} measurements.`, received: `one more than ${most}`, expected: 'that those which no longer count are withdrawn' }]);
    return sendOnce(library, request, reply, caller, async (within) => {
      const made = await library.measurements.add(wheel.id, measurement, caller, within);
      const body = serialize(told(made, wheel, caller));
      return { status: 201, headers: { location: `/v1/wheels/${wheel.id}/measurements/${made.id}`, etag: etagOf(body), 'cache-control': privateCaching, 'content-type': json }, body };
    });
  });

  const one = async (request: FastifyRequest, wheel: StoredWheel, caller: Caller | undefined): Promise<object> => {
    const found = await library.measurements.one(wheel.id, paramsOf(request).measurement, caller?.guild);
    if (found === undefined) throw new ProblemError('measurement-not-found');
    return told(found, wheel, caller);
  };
  app.get('/v1/wheels/:id/measurements/:measurement', { config: { operation: operations.read } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await callerOf(library, request);
    const wheel = await wheelOf(request, caller);
    return send(request, reply, wheel, caller, await one(request, wheel, caller));
  });

  app.delete('/v1/wheels/:id/measurements/:measurement', { config: { operation: operations.withdraw } }, async (request, reply) => {
    const { caller, wheel } = await ownWheel(request);
    const now = await one(request, wheel, caller);
    const match = request.headers['if-match'];
    if (match === undefined) throw new ProblemError('precondition-required');
    if (!tagMatches(match, etagOf(serialize(now)), true) || !(await library.measurements.withdraw(wheel.id, paramsOf(request).measurement, caller))) throw new ProblemError('precondition-failed');
    return reply.code(204).send();
  });

  app.get('/v1/wheels/:id/effective', { config: { operation: operations.effective } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await callerOf(library, request);
    const wheel = await wheelOf(request, caller);
    return send(request, reply, wheel, caller, report(effectiveOf(wheel)));
  });
}

const headers = ['ETag', 'Cache-Control'] as const;
const unchanged = { 304: { description: 'It has not changed.' } } as const;
const read = ['unknown-field', 'wheel-not-found', 'unauthorized', 'library-unavailable'] as const;
const operations = {
  list: {
    id: 'listMeasurements', tag: 'Wheels', summary: 'Measurements of a wheel', description: 'In the order of their ids, with what each says by itself.', params: wheelId, parameterExamples: { id: 'thornmere-4', limit: 20 }, query: pageQuery,
    replies: { 200: { description: 'One page.', schema: measurementList, example: examples.list, headers: [...headers, 'Link'] }, ...unchanged }, problems: ['out-of-range', 'invalid-cursor', ...read], key: 'optional',
  },
  create: {
    id: 'addMeasurement', tag: 'Wheels', summary: 'Adds a measurement of a wheel', description: 'It is combined with the profile and with every other: calculations by the wheel’s id use what they say together.', params: wheelId, headers: idempotencyKey, body: { schema: measurementToKeep, example: examples.toKeep },
    replies: { 201: { description: 'It was kept.', schema: keptMeasurement, example: examples.kept, headers: [...headers, 'Location'] } }, problems: [...read, 'forbidden', 'invalid-request', 'cannot-answer', ...idempotencyProblems], key: 'needed',
  },
  read: {
    id: 'readMeasurement', tag: 'Wheels', summary: 'One measurement', params: measurementId, replies: { 200: { description: 'The measurement.', schema: keptMeasurement, example: examples.kept, headers }, ...unchanged }, problems: ['measurement-not-found', ...read], key: 'optional',
  },
  withdraw: {
    id: 'withdrawMeasurement', tag: 'Wheels', summary: 'Withdraws a measurement', description: 'It is no longer combined with the others. Its row is kept.', params: measurementId, headers: ifMatch,
    replies: { 204: { description: 'It is withdrawn.' } }, problems: ['measurement-not-found', 'forbidden', 'precondition-required', 'precondition-failed', ...read], key: 'needed',
  },
  effective: {
    id: 'effectiveProfile', tag: 'Wheels', summary: 'What calculations by a wheel’s id use, and how it was found', description: 'The mean of the profile and every measurement, each weighted by its uncertainty; whether they agree; which lies out.', params: wheelId, parameterExamples: { id: 'thornmere-4' },
    replies: { 200: { description: 'The effective profile.', schema: effectiveReply, example: examples.effective, headers }, ...unchanged }, problems: read, key: 'optional',
  },
} as const satisfies Record<string, Operation>;
