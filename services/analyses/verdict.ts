/**
 * What can be said of one wheel with what its row holds: ratio, take-up, band and tension, each by the formulas and with the
 * defaults of its own calculation, so that a row has the numbers that the same wheel has when it is asked alone. Measures that
 * are single numbers are computed here directly; where a ± or an interval was given, the calculations themselves are asked.
 * Lengths in mm, twist in turns/m, weights in g.
 */
import * as band from '../calculations/drive-band/formula.js';
import { answer as askBand, type DriveBandResult } from '../calculations/drive-band/answer.js';
import { answer as askRatio, type DrawIn, type RatioResult } from '../calculations/ratio/answer.js';
import * as f from '../calculations/ratio/formula.js';
import { answer as askTakeUp, type TakeUpResult } from '../calculations/take-up/answer.js';
import * as take from '../calculations/take-up/formula.js';
import * as pull from '../calculations/tension/formula.js';
import { ProblemError } from '../foundation/problems.js';
import type { Q, R } from '../foundation/reading.js';
import type { Drive } from '../wheels/words.js';
import type { Known } from './known.js';
import { reasonsOf, wheelOf, type Measured, type RowIssue, type RowRead } from './row.js';

export interface Fills { readonly empty: Known; readonly full: Known }
export interface PairVerdict {
  whorl?: string; bobbin?: string; bobbinPerFlyerTurn?: Known; drawIn?: DrawIn; mostDrawnInPerWheelTurn?: Fills; leastTwist?: Fills; bandLength?: Known; oneSettingServes?: 'yes' | 'no' | 'too-close-to-say'; spreadNeeded?: Known;
}
export interface Verdict {
  drive: Drive; driveTaken: boolean; drawsIn: 'yes' | 'no' | 'too-close-to-say' | 'not-known';
  whorls: { name: string; flyerRatio: Known }[]; bobbins: { name: string; bobbinRatio: Known }[]; pairs: PairVerdict[];
  /** Parts that would say more. */
  missing: string[];
  taken: string[];
}

const thinnest = 0;
const thickest = 0.003;
const mm = 1000;
/** The same of a thin and of a thick band: one number where they do not differ. */
const between = (a: number, b: number): Known => (a === b ? a : a < b ? { low: a, high: b } : { low: b, high: a });

interface Pulley { readonly name: string; readonly pitch?: (t: number) => number; readonly ratio?: number }
function pulleyOf(name: string, m: Measured): Pulley {
  if (m.measure === 'ratio') return { name, ratio: m.si };
  if (m.measure === 'bandTurn') { const turn = f.pitchFromTurn({ turn: m.si }); return { name, pitch: () => turn }; }
  const seat = m.measure === 'circumference' ? f.seatFromCircumference({ circumference: m.si, tape: 0 }) : m.si;
  return { name, pitch: (t) => seat + t };
}

/** What is missing, in the words of a spinner. */
function missingOf(row: RowRead, drive: Drive): string[] {
  const out: string[] = [];
  if (row.driveWheel === undefined) out.push('drive wheel');
  if (drive !== 'bobbin-lead' && !row.whorls.some((w) => w?.groove !== undefined)) out.push('whorl');
  if ((drive === 'double-drive' || drive === 'bobbin-lead') && !row.bobbins.some((b) => b?.groove !== undefined)) out.push('bobbin groove');
  if (row.band === undefined) out.push('band thickness');
  if (!row.bobbins.some((b) => b?.core !== undefined)) out.push('bobbin core');
  if (!row.bobbins.some((b) => b?.end !== undefined || b?.full !== undefined)) out.push('bobbin ends');
  if (row.nearest === undefined) out.push('wheel axle to flyer');
  return out;
}

