/** The audits of a run: turns, length and energy, each found in two ways. Where they part, there is no result. Pure. */
import type { Motion, Stretch } from './motion.js';
import type { Tally } from './tally.js';

/** What is missing from each balance: turns; m; J. And how much may be. */
export interface Audits { readonly turns: number; readonly length: number; readonly energy: number; readonly failed: readonly ('turns' | 'length' | 'energy')[] }
/** Of the whole that went through, or of 1 where less did. */
export const allowed = { turns: 1e-9, length: 1e-10, energy: 1e-9 } as const;

const part = (x: number, whole: number): number => Math.abs(x) / Math.max(1, Math.abs(whole));
export function audits(off: { turns: number; length: number; energy: number }, whole: { turns: number; length: number; energy: number }, by: Readonly<Record<'turns' | 'length' | 'energy', number>> = allowed): Audits {
  const failed = (['turns', 'length', 'energy'] as const).filter((k) => !(part(off[k], whole[k]) <= by[k]));
  return { ...off, failed };
}

/** Turns in against stored and wound; drafted against left and wound; energy of the package against drive, hand and snatches. */
export function auditOf(tally: Tally, m: Motion, z: Stretch): Audits {
  const drafted = m.draft.reduce((sum, d) => sum + Math.max(0, Math.min(d.to, m.until) - Math.max(0, d.from)) * d.speed, 0);
  const free = z.x + z.s;
  const turnsIn = tally.turnsIn - (m.perLap ? tally.woundByRule / (2 * Math.PI * m.radius) : 0);
  const kinetic = 0.5 * m.mass * (z.v ** 2 - tally.first.speed ** 2);
  return audits(
    { turns: m.start.turns + turnsIn - tally.twist * free - tally.woundTurns, length: m.start.length + drafted - free - tally.woundByRule, energy: tally.drive - tally.yarn - tally.lost - kinetic },
    { turns: tally.turnsIn, length: drafted, energy: Math.max(tally.drive, tally.yarn) },
  );
}
