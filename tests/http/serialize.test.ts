import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { serialize, serializeReply, unfit } from '../../services/http/serialize.js';

describe('a reply as bytes', () => {
  it.each(calculations.map((c) => [c.id, c] as const))('%s: the same as JSON.stringify gives, however often', (_id, calculation) => {
    for (const question of [calculation.contract.example, calculation.fields.toQuestion(Object.fromEntries([...new URLSearchParams(calculation.contract.exampleQuery)].map(([name, value]) => [name, [value]]))).question]) {
      const reply = calculation.answer(question);
      for (let i = 0; i < 3; i++) expect(serializeReply(reply)).toBe(JSON.stringify(reply));
    }
  });
  it('any finite reply passes, whatever words it holds', () => {
    fc.assert(fc.property(fc.jsonValue().filter((v) => unfit(v) === undefined), (value) => { expect(serialize({ value, text: 'null' })).toBe(JSON.stringify({ value, text: 'null' })); }));
  });
  it.each([[Number.NaN], [Infinity], [-Infinity], [null], [[1, undefined]], [1n], [() => 1]])('%s anywhere in it is refused, never written as null', (bad) => {
    fc.assert(fc.property(fc.array(fc.constantFrom('a', 'b', 'c'), { maxLength: 4 }), fc.boolean(), (path, inList) => {
      const value = path.reduce<unknown>((inner, key) => (inList ? [1, { [key]: inner }] : { [key]: inner }), bad);
      expect(typeof bad === 'function' ? unfit({ value }) : () => serialize({ value, more: 'text' })).toSatisfy((f: unknown) => {
        if (typeof f !== 'function') return f !== undefined;
        try { (f as () => void)(); return false; } catch { return true; }
      });
    }), { numRuns: 20 });
  });
});
