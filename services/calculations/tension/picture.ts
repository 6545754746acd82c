/** Tension as a picture: what still draws in and what is still borne, as the bobbin fills; the cloth between is the window. Pure. Throws as `answer` does. */
import { drawChart, type Line } from '../../foundation/chart.js';
import { footer, picture as page, shortened, textAt, wrap } from '../../foundation/drawing.js';
import { fromSI, metric, outUnit, type Kind } from '../../foundation/quantity.js';
import { extent, wire, type Reading } from '../../foundation/reading.js';
import { expr } from '../../foundation/uncertainty.js';
import type { AnswerOptions } from '../calculation.js';
import { diameterAt } from '../take-up/formula.js';
import { solve, windowAt, type Part } from './answer.js';
import type { State } from './window.js';

const width = 480;
const pad = 16;
const points = 21;
const mostParts = 3;
const stateWords: Readonly<Record<State, string>> = {
  open: 'One setting serves from the empty bobbin to the full one.', closed: 'No one setting serves from the empty bobbin to the full one: change it as it fills.', 'too-close-to-say': 'Whether one setting serves all the way cannot be said from what is known. Make the bag test.',
};

export function picture(question: unknown, options: AnswerOptions = {}): string {
  const s = solve(question);
  const units = options.units ?? metric;
  const kind: Kind = s.train.drive === 'double-drive' ? 'band-tension' : 'torque';
  const u = outUnit(kind, units);
  const named = (p: Part): string => shortened([p.whorl?.name, p.bobbin].filter((x) => x !== undefined).join(', '), 40);
  let y = pad + 6;
  let body = '';
  const say = (text: string, as: string): void => { for (const l of wrap(text, as === 'wg-soft' ? 66 : 56)) { y += 19; body += textAt(pad, y, l, { as }); } };
  if (s.train.wheel.name !== undefined) { y += 14; body += textAt(pad, y, s.train.wheel.name, { as: 'wg-strong' }); }
  if (s.train.wheel.condition === 'do-not-run') say('Marked do not run: the numbers are for the record.', 'wg-strong wg-madder-text');
  const described: string[] = [];
  for (const p of s.parts.slice(0, mostParts)) {
    const at = Array.from({ length: points }, (_, i) => {
      const fill = i / (points - 1);
      const d = expr((core, full) => diameterAt({ core, full, fill }), p.core, p.full);
      return { x: fill, ...windowAt(s, p, d, d) };
    });
    const line = (label: string, mark: Line['mark'], pick: (w: (typeof at)[number]) => Reading): Line => ({ label, mark, points: at.map((w) => { const e = extent(pick(w)); const [low, high] = [fromSI(Math.max(0, e.low), u), fromSI(Math.max(0, e.high), u)]; return { x: w.x, y: (low + high) / 2, low, high }; }) });
    const [least, most] = [line('draws in', 'madder', (w) => w.low), line('is borne', 'woad', (w) => w.high)];
    const whole = windowAt(s, p, p.full, p.core);
    if (s.parts.length > 1) say(named(p), 'wg-strong');
    y += 14;
    body += drawChart({
      title: kind === 'torque' ? 'Brake' : 'Band tension, standing', unit: u.spoken ?? u.name, ticks: [{ x: 0, label: 'empty' }, { x: 0.5, label: 'half' }, { x: 1, label: 'full' }], lines: [least, most],
      levels: [], between: [least, most],
    }, { x: pad, y, width: width - 2 * pad, height: 190, labels: 84 });
    y += 214;
    say(stateWords[whole.state], '');
    described.push(`${named(p)}: on the empty bobbin ${words(at[0]!.low, at[0]!.high, kind, units)}, on the full one ${words(at.at(-1)!.low, at.at(-1)!.high, kind, units)}. ${stateWords[whole.state]}`);
    y += 8;
  }
  if (s.parts.length > mostParts) say(`and ${s.parts.length - mostParts} more pairs`, 'wg-soft');
  say('The cloth between the lines is the window: enough to draw in, no more than yarn and hand bear. A pale edge shows how far a line is known.', 'wg-soft');
  say(footer, 'wg-soft');
  return page({ width, height: y + pad, title: s.train.wheel.name === undefined ? 'Tension as the bobbin fills' : `${s.train.wheel.name}: tension as the bobbin fills`, described: described.join(' '), body });
}
const words = (low: Reading, high: Reading, kind: Kind, units: NonNullable<AnswerOptions['units']>): string => `it draws in from ${wire(kind, low, units).text} and is borne up to ${extent(high).high <= 0 ? 'nothing' : wire(kind, high, units).text}`;
