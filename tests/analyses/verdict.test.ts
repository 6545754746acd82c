/** A row of a table has the numbers that the same wheel has when it is asked alone: both ways of getting them, by every drive and measure. */
import { expect, it } from 'vitest';
import { answer as askBand } from '../../services/calculations/drive-band/answer.js';
import { answer as askRatio } from '../../services/calculations/ratio/answer.js';
import { answer as askTakeUp } from '../../services/calculations/take-up/answer.js';
import { answer as askTension } from '../../services/calculations/tension/answer.js';
import { Analyser, type OneRow } from '../../services/analyses/chunk.js';
import { Intake } from '../../services/analyses/intake.js';
import type { Known } from '../../services/analyses/known.js';
import { wheelOf } from '../../services/analyses/row.js';
import { messyFile } from './messy-file.js';

function judged(text: string): OneRow[] {
  const intake = new Intake();
  const chunks = [...intake.push(text), ...intake.end()];
  const analyser = new Analyser(intake.layout!);
  return chunks.flatMap((chunk) => [...analyser.judged(chunk)]);
}
type Wire = { value?: number; plusMinus?: number; low?: number; high?: number } | undefined;
let compared = 0;
/** 1e-9: an interval's ends are sought by steps when it is asked alone. */
function same(k: Known | undefined, w: Wire, factor = 1): void {
  expect(k === undefined).toBe(w === undefined);
  if (k === undefined || w === undefined) return;
  compared++;
  const close = (a: number | undefined, b: number | undefined): void => { if (a === undefined || b === undefined) expect(a).toBe(b); else expect(Math.abs(a / (b * factor) - 1)).toBeLessThan(1e-9); };
  if (typeof k === 'number') { close(k, w.value); return; }
  if ('value' in k) { close(k.value, w.value); close(k.plusMinus, w.plusMinus); return; }
  close(k.low, w.low);
  close(k.high, w.high);
}

function compare(one: OneRow): void {
  const wheel = wheelOf(one.row);
  const v = one.verdict!;
  const ratio = askRatio({ wheel }).result;
  expect(v.whorls.map((w) => w.name)).toEqual((ratio.whorls ?? []).map((w) => w.name));
  v.whorls.forEach((w, i) => { same(w.flyerRatio, ratio.whorls![i]!.flyerRatio); });
  v.bobbins.forEach((b, i) => { same(b.bobbinRatio, ratio.bobbins[i]!.bobbinRatio); });
  const take = askTakeUp({ wheel, steps: 2 }).result;
  const bands = one.row.nearest === undefined ? undefined : askBand({ wheel, axleDistance: one.row.nearest.text }).result.bands;
  const tension = v.drive === 'double-drive' && v.pairs.length > 0 ? askTension({ wheel }).result.windows : undefined;
  for (const p of take.pairs) {
    const own = v.pairs.find((x) => x.whorl === p.whorl && x.bobbin === p.bobbin)!;
    expect(own.drawIn).toBe(p.drawIn);
    same(own.bobbinPerFlyerTurn, p.bobbinPerFlyerTurn);
    same(own.leastTwist?.empty, p.fill[0]!.leastTwist);
    same(own.leastTwist?.full, p.fill[1]!.leastTwist);
    same(own.mostDrawnInPerWheelTurn?.empty, p.fill[0]!.mostDrawnInPerWheelTurn);
    same(own.mostDrawnInPerWheelTurn?.full, p.fill[1]!.mostDrawnInPerWheelTurn);
    const length = bands?.find((b) => b.whorl === p.whorl && (b.bobbin === undefined || b.bobbin === p.bobbin))?.length;
    if (length !== undefined) same(own.bandLength, length, 1000);
    const window = tension?.find((t) => t.whorl === p.whorl && t.bobbin === p.bobbin);
    if (window !== undefined && own.oneSettingServes !== undefined) { expect(own.oneSettingServes).toBe(window.oneSettingServes); same(own.spreadNeeded, window.spreadNeeded); }
  }
}

it('rows by every drive, measure, ± and gap are as when asked alone', () => {
  const rows = judged(`name,drive,drive wheel (mm),whorl 1 (mm),whorl 1 round (mm),whorl ratio,bobbin groove (mm),band (mm),core (mm),bobbin ends (mm),axle to flyer (mm)
a,double-drive,560,60,,,48,2,22,75,600
b,double-drive,560,60,,,48,,22,75,600
c,double-drive,560 ± 4,60,,,48,2,,,600
d,flyer-lead,500,,188,,,2.5,25,105,520
e,flyer-lead,500,55,,,,,25,,520
f,bobbin-lead,430,,,,62,3,35,120,435
g,double-drive,510,55,,,55,2,21,72,
h,flyer-lead,,,,9:1,,,25,105,
i,double-drive,510,50,,,55,2,21,72,
j,,480-500,60; 45,,,48,2,,,
`);
  expect(rows.map((r) => r.ok)).toEqual(rows.map(() => true));
  expect(rows.map((r) => r.verdict!.drawsIn)).toEqual(['yes', 'yes', 'yes', 'yes', 'yes', 'yes', 'too-close-to-say', 'yes', 'no', 'yes']);
  rows.forEach(compare);
  const messy = messyFile('inches', 5, 300);
  const planted = new Set(messy.planted.map((p) => p.row));
  for (const one of judged(messy.text)) if (one.ok && !planted.has(one.row.row) && one.verdict!.whorls.length > 0) compare(one);
  console.log(`${compared} numbers compared with single calls`);
  expect(compared).toBeGreaterThan(1500);
});
it('what is missing is named, and what can be said without it is said', () => {
  const [one] = judged('whorl (mm),bobbin groove (mm)\n60,48\n');
  expect(one!.verdict!.missing).toEqual(['drive wheel', 'band thickness', 'bobbin core', 'bobbin ends', 'wheel axle to flyer']);
  expect(one!.verdict!.pairs[0]!.drawIn).toBe('bobbin-leads');
  expect(one!.verdict!.whorls).toEqual([]);
});
