/**
 * Reads a question as it arrives (parsed JSON), gathering every issue with its JSON pointer instead of stopping at the
 * first. Nothing is coerced: null, true, "520" where a number belongs, and unknown names are refused.
 */
import type { Notes } from './notes.js';
import { approximate, decimalComma, multiplied, plyOrder } from './notes.js';
import { mostIssues, problemOf, type Issue } from './problems.js';
import { findUnit, kinds, toSI, type Kind } from './quantity.js';
import { readRatioText } from './read-ratio.js';
import { expected, isRefusal, readText, type Read, type Refusal, type Remark, type TextKind } from './read-text.js';
import { coverage, isPoint, type Reading } from './reading.js';

/** SI bounds of a reading; more than 0 unless said otherwise. */
export interface Limits { readonly atLeast?: number; readonly moreThan?: number; readonly atMost?: number; readonly says?: string }
type Json = Record<string, unknown>;
const quantityNames = ['value', 'unit', 'plusMinus', 'limits', 'low', 'high', 'text'] as const;
const numberNames = ['value', 'plusMinus', 'limits', 'low', 'high', 'text'] as const;

export const isObject = (value: unknown): value is Json => typeof value === 'object' && value !== null && !Array.isArray(value);
/** What was read, short enough to show. */
export function shown(value: unknown): string {
  const text = typeof value === 'string' ? value : value === undefined ? 'nothing' : Array.isArray(value) && value.length > 5 ? `a list of ${value.length}` : JSON.stringify(value);
  return text.length > 120 ? `${text.slice(0, 117)}…` : text;
}

