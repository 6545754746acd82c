/** The drive band as a picture: wheel, whorl and bobbin groove to scale at their real distance, the band, and where it crosses. Pure. Throws as `answer` does. */
import { bandPath, circle, footer, n, picture as page, textAt, wrap, type Disc } from '../../foundation/drawing.js';
import { metric } from '../../foundation/quantity.js';
import { middle, wire, withPlusMinus } from '../../foundation/reading.js';
import type { AnswerOptions } from '../calculation.js';
import { solve, type Loop } from './answer.js';
import * as f from './formula.js';

const width = 480;
const pad = 16;
const runWords = { lower: 'the lower run', upper: 'the upper run', left: 'the left run', right: 'the right run' } as const;

export function picture(question: unknown, options: AnswerOptions = {}): string {
  const s = solve(question);
  const units = options.units ?? metric;
  const k = s.train.knowns;
  const loop = s.loops[0]!;
  const c = s.distance ?? loop.at(s.bandLength!);
  const length = s.bandLength ?? loop.length(c);
  const D = middle(k.reading(s.train.wheelPitch!));
  const [dw, db, C] = [loop.dw, loop.db, c].map((e) => (e === undefined ? undefined : middle(k.reading(e))));
  const place = s.wheelIs ?? 'right';
  const upright = place === 'below' || place === 'above';
  // The flyer's shaft is where the spinner looks; the wheel lies where it really is.
  const small = Math.max(dw ?? 0, db ?? 0);
  const along = D / 2 + C! + small / 2;
  const across = Math.max(D, small);
  const scale = upright ? Math.min(330 / along, (width - 2 * pad) / across) : Math.min((width - 2 * pad) / along, 330 / across);
  const [bw, bh] = upright ? [across * scale, along * scale] : [along * scale, across * scale];
  let y = pad;
  let body = '';
  const say = (text: string, as: string): void => { for (const l of wrap(text, as === 'wg-soft' ? 66 : 56)) { y += 19; body += textAt(pad, y, l, { as }); } };
  if (s.train.wheel.name !== undefined) say(s.train.wheel.name, 'wg-strong');
  y += 14;
  const [x0, y0] = [(width - bw) / 2, y];
  const mid = upright ? x0 + bw / 2 : y0 + bh / 2;
  const [near, far] = [(D / 2) * scale, (D / 2 + C!) * scale];
  const start = upright ? y0 : x0;
  const wheelFirst = place === 'left' || place === 'above';
  const [wheelAt, flyerAt] = wheelFirst ? [start + near, start + far] : [start + (upright ? bh : bw) - near, start + (upright ? bh : bw) - far];
  const disc = (at: number, d: number): Disc => (upright ? { x: mid, y: at, r: (d / 2) * scale } : { x: at, y: mid, r: (d / 2) * scale });
  const wheel = disc(wheelAt, D);
  body += circle(wheel.x, wheel.y, wheel.r, 'wg-ink', 2) + circle(wheel.x, wheel.y, 3, 'wg-ink', 2);
  const band = (d: number | undefined, mark: 'woad' | 'madder'): string => {
    if (d === undefined) return '';
    const pulley = disc(flyerAt, d);
    const path = s.kind === 'crossed' ? crossedPath(wheel, pulley) : bandPath(wheel, pulley);
    return `${circle(pulley.x, pulley.y, pulley.r, 'wg-ink', 1.5)}${path === undefined ? '' : `<path class="wg-${mark}" stroke-width="2" d="${path}"/>`}`;
  };
  body += band(dw, 'woad') + band(db, 'madder');
  const direction = s.direction ?? 'Z';
  const run = s.kind === 'doubled' && s.wheelIs !== undefined ? f.crossingRun({ wheelIs: s.wheelIs, direction }) : undefined;
  if (run !== undefined) body += crossingMark(run, wheel, disc(flyerAt, small));
  body += textAt(upright ? mid : wheelAt, (upright ? wheelAt : mid) - 8, 'drive wheel', { anchor: 'middle', as: 'wg-soft' });
  y = y0 + bh + 8;
  if (dw !== undefined) say(`Solid: the band round wheel and whorl${loop.whorl === undefined ? '' : ` (${loop.whorl})`}.`, 'wg-woad-text');
  if (db !== undefined) say(`Broken: the band round wheel and bobbin groove${loop.bobbin === undefined ? '' : ` (${loop.bobbin})`}.`, 'wg-madder-text');
  const told = [
    `Band ${withPlusMinus(wire('length', k.reading(length), units))} along its middle; axle to flyer ${withPlusMinus(wire('part', k.reading(c), units))}.`,
    ...(run === undefined ? [] : [`Spinning ${direction}, the one crossing lies on ${runWords[run]}: the run that leaves the wheel. One crossing, never two.`]),
    ...(s.guessed ? ['The distance was guessed: measure it before you cut a band.'] : []),
  ];
  for (const t of told) say(t, '');
  say(s.guessed ? 'Circles to scale, at the middle of the band.' : 'Circles and distance to scale, at the middle of the band.', 'wg-soft');
  say(footer, 'wg-soft');
  return page({ width, height: y + pad, title: s.train.wheel.name === undefined ? 'Drive band' : `${s.train.wheel.name}: drive band`, described: `${parts(loop)} ${told.join(' ')}`, body });
}
const parts = (l: Loop): string => `Drive wheel with ${[l.whorl, l.bobbin].filter((x) => x !== undefined).join(' and ')}.`;

