/** Every moment of a run by NDJSON and CSV: the same numbers as in the answer, more of them than an answer holds, and refused with what to change. */
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { draftCycle } from '../../../services/calculations/index.js';
import { readCsv } from '../../../services/foundation/csv.js';
import { openApp, problemIn } from '../../support/http.js';

interface Series { columns: { name: string; unit: string }[]; rows: number[][] }
let app: FastifyInstance;
beforeAll(async () => { app = await openApp(); });
afterAll(() => app.close());
const example = draftCycle.contract.example as Record<string, unknown>;
const post = (form: string, question: unknown, units = 'metric') => app.inject({ method: 'POST', url: `/v1/draft-cycle.${form}?units=${units}`, payload: question as object });
const link = (form: string, more: string) => app.inject(`/v1/draft-cycle.${form}?${draftCycle.contract.exampleQuery}&${more}`);

it.each(['metric', 'imperial'])('holds the numbers of the answer, by NDJSON and by CSV (%s)', async (units) => {
  const question = { ...example, series: '0.05 s' };
  const inAnswer = await app.inject({ method: 'POST', url: `/v1/draft-cycle?units=${units}`, payload: question });
  const { series } = inAnswer.json<{ result: { series: Series } }>().result;
  expect(series.rows.length).toBeGreaterThan(20);
  const ndjson = await post('ndjson', question, units);
  expect(ndjson.headers['content-type']).toBe('application/x-ndjson; charset=utf-8');
  const [head, ...lines] = ndjson.body.trimEnd().split('\n').map((line) => JSON.parse(line) as unknown);
  expect(head).toEqual({ columns: series.columns });
  expect(lines.at(-1)).toEqual({ end: true, rows: series.rows.length });
  expect(lines.slice(0, -1)).toEqual(series.rows);
  const csv = await post('csv', question, units);
  expect(csv.headers['content-type']).toBe('text/csv; charset=utf-8');
  const [names, ...rows] = readCsv(csv.body).map((row) => row.cells);
  expect(names).toEqual(series.columns.map((c) => `${c.name} (${c.unit})`));
  expect(rows.map((cells) => cells.map(Number))).toEqual(series.rows);
});

it('by link the same, with a tag', async () => {
  const reply = await link('ndjson', 'series=0.05+s');
  expect(reply.statusCode, reply.body.slice(0, 200)).toBe(200);
  expect(reply.body).toBe((await post('ndjson', { ...example, series: '0.05 s' })).body);
  const again = await app.inject({ url: `/v1/draft-cycle.ndjson?${draftCycle.contract.exampleQuery}&series=0.05+s`, headers: { 'if-none-match': String(reply.headers['etag']) } });
  expect(again.statusCode).toBe(304);
  expect((await link('csv', 'series=0.05+s')).statusCode).toBe(200);
});

it('may be longer than an answer, and has its own end', async () => {
  const long = { ...example, makes: 20, series: '0.001 s' };
  expect(problemIn(await app.inject({ method: 'POST', url: '/v1/draft-cycle', payload: long })).errors).toContainEqual(expect.objectContaining({ pointer: '/series', code: 'too-many' }));
  const reply = await post('ndjson', long);
  expect(reply.statusCode).toBe(200);
  const lines = reply.body.trimEnd().split('\n');
  expect(lines.length).toBeGreaterThan(6002);
  expect(JSON.parse(lines.at(-1)!)).toEqual({ end: true, rows: lines.length - 2 });
});

it('says what is missing or too much', async () => {
  expect(problemIn(await post('csv', example)).errors).toContainEqual(expect.objectContaining({ pointer: '/series', code: 'missing-field' }));
  expect(problemIn(await link('csv', 'zz=1')).errors).toContainEqual(expect.objectContaining({ parameter: 'zz' }));
  expect(problemIn(await post('ndjson', { ...example, makes: 400, series: '0.0001 s' })).errors).toContainEqual(expect.objectContaining({ pointer: '/series', code: 'too-many' }));
  expect(problemIn(await post('ndjson', [])).status).toBe(400);
});
