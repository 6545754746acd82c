/**
 * Two workers, one or the other killed every moment: every row has its verdict once, nothing is lost, and what a dead worker had
 * is taken over. `KILL_ROWS=100000 KILL_EVERY=3 npm test -- tests/analyses/killed` for a table and a pace that last.
 */
import { expect, it } from 'vitest';
import { describeWith } from '../support/require.js';
import { built, type Started } from '../start/support.js';
import { messyFile } from './messy-file.js';
import { openMill, pause, type Line } from './processes.js';

const rows = Number(process.env['KILL_ROWS'] ?? 4000);
const most = process.env['KILL_ROWS'] === undefined ? 4 : Infinity;
const every = 1000 * Number(process.env['KILL_EVERY'] ?? 0.7);

if (built) await describeWith('postgres', 'workers that are killed', () => {
  it(`one every ${every / 1000} s, over ${rows} rows`, async () => {
    const messy = messyFile('metric', 41, rows);
    const mill = await openMill();
    try {
      const id = await mill.send(messy.text);
      const began = performance.now();
      const workers: Started[] = [mill.worker(), mill.worker()];
      const held = async (): Promise<string[]> => (await mill.ask<{ lease: string }>('select lease from chunks where lease is not null')).map((c) => c.lease);
      /** Leases that somebody had at a kill, and when that was. */
      const left = new Map<string, number>();
      let [kills, longest, crashed] = [0, 0, 0];
      let killed = performance.now();
      let state = '';
      for (;;) {
        const here = new Set(await held());
        const now = performance.now();
        for (const [lease, since] of left) if (!here.has(lease)) { longest = Math.max(longest, now - since); if (now - since > 2000) crashed++; left.delete(lease); }
        state = (await mill.client.readAnalysis({ id })).state;
        if (state === 'done') break;
        // In the middle of work, whichever it is.
        if (kills < most && now - killed > every && here.size > 0) {
          await workers[kills % 2]!.stop('SIGKILL');
          for (const lease of here) if (!left.has(lease)) left.set(lease, performance.now());
          workers[kills % 2] = mill.worker();
          kills++;
          killed = performance.now();
        }
        await pause(50);
      }
      const took = (performance.now() - began) / 1000;
      const lines: Line[] = [];
      for await (const line of mill.client.analysisResults({ id })) lines.push(line as unknown as Line);
      const end = lines.pop()!;
      expect(lines.map((l) => l.row)).toEqual(Array.from({ length: rows }, (_, i) => i + 1));
      expect(end).toMatchObject({ end: true, rows, analysed: lines.filter((l) => l.verdict === 'analysed').length, rejected: lines.filter((l) => l.verdict === 'rejected').length });
      // No healthy row is taken for one that breaks workers.
      expect(lines.filter((l) => l.errors?.some((e) => e.code === 'internal-error'))).toEqual([]);
      const refused = new Set(lines.filter((l) => l.verdict === 'rejected').map((l) => l.row));
      expect([...messy.refused].filter((row) => !refused.has(row))).toEqual([]);
      console.log(`${rows} rows, ${kills} workers killed: done after ${took.toFixed(1)} s, each row once; ${crashed} chunks were left behind, the last of them taken over after ${(longest / 1000).toFixed(1)} s at most`);
      expect(kills).toBeGreaterThan(2);
      if (process.env['KILL_ROWS'] !== undefined) expect(longest).toBeLessThan(30_000);
    } finally {
      await mill.close();
    }
  }, 900_000);
});
