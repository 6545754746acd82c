/** The summary as a picture: how sizes and ratios are spread, and which singles the wheels can make. Pure. */
import { footer, lineTo, n, picture as page, textAt, wrap } from '../foundation/drawing.js';
import type { Summary } from './summary.js';
import { spreadTexts, summarySentences } from './telling.js';

const width = 680;
const pad = 20;

/** `told`: the sentences stand beside it already, as on a page. */
export function picture(summary: Summary, { told = false }: { readonly told?: boolean } = {}): string {
  let y = pad + 14;
  let body = '';
  const sentences = summarySentences(summary);
  if (!told) {
    body += textAt(pad, y, 'A table of wheels', { as: 'wg-strong' });
    for (const sentence of sentences) for (const line of wrap(sentence, 80)) { y += 20; body += textAt(pad, y, line); }
    y += 32;
  }
  const rows = spreadTexts(summary);
  if (rows.length > 0) { body += textAt(pad, y, 'How they are spread', { as: 'wg-strong' }) + textAt(pad, y + 18, 'Nine of ten lie on the line, half of them within the bar; the mark is the middle', { as: 'wg-soft' }); y += 22; }
  for (const { label, unit, spread, said } of rows) {
    y += 40;
    const [left, right] = [270, width - pad - 8];
    const [a, b] = [Math.log(spread.low), Math.max(Math.log(spread.high), Math.log(spread.low) + 0.01)];
    const x = (v: number): number => left + ((Math.log(v) - a) / (b - a)) * (right - left);
    const middle = x(spread.middle);
    body += textAt(pad, y, label) + textAt(pad, y + 16, `${spread.count} counted${unit === '' || unit === ': 1' ? '' : `, in ${unit}`}`, { as: 'wg-soft' })
      + lineTo(left, y - 4, right, y - 4, 'wg-woad', 1.5) + lineTo(left, y - 9, left, y + 1, 'wg-woad', 1.5) + lineTo(right, y - 9, right, y + 1, 'wg-woad', 1.5)
      + `<rect class="wg-woad-haze" x="${n(x(spread.quarter))}" y="${n(y - 12)}" width="${n(Math.max(2, x(spread.threeQuarters) - x(spread.quarter)))}" height="16"/>` + lineTo(middle, y - 13, middle, y + 5, 'wg-ink', 2.5)
      + (spread.low === spread.high ? textAt(middle, y + 18, said(spread.middle), { anchor: 'middle' }) : textAt(left, y + 18, said(spread.low), { as: 'wg-soft' }) + textAt(right, y + 18, said(spread.high), { anchor: 'end', as: 'wg-soft' })
        + textAt(Math.min(right - 70, Math.max(left + 70, middle)), y + 18, said(spread.middle), { anchor: 'middle' }));
  }
  const { grist, twist, counts, wheels } = summary.coverage;
  if (wheels > 0) {
    y += 58;
    body += textAt(pad, y, 'Singles that these wheels can make: share of the wheels, in per cent', { as: 'wg-strong' });
    const left = pad + 56;
    const [w, h] = [(width - pad - left) / grist.length, 24];
    y += 24;
    body += textAt(left - 8, y, 'turns/m', { anchor: 'end', as: 'wg-soft' });
    y += 8;
    for (let t = twist.length - 1; t >= 0; t--) {
      body += textAt(left - 8, y + 17, String(twist[t]!), { anchor: 'end', as: 'wg-soft' });
      for (let g = 0; g < grist.length; g++) {
        const share = counts[g]![t]! / wheels;
        const percent = share > 0 && share < 0.005 ? '<1' : String(Math.round(share * 100));
        // No style attribute: a page's policy would not let it through.
        body += (share === 0 ? '' : `<rect class="wg-lichen-text" fill-opacity="${n(0.06 + share * 0.4)}" x="${n(left + g * w)}" y="${n(y)}" width="${n(w - 2)}" height="${h - 2}"/>`) + textAt(left + g * w + w / 2 - 1, y + 16, share === 0 ? '·' : percent, { anchor: 'middle', as: share === 0 ? 'wg-soft' : '' });
      }
      y += h;
    }
    for (let g = 0; g < grist.length; g++) body += textAt(left + g * w + w / 2 - 1, y + 16, String(grist[g]!), { anchor: 'middle', as: 'wg-soft' });
    body += textAt(left - 8, y + 16, 'tex', { anchor: 'end', as: 'wg-soft' });
    y += 24;
  }
  y += 16;
  for (const line of wrap(footer, 96)) { y += 16; body += textAt(pad, y, line, { as: 'wg-soft' }); }
  return page({ width, height: y + pad, title: 'A table of wheels', described: [...sentences, ...rows.map((r) => `${r.label}: ${r.text}.`)].join(' '), body });
}
