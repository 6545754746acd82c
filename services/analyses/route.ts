/** The doors of analyses: a table is sent as a stream, worked elsewhere, and its verdicts stream back. */
import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import { setTimeout as sleep } from 'node:timers/promises';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError, problemOf, type Issue } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import { requireCaller } from '../guilds/caller.js';
import type { Caller } from '../guilds/keys.js';
import { fileOf, rawOf, takingFiles } from '../http/files.js';
import { privateCaching } from '../http/headers.js';
import { sendOnce } from '../http/idempotency.js';
import { readQuery, type Query } from '../http/query.js';
import { queryIssues } from '../http/query.js';
import type { Library } from '../wheels/store.js';
import { Analyser } from './chunk.js';
import { columnText } from './columns.js';
import { csvLine, csvOf, endRecord, linesOfPart, rejectHead, rejectRows } from './export.js';
import { Intake, TextIntake, type Chunk, type Layout } from './intake.js';
import { operations } from './operations.js';
import { picture } from './picture.js';
import type { RowIssue } from './row.js';
import type { Analysis, AnalysisStore, DoneChunk } from './store.js';
import type { Summary } from './summary.js';

/** Bytes of a table; far above what any other body may have, since it is never held as a whole. */
export const largestUpload = 4 * 2 ** 30;
const json = 'application/json; charset=utf-8';
const ndjson = 'application/x-ndjson; charset=utf-8';
const csv = 'text/csv; charset=utf-8';
const kinds = ['text/csv', 'application/x-ndjson', 'application/ndjson', 'text/tab-separated-values'];
/** Rows of a dry run that are tried. */
const tried = 1000;

export interface AnalysisDeps { readonly library: Library; readonly largestUpload?: number }

export function analysisRoutes(app: FastifyInstance, { library, largestUpload: most = largestUpload }: AnalysisDeps): void {
  takingFiles(app, kinds, (scope) => uploadRoute(scope, library, most));
  const found = async (request: FastifyRequest, scope: 'read' | 'write' = 'read'): Promise<{ caller: Caller; store: AnalysisStore; analysis: Analysis }> => {
    const caller = await requireCaller(library, request, scope);
    const store = library.analyses;
    const analysis = await store.find((request.params as { id: string }).id, caller.guild);
    if (analysis === undefined) throw new ProblemError('analysis-not-found');
    return { caller, store, analysis };
  };
  const send = (reply: FastifyReply, analysis: Analysis): FastifyReply => {
    if (analysis.state === 'analysing' || analysis.state === 'comparing') reply.header('retry-after', '1');
    return reply.header('cache-control', 'no-store').type(json).send(JSON.stringify(shownAnalysis(analysis)));
  };

  app.get('/v1/analyses/:id', { config: { operation: operations.read } }, async (request, reply) => {
    readQuery(request.query, []);
    return send(reply, (await found(request)).analysis);
  });
  app.delete('/v1/analyses/:id', { config: { operation: operations.remove } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, store, analysis } = await found(request, 'write');
    const cancelled = await store.turn(analysis.id, ['analysing', 'comparing'], 'cancelled', caller);
    if (cancelled !== undefined) return send(reply, cancelled);
    await store.remove(analysis.id, caller);
    return reply.code(204).send();
  });
  app.post('/v1/analyses/:id/resume', { config: { operation: operations.resume } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, store, analysis } = await found(request, 'write');
    const resumed = await store.turn(analysis.id, ['cancelled'], 'analysing', caller);
    if (resumed === undefined && analysis.state === 'receiving') throw new ProblemError('analysis-not-finished', 'Its file is still arriving.', { headers: { 'retry-after': '5' } });
    return send(reply.code(200), resumed ?? analysis);
  });

  app.get('/v1/analyses/:id/events', { config: { operation: operations.events } }, async (request, reply) => {
    readQuery(request.query, []);
    const { caller, store, analysis } = await found(request);
    const gone = new AbortController();
    request.raw.once('close', () => gone.abort());
    return reply.header('cache-control', 'no-store').header('x-accel-buffering', 'no').type('text/event-stream; charset=utf-8').send(Readable.from(eventsOf(store, analysis, caller.guild, gone.signal)));
  });

  const finished = async (request: FastifyRequest): Promise<{ store: AnalysisStore; analysis: Analysis }> => {
    const { store, analysis } = await found(request);
    if (analysis.state === 'done') return { store, analysis };
    throw new ProblemError('analysis-not-finished', `It is ${analysis.state}: ${analysis.analysed + analysis.rejected} of ${analysis.rows} rows have their verdict.`, { headers: { 'retry-after': '2' } });
  };
  const stream = (reply: FastifyReply, type: string, pieces: AsyncGenerator<string>): FastifyReply =>
    reply.header('cache-control', privateCaching).type(type).send(Readable.from(pieces, { objectMode: false, highWaterMark: 65_536 }));
  app.get('/v1/analyses/:id/results', { config: { operation: operations.results } }, async (request, reply) => {
    readQuery(request.query, []);
    const { store, analysis } = await finished(request);
    return stream(reply, ndjson, pieces(store, analysis, { each: (line) => `${line}\n`, tail: `${endRecord(analysis)}\n` }));
  });
  app.get('/v1/analyses/:id/results.csv', { config: { operation: operations.resultsCsv } }, async (request, reply) => {
    const raw = rawOf(request);
    const { store, analysis } = await finished(request);
    const { head, row } = csvOf(analysis.layout);
    return stream(reply.header('content-disposition', `attachment; filename="${analysis.id}.csv"`), csv, pieces(store, analysis, { head: csvLine(head, { raw }), each: (line) => csvLine(row(line), { raw }) }));
  });
  app.get('/v1/analyses/:id/rejects', { config: { operation: operations.rejects } }, async (request, reply) => {
    readQuery(request.query, []);
    const { store, analysis } = await finished(request);
    return stream(reply, ndjson, pieces(store, analysis, { rejects: true, each: (line) => `${line}\n`, tail: `${endRecord(analysis)}\n` }));
  });
  app.get('/v1/analyses/:id/rejects.csv', { config: { operation: operations.rejectsCsv } }, async (request, reply) => {
    const raw = rawOf(request);
    const { store, analysis } = await finished(request);
    return stream(reply.header('content-disposition', `attachment; filename="${analysis.id}-rejects.csv"`), csv, pieces(store, analysis, { rejects: true, head: csvLine([...rejectHead], { raw }), each: (line) => rejectRows(line).map((cells) => csvLine(cells, { raw })).join('') }));
  });
  app.get('/v1/analyses/:id/summary', { config: { operation: operations.summary } }, async (request, reply) => {
    readQuery(request.query, []);
    return reply.header('cache-control', privateCaching).type(json).send(JSON.stringify((await finished(request)).analysis.summary));
  });
  app.get('/v1/analyses/:id/summary.svg', { config: { operation: operations.summaryPicture } }, async (request, reply) => {
    readQuery(request.query, []);
    return reply.header('cache-control', privateCaching).type('image/svg+xml; charset=utf-8').send(picture((await finished(request)).analysis.summary as Summary));
  });
}

