/** The specification, OpenAPI 3.1, from what the routes say about themselves. */
import type {} from '@fastify/swagger';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { catalogue, ProblemError, type ProblemCode } from '../foundation/problems.js';
import { problem } from '../parts.js';
import { failures, sendProblem } from './failures.js';
import { constantHeaders, headerTable } from './headers.js';
import { operationNow, type Operation, type OperationOrLater, type OperationReply, type Tag } from './operation.js';
import { cached } from './reference.js';
import { requestIds } from './request-id.js';
import { Schemas, type JsonSchema } from './schemas.js';
import { shareParts } from './shared-parts.js';

const tags: Record<Tag, string> = {
  Calculations: 'Questions about a wheel and its yarn. They need no key and no library.',
  Wheels: 'The library of wheel profiles. Reading public wheels needs no key.',
  Cards: 'Cards of what was spun, how, and on which wheel.',
  Loans: 'A guild’s register of loans, and the log of its wheels’ care.',
  Analyses: 'Whole tables of wheels, analysed row by row and compared with each other.',
  Guilds: 'Guilds and their keys.',
  Reference: 'What the service knows, with its sources.',
  Service: 'The service itself.',
  Pages: 'Pages for people.',
};
/** What a page may be refused with, as a page. */
const ofPages: readonly ProblemCode[] = ['invalid-request', 'cannot-answer', 'not-found', 'library-unavailable'];
/** What every address may be refused with. */
const everywhere: readonly ProblemCode[] = ['bad-request-line', 'not-acceptable', 'uri-too-long', 'internal-error'];
const withBody: readonly ProblemCode[] = ['invalid-json', 'duplicate-key', 'number-too-large', 'too-deep', 'wrong-type', 'payload-too-large', 'unsupported-media-type'];

const about = {
  title: 'Wheelgrist',
  summary: 'Ratio, take-up, twist and grist for spinning wheels.',
  description: 'Calculations are pure: the same question has the same answer by link, by JSON, in a batch and by the id of a wheel in the library. Measures are given with their units; every failure is application/problem+json and says what to send instead.',
  license: { name: 'MIT', identifier: 'MIT' },
};

interface Said { readonly url: string; readonly method: string; readonly operation?: OperationOrLater }

declare module 'fastify' {
  interface FastifyInstance {
    /** The specification of all routes, made when it is first asked for. */
    specification(): Promise<object>;
  }
}

/**
 * The specification at `/openapi.json` and its reader at `/docs`. Both are a small application of their own, loaded when
 * somebody asks for them: the service starts without them.
 */
export function openapi(app: FastifyInstance, version: string): void {
  const said: Said[] = [];
  app.addHook('onRoute', ({ url, method, config }) => {
    const operation = config?.operation;
    for (const one of [method].flat()) if (one !== 'HEAD') said.push({ url, method: one, ...(operation === undefined ? {} : { operation }) });
  });
  let reader: Promise<FastifyInstance> | undefined;
  const read = (): Promise<FastifyInstance> => (reader ??= documentation(said, version).catch((error: unknown) => { reader = undefined; throw error; }));
  app.addHook('onClose', async () => { await (await reader?.catch(() => undefined))?.close(); });
  app.decorate('specification', async () => (await read()).swagger());

  let text: string | undefined;
  cached(app, '/openapi.json', {
    id: 'specification', tag: 'Service', summary: 'This specification', schema: z.object({ openapi: z.string(), info: z.object({ title: z.string(), summary: z.string(), description: z.string(), version: z.string(), license: z.object({ name: z.string(), identifier: z.string() }) }) }).meta({ id: 'Specification', description: 'An OpenAPI 3.1 document.' }),
    example: { openapi: '3.1.0', info: { ...about, version } },
  }, async () => (text ??= JSON.stringify(await app.specification())), 'application/json; charset=utf-8');
  for (const url of ['/docs', '/docs/*']) {
    app.get(url, async (request, reply) => {
      const pages = await read();
      reply.hijack();
      pages.routing(request.raw, reply.raw);
    });
  }
}

/** The application that makes the specification of these routes and shows it. */
async function documentation(said: readonly Said[], version: string): Promise<FastifyInstance> {
  const [{ default: fastify }, { default: swagger }, { default: swaggerUi }] = await Promise.all([import('fastify'), import('@fastify/swagger'), import('@fastify/swagger-ui')]);
  const pages = fastify({ genReqId: requestIds(), requestIdHeader: false });
  failures(pages);
  pages.setNotFoundHandler((request, reply) => sendProblem(new ProblemError('not-found'), request, reply));
  pages.addHook('onRequest', (request, reply, done) => { reply.headers(constantHeaders).header('request-id', request.id); done(); });
  const operations = new Map<string, Operation>();
  const places = new Map<string, string>();
  await pages.register(swagger, {
    openapi: { openapi: '3.1.0', info: { ...about, version }, servers: [{ url: '/' }] },
    transform: ({ url, route }) => {
      const operation = route.config?.operation;
      if (operation === undefined || typeof operation === 'function') return { url, schema: { hide: true } };
      const place = `${String(route.method)} ${url}`;
      if ((places.get(operation.id) ?? place) !== place) throw new Error(`two operations are named ${operation.id}`);
      places.set(operation.id, place);
      operations.set(operation.id, operation);
      return { url, schema: { operationId: operation.id } };
    },
    transformObject: (document) => whole('openapiObject' in document ? (document.openapiObject as JsonSchema) : {}, operations) as never,
  });
  await pages.register(swaggerUi, { routePrefix: '/docs', staticCSP: true, uiConfig: { deepLinking: true, defaultModelsExpandDepth: 0 } });
  for (const { url, method, operation } of said) {
    if (operation !== undefined) pages.route({ url, method, exposeHeadRoute: false, config: { operation: operationNow(operation) }, handler: () => { throw new ProblemError('not-found'); } });
  }
  await pages.ready();
  return pages;
}

