/** Asking a calculation in a test, and looking at everything in its answer. */
import { calculations } from '../../services/calculations/index.js';
import type { Calculation, Reply } from '../../services/calculations/calculation.js';

export type Json = Record<string, unknown>;
export const calculation = (id: string): Calculation => calculations.find((c) => c.id === id)!;

/** The answer's result to a question in flat text. */
export function flat<T = Json>(id: string, question: Readonly<Record<string, string | readonly string[]>>): T {
  const lists = Object.fromEntries(Object.entries(question).map(([k, v]) => [k, typeof v === 'string' ? [v] : [...v]]));
  return whole<T>(id, calculation(id).fields.toQuestion(lists).question).result;
}
export const whole = <T = Json>(id: string, question: unknown): Reply<T> => calculation(id).answer(question) as Reply<T>;

/** Every number of a reply with its pointer. */
export function* numbersIn(value: unknown, at = ''): Generator<[string, number]> {
  if (typeof value === 'number') yield [at, value];
  else if (Array.isArray(value)) for (const [i, v] of value.entries()) yield* numbersIn(v, `${at}/${i}`);
  else if (typeof value === 'object' && value !== null) for (const [k, v] of Object.entries(value)) yield* numbersIn(v, `${at}/${k}`);
}

/** Every quantity, ratio or plain number of a reply with its pointer, as the interval that it says. */
export function* extentsIn(value: unknown, at = ''): Generator<[string, { low: number; high: number }]> {
  if (typeof value !== 'object' || value === null) return;
  const o = value as Json;
  if (typeof o['text'] === 'string' && ('value' in o || 'low' in o || 'high' in o || 'unit' in o)) {
    const v = o['value'] as number | undefined;
    const half = (o['plusMinus'] as number | undefined) ?? 0;
    yield [at, v === undefined ? { low: (o['low'] as number | undefined) ?? -Infinity, high: (o['high'] as number | undefined) ?? Infinity } : { low: v - half, high: v + half }];
    return;
  }
  for (const [k, v] of Object.entries(o)) yield* extentsIn(v, `${at}/${k}`);
}

/** What must not be in a reply: a number that is not finite, a negative zero, a null. */
export function badNumber(value: unknown): string | undefined {
  for (const [at, x] of numbersIn(value)) if (!Number.isFinite(x) || Object.is(x, -0)) return `${at} is ${Object.is(x, -0) ? '-0' : x}`;
  const text = JSON.stringify(value);
  return text.includes('null') ? `null in ${text.slice(Math.max(0, text.indexOf('null') - 80), text.indexOf('null') + 10)}` : undefined;
}
