/**
 * How often the true cause comes first, and among the first three, over rows of cause and signs that were written by hand before
 * there was a ranking: of each row one sign is dropped and one of all signs, that does not belong, is added, by a seed.
 */
import { readFileSync } from 'node:fs';
import { wheels } from '../../services/wheels/thornmere.js';
import { answer, type DiagnosisQuestion } from '../../services/calculations/diagnosis/answer.js';
import { signs, type SignId } from '../../services/reference/signs.js';
import { seeded } from './random.js';

export interface Row { readonly row: string; readonly cause: string; readonly wheel: string; readonly signs: SignId[]; readonly state?: Pick<DiagnosisQuestion, 'changed' | 'fill' | 'habits'> }
export const rows = (JSON.parse(readFileSync(new URL('../calculations/diagnosis/rows.json', import.meta.url), 'utf8')) as { rows: Row[] }).rows;

/** The wheel of the Thornmere Guild that runs as the row says. */
const guild: Readonly<Record<string, keyof typeof wheels>> = {
  double: 'thornmere-4', equal: 'thornmere-9', 'flyer-lead': 'thornmere-12', 'bobbin-lead': 'thornmere-15', 'great-wheel': 'thornmere-great-wheel', electric: 'thornmere-electric',
};
export const wheelOf = (row: Row): NonNullable<DiagnosisQuestion['wheel']> => {
  const id = guild[row.wheel];
  if (id === undefined) throw new Error(`${row.row} names no wheel of the guild: ${row.wheel}`);
  return wheels[id]!;
};
/** A dangerous sign is never the one that is added: it would stop everything, as it should. */
const harmless = signs.filter((s) => s.danger !== 'stop').map((s) => s.id);

export interface Rates { readonly asked: number; readonly first: number; readonly firstThree: number; readonly missed: readonly string[] }
export type Known = 'wheel known' | 'wheel unknown' | 'signs alone';
export function rates(known: Known, seed: number, rounds: number): Rates {
  const { uniform: random } = seeded(seed);
  const missed: string[] = [];
  let [asked, first, firstThree] = [0, 0, 0];
  for (let round = 0; round < rounds; round++) {
    for (const row of rows) {
      const dropped = Math.floor(random() * row.signs.length);
      const left = row.signs.filter((_, i) => i !== dropped);
      const others = harmless.filter((s) => !row.signs.includes(s));
      const question: DiagnosisQuestion = { signs: [...left, others[Math.floor(random() * others.length)]!], ...(known === 'signs alone' ? {} : row.state), ...(known === 'wheel known' ? { wheel: wheelOf(row) } : {}) };
      const at = answer(question).result.causes.findIndex((c) => c.id === row.cause);
      asked++;
      if (at === 0) first++;
      if (at >= 0 && at < 3) firstThree++; else missed.push(row.row);
    }
  }
  return { asked, first: first / asked, firstThree: firstThree / asked, missed };
}