const core0 = 0.025;
const end0 = 0.075;
const serves = (core: number, full: number, led: boolean): NonNullable<PairVerdict['oneSettingServes']> => {
  const at = (factor: number, spindle: number, drag: number): number => {
    const most = pull.torqueBorne({ pull: 0.00980665 * 60, factor, diameter: core, spindle });
    const least = pull.torqueToDrawIn({ pull: 0.00980665 * 5, factor, diameter: full, spindle });
    return led && most <= drag ? 0.999 : most / least;
  };
  const [low, high] = [at(3, 0.001, 0.012), at(1.4, 0.0001, 0.001)];
  return low > 1 ? 'yes' : high < 1 ? 'no' : 'too-close-to-say';
};
const leads = (a: number, b: number): DrawIn => {
  const [low, high] = a < b ? [a, b] : [b, a];
  const near = (x: number): boolean => Math.abs(x - 1) < 0.02 - 1e-12;
  if ((low <= 1 && high >= 1) || near(low) || near(high)) return 'too-close-to-say';
  return low > 1 ? 'bobbin-leads' : 'flyer-leads';
};

const modeOf = (row: RowRead): Drive | undefined => (row.profile?.['modes'] as { drive?: Drive }[] | undefined)?.[0]?.drive;
export const driveOf = (row: RowRead): Drive => modeOf(row) ?? row.drive ?? (row.bobbins.some((b) => b?.groove !== undefined) ? 'double-drive' : 'flyer-lead');

