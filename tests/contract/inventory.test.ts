/** The routes and the specification list the same; the committed specification is what the routes say now; its examples are true. */
import { readFile } from 'node:fs/promises';
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { catalogue } from '../../services/foundation/problems.js';
import { inFull } from '../../sdk/generate/spec.js';
import { patiently } from '../support/http.js';
import { openWhole } from '../support/whole.js';
import { checker } from './check.js';
import type { Schema, Spec } from './requests.js';

let app: FastifyInstance;
let close: () => Promise<void>;
let made: Spec;
let spec: Spec;
beforeAll(async () => {
  ({ app, close } = await openWhole());
  made = await app.specification() as Spec;
  spec = inFull(made);
}, 60_000);
afterAll(() => close());

it('every route is in the specification, and the other way round', () => {
  // Files that pages load are no operations.
  const routes = app.paths.list().filter(({ url }) => !/^\/(docs|assets|embeds)(\/|$)/.test(url))
    .flatMap(({ url, methods }) => methods.filter((m) => m !== 'HEAD' && m !== 'OPTIONS').map((m) => `${m} ${url.replace(/:(\w+)/g, '{$1}')}`));
  const operations = Object.entries(spec.paths).flatMap(([path, methods]) => Object.keys(methods).map((m) => `${m.toUpperCase()} ${path}`));
  expect(routes.length).toBeGreaterThan(10);
  expect(operations.toSorted()).toEqual(routes.toSorted());
});

it('names of operations are unique and camelCase', () => {
  const ids = Object.values(spec.paths).flatMap((methods) => Object.values(methods).map((o) => o.operationId));
  expect(new Set(ids).size).toBe(ids.length);
  for (const id of ids) expect(id).toMatch(/^[a-z][a-zA-Z0-9]*$/);
});

it('the committed specification is the one that the routes make', async () => {
  const now = JSON.parse(JSON.stringify(made)) as Record<string, unknown>;
  const committed = JSON.parse(await readFile('sdk/openapi.json', 'utf8')) as Record<string, unknown>;
  const [a, b] = [new Map(leaves(now)), new Map(leaves(committed))];
  expect(a.size).toBeGreaterThan(1000);
  const changed = [...new Set([...a.keys(), ...b.keys()])].filter((at) => a.get(at) !== b.get(at));
  expect(changed.slice(0, 10), 'npm run gen writes it anew').toEqual([]);
});

/** Every value in it, with its place. */
function leaves(value: unknown, at = ''): [string, string][] {
  if (typeof value !== 'object' || value === null || Object.keys(value).length === 0) return [[at, JSON.stringify(value)]];
  return Object.entries(value).flatMap(([key, member]) => leaves(member, `${at}/${key}`));
}

it('nothing in it is open to anything', () => {
  const open: string[] = [];
  const visit = (schema: Schema, at: string): void => {
    const says = ['type', '$ref', 'anyOf', 'enum', 'const'].some((key) => schema[key] !== undefined);
    if (!says || schema['additionalProperties'] === true || (schema.type === 'object' && schema.properties === undefined && schema['additionalProperties'] === undefined)) open.push(at);
    for (const [name, part] of Object.entries(schema.properties ?? {})) visit(part, `${at}/${name}`);
    for (const [i, part] of (schema.anyOf ?? []).entries()) visit(part, `${at}/anyOf/${i}`);
    if (schema.items !== undefined) visit(schema.items, `${at}/items`);
  };
  for (const [name, schema] of Object.entries(spec.components.schemas)) visit(schema, name);
  for (const [path, methods] of Object.entries(spec.paths)) {
    for (const operation of Object.values(methods)) {
      for (const parameter of operation.parameters ?? []) visit(parameter.schema, `${path} ${parameter.name}`);
      for (const [kind, body] of Object.entries(operation.requestBody?.content ?? {})) visit(body.schema, `${path} ${kind}`);
      for (const [status, reply] of Object.entries(operation.responses)) for (const body of Object.values(reply.content ?? {})) visit(body.schema, `${path} ${status}`);
    }
  }
  expect(open).toEqual([]);
});

it('every failure is declared: a problem for each status and for any other', () => {
  for (const methods of Object.values(spec.paths)) {
    for (const operation of Object.values(methods)) {
      for (const status of ['400', '406', '414', '500', 'default']) expect(operation.responses[status]?.content).toHaveProperty('application/problem+json');
      if (operation.requestBody !== undefined) for (const status of ['413', '415']) expect(operation.responses[status]?.content).toHaveProperty('application/problem+json');
    }
  }
});

it('the codes of problems are those of the catalogue', () => {
  expect(spec.components.schemas['Issue']!.properties!['code']!.enum).toEqual(Object.keys(catalogue));
});

it('calculations answer their examples as the specification shows them', async () => {
  const check = checker(spec);
  let ran = 0;
  for (const [path, methods] of Object.entries(spec.paths)) {
    for (const [method, operation] of Object.entries(methods)) {
      const reply = operation.responses['200']?.content?.['application/json'];
      if (!['Calculations', 'Reference'].includes(operation.tags[0]!) || path.includes('{') || reply?.example === undefined) continue;
      const query = new URLSearchParams((operation.parameters ?? []).flatMap((p) => (p.in === 'query' && p.example !== undefined ? [p.example].flat().map((v): [string, string] => [p.name, String(v)]) : [])));
      const body = operation.requestBody?.content['application/json']?.example;
      const got = await patiently(() => app.inject({ method: method.toUpperCase() as 'GET', url: `${path}?${query}`, ...(body === undefined ? {} : { payload: body as object }) }));
      check(operation, got, `${method} ${path}`);
      expect(got.statusCode).toBe(200);
      if (method === 'post') expect(got.json()).toEqual(reply.example);
      ran++;
    }
  }
  expect(ran).toBeGreaterThan(5);
});