/** Chunk after chunk, the next one read when the reader has taken the last: a slow reader costs no memory. */
async function* pieces(store: AnalysisStore, analysis: Analysis, how: { readonly head?: string; readonly tail?: string; readonly rejects?: boolean; readonly each: (line: string) => string }): AsyncGenerator<string, void, undefined> {
  if (how.head !== undefined) yield how.head;
  for (let after = 0; ;) {
    const page: DoneChunk[] = await store.done(analysis.id, analysis.guild, after, 2);
    if (page.length === 0) break;
    for (const chunk of page) {
      if (how.rejects === true && chunk.rejected === 0) continue;
      let text = '';
      for (const line of linesOfPart(chunk, how.rejects)) {
        text += how.each(line);
        if (text.length > 65_536) { yield text; text = ''; }
      }
      if (text !== '') yield text;
    }
    after = page.at(-1)!.firstRow;
  }
  if (how.tail !== undefined) yield how.tail;
}

/** Server-sent events: its state whenever it changed, until it is over. */
async function* eventsOf(store: AnalysisStore, first: Analysis, guild: string, signal: AbortSignal): AsyncGenerator<string, void, undefined> {
  let analysis: Analysis | undefined = first;
  let said = '';
  for (let quiet = 0; analysis !== undefined && !signal.aborted; quiet++) {
    const { columns: _c, above: _a, ...state } = shownAnalysis(analysis);
    const text = JSON.stringify(state);
    if (text !== said) { yield `event: ${analysis.state}\ndata: ${text}\n\n`; said = text; quiet = 0; }
    if (analysis.state === 'done' || analysis.state === 'cancelled') return;
    if (quiet % 30 === 29) yield ': still here\n\n';
    await sleep(500, undefined, { signal }).catch(() => undefined);
    analysis = await store.find(first.id, guild).catch(() => analysis);
  }
}

function shownAnalysis(a: Analysis) {
  const settled = a.analysed + a.rejected;
  return { id: a.id, state: a.state, rows: a.rows, bytes: a.bytes, analysed: a.analysed, rejected: a.rejected, progress: a.state === 'done' ? 1 : a.rows === 0 ? 0 : Math.min(0.99, settled / a.rows), createdAt: a.createdAt.toISOString(), ...(a.finishedAt === null ? {} : { finishedAt: a.finishedAt.toISOString() }), expiresAt: a.expiresAt.toISOString(), ...shownLayout(a.layout) };
}
const shownLayout = (layout: Layout) => ({
  format: layout.format, ...(layout.delimiter === undefined ? {} : { delimiter: layout.delimiter }), above: layout.above,
  columns: layout.columns.map(({ is, ...column }) => ({ ...column, ...(is === undefined ? {} : { understood: columnText(is) }) })),
});

