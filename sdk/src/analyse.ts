/** `wheelgrist analyse members.csv --offline`: a table of wheels, analysed here. 0: every row. 1: some were refused. 2: it is no table. */
import { createReadStream, createWriteStream, statSync } from 'node:fs';
import { once } from 'node:events';
import { Analyser } from '../../services/analyses/chunk.js';
import { columnText } from '../../services/analyses/columns.js';
import { endRecord, linesOfPart } from '../../services/analyses/export.js';
import { Features, Fleet, Found } from '../../services/analyses/fleet.js';
import { Intake, TextIntake, type Chunk, type Layout } from '../../services/analyses/intake.js';
import { summaryOf, type Summary } from '../../services/analyses/summary.js';
import { emptyTally, tallyRow } from '../../services/analyses/tally.js';
import { flagText, missingText, spreadTexts, summarySentences } from '../../services/analyses/telling.js';
import { ProblemError } from '../../services/foundation/problems.js';
import { ProblemReply } from './errors.js';

export interface AnalyseOptions {
  readonly file: string;
  readonly map?: readonly string[] | undefined;
  /** Where verdicts go, as NDJSON. */
  readonly out?: string | undefined;
  readonly charset?: string | undefined;
  readonly dryRun?: boolean;
  readonly json?: boolean;
  /** Told how far it is, from 0 to 1. */
  readonly progress?: (share: number, rows: number) => void;
}
export interface Analysed { readonly code: 0 | 1 | 2; readonly text: string }

export const mapOf = (list: readonly string[] = []): Map<string, string> => new Map(list.map((one) => {
  const cut = one.lastIndexOf('=');
  if (cut < 1) throw new TypeError(`“${one}” is no map: write --map "Heading=whorl 2 (in)".`);
  return [one.slice(0, cut).trim(), one.slice(cut + 1).trim()] as const;
}));

export const columnLines = (columns: readonly { readonly heading: string; readonly understood?: string; readonly evidence: readonly string[] }[]): string[] =>
  columns.flatMap((c) => [`  ${c.heading}: ${c.understood ?? 'kept beside the verdict'}`, ...c.evidence.map((e) => `      ${e}`)]);

export function summaryText(summary: Summary): string {
  const list = (heading: string, lines: readonly string[]): string[] => (lines.length === 0 ? [] : ['', heading, ...lines.map((line) => `  ${line}`)]);
  return [
    ...summarySentences(summary),
    ...list('Why rows were refused', summary.reasons.slice(0, 12).map((r) => `${r.rows} × ${r.column === undefined ? '' : `${r.column}: `}${r.code}`)),
    ...list('Worth a look', summary.flagged.slice(0, 20).map((f) => `row ${f.at}: ${flagText(f)}`)),
    ...list('Rows that cannot draw in, or nearly', summary.cannotDrawIn.length === 0 ? [] : [summary.cannotDrawIn.slice(0, 20).join(', ')]),
    ...list('How they are spread', spreadTexts(summary).map((r) => `${r.label}: ${r.text}`)),
    ...list('Parts that would say more', missingText(summary).map((m) => `${m.label}: missing in ${m.rows} rows`)),
    '',
  ].join('\n');
}

async function* chunksOf(o: AnalyseOptions, intake: Intake): AsyncGenerator<Chunk, void, undefined> {
  const size = statSync(o.file).size;
  const text = new TextIntake(o.charset);
  let seen = 0;
  for await (const bytes of createReadStream(o.file, { highWaterMark: 1 << 18 }) as AsyncIterable<Buffer>) {
    seen += bytes.length;
    yield* intake.push(text.push(bytes));
    o.progress?.(seen / size, intake.rows);
  }
  yield* [...intake.push(text.end()), ...intake.end()];
}

