/** Treadles, as every calculation that knows a cadence reads them. */
import type { Assumption, Notes, Warning } from '../foundation/notes.js';
import type { Reader } from '../foundation/read.js';
import { extent, isPoint, type Reading } from '../foundation/reading.js';

export const eachFoot: Assumption = { code: 'each-foot', text: 'Each foot was counted, so two counts are one turn of the wheel.' };
export const oneCountATurn: Assumption = {
  code: 'one-count-a-turn', text: 'One treadle was taken as one turn of the wheel.', effect: 'If each of two feet was counted, it is half as many turns: say that each foot was counted.',
};
export const fastTreadling: Warning = { code: 'treadling-fast', text: 'More than 120 treadles a minute is a sprint. Most spin at 40 to 90.' };

export const countedWays = ['wheel-turns', 'each-foot'] as const;
export const scaled = (r: Reading, by: number): Reading => (isPoint(r)
  ? { value: r.value * by, ...(r.u === undefined ? {} : { u: r.u * by }) }
  : { ...(r.low === undefined ? {} : { low: r.low * by }), ...(r.high === undefined ? {} : { high: r.high * by }) });

type Json = Record<string, unknown>;
const counted = (q: Json, r: Reader): 'wheel-turns' | 'each-foot' | undefined => (q['counted'] === undefined ? undefined : r.choice(q['counted'], '/counted', countedWays));

/** `treadling`, as turns of the wheel in a second. */
export function readTreadling(q: Json, r: Reader, out: Notes): Reading | undefined {
  const way = counted(q, r);
  if (q['treadling'] === undefined) return undefined;
  const t = r.quantity(q['treadling'], '/treadling', 'turning', { moreThan: 0, atMost: 50, says: 'more than 0 and at most 3000 a minute' });
  if (t === undefined) return undefined;
  out.assume(way === 'each-foot' ? eachFoot : oneCountATurn);
  const turns = way === 'each-foot' ? scaled(t, 0.5) : t;
  if (extent(turns).high > 2) out.warn(fastTreadling);
  return turns;
}

/** `wheelTurns`, or `treadles` with how they were counted: turns of the wheel. */
export function readTurns(q: Json, r: Reader, out: Notes): Reading | undefined {
  const limits = { moreThan: 0, atMost: 1e6, says: 'more than 0' };
  if (q['wheelTurns'] !== undefined && q['treadles'] !== undefined) {
    return r.fail('/treadles', { code: 'one-of', detail: 'Give the turns of the wheel or the treadles, not both.', received: 'wheelTurns and treadles', expected: 'one of them' });
  }
  if (q['wheelTurns'] !== undefined) return r.number(q['wheelTurns'], '/wheelTurns', limits);
  if (q['treadles'] === undefined) return undefined;
  const n = r.number(q['treadles'], '/treadles', limits);
  const way = counted(q, r);
  if (n === undefined) return undefined;
  out.assume(way === 'each-foot' ? eachFoot : oneCountATurn);
  return way === 'each-foot' ? scaled(n, 0.5) : n;
}
