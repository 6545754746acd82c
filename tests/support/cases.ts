/**
 * Cases as data, and the one runner of them all. A case holds requests as they are sent, and for each what must stand at
 * which JSON pointer of the answer. Every request goes through every door: as a link and as JSON over HTTP, and without
 * a network; the doors must give one and the same body. A formula that no operation shows is asked for itself.
 */
import { readFileSync } from 'node:fs';
import type { FastifyInstance } from 'fastify';
import { calculations } from '../../services/calculations/index.js';
import type { Calculation } from '../../services/calculations/calculation.js';
import { ProblemError } from '../../services/foundation/problems.js';
import { buildApp } from '../../services/http/app.js';
import * as offlineSdk from '../../sdk/src/offline.js';

export interface Expectation {
  readonly pointer: string;
  /** Absent: what stands there is only to be there, or, with `absent`, not to be there. */
  readonly expected?: number | string | boolean;
  readonly absent?: true;
  /** Relative, and in the unit of the answer. Of the case, when left out here. */
  readonly tolerance?: number;
  readonly absolute?: number;
  /** The answer shows 1/x; or x over what stands at another pointer, less something. */
  readonly reciprocal?: true;
  readonly over?: string;
  readonly less?: number;
}
export interface Ask {
  /** Another operation than the file's. */
  readonly operation?: string;
  /** The query as typed, not yet encoded; and the JSON body, where a link cannot say it. */
  readonly query?: string;
  readonly body?: unknown;
  readonly expect?: readonly Expectation[];
  /** Codes of assumptions, warnings or cautions that must stand in the answer, and of such as must not. */
  readonly notes?: readonly string[];
  readonly noNotes?: readonly string[];
  /** The question must be refused: with this status and code, at this place, with these words somewhere in it. */
  readonly refused?: { readonly status: number; readonly code: string; readonly parameter?: string; readonly says?: readonly string[] };
}
export interface FormulaCheck { readonly fn: string; readonly inputs: unknown; readonly expected: number; readonly field?: string; readonly times?: number; readonly tolerance?: number; readonly absolute?: number; readonly slice?: string }
export interface Case {
  readonly id: string;
  readonly title: string;
  /** Relative, of every expectation that names none; and why so much and not less. */
  readonly tolerance?: number;
  readonly why?: string;
  readonly asks?: readonly Ask[];
  readonly formulas?: readonly FormulaCheck[];
  /** Why no operation can be asked; or which part of the case cannot. */
  readonly notAskable?: string;
}
export interface CaseFile { readonly calculation: string; readonly count: number; readonly cases: readonly Case[] }

const names = {
  file: ['calculation', 'count', 'cases'],
  case: ['id', 'title', 'kind', 'basis', 'source', 'locator', 'tolerance', 'why', 'asks', 'formulas', 'notAskable'],
  ask: ['operation', 'query', 'body', 'expect', 'notes', 'noNotes', 'refused'],
  expectation: ['pointer', 'expected', 'absent', 'tolerance', 'absolute', 'reciprocal', 'over', 'less'],
  formula: ['fn', 'inputs', 'expected', 'field', 'times', 'tolerance', 'absolute', 'slice'],
} as const;
/** Reads a file of cases. A name that the runner does not know would go unchecked, so it is refused. */
export function loadCases(url: URL): CaseFile {
  const only = (o: object, what: keyof typeof names): void => {
    for (const key of Object.keys(o)) if (!(names[what] as readonly string[]).includes(key)) throw new Error(`${url.pathname}: “${key}” is not known in a ${what}`);
  };
  const file = JSON.parse(readFileSync(url, 'utf8')) as CaseFile;
  only(file, 'file');
  for (const c of file.cases) {
    only(c, 'case');
    for (const f of c.formulas ?? []) only(f, 'formula');
    for (const a of c.asks ?? []) {
      only(a, 'ask');
      if ((a.query === undefined) === (a.body === undefined)) throw new Error(`${c.id}: an ask has either a query or a body`);
      for (const e of a.expect ?? []) only(e, 'expectation');
    }
  }
  return file;
}

export interface Reply { readonly status: number; readonly body: unknown }
export interface Door { readonly name: string; ask(calculation: Calculation, ask: Ask): Promise<Reply | undefined> }

const calculationOf = (id: string): Calculation => {
  const found = calculations.find((c) => c.id === id);
  if (found === undefined) throw new Error(`No calculation is called ${id}.`);
  return found;
};

const flatOf = (query: string): Record<string, string[]> => {
  const flat: Record<string, string[]> = {};
  for (const part of query.split('&').filter((x) => x !== '')) {
    const cut = part.indexOf('=');
    (flat[part.slice(0, cut)] ??= []).push(part.slice(cut + 1));
  }
  return flat;
};
/** The address of a request as it goes over the wire. */
export const encoded = (query: string): string =>
  Object.entries(flatOf(query)).flatMap(([name, values]) => values.map((v) => `${encodeURIComponent(name)}=${encodeURIComponent(v)}`)).join('&');

