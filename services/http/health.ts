/** Whether the process lives, and whether the library answers. Never cached. */
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { ProblemError } from '../foundation/problems.js';
import { readQuery } from './query.js';

const health = z.object({ status: z.enum(['live', 'ready']), version: z.string() }).meta({ id: 'Health', description: 'State of the service.' });

/** `ready` rejects while the library does not answer or is not yet made. */
export function healthRoutes(app: FastifyInstance, version: string, ready: () => Promise<void>): void {
  const replies = (description: string, status: string) => ({ 200: { description, schema: health, example: { status, version } } });
  app.get('/health/live', { config: { operation: { id: 'live', tag: 'Service', summary: 'Whether the process lives', replies: replies('It lives.', 'live'), problems: ['unknown-field'] } } }, (request, reply) => {
    readQuery(request.query, []);
    return reply.header('cache-control', 'no-store').send({ status: 'live', version });
  });
  app.get('/health/ready', { config: { operation: { id: 'ready', tag: 'Service', summary: 'Whether the library answers too', replies: replies('Everything answers.', 'ready'), problems: ['unknown-field', 'library-unavailable'] } } }, async (request, reply) => {
    readQuery(request.query, []);
    await ready().catch((cause: unknown) => { throw cause instanceof ProblemError ? cause : new ProblemError('library-unavailable', undefined, { headers: { 'retry-after': '2' }, cause }); });
    return reply.header('cache-control', 'no-store').send({ status: 'ready', version });
  });
}
