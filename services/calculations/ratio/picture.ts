/**
 * Drive ratio as a picture: the wheel and its pulleys to scale, with the band as it runs, and below them what each part
 * turns for one turn of the wheel. Pure. Throws as `answer` does.
 */
import { footer, picture as page, textAt, wrap } from '../../foundation/drawing.js';
import { metric, type UnitChoice } from '../../foundation/quantity.js';
import { extent, middle, span, wire, withPlusMinus, type Reading } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { AnswerOptions } from '../calculation.js';
import { drawInOf, solve, type DrawIn, type Solved } from './answer.js';
import { seatForRatio } from './formula.js';
import { drawRows, type Row } from './picture-rows.js';
import { drawTrain, placeTrain, type Sized } from './picture-train.js';
import type { BobbinPulley, Pulley, Train } from './train.js';

const width = 400;
const pad = 16;
/** Drive wheel of a picture whose wheel is known by its stamped ratios alone, m. */
const nominalWheel = 0.5;
const mostRows = 24;

const drawInWords: Readonly<Record<DrawIn, string>> = {
  'bobbin-leads': 'bobbin leads', 'flyer-leads': 'flyer leads, winds on backwards', 'too-close-to-say': 'too close to say which leads',
};

export function picture(question: unknown, options: AnswerOptions = {}): string {
  const s = solve(question);
  const units = options.units ?? metric;
  const sizes = s.train === undefined ? undefined : sizesOf(s.train);
  const rows = rowsOf(s, sizes, units);
  const remarks: string[] = [];
  let body = '';
  let y = pad;
  const say = (text: string, as: string): void => {
    for (const line of wrap(text, as === 'wg-soft' ? 54 : 44)) { y += 20; body += textAt(pad, y, line, { as }); }
  };
  const name = s.train?.wheel.name;
  if (name !== undefined) say(name, 'wg-strong');
  if (s.train?.wheel.condition === 'do-not-run') say('Marked do not run: the numbers are for the record.', 'wg-strong wg-madder-text');

  let scale: number | undefined;
  if (s.train !== undefined && sizes?.wheel !== undefined && sizes.parts.size > 0) {
    const placed = placeTrain(s.train, sizes.wheel, [...sizes.parts].map(([part, size]) => ({ part, size })), sizes.stages, { x: pad, y: y + 12, width: width - 2 * pad, height: 300 });
    body += drawTrain(placed, sizes.relative ? ['drive wheel'] : ['drive wheel', withPlusMinus(wire('part', known(sizes.wheel), units))]);
    y = placed.bottom;
    scale = placed.scale;
    if (sizes.relative) remarks.push('Known by its stamped ratios alone: sizes are beside each other, not measured.');
    else remarks.push('Circles to scale, at the middle of the band.');
    if (placed.guessedDistance) remarks.push('Distance not to scale.');
    if (sizes.wide) remarks.push('A pale ring shows how far a size is known.');
  }
  const drawn = drawRows(rows.slice(0, mostRows), { x: pad, y: y + 8, width: width - 2 * pad, ...(scale === undefined ? {} : { scale }) });
  body += drawn.body;
  y = drawn.bottom;
  if (rows.length > mostRows) say(`and ${rows.length - mostRows} more`, 'wg-soft');
  const pairs = pairWords(s.train);
  if (pairs.length > 0) y += 6;
  for (const text of pairs.slice(0, 6)) say(text, '');
  if (pairs.length > 6) say(`and ${pairs.length - 6} more pairs`, 'wg-soft');
  y += 6;
  if (remarks.length > 0) say(remarks.join(' '), 'wg-soft');
  say(footer, 'wg-soft');
  const told = [...rows.map((r) => `${r.word}${r.name === '' ? '' : `, ${r.name}`}: ${r.text}.`), ...pairs.map((p) => `${p}.`), ...remarks];
  return page({ width, height: y + pad, title: name === undefined ? 'Drive ratio' : `Drive ratio of ${name}`, described: told.join(' '), body });
}

const known = (s: Sized): Reading => s.reading;

interface Sizes {
  readonly wheel?: Sized;
  readonly parts: ReadonlyMap<Pulley, Sized>;
  readonly stages: readonly { driven: Sized; driving: Sized }[];
  /** No size is a measure: only ratios are known. */
  readonly relative: boolean;
  /** Some size is known only within a width that shows. */
  readonly wide: boolean;
}