/** The question of an ask, and what is not part of it: units and strict. */
function questionOf(calculation: Calculation, ask: Ask): { question: unknown; rest: string } {
  if (ask.query === undefined) return { question: ask.body, rest: '' };
  const { units, strict, ...flat } = flatOf(ask.query);
  return { question: calculation.fields.toQuestion(flat).question, rest: [units && `units=${encodeURIComponent(units[0]!)}`, strict && `strict=${strict[0]}`].filter(Boolean).join('&') };
}

let built: Promise<FastifyInstance> | undefined;
export const app = (): Promise<FastifyInstance> => (built ??= buildApp({ config: { version: '0.0.0-test' } }));
/** The next file that asks builds its own again. */
export async function closeApp(): Promise<void> {
  const was = built;
  built = undefined;
  await (await was)?.close();
}

const httpGet: Door = {
  name: 'GET',
  async ask(calculation, ask) {
    if (ask.query === undefined) return undefined;
    const reply = await (await app()).inject({ method: 'GET', url: `/v1/${calculation.id}?${encoded(ask.query)}` });
    return { status: reply.statusCode, body: reply.json() };
  },
};
const httpPost: Door = {
  name: 'POST',
  async ask(calculation, ask) {
    const { question, rest } = questionOf(calculation, ask);
    const reply = await (await app()).inject({ method: 'POST', url: `/v1/${calculation.id}${rest && `?${rest}`}`, payload: question as object, headers: { 'content-type': 'application/json' } });
    return { status: reply.statusCode, body: reply.json() };
  },
};
/** The answer itself, without HTTP. */
const direct: Door = {
  name: 'answer',
  ask(calculation, ask) {
    if (/(?:^|&)(?:units|strict)=/.test(ask.query ?? '')) return Promise.resolve(undefined);
    const { question } = questionOf(calculation, ask);
    try {
      return Promise.resolve({ status: 200, body: JSON.parse(JSON.stringify(calculation.answer(question))) as unknown });
    } catch (error) {
      if (error instanceof ProblemError) return Promise.resolve({ status: error.status, body: error.document() });
      throw error;
    }
  },
};
/** The SDK without a network: by flat text where the ask has it, else by the whole question. */
export const offline: Door = {
  name: 'offline',
  ask(calculation, ask) {
    const name = calculation.id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
    const call = (offlineSdk as unknown as Record<string, (args: unknown) => unknown>)[ask.query === undefined ? name : `${name}ByLink`];
    if (call === undefined) throw new Error(`the SDK answers no ${name} offline`);
    const args = ask.query === undefined ? ask.body : Object.fromEntries(Object.entries(flatOf(ask.query)).map(([k, v]) => [k, v.length === 1 ? (k === 'strict' ? v[0] === 'true' : v[0]) : v]));
    try {
      return Promise.resolve({ status: 200, body: JSON.parse(JSON.stringify(call(args))) as unknown });
    } catch (error) {
      if (error instanceof offlineSdk.ProblemReply) return Promise.resolve({ status: error.status, body: error.problem });
      throw error;
    }
  },
};
export const doors: readonly Door[] = [httpGet, httpPost, direct, offline];

/** What stands at a JSON pointer; undefined where nothing does. */
export function at(body: unknown, pointer: string): unknown {
  let here = body;
  for (const part of pointer.split('/').slice(1)) {
    if (typeof here !== 'object' || here === null || !Object.hasOwn(here, part)) return undefined;
    here = (here as Record<string, unknown>)[part];
  }
  return here;
}

/** How far `actual` lies from `expected`, as a share of what is allowed: 1 is the edge. */
export function off(actual: number, expected: number, tolerance: number, absolute = 0): number {
  if (!Number.isFinite(actual)) return Infinity;
  const allowed = Math.max(Math.abs(expected) * tolerance, absolute);
  return actual === expected ? 0 : Math.abs(actual - expected) / allowed;
}

/** The number that an expectation means in this body. Throws where something other than a number stands. */
export function numberAt(body: unknown, e: Expectation): number {
  const number = (pointer: string): number => {
    const value = at(body, pointer);
    if (typeof value !== 'number') throw new Error(`${pointer} holds ${JSON.stringify(value)}, not a number`);
    return value;
  };
  const x = number(e.pointer);
  return (e.reciprocal ? 1 / x : e.over === undefined ? x : x / number(e.over)) - (e.less ?? 0);
}

