/**
 * Golden files pin the numbers of one version of a model: whoever changes a number must change the version too. They
 * are our own output, and say nothing about what is true; the published values do that.
 */
import { existsSync, readFileSync } from 'node:fs';
import type { Calculation } from '../../services/calculations/calculation.js';
import { ProblemError } from '../../services/foundation/problems.js';
import { loadCases, type Ask } from './cases.js';
import { numbersIn } from './ask.js';

export interface Pin { readonly query?: string; readonly body?: unknown; readonly refused?: string; readonly numbers?: Readonly<Record<string, number>> }
export interface Golden { readonly note: string; readonly model: { readonly id: string; readonly version: string }; readonly pins: readonly Pin[] }

const folder = (id: string): URL => new URL(`../calculations/${id}/`, import.meta.url);
export const goldenFile = (id: string): URL => new URL('golden.json', folder(id));

const flatOf = (query: string): Record<string, string[]> => {
  const flat: Record<string, string[]> = {};
  for (const part of query.split('&')) (flat[part.slice(0, part.indexOf('='))] ??= []).push(part.slice(part.indexOf('=') + 1));
  return flat;
};
/** The questions that are pinned: the examples of the contract, and every one that the published values ask. */
function questions(calculation: Calculation): Pick<Pin, 'query' | 'body'>[] {
  const file = new URL('published.json', folder(calculation.id));
  const asks: Ask[] = existsSync(file) ? loadCases(file).cases.flatMap((c) => c.asks ?? []).filter((a) => a.operation === undefined) : [];
  const all = [{ body: calculation.contract.example }, { query: calculation.contract.exampleQuery }, ...asks.map((a) => (a.query === undefined ? { body: a.body } : { query: a.query.replace(/&units=[^&]*/, '') }))];
  return [...new Map(all.map((q) => [JSON.stringify(q), q])).values()];
}

/** What the calculation says now. */
export function golden(calculation: Calculation): Golden {
  const pins = questions(calculation).map((q): Pin => {
    try {
      const { result } = calculation.answer(q.query === undefined ? q.body : calculation.fields.toQuestion(flatOf(q.query)).question);
      return { ...q, numbers: Object.fromEntries(numbersIn(result)) };
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      return { ...q, refused: error.code };
    }
  });
  return { note: 'Pins the numbers of this version. Our own output, not a truth. Written by tests/golden.ts.', model: calculation.model, pins };
}
export const kept = (id: string): Golden | undefined => (existsSync(goldenFile(id)) ? (JSON.parse(readFileSync(goldenFile(id), 'utf8')) as Golden) : undefined);

/** A ± comes from slopes that are taken numerically: good to 1e-9. Everything else to 1e-13, in any engine. */
const toleranceAt = (pointer: string): number => (pointer.endsWith('/plusMinus') ? 1e-9 : 1e-13);

/** Where two pins of the same question differ. */
export function differences(was: Pin, is: Pin): string[] {
  const what = was.query ?? JSON.stringify(was.body);
  if (was.refused !== is.refused) return [`${what}: ${was.refused ?? 'answered'} before, ${is.refused ?? 'answered'} now`];
  const [a, b] = [was.numbers ?? {}, is.numbers ?? {}];
  const out: string[] = [];
  for (const pointer of new Set([...Object.keys(a), ...Object.keys(b)])) {
    const [x, y] = [a[pointer], b[pointer]];
    if (x === undefined || y === undefined) out.push(`${what}: ${pointer} ${x === undefined ? 'is new' : 'is gone'}`);
    else if (Math.abs(x - y) > toleranceAt(pointer) * Math.max(Math.abs(x), Math.abs(y))) out.push(`${what}: ${pointer} was ${x}, is ${y}`);
  }
  return out;
}
export const compared = (was: Golden, is: Golden): string[] => {
  const now = new Map(is.pins.map((p) => [JSON.stringify([p.query, p.body]), p]));
  return was.pins.flatMap((p) => { const q = now.get(JSON.stringify([p.query, p.body])); return q === undefined ? [] : differences(p, q); });
};
