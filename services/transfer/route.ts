/** Wheels of the library as a file: out as a stream, in row by row. What goes out comes in again as it was. */
import { createHash } from 'node:crypto';
import { Readable } from 'node:stream';
import { setImmediate as others } from 'node:timers/promises';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { linesOf, TextIntake } from '../analyses/intake.js';
import { cellsOf, csvLine, delimiters, readCsv, withoutGuard } from '../foundation/csv.js';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { isObject, shown } from '../foundation/read.js';
import { callerOf, requireCaller } from '../guilds/caller.js';
import { fileOf, flagOf, takingFiles } from '../http/files.js';
import { privateCaching, publicCaching } from '../http/headers.js';
import { idempotencyKey, idempotencyProblems, onceInParts } from '../http/idempotency.js';
import { parseJson } from '../http/json.js';
import type { Operation } from '../http/operation.js';
import { readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import { readOf, readSearch, searchNames } from '../wheels/finding.js';
import { given, listed, readWheelBody, type StoredWheel } from '../wheels/rules.js';
import type { Library, WheelChange, WheelPage, WheelsAsked } from '../wheels/store.js';
import * as c from './contract.js';
import { columnOf, columns, headingIssues, rowOf, wheelOf, type RowIssue } from './table.js';

/** Wheels that are read at once, and those that are made in one transaction. */
const atOnce = { read: 200, made: 100 } as const;
/** Of one import. */
const most = { rows: 10_000, bytes: 16 * 2 ** 20 } as const;
const csvKinds = ['text/csv', 'text/tab-separated-values'] as const;
const ndjsonKinds = ['application/x-ndjson', 'application/ndjson'] as const;

export function transferRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  app.get('/v1/wheels.ndjson', { config: { operation: operations.ndjson } }, (request, reply) =>
    sendAll(library, request, reply, [], 'application/x-ndjson; charset=utf-8', () => ({ each: (wheel) => `${serialize(listed(wheel))}\n`, tail: (wheels) => `${JSON.stringify({ end: true, wheels })}\n` })));
  app.get('/v1/wheels.csv', { config: { operation: operations.csv } }, (request, reply) =>
    sendAll(library, request, reply.header('content-disposition', 'attachment; filename="wheels.csv"'), ['raw'], 'text/csv; charset=utf-8', (query) => {
      const how = { raw: flagOf(query['raw'], 'raw') };
      return { head: csvLine(columns, how), each: (wheel) => csvLine(rowOf(listed(wheel)), how) };
    }));

  takingFiles(app, ndjsonKinds, (scope) => {
    scope.post('/v1/wheels.ndjson', { config: { operation: operations.importNdjson, slowBody: true } }, async (request, reply) => {
      const { dryRun } = readQuery(request.query, ['dryRun']);
      return takeAll(library, request, reply, flagOf(dryRun, 'dryRun'), ndjsonKinds, wheelsOfLines);
    });
  });
  takingFiles(app, csvKinds, (scope) => {
    scope.post('/v1/wheels.csv', { config: { operation: operations.importCsv, slowBody: true } }, async (request, reply) => {
      const { dryRun, raw } = readQuery(request.query, ['dryRun', 'raw']);
      const asIs = flagOf(raw, 'raw');
      return takeAll(library, request, reply, flagOf(dryRun, 'dryRun'), csvKinds, (text) => wheelsOfTable(text, asIs));
    });
  });
}

interface Written { readonly head?: string; readonly each: (wheel: StoredWheel) => string; readonly tail?: (wheels: number) => string }
async function sendAll(library: Library, request: FastifyRequest, reply: FastifyReply, more: readonly string[], type: string, how: (query: Readonly<Record<string, string | undefined>>) => Written): Promise<FastifyReply> {
  const query = readQuery(request.query, ['of', ...searchNames, ...more]);
  const written = how(query);
  const search = readSearch(query);
  const caller = query['of'] === 'guild' ? await requireCaller(library, request, 'read') : await callerOf(library, request);
  const of = readOf(query['of']) ?? (caller === undefined ? 'public' : 'guild');
  const asked: WheelsAsked = { limit: atOnce.read, of, ...(caller === undefined ? {} : { guild: caller.guild }), ...(search === undefined ? {} : { search }) };
  // The first page is read before the reply begins, so that a refusal is a refusal.
  const first = await library.wheels(asked);
  return reply.header('vary', 'Authorization').header('cache-control', caller === undefined ? publicCaching : privateCaching).type(type)
    .send(Readable.from(pieces(library, asked, first, written), { objectMode: false, highWaterMark: 65_536 }));
}
/** Page after page, the next one read when the reader has taken the last: a slow reader costs no memory. */
async function* pieces(library: Library, asked: WheelsAsked, first: WheelPage, { head, each, tail }: Written): AsyncGenerator<string, void, undefined> {
  if (head !== undefined) yield head;
  let count = 0;
  for (let page = first; ;) {
    if (page.items.length > 0) yield page.items.map(each).join('');
    count += page.items.length;
    if (page.next === undefined) break;
    page = await library.wheels({ ...asked, after: page.next });
  }
  if (tail !== undefined) yield tail(count);
}

