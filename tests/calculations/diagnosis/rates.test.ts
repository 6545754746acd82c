/** The rows were written before the ranking, so they can say how good it is. The figures are printed by `npm run rates`. */
import { describe, expect, it } from 'vitest';
import { knowledge } from '../../../services/calculations/diagnosis/knowledge.js';
import { signIds } from '../../../services/reference/signs.js';
import { rates, rows, wheelOf, type Known } from '../../support/diagnosis-rates.js';

describe('rows of cause and signs', () => {
  it('are at least 80, hold every cause, and nothing that is unknown', () => {
    expect(rows.length).toBeGreaterThanOrEqual(80);
    expect([...new Set(rows.map((r) => r.cause))].toSorted()).toEqual(knowledge.causes.map((c) => c.id).toSorted());
    for (const r of rows) { expect(r.signs.length, r.row).toBeGreaterThan(1); for (const s of r.signs) expect(signIds, r.row).toContain(s); expect(wheelOf(r), r.row).toBeDefined(); }
    expect(new Set(rows.map((r) => r.row)).size).toBe(rows.length);
  });
  it.each([['wheel known', 1], ['wheel unknown', 1], ['wheel known', 2], ['wheel unknown', 2]] as [Known, number][])('%s, seed %i: the true cause first in four of five, and in the first three in nineteen of twenty', (known, seed) => {
    const { asked, first, firstThree, missed } = rates(known, seed, 2);
    console.log(`${known}, seed ${seed}: first ${(100 * first).toFixed(1)} %, first three ${(100 * firstThree).toFixed(1)} %, of ${asked}`);
    expect(asked).toBe(2 * rows.length);
    expect(first).toBeGreaterThanOrEqual(0.8);
    expect(firstThree, missed.join('; ')).toBeGreaterThanOrEqual(0.95);
  }, 60_000);
});

describe('what is known of causes', () => {
  it('has words for every cause, and no words without one', () => expect(Object.keys(knowledge.words).toSorted()).toEqual(knowledge.causes.map((c) => c.id).toSorted()));
  it('names signs that there are', () => {
    const known = new Set<string>(signIds);
    for (const c of knowledge.causes) for (const [s, n] of c.seen) { if (!s.includes('/')) expect(known, c.id).toContain(s); expect([1, 2, 3], `${c.id} ${s}`).toContain(n); }
  });
  it('uses every sign', () => {
    const used = new Set(knowledge.causes.flatMap((c) => [...c.seen.keys()]));
    expect(signIds.filter((s) => !used.has(s))).toEqual([]);
  });
});
