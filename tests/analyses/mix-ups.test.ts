/** Planted mix-ups are found, clean rows are let be: printed for two seeds and three dialects. Wanted: nine of ten found, one clean row of a hundred flagged at most. */
import { describe, expect, it } from 'vitest';
import { Analyser } from '../../services/analyses/chunk.js';
import { Features, Fleet, type Flag } from '../../services/analyses/fleet.js';
import { Intake } from '../../services/analyses/intake.js';
import { emptyTally, tallyRow } from '../../services/analyses/tally.js';
import { dialects, messyFile } from './messy-file.js';

function analysed(text: string): { flags: Map<number, Flag[]>; ok: Set<number>; rows: number } {
  const intake = new Intake();
  const chunks = [...intake.push(text), ...intake.end()];
  const analyser = new Analyser(intake.layout!);
  const fleet = new Fleet(intake.layout);
  const ok = new Set<number>();
  const flags = new Map<number, Flag[]>();
  const kept = chunks.map((chunk) => {
    const tally = emptyTally();
    const features = new Features(chunk.firstRow);
    for (const one of analyser.judged(chunk)) {
      tallyRow(tally, one);
      features.add(one);
      if (one.ok) ok.add(one.row.row);
      const { flags: own } = JSON.parse(one.line) as { flags?: Flag[] };
      if (own !== undefined) flags.set(one.row.row, own);
    }
    const packed = features.packed();
    fleet.learn(tally, Features.of(packed, chunk.rows), chunk.firstRow);
    return { chunk, packed };
  });
  fleet.learnt();
  for (const { chunk, packed } of kept) for (const [row, own] of fleet.flags(chunk.firstRow, Features.of(packed, chunk.rows))) flags.set(row, [...(flags.get(row) ?? []), ...own]);
  return { flags, ok, rows: fleet.tally.rows };
}

describe('a messy file', () => {
  for (const dialect of dialects) for (const seed of [11, 2027]) {
    it(`${dialect}, seed ${seed}: every row accounted for, mix-ups found, clean rows let be`, () => {
      const messy = messyFile(dialect, seed, 5000);
      const { flags, ok, rows } = analysed(messy.text);
      expect(rows).toBe(messy.rows);
      const slips = (row: number): Flag[] => (flags.get(row) ?? []).filter((f) => f.code !== 'duplicate');
      const said: string[] = [];
      const planted = new Set(messy.planted.map((p) => p.row));
      let [all, hit] = [0, 0];
      for (const code of new Set(messy.planted.map((p) => p.code))) {
        const own = messy.planted.filter((p) => p.code === code);
        const found = own.filter((p) => slips(p.row).length > 0).length;
        const named = own.filter((p) => slips(p.row).some((f) => f.code === code)).length;
        said.push(`${code} ${found} of ${own.length} (${named} by name)`);
        all += own.length;
        hit += found;
      }
      const clean = Array.from({ length: rows }, (_, i) => i + 1).filter((row) => !planted.has(row) && !messy.refused.has(row));
      const wrong = clean.filter((row) => slips(row).length > 0);
      console.log(`${dialect}, seed ${seed}: ${hit} of ${all} mix-ups found: ${said.join(', ')}; false flags ${wrong.length} of ${clean.length} clean rows`);
      expect(all).toBeGreaterThan(300);
      expect(hit / all).toBeGreaterThanOrEqual(0.9);
      expect(wrong.length / clean.length).toBeLessThanOrEqual(0.01);
      expect([...messy.refused].filter((row) => ok.has(row))).toEqual([]);
      expect([...messy.repeats].every((row) => flags.get(row)?.some((f) => f.code === 'duplicate' && f.row! < row))).toBe(true);
    });
  }
});
