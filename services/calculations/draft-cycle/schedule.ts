/** What hand and draft do, make by make, from how somebody spins; and whether there is yarn enough for it. Pure. */
import type { Draft, Feed } from './motion.js';

export const styles = ['short-backward', 'short-forward', 'long-draw'] as const;
export type Style = (typeof styles)[number];
/** SI. `rise`: from rest to the full speed of letting in, and back. */
export interface Habit { readonly style: Style; readonly draftLength: number; readonly draftTime: number; readonly holdTime: number; readonly windOnTime: number; readonly rise: number; readonly left: number; readonly makes: number }
/** Common practice, judged: how the three ways are mostly spun. */
export const usual: Readonly<Record<Style, Omit<Habit, 'style' | 'makes'>>> = {
  'short-backward': { draftLength: 0.075, draftTime: 0.5, holdTime: 0.1, windOnTime: 0.4, rise: 0.1, left: 0.05 },
  'short-forward': { draftLength: 0.05, draftTime: 1, holdTime: 0, windOnTime: 0, rise: 0, left: 0.1 },
  'long-draw': { draftLength: 0.6, draftTime: 1.2, holdTime: 1, windOnTime: 0.85, rise: 0.1, left: 0.15 },
};
export interface Schedule { readonly hand: readonly Feed[]; readonly draft: readonly Draft[]; readonly until: number; readonly length: number; /** Of the draw-in at the start. */ readonly speed: number }

/** Speed of letting in, once the hand is at full speed. */
export const fullFeed = (h: Habit): number => (h.style === 'short-forward' ? h.draftLength / h.draftTime : h.draftLength / (h.windOnTime - h.rise));

export function scheduleOf(h: Habit): Schedule {
  const hand: Feed[] = [];
  const draft: Draft[] = [];
  const u = fullFeed(h);
  if (h.style === 'short-forward') {
    // As much is let in as is drafted, all the time.
    const until = h.makes * h.draftTime;
    return { hand: [{ from: 0, to: until, start: u, end: u }], draft: [{ from: 0, to: until, speed: u }], until, length: h.left, speed: u };
  }
  const period = h.draftTime + h.holdTime + h.windOnTime;
  for (let i = 0; i < h.makes; i++) {
    const t = i * period;
    const on = t + h.draftTime + h.holdTime;
    const off = (i + 1) * period;
    draft.push({ from: t, to: t + h.draftTime, speed: h.draftLength / h.draftTime });
    if (h.rise > 0) hand.push({ from: on, to: on + h.rise, start: 0, end: u });
    if (off - h.rise > on + h.rise) hand.push({ from: on + h.rise, to: off - h.rise, start: u, end: u });
    if (h.rise > 0) hand.push({ from: off - h.rise, to: off, start: u, end: 0 });
  }
  return { hand, draft, until: h.makes * period, length: h.left, speed: 0 };
}

/** The shortest that the yarn between orifice and hand becomes, were it never slack. */
export function shortest(s: Schedule): number {
  const times = [...new Set([0, s.until, ...s.hand.flatMap((p) => [p.from, p.to]), ...s.draft.flatMap((p) => [p.from, p.to])])].filter((t) => t >= 0 && t <= s.until).toSorted((a, b) => a - b);
  const at = (t: number): number => s.length
    + s.draft.reduce((sum, p) => sum + p.speed * Math.max(0, Math.min(t, p.to) - p.from), 0)
    - s.hand.reduce((sum, p) => { const d = Math.max(0, Math.min(t, p.to) - p.from); return sum + p.start * d + 0.5 * ((p.end - p.start) / (p.to - p.from)) * d * d; }, 0);
  return Math.min(...times.map(at));
}
