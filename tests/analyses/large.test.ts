/**
 * A table of any size, through the service and a worker over PostgreSQL: what they hold in memory does not grow with it, nor with
 * a reader that takes a kilobyte a second, and a sample of rows says what the same wheels say when they are asked alone.
 * `LARGE_ROWS=1000000 npm test -- tests/analyses/large` for a table that is large.
 */
import { readFileSync } from 'node:fs';
import { connect, type NetConnectOpts } from 'node:net';
import { expect, it } from 'vitest';
import { Analyser } from '../../services/analyses/chunk.js';
import { Intake } from '../../services/analyses/intake.js';
import { wheelOf, type RowRead } from '../../services/analyses/row.js';
import { built } from '../start/support.js';
import { describeWith } from '../support/require.js';
import { messyFile } from './messy-file.js';
import { openMill, pause, type Line } from './processes.js';

const rows = Number(process.env['LARGE_ROWS'] ?? 3000);
const most = 300;
const workers = rows > 100_000 ? 2 : 1;
/** Rows of one seed; the table repeats them under other names, so that what is sent need not be held. */
const block = 2000;
interface Verdict extends Line { whorls?: { name: string; flyerRatio: unknown }[]; pairs?: { whorl?: string; bobbin?: string; leastTwist?: { empty: unknown }; mostDrawnInPerWheelTurn?: { full: unknown } }[] }
/** Megabytes at most so far; undefined where the system does not tell. */
function peak(pid: number): number | undefined {
  try { return Number(/VmHWM:\s*(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))![1]) / 1024; } catch { return undefined; }
}
const now = (pid: number): number | undefined => { try { return Number(/VmRSS:\s*(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8'))![1]) / 1024; } catch { return undefined; } };

if (built) await describeWith('postgres', 'a large table', () => {
  it(`of ${rows} rows`, async () => {
    const lines = messyFile('metric', 17, block).text.split('\r\n').filter((line) => line !== '');
    const [head, ...rest] = lines;
    const line = (i: number): string => rest[i % block]!.replace(/ (\d+)/, ` ${i + 1}`);
    async function* table(): AsyncGenerator<Uint8Array, void, undefined> {
      yield Buffer.from(`${head}\r\n`);
      for (let i = 0; i < rows; i += 500) yield Buffer.from(Array.from({ length: Math.min(500, rows - i) }, (_, k) => `${line(i + k)}\r\n`).join(''));
    }
    const mill = await openMill();
    try {
      const service = mill.service.process.pid!;
      const began = performance.now();
      const id = await mill.send(table());
      const sent = performance.now();
      const all = Array.from({ length: workers }, () => mill.worker());
      for (let state = ''; state !== 'done'; await pause(200)) ({ state } = await mill.client.readAnalysis({ id }));
      const done = performance.now();

      // A reader that takes a kilobyte a second.
      const { port } = new URL(mill.url);
      const socket = connect({ port: Number(port), host: '127.0.0.1', highWaterMark: 1024 } as NetConnectOpts);
      socket.write(`GET /v1/analyses/${id}/results HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer ${mill.key}\r\n\r\n`);
      let slow = 0;
      const drip = setInterval(() => { const piece = socket.read(1024) as Buffer | null; slow += piece?.length ?? 0; }, 1000);
      const before = now(service);
      await pause(rows > 100_000 ? 20_000 : 3000);
      const after = now(service);
      clearInterval(drip);
      socket.destroy();
      expect(slow).toBeGreaterThan(0);

      const every = Math.max(1, Math.floor(rows / 25));
      const sample: Verdict[] = [];
      let last = 0;
      let end: Line | undefined;
      for await (const one of mill.client.analysisResults({ id })) {
        const l = one as unknown as Verdict;
        if (l.end === true) { end = l; break; }
        if (l.row !== last + 1) throw new Error(`row ${l.row} follows row ${last}`);
        last = l.row;
        if (l.row % every === 0 && l.verdict === 'analysed') sample.push(l);
      }
      expect([last, end]).toEqual([rows, expect.objectContaining({ rows })]);
      const readAt = performance.now();

      let compared = 0;
      const same = (a: unknown, q: { value?: number; low?: number; high?: number } | undefined): void => {
        if (a === undefined || q === undefined) return;
        const own = typeof a === 'number' ? { value: a } : (a as { value?: number; low?: number; high?: number });
        for (const key of ['value', 'low', 'high'] as const) if (own[key] !== undefined) { expect(Math.abs(own[key] / q[key]! - 1)).toBeLessThan(1e-9); compared++; }
      };
      for (const l of sample) {
        const wheel = wheelOf(rowOf(head!, line(l.row - 1))) as never;
        const { result: ratio } = await mill.client.ratio({ wheel });
        for (const w of l.whorls ?? []) same(w.flyerRatio, ratio.whorls?.find((x) => x.name === w.name)?.flyerRatio);
        const { result: take } = await mill.client.takeUp({ wheel, steps: 2 });
        for (const p of l.pairs ?? []) {
          const own = take.pairs.find((x) => x.whorl === p.whorl && x.bobbin === p.bobbin);
          same(p.leastTwist?.empty, own?.fill[0]?.leastTwist);
          same(p.mostDrawnInPerWheelTurn?.full, own?.fill[1]?.mostDrawnInPerWheelTurn);
        }
      }
      expect(compared).toBeGreaterThan(40);

      const peaks = [service, ...all.map((one) => one.process.pid!)].map(peak);
      const mb = (x: number | undefined): string => (x === undefined ? 'not told' : `${Math.round(x)} MB`);
      const rate = (ms: number): string => `${Math.round((1000 * rows) / ms)} rows a second`;
      console.log(`${rows} rows: sent at ${rate(sent - began)}, analysed and compared by ${workers} at ${rate(done - sent)}, read at ${rate(readAt - done)}; at most ${mb(peaks[0])} in the service and ${peaks.slice(1).map(mb).join(' and ')} in its workers; a reader of 1 kB/s: ${mb(before)} before, ${mb(after)} after; ${compared} numbers of ${sample.length} rows as when asked alone`);
      for (const one of peaks) if (one !== undefined) expect(one).toBeLessThan(most);
    } finally {
      await mill.close();
    }
  }, 7_200_000);
});

function rowOf(head: string, line: string): RowRead {
  const intake = new Intake();
  const chunks = [...intake.push(`${head}\r\n${line}\r\n`), ...intake.end()];
  return [...new Analyser(intake.layout!).judged(chunks[0]!)][0]!.row;
}