function meets(body: unknown, e: Expectation, c: Case): void {
  const found = at(body, e.pointer);
  if (e.absent === true) {
    if (found !== undefined) throw new Error(`${e.pointer} holds ${JSON.stringify(found)}, and should not be there`);
    return;
  }
  if (e.expected === undefined) {
    if (found === undefined) throw new Error(`nothing stands at ${e.pointer}`);
    return;
  }
  if (typeof e.expected !== 'number') {
    if (found !== e.expected) throw new Error(`${e.pointer} is ${JSON.stringify(found)}, not ${JSON.stringify(e.expected)}`);
    return;
  }
  const tolerance = e.tolerance ?? c.tolerance;
  if (tolerance === undefined && e.absolute === undefined) throw new Error(`${c.id}: ${e.pointer} names no tolerance`);
  const actual = numberAt(body, e);
  if (!(off(actual, e.expected, tolerance ?? 0, e.absolute) <= 1)) throw new Error(`${e.pointer} is ${actual}, not ${e.expected}`);
}

interface Envelope { assumptions: { code: string }[]; warnings: { code: string }[]; cautions: { code: string }[] }
const codesOf = (body: unknown): string[] => {
  const b = body as Envelope;
  return [...b.assumptions, ...b.warnings, ...b.cautions].map((n) => n.code);
};

/** Every door's reply to one ask, checked. Gives how many expectations were met, for the count. */
export async function runAsk(file: CaseFile, c: Case, ask: Ask): Promise<number> {
  const calculation = calculationOf(ask.operation ?? file.calculation);
  let first: { door: string; text: string } | undefined;
  let met = 0;
  for (const door of doors) {
    const reply = await door.ask(calculation, ask);
    if (reply === undefined) continue;
    const where = `${c.id}, by ${door.name} ${ask.query ?? JSON.stringify(ask.body)}`;
    try {
      if (ask.refused !== undefined) {
        met += refuses(reply, ask.refused, door === httpGet || (door === offline && ask.query !== undefined));
        continue;
      }
      if (reply.status !== 200) throw new Error(`${reply.status} ${JSON.stringify(reply.body)}`);
      for (const e of ask.expect ?? []) { meets(reply.body, e, c); met++; }
      const codes = codesOf(reply.body);
      for (const code of ask.notes ?? []) { if (!codes.includes(code)) throw new Error(`no note “${code}”, only ${codes.join(', ')}`); met++; }
      for (const code of ask.noNotes ?? []) { if (codes.includes(code)) throw new Error(`a note “${code}” that does not belong`); met++; }
      const text = JSON.stringify(reply.body);
      if (first !== undefined && first.text !== text) throw new Error(`another answer than by ${first.door}: ${text.slice(0, 300)} … ${first.text.slice(0, 300)}`);
      first ??= { door: door.name, text };
    } catch (error) {
      throw new Error(`${where}: ${(error as Error).message}`, { cause: error });
    }
  }
  if (met === 0) throw new Error(`${c.id}: an ask that expects nothing`);
  return met;
}

function refuses(reply: Reply, r: NonNullable<Ask['refused']>, byLink: boolean): number {
  const text = JSON.stringify(reply.body);
  const issues = (at(reply.body, '/errors') ?? []) as { code: string; parameter?: string }[];
  if (reply.status !== r.status) throw new Error(`status ${reply.status}: ${text.slice(0, 400)}`);
  const hit = issues.find((i) => i.code === r.code && (!byLink || r.parameter === undefined || i.parameter === r.parameter));
  if (hit === undefined) throw new Error(`no ${r.code}${r.parameter === undefined ? '' : ` at ${r.parameter}`} in ${text.slice(0, 400)}`);
  for (const word of r.says ?? []) if (!text.toLowerCase().includes(word.toLowerCase())) throw new Error(`“${word}” is not said in ${text.slice(0, 600)}`);
  return 1 + (r.says?.length ?? 0);
}

type Forms = Record<string, (inputs: unknown) => unknown>;
/** One closed form by itself. */
export async function runFormula(file: CaseFile, c: Case, f: FormulaCheck): Promise<number> {
  const forms = (await import(`../../services/calculations/${f.slice ?? file.calculation}/formula.ts`)) as Forms;
  const form = forms[f.fn];
  if (form === undefined) throw new Error(`${c.id}: no formula ${f.fn}`);
  const got = form(f.inputs);
  const x = f.field === undefined ? got : (got as Record<string, unknown>)[f.field];
  if (typeof x !== 'number') throw new Error(`${c.id}: ${f.fn} gave ${JSON.stringify(got)}`);
  const actual = x * (f.times ?? 1);
  if (!(off(actual, f.expected, f.tolerance ?? c.tolerance ?? 0, f.absolute) <= 1)) throw new Error(`${c.id}: ${f.fn} gave ${actual}, not ${f.expected}`);
  return 1;
}
