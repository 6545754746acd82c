/** The doors of the register of loans and of the log of care. Both are their guild's alone. */
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { Reader, shown } from '../foundation/read.js';
import { readDate } from '../foundation/noted.js';
import { requireCaller } from '../guilds/caller.js';
import type { Caller, Scope } from '../guilds/keys.js';
import { etagOf, sendCacheable, tagMatches } from '../http/etag.js';
import { privateCaching } from '../http/headers.js';
import { idempotencyKey, idempotencyProblems, sendOnce, type Made } from '../http/idempotency.js';
import type { Operation } from '../http/operation.js';
import { readLimit, readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import type { StoredWheel } from '../wheels/rules.js';
import type { Library } from '../wheels/store.js';
import { hoursOf, readCare, type StoredCare } from './care.js';
import { careId, careList, careToKeep, examples, hours, ifMatch, keptCare, keptLoan, loanId, loanList, loanToKeep, pageQuery, registerQuery, wheelId, wheelLoansQuery } from './contract.js';
import { readLoan, told, type StoredLoan } from './loan.js';

const json = 'application/json; charset=utf-8';
const toldCare = ({ entry, createdAt, ...rest }: StoredCare) => ({ ...rest, createdAt: createdAt.toISOString(), ...entry });
const params = (request: FastifyRequest): Record<'id' | 'loan' | 'entry', string> => request.params as Record<'id' | 'loan' | 'entry', string>;
const made = (location: string, shape: object): Made => { const body = serialize(shape); return { status: 201, headers: { location, etag: etagOf(body), 'cache-control': privateCaching, 'content-type': json }, body }; };

function readOut(text: string | undefined): { out?: true } {
  if (text !== undefined && text !== 'true' && text !== 'false') throw problemOf([{ parameter: 'out', code: 'unknown-choice', detail: '“out” is true or false.', received: shown(text), expected: 'true or false' }]);
  return text === 'true' ? { out: true } : {};
}
function readDueBy(text: string | undefined): { dueBy?: string } {
  if (text === undefined) return {};
  const r = new Reader();
  readDate(r, text, '/dueBy');
  if (r.issues.length > 0) throw problemOf(r.issues.map(({ pointer: _, ...issue }) => ({ parameter: 'dueBy', ...issue })));
  return { dueBy: text };
}

export function loanRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  const ownWheel = async (request: FastifyRequest, scope: Scope): Promise<{ caller: Caller; wheel: StoredWheel }> => {
    const caller = await requireCaller(library, request, scope);
    const wheel = await library.wheel(params(request).id, caller.guild);
    if (wheel === undefined) throw new ProblemError('wheel-not-found');
    if (wheel.guild !== caller.guild) throw new ProblemError('forbidden', 'This wheel belongs to another guild, and so do its loans and its log.');
    return { caller, wheel };
  };
  const send = (request: FastifyRequest, reply: FastifyReply, shape: object): FastifyReply => sendCacheable(request, reply.header('vary', 'Authorization'), serialize(shape), json, privateCaching);
  const sendPage = (request: FastifyRequest, reply: FastifyReply, path: string, query: Record<string, string>, page: { items: object[]; next?: string }): FastifyReply => {
    if (page.next !== undefined) reply.header('link', `<${path}?${new URLSearchParams({ ...query, after: page.next }).toString()}>; rel="next"`);
    return send(request, reply, page);
  };
  const unchanged = (request: FastifyRequest, shape: object): void => {
    const match = request.headers['if-match'];
    if (match === undefined) throw new ProblemError('precondition-required');
    if (!tagMatches(match, etagOf(serialize(shape)), true)) throw new ProblemError('precondition-failed');
  };

  app.get('/v1/loans', { config: { operation: operations.register } }, async (request, reply) => {
    const { limit: asked, after, out, dueBy } = readQuery(request.query, ['limit', 'after', 'out', 'dueBy']);
    const limit = readLimit(asked);
    const caller = await requireCaller(library, request, 'read');
    const { items, next } = await library.loans.loans({ ...readOut(out), ...readDueBy(dueBy) }, { limit, ...(after === undefined ? {} : { after }) }, caller.guild);
    return sendPage(request, reply, '/v1/loans', { limit: String(limit), ...(out === undefined ? {} : { out }), ...(dueBy === undefined ? {} : { dueBy }) }, { items: items.map(told), ...(next === undefined ? {} : { next }) });
  });
  app.get('/v1/wheels/:id/loans', { config: { operation: operations.list } }, async (request, reply) => {
    const { limit: asked, after, out } = readQuery(request.query, ['limit', 'after', 'out']);
    const limit = readLimit(asked);
    const { caller, wheel } = await ownWheel(request, 'read');
    const { items, next } = await library.loans.loans({ wheel: wheel.id, ...readOut(out) }, { limit, ...(after === undefined ? {} : { after }) }, caller.guild);
    return sendPage(request, reply, `/v1/wheels/${wheel.id}/loans`, { limit: String(limit), ...(out === undefined ? {} : { out }) }, { items: items.map(told), ...(next === undefined ? {} : { next }) });
  });
  app.post('/v1/wheels/:id/loans', { config: { operation: operations.lend } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'write');
    const loan = readLoan(request.body, wheel.profile);
    if (wheel.profile.condition === 'do-not-run' && loan.returnedOn === undefined) throw new ProblemError('conflict', 'This wheel is not to be run: somebody qualified must pass it before it goes out.');
    return sendOnce(library, request, reply, caller, async (within) => {
      const kept = await library.loans.lend(wheel.id, loan, caller, within).catch((error: unknown) => { throw error instanceof ProblemError && error.code === 'conflict' ? new ProblemError('conflict', 'This wheel is out already: see its loans with out=true.', { cause: error }) : error; });
      return made(`/v1/wheels/${wheel.id}/loans/${kept.id}`, told(kept));
    });
  });
  const oneLoan = async (request: FastifyRequest, wheel: StoredWheel, guild: string): Promise<StoredLoan> => (await library.loans.loan(wheel.id, params(request).loan, guild)) ?? Promise.reject(new ProblemError('loan-not-found'));
  app.get('/v1/wheels/:id/loans/:loan', { config: { operation: operations.read } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'read');
    return send(request, reply, told(await oneLoan(request, wheel, caller.guild)));
  });
  app.put('/v1/wheels/:id/loans/:loan', { config: { operation: operations.change } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'write');
    const now = await oneLoan(request, wheel, caller.guild);
    unchanged(request, told(now));
    const after = await library.loans.change(wheel.id, now.id, readLoan(request.body, wheel.profile, told(now)), now.revision, caller);
    if (after === undefined) throw new ProblemError('precondition-failed');
    const body = serialize(told(after));
    return reply.header('etag', etagOf(body)).header('cache-control', privateCaching).type(json).send(body);
  });

  app.get('/v1/wheels/:id/care', { config: { operation: operations.log } }, async (request, reply) => {
    const { limit: asked, after } = readQuery(request.query, ['limit', 'after']);
    const limit = readLimit(asked);
    const { caller, wheel } = await ownWheel(request, 'read');
    const { items, next } = await library.loans.care(wheel.id, { limit, ...(after === undefined ? {} : { after }) }, caller.guild);
    return sendPage(request, reply, `/v1/wheels/${wheel.id}/care`, { limit: String(limit) }, { items: items.map(toldCare), ...(next === undefined ? {} : { next }) });
  });
  app.post('/v1/wheels/:id/care', { config: { operation: operations.note } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'write');
    const entry = readCare(request.body);
    return sendOnce(library, request, reply, caller, async (within) => {
      const kept = await library.loans.note(wheel.id, entry, caller, within);
      return made(`/v1/wheels/${wheel.id}/care/${kept.id}`, toldCare(kept));
    });
  });
  const oneEntry = async (request: FastifyRequest, wheel: StoredWheel, guild: string): Promise<StoredCare> => (await library.loans.careEntry(wheel.id, params(request).entry, guild)) ?? Promise.reject(new ProblemError('care-not-found'));
  app.get('/v1/wheels/:id/care/:entry', { config: { operation: operations.entry } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'read');
    return send(request, reply, toldCare(await oneEntry(request, wheel, caller.guild)));
  });
  app.delete('/v1/wheels/:id/care/:entry', { config: { operation: operations.strike } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'write');
    unchanged(request, toldCare(await oneEntry(request, wheel, caller.guild)));
    if (!(await library.loans.strike(wheel.id, params(request).entry, caller))) throw new ProblemError('precondition-failed');
    return reply.code(204).send();
  });
  app.get('/v1/wheels/:id/hours', { config: { operation: operations.hours } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, wheel } = await ownWheel(request, 'read');
    const { entries, loans } = await library.loans.log(wheel.id, caller.guild);
    return send(request, reply, hoursOf(entries, loans));
  });
}

