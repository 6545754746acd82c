/** The elevation: drive wheel, head and pulleys where they stand, and the bands that run on them. Pure; lengths in metres until they are drawn. */
import { bandPath, circle, lineTo, n, textAt, type Disc } from '../../foundation/drawing.js';
import { middle, type Reading } from '../../foundation/reading.js';
import type { BobbinPulley, Pulley, Train } from './train.js';

/** A diameter as it is known: its middle, and from where to where it may be. m. */
export interface Sized { readonly reading: Reading; readonly mid: number; readonly low: number; readonly high: number }
export interface Box { readonly x: number; readonly y: number; readonly width: number; readonly height: number }
type PulleyMark = 'woad' | 'madder';

interface Circle { readonly x: number; readonly y: number; readonly size: Sized; readonly mark: 'ink' | PulleyMark; readonly pale?: true }
interface Loop { readonly from: Circle; readonly to: Circle; readonly mark: Circle['mark'] }
export interface Placed {
  readonly wheel: Circle;
  readonly circles: readonly Circle[];
  readonly loops: readonly Loop[];
  readonly at: (x: number, y: number) => { x: number; y: number };
  /** User units in a metre. */
  readonly scale: number;
  readonly bottom: number;
  readonly guessedDistance: boolean;
  readonly bandWidth: number;
}

/** Where the wheel lies from the flyer, as the picture has it: y grows downwards. */
const places = { right: [1, 0], left: [-1, 0], below: [0, 1], above: [0, -1] } as const;
/** Clear space between two parts whose distance is not known, as a share of the larger one. */
const gap = 0.2;

export function placeTrain(train: Train, wheelSize: Sized, parts: readonly { part: Pulley; size: Sized }[], stages: readonly { driven: Sized; driving: Sized }[], box: Box): Placed {
  const [ux, uy] = places[train.wheel.wheelIs ?? 'left'];
  const isBobbin = (p: Pulley): p is BobbinPulley => 'bobbin' in p;
  const mark = (p: Pulley): PulleyMark => (isBobbin(p) ? 'madder' : 'woad');
  const largest = Math.max(...parts.map((p) => p.size.high));
  const apart = (a: number, b: number): number => (a + b) / 2 + gap * Math.max(a, b);

  // From the wheel along the line to the flyer: the grooves of the head, then the shaft that carries the pulleys.
  const wheel: Circle = { x: 0, y: 0, size: wheelSize, mark: 'ink' };
  const circles: Circle[] = [wheel];
  const loops: Loop[] = [];
  let from: Circle = wheel;
  let d = 0;
  for (const s of stages) {
    d += apart(from.size.high, Math.max(s.driven.high, s.driving.high));
    const driven: Circle = { x: -ux * d, y: -uy * d, size: s.driven, mark: 'woad' };
    const driving: Circle = { ...driven, size: s.driving };
    circles.push(driven, driving);
    loops.push({ from, to: driven, mark: 'woad' });
    from = driving;
  }
  const kept = stages.length > 0 ? undefined : train.wheel.axleToFlyer;
  const ends = [kept?.nearest, kept?.farthest].flatMap((r) => (r === undefined ? [] : [middle(r)]));
  const given = ends.length === 0 ? undefined : ends.reduce((a, b) => a + b, 0) / ends.length;
  const fits = given !== undefined && given > (from.size.high + largest) / 2;
  d += fits ? given : apart(from.size.high, largest);
  const chosen = [parts.find((p) => !isBobbin(p.part)), parts.find((p) => isBobbin(p.part))].filter((p) => p !== undefined);
  for (const p of parts) {
    const main = chosen.includes(p);
    const c: Circle = { x: -ux * d, y: -uy * d, size: p.size, mark: mark(p.part), ...(main ? {} : { pale: true as const }) };
    circles.push(c);
    if (main) loops.push({ from, to: c, mark: c.mark });
  }

  const left = Math.min(...circles.map((c) => c.x - c.size.high / 2));
  const right = Math.max(...circles.map((c) => c.x + c.size.high / 2));
  const top = Math.min(...circles.map((c) => c.y - c.size.high / 2));
  const low = Math.max(...circles.map((c) => c.y + c.size.high / 2));
  const margin = 4;
  const scale = Math.min((box.width - 2 * margin) / (right - left), (box.height - 2 * margin) / (low - top));
  const shift = box.x + (box.width - (right - left) * scale) / 2;
  const band = train.mode?.band?.thickness;
  return {
    wheel, circles, loops, scale, guessedDistance: !fits, bottom: box.y + (low - top) * scale + 2 * margin,
    at: (x, y) => ({ x: shift + (x - left) * scale, y: box.y + margin + (y - top) * scale }),
    bandWidth: Math.max(1.6, (band === undefined ? 0 : middle(band)) * scale),
  };
}

export function drawTrain(p: Placed, inWheel: readonly string[]): string {
  const disc = (c: Circle): Disc => ({ ...p.at(c.x, c.y), r: (c.size.mid / 2) * p.scale });
  const hub = disc(p.wheel);
  let out = circle(hub.x, hub.y, hub.r, 'wg-cloth', 0);
  // The rim and the spokes are there to be known as a wheel; only the pitch circle is a measure.
  out += circle(hub.x, hub.y, hub.r * 0.91, 'wg-ink wg-spoke', 1.2);
  const inner = Math.max(26, hub.r * 0.1);
  if (hub.r > 60) {
    for (let i = 0; i < 12; i++) {
      const t = (Math.PI * (i + 0.5)) / 6;
      out += lineTo(hub.x + inner * Math.cos(t), hub.y + inner * Math.sin(t), hub.x + hub.r * 0.91 * Math.cos(t), hub.y + hub.r * 0.91 * Math.sin(t), 'wg-ink wg-spoke', 2.4);
    }
  }
  for (const c of p.circles) {
    const d = disc(c);
    const half = ((c.size.high - c.size.low) / 4) * p.scale;
    if (half > 0.6) out += circle(d.x, d.y, (c.size.high + c.size.low) / 4 * p.scale, `wg-${c.mark} wg-wide`, 2 * half);
    out += circle(d.x, d.y, d.r, `wg-${c.mark}${c.pale === true ? ' wg-wide' : ''}`, c.pale === true ? 1.2 : 1.6);
  }
  for (const l of p.loops) {
    const d = bandPath(disc(l.from), disc(l.to));
    if (d !== undefined) out += `<path class="wg-${l.mark} wg-band" stroke-width="${n(p.bandWidth)}" d="${d}"/>`;
  }
  if (hub.r > 60) {
    const lines = inWheel.map((text, i) => textAt(hub.x, hub.y + 5 + (i - (inWheel.length - 1) / 2) * 19, text, { anchor: 'middle', ...(i === 0 ? {} : { as: 'wg-strong' }) }));
    const tall = inWheel.length * 19 + 8;
    const wide = Math.min(1.5 * hub.r, Math.max(...inWheel.map((t) => t.length)) * 8.4 + 12);
    out += `<rect class="wg-cloth" x="${n(hub.x - wide / 2)}" y="${n(hub.y - tall / 2)}" width="${n(wide)}" height="${n(tall)}" rx="6"/>${lines.join('')}`;
  }
  return out;
}
