/** What the service knows: units, yarn numbers, sources, models. Made once at the start; nothing here depends on a request. */
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Calculation } from '../calculations/calculation.js';
import { fromSI, kindNames, kinds, type Unit } from '../foundation/quantity.js';
import type { Source } from '../foundation/sources.js';
import { listOf, source } from '../parts.js';
import { signLine, signLines } from '../calculations/diagnosis/contract.js';
import { sendCacheable } from './etag.js';
import type { Operation, Tag } from './operation.js';
import { readQuery } from './query.js';
import { yarnLists } from './reference-yarn.js';
import { serialize } from './serialize.js';

const caching = 'public, max-age=3600';
const json = 'application/json; charset=utf-8';

const unit = z.object({
  name: z.string().describe('As it stands in an answer.'), definition: z.string(), also: z.array(z.string()).describe('Other spellings that are read.'),
  reciprocal: z.boolean().describe('Whether the number grows as the thing gets finer, as indirect yarn numbers do.'),
  inSI: z.number().describe('SI value of one of it.'),
}).meta({ id: 'Unit', description: 'A unit that is read and given.' });
const unitKind = z.object({
  kind: z.enum(kindNames as [string, ...string[]]), says: z.string(), metric: z.string().describe('Unit of a metric answer.'), imperial: z.string().describe('Unit of an imperial answer.'),
  example: z.string(), units: z.array(unit),
}).meta({ id: 'UnitKind', description: 'A kind of measure with its units.' });
const yarnNumber = z.object({
  name: z.string(), definition: z.string(), also: z.array(z.string()), counts: z.enum(['mass-of-a-length', 'lengths-in-a-mass']).describe('Direct: the larger, the thicker. Indirect: the larger, the finer.'),
  of100Tex: z.number().describe('The number of a yarn of 100 tex.'),
}).meta({ id: 'YarnNumberSystem', description: 'A system of yarn numbers.' });
const modelInfo = z.object({
  id: z.string(), version: z.string(), title: z.string(), summary: z.string(), calculation: z.string().describe('Its address.'), documentation: z.string(),
}).meta({ id: 'ModelInfo', description: 'A model with its version.' });

const unitOut = (u: Unit): z.output<typeof unit> => ({ name: u.name, definition: u.definition, also: [...u.also], reciprocal: u.reciprocal === true, inSI: u.num / u.den });

export interface Knowledge { readonly calculations: readonly Calculation[]; readonly sources: readonly Source[] }

export function referenceRoutes(app: FastifyInstance, known: Knowledge): void {
  const list = (path: string, id: string, component: string, item: z.ZodType, summary: string, items: readonly unknown[]): void => {
    const body = serialize({ items });
    cached(app, path, { id, tag: 'Reference', summary, schema: listOf(component, item, summary), example: { items: items.slice(0, 1) } }, () => body, json);
  };
  list('/v1/units', 'listUnits', 'UnitKindList', unitKind, 'Kinds of measure, their units and exact factors', kindNames.map((kind) => {
    const { says, units, metric, imperial, example } = kinds[kind];
    return { kind, says, metric, imperial, example, units: units.map(unitOut) };
  }));
  list('/v1/yarn-numbers', 'listYarnNumbers', 'YarnNumberSystemList', yarnNumber, 'Systems of yarn numbers', kinds.grist.units.map((u) => ({
    name: u.name, definition: u.definition, also: [...u.also], counts: u.reciprocal === true ? 'lengths-in-a-mass' : 'mass-of-a-length', of100Tex: fromSI(1e-4, u),
  })));
  for (const l of yarnLists()) list(l.path, l.id, l.component, l.item, l.summary, l.items);
  list('/v1/signs', 'listSigns', 'SignList', signLine, 'Signs that something is wrong, by where one notices them, the dangerous ones first', signLines);
  list('/v1/sources', 'listSources', 'SourceList', source, 'Published sources that the numbers rest on', known.sources);
  list('/v1/models', 'listModels', 'ModelList', modelInfo, 'Models, with the version that gives the numbers now', known.calculations.map(({ id, title, summary, model }) => ({
    id: model.id, version: model.version, title, summary, calculation: `/v1/${id}`, documentation: `/calculate/${id}`,
  })));
}

/** A route whose body does not depend on the request. */
export function cached(app: FastifyInstance, path: string, about: { id: string; tag: Tag; summary: string; schema?: z.ZodType; mediaType?: string; example?: unknown }, body: () => string | Promise<string>, mediaType: string): void {
  const operation: Operation = {
    id: about.id, tag: about.tag, summary: about.summary,
    replies: {
      200: { description: about.summary, headers: ['ETag', 'Cache-Control'], ...(about.schema === undefined ? {} : { schema: about.schema }), ...(about.mediaType === undefined ? {} : { mediaType: about.mediaType }), ...(about.example === undefined ? {} : { example: about.example }) },
      304: { description: 'It has not changed.' },
    },
    problems: ['unknown-field'],
  };
  app.get(path, { config: { operation } }, async (request, reply) => {
    readQuery(request.query, []);
    return sendCacheable(request, reply, await body(), mediaType, caching);
  });
}
