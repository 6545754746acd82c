/**
 * A long mixed load on the built service over PostgreSQL, and what it does to memory: `npm run bench:soak`. SOAK_MINUTES (30),
 * SOAK_RATE (150 requests a second). Prints what was answered, how long it took, and how resident memory and the heap went:
 * their least in each tenth of the time (garbage comes and goes above it), and the slope through the last two thirds.
 */
import { readFileSync } from 'node:fs';
import { setTimeout as sleep } from 'node:timers/promises';
import { Agent, request } from 'undici';
import { freePort, start } from '../start/support.js';
import { makeServerWithGuild } from '../support/guild.js';

const minutes = Number(process.env['SOAK_MINUTES'] ?? 30);
const rate = Number(process.env['SOAK_RATE'] ?? 150);
const made = await makeServerWithGuild('read', 'write');
const { key } = made;
const port = await freePort();
const service = start({ DATABASE_URL: made.url, PORT: String(port), WRITES_PER_MINUTE: '0', LOG_LEVEL: 'silent' });
await service.says(/The library is open/);
const agent = new Agent({ connections: 16 });
const statuses = new Map<string, number>();
const times: number[] = [];

interface Reply { readonly status: number; readonly etag: string; readonly body: string }
async function ask(method: 'GET' | 'POST' | 'PATCH' | 'DELETE', path: string, body?: object, headers: Record<string, string> = {}): Promise<Reply> {
  const began = performance.now();
  const reply = await request(`http://127.0.0.1:${port}${path}`, { method, dispatcher: agent, headers: { ...(body === undefined ? {} : { 'content-type': 'application/json' }), ...headers }, ...(body === undefined ? {} : { body: JSON.stringify(body) }) });
  const text = await reply.body.text();
  if (times.length < 2_000_000) times.push(performance.now() - began);
  const name = `${method} ${path.replace(/wheel-?[\w-]{6,}|\?.*/g, (found) => (found.startsWith('?') ? '' : '{id}'))} ${reply.statusCode}`;
  statuses.set(name, (statuses.get(name) ?? 0) + 1);
  return { status: reply.statusCode, etag: String(reply.headers['etag'] ?? ''), body: text };
}
const keyed = { authorization: `Bearer ${key}` };
const wheel = (n: number): object => ({ name: `Soak ${n}`, visibility: n % 2 === 0 ? 'public' : 'guild', style: 'castle', driveWheel: { grooveDiameter: `${450 + (n % 200)} mm` }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }, { grooveDiameter: '65 mm' }], bobbins: [{ grooves: [{ grooveDiameter: '44 mm' }], coreDiameter: '25 mm', endDiameter: '85 mm', lengthBetweenEnds: '100 mm' }] });
/** A wheel's whole life, each step of it one request. */
async function life(n: number): Promise<void> {
  const created = await ask('POST', '/v1/wheels', wheel(n), { ...keyed, 'idempotency-key': `soak-${n}-${Date.now()}` });
  if (created.status !== 201) return;
  const { id } = JSON.parse(created.body) as { id: string };
  const changed = await ask('PATCH', `/v1/wheels/${id}`, { style: 'saxony' }, { ...keyed, 'if-match': created.etag });
  await ask('GET', `/v1/wheels/${id}/ratio`, undefined, keyed);
  await ask('GET', `/v1/wheels/${id}/take-up`, undefined, keyed);
  await ask('GET', `/v1/wheels/${id}/revisions`, undefined, keyed);
  // The library grows, but not without end.
  if (n % 10 !== 0) await ask('DELETE', `/v1/wheels/${id}`, undefined, { ...keyed, 'if-match': changed.etag });
}
let n = 0;
const mixed: (() => Promise<unknown>)[] = [
  () => ask('GET', `/v1/ratio?driveWheel=${400 + (n % 300)}mm&band=2mm&whorl=60mm&bobbin=48mm`),
  () => ask('POST', '/v1/ratio', { wheel: { driveWheel: { grooveDiameter: `${400 + (n % 300)} mm` }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '60 mm' }], bobbins: [{ grooves: [{ grooveDiameter: '48 mm' }] }] } }),
  () => ask('GET', '/v1/grist?grist=1500yd/lb'),
  () => ask('GET', `/v1/twist?ratio=14&wheelTurns=2&draftLength=${2 + (n % 5)}in`),
  () => ask('GET', '/v1/wheels?limit=10'),
  () => ask('GET', '/v1/wheels?text=soak&limit=5', undefined, keyed),
  () => ask('GET', '/v1/wheels?style=saxony&limit=5'),
  () => ask('GET', `/calculate/ratio?driveWheel=${400 + (n % 300)}mm&band=2mm&whorl=60mm`),
  () => ask('GET', '/v1/ratio?driveWeel=1'),
  () => ask('POST', '/v1/batch', { questions: Array.from({ length: 5 }, (_, i) => ({ id: String(i), calculation: 'grist', question: { grist: `${1000 + i} yd/lb` } })) }),
];

