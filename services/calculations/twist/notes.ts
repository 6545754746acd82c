import type { Assumption, Caution, Warning } from '../../foundation/notes.js';

export const diameterFromGrist: Assumption = {
  code: 'diameter-from-grist', text: 'The yarn’s diameter was taken from its grist, as round and packed as such yarn usually is.', range: 'specific volume 1.09 to 1.45 cm³/g', effect: 'Two to three degrees in the angle of a firm yarn.',
};
export const packageSpan: Assumption = {
  code: 'package-diameter', text: 'How full the bobbin is was not said, so the answer runs from an empty core of 25 mm to a full bobbin of 67 mm.', range: 'cores 18 to 50 mm, jumbo ends to 120 mm', effect: 'On a bobbin-lead wheel each lap costs a turn: the twist is lower on the empty core.',
};
export const clockwiseIsZ: Assumption = { code: 'clockwise-is-z', text: 'Clockwise was taken as the spinner sees it, facing the orifice: clockwise spins Z.' };
export const noSlip: Assumption = { code: 'no-slip', text: 'Nothing was taken off for slip.', range: 'counted under load 0 to 3 %, at times 10 %', effect: 'The twist is lower by the share that slips.' };
export const plyBackRule: Assumption = { code: 'ply-back-rule', text: 'A fresh ply-back of two strands was taken to show two thirds of the twist of the single. A rule of thumb, for two strands only, counted on the plied length.', range: 'a half to 0.7', effect: 'Rested yarn shows less than it has. Sample and wet-test.' };
export const untwistLength: Assumption = { code: 'length-lost', text: 'Twist was taken to stay in the yarn while its length shrinks, so a length gets more turns after washing.', effect: 'Some turns are lost as yarn relaxes.' };

export const notTheRatio: Warning = { code: 'ratio-is-not-twist', text: 'A ratio alone is not a twist: 8:1 makes 8 turns an inch only when one inch is drafted for each turn of the wheel.' };
export const inconsistent: Warning = { code: 'does-not-agree', text: 'All four were given and they do not agree. The difference is shown; check the one you are least sure of.' };
export const stretchedTreadling: Warning = { code: 'treadling-fast', text: 'That needs more than 120 treadles a minute, which is a sprint. Most spin at 40 to 90.' };
export const noTwistLeft: Warning = { code: 'no-twist-left', text: 'On so thin a package each lap takes out as many turns as the wheel puts in: the yarn would get no twist.' };
export const fastFlyer: Caution = { code: 'flyer-over-1500', text: 'Over 1500 turns a minute a wooden flyer can break and be thrown. Check it for cracks and loose hooks first, keep faces and children away, and do not run a cracked one at all.' };
export const powered: Caution = { code: 'unplug-first', text: 'This spinner is powered: unplug it before you touch or measure it.' };