function readUpload(request: FastifyRequest): { dryRun: boolean; map: ReadonlyMap<string, string> } {
  const query = request.query as Query;
  const issues: Issue[] = queryIssues(query, ['dryRun', 'map'], (name) => name === 'map');
  const dry = query['dryRun']?.[0];
  if (dry !== undefined && dry !== 'true' && dry !== 'false') issues.push({ parameter: 'dryRun', code: 'unknown-choice', detail: '“dryRun” is true or false.', received: shown(dry), expected: 'true or false' });
  const map = new Map<string, string>();
  for (const one of query['map'] ?? []) {
    const cut = one.lastIndexOf('=');
    if (cut < 1) issues.push({ parameter: 'map', code: 'invalid-request', detail: 'A heading, =, and what it is to be read as.', received: shown(one), expected: 'Heading=whorl 2 (in)' });
    else map.set(one.slice(0, cut).trim(), one.slice(cut + 1).trim());
  }
  if (issues.length > 0) throw problemOf(issues);
  return { dryRun: dry === 'true', map };
}

function uploadRoute(app: FastifyInstance, library: Library, most: number): void {
  app.post('/v1/analyses', { config: { operation: operations.create, slowBody: true } }, async (request, reply) => {
    const { dryRun, map } = readUpload(request);
    const caller = await requireCaller(library, request, 'write');
    const { body, type, charset } = fileOf(request, kinds);
    if (Number(request.headers['content-length'] ?? 0) > most) throw tooLarge(most);
    const intake = new Intake({ map, ...(type.includes('ndjson') ? { format: 'ndjson' as const } : { format: 'csv' as const }), ...(type.startsWith('text/tab') ? { delimiter: '\t' as const } : {}) });
    const text = new TextIntake(charset);
    if (dryRun) return dry(body, text, intake, reply);
    const store = library.analyses;
    const hash = createHash('sha256');
    let bytes = 0;
    let id: string | undefined;
    const keep = async (chunks: readonly Chunk[]): Promise<void> => {
      for (const chunk of chunks) await store.add((id ??= await store.begin(intake.layout!, caller)), chunk, caller);
    };
    try {
      for await (const piece of body) {
        bytes += piece.length;
        if (bytes > most) throw tooLarge(most);
        hash.update(piece);
        await keep(intake.push(text.push(piece)));
      }
      await keep([...intake.push(text.end()), ...intake.end()]);
      let ours = false;
      const sent = await sendOnce(library, request, reply, caller, async (within) => {
        ours = true;
        const analysis = await store.received(id!, intake.rows, bytes, caller, within);
        return { status: 202, headers: { location: `/v1/analyses/${analysis.id}`, 'retry-after': '1', 'cache-control': 'no-store', 'content-type': json }, body: JSON.stringify(shownAnalysis(analysis)) };
      }, hash.digest('base64'));
      // The same file under the same key came before: what was kept now is one too many.
      if (!ours) await store.remove(id!, caller);
      return sent;
    } catch (error) {
      if (id !== undefined) await store.remove(id, caller).catch(() => undefined);
      if ((error as { code?: string }).code === 'ECONNRESET' || (error as { code?: string }).code === 'ERR_STREAM_PREMATURE_CLOSE') throw new ProblemError('unreadable-file', 'The upload broke off; nothing of it is kept.');
      if (reply.sent) throw error;
      // What is still on its way is not read: the connection ends with the answer.
      reply.header('connection', 'close');
      throw error;
    }
  });
}
const tooLarge = (most: number): ProblemError => new ProblemError('payload-too-large', `A table of more than ${most} bytes is not taken at once: send it in parts.`);

/** How the head of the file is understood, and which of its first rows would be refused. */
async function dry(body: AsyncIterable<Buffer>, text: TextIntake, intake: Intake, reply: FastifyReply): Promise<FastifyReply> {
  const chunks: Chunk[] = [];
  let bytes = 0;
  let whole = true;
  for await (const piece of body) {
    bytes += piece.length;
    if (whole) chunks.push(...intake.push(text.push(piece)));
    if (intake.rows >= tried) whole = false;
  }
  if (whole) chunks.push(...intake.push(text.end()), ...intake.end());
  let [rows, rejected] = [0, 0];
  const errors: { row: number; line: number; errors: readonly RowIssue[] }[] = [];
  for (const chunk of chunks) for (const one of new Analyser(intake.layout!).judged(chunk)) {
    rows++;
    if (one.ok) continue;
    rejected++;
    if (errors.length < 50) errors.push({ row: one.row.row, line: one.row.line, errors: (JSON.parse(one.line) as { errors: RowIssue[] }).errors });
  }
  return reply.header('cache-control', 'no-store').type(json).send(JSON.stringify({ state: 'dry-run', rows, bytes, analysed: rows - rejected, rejected, progress: 0, ...shownLayout(intake.layout!), errors }));
}
