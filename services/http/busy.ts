/**
 * More is asked than can be answered: then the newest requests are refused at once, with 503 and when to come again, instead
 * of all being answered too late. What tells it is how late a timer of this process fires: requests are answered in the
 * order in which they came, so that is how long one waits.
 */
import type { FastifyInstance } from 'fastify';
import { ProblemError } from '../foundation/problems.js';

/** Milliseconds between two looks. */
const every = 100;
/** Milliseconds that a request may wait for its turn. */
export const patience = 1000;

/** Refuses while the process is `patience` late. Health and metrics are answered always. Before any route is made. */
export function refuseWhenBusy(app: FastifyInstance, now: () => number = () => performance.now()): void {
  let due = now() + every;
  let late = 0;
  const timer = setInterval(() => {
    late = now() - due;
    due = now() + every;
  }, every);
  timer.unref();
  // How long the application took to be made is no wait of anybody's.
  app.addHook('onReady', (done) => { late = 0; due = now() + every; done(); });
  app.addHook('onClose', (_, done) => { clearInterval(timer); done(); });
  app.addHook('onRoute', (route) => {
    if (!route.url.startsWith('/v1/')) return;
    route.onRequest = [(_request, _reply, done) => {
      // Between two looks a long wait shows as a timer that is overdue.
      if (late > patience || now() - due > patience) throw new ProblemError('too-busy', undefined, { headers: { 'retry-after': '2' } });
      done();
    }, ...[route.onRequest ?? []].flat()];
  });
}
