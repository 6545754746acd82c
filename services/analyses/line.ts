/** A row's verdict as a line of NDJSON. Written by hand: a general writer would cost more than the verdict itself. */
import type { Known } from './known.js';
import { verdictOf, type PairVerdict, type Verdict } from './verdict.js';
import { quoted, type RowIssue, type RowRead } from './row.js';

const number = (k: Known): string => (typeof k === 'number' ? String(k) : 'value' in k ? `{"value":${k.value},"plusMinus":${k.plusMinus}}` : k.low === undefined ? `{"high":${k.high}}` : k.high === undefined ? `{"low":${k.low}}` : `{"low":${k.low},"high":${k.high}}`);
const names = new Map<string, string>();
function text(name: string): string {
  let made = names.get(name);
  if (made === undefined) {
    made = JSON.stringify(name);
    if (names.size < 1000) names.set(name, made);
  }
  return made;
}

/** Pairs of one bobbin share the spread that they need. */
let [lastSpread, lastText]: [Known | undefined, string] = [undefined, ''];
function spread(k: Known): string {
  if (k !== lastSpread || typeof k === 'number') [lastSpread, lastText] = [k, number(k)];
  return lastText;
}
function pair(p: PairVerdict): string {
  let out = p.whorl === undefined ? '{' : `{"whorl":${text(p.whorl)},`;
  if (p.bobbin !== undefined) out += `"bobbin":${text(p.bobbin)},`;
  if (p.bobbinPerFlyerTurn !== undefined) out += `"bobbinPerFlyerTurn":${number(p.bobbinPerFlyerTurn)},`;
  if (p.drawIn !== undefined) out += `"drawIn":"${p.drawIn}",`;
  if (p.mostDrawnInPerWheelTurn !== undefined) out += `"mostDrawnInPerWheelTurn":{"empty":${number(p.mostDrawnInPerWheelTurn.empty)},"full":${number(p.mostDrawnInPerWheelTurn.full)}},`;
  if (p.leastTwist !== undefined) out += `"leastTwist":{"empty":${number(p.leastTwist.empty)},"full":${number(p.leastTwist.full)}},`;
  if (p.bandLength !== undefined) out += `"bandLength":${number(p.bandLength)},`;
  if (p.oneSettingServes !== undefined) out += `"oneSettingServes":"${p.oneSettingServes}",`;
  if (p.spreadNeeded !== undefined) out += `"spreadNeeded":${spread(p.spreadNeeded)},`;
  return out.length === 1 ? '{}' : `${out.slice(0, -1)}}`;
}
const start = (verdict: 'analysed' | 'rejected', row: RowRead): string => `{"verdict":"${verdict}","row":${row.row},"line":${row.line},${row.name === undefined ? '' : `"name":${quoted(row.name)},`}"doNotRun":${row.doNotRun}`;
const original = (row: RowRead): string => `,"read":{${row.read}},"kept":{${row.kept}}`;

function analysed(row: RowRead, v: Verdict): string {
  let out = `${start('analysed', row)},"drive":"${v.drive}","drawsIn":"${v.drawsIn}","whorls":[`;
  for (let i = 0; i < v.whorls.length; i++) out += `${i === 0 ? '' : ','}{"name":${text(v.whorls[i]!.name)},"flyerRatio":${number(v.whorls[i]!.flyerRatio)}}`;
  out += '],"bobbins":[';
  for (let i = 0; i < v.bobbins.length; i++) out += `${i === 0 ? '' : ','}{"name":${text(v.bobbins[i]!.name)},"bobbinRatio":${number(v.bobbins[i]!.bobbinRatio)}}`;
  out += '],"pairs":[';
  for (let i = 0; i < v.pairs.length; i++) out += (i === 0 ? '' : ',') + pair(v.pairs[i]!);
  return `${out}],"missing":[${v.missing.map(text).join(',')}],"taken":[${v.taken.map(text).join(',')}]${original(row)}}`;
}
const rejected = (row: RowRead, issues: readonly RowIssue[]): string => `${start('rejected', row)},"errors":${JSON.stringify(issues)}${original(row)}${row.flags.length === 0 ? '' : `,"flags":${JSON.stringify(row.flags)}`}}`;
/** A row that every worker broke down on. */
export const setAside = (row: number, line: number, source: string): string => JSON.stringify({
  verdict: 'rejected', row, line, doNotRun: false,
  errors: [{ code: 'internal-error', detail: 'The analysis broke down on this row again and again, so it was set aside. It is our fault; the row is kept here as it came.', received: source.slice(0, 200), expected: 'a row that can be analysed' }], read: {}, kept: {},
});
export interface Judged { readonly line: string; readonly ok: boolean; readonly verdict?: Verdict }
/** The line of a row. What nobody foresaw sets this one row aside, by name. */
export function judge(row: RowRead, source: string): Judged {
  try {
    if (row.issues.length > 0) return { line: rejected(row, row.issues), ok: false };
    const verdict = verdictOf(row);
    return Array.isArray(verdict) ? { line: rejected(row, verdict as readonly RowIssue[]), ok: false } : { line: analysed(row, verdict as Verdict), ok: true, verdict: verdict as Verdict };
  } catch {
    return { line: setAside(row.row, row.line, source), ok: false };
  }
}
