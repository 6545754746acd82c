/**
 * What every picture shares: the palette, its style sheet, escaping, text alternative, and the path of a band.
 * Pure; nothing here knows what is drawn. Lengths are user units of the SVG unless said otherwise.
 */

/** Undyed cloth and walnut; ink; and four marks after natural dyes. Every mark on its ground passes WCAG AA as text. */
export const palette = {
  light: { ground: '#f8f3e8', cloth: '#efe6d3', line: '#cbbb9c', ink: '#2a211b', soft: '#62554a', woad: '#285a80', madder: '#9c3826', weld: '#775b00', lichen: '#4a672f' },
  dark: { ground: '#211812', cloth: '#2e231a', line: '#5b4a3a', ink: '#f1e8d9', soft: '#c6b7a2', woad: '#8dbce0', madder: '#f09a84', weld: '#e2c15c', lichen: '#a8cb85' },
} as const;
export type Colour = keyof typeof palette.light;
/** A mark is a colour, a line pattern, and a word beside it. */
export type Mark = 'ink' | 'woad' | 'madder' | 'weld' | 'lichen';

const names = Object.keys(palette.light) as Colour[];
const variables = (of: Readonly<Record<Colour, string>>): string => names.map((n) => `--wg-${n}:var(--wheelgrist-${n},${of[n]})`).join(';');

/** Style of pictures, in light, dark, print and forced colours. A page that may not hold style elements puts it into its own sheet. */
export const pictureStyle = [
  `.wg-picture{${variables(palette.light)};font-family:system-ui,"Segoe UI",Roboto,"Helvetica Neue",Arial,sans-serif;font-variant-numeric:tabular-nums}`,
  `@media (prefers-color-scheme:dark){.wg-picture{${variables(palette.dark)}}}`,
  `@media print{.wg-picture{${variables({ ...palette.light, ground: '#fff' })}}}`,
  `@media (forced-colors:active){.wg-picture{forced-color-adjust:none;${names.map((n) => `--wg-${n}:${n === 'ground' || n === 'cloth' ? 'Canvas' : 'CanvasText'}`).join(';')}}}`,
  '.wg-ground{fill:var(--wg-ground)}.wg-cloth{fill:var(--wg-cloth)}',
  '.wg-picture text{fill:var(--wg-ink);font-size:15px}.wg-picture .wg-soft{fill:var(--wg-soft);font-size:13px}.wg-picture .wg-strong{font-weight:650}',
  '.wg-line{fill:none;stroke:var(--wg-line)}',
  ...(['ink', 'woad', 'madder', 'weld', 'lichen'] as const).map((m) => `.wg-${m}{fill:none;stroke:var(--wg-${m})}.wg-picture .wg-${m}-text{fill:var(--wg-${m})}.wg-${m}-haze{fill:var(--wg-${m});fill-opacity:.18}`),
  '.wg-madder{stroke-dasharray:7 4}.wg-weld{stroke-dasharray:1.5 3.5;stroke-linecap:round}.wg-lichen{stroke-dasharray:10 3 2 3}',
  '.wg-wide{stroke-opacity:.28;stroke-dasharray:none}.wg-spoke{stroke-opacity:.22}',
].join('\n');

/** Safe in text and in attributes; signs that XML does not allow are dropped. */
export const escapeXml = (text: string): string =>
  text.replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]|\p{Surrogate}/gu, '').replace(/[&<>"']/g, (c) => `&#${c.charCodeAt(0)};`);

/** A coordinate, short and finite; what is not finite must not be drawn. */
export function n(x: number): string {
  if (!Number.isFinite(x)) throw new RangeError('A picture was given a number that is not finite.');
  return String(Math.round(x * 100) / 100 || 0);
}

export interface TextStyle { readonly anchor?: 'start' | 'middle' | 'end'; readonly as?: string }
export const textAt = (x: number, y: number, text: string, style: TextStyle = {}): string =>
  `<text x="${n(x)}" y="${n(y)}"${style.anchor === undefined ? '' : ` text-anchor="${style.anchor}"`}${style.as === undefined ? '' : ` class="${style.as}"`}>${escapeXml(text)}</text>`;
export const lineTo = (x1: number, y1: number, x2: number, y2: number, as: string, width: number): string =>
  `<path class="${as}" stroke-width="${n(width)}" d="M${n(x1)} ${n(y1)}L${n(x2)} ${n(y2)}"/>`;
export const circle = (cx: number, cy: number, r: number, as: string, width: number): string =>
  `<circle class="${as}" cx="${n(cx)}" cy="${n(cy)}" r="${n(r)}" stroke-width="${n(width)}"/>`;

export interface Disc { readonly x: number; readonly y: number; readonly r: number }
/** An open band round two discs that do not hold each other: both outer tangents and the arcs between. */
export function bandPath(a: Disc, b: Disc): string | undefined {
  const [dx, dy] = [b.x - a.x, b.y - a.y];
  const d = Math.hypot(dx, dy);
  if (!(d > Math.abs(a.r - b.r))) return undefined;
  // The tangent points lie at ±α from the line of centres, cos α = (r_a - r_b)/d.
  const along = Math.atan2(dy, dx);
  const alpha = Math.acos((a.r - b.r) / d);
  const on = (c: Disc, t: number): string => `${n(c.x + c.r * Math.cos(t))} ${n(c.y + c.r * Math.sin(t))}`;
  const [large, small] = alpha > Math.PI / 2 ? [0, 1] : [1, 0];
  return `M${on(a, along + alpha)}A${n(a.r)} ${n(a.r)} 0 ${large} 1 ${on(a, along - alpha)}L${on(b, along - alpha)}A${n(b.r)} ${n(b.r)} 0 ${small} 1 ${on(b, along + alpha)}Z`;
}

/** Lines of at most `most` signs, broken at spaces. */
export function wrap(text: string, most: number): string[] {
  const lines: string[] = [];
  let line = '';
  for (const word of text.split(' ')) {
    if (line !== '' && line.length + word.length + 1 > most) { lines.push(line); line = ''; }
    line += line === '' ? word : ` ${word}`;
  }
  return line === '' ? lines : [...lines, line];
}
export const shortened = (text: string, most: number): string => (text.length <= most ? text : `${text.slice(0, most - 1)}…`);

/** Stands at the foot of every picture, embed and print. */
export const footer = 'Numbers for setting, not for bearing loads; local guild rules and makers’ leaflets come first.';

/** The whole picture. `described` is the answer in words, for those who do not see it. */
export function picture(p: { width: number; height: number; title: string; described: string; body: string }): string {
  return `<svg xmlns="http://www.w3.org/2000/svg" class="wg-picture" width="${n(p.width)}" height="${n(p.height)}" viewBox="0 0 ${n(p.width)} ${n(p.height)}" role="img" aria-labelledby="wg-title wg-desc">`
    + `<title id="wg-title">${escapeXml(p.title)}</title><desc id="wg-desc">${escapeXml(`${p.described} ${footer}`)}</desc>`
    + `<style>${pictureStyle}</style><rect class="wg-ground" width="100%" height="100%" rx="6"/>${p.body}</svg>`;
}
/** The same picture for a page or an embed whose own sheet holds `pictureStyle`: a strict policy lets no style element through. */
export const withoutStyle = (svg: string): string => svg.replace(/<style>[^<]*<\/style>/, '');
