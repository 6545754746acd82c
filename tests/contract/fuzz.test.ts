/**
 * Every operation of the specification is asked many times, well and badly. Whatever is sent: no 5xx, only what is declared,
 * bodies as declared, problems whole. FUZZ_RUNS (100) requests an operation; FUZZ_SEED repeats a run.
 */
import { setImmediate as breathe } from 'node:timers/promises';
import type { FastifyInstance, InjectOptions } from 'fastify';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { patiently, problemIn } from '../support/http.js';
import { openWhole } from '../support/whole.js';
import { checker } from './check.js';
import { request, resolve, type Made, type Spec, type SpecOperation } from './requests.js';
import { inFull } from '../../sdk/generate/spec.js';
import committed from '../../sdk/openapi.json' with { type: 'json' };

const numRuns = Number(process.env['FUZZ_RUNS'] ?? 100);
const seed = Number(process.env['FUZZ_SEED'] ?? Date.now() % 2 ** 31);
const spec = inFull(committed as unknown as Spec);
const operations = Object.entries(spec.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ name: `${method.toUpperCase()} ${path}`, method: method.toUpperCase(), path, operation })));

let app: FastifyInstance;
let close: () => Promise<void>;
let key: string;
const check = checker(spec);
beforeAll(async () => {
  ({ app, close, key } = await openWhole());
  console.log(`contract fuzz: seed ${seed}, ${numRuns} requests an operation, ${operations.length} operations`);
}, 60_000);
afterAll(() => close());

/** Things of our own that are there now, by the address of the list that they stand in. */
const own = new Map<string, string>([['/v1/guilds', 'thornmere-guild']]);
const keyed = () => ({ authorization: `Bearer ${key}` });
/** One of this list, with its tag; made anew, from the example, when a request before took it away. Undefined: nobody makes any. */
async function ownOf(list: string, template: string): Promise<{ id: string; tag: string } | undefined> {
  const example = spec.paths[template]?.['post']?.requestBody?.content['application/json']?.example as object | undefined;
  if (example === undefined || !template.startsWith('/v1/')) return undefined;
  const id = own.get(list);
  const found = id === undefined ? undefined : await app.inject({ url: `${list}/${id}`, headers: keyed() });
  if (found?.statusCode === 200) return { id: id!, tag: String(found.headers['etag']) };
  const made = await app.inject({ method: 'POST', url: list, headers: keyed(), payload: example });
  if (made.statusCode === 201) {
    own.set(list, made.json<{ id: string }>().id);
    return { id: own.get(list)!, tag: String(made.headers['etag']) };
  }
  // There may be room for one only, which a request before has made: a wheel is lent once.
  const there = made.statusCode === 409 ? (await app.inject({ url: list, headers: keyed() })).json<{ items?: { id: string }[] }>().items?.[0] : undefined;
  if (there === undefined) return undefined;
  own.set(list, there.id);
  return { id: there.id, tag: String((await app.inject({ url: `${list}/${there.id}`, headers: keyed() })).headers['etag']) };
}
/** The request with things that are there, where its path names any. */
async function real(path: string, made: Made): Promise<Made> {
  const ids: Record<string, string> = {};
  let [template, url, tag]: [string, string, string | undefined] = ['', '', undefined];
  for (const part of path.split('/').slice(1)) {
    const thing = part.startsWith('{') ? await ownOf(url, template) : undefined;
    if (thing !== undefined) { ids[part.slice(1, -1)] = thing.id; tag = thing.tag; }
    url += `/${thing?.id ?? part}`;
    template += `/${part}`;
  }
  return { ...made, path: { ...made.path, ...ids }, headers: { ...made.headers, ...(made.headers['If-Match'] === undefined || tag === undefined ? {} : { 'If-Match': tag }) } };
}

