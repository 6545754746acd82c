/** What a drive ratio takes for granted, warns of, and cautions against. */
import type { Assumption, Caution, Warning } from '../../foundation/notes.js';
import type { Shape } from '../../wheels/words.js';

export const bandThicknessUnknown: Assumption = {
  code: 'band-thickness-unknown', text: 'The thickness of the band is not known, so the answer is an interval, for bands from none to 3 mm.', range: '0 to 3 mm; cotton cord is often 2 mm',
  effect: 'About 3 % of the ratio at 2 mm, more on a small whorl. One turn of the band itself round each groove makes it needless.',
};
export const measuredAtSeat: Assumption = {
  code: 'measured-at-seat', text: 'Diameters and circumferences were taken as measured where the band sits, not at the rim.', range: 'a rim may be 4 to 12 mm larger',
  effect: 'A rim taken for the seat makes a whorl’s ratio too low.',
};
export const thinTape: Assumption = { code: 'thin-tape', text: 'The string or tape that took a circumference was taken as having no thickness.', range: '0 to 1 mm', effect: 'A 0.3 mm tape makes the diameter 0.3 mm less.' };
export const grooveAngle: Readonly<Record<Exclude<Shape, 'round' | 'flat'>, Assumption>> = {
  v: { code: 'groove-angle', text: 'A V groove was taken as 60° wide in all.', range: '40° to 90°', effect: 'A 2 mm band sits 1.6 mm higher across at 40° and 1.2 mm lower at 90°.' },
  'narrow-v': { code: 'groove-angle', text: 'A narrow V groove was taken as 40° wide in all.', range: '34° to 50°', effect: 'The band sits lower in a wider groove.' },
  'wide-v': { code: 'groove-angle', text: 'A wide V groove was taken as 90° wide in all.', range: '75° to 110°', effect: 'The band sits lower in a wider groove.' },
};
export const noSlip: Assumption = { code: 'no-slip', text: 'Speeds are without slip.', range: 'counted under load 0 to 3 %, at times 10 %, far more on a hard-driven small whorl', effect: 'The part turns slower by the share that slips.' };
export const countStep = (what: string): Assumption => ({ code: 'count-step', text: `Counted turns were taken as read ${what}.`, range: 'give ± with the count to say otherwise', effect: 'The longer the count, the less it matters.' });
export const wheelTurnsExact: Assumption = { code: 'wheel-turns-exact', text: 'The wheel turns of a count were taken as exact: from mark to mark.' };
export const statedAsGiven: Assumption = { code: 'stated-as-given', text: 'A stamped ratio was taken as it stands.', range: 'makers round, and a band of another thickness moves it a few per cent', effect: 'Ten counted turns tell.' };

export const bobbinMissing: Warning = { code: 'bobbin-groove-missing', text: 'No bobbin groove was given, so what the pairs do cannot be said. Measure each bobbin end.' };
export const whorlMissing: Warning = { code: 'whorl-groove-missing', text: 'No whorl was given, so what the pairs do cannot be said.' };
export const flyerLeads: Warning = { code: 'flyer-leads', text: 'A bobbin groove is larger than its whorl: the band holds the bobbin back, and the yarn winds on the other way, weakly. Is the bobbin back to front?' };
export const tooClose: Warning = { code: 'too-close-to-say', text: 'A whorl and a bobbin groove are so alike that it cannot be said which leads. What such a pair draws in comes from slip and friction, weakly. Count ten slow turns of flyer and bobbin, or choose parts that differ more.' };
export const tinyWhorl: Warning = { code: 'whorl-very-small', text: 'A whorl under 20 mm grips little: bands slip on it. A larger wheel, or a head with two stages, gives the same ratio with more grip.' };
export const reversed: Warning = { code: 'ratio-below-one', text: 'A ratio is below 1: the driven part turns less than the wheel. Is it written backwards?' };
export const noSuchGroove: Warning = { code: 'no-such-groove', text: 'For a wanted ratio the groove would be smaller than the band itself, or than nothing. This wheel cannot reach it in one step: a larger wheel, or a head with two stages, can.' };
export const slipFound: Warning = { code: 'slip', text: 'The count is lower than the measures say: the band slips, or a measure is wrong. It was not averaged away.' };
export const recheck: Warning = { code: 'recheck', text: 'The count is higher than the measures say. Slip cannot do that on a single drive: measure the diameters and the band again. On a double drive a slipping whorl can, when the bobbin drives the flyer through the yarn.' };
export const countOnBobbin: Warning = { code: 'count-the-bobbin', text: 'On a bobbin-lead wheel the flyer runs free. Count the bobbin’s turns.' };
export const nameTheWhorl: Warning = { code: 'count-names-no-whorl', text: 'The wheel has several whorls and the count names none, so it was compared with no measure. Say on which whorl it was counted.' };
export const longCount = (turns: number): Warning => ({ code: 'count-longer', text: `The count is too short to tell much. ${turns} wheel turns would give it to 0.5 %.` });

export const handCount: Caution = { code: 'count-by-hand', text: 'Count with the yarn off and the wheel turned slowly by hand, foot off the treadle; hair, sleeves and fingers away from the flyer and the spokes.' };
export const leftHandThread: Caution = { code: 'left-hand-thread', text: 'Before you change a whorl: the thread is usually left-handed. Seen from the whorl’s end, clockwise loosens. Hold the metal shaft, never the wood or the arms, and stop if it resists. Many newer whorls push on.' };
export const fastFlyer: Caution = { code: 'flyer-over-1500', text: 'Over 1500 turns a minute a wooden flyer can break and be thrown. Check it for cracks and loose hooks first, keep faces and children away, and do not run a cracked one at all.' };
export const powered: Caution = { code: 'unplug-first', text: 'This spinner is powered: unplug it before you touch or measure it.' };
export const doNotRun: Caution = { code: 'do-not-run', text: 'This wheel is marked do not run. The numbers are for the record; it is not to be spun on until a qualified person has passed it.' };
export const antique: Caution = { code: 'antique', text: 'Never force an old part, and use no glue, drill or file. Museum pieces: ask the keeper.' };
