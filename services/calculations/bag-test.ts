/** The bag test, as every calculation reads it: what the wheel lifts and what pulls yarn off. */
import type { Assumption, Caution, Notes } from '../foundation/notes.js';
import type { Reader } from '../foundation/read.js';
import { extent, type Reading } from '../foundation/reading.js';
import type { Expr, Knowns } from '../foundation/uncertainty.js';
import type { QIn } from '../wheels/profile.js';

export interface BagTest { lifts: QIn; pullsOff: QIn; woundDiameter?: QIn }
export interface BagRead { readonly lifts: Expr; readonly off: Expr; /** Yarn on the bobbin at the test, across; absent: the empty core. */ readonly at?: Expr }

export const bagAtCore: Assumption = { code: 'bag-test-at-core', text: 'The bag test was taken as made on the empty bobbin.', effect: 'Pull falls as the bobbin fills: in proportion to one over the diameter.' };
export const bagByHand: Caution = { code: 'bag-test-by-hand', text: 'For the bag test turn the wheel slowly by hand, foot off the treadle. Use a small soft bag, and never wind the leader round a finger.' };

export function readBagTest(value: unknown, r: Reader, k: Knowns, out: Notes): BagRead | undefined {
  if (value === undefined) return undefined;
  const o = r.object(value, '/bagTest', ['lifts', 'pullsOff', 'woundDiameter']);
  if (o === undefined) return undefined;
  const get = (key: string, what: string): Reading | undefined => (o[key] === undefined ? r.missing(`/bagTest/${key}`, what, 'such as 15 g') : r.quantity(o[key], `/bagTest/${key}`, 'pull', { moreThan: 0, atMost: 1000 }));
  const [lifts, off] = [get('lifts', 'The heaviest bag that it lifts'), get('pullsOff', 'The lightest bag that pulls yarn off')];
  const at = o['woundDiameter'] === undefined ? undefined : r.quantity(o['woundDiameter'], '/bagTest/woundDiameter', 'part', { moreThan: 1e-3, atMost: 1 });
  out.caution(bagByHand);
  if (at === undefined) out.assume(bagAtCore);
  if (lifts === undefined || off === undefined) return undefined;
  if (extent(lifts).low > extent(off).high) return r.fail('/bagTest/pullsOff', { code: 'impossible-geometry', detail: 'What pulls yarn off is never lighter than what the wheel lifts: friction is between them.', received: 'pullsOff below lifts', expected: 'pullsOff at least as heavy as lifts' });
  return { lifts: k.input(lifts), off: k.input(off), ...(at === undefined ? {} : { at: k.input(at) }) };
}
