/** Every failure as application/problem+json: ours, the framework's, and the HTTP parser's own. Nothing of stack, SQL or path leaves. */
import type { Socket } from 'node:net';
import type { FastifyError, FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { ProblemError, type ProblemCode } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import { constantHeaders } from './headers.js';

export const problemType = 'application/problem+json; charset=utf-8';
/** Longest address, in bytes. */
export const longestAddress = 8192;

const frameworkCodes: Readonly<Record<string, ProblemCode>> = {
  FST_ERR_CTP_BODY_TOO_LARGE: 'payload-too-large',
  FST_ERR_CTP_INVALID_MEDIA_TYPE: 'unsupported-media-type',
  FST_ERR_CTP_INVALID_CONTENT_LENGTH: 'bad-request-line',
  FST_ERR_BAD_URL: 'bad-request-line',
  FST_ERR_MAX_PARAM_LENGTH: 'uri-too-long',
};

/** The problem that an error amounts to; what is not known is an internal error. */
export function asProblem(error: unknown, request?: FastifyRequest): ProblemError {
  if (error instanceof ProblemError) return error;
  const code = frameworkCodes[(error as FastifyError | undefined)?.code ?? ''];
  if (code === undefined) return new ProblemError('internal-error', undefined, { cause: error });
  if (code === 'unsupported-media-type') {
    const sent = request?.headers['content-type'];
    return new ProblemError(code, undefined, { issues: [{ parameter: 'Content-Type', code, detail: 'The body is of a kind that is not read here.', received: sent === undefined ? 'nothing' : shown(sent), expected: 'application/json' }] });
  }
  return new ProblemError(code);
}

export function sendProblem(problem: ProblemError, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const refused = request.server.counted?.refused;
  refused?.set(problem.code, (refused.get(problem.code) ?? 0) + 1);
  const document = problem.document();
  const instance = pathOf(request.raw.url ?? '/');
  if (instance.length <= 300) document.instance = instance;
  document.requestId = request.id;
  return reply.code(problem.status).headers(constantHeaders).headers(problem.headers)
    .header('request-id', request.id).header('cache-control', 'no-store').header('content-type', problemType).send(JSON.stringify(document));
}

export const pathOf = (url: string): string => {
  const end = url.search(/[?#]/);
  return end < 0 ? url : url.slice(0, end);
};

export function failures(app: FastifyInstance): void {
  app.setErrorHandler((error, request, reply) => {
    const problem = asProblem(error, request);
    // A library that is away is no fault of ours, and would fill the log with stacks; one that is being opened is no fault at all.
    if (problem.status === 503 && problem.cause === undefined) request.log.info({ requestId: request.id }, problem.message);
    else if (problem.status === 503) request.log.warn({ reason: problem.cause instanceof Error ? problem.cause.message : undefined, requestId: request.id }, problem.code);
    else if (problem.status >= 500) request.log.error({ err: problem.cause ?? problem, requestId: request.id }, problem.code);
    return sendProblem(problem, request, reply);
  });
}

/** What the HTTP parser refuses never reaches a route: the reply is written by hand, and the connection ends. */
export function parserFailure(error: Error & { readonly code?: string; readonly rawPacket?: unknown }, socket: Socket): void {
  const begun = (socket as Socket & { _httpMessage?: { headersSent?: boolean } })._httpMessage?.headersSent === true;
  if (error.code === 'ECONNRESET' || socket.destroyed || !socket.writable || begun) {
    socket.destroy(error);
    return;
  }
  const line = Buffer.isBuffer(error.rawPacket) ? error.rawPacket.toString('latin1').split('\r\n', 1)[0]! : '';
  const code: ProblemCode = error.code === 'ERR_HTTP_REQUEST_TIMEOUT' ? 'request-timeout'
    : error.code !== 'HPE_HEADER_OVERFLOW' ? 'bad-request-line' : line.length > longestAddress ? 'uri-too-long' : 'headers-too-large';
  socket.end(rawReply(new ProblemError(code)));
}

/** A whole reply as text, for a socket that no route answers. */
export function rawReply(problem: ProblemError): string {
  const body = JSON.stringify(problem.document());
  const headers = { ...constantHeaders, ...problem.headers, 'content-type': problemType, 'content-length': String(Buffer.byteLength(body)), 'cache-control': 'no-store', date: new Date().toUTCString(), connection: 'close' };
  return `HTTP/1.1 ${problem.status} ${reasons[problem.status] ?? 'Error'}\r\n${Object.entries(headers).map(([name, value]) => `${name}: ${value}\r\n`).join('')}\r\n${body}`;
}
const reasons: Readonly<Record<number, string>> = { 400: 'Bad Request', 405: 'Method Not Allowed', 408: 'Request Timeout', 414: 'URI Too Long', 431: 'Request Header Fields Too Large' };
