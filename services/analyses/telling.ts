/** A summary in words, for the page, the picture and the command. */
import { catalogue, type ProblemCode } from '../foundation/problems.js';
import type { Flag } from './usual.js';
import type { Summary } from './summary.js';
import type { Spread } from './tally.js';

const s = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;
export const flagNames: Readonly<Record<string, string>> = {
  'inches-for-millimetres': 'Probably inches, written as millimetres', 'millimetres-for-inches': 'Probably millimetres, written as inches', 'circumference-for-diameter': 'Probably measured round, written as across',
  'diameter-for-circumference': 'Probably measured across, written as round', 'decimal-slip': 'Probably a slip of the decimal point', 'swapped-whorl-and-bobbin': 'Whorl and bobbin probably swapped', 'rim-for-groove': 'Probably measured at the rim, not in the groove', duplicate: 'The same wheel twice',
};
const spreadNames: Readonly<Record<string, readonly [string, string]>> = {
  driveWheel: ['Drive wheel, across', 'mm'], whorl: ['Whorl, across', 'mm'], bobbin: ['Bobbin groove, across', 'mm'], band: ['Band thickness', 'mm'], core: ['Bobbin core, across', 'mm'], flyerRatio: ['Flyer ratio', ': 1'], bobbinPerFlyerTurn: ['Bobbin turns for one of the flyer', ''], leastTwist: ['Softest twist, empty bobbin', 'turns/m'],
};
const shown = (x: number): string => String(Number(x.toPrecision(3)));

export interface SpreadText { readonly label: string; readonly text: string; readonly unit: string; readonly spread: Spread; said(x: number): string }
export const spreadTexts = (summary: Summary): SpreadText[] => Object.entries(summary.spreads).map(([name, spread]) => {
  const [label, unit] = spreadNames[name] ?? [name, ''];
  return { label, unit, spread, said: shown, text: `middle ${shown(spread.middle)}, half from ${shown(spread.quarter)} to ${shown(spread.threeQuarters)}${unit === '' ? '' : ` ${unit}`}` };
});

export function summarySentences(summary: Summary): string[] {
  const { rows, analysed, rejected, doNotRun, drawsIn } = summary;
  const out = [];
  if (doNotRun > 0) out.push(`Take care: ${doNotRun === 1 ? '1 wheel is' : `${doNotRun} wheels are`} marked do not run.`);
  out.push(`${s(rows, 'row')}: ${analysed} analysed, ${rejected} refused.`);
  const cannot = drawsIn['no'] ?? 0;
  const close = drawsIn['too-close-to-say'] ?? 0;
  if (cannot > 0) out.push(`${s(cannot, 'wheel')} cannot draw in as written: every bobbin groove is larger than its whorl.`);
  if (close > 0) out.push(`Of ${s(close, 'wheel')} it is too close to say whether ${close === 1 ? 'it draws' : 'they draw'} in: whorl and bobbin groove are alike.`);
  const flagged = Object.entries(summary.flags).filter(([code]) => code !== 'duplicate').reduce((sum, [, n]) => sum + n, 0);
  if (flagged > 0) out.push(`${s(flagged, 'row')} probably ${flagged === 1 ? 'holds' : 'hold'} a mix-up.`);
  const twice = summary.flags['duplicate'] ?? 0;
  if (twice > 0) out.push(`${s(twice, 'row')} ${twice === 1 ? 'repeats' : 'repeat'} another.`);
  return out;
}
export const flagText = (f: Flag): string => `${flagNames[f.code] ?? f.code}${f.part === undefined ? '' : `: ${f.part}, read ${f.read} mm, probably ${f.probably} mm`}${f.row === undefined ? '' : `: row ${f.row}`}`;
/** Flags of one kind together, the most frequent first. */
export const flagGroups = (summary: Summary): { name: string; rows: number; first: string }[] => Object.entries(summary.flags).toSorted((a, b) => b[1] - a[1]).map(([code, rows]) => ({
  name: flagNames[code] ?? code, rows,
  first: summary.flagged.filter((f) => f.code === code).slice(0, 5).map((f) => `row ${f.at}${f.part === undefined ? f.row === undefined ? '' : ` as row ${f.row}` : `: ${f.part} ${f.read} mm, probably ${f.probably}`}`).join('; '),
}));
export const reasonText = (code: string): string => (code in catalogue ? catalogue[code as ProblemCode].title : code === 'others' ? 'Other reasons' : code);
/** The singles that most wheels can make. */
export function coverageSentence({ coverage: { grist, twist, counts, wheels } }: Summary): string {
  let [g, t] = [0, 0];
  for (let i = 0; i < grist.length; i++) for (let j = 0; j < twist.length; j++) if (counts[i]![j]! > counts[g]![t]!) [g, t] = [i, j];
  const none = grist.filter((_, i) => counts[i]!.every((n) => n === 0));
  const share = wheels === 0 ? 0 : Math.round((100 * counts[g]![t]!) / wheels);
  return `Of ${s(wheels, 'wheel')} enough is known. ${share === 0 ? 'None of them makes any of these singles.' : `Most of them (${share} %) can make ${grist[g]} tex at ${twist[t]} turns/m${none.length === 0 ? '' : `; none can make ${none.join(', ')} tex`}.`} A wheel counts where it draws in at so soft a twist with an empty bobbin, puts the twist in with at most 30 turns of the wheel to a draw of 600 mm, and one tension serves from empty to full; common practice, a map of what to look at.`;
}
export const missingText = (summary: Summary): { label: string; rows: number }[] => Object.entries(summary.missing).map(([label, rows]) => ({ label, rows })).toSorted((a, b) => b.rows - a.rows);
