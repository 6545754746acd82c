/** What to change at the wheel, by proportion from what was spun. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import { middle, wire, type Q, type R } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export interface Change {
  /** The same fibre, drawn out to so many times the length. */
  draftFactor?: R;
  /** The fibre let into the same length of draw. */
  fibreFactor?: R;
  twist?: Q; turnsFactor?: R; treadles?: R; wholeTreadles?: { treadles: R; twist: Q }; draftLength?: Q; ratio?: R;
  whorl?: { ratio: R; twist: Q; treadles?: R };
  asStrands?: { count: R; grist: Q };
}
export interface Spun { readonly ratio?: Expr; readonly others: readonly Expr[]; readonly treadles?: Expr; readonly draftLength?: Expr }
/** The sample as it is, and as it should be; `gristFactor` is the grist as it is over what it should be. */
export interface Course { readonly grist?: Expr; readonly twist?: Expr; readonly wantedGrist?: Expr; readonly wantedTwist?: Expr; readonly gristFactor?: Expr }

export function change({ grist, twist, wantedGrist, wantedTwist, gristFactor }: Course, spun: Spun, k: Knowns, out: Notes, units: UnitChoice): Change | undefined {
  const result: Change = {};
  const put = (e: Expr, kind: 'number' | 'ratio'): R => wire(kind, k.reading(e));
  if (gristFactor !== undefined) {
    result.draftFactor = put(gristFactor, 'number');
    result.fibreFactor = put(expr((x) => 1 / x, gristFactor), 'number');
    const times = middle(k.reading(gristFactor));
    const count = Math.round(1 / times);
    if (count >= 2 && Math.abs(count * times - 1) <= 0.15 && grist !== undefined) {
      out.assume(notes.strandsWithoutTakeUp);
      result.asStrands = { count: wire('number', { value: count }), grist: wire('grist', k.reading(expr((g) => g * count, grist)), units) };
    }
  }
  if (twist !== undefined) {
    const sameAngle = (): Expr | undefined => {
      if (gristFactor === undefined) return undefined;
      out.assume(notes.sameAngle);
      return grist !== undefined && wantedGrist !== undefined ? expr((t, g, w) => f.twistForSameAngle({ twist: t, grist: g, wantedGrist: w }), twist, grist, wantedGrist) : expr((t, x) => t * Math.sqrt(x), twist, gristFactor);
    };
    const aim = wantedTwist ?? sameAngle();
    if (aim !== undefined) turns(result, twist, aim, spun, k, units, put);
  }
  if (Object.keys(result).length === 0) return undefined;
  out.assume(notes.byProportion);
  return result;
}

/** Any one of treadles, length of the draw and ratio brings the twist there. */
function turns(result: Change, twist: Expr, aim: Expr, { ratio, others, treadles, draftLength }: Spun, k: Knowns, units: UnitChoice, put: (e: Expr, kind: 'number' | 'ratio') => R): void {
  const times = expr((a, t) => a / t, aim, twist);
  const asTwist = (e: Expr): Q => wire('twist', k.reading(e), units);
  result.twist = asTwist(aim);
  result.turnsFactor = put(times, 'number');
  if (treadles !== undefined) {
    const wanted = expr((n, x) => n * x, treadles, times);
    result.treadles = put(wanted, 'number');
    const whole = Math.max(1, Math.round(middle(k.reading(wanted))));
    result.wholeTreadles = { treadles: wire('number', { value: whole }), twist: asTwist(expr((t, n) => (t * whole) / n, twist, treadles)) };
  }
  if (draftLength !== undefined) result.draftLength = wire('part', k.reading(expr((l, x) => l / x, draftLength, times)), units);
  if (ratio === undefined) return;
  const wanted = expr((i, x) => i * x, ratio, times);
  result.ratio = put(wanted, 'ratio');
  const distance = (other: Expr): number => Math.abs(Math.log(middle(k.reading(other)) / middle(k.reading(wanted))));
  const nearest = others.toSorted((a, b) => distance(a) - distance(b))[0];
  // Another whorl helps only where it comes nearer than the one that is on.
  if (nearest === undefined || distance(nearest) >= distance(ratio)) return;
  result.whorl = {
    ratio: put(nearest, 'ratio'), twist: asTwist(expr((t, i, j) => (t * j) / i, twist, ratio, nearest)),
    ...(treadles === undefined ? {} : { treadles: put(expr((n, x, i, j) => (n * x * i) / j, treadles, times, ratio, nearest), 'number') }),
  };
}
