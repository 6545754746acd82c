/** A summary in words, for the page, the picture and the command. */
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

export const spreadTexts = (summary: Summary): { label: string; text: string; spread: Spread }[] => Object.entries(summary.spreads).map(([name, spread]) => {
  const [label, unit] = spreadNames[name] ?? [name, ''];
  return { label, spread, text: `middle ${shown(spread.middle)}, half from ${shown(spread.quarter)} to ${shown(spread.threeQuarters)}${unit === '' ? '' : ` ${unit}`}` };
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
export const missingText = (summary: Summary): { label: string; rows: number }[] => Object.entries(summary.missing).map(([label, rows]) => ({ label, rows })).toSorted((a, b) => b.rows - a.rows);
