/** The language of an element: that of the page, by the nearest `lang`; English where a text has no other. */
import type { Say } from '../../services/foundation/telling.js';
import { decimalSign } from './numbers.js';

/** English text -> the same in another language. */
export type Words = Readonly<Record<string, string>>;
/** Loaders of the languages that there are, by their code. */
export type Languages = Readonly<Record<string, () => Promise<Words>>>;

export interface Language {
  /** As the page names it: `de-AT`. */
  readonly tag: string;
  readonly dir: 'ltr' | 'rtl';
  readonly say: Say;
  /** A number as it is written there. */
  number(text: string): string;
  /** Whether this text can be said in it: every English one in English. */
  has(text: string): boolean;
  /** Whether it is another language than English, and has words for this. */
  translates(text: string): boolean;
}

const rightToLeft = /^(ar|fa|he|ur)\b/;
export const codeOf = (tag: string): string => tag.toLowerCase().split('-')[0]!;
/** Words that stand before an example or a usual value. */
const openings = ['such as ', 'left open: ', 'instead of both, such as ', 'gives '];

function translated(words: Words, text: string): string {
  const whole = words[text];
  if (whole !== undefined) return whole;
  if (text.includes('; ')) return text.split('; ').map((part) => translated(words, part)).join('; ');
  for (const opening of openings) {
    const said = words[opening.trim()];
    if (said !== undefined && text.startsWith(opening)) return `${said} ${translated(words, text.slice(opening.length))}`;
  }
  return text;
}

export function languageOf(tag: string, words: Words | undefined): Language {
  const say: Say = words === undefined ? (text) => text : (text) => translated(words, text);
  const comma = words !== undefined && decimalSign(tag) === ',';
  return {
    tag, say,
    dir: words !== undefined && rightToLeft.test(codeOf(tag)) ? 'rtl' : 'ltr',
    number: comma ? (text) => text.replace(/(\d)\.(?=\d)/g, '$1,') : (text) => text,
    has: (text) => words === undefined || translated(words, text) !== text,
    translates: (text) => words !== undefined && translated(words, text) !== text,
  };
}