interface Sample { readonly at: number; readonly rss: number; readonly heap: number }
const samples: Sample[] = [];
const megabytes = (bytes: number): number => bytes / 1e6;
async function sample(at: number): Promise<void> {
  const rss = Number(/VmRSS:\s+(\d+) kB/.exec(readFileSync(`/proc/${service.process.pid}/status`, 'utf8'))![1]) * 1024;
  const text = await (await request(`http://127.0.0.1:${port}/metrics`)).body.text();
  samples.push({ at, rss: megabytes(rss), heap: megabytes(Number(/^wheelgrist_nodejs_heap_size_used_bytes(?:\{\})? (\S+)/m.exec(text)?.[1] ?? NaN)) });
}
/** Megabytes an hour, through the points by least squares. */
function slope(points: readonly (readonly [hours: number, value: number])[]): number {
  const [mx, my] = [0, 1].map((k) => points.reduce((sum, p) => sum + p[k]!, 0) / points.length) as [number, number];
  return points.reduce((sum, [x, y]) => sum + (x - mx) * (y - my), 0) / points.reduce((sum, [x]) => sum + (x - mx) ** 2, 0);
}
function report(elapsed: number, whole: boolean): void {
  const sorted = [...times].sort((a, b) => a - b);
  const asked = [...statuses.values()].reduce((a, b) => a + b, 0);
  console.log(`${(elapsed / 60_000).toFixed(1)} min: ${asked} requests, ${Math.round(asked / (elapsed / 1000))} a second; p50 ${sorted[sorted.length >> 1]?.toFixed(1)} ms, p99 ${sorted[Math.floor(sorted.length * 0.99)]?.toFixed(1)} ms; rss ${samples.at(-1)?.rss.toFixed(0)} MB, heap ${samples.at(-1)?.heap.toFixed(0)} MB`);
  if (!whole) return;
  for (const what of ['rss', 'heap'] as const) {
    const floors = Array.from({ length: 10 }, (_, i) => Math.min(...samples.filter((one) => Math.min(9, Math.floor((10 * one.at) / elapsed)) === i).map((one) => one[what])));
    const count = Math.max(3, Math.floor(elapsed / 60_000));
    const windows = Array.from({ length: count }, (_, i): readonly [number, number] => [((i + 0.5) * elapsed) / count / 3_600_000, Math.min(...samples.filter((one) => Math.min(count - 1, Math.floor((count * one.at) / elapsed)) === i).map((one) => one[what]))]).filter(([, v]) => Number.isFinite(v));
    console.log(`${what}: least in each tenth ${floors.map((v) => v.toFixed(0)).join(' ')} MB; slope of the last two thirds ${slope(windows.slice(Math.floor(windows.length / 3))).toFixed(1)} MB/h`);
  }
  for (const [name, count] of [...statuses].toSorted()) console.log(`  ${String(count).padStart(8)}  ${name}`);
}

const began = performance.now();
const end = minutes * 60_000;
let [inFlight, skipped, nextSample, nextReport] = [0, 0, 0, 60_000];
const failures: string[] = [];
for (let due = 0, elapsed = 0; elapsed < end; due += 1000 / rate) {
  elapsed = performance.now() - began;
  if (due > elapsed) await sleep(due - elapsed);
  if (elapsed >= nextSample) { nextSample += 5000; await sample(elapsed).catch(() => undefined); }
  if (elapsed >= nextReport) { nextReport += 60_000; report(elapsed, false); }
  // More than so many at once would be another kind of test.
  if (inFlight >= 64) { skipped++; continue; }
  n++;
  inFlight++;
  const work = n % 60 === 0 ? life(n) : mixed[n % mixed.length]!();
  void work.catch((error: unknown) => { if (failures.length < 20) failures.push(String(error)); }).finally(() => { inFlight--; });
}
while (inFlight > 0) await sleep(20);
await sample(performance.now() - began);
report(performance.now() - began, true);
console.log(`${failures.length} failed to be answered${failures.length === 0 ? '' : `: ${failures.join('; ')}`}; ${skipped} left out since 64 were under way`);
await agent.close();
console.log(`stopped: ${JSON.stringify(await service.stop())}`);
await made.drop();
