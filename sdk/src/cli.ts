#!/usr/bin/env node
/** The command `wheelgrist`: the calculations, without a network. 0: answered. 1: cannot be answered. 2: cannot be read. */
import type { Reply } from '../../services/calculations/calculation.js';
import type { Field } from '../../services/foundation/fields.js';
import { tell, type Part, type Table } from '../../services/foundation/telling.js';
import { commands, version } from './commands.gen.js';
import { ProblemReply, WheelgristError } from './errors.js';
import { byLink, settle, type Command } from './local.js';

const flags = ['json', 'strict', 'help', 'version', 'offline', 'dry-run'] as const;
type Flag = (typeof flags)[number];
interface Line { readonly words: string[]; readonly flags: Set<Flag>; readonly values: Record<string, string[]>; readonly unfinished: string | undefined }

const kebab = (name: string): string => name.replace(/[A-Z]/g, (letter) => `-${letter.toLowerCase()}`);
const camel = (name: string): string => name.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
const fit = (text: string, width: number): string => text.padEnd(width);

function read(argv: readonly string[]): Line {
  const line = { words: [] as string[], flags: new Set<Flag>(), values: {} as Record<string, string[]>, unfinished: undefined as string | undefined };
  for (let i = 0; i < argv.length; i++) {
    const word = argv[i]!;
    if (word === '-h') line.flags.add('help');
    else if (!word.startsWith('--')) line.words.push(word);
    else {
      const cut = word.indexOf('=');
      const name = word.slice(2, cut < 0 ? undefined : cut);
      if (cut < 0 && flags.includes(name as Flag)) { line.flags.add(name as Flag); continue; }
      const value = cut < 0 ? argv[++i] : word.slice(cut + 1);
      if (value === undefined) line.unfinished = word;
      else (line.values[camel(name)] ??= []).push(value);
    }
  }
  return line;
}

const usage = (): string => `wheelgrist <calculation> [--name value …]

${commands.map((c) => `  ${fit(c.id, 12)} ${c.summary}`).join('\n')}

  analyse      A whole table of wheels: wheelgrist analyse members.csv --offline

wheelgrist <calculation> --help names what it takes. Everything is computed here; only analyse with --url sends anything.
`;

function help(command: Command): string {
  const said = (field: Field): string => `  ${fit(`--${kebab(field.name)}`, 30)} ${field.label}${field.repeats === true ? ', more than once if you like' : ''}${field.choices === undefined ? (field.hint === undefined ? '' : `: ${field.hint}`) : `: ${field.choices.map((choice) => choice.value).join(', ')}`}`;
  const example = [...new URLSearchParams(command.example)].map(([name, value]) => `--${kebab(name)} ${/^[\w/.-]+$/.test(value) ? value : `"${value}"`}`).join(' ');
  return `${command.title}. ${command.summary}

${command.fields.list.map(said).join('\n')}
  ${fit('--units', 30)} Units of the answer: metric, imperial, or by kind: metric,twist:turns/in
  ${fit('--strict', 30)} Be refused rather than warned
  ${fit('--json', 30)} The whole answer as JSON

wheelgrist ${command.id} ${example}
`;
}

const widest = 100;
/** Columns side by side, or row by row where they would not fit. */
function tableLines({ heads, rows }: Table): string[] {
  const widths = heads.map((head, i) => Math.max(head.length, ...rows.map((row) => row[i]!.length)));
  if (widths.reduce((sum, width) => sum + width + 3, 0) > widest) return rows.flatMap((row, n) => [...(n === 0 ? [] : ['']), ...heads.flatMap((head, i) => (row[i] === '' ? [] : [`  ${head}: ${row[i]!}`]))]);
  return [heads, ...rows].map((row) => `  ${row.map((cell, i) => cell.padEnd(widths[i]!)).join('   ').trimEnd()}`);
}
const partLines = ({ title, facts, tables }: Part): string[] => [
  '', ...(title === '' ? [] : [title]), ...facts.map((fact) => `  ${fact.label}: ${fact.text}`),
  ...tables.flatMap((table) => [...(table.title === undefined ? [] : [`  ${table.title}`]), ...tableLines(table)]),
];

function answerText({ id, title }: Command, reply: Reply<unknown>): string {
  const told = tell(id, reply.result);
  const list = (heading: string, notes: readonly { text: string }[]): string[] => (notes.length === 0 ? [] : ['', heading, ...notes.map((note) => `  ${note.text}`)]);
  return [
    ...reply.cautions.map((caution) => `Take care: ${caution.text}`),
    title, ...told.sentences.map((sentence) => `  ${sentence}`), ...told.parts.flatMap(partLines),
    ...list('Taken for granted', reply.assumptions), ...list('Worth a look', reply.warnings), '',
  ].join('\n');
}

function problemText({ problem }: ProblemReply): string {
  const issues = problem.errors ?? [];
  const said = issues.map((issue) => {
    const name = issue.parameter === undefined ? undefined : `--${kebab(issue.parameter)}`;
    const more = [
      issue.received === undefined ? '' : `read:     ${issue.code === 'unknown-field' ? `--${kebab(issue.received)}` : issue.received}`,
      issue.expected === undefined ? '' : `expected: ${issue.expected}`,
      issue.try === undefined ? '' : `try:      ${issue.code === 'unknown-field' ? `--${kebab(issue.try)}` : `${name ?? ''} ${issue.try}`.trim()}`,
    ].filter((line) => line !== '');
    return [`${name === undefined ? '' : `${name}: `}${issue.detail}`, ...more.map((line) => `    ${line}`)].map((line) => `  ${line}`).join('\n');
  });
  return [`${problem.title}.`, ...(said.length === 0 ? [`  ${problem.detail}`] : said), ''].join('\n');
}

