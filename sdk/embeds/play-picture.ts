/** The wheel that is played with, turned as far as it was turned; and its bobbin from the end, enlarged. Both to scale. Pure. */
import { bandPath, circle, lineTo, n, textAt, type Disc } from '../../services/foundation/drawing.js';
import { middle } from '../../services/foundation/reading.js';
import type { Expr } from '../../services/foundation/uncertainty.js';
import type { Pulley, Train } from '../../services/calculations/ratio/train.js';

export interface Drawn {
  readonly train: Train;
  readonly turns: number;
  readonly flyerTurns?: number;
  readonly bobbinTurns?: number;
  readonly whorl?: Pulley;
  readonly bobbin?: Pulley;
  /** Diameters of the package, m. */
  readonly core: number;
  readonly end: number;
  readonly wound: number;
}

/** A group turned about its middle, as far as the part has turned. */
const turned = (c: Disc, turns: number, inside: string): string => `<g transform="rotate(${n((turns % 1) * 360)} ${n(c.x)} ${n(c.y)})">${inside}</g>`;
const places = { right: [1, 0], left: [-1, 0], below: [0, 1], above: [0, -1] } as const;
const box = { x: 14, y: 14, width: 262, height: 262 };

export function drawPlay(p: Drawn): { body: string; bottom: number } {
  const { train } = p;
  const size = (e: Expr): number => middle(train.knowns.reading(e));
  const wheel = size(train.wheelPitch!);
  const pulleys = [[p.whorl, 'woad', p.flyerTurns], [p.bobbin, 'madder', p.bobbinTurns]] as const;
  const largest = Math.max(...pulleys.map(([x]) => (x?.pitch === undefined ? 0 : size(x.pitch))));
  const between = [train.wheel.axleToFlyer?.nearest, train.wheel.axleToFlyer?.farthest].flatMap((r) => (r === undefined ? [] : [middle(r)]));
  const distance = between.length === 0 ? (wheel + largest) / 2 + 0.2 * wheel : between.reduce((a, b) => a + b) / between.length;
  const [ux, uy] = places[train.wheel.wheelIs ?? 'below'];
  // From the outer edge of the wheel to that of the pulley, along the line between them.
  const along = (wheel + largest) / 2 + distance;
  const scale = Math.min(box.width / (ux === 0 ? wheel : along), box.height / (uy === 0 ? wheel : along));
  const [wide, high] = [(ux === 0 ? wheel : along) * scale, (uy === 0 ? wheel : along) * scale];
  const corner = { x: box.x + (box.width - wide) / 2, y: box.y };
  const from = (sign: number, start: number, length: number, r: number): number => (sign === 0 ? start + length / 2 : sign > 0 ? start + length - r : start + r);
  const hub: Disc = { x: from(ux, corner.x, wide, (wheel / 2) * scale), y: from(uy, corner.y, high, (wheel / 2) * scale), r: (wheel / 2) * scale };
  const head = { x: hub.x - ux * distance * scale, y: hub.y - uy * distance * scale };

  let spokes = '';
  for (let i = 0; i < 12; i++) {
    const t = (Math.PI * i) / 6;
    spokes += lineTo(hub.x + 10 * Math.cos(t), hub.y + 10 * Math.sin(t), hub.x + hub.r * 0.91 * Math.cos(t), hub.y + hub.r * 0.91 * Math.sin(t), 'wg-ink wg-spoke', 2.4);
  }
  // The one spoke by which a turn is seen.
  spokes += lineTo(hub.x, hub.y, hub.x, hub.y - hub.r * 0.91, 'wg-ink', 3) + `<circle class="wg-ink" fill="currentColor" cx="${n(hub.x)}" cy="${n(hub.y - hub.r * 0.7)}" r="5" stroke-width="2"/>`;
  let body = `<g data-wheel="${n(hub.x)} ${n(hub.y)} ${n(hub.r)}">${circle(hub.x, hub.y, hub.r, 'wg-cloth', 0)}${circle(hub.x, hub.y, hub.r * 0.91, 'wg-ink wg-spoke', 1.2)}${turned(hub, p.turns, spokes)}${circle(hub.x, hub.y, hub.r, 'wg-ink', 1.6)}${circle(hub.x, hub.y, 8, 'wg-ink', 2)}</g>`;
  const thickness = train.mode?.band?.thickness;
  const band = Math.max(1.6, (thickness === undefined ? 0 : middle(thickness)) * scale);
  for (const [pulley, mark, turns] of pulleys) {
    if (pulley?.pitch === undefined) continue;
    const c: Disc = { ...head, r: (size(pulley.pitch) / 2) * scale };
    const path = bandPath(hub, c);
    if (path !== undefined) body += `<path class="wg-${mark}" stroke-width="${n(band)}" d="${path}"/>`;
    body += circle(c.x, c.y, c.r, `wg-${mark}`, 1.6) + turned(c, turns ?? 0, lineTo(c.x, c.y, c.x, c.y - c.r, `wg-${mark}`, 2.5));
  }
  return { body: body + bobbinFromItsEnd(p), bottom: Math.max(box.y + high, 250) };
}

/** Yarn on the bobbin, from the core to where it stands, with the flyer round it. */
function bobbinFromItsEnd(p: Drawn): string {
  const r = 68;
  const scale = r / (p.end / 2);
  const c: Disc = { x: 384, y: 128, r };
  const reach = r + 20;
  const flyer = lineTo(c.x, c.y - 12, c.x, c.y - reach, 'wg-woad', 3) + lineTo(c.x, c.y + 12, c.x, c.y + reach, 'wg-woad', 3) + circle(c.x, c.y - reach, 3.5, 'wg-woad', 3);
  const wound = (p.wound / 2) * scale;
  const core = (p.core / 2) * scale;
  const yarn = (core + wound) / 2;
  return textAt(c.x, 20, 'The bobbin, enlarged', { anchor: 'middle', as: 'wg-strong' })
    + circle(c.x, c.y, r, 'wg-line', 1.5)
    + (wound - core > 0.2 ? circle(c.x, c.y, yarn, 'wg-weld wg-wide', wound - core) : '') + circle(c.x, c.y, wound, 'wg-weld', 2)
    + circle(c.x, c.y, core, 'wg-madder', 1.6) + turned(c, p.bobbinTurns ?? 0, lineTo(c.x, c.y, c.x, c.y - core, 'wg-madder', 3))
    + turned(c, p.flyerTurns ?? 0, flyer)
    + textAt(c.x, 234, said('Flyer', p.flyerTurns), { anchor: 'middle', as: 'wg-woad-text' }) + textAt(c.x, 254, said('Bobbin', p.bobbinTurns), { anchor: 'middle', as: 'wg-madder-text' });
}
/** A part that the band does not drive stands still while it draws in: its brake holds it. */
const said = (part: string, turns: number | undefined): string => (turns === undefined ? `${part} held by its brake` : `${part}: ${turns.toFixed(1)} turns`);
