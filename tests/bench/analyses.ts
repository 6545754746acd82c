/**
 * What a row of a table costs. Lines in, verdict lines out, without a database, in one thread, against parsing and writing the
 * same lines, and lines as long as the replies, as JSON: by processor time, in turn, median of the ratios. Then through the
 * service and PostgreSQL, with one worker and with two. `npm run bench:analyses -- [rows] [rounds]`
 */
import { Analyser } from '../../services/analyses/chunk.js';
import { Intake } from '../../services/analyses/intake.js';
import { readCsv } from '../../services/foundation/csv.js';
import { messyFile } from '../analyses/messy-file.js';
import { openMill, pause } from '../analyses/processes.js';
import { lacking } from '../support/require.js';

const rows = Number(process.argv[2] ?? 20_000);
const rounds = Number(process.argv[3] ?? 5);
const wanted = { ofInput: 0.15, ofReplies: 0.4 };
const text = messyFile('metric', 3, rows).text;
const [head, ...cells] = readCsv(text).map((row) => row.cells);
const ndjson = cells.map((row) => JSON.stringify(Object.fromEntries(head!.map((name, i) => [name, row[i] ?? '']))));

/** Everything between the bytes of a file and the lines of its verdicts, but for deflating. */
function judged(table: string): string[] {
  const intake = new Intake();
  const out: string[] = [];
  let analyser: Analyser | undefined;
  for (let at = 0; at < table.length; at += 65_536) for (const chunk of intake.push(table.slice(at, at + 65_536))) for (const one of (analyser ??= new Analyser(intake.layout!)).judged(chunk)) out.push(one.line);
  for (const chunk of intake.end()) for (const one of (analyser ??= new Analyser(intake.layout!)).judged(chunk)) out.push(one.line);
  return out;
}
const copied = (lines: readonly string[]): string[] => lines.map((line) => JSON.stringify(JSON.parse(line)));
/** Microseconds of processor time for each row. */
function cost(work: () => readonly string[]): number {
  const before = process.cpuUsage();
  if (work().length !== rows) throw new Error('rows were lost');
  const { user, system } = process.cpuUsage(before);
  return (user + system) / rows;
}
const median = (numbers: readonly number[]): number => numbers.toSorted((a, b) => a - b)[numbers.length >> 1]!;

const table = ndjson.join('\n');
const replies = judged(table);
const bytes = (lines: readonly string[]): number => Math.round(lines.reduce((sum, line) => sum + line.length, 0) / lines.length);
console.log(`${rows} rows of a messy table: ${bytes(ndjson)} signs in, ${bytes(replies)} signs out; node ${process.version}`);
const works = { 'NDJSON to verdicts': () => judged(table), 'CSV to verdicts': () => judged(text), 'input lines parsed and written': () => copied(ndjson), 'replies parsed and written': () => copied(replies) };
const found: Record<keyof typeof works, number[]> = { 'NDJSON to verdicts': [], 'CSV to verdicts': [], 'input lines parsed and written': [], 'replies parsed and written': [] };
for (let round = 0; round < rounds; round++) for (const [name, work] of Object.entries(works)) found[name as keyof typeof works].push(cost(work));
for (const [name, times] of Object.entries(found)) console.log(`  ${name.padEnd(32)} ${median(times).toFixed(2).padStart(7)} µs a row, ${Math.round(1e6 / median(times))} rows a second of processor time`);
const ratio = (to: keyof typeof works, of: keyof typeof works): number => median(found[of].map((time, i) => found[to][i]! / time));
const tooSlow: string[] = [];
for (const of of ['NDJSON to verdicts', 'CSV to verdicts'] as const) {
  const [input, reply] = [ratio('input lines parsed and written', of), ratio('replies parsed and written', of)];
  console.log(`${of}: ${input.toFixed(2)} of the input lines (wanted ${wanted.ofInput}), ${reply.toFixed(2)} of lines as long as the replies (wanted ${wanted.ofReplies})`);
  if (input < wanted.ofInput) tooSlow.push(`${of}: ${input.toFixed(2)} of the input lines, wanted ${wanted.ofInput}`);
  if (reply < wanted.ofReplies) tooSlow.push(`${of}: ${reply.toFixed(2)} of the replies, wanted ${wanted.ofReplies}`);
}

const no = await lacking('postgres');
if (no !== undefined) console.log(`Not measured through PostgreSQL: ${no}.`);
else {
  const took: number[] = [];
  for (const workers of [1, 2]) {
    const mill = await openMill();
    try {
      const began = performance.now();
      const id = await mill.send(text);
      const sent = performance.now();
      const all = Array.from({ length: workers }, () => mill.worker());
      await Promise.all(all.map((one) => one.says(/Waiting/)));
      const ready = performance.now();
      let state: string;
      while ((state = (await mill.client.readAnalysis({ id })).state) !== 'done') await pause(50);
      const done = performance.now();
      let lines = 0;
      for await (const line of mill.client.analysisResults({ id })) lines += line === undefined ? 0 : 1;
      const read = performance.now();
      took.push(done - ready);
      console.log(`through HTTP and PostgreSQL, ${workers} worker${workers === 1 ? '' : 's'}: sent at ${Math.round((rows / (sent - began)) * 1000)} rows a second, ${state} at ${Math.round((rows / (done - ready)) * 1000)}, ${lines - 1} verdicts read at ${Math.round((rows / (read - done)) * 1000)}`);
    } finally {
      await mill.close();
    }
  }
  console.log(`two workers are ${(took[0]! / took[1]!).toFixed(2)} times as fast as one (with ${rows} rows, the service and the database beside them)`);
}
for (const line of tooSlow) console.log(line);
if (tooSlow.length > 0) process.exitCode = 1;
