/** What a cause is, and how its lines are written. */
import type { Drive } from '../../wheels/words.js';
import type { Change, Fill, Habit, SignId } from '../../reference/signs.js';

/** One thing that is seen or known: a sign, what was changed last, how full the bobbin is, a habit. */
export type Seen = SignId | `changed/${Change}` | `fill/${Fill}` | `habit/${Habit}`;
/** What the remedy does to tension. `look`: a look that comes before any tension is touched. */
export type Acts = 'loosen' | 'tighten' | 'look' | 'stop' | 'other';
/** A number of the wheel, of the yarn or of a test that speaks for or against a cause. */
export type QuantityId = 'draws-in' | 'pulls-off' | 'bobbin-per-flyer-turn' | 'feed' | 'twist' | 'softest-twist' | 'spread' | 'twist-of-a-lap' | 'flyer-speed' | 'treadling' | 'whorl-size' | 'slips-first';
/** On which side of its window the number stands when this is the cause. */
export type Side = 'above' | 'below' | 'near';
export type OwnCaution = 'by-hand' | 'oil' | 'band-on' | 'melting' | 'throws-parts';
export type CautionId = OwnCaution | 'sore-hands' | 'small-steps' | 'left-hand' | 'antique' | 'unplug';

/** Name; why; what to look at first, touching nothing, in ten seconds; the one change to try, by drive where it differs. */
export type CauseWords = readonly [name: string, why: string, checkFirst: string, tryNext: string | Readonly<Partial<Record<Drive, string>> & { readonly any: string }>];
/** By cause. They weigh more than all the rest, so an embed loads them when there is something to say. */
export type Words = Readonly<Record<string, CauseWords>>;

export interface Cause {
  readonly id: string;
  /** 3: nearly always seen with it; 2: often; 1: at times. */
  readonly seen: ReadonlyMap<Seen, number>;
  readonly acts: Acts;
  /** Only on these drives. */
  readonly drives?: readonly Drive[];
  readonly cautions: readonly CautionId[];
  readonly quantity?: readonly [QuantityId, Side];
  /** The remedy cannot be undone, or is no spinner's work. */
  readonly technicianOnly?: true;
  /** How usual it is beside the others; 1 when left out. */
  readonly usual?: number;
}

export interface More extends Partial<Pick<Cause, 'acts' | 'drives' | 'cautions' | 'quantity' | 'technicianOnly' | 'usual'>> {}
/** `seen` as `will-not-draw-in 3, changed/bobbin 2`. */
export const cause = (id: string, seen: string, more: More = {}): Cause => ({
  id, acts: 'other', cautions: [], ...more,
  seen: new Map(seen.split(', ').map((pair): [Seen, number] => [pair.slice(0, -2) as Seen, Number(pair.at(-1))])),
});

export const dd: readonly Drive[] = ['double-drive'];
export const fl: readonly Drive[] = ['flyer-lead', 'electric'];
export const bl: readonly Drive[] = ['bobbin-lead'];
export const braked: readonly Drive[] = ['flyer-lead', 'bobbin-lead', 'electric'];
export const flyers: readonly Drive[] = ['double-drive', 'flyer-lead', 'bobbin-lead', 'electric'];
export const banded: readonly Drive[] = ['double-drive', 'flyer-lead', 'bobbin-lead', 'spindle'];
