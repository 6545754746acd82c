/** A process that is late refuses the newest, says when to come again, and answers again as soon as it has caught up. */
import Fastify from 'fastify';
import { afterEach, expect, it, vi } from 'vitest';
import { patience, refuseWhenBusy } from '../../services/http/busy.js';
import { failures } from '../../services/http/failures.js';
import { problemIn } from '../support/http.js';

afterEach(() => { vi.useRealTimers(); });

it('refuses while it is late, and no longer', async () => {
  vi.useFakeTimers({ toFake: ['setInterval', 'clearInterval'] });
  let time = 0;
  const app = Fastify();
  failures(app);
  refuseWhenBusy(app, () => time);
  app.get('/v1/thing', () => 'here');
  app.get('/health/live', () => 'alive');
  const ask = (url = '/v1/thing') => app.inject(url);
  expect((await ask()).statusCode).toBe(200);
  // A pause, once: the timer fires late, and nobody is refused for it.
  time += 100 + patience + 1;
  vi.advanceTimersByTime(100);
  expect((await ask()).statusCode).toBe(200);
  // Late again: that is a crowd.
  time += 100 + patience + 1;
  vi.advanceTimersByTime(100);
  const refused = await ask();
  expect(refused.statusCode).toBe(503);
  expect(refused.headers['retry-after']).toBe('2');
  expect(problemIn(refused).type).toBe('/problems/too-busy');
  expect((await ask('/health/live')).statusCode).toBe(200);
  // The timer fires in time, and all is well.
  time += 100;
  vi.advanceTimersByTime(100);
  expect((await ask()).statusCode).toBe(200);
  await app.close();
});
