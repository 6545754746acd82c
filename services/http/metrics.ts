/**
 * What the process did, for whoever watches it: `/metrics` in the text format of Prometheus (0.0.4). Counting costs a good
 * request two additions; durations are taken of one request in sixteen, from the first time that somebody asks.
 */
import type { FastifyInstance } from 'fastify';
import type { Histogram, Registry } from 'prom-client';
import type { ProblemCode } from '../foundation/problems.js';
import { readQuery } from './query.js';

/** Of the service, not of a request: `refused` counts problems by code. */
interface Counted { readonly requests: Map<string, { count: number }>; readonly refused: Map<ProblemCode, number>; durations?: Histogram }

declare module 'fastify' {
  interface FastifyInstance {
    /** What was answered so far, by address and by problem. */
    counted?: Counted;
  }
  interface FastifyContextConfig { counts?: { count: number } }
}

/** One request in so many is timed. */
const sample = 16;
const type = 'text/plain; version=0.0.4; charset=utf-8';

async function registry(counted: Counted): Promise<{ all: Registry; durations: Histogram }> {
  const { collectDefaultMetrics, Counter, Histogram, Registry } = await import('prom-client');
  const all = new Registry();
  collectDefaultMetrics({ register: all, prefix: 'wheelgrist_' });
  new Counter({
    name: 'wheelgrist_requests_total', help: 'Requests by address.', labelNames: ['route'], registers: [all],
    collect() { this.reset(); for (const [route, { count }] of counted.requests) if (count > 0) this.inc({ route }, count); },
  });
  new Counter({
    name: 'wheelgrist_problems_total', help: 'Requests that were refused or failed, by problem.', labelNames: ['code'], registers: [all],
    collect() { this.reset(); for (const [code, count] of counted.refused) this.inc({ code }, count); },
  });
  const durations = new Histogram({
    name: 'wheelgrist_request_seconds', help: `Seconds from the headers of a request to the end of its reply, of one request in ${sample}.`, registers: [all],
    buckets: [0.001, 0.002, 0.005, 0.01, 0.02, 0.05, 0.1, 0.2, 0.5, 1, 2, 5, 10],
  });
  return { all, durations };
}

/** Counts from now on. Before any route is made. */
export function countRequests(app: FastifyInstance): void {
  const counted: Counted = { requests: new Map(), refused: new Map() };
  app.decorate('counted', counted);
  let seen = 0;
  app.addHook('onRoute', (route) => {
    const count = { count: 0 };
    for (const method of [route.method].flat()) counted.requests.set(`${method} ${route.url}`, count);
    route.config = { ...route.config, counts: count };
  });
  app.addHook('onRequest', (request, reply, done) => {
    const { counts } = request.routeOptions.config;
    if (counts !== undefined) counts.count++;
    if (counted.durations !== undefined && ++seen % sample === 0) {
      const end = counted.durations.startTimer();
      reply.raw.once('close', end);
    }
    done();
  });
}

/** Tells what was counted. */
export function metricsRoute(app: FastifyInstance): void {
  const counted = app.counted!;
  let made: ReturnType<typeof registry> | undefined;
  app.get('/metrics', { config: { operation: {
    id: 'metrics', tag: 'Service', summary: 'What this process did', description: 'For monitoring, in the text format of Prometheus: requests by address, problems by code, durations of a sample, memory, processor time, delays of the event loop.',
    replies: { 200: { description: 'Counters of this process since it started.', mediaType: 'text/plain' } }, problems: ['unknown-field'],
  } } }, async (request, reply) => {
    readQuery(request.query, []);
    const { all, durations } = await (made ??= registry(counted));
    counted.durations ??= durations;
    return reply.header('cache-control', 'no-store').type(type).send(await all.metrics());
  });
}

