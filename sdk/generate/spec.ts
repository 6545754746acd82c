/** The specification as the generator reads it. Whatever it holds that is not named here is refused: a keyword passed over in silence would be a wrong type. */

export type Json = { readonly [key: string]: unknown };
export interface Parameter { readonly name: string; readonly in: 'path' | 'query' | 'header'; readonly required?: boolean; readonly description?: string; readonly schema: Json; readonly example?: unknown }
export interface Media { readonly schema: Json }
export interface SpecOperation {
  readonly operationId: string; readonly summary: string; readonly description?: string; readonly tags: readonly string[]; readonly deprecated?: boolean;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly required?: boolean; readonly content: Readonly<Record<string, Media>> };
  readonly responses: Readonly<Record<string, { readonly content?: Readonly<Record<string, Media>> }>>;
}
export interface Spec {
  readonly info: { readonly version: string };
  readonly paths: Readonly<Record<string, Readonly<Record<string, SpecOperation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Json>> };
}

export class NotKnown extends Error {
  constructor(at: string, what: string) { super(`${at}: the generator does not know ${what}.`); }
}

const isObject = (v: unknown): v is Json => typeof v === 'object' && v !== null && !Array.isArray(v);
type Visit = (value: unknown, at: string) => void;

/** A visitor of objects that hold these keywords and no other. */
const object = (members: Readonly<Record<string, Visit>>): Visit => (value, at) => {
  if (!isObject(value)) throw new NotKnown(at, 'anything but an object here');
  for (const [key, member] of Object.entries(value)) {
    if (!Object.hasOwn(members, key)) throw new NotKnown(at, `“${key}”`);
    members[key]!(member, `${at}/${key.replaceAll('~', '~0').replaceAll('/', '~1')}`);
  }
};
const each = (visit: Visit): Visit => (value, at) => {
  if (typeof value !== 'object' || value === null) throw new NotKnown(at, 'anything but a list or a map here');
  for (const [key, member] of Object.entries(value)) visit(member, `${at}/${key.replaceAll('~', '~0').replaceAll('/', '~1')}`);
};
const anything: Visit = () => {};
const text: Visit = (value, at) => { if (typeof value !== 'string') throw new NotKnown(at, 'anything but text here'); };
const number: Visit = (value, at) => { if (typeof value !== 'number') throw new NotKnown(at, 'anything but a number here'); };
const flag: Visit = (value, at) => { if (typeof value !== 'boolean') throw new NotKnown(at, 'anything but true or false here'); };
const one = (...words: readonly unknown[]): Visit => (value, at) => { if (!words.includes(value)) throw new NotKnown(at, `${JSON.stringify(value)}`); };

