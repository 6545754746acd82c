/** Take-up as a picture: the softest twist, and the most drawn in, as the bobbin fills; the wanted twist across. Pure. Throws as `answer` does. */
import { drawChart, type Line } from '../../foundation/chart.js';
import { footer, picture as page, shortened, textAt, wrap, type Mark } from '../../foundation/drawing.js';
import { metric, outUnit, fromSI, type Kind } from '../../foundation/quantity.js';
import { extent, middle, wire, type Reading } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { AnswerOptions } from '../calculation.js';
import { ceilings, insertedAt, solve, type SolvedPair } from './answer.js';
import * as f from './formula.js';

const width = 480;
const pad = 16;
const points = 25;
const mostPairs = 4;
const marks: readonly Mark[] = ['woad', 'madder', 'weld', 'ink'];

export function picture(question: unknown, options: AnswerOptions = {}): string {
  const s = solve(question);
  const units = options.units ?? metric;
  const k = s.train.knowns;
  const inUnit = (kind: Kind, si: number): number => fromSI(si, outUnit(kind, units));
  // A name that all pairs share tells them not apart.
  const several = (of: (p: SolvedPair) => string | undefined): boolean => new Set(s.pairs.map(of)).size > 1;
  const [whorls, bobbins] = [several((p) => p.whorl?.name), several((p) => p.bobbin.name)];
  const named = (p: SolvedPair): string => shortened([whorls || !bobbins ? p.whorl?.name : undefined, bobbins || p.whorl === undefined ? p.bobbin.name : undefined].filter((x) => x !== undefined).join(', '), 15);
  const shown = s.pairs.slice(0, mostPairs);
  const line = (kind: Kind, pick: (p: SolvedPair, d: Expr) => Expr | undefined): Line[] => shown.flatMap((p, i) => {
    const list = Array.from({ length: points }, (_, j) => {
      const fill = j / (points - 1);
      const e = pick(p, expr((core, full) => f.diameterAt({ core, full, fill }), p.pack.core, p.pack.full));
      if (e === undefined) return undefined;
      const r = k.reading(e);
      const { low, high } = extent(r);
      return { x: fill, y: inUnit(kind, middle(r)), low: inUnit(kind, low), high: inUnit(kind, high) };
    });
    return list.some((x) => x === undefined) ? [] : [{ label: named(p), mark: marks[i]!, points: list as Line['points'] }];
  });
  const soft = line('twist', (p, d) => ceilings(s, p, d).least ?? insertedAt(s, p, d));
  const most = s.train.drive === 'electric' ? line('speed', (p, d) => ceilings(s, p, d).perSecond) : line('part', (p, d) => ceilings(s, p, d).most);
  const ticks = [{ x: 0, label: 'empty' }, { x: 0.5, label: 'half' }, { x: 1, label: 'full' }];
  const target = s.target === undefined ? [] : [s.target].map((e) => { const { low, high } = extent(k.reading(e)); return { label: 'twist you want', mark: 'lichen' as const, low: inUnit('twist', low), high: inUnit('twist', high) }; });
  let y = pad + 6;
  let body = '';
  const say = (text: string, as: string): void => { for (const l of wrap(text, as === 'wg-soft' ? 66 : 56)) { y += 19; body += textAt(pad, y, l, { as }); } };
  if (s.train.wheel.name !== undefined) { y += 14; body += textAt(pad, y, s.train.wheel.name, { as: 'wg-strong' }); }
  if (s.train.wheel.condition === 'do-not-run') say('Marked do not run: the numbers are for the record.', 'wg-strong wg-madder-text');
  const frame = { x: pad, width: width - 2 * pad, height: 170, labels: 122 };
  const unitOf = (kind: Kind): string => { const u = outUnit(kind, units); return u.spoken ?? u.name; };
  if (soft.length > 0) { y += 14; body += drawChart({ title: s.train.drive === 'bobbin-lead' || s.train.drive === 'spindle' ? 'Twist put in' : 'Softest twist', unit: unitOf('twist'), ticks, lines: soft, levels: target }, { ...frame, y }); y += frame.height + 26; }
  if (most.length > 0) { y += 14; body += drawChart({ title: s.train.drive === 'electric' ? 'Most it can draw in' : 'Most it can draw in for one turn of the wheel', unit: unitOf(s.train.drive === 'electric' ? 'speed' : 'part'), ticks, lines: most, levels: [] }, { ...frame, y }); y += frame.height + 26; }
  if (soft.length === 0 && most.length === 0) say('There is no ceiling to draw: whorl and bobbin are too alike to say, or this wheel winds on by itself.', '');
  if (s.pairs.length > mostPairs) say(`and ${s.pairs.length - mostPairs} more pairs`, 'wg-soft');
  say(footer, 'wg-soft');
  return page({ width, height: y + pad, title: s.train.wheel.name === undefined ? 'Take-up as the bobbin fills' : `${s.train.wheel.name}: take-up as the bobbin fills`, described: described(s.pairs.slice(0, mostPairs), named, (p, d) => ceilings(s, p, d), k.reading.bind(k), units), body });
}

/** The picture in words, for those who do not see it. */
function described(pairs: readonly SolvedPair[], named: (p: SolvedPair) => string, at: (p: SolvedPair, d: Expr) => ReturnType<typeof ceilings>, reading: (e: Expr) => Reading, units: NonNullable<AnswerOptions['units']>): string {
  return pairs.map((p) => {
    const [empty, full] = [at(p, p.pack.core), at(p, p.pack.full)];
    const twist = empty.least === undefined || full.least === undefined ? '' : ` softest twist ${wire('twist', reading(empty.least), units).text} on the empty bobbin, ${wire('twist', reading(full.least), units).text} on the full one;`;
    const most = empty.most === undefined || full.most === undefined ? '' : ` most drawn in for one turn of the wheel ${wire('part', reading(empty.most), units).text} empty, ${wire('part', reading(full.most), units).text} full;`;
    return twist + most === '' ? `${named(p)}: no ceiling can be named.` : `${named(p)}:${twist}${most}`.replace(/;$/, '.');
  }).join(' ');
}
