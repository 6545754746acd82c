/** All HTTP doors of a calculation, from its one object: by link, by JSON, by a wheel's id, and as a picture. */
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { AnswerOptions, Calculation } from '../calculations/calculation.js';
import type { Field } from '../foundation/fields.js';
import { ProblemError } from '../foundation/problems.js';
import { kinds } from '../foundation/quantity.js';
import { isObject, shown } from '../foundation/read.js';
import { envelope, strictParameter, unitsParameter } from '../parts.js';
import { about, answerText, type FoundWheel } from './answers.js';
import { isLong, type Apart, type Made } from './apart.js';
import { sendCacheable } from './etag.js';
import { pathOf } from './failures.js';
import { calculationCaching, privateCaching } from './headers.js';
import { askByLink, checkNames, linkDoor, readOptions, type LinkDoor } from './link.js';
import type { Operation } from './operation.js';
import type { Query } from './query.js';
import { namesSeveral, withSeveral, type FindSeveral } from './library-wheels.js';

export type { FoundWheel } from './answers.js';
/** Gives the profile of a wheel that whoever asks may see. Throws `wheel-not-found` or `library-unavailable`. */
export type FindWheel = (id: string, request: FastifyRequest) => Promise<FoundWheel>;
/** The same, and what finds several wheels, and cards. */
export type FindInLibrary = FindWheel & Pick<FindSeveral, 'card' | 'search'>;

const json = 'application/json; charset=utf-8';
const svg = 'image/svg+xml; charset=utf-8';
const tables = { ndjson: 'application/x-ndjson; charset=utf-8', csv: 'text/csv; charset=utf-8' } as const;
/** A long text in pieces, so that a slow reader holds it up and not the memory of its connection. */
function* piecesOf(text: string): Generator<string> {
  for (let at = 0; at < text.length; at += 65_536) yield text.slice(at, at + 65_536);
}
const always = ['invalid-request', 'unknown-field', 'cannot-answer'] as const;

/** The question with the library's wheel in place of `wheelId`, and that wheel. */
async function withLibraryWheel(calculation: Calculation, question: Record<string, unknown>, request: FastifyRequest, findWheel: FindWheel): Promise<{ question: Record<string, unknown>; wheel: FoundWheel }> {
  const { wheelId, ...rest } = question;
  if (typeof wheelId !== 'string') throw new ProblemError('wrong-type', undefined, { issues: [{ pointer: '/wheelId', code: 'wrong-type', detail: 'wheelId is text.', received: shown(wheelId), expected: 'the id of a wheel' }] });
  if (rest['wheel'] !== undefined) throw new ProblemError('one-of', undefined, { issues: [{ pointer: '/wheelId', code: 'one-of', detail: 'The wheel was given twice: as wheel and as wheelId.', received: 'wheel, wheelId', expected: 'one of them' }] });
  const wheel = await findWheel(wheelId, request);
  return { question: about(calculation, rest, wheel), wheel };
}

const namesWheel = (question: unknown): question is Record<string, unknown> => isObject(question) && question['wheelId'] !== undefined;

/** The names that its question has. */
const takenBy = (calculation: Calculation): ReadonlySet<string> => new Set(calculation.contract.question instanceof z.ZodObject ? Object.keys(calculation.contract.question.shape) : []);

export const namesLibrary = (question: unknown): question is Record<string, unknown> => isObject(question) && (namesWheel(question) || namesSeveral(question));
/** The question with everything of the library that it names, and the one wheel that it is about. */
export async function fromLibrary(calculation: Calculation, question: Record<string, unknown>, request: FastifyRequest, findWheel: FindInLibrary): Promise<{ question: Record<string, unknown>; wheel?: FoundWheel }> {
  const whole = namesSeveral(question) ? await withSeveral(question, request, findWheel, takenBy(calculation)) : question;
  return namesWheel(whole) ? withLibraryWheel(calculation, whole, request, findWheel) : { question: whole };
}

/** The problem of a body that is no object, or none at all. */
function noObject(body: unknown): ProblemError {
  const code = body === undefined ? 'invalid-json' : 'wrong-type';
  const detail = body === undefined ? 'The body is empty.' : 'The body should be an object.';
  return new ProblemError(code, detail, { issues: [{ pointer: '', code, detail, received: shown(body), expected: 'a JSON object' }] });
}

