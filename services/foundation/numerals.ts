/**
 * Numerals as people type them: 22 1/16, 10-3/8, 2½, 1,5 and 1,234.5, 1e-3. A sign that can be read in two ways is
 * never guessed: the numeral comes back as ambiguous with both readings.
 */
export type Numeral =
  | { readonly value: number; readonly decimalComma?: true; readonly text: string }
  | { readonly ambiguous: readonly string[]; readonly text: string };

const vulgar: Readonly<Record<string, string>> = {
  '½': '1/2', '¼': '1/4', '¾': '3/4', '⅓': '1/3', '⅔': '2/3', '⅛': '1/8', '⅜': '3/8', '⅝': '5/8', '⅞': '7/8',
  '⅕': '1/5', '⅖': '2/5', '⅗': '3/5', '⅘': '4/5', '⅙': '1/6', '⅚': '5/6',
};
const vulgarSigns = new RegExp(`(\\d?)\\s*-?([${Object.keys(vulgar).join('')}])`, 'g');

/** However many spaces were typed, one: patterns that read on then have nothing to try out at length. */
const oneSpace = (text: string): string => text.trim().replace(/\s+/g, ' ');

/** One spelling for the many signs that mean the same: spaces, dashes, primes, quotes, vulgar fractions, digits of other scripts. */
export function plainSigns(text: string): string {
  if (/^[\x20-\x7e]*$/.test(text)) return oneSpace(text);
  return oneSpace(text
    .replace(/[٠-٩]/g, (d) => String(d.charCodeAt(0) - 0x660))
    .replace(/[۰-۹]/g, (d) => String(d.charCodeAt(0) - 0x6f0))
    .replace(/٫/g, '.').replace(/٬/g, '')
    .replace(vulgarSigns, (_, before: string, sign: string) => (before === '' ? vulgar[sign]! : `${before} ${vulgar[sign]}`))
    // A no-break or thin space between digits only ever groups them.
    .replace(/(\d)[\u00a0\u2009\u202f](?=\d{3}(?!\d))/g, '$1')
    .replace(/[\u00a0\u2000-\u200a\u202f\u3000]/g, ' ')
    .replace(/[\u2010-\u2015\u2212\u2053]/g, '-')
    .replace(/[\u2032\u2019\u2018\u00b4\u02bc]/g, "'")
    .replace(/[\u2033\u201c\u201d\u201e]/g, '"')
    .replace(/[\u2044\u2215]/g, '/').replace(/\u2236/g, ':')
    .replace(/[\u00d7\u2715]/g, ' x ')
    .replace(/[\u00ba\u02da]/g, '°')
    .replace(/[\uff01-\uff5e\u3380-\u33df]/g, (c) => c.normalize('NFKC'))
    .replace(/[\u2248\u223c\u2243]/g, '~')
    .replace(/\u2265/g, '>=').replace(/\u2264/g, '<=')
    .replace(/[\u200b-\u200f\ufeff]/g, ''));
}

const counting: Readonly<Record<string, string>> = { one: '1', two: '2', three: '3', four: '4', five: '5', six: '6', seven: '7', eight: '8', nine: '9', ten: '10', eleven: '11', twelve: '12' };
const countingWords = new RegExp(`\\b(?:${Object.keys(counting).join('|')})\\b`, 'gi');
const pieces: Readonly<Record<string, string>> = { half: '2', halves: '2', third: '3', quarter: '4', eighth: '8', sixteenth: '16' };
const piece = '(half|halves|third|quarter|eighth|sixteenth)s?';

