/** The last make as a picture: what the hand lets in beside what is drawn in, the slack between, and the twist along what was wound on. Pure. Throws as `answer` does. */
import { drawChart, type Line } from '../../foundation/chart.js';
import { footer, picture as page, textAt, wrap, type Mark } from '../../foundation/drawing.js';
import { metric, outUnit, type Kind } from '../../foundation/quantity.js';
import { wire } from '../../foundation/reading.js';
import type { AnswerOptions } from '../calculation.js';
import { alongMake, answer, inUnit, type DraftCycleResult } from './answer.js';
import { cycle, pointOf, solve, valuesOf } from './solve.js';
import type { Moment } from './tally.js';

const width = 480;
const pad = 16;
const points = 160;
const verdicts: Readonly<Record<DraftCycleResult['verdict'], string>> = {
  follows: 'The package follows the hand: the yarn is never slack.', grabs: 'The package lags behind the hand; the yarn hangs slack and is then snatched tight.',
  'falls-behind': 'The package cannot keep up: slack piles up before the orifice.', 'too-close-to-say': 'Whether the package follows cannot be said from what is known.',
};

export function picture(question: unknown, options: AnswerOptions = {}): string {
  const { result } = answer(question, options);
  const s = solve(question);
  const units = options.units ?? metric;
  const values = valuesOf(s.inputs.map((e) => pointOf(s.k.reading(e))));
  const { habit, schedule } = s.moves;
  const from = habit === undefined || habit.style === 'short-forward' ? 0 : (schedule.until * (habit.makes - 1)) / habit.makes;
  const lasts = schedule.until - from;
  const seen: Moment[] = [];
  cycle(s, values, values.diameter, { step: lasts / points, at: (m) => { if (m.time >= from - 1e-9) seen.push({ ...m }); } });
  const spoken = (kind: Kind): string => { const u = outUnit(kind, units); return u.spoken ?? u.name; };
  const line = (label: string, mark: Mark, kind: Kind, of: (m: Moment) => number): Line => ({ label, mark, points: seen.map((m) => { const y = inUnit(kind, of(m), units); return { x: (m.time - from) / lasts, y, low: y, high: y }; }) });
  const seconds = (t: number): string => `${Number(t.toFixed(2))} s`;
  const ticks = [0, 0.5, 1].map((x) => ({ x, label: x === 0 ? '0' : seconds(x * lasts) }));
  let y = pad + 6;
  let body = '';
  const say = (text: string, as: string): void => { for (const l of wrap(text, as === 'wg-soft' ? 66 : 56)) { y += 19; body += textAt(pad, y, l, { as }); } };
  const chart = (title: string, kind: Kind, lines: readonly Line[], at = ticks): void => {
    if (lines.every((l) => l.points.every((p) => p.y === 0))) return;
    y += 16;
    body += drawChart({ title, unit: spoken(kind), ticks: at, lines, levels: [] }, { x: pad, y, width: width - 2 * pad, height: 140, labels: 92 });
    y += 164;
  };
  if (s.train.wheel.name !== undefined) { y += 14; body += textAt(pad, y, s.train.wheel.name, { as: 'wg-strong' }); }
  if (s.train.wheel.condition === 'do-not-run') say('Marked do not run: the numbers are for the record.', 'wg-strong wg-madder-text');
  say(verdicts[result.verdict], '');
  chart('Speed of the yarn', 'speed', [line('hand lets in', 'woad', 'speed', (m) => m.letIn), line('drawn in', 'madder', 'speed', (m) => m.drawIn)]);
  chart('Slack', 'part', [line('slack', 'weld', 'part', (m) => m.slack)]);
  chart('Pull at the package', 'pull', [line('pull', 'ink', 'pull', (m) => m.pull)]);
  const along = alongMake(s, values, 33);
  chart('Twist along the make', 'twist', along.length === 0 ? [] : [{ label: 'twist', mark: 'weld', points: along.map((p) => { const t = inUnit('twist', p.twist, units); return { x: p.share, y: t, low: t, high: t }; }) }], [{ x: 0, label: 'first on' }, { x: 1, label: 'last on' }]);
  say(footer, 'wg-soft');
  const grab = result.grab === undefined ? '' : ` The hardest grab takes ${result.grab.difference.text} off the yarn at once.`;
  const mean = result.twist.mean === undefined ? '' : ` Twist wound on ${result.twist.mean.text} in the mean${along.length === 0 ? '' : `, ${wire('twist', { value: along[0]!.twist }, units).text} at first and ${wire('twist', { value: along.at(-1)!.twist }, units).text} last`}.`;
  return page({ width, height: y + pad, title: s.train.wheel.name === undefined ? 'One make, moment by moment' : `${s.train.wheel.name}: one make, moment by moment`, described: `${verdicts[result.verdict]} Most slack ${result.slack.most.text}.${grab}${mean}`, body });
}