/** The verdict of a row that could be read, or why it cannot be given. */
export function verdictOf(row: RowRead): Verdict | readonly RowIssue[] {
  const drive = driveOf(row);
  const base: Verdict = { drive, driveTaken: row.drive === undefined, drawsIn: 'not-known', whorls: [], bobbins: [], pairs: [], missing: row.profile === undefined ? missingOf(row, drive) : [], taken: [] };
  for (const b of row.bobbins) if (b !== undefined && b.core !== undefined && (b.full ?? b.end) !== undefined && (b.full?.si ?? b.end!.si - 0.008) <= b.core.si) {
    return [{ column: (b.full ?? b.end!).column, code: 'impossible-geometry', detail: 'The full bobbin is no larger than its core.', received: `${b.core.text} and ${(b.full ?? b.end!).text}`, expected: 'a core smaller than the full bobbin' }];
  }
  if (!row.exact || drive === 'spindle' || drive === 'electric') return asked(row, base);
  const t: readonly [number, number] = row.band === undefined ? [thinnest, thickest] : [row.band.si, row.band.si];
  const both = (of: (t: number) => number, factor = 1): Known => { const a = of(t[0]) * factor; return t[0] === t[1] ? a : between(a, of(t[1]) * factor); };
  const wheel = row.driveWheel === undefined ? undefined : pulleyOf('wheel', row.driveWheel).pitch;
  const ratioOf = (p: Pulley): ((t: number) => number) | undefined => (p.ratio !== undefined ? () => p.ratio! : wheel === undefined || p.pitch === undefined ? undefined : (x) => wheel(x) / p.pitch!(x));
  const whorls = drive === 'bobbin-lead' ? [] : row.whorls.flatMap((w, i) => (w?.groove === undefined ? [] : [pulleyOf(w.name ?? `whorl ${i + 1}`, w.groove)]));
  const list = row.bobbins.flatMap((b, i) => (b === undefined ? [] : [{ b, name: b.name ?? `bobbin ${i + 1}` }]));
  const packages = list.length > 0 || drive !== 'flyer-lead' ? list : [{ b: {}, name: 'bobbin 1' }];
  for (const w of whorls) { const i = ratioOf(w); if (i !== undefined) base.whorls.push({ name: w.name, flyerRatio: both(i) }); }
  const distance = row.nearest?.si;
  const length = (of: (d: number, x: number) => number): Known | undefined => (distance === undefined || wheel === undefined ? undefined : both((x) => of(distance, x), mm));
  for (const { b, name } of packages) {
    const core = b.core?.si ?? core0;
    const full = b.full?.si ?? (b.end?.si ?? end0) - 0.008;
    const fills = (of: (d: number, x: number) => number, factor: number): Fills => ({ empty: both((x) => of(core, x), factor), full: both((x) => of(full, x), factor) });
    const tension = { oneSettingServes: serves(core, full, drive === 'bobbin-lead'), spreadNeeded: { low: pull.spreadNeeded({ core, full, factor: 1.4 }), high: pull.spreadNeeded({ core, full, factor: 3 }) } } as const;
    if (drive === 'flyer-lead') {
      for (const w of whorls) {
        const i = ratioOf(w);
        const one: PairVerdict = { whorl: w.name, bobbin: name, ...(i === undefined ? {} : { mostDrawnInPerWheelTurn: fills((diameter, x) => take.mostLed({ diameter, ratio: i(x) }), mm) }), leastTwist: fills((diameter) => take.leastTwistFlyerLead({ diameter }), 1), ...tension };
        const l = w.pitch === undefined ? undefined : length((c, x) => open(wheel!(x), w.pitch!(x), c));
        if (l !== undefined && finite(l)) one.bandLength = l;
        base.pairs.push(one);
      }
      continue;
    }
    if (b.groove === undefined) continue;
    const p = pulleyOf(name, b.groove);
    const j = ratioOf(p);
    if (j !== undefined) base.bobbins.push({ name, bobbinRatio: both(j) });
    if (drive === 'bobbin-lead') {
      const one: PairVerdict = { bobbin: name, ...(j === undefined ? {} : { mostDrawnInPerWheelTurn: fills((diameter, x) => take.mostLed({ diameter, ratio: j(x) }), mm) }), ...tension };
      const l = p.pitch === undefined ? undefined : length((c, x) => open(wheel!(x), p.pitch!(x), c));
      if (l !== undefined && finite(l)) one.bandLength = l;
      base.pairs.push(one);
      continue;
    }
    for (const w of whorls) {
      const i = ratioOf(w);
      const rho = w.pitch !== undefined && p.pitch !== undefined ? (x: number): number => w.pitch!(x) / p.pitch!(x) : i !== undefined && j !== undefined ? (x: number): number => j(x) / i(x) : undefined;
      if (rho === undefined) continue;
      const thin = rho(t[0]);
      const drawIn = leads(thin, t[0] === t[1] ? thin : rho(t[1]));
      const one: PairVerdict = { whorl: w.name, bobbin: name, bobbinPerFlyerTurn: both(rho), drawIn };
      if (drawIn !== 'too-close-to-say') {
        if (i !== undefined && j !== undefined) one.mostDrawnInPerWheelTurn = fills((diameter, x) => take.mostDouble({ diameter, flyerRatio: i(x), bobbinRatio: j(x) }), mm);
        one.leastTwist = fills((diameter, x) => take.leastTwistDouble({ diameter, bobbinPerFlyerTurn: rho(x) }), 1);
      }
      const l = w.pitch === undefined || p.pitch === undefined ? undefined : length((c, x) => doubled(wheel!(x), w.pitch!(x), p.pitch!(x), c));
      if (l !== undefined && finite(l)) one.bandLength = l;
      one.oneSettingServes = tension.oneSettingServes;
      one.spreadNeeded = tension.spreadNeeded;
      base.pairs.push(one);
    }
  }
  return settle(base, row);
}
// Where wheel and pulley would touch there is no band.
const open = (wheel: number, pulley: number, distance: number): number => (distance <= (wheel + pulley) / 2 ? Number.NaN : band.openLength({ wheel, pulley, distance }));
const doubled = (wheel: number, whorl: number, bobbin: number, distance: number): number => (distance <= (wheel + Math.max(whorl, bobbin)) / 2 ? Number.NaN : band.doubledLength({ wheel, whorl, bobbin, distance, whorlAside: [0, 0], bobbinAside: [0, 0] }));
const finite = (k: Known): boolean => typeof k === 'number' ? Number.isFinite(k) : 'value' in k ? Number.isFinite(k.value) : Number.isFinite(k.low ?? 0) && Number.isFinite(k.high ?? 0);

