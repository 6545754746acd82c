/** Up to 1000 questions of any calculations in one request: each answered or refused by itself, in order, with the same bytes as alone. */
import { setImmediate as breathe } from 'node:timers/promises';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { AnswerOptions, Calculation } from '../calculations/calculation.js';
import type { Issue } from '../foundation/problems.js';
import { nearest, Reader, shown } from '../foundation/read.js';
import { envelope, problem, unitsParameter } from '../parts.js';
import { answerText } from './answers.js';
import { isLong, type Apart } from './apart.js';
import { asProblem } from './failures.js';
import { optionsOf } from './link.js';
import { fromLibrary, namesLibrary, replyName, type FindInLibrary } from './mount.js';
import type { Operation } from './operation.js';
import { readQuery } from './query.js';

export const mostQuestions = 1000;
/** Milliseconds after which other requests get their turn. */
const turn = 20;
const names = ['id', 'calculation', 'question', 'units', 'strict'] as const;

interface Item { readonly id?: string; readonly calculation: string; readonly status: number; readonly body: string }

export function batchRoute(app: FastifyInstance, calculations: readonly Calculation[], findWheel: FindInLibrary, apart: Apart): void {
  const byId = new Map(calculations.map((calculation) => [calculation.id, calculation]));
  app.post('/v1/batch', { config: { operation: () => operation(calculations), made: ['application/json'] } }, async (request, reply) => {
    readQuery(request.query, []);
    const reader = new Reader();
    const body = reader.object(request.body, '', ['questions']);
    if (body !== undefined && body['questions'] === undefined) reader.missing('/questions', 'A list of questions', '{"questions": [{"calculation": "ratio", "question": {…}}]}');
    const questions = body?.['questions'] === undefined ? [] : reader.list(body['questions'], '/questions', mostQuestions, 'questions');
    reader.done();
    const items: string[] = [];
    let since = performance.now();
    for (const entry of questions!) {
      if (performance.now() - since > turn) {
        await breathe();
        since = performance.now();
      }
      items.push(itemText(await answerOne(entry, byId, request, findWheel, apart)));
    }
    return reply.type('application/json; charset=utf-8').send(`{"items":[${items.join(',')}]}`);
  });
}

async function answerOne(entry: unknown, byId: ReadonlyMap<string, Calculation>, request: FastifyRequest, findWheel: FindInLibrary, apart: Apart): Promise<Item> {
  const known: { id?: string; calculation: string } = { calculation: '' };
  try {
    const reader = new Reader();
    const o = reader.object(entry, '', names) ?? {};
    if (typeof o['id'] === 'string' && o['id'].length <= 200) known.id = o['id'];
    else if (o['id'] !== undefined) reader.wrongType('/id', o['id'], 'text of at most 200 signs');
    if (typeof o['calculation'] === 'string') known.calculation = shown(o['calculation']);
    const calculation = chosen(o['calculation'], byId, reader);
    if (o['question'] === undefined) reader.missing('/question', 'The question', 'what is posted to the calculation alone');
    const options = readOptions(o, reader);
    reader.done();
    const question = o['question'];
    const whole = namesLibrary(question) ? await fromLibrary(calculation!, question, request, findWheel) : { question };
    const wheel = 'wheel' in whole ? whole.wheel : undefined;
    const { id } = calculation!;
    const body = isLong(id, whole.question) ? await apart.ask({ calculation: id, make: 'answer', question: whole.question, options, ...(wheel === undefined ? {} : { wheel }) }) : answerText(calculation!, whole.question, options, wheel);
    return { ...known, status: 200, body };
  } catch (error) {
    const problem = asProblem(error);
    if (problem.status >= 500 && problem.code === 'internal-error') request.log.error({ err: problem.cause ?? problem, requestId: request.id }, problem.code);
    return { ...known, status: problem.status, body: JSON.stringify(problem.document()) };
  }
}

function chosen(value: unknown, byId: ReadonlyMap<string, Calculation>, reader: Reader): Calculation | undefined {
  const ids = [...byId.keys()];
  if (value === undefined) return reader.missing('/calculation', 'The calculation', ids.join(', '));
  if (typeof value !== 'string') return reader.wrongType('/calculation', value, `one of ${ids.join(', ')}`);
  const found = byId.get(value);
  if (found !== undefined) return found;
  const near = nearest(value, ids);
  return reader.fail('/calculation', { code: 'unknown-choice', detail: `“${shown(value)}” is not one of the calculations.`, received: shown(value), expected: `one of ${ids.join(', ')}`, ...(near === undefined ? {} : { try: near }) });
}

function readOptions(o: Record<string, unknown>, reader: Reader): AnswerOptions {
  const { units, strict } = o;
  if (units !== undefined && typeof units !== 'string') reader.wrongType('/units', units, 'text such as metric');
  if (strict !== undefined && typeof strict !== 'boolean') reader.wrongType('/strict', strict, 'true or false');
  const issues: Issue[] = [];
  const options = optionsOf({ ...(typeof units === 'string' ? { units: [units] } : {}), ...(strict === true ? { strict: ['true'] } : {}) }, issues);
  for (const { parameter, ...issue } of issues) reader.fail(`/${parameter}`, issue);
  return options;
}

const itemText = (item: Item): string =>
  `{${item.id === undefined ? '' : `"id":${JSON.stringify(item.id)},`}"calculation":${JSON.stringify(item.calculation)},"status":${item.status},"body":${item.body}}`;

function operation(calculations: readonly Calculation[]): Operation {
  const [one, ...more] = calculations.map((calculation) => z.strictObject({
    id: z.string().max(200).exactOptional().describe('Yours; given back with the answer.'), calculation: z.literal(calculation.id), question: calculation.contract.question,
    units: unitsParameter.exactOptional(), strict: z.boolean().exactOptional().describe('true: be refused rather than warned.'),
  }).meta({ id: `${replyName(calculation.id)}BatchQuestion`, description: `${calculation.title}, as one of a batch.` }));
  const question = more.length === 0 ? one! : z.union([one!, ...more]).meta({ id: 'BatchQuestion', description: 'One question of a batch.' });
  const body = z.strictObject({ questions: z.array(question).max(mostQuestions) }).meta({ id: 'Batch', description: 'Questions of any calculations.' });
  const answers = [...calculations.map((calculation) => envelope(`${replyName(calculation.id)}Reply`, calculation.contract.result)), problem];
  const item = z.object({
    id: z.string().exactOptional(), calculation: z.string(), status: z.int().min(200).max(599).describe('What the question alone would have been answered with.'), body: z.union(answers),
  }).meta({ id: 'BatchItem', description: 'The answer or the problem of one question.' });
  const [first] = calculations;
  const example = { questions: [{ id: 'row 1', calculation: first!.id, question: first!.contract.example }] };
  return {
    id: 'batch', tag: 'Calculations', summary: 'Many questions at once', description: `Up to ${mostQuestions} questions, each answered or refused by itself; the order and your ids are kept.`,
    body: { schema: body, example },
    replies: { 200: { description: 'An answer or a problem for each question, in order.', schema: z.object({ items: z.array(item) }).meta({ id: 'BatchReply', description: 'Answers of a batch.' }), example: { items: [{ id: 'row 1', calculation: first!.id, status: 200, body: first!.answer(first!.contract.example) }] } } },
    problems: ['invalid-request', 'unknown-field', 'cannot-answer', 'too-many'],
  };
}
