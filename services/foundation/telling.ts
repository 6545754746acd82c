/**
 * An answer as a person reads it, whatever the calculation: the number that was asked for, what it means, and everything
 * else as facts and tables with their labels. Pages make HTML of it, embeds make elements of it. Pure.
 */
import type { Field } from './fields.js';
import { alsoSaid, asked, choiceOf, labelOf, labels, nameKeys } from './labels.js';
import { wire, withPlusMinus, type Wire } from './reading.js';

export interface Fact { readonly label: string; readonly text: string }
export interface Table { readonly heads: readonly string[]; readonly rows: readonly (readonly string[])[] }
export interface Part { readonly title: string; readonly facts: readonly Fact[]; readonly tables: readonly (Table & { readonly title?: string })[] }
export interface Told {
  /** What the number is: `flyer ratio`. */
  readonly label: string;
  /** The number, once for each part that has one, under that part's name. */
  readonly numbers: readonly { readonly of: string; readonly text: string }[];
  readonly sentences: readonly string[];
  readonly parts: readonly Part[];
  /** Where the answer is what to do, rather than a number. */
  readonly advice?: Advice;
}
/** What comes first, a card for each cause with its cautions on top, and what to look at. */
export interface Advice { readonly doFirst: readonly string[]; readonly cards: readonly Card[]; readonly lists: readonly { readonly title: string; readonly items: readonly string[] }[] }
export interface Card { readonly name: string; readonly fit: string; readonly mark?: string; readonly cautions: readonly string[]; readonly lines: readonly Fact[] }
type Json = Readonly<Record<string, unknown>>;

const isObject = (v: unknown): v is Json => typeof v === 'object' && v !== null && !Array.isArray(v);
const isWire = (v: unknown): v is Wire => isObject(v) && typeof v['text'] === 'string';
const isEnds = (v: unknown): v is { low?: number; high?: number } => isObject(v) && Object.keys(v).length > 0 && Object.keys(v).every((k) => (k === 'low' || k === 'high') && typeof v[k] === 'number');
const isScalar = (v: unknown): boolean => !isObject(v) ? !Array.isArray(v) || v.every((x) => typeof x !== 'object') : isWire(v) || isEnds(v);

/** A number as it is said: `544 a minute`, `9.06 ± 0.05 : 1`. */
export const said = (w: Wire): string => withPlusMinus(w).replace(/(^|\s)-(?=\d)/g, '$1−').replace(/(\d)\/(min|h|s)$/, (_, d: string, per: string) => `${d} ${{ min: 'a minute', h: 'an hour', s: 'a second' }[per]!}`);

/** Gives a text in the reader's language; as it is, where it has no other. */
export type Say = (text: string) => string;
const asItIs: Say = (text) => text;

function textOf(key: string, v: unknown, say: Say = asItIs): string {
  if (isWire(v)) return said(v);
  if (isEnds(v)) return wire('number', v).text;
  if (typeof v === 'number') return wire('number', { value: v }).text;
  if (typeof v === 'boolean') return say(v ? 'yes' : 'no');
  if (Array.isArray(v)) { const texts = v.map((x) => textOf(key, x, say)); return texts.join(texts.every((t) => t.endsWith('.')) ? ' ' : ', '); }
  const text = String(v);
  return nameKeys.includes(key) ? text : say(choiceOf(key, text) ?? text);
}
const title = (say: Say, key: string, parent?: string): string => say(labelOf(key, parent) ?? key);
/** A bobbin's only groove has no name of its own: `groove 1` says nothing beside the bobbin. */
const unnamed = (key: string, v: unknown): boolean => key === 'groove' && v === 'groove 1';
const nameOf = (o: Json): string => nameKeys.flatMap((k) => (typeof o[k] === 'string' && !unnamed(k, o[k]) ? [o[k]] : [])).join(', ');

function tableOf(list: readonly Json[], key: string, say: Say): Table {
  const keys = [...new Set(list.flatMap((o) => Object.keys(o)))].filter((k) => k !== 'id' && !list.every((o) => unnamed(k, o[k])));
  return { heads: keys.map((k) => title(say, k, key)), rows: list.map((o) => keys.map((k) => (o[k] === undefined ? '' : textOf(k, o[k], say)))) };
}

