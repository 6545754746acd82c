/** Words of a wheel's profile, as a spinner says them. */
import type { Condition, Style, TurnedBy } from '../wheels/words.js';

export const styleWords: Readonly<Record<Style, string>> = {
  saxony: 'Saxony wheel', norwegian: 'Norwegian wheel', castle: 'Castle wheel', 'modern-upright': 'Modern upright', folding: 'Folding wheel', 'great-wheel': 'Great wheel', charkha: 'Charkha', electric: 'Electric spinner', other: 'Spinning wheel',
};
export const turnedByWords: Readonly<Record<TurnedBy, string>> = { 'one-treadle': 'one treadle', 'two-treadles': 'two treadles', hand: 'by hand', motor: 'by a motor' };
export const conditionWords: Readonly<Record<Condition, string>> = { sound: 'sound', watch: 'to be watched', 'do-not-run': 'do not run' };

/** Lines of every sheet that is tied to a wheel. */
export const sheetCautions = [
  'A cracked flyer, arm or spoke, or a loose hook: do not run the wheel.',
  'Hair, sleeves, scarves, lanyards and rings clear of flyer and wheel; children and pets too. Never wind yarn or leader round a finger.',
  'When the wheel is put away, slacken its band and brake.',
] as const;
