/** Prints how often the true cause comes first and among the first three: `npm run rates`. */
import { rates, rows, type Known } from './support/diagnosis-rates.js';

console.log(`${rows.length} rows of cause and signs, ${new Set(rows.map((r) => r.cause)).size} causes; one sign of each dropped, one that does not belong added.`);
for (const known of ['wheel known', 'wheel unknown', 'signs alone'] as const satisfies readonly Known[]) {
  for (const seed of [1, 2, 3]) {
    const { asked, first, firstThree } = rates(known, seed, 10);
    console.log(`${known.padEnd(14)} seed ${seed}: first ${(100 * first).toFixed(1)} %, in the first three ${(100 * firstThree).toFixed(1)} %, of ${asked}`);
  }
}
