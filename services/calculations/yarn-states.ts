/**
 * Three states of a yarn, and what changes between them: fresh from the wheel it is stretched; at rest, off the bobbin, it is
 * shorter; washed and dried, shorter again, and lighter by what was washed out. Turns stay in it, in less length.
 * Shares of length and weight are common practice; whoever has measured her own gives them.
 */
import type { Assumption, Notes } from '../foundation/notes.js';
import type { Reader } from '../foundation/read.js';
import type { Reading } from '../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../foundation/uncertainty.js';
import { yarnStates, type YarnState } from '../reference/states.js';

export { yarnStates, type YarnState };
const aliases: Readonly<Record<string, YarnState>> = { fresh: 'wheel-fresh', 'on-the-bobbin': 'wheel-fresh', relaxed: 'rested', finished: 'washed', 'wet-finished': 'washed', set: 'washed' };

const restingTaken: Assumption = { code: 'resting-taken', text: 'How much shorter the yarn is at rest than on the wheel was not said.', range: '0 to 10 % of the length; lofty yarn more', effect: 'The answer covers that. Measure a skein on the winder and again at rest.' };
const washingTaken: Assumption = { code: 'washing-taken', text: 'How much length washing takes was not said.', range: '1 to 28 %; usually 5 % for worsted, 12 % for woollen, 15 % for fine crimpy wool', effect: 'The answer covers all of it. Wash one measured skein of yours.' };
const noMassLost: Assumption = { code: 'no-weight-lost', text: 'No weight was taken to be washed out.', effect: 'Yarn spun in the grease or with oil loses weight in washing, and is finer by that share.' };
export const turnsStay: Assumption = { code: 'turns-stay', text: 'Turns were taken to stay in the yarn while its length changes.', effect: 'Some turns come out as yarn relaxes; its pull to twist back on itself fades sooner than the turns do.' };

export interface States {
  readonly measured: YarnState;
  /** Length in each state, for one of it as measured; and weight likewise. */
  readonly length: Readonly<Record<YarnState, Expr>>;
  readonly mass: Readonly<Record<YarnState, Expr>>;
}
export const stateNames = ['state', 'restingLost', 'lengthLost', 'massLost'] as const;

/** Undefined unless the question names the state in which the yarn was measured. Of a `length` no weight is asked. */
export function readStates(q: Readonly<Record<string, unknown>>, r: Reader, k: Knowns, out: Notes, what: 'grist' | 'length' = 'grist'): States | undefined {
  if (q['state'] === undefined) {
    for (const key of ['restingLost', 'massLost']) if (q[key] !== undefined) r.missing('/state', 'The state in which the yarn was measured', yarnStates.join(', '));
    return undefined;
  }
  const measured = r.choice(q['state'], '/state', yarnStates, aliases);
  const share = (key: string, taken: Reading, note: Assumption): Expr | undefined => {
    if (q[key] === undefined) { out.assume(note); return k.assumed(taken); }
    // Yarn may also grow a little.
    const v = r.quantity(q[key], `/${key}`, 'share', { atLeast: -0.2, atMost: 0.9, says: 'from -20 to 90 %' });
    return v === undefined ? undefined : k.input(v);
  };
  const [rest, wash, mass] = [share('restingLost', { low: 0, high: 0.1 }, restingTaken), share('lengthLost', { low: 0.01, high: 0.28 }, washingTaken), what === 'length' ? k.assumed({ value: 0 }) : share('massLost', { value: 0 }, noMassLost)];
  if (measured === undefined || rest === undefined || wash === undefined || mass === undefined) return undefined;
  const one = k.assumed({ value: 1 });
  const from: Record<YarnState, Expr> = { 'wheel-fresh': one, rested: expr((a) => 1 - a, rest), washed: expr((a, b) => (1 - a) * (1 - b), rest, wash) };
  const heavy: Record<YarnState, Expr> = { 'wheel-fresh': one, rested: one, washed: expr((c) => 1 - c, mass) };
  const each = (of: Record<YarnState, Expr>): Record<YarnState, Expr> => Object.fromEntries(yarnStates.map((s) => [s, s === measured ? one : expr((a, b) => a / b, of[s], of[measured])])) as Record<YarnState, Expr>;
  return { measured, length: each(from), mass: each(heavy) };
}