/** `two and a half inches`, `a quarter inch`, `3/8 of an inch`, `5/8ths inch`, `an inch`: the words as figures. */
export function plainWords(text: string): string {
  return text
    .replace(countingWords, (w) => counting[w.toLowerCase()]!)
    .replace(new RegExp(`^(\\d+)\\s+and\\s+(?:an?|1)\\s+${piece}\\b`, 'i'), (_, n: string, p: string) => `${n} 1/${pieces[p.toLowerCase()]}`)
    .replace(new RegExp(`^(\\d+)[ -]${piece}\\b`, 'i'), (_, n: string, p: string) => `${n}/${pieces[p.toLowerCase()]}`)
    .replace(new RegExp(`^(?:an?\\s+)?${piece}\\b`, 'i'), (_, p: string) => `1/${pieces[p.toLowerCase()]}`)
    .replace(/^((?:\d+\s+)?\d+\/\d+)(?:ths?|rds?|nds?)?\s+(?:of\s+)?(?:(?:an?|1)\s+)?(?=[a-z])/i, '$1 ')
    .replace(/^an?\s+(?=[a-z\d.])/i, (w, i: number, all: string) => (/^[\d.]/.test(all.slice(i + w.length)) ? '' : '1 '));
}

const mixed = /^(\d+)(?:\s+and\s+|\s*&\s*|-|\s+)(\d+)\/(\d+)(?![\d/:.])/i;
const fraction = /^(\d+)\/(\d+)(?![\d/:.])/;
const rulerParts: ReadonlySet<number> = new Set([20, 32, 64, 100]);
const decimal = /^(?:\d[\d.,']*\d|\d|\.\d+)(?:\.(?=\s|$))?(?:e[+-]?\d+)?/i;

/** Reads the numeral that `text` begins with. */
export function numeral(text: string): Numeral | undefined {
  const m = mixed.exec(text);
  if (m !== null && Number(m[2]) < Number(m[3])) return { value: Number(m[1]) + Number(m[2]) / Number(m[3]), text: m[0] };
  const f = fraction.exec(text);
  if (f !== null && Number(f[2]) > 0) {
    // 48/50 in is no fraction that a ruler has: it may be a range.
    if (Number(f[1]) > 1 && Number(f[2]) > 16 && !rulerParts.has(Number(f[2]))) return { ambiguous: [`${f[1]}-${f[2]}`, String(Number(f[1]) / Number(f[2]))], text: f[0] };
    return { value: Number(f[1]) / Number(f[2]), text: f[0] };
  }
  const d = decimal.exec(text);
  if (d === null) return undefined;
  let shown = d[0];
  const digits = /^[^e]*/i.exec(shown)![0];
  if (!/[,']/.test(digits) && !/\..*\./.test(digits)) return { value: Number(shown), text: shown };
  if (shown.endsWith('.')) shown = shown.slice(0, -1);
  return separated(shown);
}

/** A numeral with commas, apostrophes or several points. */
function separated(text: string): Numeral | undefined {
  const [head = '', exponent = ''] = text.split(/(?=e)/i);
  const as = (plain: string): number => Number(plain + exponent);
  // 5'3 is five feet three: the foot mark is not part of the numeral. 1'500 may be either.
  const foot = /^(\d+)'(\d+)/.exec(head);
  if (foot !== null) {
    if (foot[2]!.length !== 3) return { value: Number(foot[1]), text: foot[1]! };
    return { ambiguous: [head.replaceAll("'", ''), `${foot[1]} ft ${foot[2]}`], text };
  }
  if (/^\d{1,3}(?:,\d{3})+\.\d+$/.test(head) || /^\d{1,3}(?:,\d{3}){2,}$/.test(head)) return { value: as(head.replaceAll(',', '')), text };
  if (/^\d{1,3}(?:\.\d{3})+,\d+$/.test(head) || /^\d{1,3}(?:\.\d{3}){2,}$/.test(head)) {
    const plain = head.replaceAll('.', '').replace(',', '.');
    return head.includes(',') ? { value: as(plain), decimalComma: true, text } : { value: as(plain), text };
  }
  if (/^[1-9]\d{0,2},\d{3}$/.test(head)) return { ambiguous: [head.replace(',', ''), head.replace(',', '.')], text };
  if (/^\d+,\d+$/.test(head)) return { value: as(head.replace(',', '.')), decimalComma: true, text };
  // 8,10 is caught above as 8.10; anything else is no numeral.
  return undefined;
}