interface RowRead { readonly row: number; readonly line: number; readonly name?: string; readonly wheel?: WheelChange; readonly errors?: readonly RowIssue[] }

async function takeAll(library: Library, request: FastifyRequest, reply: FastifyReply, dryRun: boolean, kinds: readonly string[], read: (text: string) => Iterable<RowRead>): Promise<FastifyReply> {
  const caller = await requireCaller(library, request, 'write');
  const text = await textOf(request, reply, kinds);
  const rows: RowRead[] = [];
  for (const row of read(text)) {
    if (rows.length === most.rows) throw refuse('too-many', `One import takes ${most.rows} wheels.`, `more than ${most.rows} rows`, 'the file in parts, each with its own Idempotency-Key');
    rows.push(row);
    // Reading a row costs about as much as a question: others are answered in between.
    if (rows.length % 20 === 0) await others();
  }
  const good = rows.flatMap((row) => row.wheel ?? []);
  const parts = Array.from({ length: Math.ceil(good.length / atOnce.made) }, (_, i) => good.slice(i * atOnce.made, (i + 1) * atOnce.made));
  const ids = dryRun ? [] : (await onceInParts(library, request, caller, createHash('sha256').update(text).digest('base64'), parts, (part, within) => library.createAll(part, caller, within))).flat();
  let next = 0;
  const wheels = rows.map(({ wheel, ...row }) => ({ ...row, verdict: wheel === undefined ? 'refused' : dryRun ? 'would-be-made' : 'made', ...(wheel === undefined || dryRun ? {} : { id: ids[next++] }) }));
  return reply.header('cache-control', 'no-store').type('application/json; charset=utf-8').send(serialize({ rows: rows.length, made: good.length, refused: rows.length - good.length, wheels }));
}

const refuse = (code: 'too-many' | 'unreadable-file' | 'payload-too-large', detail: string, received: string, expected: string): ProblemError => new ProblemError(code, detail, { issues: [{ pointer: '', code, detail, received, expected }] });

async function textOf(request: FastifyRequest, reply: FastifyReply, kinds: readonly string[]): Promise<string> {
  const { body, charset } = fileOf(request, kinds);
  const intake = new TextIntake(charset);
  let [text, bytes] = ['', 0];
  try {
    for await (const piece of body) {
      bytes += piece.length;
      if (bytes > most.bytes) throw refuse('payload-too-large', `One import takes ${most.bytes / 2 ** 20} MB.`, `more than ${most.bytes} bytes`, 'the file in parts, each with its own Idempotency-Key');
      text += intake.push(piece);
    }
    return text + intake.end();
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'ECONNRESET' || code === 'ERR_STREAM_PREMATURE_CLOSE') throw new ProblemError('unreadable-file', 'The upload broke off; nothing of it was made.');
    // What is still on its way is not read: the connection ends with the answer.
    reply.header('connection', 'close');
    throw error;
  }
}

/** A row once its body is known. `names`: the columns of its table. */
function judged(row: number, line: number, body: Record<string, unknown>, found: readonly RowIssue[], names?: readonly string[]): RowRead {
  const name = typeof body['name'] === 'string' && body['name'] !== '' ? { name: shown(body['name']) } : {};
  let errors = found;
  try {
    const own = Object.fromEntries(Object.entries(body).filter(([key]) => !(given as readonly string[]).includes(key)));
    const wheel = readWheelBody(own);
    if (found.length === 0) return { row, line, ...name, wheel };
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    const spoilt = new Set(found.map((issue) => issue.column));
    errors = [...found, ...error.issues.flatMap((issue): RowIssue[] => {
      const column = columnOf(issue.pointer, names);
      return column !== undefined && spoilt.has(column) ? [] : [{ ...issue, ...(column === undefined ? {} : { column }) }];
    })];
  }
  return { row, line, ...name, errors };
}

function* wheelsOfLines(text: string): Generator<RowRead, void, undefined> {
  const lines = linesOf({ format: 'ndjson' });
  let row = 0;
  for (const { line, text: one } of [...lines.push(text), ...lines.end()]) {
    let value: unknown;
    let errors: readonly RowIssue[] | undefined;
    try {
      value = parseJson(one);
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      errors = error.issues.length > 0 ? error.issues : [{ pointer: '', code: error.code, detail: error.message, received: shown(one), expected: 'a JSON object' }];
    }
    if (isObject(value) && value['end'] === true) continue;
    row++;
    if (errors === undefined && !isObject(value)) errors = [{ pointer: '', code: 'wrong-type', detail: 'The line should be a wheel.', received: shown(value), expected: 'a JSON object' }];
    yield errors === undefined ? judged(row, line, value as Record<string, unknown>, []) : { row, line, errors };
  }
}