/** `apart` answers what takes long. */
export function mount(app: FastifyInstance, calculation: Calculation, findWheel: FindInLibrary, apart: Apart): void {
  const { id, contract } = calculation;
  let described: ReturnType<typeof describe> | undefined;
  const says = (door: keyof ReturnType<typeof describe>, mediaType = 'application/json') => ({ operation: () => (described ??= describe(calculation))[door], made: [mediaType] });
  type Make = (question: unknown, options: AnswerOptions, wheel?: FoundWheel) => string | Promise<string>;
  const orApart = (make: Made, here: (question: unknown, options: AnswerOptions, wheel?: FoundWheel) => string): Make => (question, options, wheel) => (isLong(id, question) ? apart.ask({ calculation: id, make, question, options, ...(wheel === undefined ? {} : { wheel }) }) : here(question, options, wheel));
  const answer = orApart('answer', (question, options, wheel) => answerText(calculation, question, options, wheel));
  const draw = calculation.picture === undefined ? undefined : orApart('picture', (question, options) => calculation.picture!(question, options));

  app.post(`/v1/${id}`, { config: says('post') }, (request, reply) => {
    const options = readOptions(request.query as Query);
    const question = request.body;
    if (!isObject(question)) throw noObject(question);
    reply.header('content-type', json);
    if (!namesLibrary(question)) {
      const made = answer(question, options);
      return typeof made === 'string' ? reply.send(made) : made;
    }
    return fromLibrary(calculation, question, request, findWheel).then((whole) => answer(whole.question, options, whole.wheel));
  });

  const byLink = (make: Make, mediaType: string) => {
    const door = linkDoor(calculation.fields, true);
    return (request: FastifyRequest, reply: FastifyReply): FastifyReply | Promise<FastifyReply> => {
      const send = (body: string): FastifyReply => sendCacheable(request, reply, body, mediaType, calculationCaching);
      const made = askByLink(door, pathOf(request.url), request.query as Query, undefined, (question, options) => make(question, options));
      return typeof made === 'string' ? send(made) : made.then(send);
    };
  };
  const byWheel = (make: Make, mediaType: string) => {
    const door: LinkDoor = linkDoor(calculation.fields, false);
    return async (request: FastifyRequest, reply: FastifyReply): Promise<FastifyReply> => {
      const [path, query] = [pathOf(request.url), request.query as Query];
      checkNames(door, path, query);
      const wheel = await findWheel((request.params as { id: string }).id, request);
      const body = await askByLink(door, path, query, wheel.profile, (question, options) => make(about(calculation, question as Record<string, unknown>, wheel), options, wheel));
      // The wheel may change at any time, so even a public answer is asked for again (304 when it has not).
      return sendCacheable(request, reply, body, mediaType, wheel.isPublic ? 'public, no-cache' : privateCaching);
    };
  };
  app.get(`/v1/${id}`, { config: says('get') }, byLink(answer, json));
  // Not every question is about a wheel.
  const ofWheel = contract.question instanceof z.ZodObject && 'wheel' in contract.question.shape;
  if (ofWheel) app.get(`/v1/wheels/:id/${id}`, { config: says('byWheel') }, byWheel(answer, json));
  // Always apart: they may be long.
  for (const form of calculation.table === undefined ? [] : ['ndjson', 'csv'] as const) {
    const made: Make = (question, options) => apart.ask({ calculation: id, make: form, question, options });
    app.get(`/v1/${id}.${form}`, { config: says(`${form}ByLink`, tables[form].split(';')[0]!) }, byLink(made, tables[form]));
    app.post(`/v1/${id}.${form}`, { config: says(form, tables[form].split(';')[0]!) }, async (request, reply) => {
      const options = readOptions(request.query as Query);
      const question = request.body;
      if (!isObject(question)) throw noObject(question);
      const whole = namesLibrary(question) ? await fromLibrary(calculation, question, request, findWheel) : { question };
      return reply.type(tables[form]).send(Readable.from(piecesOf(await made(whole.question, options))));
    });
  }
  if (draw === undefined) return;
  app.get(`/v1/${id}.svg`, { config: says('picture', 'image/svg+xml') }, byLink(draw, svg));
  if (ofWheel) app.get(`/v1/wheels/:id/${id}.svg`, { config: says('wheelPicture', 'image/svg+xml') }, byWheel(draw, svg));
}

const tableLine = z.union([z.array(z.number()), z.object({ columns: z.array(z.object({ name: z.string(), unit: z.string() }).meta({ id: 'TableColumn', description: 'A column with its unit.' })) }).meta({ id: 'TableHead', description: 'The first line: what the numbers are.' }), z.object({ end: z.literal(true), rows: z.int().min(0) }).meta({ id: 'TableEnd', description: 'The last line: how many moments came before it.' })]).meta({ id: 'TableLine', description: 'One line.' });

const camel = (id: string): string => id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
export const replyName = (id: string): string => camel(id).replace(/^\w/, (letter) => letter.toUpperCase());

/** A field as a query parameter. */
function parameter(field: Field): z.ZodType {
  const example = field.kind in kinds ? `, such as ${kinds[field.kind as keyof typeof kinds].example}` : field.kind === 'ratio' ? ', such as 9:1' : '';
  const one = field.choices === undefined ? z.string().min(1).max(200) : z.enum(field.choices.map((choice) => choice.value));
  const said = `${field.label}${example}.${field.hint === undefined ? '' : ` ${field.hint[0]!.toUpperCase()}${field.hint.slice(1)}.`}`;
  return (field.repeats === true ? z.array(one) : one).exactOptional().describe(said);
}