/** Everything in an object, and in what stands within it. */
function partsOf(o: Json, key: string, heading: string, say: Say, skip: readonly string[] = []): Part[] {
  const facts: Fact[] = [];
  const tables: (Table & { title?: string })[] = [];
  const more: Part[] = [];
  for (const k in o) {
    const v = o[k];
    if (v === undefined || k === 'id' || skip.includes(k)) continue;
    if (isScalar(v)) {
      if (!Array.isArray(v) || v.length > 0) facts.push({ label: title(say, k, key), text: textOf(k, v, say) });
    } else if (Array.isArray(v)) {
      const list = v.filter(isObject);
      if (list.length === 0) continue;
      if (list.every((x) => Object.values(x).every(isScalar))) {
        if (heading === '') more.push({ title: title(say, k, key), facts: [], tables: [tableOf(list, k, say)] });
        else tables.push({ title: title(say, k, key), ...tableOf(list, k, say) });
      } else for (const x of list) more.push(...partsOf(x, k, [title(say, k, key), nameOf(x)].filter((t) => t !== '').join(': '), say, nameKeys));
    } else if (isObject(v)) more.push(...partsOf(v, k, title(say, k, key), say));
  }
  return facts.length + tables.length > 0 ? [{ title: heading, facts, tables }, ...more] : more;
}

/** Words of the wire in a sentence about a question, as the labels and choices that a person sees. */
export function inWords(text: string, fields: readonly Field[]): string {
  const seen = new Map([...fields.map((f) => [f.name, f.label] as const), ...fields.flatMap((f) => (f.choices ?? []).map((c) => [c.value, c.label] as const))].filter(([word]) => /[a-z][A-Z]|-/.test(word)));
  return text.replace(/[A-Za-z][\w-]*\w/g, (word) => seen.get(word) ?? (/[a-z][A-Z]/.test(word) ? (labels[word] ?? word.replace(/[A-Z]/g, (c) => ` ${c.toLowerCase()}`)) : word));
}

interface Found { readonly of: string; readonly value: unknown }
function find(v: unknown, path: readonly string[], of: readonly string[]): Found[] {
  const [head, ...rest] = path;
  if (head === undefined) return v === undefined ? [] : [{ of: of.join(', '), value: v }];
  if (head === '*') return Array.isArray(v) ? v.flatMap((x) => find(x, rest, isObject(x) && nameOf(x) !== '' ? [...of, nameOf(x)] : of)) : [];
  if (Array.isArray(v)) return find(v.at(Number(head)), rest, of);
  return isObject(v) ? find(v[head], rest, of) : [];
}
/** Within a sentence: `9.06` times, `544 turns a minute`. */
const bare = (w: Wire): string => said(w).replace(' : 1', '').replace(/ a (minute|hour|second)$/, ' turns a $1');

/** A wheel without a flyer: what turns is its spindle. */
const spindles = /^(spindle|quill|great-wheel|charkha)$/i;
function hasSpindle(question: unknown): boolean {
  if (!isObject(question)) return false;
  const wheel = question['wheel'];
  const modes = isObject(wheel) ? wheel['modes'] : undefined;
  const first: unknown = Array.isArray(modes) ? modes[0] : undefined;
  const drive = question['drive'] ?? (isObject(first) ? first['drive'] : undefined);
  return typeof drive === 'string' && spindles.test(drive.trim().replace(/\s+/g, '-'));
}
const ofSpindle = <T>(told: T): T => JSON.parse(JSON.stringify(told).replaceAll('flyer', 'spindle').replaceAll('Flyer', 'Spindle')) as T;

/** `question` tells whether the wheel has a flyer at all; `say` gives another language. */
export function tell(calculation: string, result: unknown, question?: unknown, say: Say = asItIs): Told {
  const sentences: string[] = [];
  let label = '';
  let numbers: { of: string; text: string }[] = [];
  for (const a of asked[calculation] ?? []) {
    if (a.when !== undefined && (!isObject(result) || result[a.when[0]] !== a.when[1])) continue;
    const found = find(result, a.at.split('/'), []).filter((f): f is { of: string; value: Wire } => isWire(f.value));
    if (found.length === 0) continue;
    label = say(a.label);
    numbers = found.map((f) => ({ of: found.length > 1 || f.of !== '' ? f.of : '', text: said(f.value) }));
    sentences.push(found.length === 1 ? say(a.one).replace('{}', bare(found[0]!.value)) : say(a.several));
    break;
  }
  for (const a of alsoSaid[calculation] ?? []) {
    const found = find(result, a.at.split('/'), []);
    if (found.length !== 1) continue;
    const { value } = found[0]!;
    if (typeof a.says === 'string') sentences.push(...(isWire(value) || typeof value === 'number' || isEnds(value) ? [say(a.says).replace('{}', isWire(value) ? bare(value) : textOf('', value, say))] : []));
    else if (typeof a.says === 'object' && typeof value === 'string' && a.says[value] !== undefined) sentences.push(say(a.says[value]));
  }
  const told: Told = { label, numbers, sentences: sentences.filter((s) => s !== ''), parts: isObject(result) ? partsOf(result, '', '', say) : [], ...(advises(result) ? { advice: adviceOf(result, say) } : {}) };
  if (!hasSpindle(question)) return told;
  return { ...told, ...ofSpindle({ label: told.label, sentences: told.sentences }), numbers, parts: told.parts.map((p) => ({ title: ofSpindle(p.title), facts: p.facts.map((f) => ({ ...f, label: ofSpindle(f.label) })), tables: p.tables.map((t) => ({ ...t, heads: ofSpindle(t.heads) })) })) };
}

