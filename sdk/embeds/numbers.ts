/** Numbers as they are written where the page is read: other digits, and the comma where it is the decimal sign. Pure. */

/** Arabic-Indic and extended digits, and the signs that go with them, as the reader knows them. */
const latin = (text: string): string =>
  text.replace(/[\u0660-\u0669\u06f0-\u06f9]/g, (d) => String(d.charCodeAt(0) & 15)).replaceAll('\u066b', '.').replaceAll('\u066c', '');

const signs = new Map<string, string>();
export function decimalSign(lang: string): string {
  let sign = signs.get(lang);
  if (sign === undefined) {
    try {
      sign = new Intl.NumberFormat(lang, { numberingSystem: 'latn' }).formatToParts(1.5).find((p) => p.type === 'decimal')?.value ?? '.';
    } catch {
      sign = '.';
    }
    signs.set(lang, sign);
  }
  return sign;
}

/** `1.234,5` and `3,000` on a German page are 1234.5 and 3.000; on an English page a lone comma is left for the reader to ask about. */
export function localNumber(text: string, lang: string): string {
  const plain = latin(text);
  if (decimalSign(lang) !== ',') return plain;
  return plain.replace(/\d[\d.\u00a0\u202f]*,\d+|\d{1,3}(?:[.\u00a0\u202f]\d{3}){2,}/g, (number) => number.replace(/[.\u00a0\u202f]/g, '').replace(',', '.'));
}
