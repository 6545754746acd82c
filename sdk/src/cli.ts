#!/usr/bin/env node
/** The command `wheelgrist`: the calculations, without a network. 0: answered. 1: cannot be answered. 2: cannot be read. */
import type { Reply } from '../../services/calculations/calculation.js';
import type { Field } from '../../services/foundation/fields.js';
import { tell, type Part, type Table } from '../../services/foundation/telling.js';
import { commands, version } from './commands.gen.js';
import { ProblemReply } from './errors.js';
import { byLink, settle, type Command } from './local.js';

const flags = ['json', 'strict', 'help', 'version'] as const;
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

wheelgrist <calculation> --help names what it takes. Everything is computed here; nothing is sent anywhere.
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

function run(argv: readonly string[]): Said {
  const line = read(argv);
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

const { code, out, error } = run(process.argv.slice(2));
if (out !== undefined) process.stdout.write(out);
if (error !== undefined) process.stderr.write(error);
process.exitCode = code;
