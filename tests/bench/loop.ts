/**
 * How long one request keeps every other waiting: `npm run bench:loop`. Every operation is asked by its examples and by
 * requests made from its schemas (LOOP_RUNS, 40), and by the longest ones that are taken; the longest stretch in which the
 * main thread did nothing else is printed for each in time of the processor, the least of a few tries where it is long. Wanted: 50 ms at most.
 */
import { openSync, readSync } from 'node:fs';
import { setImmediate as breathe } from 'node:timers/promises';
import type { InjectOptions } from 'fastify';
import fc from 'fast-check';
import committed from '../../sdk/openapi.json' with { type: 'json' };
import { inFull } from '../../sdk/generate/spec.js';
import { calculations } from '../../services/calculations/index.js';
import { openWhole } from '../support/whole.js';
import { request as requestOf, type Made, type Spec } from '../contract/requests.js';
import { longest } from '../support/longest.js';

const wanted = 50;
const runs = Number(process.env['LOOP_RUNS'] ?? 40);
const only = process.env['LOOP_ONLY'];
const spec = inFull(committed as unknown as Spec);
const { app, key, close } = await openWhole();
const wheels = (await app.inject('/v1/wheels?limit=5')).json<{ items: { id: string }[] }>().items.map((one) => one.id);
const headers = { authorization: `Bearer ${key}` };

/** Milliseconds of processor that the main thread has had: what else the machine does is not in it. Only where /proc tells; elsewhere time as it passes. */
function clock(): () => number {
  try {
    const file = openSync(`/proc/self/task/${process.pid}/schedstat`, 'r');
    const bytes = Buffer.alloc(64);
    return () => Number.parseInt(bytes.toString('latin1', 0, readSync(file, bytes, 0, 64, 0)), 10) / 1e6;
  } catch {
    return () => performance.now();
  }
}
const spent = clock();
/** Milliseconds that the loop was kept from its next turn, at the longest, while this was answered; and the status. */
async function stood(sent: InjectOptions): Promise<{ ms: number; status: number }> {
  let [most, last, going] = [0, 0, true];
  const turn = (): void => {
    const now = spent();
    most = Math.max(most, now - last);
    last = now;
    if (going) setImmediate(turn);
  };
  await breathe();
  last = spent();
  setImmediate(turn);
  const { statusCode: status } = await app.inject(sent);
  going = false;
  await breathe();
  return { ms: most, status };
}
/** The first time a function runs it is compiled, and garbage is collected at times: a long stretch counts only when it comes again. */
async function surely(sent: InjectOptions): Promise<{ ms: number; status: number }> {
  let least = await stood(sent);
  for (let again = 0; again < 2 && least.ms > 20; again++) { const next = await stood(sent); if (next.ms < least.ms) least = next; }
  return least;
}
function optionsOf(method: string, path: string, made: Made): InjectOptions {
  const url = path.replace(/\{(\w+)\}/g, (_, name: string) => encodeURIComponent(path.startsWith('/v1/wheels/{id}') || path.startsWith('/wheels/{id}') ? wheels[0]! : String(made.path[name] ?? 'none').replace(/^\.+$|\p{Surrogate}/gu, 'x')));
  const query = made.query.map(([name, value]) => `${encodeURIComponent(name)}=${encodeURIComponent(value.replace(/\p{Surrogate}/gu, '?'))}`).join('&');
  const given = Object.fromEntries(Object.entries(made.headers).map(([name, value]) => [name, value.replace(/[^\x20-\x7e]/g, '?')]));
  return { method: method as 'GET', url: `${url}?${query}`, headers: { ...given, ...headers, ...(made.body === undefined ? {} : { 'content-type': typeof made.body === 'string' ? 'text/csv' : 'application/json' }) }, ...(made.body === undefined ? {} : { payload: typeof made.body === 'string' ? made.body : JSON.stringify(made.body) }) };
}

const rows: { name: string; ms: number; status: number; what: string }[] = [];
const brief = (sent: InjectOptions): string => `${String(sent.url).slice(0, 160)} ${String(sent.payload ?? '').slice(0, 120)}`;
for (const [path, methods] of Object.entries(spec.paths)) {
  for (const [method, operation] of Object.entries(methods)) {
    const name = `${method.toUpperCase()} ${path}`;
    if ((only !== undefined && !name.includes(only)) || (method === 'delete')) continue;
    let worst = { name, ms: 0, status: 0, what: '' };
    for (const made of fc.sample(requestOf(spec, operation), { numRuns: runs, seed: 7 })) {
      const sent = optionsOf(method.toUpperCase(), path, made);
      const first = await stood(sent);
      if (first.ms <= worst.ms) continue;
      const { ms, status } = first.ms > 20 ? await surely(sent) : first;
      if (ms > worst.ms) worst = { name, ms, status, what: brief(sent) };
    }
    rows.push(worst);
    process.stderr.write('.');
  }
}
for (const { name, sent } of longest(calculations, wheels[0]!)) {
  if (only !== undefined && !`longest: ${name}`.includes(only)) continue;
  const { ms, status } = await surely({ ...sent, headers: { ...headers, ...sent.headers } });
  rows.push({ name: `longest: ${name}`, ms, status, what: brief(sent) });
  process.stderr.write(`${ms.toFixed(0)} ms  ${name}\n`);
}
rows.sort((a, b) => b.ms - a.ms);
for (const { name, ms, status, what } of rows.slice(0, only === undefined ? 60 : 500)) console.log(`${ms.toFixed(1).padStart(8)} ms  ${status}  ${name}${ms > wanted ? `\n             ${what}` : ''}`);
console.log(`${rows.length} operations and longest requests; ${rows.filter((row) => row.ms > wanted).length} keep others waiting for more than ${wanted} ms.`);
await close();