interface Said { readonly code: 0 | 1 | 2; readonly out?: string; readonly error?: string }

function run(line: Line): Said {
  const [id, ...others] = line.words;
  if (line.flags.has('version')) return { code: 0, out: `${version}\n` };
  if (id === undefined) return line.flags.has('help') ? { code: 0, out: usage() } : { code: 2, error: usage() };
  const command = commands.find((c) => c.id === id);
  if (command === undefined) return { code: 2, error: `There is no calculation “${id}”. There is: ${commands.map((c) => c.id).join(', ')}.\n` };
  if (line.flags.has('help')) return { code: 0, out: help(command) };
  if (line.unfinished !== undefined) return { code: 2, error: `${line.unfinished} stands without its value.\n` };
  if (others.length > 0) return { code: 2, error: `“${others[0]!}” stands by itself. A measure that holds spaces goes into quotes: --whorl "2 3/8 in".\n` };
  const { units, ...values } = line.values;
  try {
    const args = { ...values, ...(units === undefined ? {} : { units: units.at(-1)! }), ...(line.flags.has('strict') ? { strict: true } : {}) };
    const reply = settle(() => byLink(command.fields, args, command.answer));
    return { code: 0, out: line.flags.has('json') ? `${JSON.stringify(reply, null, 2)}\n` : answerText(command, reply) };
  } catch (error) {
    if (!(error instanceof ProblemReply)) throw error;
    const code = error.status === 400 ? 2 : 1;
    return line.flags.has('json') ? { code, out: `${JSON.stringify(error.problem, null, 2)}\n` } : { code, error: problemText(error) };
  }
}

const analyseHelp = `wheelgrist analyse <file> --offline
wheelgrist analyse <file> --url https://wheels.example    (the guild’s key in WHEELGRIST_KEY)

A table of wheels as CSV (comma, semicolon or tab) or as NDJSON, with headings such as “drive wheel (in)”, “whorl 1 (mm)”,
“bobbin groove (mm)”, “band (mm)”. Every row is analysed, or refused with the reason.

  --dry-run     Say how each column is understood, and analyse nothing else
  --map         What a heading is to be read as: --map "Rad=drive wheel (mm)", more than once if you like
  --out         File for the verdict of every row, as NDJSON
  --charset     Charset of the file where it is not UTF-8, such as windows-1252
  --json        The summary as JSON

Ends with 0 when every row was analysed, 1 when some were refused, 2 when the file is no table, 3 when the service cannot be reached.
`;

/** How far it is, on a terminal; a file or a pipe is not written to. */
function bar(share: number, rows: number): void {
  if (!process.stderr.isTTY) return;
  const done = Math.round(share * 30);
  process.stderr.write(`\r[${'#'.repeat(done)}${' '.repeat(30 - done)}] ${Math.round(share * 100)} %, ${rows} rows`);
  if (share >= 1) process.stderr.write('\r\u001b[K');
}

async function analyse(line: Line): Promise<Said & { readonly code: number }> {
  const [, file, ...others] = line.words;
  const last = (name: string): string | undefined => line.values[name]?.at(-1);
  if (line.flags.has('help')) return { code: 0, out: analyseHelp };
  if (file === undefined || others.length > 0 || line.unfinished !== undefined) return { code: 2, error: analyseHelp };
  const unknown = Object.keys(line.values).find((name) => !['map', 'out', 'charset', 'url'].includes(name));
  if (unknown !== undefined) return { code: 2, error: `--${kebab(unknown)} is not known here. There is: --offline, --url, --dry-run, --map, --out, --charset, --json.\n` };
  if (!line.flags.has('offline') && last('url') === undefined) return { code: 2, error: `Say --offline to analyse it here, or --url for a service.\n` };
  const o = { file, map: line.values['map'], out: last('out'), charset: last('charset'), dryRun: line.flags.has('dry-run'), json: line.flags.has('json'), progress: bar };
  try {
    const { code, text } = line.flags.has('offline') ? await (await import('./analyse.js')).analyseHere(o) : await (await import('./analyse-there.js')).analyseThere({ ...o, url: last('url')!, key: process.env['WHEELGRIST_KEY'] });
    return { code: code as 0, out: text };
  } catch (error) {
    if (error instanceof ProblemReply) return line.flags.has('json') ? { code: 2, out: `${JSON.stringify(error.problem, null, 2)}\n` } : { code: 2, error: problemText(error) };
    if (error instanceof WheelgristError) return { code: 3 as 2, error: `The service cannot be reached: ${error.message}\n` };
    if ((error as NodeJS.ErrnoException).code === 'ENOENT') return { code: 2, error: `There is no file ${file}.\n` };
    if (error instanceof TypeError) return { code: 2, error: `${error.message}\n` };
    throw error;
  }
}

const line = read(process.argv.slice(2));
const { code, out, error } = line.words[0] === 'analyse' ? await analyse(line) : run(line);
if (out !== undefined) process.stdout.write(out);
if (error !== undefined) process.stderr.write(error);
process.exitCode = code;
