/** HTML as tagged templates: whatever is put in is escaped, unless it is HTML already. */
import { escapeXml } from '../foundation/drawing.js';

export class Html {
  constructor(readonly text: string) {}
}
export type Piece = Html | string | number | undefined | false | readonly Piece[];

const put = (p: Piece): string => (p === undefined || p === false ? '' : p instanceof Html ? p.text : Array.isArray(p) ? p.map(put).join('') : escapeXml(String(p)));

export function html(strings: TemplateStringsArray, ...pieces: readonly Piece[]): Html {
  let out = strings[0]!;
  for (const [i, piece] of pieces.entries()) out += put(piece) + strings[i + 1]!;
  return new Html(out);
}
/** Text that is HTML already: a picture of ours. */
export const trusted = (text: string): Html => new Html(text);
/** ` name="value"`, or nothing. */
export const attribute = (name: string, value: string | true | undefined): Html => new Html(value === undefined ? '' : value === true ? ` ${name}` : ` ${name}="${escapeXml(value)}"`);
export const capital = (text: string): string => (text === '' ? '' : text[0]!.toUpperCase() + text.slice(1));