function parameters(fields: readonly Field[]): z.ZodObject {
  return z.strictObject({ ...Object.fromEntries(fields.map((field) => [field.name, parameter(field)])), units: unitsParameter.exactOptional(), strict: strictParameter.exactOptional() });
}

function describe(calculation: Calculation): Record<'post' | 'get' | 'byWheel' | 'picture' | 'wheelPicture' | 'ndjson' | 'csv' | 'ndjsonByLink' | 'csvByLink', Operation> {
  const { id, title, summary, contract } = calculation;
  const name = camel(id);
  const reply = envelope(`${replyName(id)}Reply`, contract.result);
  const example = calculation.answer(contract.example);
  const linkExamples: Record<string, unknown> = {};
  for (const [key, value] of new URLSearchParams(contract.exampleQuery)) {
    linkExamples[key] = calculation.fields.list.some((f) => f.name === key && f.repeats === true) ? [...((linkExamples[key] as string[] | undefined) ?? []), value] : value;
  }
  const ofQuestion = calculation.fields.list.filter((f) => f.ofWheel !== true);
  const wheelId = z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel of the library.') });
  const options = z.strictObject({ units: unitsParameter.exactOptional(), strict: strictParameter.exactOptional() });
  const drawn = { 200: { description: 'The picture, to scale, with its text alternative inside.', mediaType: 'image/svg+xml', headers: ['ETag', 'Cache-Control'] as const } };
  const answered = { 200: { description: summary, schema: reply, example, headers: ['ETag', 'Cache-Control'] as const } };
  const unchanged = { 304: { description: 'It has not changed.' } };
  const library = ['wheel-not-found', 'unauthorized', 'library-unavailable'] as const;
  const common = { tag: 'Calculations' as const };
  const inRows = { 200: { description: 'The columns with their units, a list of numbers for each moment, and an end record with their count.', mediaType: 'application/x-ndjson', schema: tableLine } };
  const asTable = { 200: { description: 'A head with the units in it, and a line for each moment.', mediaType: 'text/csv' } };
  return {
    ndjson: { ...common, id: `${name}Rows`, summary: `${title}, moment by moment`, description: 'The question with `series`; one JSON value on each line.', query: options, body: { schema: contract.question, example: { ...(contract.example as object), series: '0.1 s' } }, replies: inRows, problems: [...always, ...library] },
    csv: { ...common, id: `${name}Table`, summary: `${title}, moment by moment, as a table`, description: 'The question with `series`; CSV.', query: options, body: { schema: contract.question, example: { ...(contract.example as object), series: '0.1 s' } }, replies: asTable, problems: [...always, ...library] },
    ndjsonByLink: { ...common, id: `${name}RowsByLink`, summary: `${title}, moment by moment, by link`, query: parameters(calculation.fields.list), parameterExamples: { ...linkExamples, series: '0.1 s' }, replies: { 200: { ...inRows[200], headers: ['ETag', 'Cache-Control'] }, ...unchanged }, problems: always },
    csvByLink: { ...common, id: `${name}TableByLink`, summary: `${title}, moment by moment, as a table, by link`, query: parameters(calculation.fields.list), parameterExamples: { ...linkExamples, series: '0.1 s' }, replies: { 200: { ...asTable[200], headers: ['ETag', 'Cache-Control'] }, ...unchanged }, problems: always },
    post: { ...common, id: name, summary: title, description: `${summary} The whole question as JSON. A wheel is given as wheel, or by the id of one in the library as wheelId.`, query: options, body: { schema: contract.question, example: contract.example }, replies: { 200: { description: summary, schema: reply, example } }, problems: [...always, ...library, ...(takenBy(calculation).has('library') ? ['forbidden', 'too-many', 'card-not-found'] as const : [])] },
    get: { ...common, id: `${name}ByLink`, summary: `${title}, by link`, description: `${summary} The question as flat text: for links, forms and embeds. Gives the same answer as POST.`, query: parameters(calculation.fields.list), parameterExamples: linkExamples, replies: { ...answered, ...unchanged }, problems: always },
    byWheel: { ...common, id: `wheel${replyName(id)}`, summary: `${title} of a wheel of the library`, description: `${summary} The wheel is taken from the library.`, params: wheelId, query: parameters(ofQuestion), replies: { ...answered, ...unchanged }, problems: [...always, ...library], key: 'optional' },
    picture: { ...common, id: `${name}Picture`, summary: `${title}, as a picture`, query: parameters(calculation.fields.list), parameterExamples: linkExamples, replies: { ...drawn, ...unchanged }, problems: always },
    wheelPicture: { ...common, id: `wheel${replyName(id)}Picture`, summary: `${title} of a wheel of the library, as a picture`, params: wheelId, query: parameters(ofQuestion), replies: { ...drawn, ...unchanged }, problems: [...always, ...library], key: 'optional' },
  };
}
