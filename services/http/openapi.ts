/** The specification, OpenAPI 3.1, from what the routes say about themselves. */
import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { catalogue, type ProblemCode } from '../foundation/problems.js';
import { problem } from '../parts.js';
import { headerTable } from './headers.js';
import { operationNow, type Operation, type OperationReply, type Tag } from './operation.js';
import { cached } from './reference.js';
import { Schemas, type JsonSchema } from './schemas.js';

const tags: Record<Tag, string> = {
  Calculations: 'Questions about a wheel and its yarn. They need no key and no library.',
  Wheels: 'The library of wheel profiles. Reading public wheels needs no key.',
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

export async function openapi(app: FastifyInstance, version: string): Promise<void> {
  const operations = new Map<string, Operation>();
  const places = new Map<string, string>();
  await app.register(swagger, {
    openapi: { openapi: '3.1.0', info: { ...about, version }, servers: [{ url: '/' }] },
    transform: ({ url, route }) => {
      const said = route.config?.operation;
      if (said === undefined || route.method === 'HEAD') return { url, schema: { hide: true } };
      const operation = operationNow(said);
      const place = `${String(route.method)} ${url}`;
      if ((places.get(operation.id) ?? place) !== place) throw new Error(`two operations are named ${operation.id}`);
      places.set(operation.id, place);
      operations.set(operation.id, operation);
      return { url, schema: { operationId: operation.id } };
    },
    transformObject: (document) => whole('openapiObject' in document ? (document.openapiObject as JsonSchema) : {}, operations) as never,
  });
  await app.register(swaggerUi, { routePrefix: '/docs', staticCSP: true, uiConfig: { deepLinking: true, defaultModelsExpandDepth: 0 } });
  let text: string | undefined;
  cached(app, '/openapi.json', {
    id: 'specification', tag: 'Service', summary: 'This specification', schema: z.object({ openapi: z.string(), info: z.object({ title: z.string(), summary: z.string(), description: z.string(), version: z.string(), license: z.object({ name: z.string(), identifier: z.string() }) }) }).meta({ id: 'Specification', description: 'An OpenAPI 3.1 document.' }),
    example: { openapi: '3.1.0', info: { ...about, version } },
  }, () => (text ??= JSON.stringify(app.swagger())), 'application/json; charset=utf-8');
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
      return [method, operationObject(operation, schemas)];
    })),
  ]);
  return {
    openapi: document['openapi'], info: document['info'], servers: document['servers'],
    tags: (Object.keys(tags) as Tag[]).filter((name) => used.has(name)).map((name) => ({ name, description: tags[name] })),
    paths: Object.fromEntries(paths),
    components: {
      securitySchemes: { guildKey: { type: 'http', scheme: 'bearer', description: 'A guild’s key.' } },
      schemas: schemas.components(),
    },
  };
}

function operationObject(operation: Operation, schemas: Schemas): JsonSchema {
  const { id, summary, description, tag, params, query, headers, body, key } = operation;
  const parameters = [...parametersOf(params, 'path', operation, schemas), ...parametersOf(query, 'query', operation, schemas), ...parametersOf(headers, 'header', operation, schemas)];
  return {
    operationId: id, summary, ...(description === undefined ? {} : { description }), tags: [tag],
    ...(parameters.length === 0 ? {} : { parameters }),
    ...(body === undefined ? {} : { requestBody: { required: body.optional !== true, content: { [body.mediaType ?? 'application/json']: { schema: schemas.convert(body.schema, 'input'), ...(body.example === undefined ? {} : { example: body.example }) } } } }),
    responses: { ...Object.fromEntries(Object.entries(operation.replies).map(([status, reply]) => [status, replyObject(reply, schemas)])), ...problemReplies(operation) },
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

function replyObject(reply: OperationReply, schemas: Schemas): JsonSchema {
  const mediaType = reply.mediaType ?? (reply.schema === undefined ? undefined : 'application/json');
  return {
    description: reply.description, headers: headersOf(['Request-Id', ...(reply.headers ?? [])]),
    ...(mediaType === undefined ? {} : { content: { [mediaType]: { schema: reply.schema === undefined ? { type: 'string' } : schemas.convert(reply.schema, 'output'), ...(reply.example === undefined ? {} : { example: reply.example }) } } }),
  };
}

function problemReplies(operation: Operation): JsonSchema {
  const byStatus = new Map<number, ProblemCode[]>();
  for (const code of new Set([...operation.problems, ...(operation.body === undefined ? [] : withBody), ...(operation.tag === 'Pages' ? ofPages : []), ...everywhere])) {
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
