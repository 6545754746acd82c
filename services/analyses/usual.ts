/** What wheels are at all: middle (m, or 1) and spread of the logarithm. Common practice. */
export const usual = { driveWheel: [0.52, 0.3], whorl: [0.055, 0.4], bobbin: [0.05, 0.35], wheelToWhorl: [9.5, 0.4], whorlToBobbin: [1.25, 0.16], band: [0.002, 0.4], core: [0.025, 0.3], end: [0.085, 0.28], endToCore: [3.3, 0.3] } as const;
export type Usual = keyof typeof usual;
/** How far a size lies from what is usual, in spreads. */
export const unusual = (what: Usual, x: number): number => Math.abs(Math.log(x / usual[what][0]) / usual[what][1]);

export const slips = ['inches-for-millimetres', 'millimetres-for-inches', 'circumference-for-diameter', 'diameter-for-circumference', 'decimal-slip', 'swapped-whorl-and-bobbin', 'rim-for-groove'] as const;
export type Slip = (typeof slips)[number];
export interface Flag {
  readonly code: Slip | 'duplicate';
  /** Such as drive wheel, whorl 1, bobbin 2, core. */
  readonly part?: string;
  /** Sizes across as read and as they probably are, mm. */
  readonly read?: number;
  readonly probably?: number;
  /** How many times as likely. */
  readonly times?: number;
  /** The row that this one repeats. */
  readonly row?: number;
}
export const rounded = (metres: number): number => Number((metres * 1000).toPrecision(4));

const turns: readonly (readonly [Slip, number])[] = [['millimetres-for-inches', 1 / 25.4], ['inches-for-millimetres', 25.4], ['decimal-slip', 0.1], ['decimal-slip', 10], ['circumference-for-diameter', 1 / Math.PI]];
/** Of a size that no wheel can have: the slip that makes it a usual one, where one does. */
export function slipOfImpossible(what: Usual, part: string, x: number): Flag | undefined {
  const [best] = turns.map(([code, by]) => ({ code, to: x * by, off: unusual(what, x * by) })).toSorted((a, b) => a.off - b.off);
  return best!.off < 2.5 ? { code: best!.code, part, read: rounded(x), probably: rounded(best!.to) } : undefined;
}
