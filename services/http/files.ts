/** Bodies that are files: only the addresses that say so take them, as a stream, and elsewhere such a body is refused. */
import { Readable } from 'node:stream';
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import { readQuery } from './query.js';

/** Within `routes` bodies of these kinds arrive as a stream. */
export function takingFiles(app: FastifyInstance, kinds: readonly string[], routes: (scope: FastifyInstance) => void): void {
  void app.register((scope, _options, ready) => {
    scope.addContentTypeParser([...kinds], (_request: FastifyRequest, payload: Readable, done: (error: null, body: unknown) => void) => { done(null, payload); });
    routes(scope);
    ready();
  });
}

/** The file of a request, and the charset that was named. Throws where the body is no file of these kinds. */
export function fileOf(request: FastifyRequest, kinds: readonly string[]): { readonly body: AsyncIterable<Buffer>; readonly type: string; readonly charset: string | undefined } {
  const type = request.headers['content-type'] ?? '';
  if (!(request.body instanceof Readable)) throw new ProblemError('unsupported-media-type', 'A table is sent as CSV or NDJSON.', { issues: [{ parameter: 'Content-Type', code: 'unsupported-media-type', detail: 'The body is of a kind that is not read here.', received: shown(type || 'nothing'), expected: kinds.join(', ') }] });
  return { body: request.body as AsyncIterable<Buffer>, type, charset: /charset\s*=\s*"?([\w.:-]+)/i.exec(type)?.[1]?.toLowerCase() };
}

/** Whether a parameter is true; false when left out. */
export function flagOf(value: string | undefined, name: string): boolean {
  if (value === undefined || value === 'true' || value === 'false') return value === 'true';
  throw problemOf([{ parameter: name, code: 'unknown-choice', detail: `“${name}” is true or false.`, received: shown(value), expected: 'true or false' }]);
}
export const rawOf = (request: FastifyRequest): boolean => flagOf(readQuery(request.query, ['raw']).raw, 'raw');