function whole(document: JsonSchema, operations: ReadonlyMap<string, Operation>): JsonSchema {
  const schemas = new Schemas();
  schemas.convert(problem, 'output');
  const used = new Set<Tag>();
  const paths = Object.entries(document['paths'] as Record<string, Record<string, { operationId: string }>>).toSorted(([a], [b]) => (a < b ? -1 : 1)).map(([path, methods]) => [
    path,
    Object.fromEntries(Object.entries(methods).map(([method, { operationId }]) => {
      const operation = operations.get(operationId)!;
      used.add(operation.tag);
      return [method, operationObject(operation, schemas, path.startsWith('/v1/'), method !== 'get' && operation.key === 'needed')];
    })),
  ]);
  const shared = shareParts(Object.fromEntries(paths) as Record<string, Record<string, JsonSchema>>);
  return {
    openapi: document['openapi'], info: document['info'], servers: document['servers'],
    tags: (Object.keys(tags) as Tag[]).filter((name) => used.has(name)).map((name) => ({ name, description: tags[name] })),
    paths: shared.paths,
    components: {
      parameters: shared.parameters, responses: shared.responses,
      securitySchemes: { guildKey: { type: 'http', scheme: 'bearer', description: 'A guild’s key.' } },
      schemas: schemas.components(),
    },
  };
}

/** `limited`: it may be refused for the moment; `counted`: and every reply says how much is left. */
function operationObject(operation: Operation, schemas: Schemas, limited: boolean, counted: boolean): JsonSchema {
  const { id, summary, description, tag, params, query, headers, body, key } = operation;
  const parameters = [...parametersOf(params, 'path', operation, schemas), ...parametersOf(query, 'query', operation, schemas), ...parametersOf(headers, 'header', operation, schemas)];
  return {
    operationId: id, summary, ...(description === undefined ? {} : { description }), tags: [tag],
    ...(parameters.length === 0 ? {} : { parameters }),
    ...(body === undefined ? {} : { requestBody: { required: body.optional !== true, content: { [body.mediaType ?? 'application/json']: { schema: schemas.convert(body.schema, 'input'), ...(body.example === undefined ? {} : { example: body.example }) }, ...Object.fromEntries((body.others ?? []).map((type) => [type, { schema: schemas.convert(body.schema, 'input') }])) } } }),
    responses: { ...Object.fromEntries(Object.entries(operation.replies).map(([status, reply]) => [status, replyObject(reply, schemas, counted)])), ...problemReplies(operation, limited) },
    security: key === 'needed' ? [{ guildKey: [] }] : key === 'optional' ? [{}, { guildKey: [] }] : [],
  };
}

function parametersOf(object: z.ZodObject | undefined, place: 'path' | 'query' | 'header', operation: Operation, schemas: Schemas): JsonSchema[] {
  if (object === undefined) return [];
  const { properties = {}, required = [] } = schemas.convert(object, 'input') as { properties?: Record<string, JsonSchema>; required?: string[] };
  return Object.entries(properties).map(([name, { description, ...schema }]) => ({
    name, in: place, required: place === 'path' || required.includes(name), ...(description === undefined ? {} : { description }), schema,
    ...(operation.parameterExamples?.[name] === undefined ? {} : { example: operation.parameterExamples[name] }),
  }));
}

const headersOf = (names: readonly (keyof typeof headerTable)[]): JsonSchema => Object.fromEntries(names.map((name) => [name, { description: headerTable[name], schema: { type: 'string' } }]));

function replyObject(reply: OperationReply, schemas: Schemas, counted: boolean): JsonSchema {
  const mediaType = reply.mediaType ?? (reply.schema === undefined ? undefined : 'application/json');
  return {
    description: reply.description, headers: headersOf(['Request-Id', ...(counted ? ['RateLimit', 'RateLimit-Policy'] as const : []), ...(reply.headers ?? [])]),
    ...(mediaType === undefined ? {} : { content: { [mediaType]: { schema: reply.schema === undefined ? { type: 'string' } : schemas.convert(reply.schema, 'output'), ...(reply.example === undefined ? {} : { example: reply.example }) } } }),
  };
}

function problemReplies(operation: Operation, limited: boolean): JsonSchema {
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of new Set([...operation.problems, ...(operation.body === undefined ? [] : withBody), ...(operation.tag === 'Pages' ? ofPages : []), ...(limited ? ['too-many-requests' as const, 'too-busy' as const] : []), ...everywhere])) {
    const { status } = catalogue[code];
    byStatus.set(status, [...(byStatus.get(status) ?? []), code]);
  }
  const reply = (description: string, status?: number): JsonSchema => ({
    description, headers: headersOf(['Request-Id', ...(status === 429 || status === 503 ? ['Retry-After' as const] : [])]),
    content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } }, ...(operation.tag === 'Pages' ? { 'text/html': { schema: { type: 'string' } } } : {}) },
  });
  return {
    ...Object.fromEntries([...byStatus].toSorted(([a], [b]) => a - b).map(([status, codes]) => [status, reply(`${codes.map((code) => catalogue[code].title).join('; ')}.`, status)])),
    default: reply('Any other failure.'),
  };
}