const headers = ['ETag', 'Cache-Control'] as const;
const same = { 304: { description: 'It has not changed.' } } as const;
const read = ['unknown-field', 'unauthorized', 'forbidden', 'library-unavailable'] as const;
const ofWheel = [...read, 'wheel-not-found'] as const;
const write = [...ofWheel, 'invalid-request', 'cannot-answer'] as const;
const paged = ['out-of-range', 'invalid-cursor'] as const;
const changed = ['precondition-required', 'precondition-failed'] as const;
const operations = {
  register: {
    id: 'listLoans', tag: 'Loans', summary: 'The guild’s register of loans', description: 'Of all its wheels, in the order of their ids; what is out, and what is due back by a day.', query: registerQuery, parameterExamples: { limit: 20, out: 'true' },
    replies: { 200: { description: 'One page.', schema: loanList, example: examples.loans, headers: [...headers, 'Link'] }, ...same }, problems: [...read, ...paged, 'unknown-choice'], key: 'needed',
  },
  list: {
    id: 'listWheelLoans', tag: 'Loans', summary: 'Loans of a wheel', params: wheelId, query: wheelLoansQuery, parameterExamples: { limit: 20 },
    replies: { 200: { description: 'One page.', schema: loanList, example: examples.loans, headers: [...headers, 'Link'] }, ...same }, problems: [...ofWheel, ...paged, 'unknown-choice'], key: 'needed',
  },
  lend: {
    id: 'lendWheel', tag: 'Loans', summary: 'Lends a wheel', description: 'What is amiss is written down before it goes out. A wheel is out once at a time, and not while its condition is do-not-run.', params: wheelId, headers: idempotencyKey, body: { schema: loanToKeep, example: examples.loan },
    replies: { 201: { description: 'It was written down.', schema: keptLoan, example: examples.keptLoan, headers: [...headers, 'Location'] } }, problems: [...write, 'conflict', ...idempotencyProblems], key: 'needed',
  },
  read: { id: 'readLoan', tag: 'Loans', summary: 'One loan', params: loanId, replies: { 200: { description: 'The loan.', schema: keptLoan, example: examples.keptLoan, headers }, ...same }, problems: [...ofWheel, 'loan-not-found'], key: 'needed' },
  change: {
    id: 'changeLoan', tag: 'Loans', summary: 'Changes a loan, as when it comes back', description: 'The loan whole, as it was read, with its changes: returnedOn and faultsIn when it comes back. Every revision is kept.', params: loanId, headers: ifMatch, body: { schema: loanToKeep, example: examples.loan },
    replies: { 200: { description: 'The loan as it is now.', schema: keptLoan, example: examples.keptLoan, headers } }, problems: [...write, 'loan-not-found', 'conflict', ...changed], key: 'needed',
  },
  log: { id: 'listCare', tag: 'Loans', summary: 'The log of a wheel’s care', params: wheelId, query: pageQuery, parameterExamples: { limit: 20 }, replies: { 200: { description: 'One page.', schema: careList, example: examples.cares, headers: [...headers, 'Link'] }, ...same }, problems: [...ofWheel, ...paged], key: 'needed' },
  note: {
    id: 'noteCare', tag: 'Loans', summary: 'Adds to the log of a wheel’s care', description: 'Hours at it, a band fitted, oil, or what was seen of the band.', params: wheelId, headers: idempotencyKey, body: { schema: careToKeep, example: examples.care },
    replies: { 201: { description: 'It was noted.', schema: keptCare, example: examples.keptCare, headers: [...headers, 'Location'] } }, problems: [...write, ...idempotencyProblems], key: 'needed',
  },
  entry: { id: 'readCare', tag: 'Loans', summary: 'One entry of the log', params: careId, replies: { 200: { description: 'The entry.', schema: keptCare, example: examples.keptCare, headers }, ...same }, problems: [...ofWheel, 'care-not-found'], key: 'needed' },
  strike: { id: 'strikeCare', tag: 'Loans', summary: 'Strikes an entry from the log', description: 'It no longer counts. Its row is kept.', params: careId, headers: ifMatch, replies: { 204: { description: 'It is struck.' } }, problems: [...ofWheel, 'care-not-found', ...changed], key: 'needed' },
  hours: { id: 'wheelHours', tag: 'Loans', summary: 'Hours since the band was fitted and since the wheel was oiled', description: 'From the log, and from loans that tell of their hours. No interval is given: a band has no fixed life.', params: wheelId, replies: { 200: { description: 'The hours.', schema: hours, example: examples.hours, headers }, ...same }, problems: ofWheel, key: 'needed' },
} as const satisfies Record<string, Operation>;
