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
export const classIsNoMeasure: Assumption = { code: 'class-is-no-measure', text: 'A class of twist is a word, not a measurement: each names its set, and sets part ways.' };
export const contractionModels: Assumption = { code: 'contraction-models', text: 'How much shorter twist makes a single was computed from its angle, in each way that was published.', range: 'they differ by a tenth at 45 degrees, more beyond', effect: 'Fibres that slip or pack closer shorten it less. Untwist a measured length of yours.' };
export const cottonOutside: Assumption = { code: 'cotton-contraction-range', text: 'The mill handbook’s rule for cotton holds for multipliers from 3 to 5 and was left out.', effect: 'Below 1.85 it would make the yarn longer.' };
export const greatestTwist: Assumption = { code: 'greatest-twist', text: 'The greatest twist is for a strand of this thickness before twisting, in a metre of it as it then is, with the volume of fibre unchanged.', range: 'one of three models that were published', effect: 'Yarn breaks or snarls before it.' };
export const millRanges: Assumption = { code: 'published-ranges', text: 'Recommended factors are those of published tables: cotton spun on ring frames, worsted spun by hand.', effect: 'Your own hand and purpose come first.' };
export const noPublishedRange: Warning = { code: 'no-published-range', text: 'For this fibre and use no published table of twist is known here, so no range is recommended.' };
export const angleAlone: Warning = { code: 'angle-alone', text: 'An angle alone is no twist: turns follow from it only with the yarn’s thickness or its grist.' };
export const untwisted: Assumption = { code: 'untwisted', text: 'Turns were counted back to parallel fibres (or parallel plies), and are for the length before untwisting, laid straight under a light pull.', range: '0.5 cN for each tex', effect: 'A plied yarn gives the twist of the ply this way; then count the opened singles by themselves.' };
export const retwisted: Warning = { code: 'retwist-approximate', text: 'Untwisting and twisting the other way until the yarn is as long as before gives the twist of a single only nearly: it takes both ways to be alike.' };
export const retwistSet: Assumption = { code: 'retwist-set', text: 'In yarn that has rested or was washed the twist is set, and this count comes out too low: the yarn has at least so much.' };
export const plyBackRested: Assumption = { code: 'ply-back-rested', text: 'Rested yarn twists back less than it did when fresh, so it has at least so much. Linen twists when it is wetted, whatever was spun in.', effect: 'Take the ply-back as soon as it is spun.' };
export const plyBackUnsaid: Assumption = { code: 'ply-back-fresh', text: 'The ply-back was taken as fresh from the wheel.', effect: 'From rested yarn it shows less twist than was spun in.' };