// ---- advice
interface Beside { readonly of: string; readonly value: Wire; readonly atLeast?: Wire; readonly atMost?: Wire; readonly found: string; readonly times?: Wire }
interface Advised {
  readonly verdict: string; readonly doFirst: readonly string[]; readonly measures: readonly Beside[]; readonly contradictions: readonly { readonly says: string; readonly look: string }[]; readonly questions: readonly { readonly asks: string; readonly ifYes: string; readonly ifNo: string }[];
  readonly causes: readonly { readonly name: string; readonly fit: Wire; readonly technicianOnly: boolean; readonly cautions: readonly string[]; readonly checkFirst: string; readonly tryNext: string; readonly why: string; readonly quantity?: Beside; readonly notExplained: readonly string[] }[];
}
const advises = (result: unknown): result is Advised => isObject(result) && Array.isArray(result['causes']) && Array.isArray(result['doFirst']);

/** `Heaviest bag that it lifts: 2 g; right from 5 g. That is 0.4 times the edge.` */
function besideSaid(q: Beside, say: Say): string {
  const window = [q.atLeast === undefined ? '' : `from ${said(q.atLeast)}`, q.atMost === undefined ? '' : `up to ${said(q.atMost)}`].filter((t) => t !== '').join(' ');
  const found = q.found === 'inside' ? 'It is right.' : q.found === 'near' ? 'Too close to say.' : q.times === undefined ? 'It is out of its window.' : `That is ${said(q.times)} times the edge.`;
  const name = textOf('of', q.of, say);
  return `${name[0]!.toUpperCase()}${name.slice(1)}: ${said(q.value)}; right ${window}. ${found}`;
}
/** A share to the nearest whole part of a hundred: nobody knows it better. */
function roughly(q: Wire): string {
  const percent = Math.round('value' in q ? q.value * (q.unit === '1' ? 100 : 1) : 0);
  return percent < 1 ? 'under 1 %' : `about ${percent} %`;
}
function adviceOf(result: Advised, say: Say): Advice {
  const stop = result.verdict === 'stop';
  const line = (label: string, text: string): Fact[] => (text === '' ? [] : [{ label, text }]);
  const list = (heading: string, items: readonly string[]) => (items.length === 0 ? [] : [{ title: heading, items }]);
  const small = (text: string): string => text[0]!.toLowerCase() + text.slice(1);
  return {
    doFirst: result.doFirst,
    cards: result.causes.map((c): Card => ({
      name: c.name, fit: stop ? '' : `${roughly(c.fit)} beside the others`, ...(c.technicianOnly ? { mark: 'a repairer’s work' } : {}), cautions: c.cautions,
      lines: [...line('Look first', c.checkFirst), ...line(stop ? 'Then' : 'Then try', c.tryNext), ...line('Why', c.why), ...line('Number', c.quantity === undefined ? '' : besideSaid(c.quantity, say)), ...line('It does not explain', stop ? '' : c.notExplained.join('; '))],
    })),
    lists: [
      ...list('What does not go together', result.contradictions.map((x) => `${x.says} ${x.look}`)),
      ...list('Look at this, and more can be said', result.questions.map((x) => (x.ifYes === x.ifNo ? x.asks : `${x.asks} If yes: ${small(x.ifYes)}. If no: ${small(x.ifNo)}.`))),
      ...list('Your numbers', result.measures.map((m) => besideSaid(m, say))),
    ],
  };
}
