/** The twist balance of a ply: every rule beside the others, the range over all of them, and the ply as it is. Pure. Throws as `answer` does. */
import { niceAbove } from '../../foundation/chart.js';
import { footer, lineTo, n, picture as page, textAt, wrap } from '../../foundation/drawing.js';
import { choiceOf } from '../../foundation/labels.js';
import { metric, outUnit } from '../../foundation/quantity.js';
import type { Wire } from '../../foundation/reading.js';
import { said } from '../../foundation/telling.js';
import type { AnswerOptions } from '../calculation.js';
import { answer, type PlyResult } from './answer.js';
import type { Balance } from './balance.js';

const width = 480;
const pad = 16;
const rowHeight = 26;
const labels = 150;

const ends = (w: Wire): [number, number] => ('value' in w ? [w.value - (w.plusMinus ?? 0), w.value + (w.plusMinus ?? 0)] : [w.low ?? 0, w.high ?? w.low ?? 0]);
interface Row { readonly label: string; readonly at: [number, number] }

export function picture(question: unknown, options: AnswerOptions = {}): string {
  const { result, cautions, warnings } = answer(question, options);
  const units = options.units ?? metric;
  let y = pad + 4;
  let body = '';
  const say = (text: string, as: string): void => { for (const l of wrap(text, as === 'wg-soft' ? 66 : 56)) { y += 19; body += textAt(pad, y, l, { as }); } };
  for (const c of cautions) say(c.text, 'wg-strong wg-madder-text');
  const heading = `${result.construction === 'cable' ? 'First ply' : 'Ply'}${result.plyDirection === undefined ? '' : ` ${result.plyDirection}`}, ${result.construction === 'chain' ? 'three strands of one single' : `${result.plies} strands`}`;
  say(heading, 'wg-strong');
  const caught = warnings.find((w) => w.code === 'mixed-directions' || w.code === 'same-direction-ply');
  if (caught !== undefined) say(caught.text, 'wg-madder-text');
  if (result.balance !== undefined) [body, y] = scale(body, y + 16, result.balance, result, units);
  else if (caught === undefined) say('Give the twist of the singles, or of the ply, to see where it balances.', '');
  for (const text of told(result)) say(text, '');
  if (result.balance !== undefined) say('Rules differ: ply a sample, wash it, hang it and look.', 'wg-soft');
  say(footer, 'wg-soft');
  return page({ width, height: y + pad, title: 'Where the ply balances', described: [heading, ...told(result), ...(result.balance === undefined ? [] : result.balance.rules.map((r) => `${choiceOf('rule', r.rule)}: ${said(r.plyTwist ?? r.ratio)}`))].join('. ') + '.', body });
}

function scale(before: string, top: number, b: Balance, result: PlyResult, units: NonNullable<AnswerOptions['units']>): [string, number] {
  const inTwist = b.plyTwist !== undefined;
  const rows: Row[] = b.rules.map((r) => ({ label: choiceOf('rule', r.rule) ?? r.rule, at: ends((inTwist ? r.plyTwist : undefined) ?? r.ratio) }));
  const whole = ends((inTwist ? b.plyTwist : undefined) ?? b.ratio);
  const yours = inTwist ? (result.plied.twist === undefined ? undefined : ends(result.plied.twist)) : b.plied === undefined ? undefined : ends(b.plied);
  const most = niceAbove(Math.max(whole[1], yours?.[1] ?? 0) * 1.05);
  const [left, w] = [pad + labels, width - 2 * pad - labels - 8];
  const px = (x: number): number => left + (Math.min(Math.max(x, 0), most) / most) * w;
  const unit = outUnit('twist', units);
  const bottom = top + 26 + rows.length * rowHeight;
  let body = before + textAt(pad, top + 8, inTwist ? `Ply twist, ${unit.spoken ?? unit.name}` : 'Ply twist for each turn of the singles', { as: 'wg-strong' });
  body += `<rect class="wg-cloth" x="${n(px(whole[0]))}" y="${n(top + 22)}" width="${n(Math.max(2, px(whole[1]) - px(whole[0])))}" height="${n(bottom - top - 22)}"/>`;
  for (let i = 0; i <= 4; i++) {
    const x = (most * i) / 4;
    body += lineTo(px(x), top + 22, px(x), bottom, 'wg-line', i === 0 ? 1.5 : 0.75) + textAt(px(x), bottom + 18, String(Number(x.toPrecision(3))), { anchor: 'middle', as: 'wg-soft' });
  }
  rows.forEach((r, i) => {
    const mid = top + 26 + (i + 0.5) * rowHeight;
    body += textAt(pad, mid + 5, r.label, { as: 'wg-soft' });
    const [a, z] = [px(r.at[0]), px(r.at[1])];
    body += z - a < 4 ? `<circle class="wg-woad-haze" cx="${n((a + z) / 2)}" cy="${n(mid)}" r="7"/>${lineTo((a + z) / 2, mid - 7, (a + z) / 2, mid + 7, 'wg-woad', 3)}` : `<rect class="wg-woad-haze" x="${n(a)}" y="${n(mid - 7)}" width="${n(z - a)}" height="14"/>${lineTo(a, mid - 7, a, mid + 7, 'wg-woad', 2)}${lineTo(z, mid - 7, z, mid + 7, 'wg-woad', 2)}`;
  });
  let y = bottom + 24;
  if (yours !== undefined) {
    if (yours[1] > yours[0]) body += `<rect class="wg-weld-haze" x="${n(px(yours[0]))}" y="${n(top + 22)}" width="${n(Math.max(1, px(yours[1]) - px(yours[0])))}" height="${n(bottom - top - 22)}"/>`;
    const x = px((yours[0] + yours[1]) / 2);
    body += lineTo(x, top + 16, x, bottom, 'wg-weld', 3);
    body += textAt(Math.min(x, width - pad - 60), top + 12, 'yours', { anchor: x > width - pad - 60 ? 'start' : 'middle', as: 'wg-weld-text' });
    y += 2;
  }
  return [body, y];
}

/** In words, what the bars do not say. */
function told(r: PlyResult): string[] {
  const out: string[] = [];
  if (r.balance?.state !== undefined) out.push(`${({ 'under-plied': 'Less ply twist than any rule asks', 'over-plied': 'More ply twist than any rule asks', within: 'Within the range of the rules', 'too-close-to-say': 'At an edge of the range' })[r.balance.state]}`);
  const left = r.strands?.find((s) => s.twistLeft !== undefined);
  if (left?.twistLeft !== undefined) out.push(`Left in ${r.strands!.length > 1 ? left.name : 'each strand'}: ${said(left.twistLeft)}`);
  if (r.contraction !== undefined && r.contractionFrom !== 'taken') out.push(`Plying takes ${said(r.contraction)} of the length`);
  if (r.wheelTurns !== undefined) out.push(`Turns of the wheel for a draw: ${said(r.wheelTurns)}`);
  return out;
}
