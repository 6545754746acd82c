/** The summary as a picture: how sizes and ratios are spread, and which singles the wheels can make. Pure. */
import { footer, lineTo, n, picture as page, textAt, wrap } from '../foundation/drawing.js';
import type { Summary } from './summary.js';
import { spreadTexts, summarySentences } from './telling.js';

const width = 680;
const pad = 20;

export function picture(summary: Summary): string {
  let y = pad + 14;
  let body = textAt(pad, y, 'A table of wheels', { as: 'wg-strong' });
  const sentences = summarySentences(summary);
  for (const sentence of sentences) for (const line of wrap(sentence, 88)) { y += 20; body += textAt(pad, y, line); }
  y += 30;
  const rows = spreadTexts(summary);
  if (rows.length > 0) body += textAt(pad, y, 'How they are spread: nine of ten lie on the line, half within the bar', { as: 'wg-strong' });
  for (const { label, text, spread } of rows) {
    y += 34;
    const [left, right] = [250, width - pad];
    const [a, b] = [Math.log(spread.low), Math.max(Math.log(spread.high), Math.log(spread.low) + 0.01)];
    const x = (v: number): number => left + ((Math.log(v) - a) / (b - a)) * (right - left);
    body += textAt(pad, y, label) + textAt(pad, y + 14, text, { as: 'wg-soft' }) + lineTo(left, y - 4, right, y - 4, 'wg-woad', 1.5)
      + `<rect class="wg-woad-haze" x="${n(x(spread.quarter))}" y="${n(y - 11)}" width="${n(Math.max(2, x(spread.threeQuarters) - x(spread.quarter)))}" height="14"/>` + lineTo(x(spread.middle), y - 12, x(spread.middle), y + 4, 'wg-ink', 2.5);
  }
  const { grist, twist, counts, wheels } = summary.coverage;
  if (wheels > 0) {
    y += 50;
    body += textAt(pad, y, 'Singles that these wheels can make: share of the wheels, in per cent', { as: 'wg-strong' });
    const [w, h] = [46, 22];
    const left = pad + 84;
    y += 16;
    body += textAt(pad, y + 4, 'turns/m', { as: 'wg-soft' });
    for (let t = twist.length - 1; t >= 0; t--) {
      body += textAt(left - 8, y + 15, String(twist[t]!), { anchor: 'end', as: 'wg-soft' });
      for (let g = 0; g < grist.length; g++) {
        const share = counts[g]![t]! / wheels;
        body += `<rect class="wg-lichen-haze" style="fill-opacity:${n(share * 0.6)}" x="${n(left + g * w)}" y="${n(y)}" width="${w - 2}" height="${h - 2}"/>` + textAt(left + g * w + w / 2 - 1, y + 15, share === 0 ? '–' : String(Math.round(share * 100)), { anchor: 'middle', as: 'wg-soft' });
      }
      y += h;
    }
    for (let g = 0; g < grist.length; g++) body += textAt(left + g * w + w / 2 - 1, y + 14, String(grist[g]!), { anchor: 'middle', as: 'wg-soft' });
    body += textAt(pad, y + 14, 'tex', { as: 'wg-soft' });
    y += 24;
  }
  y += 16;
  for (const line of wrap(footer, 96)) { y += 16; body += textAt(pad, y, line, { as: 'wg-soft' }); }
  return page({ width, height: y + pad, title: 'A table of wheels', described: [...sentences, ...rows.map((r) => `${r.label}: ${r.text}.`)].join(' '), body });
}