function options(method: string, path: string, made: Made, withKey: boolean): InjectOptions {
  const url = path.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(String(made.path[name] ?? 'none').replace(/^\.+$/, 'dots').replace(/\p{Surrogate}/gu, '?')));
  const query = made.query.map(([name, value]) => `${encodeURIComponent(name)}=${encodeURIComponent(value.replace(/\p{Surrogate}/gu, '?'))}`).join('&');
  const headers = Object.fromEntries(Object.entries(made.headers).map(([name, value]) => [name, value.replace(/[^\x20-\x7e]/g, '?')]));
  return {
    method: method as 'GET', url: query === '' ? url : `${url}?${query}`,
    headers: { ...headers, ...(withKey ? { authorization: `Bearer ${key}` } : {}), ...(made.body === undefined ? {} : { 'content-type': typeof made.body === 'string' ? 'text/csv' : 'application/json' }) },
    ...(made.body === undefined ? {} : { payload: typeof made.body === 'string' ? made.body : JSON.stringify(made.body) }),
  };
}

describe.each(operations)('$name', ({ method, path, operation, name }) => {
  it('answers whatever is sent as the specification says', async () => {
    const seen = new Set<number>();
    await fc.assert(fc.asyncProperty(request(spec, operation), fc.boolean(), fc.boolean(), async (made, withKey, isReal) => {
      const sent = options(method, path, isReal ? await real(path, made) : made, withKey);
      // Requests without a socket follow one another at once: without a breath the process would call itself too busy, and refuse.
      await breathe();
      const reply = await patiently(() => app.inject(sent));
      seen.add(reply.statusCode);
      check(operation, reply, `${name} ${String(sent.url).slice(0, 300)} ${String(sent.payload ?? '').slice(0, 500)}`);
    }), { numRuns, seed, endOnFailure: false });
    expect([...seen], 'too busy to answer anything').not.toEqual([503]);
    expect(seen.size).toBeGreaterThan(0);
  }, Math.max(120_000, 2000 * numRuns));

  // Pages are for people: what a link from elsewhere appends to their address is none of our business.
  if (!operation.tags.includes('Pages')) {
    it('refuses a parameter that it does not know', async () => {
      const sent = options(method, path, await real(path, exampleOf(operation)), true);
      const reply = await patiently(() => app.inject({ ...sent, url: `${String(sent.url)}${String(sent.url).includes('?') ? '&' : '?'}zzUnknown=1` }));
      expect(reply.statusCode).toBe(400);
      expect(problemIn(reply).errors).toContainEqual(expect.objectContaining({ parameter: 'zzUnknown', code: 'unknown-field' }));
    });
  }

  // A file has no fields.
  const body = Object.entries(operation.requestBody?.content ?? {}).find(([type]) => type.endsWith('json') && !type.endsWith('ndjson'))?.[1];
  if (body !== undefined) {
    it('refuses a field that it does not know, by its pointer', async () => {
      expect(resolve(spec, body.schema).type).toBe('object');
      const example = await real(path, exampleOf(operation));
      const reply = await patiently(() => app.inject(options(method, path, { ...example, body: { ...(example.body as object), zzUnknown: 1 } }, true)));
      const problem = problemIn(reply);
      expect(problem.status).toBe(400);
      expect(problem.errors).toContainEqual(expect.objectContaining({ pointer: '/zzUnknown', code: 'unknown-field' }));
    });
  }
});

function exampleOf(operation: SpecOperation): Made {
  const of = (place: string): [string, string][] => (operation.parameters ?? []).filter((p) => p.in === place && (p.required || p.example !== undefined)).flatMap((p) => [p.example ?? 'some-id'].flat().map((v): [string, string] => [p.name, String(v)]));
  // A file has no fields.
  const body = Object.entries(operation.requestBody?.content ?? {}).find(([type]) => type.endsWith('json') && !type.endsWith('ndjson'))?.[1];
  return { path: Object.fromEntries(of('path')), query: of('query'), headers: Object.fromEntries(of('header')), ...(body === undefined ? {} : { body: body.example ?? {} }) };
}
