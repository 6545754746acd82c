/**
 * More is asked than can be answered: then the newest requests are refused at once, with 503 and when to come again, instead
 * of all being answered too late. What tells it is how late a timer of this process fires: requests are answered in the
 * order in which they came, so that is how long one waits. Late once is no more than a pause; late twice in a row is a crowd.
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
  let busy = false;
  let wasLate = false;
  const timer = setInterval(() => {
    const isLate = now() - due > patience;
    busy = isLate && wasLate;
    wasLate = isLate;
    due = now() + every;
  }, every);
  timer.unref();
  // How long the application took to be made is no wait of anybody's.
  app.addHook('onReady', (done) => { busy = wasLate = false; due = now() + every; done(); });
  app.addHook('onClose', (_, done) => { clearInterval(timer); done(); });
  app.addHook('onRoute', (route) => {
    if (!route.url.startsWith('/v1/')) return;
    route.onRequest = [(_request, _reply, done) => {
      if (busy) throw new ProblemError('too-busy', undefined, { headers: { 'retry-after': '2' } });
      done();
    }, ...[route.onRequest ?? []].flat()];
  });
}
