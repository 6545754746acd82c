/** The numbers of a model do not change without its version. A pin, not a truth. */
import { describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { compared, golden, kept } from '../support/golden.js';

describe.each(calculations.map((c) => [c.id, c] as const))('%s', (id, calculation) => {
  it('gives the numbers that its version is pinned to', () => {
    const was = kept(id);
    expect(was, `tests/calculations/${id}/golden.json is missing: npm run golden`).toBeDefined();
    const is = golden(calculation);
    expect(was!.model, 'the version moved: npm run golden').toEqual(is.model);
    expect(compared(was!, is), 'numbers changed without the version').toEqual([]);
    // Every question of today is pinned.
    const pinned = new Set(was!.pins.map((p) => JSON.stringify([p.query, p.body])));
    expect(is.pins.filter((p) => !pinned.has(JSON.stringify([p.query, p.body]))).length, 'questions that are not pinned yet: npm run golden').toBe(0);
    expect(was!.pins.flatMap((p) => Object.keys(p.numbers ?? {})).length).toBeGreaterThan(10);
  });
});
