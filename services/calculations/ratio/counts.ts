/** Turns counted by hand: what they say, and whether the measures agree with them. */
import type { Notes } from '../../foundation/notes.js';
import type { Reader } from '../../foundation/read.js';
import { extent, isPoint, wire, type Point, type R, type Reading } from '../../foundation/reading.js';
import { derive } from '../../foundation/uncertainty.js';
import type { RIn } from '../../wheels/profile.js';
import type { CountAnswer, DrawIn } from './answer.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import type { Train } from './train.js';

export interface Count { whorl?: string; bobbin?: string; wheelTurns: RIn; flyerTurns?: RIn; bobbinTurns?: RIn }
export interface CountRead { readonly at: string; readonly whorl?: string; readonly bobbin?: string; readonly wheel: Reading; readonly flyer?: Reading; readonly turnsOfBobbin?: Reading }

/** Largest count that is taken: ten million turns. */
const turns = { moreThan: 0, atMost: 1e7, says: 'more than 0' };

export function readCounts(value: unknown, r: Reader, out: Notes): CountRead[] {
  return (r.list(value, '/counts', 48, 'counts') ?? []).flatMap((v, i) => {
    const at = `/counts/${i}`;
    const o = r.object(v, at, ['whorl', 'bobbin', 'wheelTurns', 'flyerTurns', 'bobbinTurns']);
    if (o === undefined) return [];
    const wheel = o['wheelTurns'] === undefined ? r.missing(`${at}/wheelTurns`, 'How many turns of the wheel were counted', 'a number such as 10') : r.number(o['wheelTurns'], `${at}/wheelTurns`, turns);
    const flyer = o['flyerTurns'] === undefined ? undefined : r.number(o['flyerTurns'], `${at}/flyerTurns`, turns);
    const bobbin = o['bobbinTurns'] === undefined ? undefined : r.number(o['bobbinTurns'], `${at}/bobbinTurns`, turns);
    if (o['flyerTurns'] === undefined && o['bobbinTurns'] === undefined) r.missing(`${at}/flyerTurns`, 'The turns of the flyer or of the bobbin', 'flyerTurns or bobbinTurns');
    const [w, b] = [o['whorl'] === undefined ? undefined : r.text(o['whorl'], `${at}/whorl`, 80), o['bobbin'] === undefined ? undefined : r.text(o['bobbin'], `${at}/bobbin`, 80)];
    if (wheel === undefined) return [];
    if (isPoint(wheel) && wheel.u === undefined) out.assume(notes.wheelTurnsExact);
    return [{
      at, wheel, ...(flyer === undefined ? {} : { flyer: asCounted(flyer, out) }), ...(bobbin === undefined ? {} : { turnsOfBobbin: asCounted(bobbin, out) }),
      ...(w === undefined ? {} : { whorl: w }), ...(b === undefined ? {} : { bobbin: b }),
    }];
  });
}

/**
 * A count without its own ±: whole turns are good to half a turn (95 %); part turns were read to a quarter, or to a
 * tenth, at the start and at the stop.
 */
export function asCounted(n: Reading, out: Notes): Reading {
  if (!isPoint(n) || n.u !== undefined) return n;
  if (Number.isInteger(n.value)) { out.assume(notes.countStep('to the nearest whole turn')); return { value: n.value, u: 0.25 }; }
  const quarter = Number.isInteger(n.value * 4);
  out.assume(notes.countStep(quarter ? 'to a quarter turn at start and stop' : 'to a tenth of a turn at start and stop'));
  return { value: n.value, u: f.countUncertainty({ step: quarter ? 0.25 : 0.1, ends: 2 }) };
}

interface Agreement { counted: R; measured?: R; agreement?: 'agrees' | 'slip' | 'recheck'; slip?: R; combined?: R }