/** Of `names`, the one most like `word`, when it is near enough to be meant. */
export function nearest(word: string, names: readonly string[]): string | undefined {
  let best: string | undefined;
  let least = Math.max(2, Math.floor(word.length / 3)) + 1;
  for (const name of names) {
    const d = distance(word.toLowerCase(), name.toLowerCase());
    if (d < least) [best, least] = [name, d];
  }
  return best;
}
function distance(a: string, b: string): number {
  if (a.length > 40) return Infinity;
  let row = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const next = [i];
    for (let j = 1; j <= b.length; j++) next[j] = Math.min(row[j]! + 1, next[j - 1]! + 1, row[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
    row = next;
  }
  return row[b.length]!;
}

export class Reader {
  readonly issues: Issue[] = [];
  constructor(private readonly notes?: Notes) {}

  fail(at: string, issue: Refusal): undefined {
    if (this.issues.length < mostIssues) this.issues.push({ pointer: at, ...issue });
    return undefined;
  }
  missing(at: string, what: string, example: string): undefined {
    return this.fail(at, { code: 'missing-field', detail: `${what} is needed for this.`, received: 'nothing', expected: example });
  }
  wrongType(at: string, value: unknown, wanted: string): undefined {
    return this.fail(at, { code: 'wrong-type', detail: `${name(at)} should be ${wanted}.`, received: shown(value), expected: wanted });
  }
  /** Throws one problem for all that was gathered. */
  done(): void {
    if (this.issues.length > 0) throw problemOf(this.issues);
  }

  /** An object with no names but these. */
  object(value: unknown, at: string, names: readonly string[]): Json | undefined {
    if (!isObject(value)) return this.wrongType(at, value, 'an object');
    for (const key in value) {
      if (names.includes(key)) continue;
      const near = nearest(key, names);
      this.fail(`${at}/${key.replaceAll('~', '~0').replaceAll('/', '~1')}`, {
        code: 'unknown-field', detail: near === undefined ? `“${shown(key)}” is not known here.` : `“${shown(key)}” is not known here. Is “${near}” meant?`,
        received: shown(key), expected: near ?? `one of ${names.join(', ')}`, ...(near === undefined ? {} : { try: near }),
      });
    }
    return value;
  }
  list(value: unknown, at: string, most: number, what: string): readonly unknown[] | undefined {
    if (!Array.isArray(value)) return this.wrongType(at, value, 'a list');
    if (value.length <= most) return value;
    return this.fail(at, { code: 'too-many', detail: `At most ${most} ${what} are taken in one question.`, received: String(value.length), expected: `at most ${most}` });
  }
  text(value: unknown, at: string, most = 200): string | undefined {
    if (typeof value !== 'string') return this.wrongType(at, value, 'text');
    if (value.length > most || value.trim() === '') return this.fail(at, { code: 'out-of-range', detail: `${name(at)} should be text of 1 to ${most} signs.`, received: shown(value), expected: `1 to ${most} signs` });
    return value;
  }
  choice<T extends string>(value: unknown, at: string, choices: readonly T[], aliases: Readonly<Record<string, T>> = {}): T | undefined {
    if (typeof value !== 'string') return this.wrongType(at, value, `one of ${choices.join(', ')}`);
    if ((choices as readonly string[]).includes(value)) return value as T;
    const key = value.trim().toLowerCase().replace(/[\s_]+/g, '-');
    const found = (choices as readonly string[]).includes(key) ? (key as T) : aliases[key];
    if (found !== undefined && Object.hasOwn(aliases, key) || (choices as readonly string[]).includes(key)) return found;
    const near = nearest(key, [...choices, ...Object.keys(aliases)]);
    return this.fail(at, { code: 'unknown-choice', detail: `“${shown(value)}” is not one of the choices.`, received: shown(value), expected: `one of ${choices.join(', ')}`, ...(near === undefined ? {} : { try: near }) });
  }

  /** A quantity in SI: text, or an object with its unit. More than 0 unless the limits say otherwise. */
  quantity(value: unknown, at: string, kind: Kind, limits: Limits = {}): Reading | undefined {
    return this.read(value, at, kind, limits)?.reading;
  }
  /** The same, with the plies that a yarn number may name. */
  read(value: unknown, at: string, kind: Kind, limits: Limits = {}): Read | undefined {
    if (typeof value === 'string') return this.accept(readText(value, kind), at, kind, limits);
    if (typeof value === 'number') return this.accept(readText(String(value), kind), at, kind, limits);
    if (!isObject(value)) return this.wrongType(at, value, expected(kind));
    const o = this.object(value, at, quantityNames);
    if (o === undefined) return undefined;
    if (typeof o['unit'] !== 'string') {
      return o['unit'] === undefined
        ? this.fail(`${at}/unit`, { code: 'missing-unit', detail: 'The unit is missing.', received: shown(value), expected: expected(kind), try: kinds[kind].metric })
        : this.wrongType(`${at}/unit`, o['unit'], 'the name of a unit');
    }
    const unit = findUnit(kind, o['unit']);
    if (unit === undefined) return this.fail(`${at}/unit`, { code: 'unknown-unit', detail: `“${shown(o['unit'])}” is not a unit that is known here.`, received: shown(o['unit']), expected: expected(kind) });
    const reading = this.numbers(o, at, (x) => toSI(x, unit), unit.reciprocal === true);
    return reading === undefined ? undefined : this.accept({ reading, remarks: [] }, at, kind, limits);
  }
  ratio(value: unknown, at: string, limits: Limits = {}): Reading | undefined {
    if (typeof value === 'string') {
      const r = readRatioText(value);
      return this.accept(r, at, 'ratio', limits)?.reading;
    }
    return this.plain(value, at, 'ratio', limits);
  }
  number(value: unknown, at: string, limits: Limits = {}): Reading | undefined {
    if (typeof value === 'string') return this.accept(readText(value, 'number'), at, 'number', limits)?.reading;
    return this.plain(value, at, 'number', limits);
  }
  private plain(value: unknown, at: string, kind: 'ratio' | 'number', limits: Limits): Reading | undefined {
    if (typeof value === 'number') return this.accept({ reading: { value }, remarks: [] }, at, kind, limits)?.reading;
    if (!isObject(value)) return this.wrongType(at, value, expected(kind));
    const o = this.object(value, at, numberNames);
    const reading = o === undefined ? undefined : this.numbers(o, at, (x) => x, false);
    return reading === undefined ? undefined : this.accept({ reading, remarks: [] }, at, kind, limits)?.reading;
  }

  /** `value` with `plusMinus` or `limits`, or `low` and `high`; all in the given unit. */
  private numbers(o: Json, at: string, si: (x: number) => number, reciprocal: boolean): Reading | undefined {
    const get = (key: string): number | undefined => {
      const x = o[key];
      if (x === undefined) return undefined;
      if (typeof x !== 'number') { this.wrongType(`${at}/${key}`, x, 'a number'); return Number.NaN; }
      return x;
    };
    const [value, pm, lim, low, high] = [get('value'), get('plusMinus'), get('limits'), get('low'), get('high')];
    if ([value, pm, lim, low, high].some((x) => x !== undefined && Number.isNaN(x))) return undefined;
    if (value === undefined) {
      if (low === undefined && high === undefined) return this.fail(`${at}/value`, { code: 'missing-field', detail: 'A value, or low and high, is needed.', received: shown(o), expected: '{"value": …} or {"low": …, "high": …}' });
      if (pm !== undefined || lim !== undefined) return this.fail(at, { code: 'one-of', detail: 'plusMinus and limits belong to a value, not to low and high.', received: shown(o), expected: 'one or the other' });
      if (low !== undefined && high !== undefined && low > high) return this.fail(at, { code: 'range-reversed', detail: 'low is larger than high.', received: shown(o), expected: 'low before high' });
      const [a, b] = [low === undefined ? undefined : si(low), high === undefined ? undefined : si(high)];
      const [l, h] = reciprocal ? [b, a] : [a, b];
      return { ...(l === undefined ? {} : { low: l }), ...(h === undefined ? {} : { high: h }) };
    }
    if (low !== undefined || high !== undefined || (pm !== undefined && lim !== undefined)) {
      return this.fail(at, { code: 'one-of', detail: 'Give a value with plusMinus or with limits, or else low and high.', received: shown(o), expected: 'one way' });
    }
    if ((pm ?? 0) < 0 || (lim ?? 0) < 0) return this.fail(at, { code: 'out-of-range', detail: 'A ± cannot be less than 0.', received: shown(o), expected: '0 or more' });
    // JCGM 100:2008: 6.2 (k = 2); 4.3.7 (rectangular: half-width / √3).
    const u = pm !== undefined ? pm / coverage : lim !== undefined ? lim / Math.sqrt(3) : undefined;
    const v = si(value);
    return u === undefined ? { value: v } : { value: v, u: reciprocal ? Math.abs((v * u) / value) : Math.abs(si(u)) };
  }

  private accept(r: { reading: Reading; remarks: readonly Remark[] } | Refusal, at: string, kind: TextKind, limits: Limits): Read | undefined {
    if (isRefusal(r)) return this.fail(at, r);
    const reading = r.reading;
    if (isPoint(reading)) {
      const { value, u } = reading;
      if (u !== undefined && !(coverage * u <= (limits.atMost ?? 1e12))) {
        return this.fail(at, { code: 'out-of-range', detail: `The ± of ${name(at)} is larger than anything that can be measured.`, received: String(coverage * u), expected: 'a ± smaller than the measure itself' });
      }
      if (!within(value, limits)) return this.outside(value, at, kind, limits);
    } else {
      if (reading.low !== undefined && !within(reading.low, limits)) return this.outside(reading.low, at, kind, limits);
      if (reading.high !== undefined && !within(reading.high, limits)) return this.outside(reading.high, at, kind, limits);
    }
    if (this.notes !== undefined) for (const remark of r.remarks) this.remark(remark);
    return r as Read;
  }
  private outside(x: number, at: string, kind: TextKind, limits: Limits): undefined {
    const says = limits.says ?? (limits.atLeast === 0 ? 'nothing less than 0' : limits.atMost === undefined ? 'more than 0' : 'a possible size');
    return this.fail(at, { code: 'out-of-range', detail: `${name(at)} is outside what is possible.`, received: shownNumber(x, kind), expected: `${expected(kind)}; ${says}` });
  }
  private remark(remark: Remark): void {
    if (remark === 'approximate') this.notes!.assume(approximate);
    else if (remark === 'decimal-comma') this.notes!.warn(decimalComma);
    else if (remark === 'multiplied') this.notes!.assume(multiplied);
    else this.notes!.warn(plyOrder);
  }
}

function within(x: number, limits: Limits): boolean {
  const moreThan = limits.moreThan ?? (limits.atLeast === undefined ? 0 : -Infinity);
  return x > moreThan && x >= (limits.atLeast ?? -Infinity) && x <= (limits.atMost ?? 1e12) && (x === 0 || Math.abs(x) >= 1e-15);
}
const name = (at: string): string => (at === '' ? 'The question' : `“${at.slice(at.lastIndexOf('/') + 1)}”`);
function shownNumber(x: number, kind: TextKind): string {
  if (kind === 'ratio' || kind === 'number') return String(x);
  const u = findUnit(kind, kinds[kind].metric)!;
  return `${u.reciprocal ? u.num / (u.den * x) : (x * u.den) / u.num} ${u.name}`;
}
