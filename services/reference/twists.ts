/**
 * What others have printed of how much twist a yarn has: recommended factors, where a table was published, and classes by
 * angle. There is no readable table for woollen, flax or silk, so none stands here.
 */
export const twistUses = ['knitting', 'weft', 'semi-warp', 'warp'] as const;
export type TwistUse = (typeof twistUses)[number];
export const staples = ['short', 'medium', 'long'] as const;
export type Staple = (typeof staples)[number];
export interface TwistRange {
  readonly fibre: 'cotton' | 'wool';
  readonly use: TwistUse | 'weaving' | 'handspun worsted';
  readonly staple?: Staple;
  /** The system that the factor is printed in. */
  readonly system: 'cotton' | 'tex-10cm' | 'worsted';
  readonly low: number; readonly high: number;
  readonly source: 'klein' | 'handbook' | 'teal';
}
const klein = (use: TwistUse, staple: Staple, low: number, high: number): TwistRange => ({ fibre: 'cotton', use, staple, system: 'cotton', low, high, source: 'klein' });
export const twistRanges: readonly TwistRange[] = [
  // Klein, The Technology of Short-staple Spinning, twist multipliers by use and staple.
  klein('knitting', 'medium', 2.5, 3), klein('knitting', 'long', 2.1, 2.6),
  klein('weft', 'short', 3.3, 3.8), klein('weft', 'medium', 3, 3.5), klein('weft', 'long', 2.5, 3),
  klein('semi-warp', 'short', 3.7, 4), klein('semi-warp', 'medium', 3.5, 3.8), klein('semi-warp', 'long', 3, 3.4),
  klein('warp', 'short', 4, 5), klein('warp', 'medium', 3.8, 4.5), klein('warp', 'long', 3.4, 3.9),
  // Notes after a Chinese spinning handbook: 360 ± 36 and 330 ± 36.
  { fibre: 'cotton', use: 'weaving', system: 'tex-10cm', low: 324, high: 396, source: 'handbook' }, { fibre: 'cotton', use: 'knitting', system: 'tex-10cm', low: 294, high: 366, source: 'handbook' },
  // Teal, Worsted handspinning: 3.5 turns an inch at 1, 4.5 at 2, 6.5 at 4, 9 at 8, 11 at 12, over the root of the count.
  { fibre: 'wool', use: 'handspun worsted', system: 'worsted', low: 3.175, high: 3.5, source: 'teal' },
];

export interface AngleClass { readonly set: string; readonly class: string; /** Degrees from the yarn's axis. */ readonly low: number; readonly high: number }
const archaeology = 'by angle, after Emery and Seiler-Baldinger (from memory)';
const spinners = 'by angle, common practice of handspinners';
export const angleClasses: readonly AngleClass[] = [
  { set: archaeology, class: 'loose', low: 0, high: 10 }, { set: archaeology, class: 'medium', low: 10, high: 25 }, { set: archaeology, class: 'tight', low: 25, high: 45 }, { set: archaeology, class: 'very tight', low: 45, high: 90 },
  { set: spinners, class: 'hardly holds together', low: 0, high: 15 }, { set: spinners, class: 'knitting yarn, soft at 20', low: 15, high: 30 }, { set: spinners, class: 'sock yarn', low: 30, high: 35 }, { set: spinners, class: 'firm, for weaving', low: 35, high: 90 },
];
/** Every class that an angle, or an interval of angles, in degrees, touches; classes include both ends. */
export const classesByAngle = (low: number, high: number): { set: string; class: string }[] =>
  angleClasses.filter((c) => c.low <= high && c.high >= low).map((c) => ({ set: c.set, class: c.class }));