/** A counted ratio beside the measured one. |z| ≤ 2: they agree. Lower: slip. Higher: measure again. */
export function agreementOf(counted: Reading, measured: Reading | undefined, out: Notes): Agreement {
  const one: Agreement = { counted: wire('ratio', counted) };
  if (measured === undefined) return one;
  one.measured = wire('ratio', measured);
  const slip = derive((x) => 1 - x[0]! / x[1]!, [counted, measured]);
  let z: number;
  if (isPoint(counted) && isPoint(measured)) {
    const c = f.compare({ measured: measured.value, uMeasured: measured.u ?? 0, counted: counted.value, uCounted: counted.u ?? 0 });
    z = c.z;
    if (Math.abs(z) <= 2 && measured.u && counted.u) one.combined = wire('ratio', { value: c.mean, u: c.u });
  } else {
    const [c, m] = [extent(counted), extent(measured)];
    z = c.high < m.low ? 3 : c.low > m.high ? -3 : 0;
  }
  one.agreement = Number.isNaN(z) || Math.abs(z) <= 2 ? 'agrees' : z > 0 ? 'slip' : 'recheck';
  one.slip = wire('number', slip);
  if (one.agreement === 'slip') out.warn(notes.slipFound);
  if (one.agreement === 'recheck') out.warn(notes.recheck);
  return one;
}

/** Turns of each count, and how they stand beside the wheel's own measures. */
export function reconcile(counts: readonly CountRead[], train: Train | undefined, out: Notes, drawInOf: (rho: Reading) => DrawIn): CountAnswer[] {
  return counts.map((c) => {
    const whorl = train === undefined || train.drive === 'bobbin-lead' ? undefined : pick(train.whorls, c.whorl);
    const bobbin = train === undefined ? undefined : pick(train.bobbins, c.bobbin);
    const answer: CountAnswer = {
      ...(whorl?.name ?? c.whorl) === undefined ? {} : { whorl: (whorl?.name ?? c.whorl)! }, ...(bobbin?.name ?? c.bobbin) === undefined ? {} : { bobbin: (bobbin?.name ?? c.bobbin)! },
    };
    const per = (n: Reading): Reading => derive((x) => x[0]! / x[1]!, [n, c.wheel]);
    const known = (p: Train['whorls'][number] | undefined): Reading | undefined => (p?.ratio === undefined ? undefined : train!.knowns.reading(p.ratio));
    if (c.flyer !== undefined) {
      if (train?.drive === 'bobbin-lead') out.warn(notes.countOnBobbin);
      else if (whorl === undefined && (train?.whorls.length ?? 0) > 1) out.warn(notes.nameTheWhorl);
      const counted = per(c.flyer);
      Object.assign(answer, agreementOf(counted, known(whorl), out));
      longer(counted, c.flyer, out);
    }
    if (c.turnsOfBobbin !== undefined) {
      const a = agreementOf(per(c.turnsOfBobbin), known(bobbin), out);
      answer.bobbinCounted = a.counted;
      if (a.measured !== undefined) Object.assign(answer, { bobbinMeasured: a.measured, bobbinAgreement: a.agreement, bobbinSlip: a.slip });
    }
    if (c.flyer !== undefined && c.turnsOfBobbin !== undefined) {
      const rho = derive((x) => x[0]! / x[1]!, [c.turnsOfBobbin, c.flyer]);
      answer.bobbinPerFlyerTurn = wire('number', rho);
      answer.drawIn = drawInOf(rho);
    }
    return answer;
  });
}
const pick = <T extends { name: string }>(list: readonly T[], name: string | undefined): T | undefined => (name === undefined ? (list.length === 1 ? list[0] : undefined) : list.find((p) => p.name === name));

function longer(counted: Reading, turnsCounted: Reading, out: Notes): void {
  const p = counted as Point;
  if (p.u === undefined || !(p.u / p.value > 0.01) || !isPoint(turnsCounted)) return;
  out.warn(notes.longCount(f.turnsNeeded({ ratio: p.value, step: Number.isInteger(turnsCounted.value) ? 1 : 0.25, ends: 2, target: 0.005 })));
}
