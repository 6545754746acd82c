/**
 * Choosing a set-up. SI in, SI out. The room to a limit is how many times over the limit still allows it: 1 at the limit, less than 1
 * beyond it. Every limit is base × length^slope in the length that is drafted for one turn of the wheel, so the best length
 * is found, not searched for. Derived here.
 */

/** A limit: room = base × length^slope. */
export interface Limited { readonly base: number; readonly slope: -1 | 0 | 1 }
export const roomOf = (limit: Limited, length: number): number => limit.base * length ** limit.slope;

/**
 * The length whose least room is the greatest, among those from `low` to `high`: where the closest limit that rises with the
 * length meets the closest that falls, √(min falling / min rising), or the end that is nearer.
 */
export function bestLength(limits: readonly Limited[], low: number, high: number): number {
  const closest = (slope: -1 | 1): number => Math.min(...limits.filter((l) => l.slope === slope).map((l) => l.base));
  const [rising, falling] = [closest(1), closest(-1)];
  const meet = Number.isFinite(rising) && Number.isFinite(falling) ? Math.sqrt(falling / rising) : Number.isFinite(rising) ? high : low;
  return Math.min(high, Math.max(low, meet));
}

/** Room beyond half as much again is room enough, and does not make one set-up better than another. */
export const roomEnough = 1.5;
/** Less than 0 where `a` is better: its least room is greater; or that alike, the next. */
export function compareRooms(a: readonly number[], b: readonly number[]): number {
  const sorted = (rooms: readonly number[]): number[] => rooms.map((x) => Math.min(x, roomEnough)).toSorted((x, y) => x - y);
  const [x, y] = [sorted(a), sorted(b)];
  for (let i = 0; i < Math.max(x.length, y.length); i++) {
    const d = (y[i] ?? roomEnough) - (x[i] ?? roomEnough);
    if (Math.abs(d) > 1e-9) return d;
  }
  return 0;
}

/** What the wheel must turn out for one turn: twist × length, and on a bobbin-lead wheel the turn that each lap costs. */
export const lengthForTwist = (p: { ratio: number; twist: number; lap: number }): number => p.ratio / (p.twist + p.lap);
export const twistForLength = (p: { ratio: number; length: number; lap: number }): number => p.ratio / p.length - p.lap;

/** An orifice lets through a yarn of half its width, with its joins and slubs. Common practice. */
export const orificeRoom = (p: { orifice: number; diameter: number }): number => p.orifice / (2 * p.diameter);

/** Of its length after washing, the length on the wheel; turns stay: so grist and twist on the wheel are (1 - lost) of the finished. Exact by definition. */
export const onTheWheel = (p: { finished: number; lost: number }): number => p.finished * (1 - p.lost);
