/** One row for each part: its circle at the scale of the wheel, and a line as long as it turns, from zero, labelled at its end. Pure. */
import { circle, lineTo, shortened, textAt, type Mark } from '../../foundation/drawing.js';
import { extent, middle, type Reading } from '../../foundation/reading.js';
import type { Sized } from './picture-train.js';

export interface Row {
  /** What turns: flyer, bobbin, spindle; or wanted, counted. */
  readonly word: string;
  readonly name: string;
  readonly mark: Mark;
  /** Turns for one turn of the wheel; of a speed, turns in a second. */
  readonly turns?: Reading;
  readonly speed?: true;
  readonly text: string;
  readonly size?: Sized;
}
interface Place { readonly x: number; readonly y: number; readonly width: number; readonly scale?: number }

/** Room for the label at a line's end. */
const labelRoom = 160;
const largestCircle = 90;

export function drawRows(rows: readonly Row[], at: Place): { body: string; bottom: number } {
  const scale = at.scale ?? 0;
  const circles = rows.map((r) => (r.size === undefined ? 0 : r.size.high * scale)).filter((d) => d <= largestCircle);
  const column = scale === 0 || circles.every((d) => d === 0) ? 0 : Math.max(...circles) + 14;
  const start = at.x + column;
  const longest = at.width - column - (rows.some((r) => r.speed) ? labelRoom + 30 : labelRoom);
  const tops = rows.flatMap((r) => (r.turns === undefined ? [] : [extent(r.turns).high, middle(r.turns)].filter(Number.isFinite)));
  const perTurn = tops.length === 0 ? 0 : longest / Math.max(...tops);
  let body = '';
  let y = at.y;
  if (tops.length > 0 && !rows.some((r) => r.speed)) {
    y += 18;
    body += textAt(start + 5, y, 'turns for one turn of the wheel, from 0', { as: 'wg-soft' });
  }
  const first = y + 6;
  for (const r of rows) {
    const across = r.size === undefined ? 0 : r.size.high * scale;
    const shown = across > 0 && across <= largestCircle;
    const height = Math.max(44, shown ? across + 8 : 0);
    const mid = y + height / 2 + 4;
    if (shown) {
      const { mid: size, low, high } = r.size!;
      const cx = at.x + (column - 14) / 2;
      if (((high - low) / 2) * scale > 1.2) body += circle(cx, mid, ((high + low) / 4) * scale, `wg-${r.mark} wg-wide`, ((high - low) / 2) * scale);
      body += circle(cx, mid, (size / 2) * scale, `wg-${r.mark}`, 1.6) + circle(cx, mid, 1.5, 'wg-ink', 1);
    }
    body += textAt(start + 5, mid - 6, shortened(r.name === '' ? r.word : r.name.startsWith(r.word) ? r.name : `${r.word} · ${r.name}`, 34), { as: `wg-${r.mark}-text` });
    let end = start;
    if (r.turns !== undefined && perTurn > 0 && Number.isFinite(middle(r.turns))) {
      const { low, high } = extent(r.turns);
      const [a, b] = [Math.max(0, Number.isFinite(low) ? low : 0), Number.isFinite(high) ? high : middle(r.turns)];
      const m = middle(r.turns);
      end = start + Math.max(b, m) * perTurn;
      if ((b - a) * perTurn > 2) body += lineTo(start + a * perTurn, mid + 8, start + b * perTurn, mid + 8, `wg-${r.mark} wg-wide`, 9);
      body += lineTo(r.speed ? start + a * perTurn : start, mid + 8, start + (r.speed ? b : m) * perTurn, mid + 8, `wg-${r.mark}`, 3);
    }
    body += textAt(end + 8, mid + 13, r.text, { as: 'wg-strong' });
    y += height;
  }
  if (tops.length > 0) body = lineTo(start, first, start, y + 4, 'wg-line', 1) + body;
  return { body, bottom: y + 6 };
}