function* wheelsOfTable(text: string, raw: boolean): Generator<RowRead, void, undefined> {
  const start = text.replace(/^\ufeff/, '').trimStart().split(/\r?\n/, 1)[0]!;
  if (start === '') throw refuse('unreadable-file', 'The file is empty.', 'nothing', 'a table with headings and a row for each wheel');
  const known = (delimiter: (typeof delimiters)[number]): number => cellsOf(start, delimiter).cells.filter((cell) => columns.includes(cell.trim())).length;
  const delimiter = delimiters.toSorted((a, b) => known(b) - known(a))[0]!;
  const [head, ...rows] = readCsv(text, delimiter);
  const names = head!.cells.map((cell) => cell.trim());
  const issues = headingIssues(names);
  if (issues.length > 0) throw problemOf(issues);
  for (const [i, { line, cells, openQuote }] of rows.entries()) {
    const row = i + 1;
    if (openQuote === true || cells.length > names.length) {
      yield { row, line, errors: [{ code: 'row-does-not-fit', detail: openQuote === true ? 'A quote is opened and never closed.' : `The row has ${cells.length} cells, and the table ${names.length} columns.`, received: shown(openQuote === true ? cells.find((cell) => cell.startsWith('"')) : cells.slice(names.length).join(delimiter)), expected: 'a cell for each column, quotes in pairs' }] };
      continue;
    }
    const { wheel, issues: found } = wheelOf(names, raw ? cells : cells.map(withoutGuard), parseJson);
    yield judged(row, line, wheel, found, names);
  }
}

const out = ['unknown-field', 'unknown-choice', 'out-of-range', 'invalid-request', 'cannot-answer', 'unauthorized', 'forbidden', 'library-unavailable'] as const;
const into = ['unknown-field', 'unknown-choice', 'unauthorized', 'forbidden', 'library-unavailable', ...idempotencyProblems, 'cannot-answer', 'unreadable-file', 'too-many', 'repeated-field', 'missing-field'] as const;
const wholeLibrary = 'Without a key public wheels, with one those of its guild, all of them or those that are like all that is asked, in the order of their ids. A stream, read from the library as fast as it is taken.';
const rowByRow = `At most ${most.rows} wheels and ${most.bytes / 2 ** 20} MB at once. Every row is made a wheel of the key’s guild, or refused with column, received and expected, each for itself. What the library gave the wheels of an export (id, revision, guild, times, forkedFrom) is passed over; visibility is kept, and is guild where there is none.`;
const taken = { 200: { description: 'What became of each row.', schema: c.imported, example: c.importedExample, headers: ['Cache-Control'] as const } };
const operations = {
  ndjson: { id: 'exportWheels', tag: 'Wheels', key: 'optional', summary: 'Wheels as a JSON object on each line', description: wholeLibrary, query: c.exportQuery, replies: { 200: { description: 'Wheels, and the end record.', mediaType: 'application/x-ndjson', schema: c.exportLine, headers: ['Cache-Control'] } }, problems: out },
  csv: { id: 'exportWheelTable', tag: 'Wheels', key: 'optional', summary: 'Wheels as a table', description: `${wholeLibrary} A column is a place of the profile, such as whorls.1.grooveDiameter; a part that does not fit its columns stands whole, as JSON, in the column of its name.`, query: c.exportTableQuery, replies: { 200: { description: 'CSV, safe for spreadsheets.', mediaType: 'text/csv', headers: ['Cache-Control'] } }, problems: out },
  importNdjson: { id: 'importWheels', tag: 'Wheels', key: 'needed', summary: 'Adds wheels from a JSON object on each line', description: rowByRow, query: c.importQuery, headers: idempotencyKey, body: { schema: c.linesIn, example: '{"name": "Loft 3", "whorls": [{"grooveDiameter": "60 mm"}]}\n', mediaType: 'application/x-ndjson', others: ['application/ndjson'] }, replies: taken, problems: into },
  importCsv: { id: 'importWheelTable', tag: 'Wheels', key: 'needed', summary: 'Adds wheels from a table', description: `${rowByRow} Columns as in the export, and any other place of the profile written so; comma, semicolon or tab.`, query: c.importTableQuery, headers: idempotencyKey, body: { schema: c.tableIn, example: c.tableExample, mediaType: 'text/csv', others: ['text/tab-separated-values'] }, replies: taken, problems: into },
} as const satisfies Record<string, Operation>;
