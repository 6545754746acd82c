/** Bodies that do not come: every route lets go of one after a while, but those that take a stream. */
import { IncomingMessage } from 'node:http';
import type { FastifyInstance } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { rawReply } from './failures.js';

/** Milliseconds. */
export const longestBody = 30_000;

/** Before any route is made. */
export function slowBodies(app: FastifyInstance, longest = longestBody): void {
  app.server.headersTimeout = 30_000;
  app.addHook('onRoute', (route) => {
    if (route.config?.slowBody === true || ![route.method].flat().some((method) => method === 'POST' || method === 'PUT' || method === 'PATCH')) return;
    route.preParsing = [...[route.preParsing ?? []].flat(), (request, _reply, payload, done) => {
      const { raw } = request;
      // What was handed over within the process has no socket to wait at.
      if (raw instanceof IncomingMessage && !raw.complete) {
        const timer = setTimeout(() => { if (!raw.complete && !raw.socket.destroyed) raw.socket.end(rawReply(new ProblemError('request-timeout'))); }, longest);
        const end = (): void => clearTimeout(timer);
        raw.once('end', end).once('close', end);
      }
      done(null, payload);
    }];
  });
}