/** The verdicts, once it is known what the rows look like beside each other: the file is read a second time, and never held. */
async function write(o: AnalyseOptions, out: string, flags: ReadonlyMap<number, string>, end: string): Promise<void> {
  const { progress: _, ...again } = o;
  const intake = intakeOf(o);
  const lines = createWriteStream(out);
  await once(lines, 'open');
  let analyser: Analyser | undefined;
  for await (const chunk of chunksOf(again, intake)) {
    const result = Array.from((analyser ??= new Analyser(intake.layout!)).judged(chunk), (one) => one.line).join('\n');
    for (const line of linesOfPart({ firstRow: chunk.firstRow, result, flags: flags.get(chunk.firstRow) })) if (!lines.write(`${line}\n`)) await once(lines, 'drain');
  }
  lines.end(`${end}\n`);
  await once(lines, 'finish');
}
const intakeOf = (o: AnalyseOptions): Intake => new Intake({ map: mapOf(o.map), ...(/\.(?:ndjson|jsonl)$/i.test(o.file) ? { format: 'ndjson' as const } : {}) });

export async function analyseHere(o: AnalyseOptions): Promise<Analysed> {
  try {
    const intake = intakeOf(o);
    const learnt: { chunk: Pick<Chunk, 'firstRow' | 'rows'>; features: string }[] = [];
    let analyser: Analyser | undefined;
    let fleet: Fleet | undefined;
    const refused: string[] = [];
    for await (const chunk of chunksOf(o, intake)) {
      const layout: Layout = intake.layout!;
      fleet ??= new Fleet(layout);
      const tally = emptyTally();
      const features = new Features(chunk.firstRow);
      for (const one of (analyser ??= new Analyser(layout)).judged(chunk)) {
        tallyRow(tally, one);
        features.add(one);
        if (!one.ok && refused.length < 20) refused.push(...(JSON.parse(one.line) as { errors: { column?: string; detail: string; received?: string; expected?: string }[] }).errors.map((e) => `line ${one.row.line}${e.column === undefined ? '' : `, ${e.column}`}: ${e.detail} Read: ${e.received ?? ''}. Expected: ${e.expected ?? ''}.`));
      }
      const packed = features.packed();
      fleet.learn(tally, Features.of(packed, chunk.rows), chunk.firstRow);
      learnt.push({ chunk: { firstRow: chunk.firstRow, rows: chunk.rows }, features: packed });
      if (o.dryRun === true && intake.rows >= 1000) break;
    }
    fleet!.learnt();
    const { tally } = fleet!;
    const flags = new Map<number, string>();
    const found = new Found();
    for (const { chunk, features } of learnt) {
      const own = fleet!.flags(chunk.firstRow, Features.of(features, chunk.rows));
      found.add(own);
      if (own.size > 0) flags.set(chunk.firstRow, JSON.stringify([...own]));
    }
    if (o.out !== undefined && o.dryRun !== true) await write(o, o.out, flags, endRecord(tally));
    const code = tally.rejected > 0 ? 1 : 0;
    const columns = intake.layout!.columns.map(({ is, ...c }) => ({ ...c, ...(is === undefined ? {} : { understood: columnText(is) }) }));
    const summary = summaryOf(fleet!, found, intake.layout!);
    if (o.json === true) return { code, text: `${JSON.stringify(o.dryRun === true ? { columns, rows: tally.rows, rejected: tally.rejected } : { columns, summary }, null, 2)}\n` };
    if (o.dryRun === true) return { code, text: ['How the columns are understood', ...columnLines(columns), '', `Of the first ${tally.rows} rows ${tally.rejected} would be refused.`, ...refused.map((r) => `  ${r}`), ''].join('\n') };
    return { code, text: `${summaryText(summary)}${refused.length === 0 ? '' : `\nThe first refused rows\n${refused.map((r) => `  ${r}`).join('\n')}\n`}` };
  } catch (error) {
    if (error instanceof ProblemError) throw new ProblemReply({ status: error.status, headers: {}, requestId: undefined }, error.document());
    throw error;
  }
}
