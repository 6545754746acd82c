/** A chart in the house's manner: the axis begins at zero and names its unit, lines are labelled at their ends, a window is a band of cloth. Pure. */
import { lineTo, n, textAt, type Mark } from './drawing.js';

export interface Line {
  /** What stands at the line's end. */
  readonly label: string;
  readonly mark: Mark;
  /** x from 0 to 1; y in the axis' unit; low and high where only so much is known. */
  readonly points: readonly { readonly x: number; readonly y: number; readonly low: number; readonly high: number }[];
}
export interface Level { readonly label: string; readonly mark: Mark; readonly low: number; readonly high: number }
export interface Chart {
  readonly title: string;
  readonly unit: string;
  readonly ticks: readonly { readonly x: number; readonly label: string }[];
  readonly lines: readonly Line[];
  /** A value, or a window, right across. */
  readonly levels: readonly Level[];
  /** The window: a band of cloth above the first line and below the second, where there is room between them. */
  readonly between?: readonly [Line, Line];
}
export interface Frame { readonly x: number; readonly y: number; readonly width: number; readonly height: number; /** Room for labels at the right. */ readonly labels: number }

/** A round number at or above x: 1, 2 or 5 times a power of ten. */
export function niceAbove(x: number): number {
  if (!(x > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(x));
  return ([1, 1.5, 2, 3, 4, 5, 6, 8, 10].find((m) => m * power >= x * (1 - 1e-9)) ?? 10) * power;
}
const tickText = (x: number): string => String(Number(x.toPrecision(3)));

export function drawChart(chart: Chart, f: Frame): string {
  const tops = [...chart.lines.flatMap((l) => l.points.map((p) => p.high)), ...chart.levels.map((l) => l.high)].filter(Number.isFinite);
  // A line that climbs out of sight is cut off at the top rather than flattening everything else.
  const typical = [...tops].sort((a, b) => a - b)[Math.floor(tops.length * 0.9)] ?? 1;
  const top = niceAbove(Math.min(Math.max(0, ...tops), typical * 4));
  const left = f.x + 44;
  const [w, bottom] = [f.width - 44 - f.labels, f.y + f.height];
  const px = (x: number): number => left + x * w;
  const py = (y: number): number => bottom - (Math.min(Math.max(y, 0), top) / top) * (f.height - 26);
  let body = textAt(f.x, f.y + 8, `${chart.title}, ${chart.unit}`, { as: 'wg-strong' });
  for (let i = 0; i <= 4; i++) {
    const y = (top * i) / 4;
    body += lineTo(left, py(y), left + w, py(y), 'wg-line', i === 0 ? 1.5 : 0.75) + textAt(left - 6, py(y) + 4, tickText(y), { anchor: 'end', as: 'wg-soft' });
  }
  for (const t of chart.ticks) body += textAt(px(t.x), bottom + 18, t.label, { anchor: t.x === 0 ? 'start' : t.x === 1 ? 'end' : 'middle', as: 'wg-soft' });
  if (chart.between !== undefined) body += cloth(chart.between, px, py);
  for (const l of chart.levels) {
    if (l.high > l.low) body += `<rect class="wg-cloth" x="${n(left)}" y="${n(py(l.high))}" width="${n(w)}" height="${n(Math.max(1, py(l.low) - py(l.high)))}"/>`;
    body += lineTo(left, py((l.low + l.high) / 2), left + w, py((l.low + l.high) / 2), `wg-${l.mark}`, 2);
  }
  for (const l of chart.lines) {
    const shown = l.points.filter((p) => Number.isFinite(p.y));
    if (shown.some((p) => p.high > p.low)) {
      const edge = [...shown.map((p) => `${n(px(p.x))} ${n(py(p.high))}`), ...shown.toReversed().map((p) => `${n(px(p.x))} ${n(py(p.low))}`)];
      body += `<path class="wg-${l.mark}-haze" d="M${edge.join('L')}Z"/>`;
    }
    if (shown.length > 0) body += `<path class="wg-${l.mark}" stroke-width="2.5" d="M${shown.map((p) => `${n(px(p.x))} ${n(py(p.y))}`).join('L')}"/>`;
  }
  return body + endLabels(chart, { px, py, right: left + w + 8, floor: bottom });
}

function cloth([below, above]: readonly [Line, Line], px: (x: number) => number, py: (y: number) => number): string {
  const room = below.points.map((p, i) => ({ x: p.x, low: p.y, high: Math.max(p.y, above.points[i]!.y) }));
  if (!room.some((p) => p.high > p.low)) return '';
  const edge = [...room.map((p) => `${n(px(p.x))} ${n(py(p.high))}`), ...room.toReversed().map((p) => `${n(px(p.x))} ${n(py(p.low))}`)];
  return `<path class="wg-cloth" d="M${edge.join('L')}Z"/>`;
}

/** Labels stand at the height of their line's end, moved apart where they would lie on each other. */
function endLabels(chart: Chart, at: { px: (x: number) => number; py: (y: number) => number; right: number; floor: number }): string {
  const wanted = [
    ...chart.lines.map((l) => ({ y: at.py(l.points.at(-1)?.y ?? 0), label: l.label, mark: l.mark })),
    ...chart.levels.map((l) => ({ y: at.py((l.low + l.high) / 2), label: l.label, mark: l.mark })),
  ].sort((a, b) => a.y - b.y);
  for (let i = 1; i < wanted.length; i++) if (wanted[i]!.y < wanted[i - 1]!.y + 16) wanted[i]!.y = wanted[i - 1]!.y + 16;
  const over = (wanted.at(-1)?.y ?? 0) - at.floor;
  return wanted.map((l) => textAt(at.right, l.y + 5 - Math.max(0, over), l.label, { as: `wg-${l.mark}-text` })).join('');
}