const ref: Visit = (value, at) => { if (typeof value !== 'string' || !/^#\/components\/schemas\/[A-Z]\w*$/.test(value)) throw new NotKnown(at, `the reference ${JSON.stringify(value)}`); };
const openOrShut: Visit = (value, at) => (typeof value === 'boolean' ? undefined : schema(value, at));
const schemaWords: Readonly<Record<string, Visit>> = {
  $ref: ref, type: one('object', 'array', 'string', 'number', 'integer', 'boolean', 'null'), title: text, description: text, deprecated: flag,
  properties: each((v, at) => schema(v, at)), required: each(text), additionalProperties: openOrShut, propertyNames: (v, at) => schema(v, at), items: (v, at) => schema(v, at),
  enum: each(text), const: anything, anyOf: each((v, at) => schema(v, at)), oneOf: each((v, at) => schema(v, at)), discriminator: object({ propertyName: text, mapping: each(ref) }),
  default: anything, example: anything, examples: each(anything), format: one('date-time', 'date', 'uuid', 'uri', 'double', 'int64'), pattern: text,
  minimum: number, maximum: number, exclusiveMinimum: number, exclusiveMaximum: number, multipleOf: number,
  minLength: number, maxLength: number, minItems: number, maxItems: number, uniqueItems: flag, readOnly: flag,
};
const schema: Visit = object(schemaWords);

const mediaTypes = ['application/json', 'application/problem+json', 'application/merge-patch+json', 'application/x-ndjson', 'application/ndjson', 'text/plain', 'text/html', 'text/csv', 'text/tab-separated-values', 'text/event-stream', 'text/markdown', 'image/svg+xml'];
const shared = (room: string, whole: Visit): Visit => (value, at) => {
  if (!isObject(value) || !Object.hasOwn(value, '$ref')) return whole(value, at);
  if (Object.keys(value).length > 1 || !new RegExp(`^#/components/${room}/[A-Z]\\w*$`).test(String(value['$ref']))) throw new NotKnown(at, `the reference ${JSON.stringify(value)}`);
};
const content: Visit = (value, at) => {
  for (const key of Object.keys(value as object)) one(...mediaTypes)(key, at);
  each(object({ schema, example: anything, examples: each(object({ summary: text, description: text, value: anything })) }))(value, at);
};
const header = object({ description: text, schema, required: flag });
const parameter = object({ name: text, in: one('path', 'query', 'header'), required: flag, description: text, deprecated: flag, schema, example: anything, style: one('form', 'simple'), explode: one(true) });
const reply = object({ description: text, headers: each(header), content });
const operation = object({
  operationId: text, summary: text, description: text, tags: each(text), deprecated: flag, parameters: each(shared('parameters', parameter)),
  requestBody: object({ required: flag, description: text, content }),
  responses: each(shared('responses', reply)), security: each(each(each(text))),
});
const document = object({
  openapi: (value, at) => { if (!/^3\.1\./.test(String(value))) throw new NotKnown(at, `version ${String(value)}`); },
  info: object({ title: text, summary: text, description: text, version: text, license: object({ name: text, identifier: text }) }),
  servers: each(object({ url: text, description: text })), tags: each(object({ name: text, description: text })), security: each(each(each(text))),
  paths: each(each(operation)),
  components: object({ schemas: each(schema), parameters: each(parameter), responses: each(reply), securitySchemes: each(object({ type: one('http'), scheme: one('bearer'), description: text })) }),
});

/** The document, once every part of it is known to the generator. Throws `NotKnown` with the place of what is not. */
export function readSpec(value: unknown): Spec {
  document(value, '#');
  const spec = inFull(value as Spec);
  const names = new Set<string>();
  for (const [path, methods] of Object.entries(spec.paths)) {
    for (const [method, { operationId }] of Object.entries(methods)) {
      one('get', 'post', 'put', 'patch', 'delete')(method, `#/paths${path}`);
      if (!/^[a-z]\w*$/.test(operationId ?? '')) throw new NotKnown(`#/paths${path}/${method}`, `the name ${operationId}`);
      if (names.has(operationId)) throw new NotKnown(`#/paths${path}/${method}`, `two operations named ${operationId}`);
      names.add(operationId);
    }
  }
  const follow = (part: unknown, at: string): void => {
    if (typeof part !== 'object' || part === null) return;
    for (const [key, member] of Object.entries(part)) {
      if (key === '$ref' && !Object.hasOwn(spec.components.schemas, nameOf(member as string))) throw new NotKnown(at, `${String(member)}, which is not there`);
      if (key !== 'example' && key !== 'examples' && key !== 'const' && key !== 'default') follow(member, `${at}/${key}`);
    }
  };
  follow(spec.paths, '#/paths');
  follow(spec.components, '#/components');
  return spec;
}

/** The document with every parameter and reply written out where it is used. */
export function inFull<S extends { readonly paths: object; readonly components: object }>(spec: S): S {
  const visit = (part: unknown): unknown => {
    if (typeof part !== 'object' || part === null) return part;
    if (Array.isArray(part)) return part.map(visit);
    const [, room, name] = /^#\/components\/(parameters|responses)\/(\w+)$/.exec(String((part as Json)['$ref'])) ?? [];
    if (room === undefined) return Object.fromEntries(Object.entries(part).map(([key, member]) => [key, key === 'example' || key === 'examples' ? (member as unknown) : visit(member)]));
    const found = (spec.components as Readonly<Record<string, Json | undefined>>)[room]?.[name!];
    if (found === undefined) throw new NotKnown('#', `${room}/${name}, which is not there`);
    return found;
  };
  return { ...spec, paths: visit(spec.paths) as S['paths'] };
}

export const nameOf = (reference: string): string => reference.slice('#/components/schemas/'.length);

/** Names of all components that this part of the document reaches. */
export function reached(spec: Spec, part: unknown, found = new Set<string>()): Set<string> {
  if (typeof part !== 'object' || part === null) return found;
  for (const [key, member] of Object.entries(part)) {
    if (key === '$ref' && typeof member === 'string') {
      const name = nameOf(member);
      if (found.has(name)) continue;
      found.add(name);
      reached(spec, spec.components.schemas[name], found);
    } else if (key !== 'example' && key !== 'examples') reached(spec, member, found);
  }
  return found;
}
