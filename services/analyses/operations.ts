/** What the doors of analyses say about themselves. */
import type { z } from 'zod';
import { idempotencyKey, idempotencyProblems } from '../http/idempotency.js';
import type { Operation } from '../http/operation.js';
import * as c from './contract.js';

const library = ['unauthorized', 'forbidden', 'library-unavailable', 'unknown-field'] as const;
const one = [...library, 'analysis-not-found'] as const;
const whole = [...one, 'analysis-not-finished'] as const;
const json = (description: string, schema: z.ZodType) => ({ description, schema, headers: ['Cache-Control'] as const });
const streamed = (description: string, mediaType: string) => ({ description, mediaType, headers: ['Cache-Control'] as const });
const common = { tag: 'Analyses', params: c.analysisId, key: 'needed' } as const;

export const operations = {
  create: {
    id: 'createAnalysis', tag: 'Analyses', key: 'needed', summary: 'Analyses a table of wheels', description: 'CSV (comma, semicolon or tab), or a JSON object on each line; up to ten million rows, sent as a stream. Columns are understood by their headings: try it with dryRun first. Every row gets a verdict: analysed, or rejected with column, received and expected. The results are kept for 30 days.',
    query: c.uploadQuery, headers: idempotencyKey, body: { schema: c.upload, example: c.uploadExample, mediaType: 'text/csv', others: ['application/x-ndjson', 'text/tab-separated-values'] },
    replies: { 200: json('A dry run: how each column is understood, and which rows would be refused.', c.analysis), 202: { ...json('It is kept, and will be worked on.', c.analysis), headers: ['Location', 'Cache-Control'] } },
    problems: [...library, ...idempotencyProblems, 'unknown-choice', 'unreadable-file', 'nothing-to-analyse', 'row-too-long', 'too-many'],
  },
  read: { ...common, id: 'readAnalysis', summary: 'How far an analysis is', replies: { 200: json('Its state, and how its columns are understood.', c.analysis) }, problems: one },
  remove: { ...common, id: 'cancelAnalysis', summary: 'Cancels an analysis, or removes it', description: 'One that is being worked on is cancelled, keeps what it has, and may be resumed. One that is done or cancelled is removed with its results.', replies: { 200: json('It is cancelled.', c.analysis), 204: { description: 'It is removed.' } }, problems: one },
  resume: { ...common, id: 'resumeAnalysis', summary: 'Goes on with a cancelled analysis', replies: { 200: json('Its state now.', c.analysis) }, problems: whole },
  events: { ...common, id: 'analysisEvents', summary: 'The progress of an analysis, as it happens', description: 'Server-sent events: the state whenever it changes, until it is done or cancelled.', replies: { 200: streamed('Events, each named by the state, with the analysis as JSON in data.', 'text/event-stream') }, problems: one },
  results: { ...common, id: 'analysisResults', summary: 'The verdict of every row', description: 'One JSON object on each line, in the order of the rows; the last line is the end record.', replies: { 200: { ...streamed('Rows with their verdicts.', 'application/x-ndjson'), schema: c.verdictLine } }, problems: whole },
  resultsCsv: { ...common, id: 'analysisResultsTable', summary: 'The verdict of every row, as a table', query: c.rawQuery, replies: { 200: streamed('CSV: the columns as they came, and what was found.', 'text/csv') }, problems: [...whole, 'unknown-choice'] },
  rejects: { ...common, id: 'analysisRejects', summary: 'The rows that were refused', replies: { 200: { ...streamed('Refused rows, each with column, received and expected; then the end record.', 'application/x-ndjson'), schema: c.verdictLine } }, problems: whole },
  rejectsCsv: { ...common, id: 'analysisRejectsTable', summary: 'The rows that were refused, as a table', query: c.rawQuery, replies: { 200: streamed('CSV: a line for each reason.', 'text/csv') }, problems: [...whole, 'unknown-choice'] },
  summary: { ...common, id: 'analysisSummary', summary: 'What the whole table shows', replies: { 200: json('Counts, distributions, what is probably mixed up, and which singles the wheels can make.', c.summary) }, problems: whole },
  summaryPicture: { ...common, id: 'analysisSummaryPicture', summary: 'What the whole table shows, as a picture', replies: { 200: streamed('The picture, with its text alternative inside.', 'image/svg+xml') }, problems: whole },
} as const satisfies Record<string, Operation>;