/** Both inner tangents, and the arcs on the outer sides. */
function crossedPath(a: Disc, b: Disc): string | undefined {
  const d = Math.hypot(b.x - a.x, b.y - a.y);
  if (!(d > a.r + b.r)) return undefined;
  const along = Math.atan2(b.y - a.y, b.x - a.x);
  const alpha = Math.acos((a.r + b.r) / d);
  const on = (c: Disc, t: number): string => `${n(c.x + c.r * Math.cos(t))} ${n(c.y + c.r * Math.sin(t))}`;
  return `M${on(a, along + alpha)}A${n(a.r)} ${n(a.r)} 0 1 1 ${on(a, along - alpha)}L${on(b, along - alpha + Math.PI)}A${n(b.r)} ${n(b.r)} 0 1 0 ${on(b, along + alpha + Math.PI)}Z`;
}

/** A cross and a word in the middle of the run that crosses. */
function crossingMark(run: f.Run, a: Disc, b: Disc): string {
  const along = Math.atan2(b.y - a.y, b.x - a.x);
  const alpha = Math.acos((a.r - b.r) / Math.hypot(b.x - a.x, b.y - a.y));
  const middleOf = (t: number): { x: number; y: number } => ({ x: (a.x + a.r * Math.cos(t) + b.x + b.r * Math.cos(t)) / 2, y: (a.y + a.r * Math.sin(t) + b.y + b.r * Math.sin(t)) / 2 });
  const ends = [middleOf(along + alpha), middleOf(along - alpha)];
  const before = { lower: (p: typeof ends[0]) => p!.y, upper: (p: typeof ends[0]) => -p!.y, left: (p: typeof ends[0]) => -p!.x, right: (p: typeof ends[0]) => p!.x }[run];
  const { x, y } = ends.sort((p, q) => before(q) - before(p))[0]!;
  const arm = 7;
  // Below a lower run, above an upper one, on the side where the run leaves room.
  const outward = run === 'left' || run === 'right' ? run === 'left' : b.x < a.x;
  const text = textAt(x + (outward ? -12 : 12), y + (run === 'lower' ? 20 : run === 'upper' ? -10 : 4), 'crosses here', { anchor: outward ? 'end' : 'start', as: 'wg-lichen-text' });
  return `<path class="wg-ink" stroke-width="3" d="M${n(x - arm)} ${n(y - arm)}L${n(x + arm)} ${n(y + arm)}M${n(x - arm)} ${n(y + arm)}L${n(x + arm)} ${n(y - arm)}"/>${text}`;
}
