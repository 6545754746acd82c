/** Readers and writers that behave badly, against the service as it is started: many slow sockets, and more than it can answer. Prints what it measures. */
import { once } from 'node:events';
import { connect, type Socket } from 'node:net';
import { Agent, request } from 'undici';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { built, freePort, get, ratio, start, type Started } from '../start/support.js';

const body = JSON.stringify({ wheel: { driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '60 mm' }, { grooveDiameter: '80 mm' }], bobbins: [{ grooves: [{ grooveDiameter: '48 mm' }] }] } });
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const at = (sorted: readonly number[], share: number): number => sorted[Math.min(sorted.length - 1, Math.floor(sorted.length * share))]!;

describe.skipIf(!built)('the service under abuse', () => {
  let service: Started;
  let port: number;
  beforeAll(async () => {
    port = await freePort();
    // No library is needed for this; an address where nobody listens leaves the calculators.
    service = start({ PORT: String(port), DATABASE_URL: 'postgres://u:p@127.0.0.1:9/x', LOG_LEVEL: 'silent' });
    expect((await get(port, ratio)).status).toBe(200);
  });
  afterAll(() => service?.stop('SIGKILL'));

  async function ask(agent: Agent): Promise<{ status: number; ms: number }> {
    const began = performance.now();
    const reply = await request(`http://127.0.0.1:${port}/v1/ratio`, { method: 'POST', headers: { 'content-type': 'application/json' }, body, dispatcher: agent });
    await reply.body.dump();
    return { status: reply.statusCode, ms: performance.now() - began };
  }
  /** So many connections, each asking again as soon as it is answered. */
  async function load(connections: number, ms: number): Promise<{ good: number; refused: number; times: number[]; refusals: number[] }> {
    const agent = new Agent({ connections, pipelining: 1 });
    const out = { good: 0, refused: 0, times: [] as number[], refusals: [] as number[] };
    const until = Date.now() + ms;
    await Promise.all(Array.from({ length: connections }, async () => {
      while (Date.now() < until) {
        const { status, ms: took } = await ask(agent);
        if (status === 200) { out.good++; out.times.push(took); } else { expect(status).toBe(503); out.refused++; out.refusals.push(took); }
      }
    }));
    await agent.close();
    out.times.sort((a, b) => a - b);
    out.refusals.sort((a, b) => a - b);
    return out;
  }

  it('two thousand sockets that send drop by drop: everybody else is answered', async () => {
    await load(4, 500);
    const alone = await load(4, 1500);
    const slow: Socket[] = [];
    for (let i = 0; i < 2000; i++) {
      const socket = connect(port, '127.0.0.1');
      socket.on('error', () => undefined);
      slow.push(socket);
      if (i % 200 === 199) await once(socket, 'connect');
    }
    const head = 'POST /v1/ratio HTTP/1.1\r\nHost: localhost\r\nContent-Type: application/json\r\nContent-Length: 5000\r\nX-Slow: ';
    let drop = 0;
    const dripping = setInterval(() => { for (const socket of slow) if (socket.writable) socket.write(head[drop % head.length]!); drop++; }, 1000);
    await pause(1100);
    const beside = await load(4, 3000);
    clearInterval(dripping);
    for (const socket of slow) socket.destroy();
    console.log(`2 000 slow sockets: p99 ${at(alone.times, 0.99).toFixed(1)} ms alone, ${at(beside.times, 0.99).toFixed(1)} ms beside them; ${alone.good / 1.5 | 0} and ${beside.good / 3 | 0} answers a second`);
    expect(beside.refused).toBe(0);
    expect(beside.good).toBeGreaterThan(100);
    expect((await get(port, ratio)).status).toBe(200);
  }, 60_000);

  it('three times what it can take: what it answers stays, and nothing else happens than a refusal with its pause', async () => {
    const peak = await load(32, 2000);
    const over = await load(96, 2000);
    const far = await load(800, 3000);
    console.log(`overload: ${peak.good / 2 | 0} good answers a second at 32 connections, ${over.good / 2 | 0} at 96, ${far.good / 3 | 0} at 800 (p50 ${at(far.times, 0.5).toFixed(0)} ms, ${far.refused} refused)`);
    expect(over.good).toBeGreaterThan(0);
    expect(far.good).toBeGreaterThan(0);
    // And well again at once.
    expect((await load(4, 300)).refused).toBe(0);
  }, 60_000);
});