/** The pitch diameters, as far as they are known; what only has a ratio takes its size from the wheel. */
function sizesOf(train: Train): Sizes {
  const size = (e: Expr): Sized => {
    const reading = train.knowns.reading(e);
    const { low, high } = extent(reading);
    const mid = middle(reading);
    return { reading, mid, low: Number.isFinite(low) ? low : mid, high: Number.isFinite(high) ? high : mid };
  };
  const all: readonly Pulley[] = [...train.whorls, ...train.bobbins];
  const relative = train.wheelPitch === undefined && all.length > 0 && all.every((p) => p.pitch === undefined);
  const wheel = train.wheelPitch !== undefined ? size(train.wheelPitch) : relative ? { reading: { value: nominalWheel }, mid: nominalWheel, low: nominalWheel, high: nominalWheel } : undefined;
  const parts = new Map<Pulley, Sized>();
  for (const p of all) {
    if (p.pitch !== undefined) parts.set(p, size(p.pitch));
    else if (p.ratio !== undefined && (relative || train.drivingPitch !== undefined)) parts.set(p, size(relative ? expr((i) => nominalWheel / i, p.ratio) : expr((D, i) => D / i, train.drivingPitch!, p.ratio)));
  }
  // What has no size that can be drawn is told in words only.
  const drawable = (s: Sized): boolean => s.mid > 0 && s.low >= 0 && Number.isFinite(s.high);
  for (const [p, s] of parts) if (!drawable(s)) parts.delete(p);
  const stages = train.stages.map((s) => ({ driven: size(s.driven), driving: size(s.driving) }));
  const whole = (wheel === undefined || drawable(wheel)) && stages.every((s) => drawable(s.driven) && drawable(s.driving));
  const wide = [...parts.values(), ...(wheel === undefined ? [] : [wheel])].some((s) => s.high - s.low > 0.002);
  return { ...(wheel === undefined || !whole ? {} : { wheel }), parts, stages, relative, wide };
}

function rowsOf(s: Solved, sizes: Sizes | undefined, units: UnitChoice): Row[] {
  const rows: Row[] = [];
  const { train } = s;
  if (train !== undefined) {
    const row = (p: Pulley, word: string, name: string, mark: 'woad' | 'madder'): Row => {
      const turns = p.ratio === undefined ? undefined : train.knowns.reading(p.ratio);
      const size = sizes?.parts.get(p);
      return { word, name, mark, ...(turns === undefined ? {} : { turns }), text: turns === undefined ? 'no wheel to turn it' : withPlusMinus(wire('ratio', turns)), ...(size === undefined ? {} : { size }) };
    };
    const spun = train.drive === 'spindle' ? 'spindle' : 'flyer';
    for (const w of train.whorls) rows.push(row(w, spun, w.name, 'woad'));
    for (const b of train.bobbins) rows.push(row(b, 'bobbin', grooveName(b), 'madder'));
    if (train.drive === 'electric') {
      const { slowest, fastest } = train.wheel.flyerSpeed!;
      const turns = span(slowest === undefined ? undefined : extent(slowest).low, fastest === undefined ? undefined : extent(fastest).high);
      rows.push({ word: 'flyer', name: 'slowest to fastest, from 0', mark: 'woad', speed: true, turns, text: wire('turning', turns).text.replace('/min', ' a minute') });
    }
    for (const aim of s.wanted) {
      const turns = aim;
      const fits = train.drivingPitch === undefined ? undefined : middle(train.knowns.reading(train.drivingPitch)) / middle(turns);
      const seat = train.drivingPitch === undefined ? undefined : train.knowns.reading(expr((D, i, t) => seatForRatio({ driving: D, ratio: i, band: t }), train.drivingPitch, { uses: [], at: () => middle(turns) }, train.band));
      rows.push({
        word: 'wanted', name: seat === undefined ? '' : `groove ${withPlusMinus(wire('part', seat, units))}`, mark: 'lichen', turns, text: withPlusMinus(wire('ratio', turns)),
        ...(fits === undefined || !Number.isFinite(fits) ? {} : { size: { reading: { value: fits }, mid: fits, low: fits, high: fits } }),
      });
    }
  }
  for (const c of s.counts) {
    for (const [turned, what] of [[c.flyer, 'flyer'], [c.turnsOfBobbin, 'bobbin']] as const) {
      if (turned === undefined) continue;
      const counted = { value: middle(turned) / middle(c.wheel) };
      if (Number.isFinite(counted.value)) rows.push({ word: 'counted', name: [what, what === 'flyer' ? c.whorl : c.bobbin].filter((x) => x !== undefined).join(', '), mark: 'ink', turns: counted, text: wire('ratio', counted).text });
    }
  }
  return rows;
}

/** Of a bobbin with one groove that has no name, the bobbin's own. */
const grooveName = (b: BobbinPulley): string => (b.bobbin.grooves.length === 1 && b.bobbin.grooves[0]!.name === undefined ? b.name : `${b.name}, ${b.groove}`);

function pairWords(train: Train | undefined): string[] {
  return (train?.pairs ?? []).map((p) => `${p.whorl.name} with ${grooveName(p.bobbin)}: ${drawInWords[drawInOf(train!.knowns.reading(p.rho))]}`);
}
