/** Who is asking: the guild key of a request. */
import type { FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import type { Caller, Scope } from './keys.js';

export interface KeyLookup { caller(key: string): Promise<Caller | undefined> }

const refused = (detail?: string): ProblemError =>
  new ProblemError('unauthorized', detail, { headers: { 'www-authenticate': 'Bearer realm="wheelgrist"' } });

/** The key of a request as it was sent; undefined when it carries none. */
export function keyOf(request: FastifyRequest): string | undefined {
  const header = request.headers.authorization;
  if (header === undefined) return undefined;
  const key = /^Bearer +(\S+) *$/i.exec(header)?.[1];
  if (key === undefined) throw refused('The Authorization header is not of the form “Bearer” and a key.');
  return key;
}

/** Asked once for each request, by whoever needs it first. */
const asked = new WeakMap<FastifyRequest, Promise<Caller | undefined>>();

/** The caller of a request, or undefined when it carries no key. A key that does not work is refused, even where none is needed. */
export function callerOf(library: KeyLookup, request: FastifyRequest): Promise<Caller | undefined> {
  let caller = asked.get(request);
  if (caller === undefined) asked.set(request, (caller = askedCaller(library, request)));
  return caller;
}

async function askedCaller(library: KeyLookup, request: FastifyRequest): Promise<Caller | undefined> {
  const key = keyOf(request);
  if (key === undefined) return undefined;
  const caller = await library.caller(key);
  if (caller !== undefined) return { ...caller, request: request.id };
  throw refused('This key does not work here: it was mistyped, has expired, was revoked, or belongs to another library.');
}

const reach: Readonly<Record<Scope, readonly Scope[]>> = { read: ['read', 'write', 'admin'], write: ['write', 'admin'], admin: ['admin'] };

/** The caller, who must be able to do so much. */
export async function requireCaller(library: KeyLookup, request: FastifyRequest, scope: Scope): Promise<Caller> {
  const caller = await callerOf(library, request);
  if (caller === undefined) throw refused();
  if (!caller.scopes.some((has) => reach[scope].includes(has))) throw new ProblemError('forbidden', `This needs a key that may ${scope}; yours may ${caller.scopes.join(' and ')}.`);
  return caller;
}