function settle(v: Verdict, row: RowRead): Verdict {
  if (v.drive === 'flyer-lead' || v.drive === 'bobbin-lead') v.drawsIn = v.pairs.length > 0 ? 'yes' : 'not-known';
  else if (v.drive === 'double-drive' && v.pairs.length > 0) v.drawsIn = v.pairs.some((p) => p.drawIn === 'bobbin-leads') ? 'yes' : v.pairs.every((p) => p.drawIn === 'flyer-leads') ? 'no' : 'too-close-to-say';
  if (v.driveTaken) v.taken.push('drive');
  if (row.band === undefined) v.taken.push('band from 0 to 3 mm');
  if (v.pairs.length > 0) {
    if (!row.bobbins.some((b) => b?.core !== undefined)) v.taken.push('bobbin core 25 mm');
    if (!row.bobbins.some((b) => b?.end !== undefined || b?.full !== undefined)) v.taken.push('bobbin ends 75 mm');
  }
  return v;
}

const known = (q: Q | R | undefined): Known | undefined => (q === undefined ? undefined : 'value' in q ? (q.plusMinus === undefined ? q.value : { value: q.value, plusMinus: q.plusMinus }) : { ...(q.low === undefined ? {} : { low: q.low }), ...(q.high === undefined ? {} : { high: q.high }) });

/** Asks the calculations themselves. What a part lacks leaves its share out; what is wrong refuses the row. */
function asked(row: RowRead, base: Verdict): Verdict | readonly RowIssue[] {
  const wheel = wheelOf(row);
  const issues: RowIssue[] = [];
  const ask = <T>(answer: (q: unknown) => { result: T }, more: object = {}): T | undefined => {
    try {
      return answer({ wheel, ...more }).result;
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      for (const issue of reasonsOf(error)) if (issue.code !== 'missing-field' && issue.code !== 'not-known-part' && !issues.some((i) => i.detail === issue.detail)) issues.push(issue);
      return undefined;
    }
  };
  const ratio: RatioResult | undefined = ask(askRatio);
  const taken: TakeUpResult | undefined = ask(askTakeUp, { steps: 2 });
  if (issues.length > 0) return issues;
  for (const w of ratio?.whorls ?? []) base.whorls.push({ name: w.name, flyerRatio: known(w.flyerRatio)! });
  for (const b of ratio?.bobbins ?? []) base.bobbins.push({ name: b.name, bobbinRatio: known(b.bobbinRatio)! });
  const bands: DriveBandResult | undefined = row.nearest === undefined || base.drive === 'electric' ? undefined : ask(askBand, { axleDistance: row.nearest.text });
  if (taken === undefined) for (const p of ratio?.pairs ?? []) base.pairs.push({ whorl: p.whorl, bobbin: p.bobbin, bobbinPerFlyerTurn: known(p.bobbinPerFlyerTurn)!, drawIn: p.drawIn });
  for (const p of taken?.pairs ?? []) {
    const [empty, full] = [p.fill[0]!, p.fill.at(-1)!];
    const fills = (of: (x: typeof empty) => Q | undefined): Fills | undefined => { const [a, b] = [known(of(empty)), known(of(full))]; return a === undefined || b === undefined ? undefined : { empty: a, full: b }; };
    const [most, least] = [fills((x) => x.mostDrawnInPerWheelTurn), fills((x) => x.leastTwist)];
    const length = known(bands?.bands.find((b) => b.whorl === p.whorl && (b.bobbin === undefined || b.bobbin === p.bobbin))?.length);
    const metres = (k: Known): Known => (typeof k === 'number' ? k * mm : Object.fromEntries(Object.entries(k).map(([key, x]) => [key, (x as number) * mm])) as Known);
    base.pairs.push({ ...(p.whorl === undefined ? {} : { whorl: p.whorl }), bobbin: p.bobbin, ...(p.bobbinPerFlyerTurn === undefined ? {} : { bobbinPerFlyerTurn: known(p.bobbinPerFlyerTurn)! }), ...(p.drawIn === undefined ? {} : { drawIn: p.drawIn }), ...(most === undefined ? {} : { mostDrawnInPerWheelTurn: most }), ...(least === undefined ? {} : { leastTwist: least }), ...(length === undefined ? {} : { bandLength: metres(length) }) });
  }
  return settle(base, row);
}
