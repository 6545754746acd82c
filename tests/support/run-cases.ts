/** Runs a file of cases as tests, and says what was asked, what only as a formula, and what not, and why. */
import { afterAll, describe, expect, it } from 'vitest';
import { closeApp, runAsk, runFormula, type CaseFile } from './cases.js';

export function runCases(title: string, file: CaseFile): void {
  const met = new Map<string, number>();
  describe(title, () => {
    for (const c of file.cases) {
      if (c.asks === undefined && c.formulas === undefined) continue;
      it(`${c.id} ${c.title}`, async () => {
        let n = 0;
        for (const ask of c.asks ?? []) n += await runAsk(file, c, ask);
        for (const f of c.formulas ?? []) n += await runFormula(file, c, f);
        met.set(c.id, n);
      });
    }
    it('asks as many cases as the file holds, each of them once, and says why of the rest', () => {
      const ids = file.cases.map((c) => c.id);
      expect(new Set(ids).size).toBe(ids.length);
      expect(file.cases.length).toBe(file.count);
      const silent = file.cases.filter((c) => c.notAskable === undefined && !((met.get(c.id) ?? 0) > 0));
      expect(silent.map((c) => c.id)).toEqual([]);
      expect(file.cases.filter((c) => c.notAskable !== undefined && c.notAskable.length < 12).map((c) => c.id)).toEqual([]);
      expect(met.size).toBe(file.cases.filter((c) => c.asks !== undefined || c.formulas !== undefined).length);
    });
    afterAll(async () => {
      await closeApp();
      const asked = file.cases.filter((c) => c.asks !== undefined);
      const formulas = file.cases.filter((c) => c.asks === undefined && c.formulas !== undefined);
      const not = file.cases.filter((c) => c.notAskable !== undefined);
      const expectations = [...met.values()].reduce((a, b) => a + b, 0);
      console.log([
        `${title}: ${file.cases.length} cases, ${asked.length} asked through every door, ${formulas.length} as a formula only, ${expectations} expectations met`,
        ...not.map((c) => `  ${c.asks === undefined && c.formulas === undefined ? 'not asked' : 'in part'}: ${c.id} ${c.title}: ${c.notAskable}`),
      ].join('\n'));
    });
  });
}
