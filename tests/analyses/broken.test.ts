/**
 * What is found to be at fault is a single row, by name: one that hangs, devours memory, throws, or takes the whole process with
 * it. And a database whose connections are all ended, again and again, holds nothing up for good.
 */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { built } from '../start/support.js';
import { describeWith } from '../support/require.js';
import { messyFile } from './messy-file.js';
import { openMill, pause, type Line, type Mill } from './processes.js';

const poison = { NODE_OPTIONS: `--import ${new URL('./poison.mjs', import.meta.url).href}` };

if (built) await describeWith('postgres', 'workers that break down', () => {
  let mill: Mill;
  beforeAll(async () => { mill = await openMill(); });
  afterAll(() => mill.close());
  const done = async (id: string): Promise<void> => {
    // The service says 503 while its own connections are ended.
    while ((await mill.client.readAnalysis({ id }).catch(() => undefined))?.state !== 'done') await pause(200);
  };
  const linesOf = async (id: string): Promise<Line[]> => { const out: Line[] = []; for await (const line of mill.client.analysisResults({ id })) out.push(line as unknown as Line); return out; };
  const setAside = (lines: Line[]): (string | undefined)[] => lines.filter((l) => l.errors?.some((e) => e.code === 'internal-error')).map((l) => /"?(hang|devour|throw|kill)/.exec(l.errors![0]!.received!)?.[1]);
  const table = (words: Readonly<Record<number, string>>, rows: number): string => `name,drive wheel (mm),whorl (mm),bobbin groove (mm)\n${Array.from({ length: rows }, (_, i) => `${words[i] ?? `wheel ${i}`},560,60,48\n`).join('')}`;

  it('on a row that hangs, devours memory or throws: it goes on by itself, and that row alone is set aside', async () => {
    const worker = mill.worker(poison);
    const id = await mill.send(table({ 0: 'throw', 200: 'hang', 201: 'devour', 599: 'throw' }, 600));
    await done(id);
    const lines = await linesOf(id);
    expect(lines.slice(0, -1).map((l) => l.row)).toEqual(Array.from({ length: 600 }, (_, i) => i + 1));
    expect(setAside(lines)).toEqual(['throw', 'hang', 'devour', 'throw']);
    expect(lines.at(-1)).toMatchObject({ rows: 600, analysed: 596, rejected: 4 });
    expect(worker.process.exitCode).toBe(null);
    await worker.stop();
  }, 300_000);

  it('on a row that takes the process with it: that row is found, however many processes it takes', async () => {
    const id = await mill.send(table({ 2: 'kill' }, 4));
    // Two were lost before; four rows are taken apart one by one, as a thousand are in three steps of ten.
    await mill.ask('update chunks set crashes = 2 where state = \'waiting\'');
    let lost = 0;
    let over = false;
    const whole = done(id).then(() => { over = true; });
    while (!over) {
      const worker = mill.worker(poison);
      await Promise.race([worker.ended, whole]);
      if (over) await worker.stop();
      else { lost++; await mill.ask('update chunks set locked_until = now() where state = \'working\''); }
    }
    const lines = await linesOf(id);
    console.log(`a row that kills: found after ${lost} workers`);
    expect(setAside(lines)).toEqual(['kill']);
    expect(lines.at(-1)).toMatchObject({ rows: 4, analysed: 3, rejected: 1 });
  }, 300_000);

  it('where every connection to the database is ended again and again', async () => {
    const messy = messyFile('inches', 42, 2000);
    const id = await mill.send(messy.text);
    const [worker, other] = [mill.worker(), mill.worker()];
    await Promise.all([worker, other].map((one) => one.says(/Waiting/)));
    let ended = 0;
    let over = false;
    const whole = done(id).then(() => { over = true; });
    while (!over) {
      await Promise.race([pause(1000), whole]);
      if (ended < 30 && !over) ended += (await mill.made.admin.unsafe(`select pg_terminate_backend(pid) from pg_stat_activity where datname = '${mill.made.name}'`)).length;
    }
    const lines = await linesOf(id);
    console.log(`${ended} connections ended: every row has its verdict`);
    expect(ended).toBeGreaterThan(5);
    expect(lines.slice(0, -1).map((l) => l.row)).toEqual(Array.from({ length: 2000 }, (_, i) => i + 1));
    expect(setAside(lines)).toEqual([]);
    expect([worker.process.exitCode, other.process.exitCode]).toEqual([null, null]);
  }, 300_000);
});
