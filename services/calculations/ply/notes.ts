import type { Assumption, Warning } from '../../foundation/notes.js';

export const sampleAndWetTest: Assumption = {
  code: 'sample-and-wet-test', text: 'No rule knows your yarn: published rules for a balanced ply differ, so the answer is a range. Ply a sample, wash it, hang it and look.',
  effect: 'Singles that were stored or steamed have lost part of their pull and want less ply twist than any rule says; soft singles want more of theirs than hard ones.',
};
export const contractionTaken: Assumption = { code: 'ply-contraction-taken', text: 'What plying takes of the length was not given and was taken as nothing.', range: '−2 to 10 % of the singles', effect: 'Length and grist in proportion. Near balance it is close to nothing; a hard ply takes more.' };
export const contractionModel: Assumption = {
  code: 'ply-contraction-model', text: 'The contraction was worked out for singles that grow longer as plying takes out their twist. It may be less than nothing: then the plied yarn is longer than its singles were.',
  range: 'strands that keep their length would shrink by a few per cent more', effect: 'Experiments on bundles find more at small angles and less at large ones. A measured sample tells.',
};
export const plyAngleTaken: Assumption = { code: 'ply-angle-taken', text: 'Without the grist of the singles the angle at which they lie in the ply is not known; 0 to 30° was taken.', range: '10 to 30° is usual', effect: 'A quarter of the ply twist at most. Give the grist.' };
export const strandsAveraged: Assumption = { code: 'strands-averaged', text: 'The strands differ. Grist was averaged in tex, and the angle and contraction are those of the mean strand.', effect: 'A thin strand lies further out and winds round a thick one: it uses up more length.' };
export const tooManyStrands: Assumption = { code: 'more-than-six-strands', text: 'With more than six strands some lie inside the others, so the angle, the contraction and the tightest ply were not worked out.' };
export const elasticLimits: Assumption = { code: 'elastic-rods', text: 'The elastic rule takes the singles as fresh, springy rods. Bending over torsional stiffness was taken as 1 to 1.3.', range: 'a solid rod 1.3', effect: 'About a tenth of the ply twist.' };
export const elasticNeedsAngle: Assumption = { code: 'elastic-needs-angle', text: 'The rule of elastic rods needs the angle of the singles, so without their grist it is not among the rules here.', effect: 'For soft singles it asks more ply twist than the others, up to nearly that of the singles.' };
export const againstTaken = (direction?: 'S' | 'Z'): Warning => ({
  code: 'ply-direction-missing', text: `The direction of the ply was not given. It was taken against that of the singles${direction === undefined ? '' : `: ${direction}`}. Say it when the yarn was plied otherwise.`,
});
export const singlesDirectionTaken = (direction: 'S' | 'Z'): Warning => ({ code: 'singles-direction-missing', text: `The direction of the singles was not given. They were taken as ${direction}, against the ply. Singles spun the same way as the ply would gain twist.` });
export const noDirections: Warning = { code: 'ply-direction-missing', text: 'Neither the direction of the ply nor that of the singles was given. The ply was taken against the singles.' };
export const sameDirection: Warning = {
  code: 'same-direction-ply', text: 'The ply turns the same way as the singles, so it adds twist instead of cancelling it: the skein will coil and squirm, and no weight will balance it. Undo it and ply the other way, about two thirds of the singles’ twist for two strands; or keep it as an energised yarn. It is right only as the first step of a cable.',
};
export const mixedDirections: Warning = {
  code: 'mixed-directions', text: 'Some of these singles are S and some Z. One twists up while the other untwists, so they can never balance together, and the one that opens may break. Ply Z with Z, as S; and S with S, as Z. Write the direction on each bobbin.',
};
export const untwisted: Warning = { code: 'strand-untwisted', text: 'So much ply twist takes all the twist out of a strand and turns it the other way: it holds by the ply alone.' };
export const tooTight: Warning = { code: 'tighter-than-possible', text: 'So many turns cannot be laid: the strands would have to pass through each other. Above this the yarn kinks.' };
export const doesNotAgree: Warning = { code: 'does-not-agree', text: 'The contraction that was given is not the one that the grists tell. The difference is shown; check the one you are least sure of.' };
export const notEnough: Warning = { code: 'not-enough-singles', text: 'The singles are too short for so much plied yarn.' };
export const underPlied: Warning = { code: 'under-plied', text: 'Every rule wants more ply twist than this for balance: the skein will twist back the way the singles were spun.' };
export const overPlied: Warning = { code: 'over-plied', text: 'Every rule wants less ply twist than this for balance: the skein will twist the way of the ply. That is right for a yarn that is to be cabled.' };
export const chainLies: Assumption = {
  code: 'chain-lies', text: 'In a chain ply one single runs out, back and out again. It keeps its S or Z whichever end comes first, so it plies like three; each loop makes a small thick place, and nothing is left over on a second bobbin.',
  effect: 'Colours stay together, and so do thick and thin places: it evens a single less than three of them would.',
};
export const endsTaken: Assumption = { code: 'loops-and-ends-taken', text: 'For loops and ends of a chain ply 5 % was added.', range: '2 to 10 %', effect: 'Singles to spin, in proportion.' };
export const extraIsOfPlied: Assumption = { code: 'contraction-of-plied', text: 'The contraction was read as extra singles for each length of plied yarn.', effect: 'Ten per cent of the plied length are 9.1 per cent of the singles.' };
export const contractionIsOfSingles: Assumption = { code: 'contraction-of-singles', text: 'The contraction was read as the share of the singles’ length that plying takes.', effect: 'As extra for each length of plied yarn it would be a little less: say so if that is meant.' };
export const countingRule: Assumption = { code: 'counted-by-the-rule', text: 'By the rule of challenges the plied length counts once for each ply, a chain ply as three. It leaves out what plying and washing take, for everybody alike.' };
export const cableTaken: Assumption = { code: 'cable-as-plies', text: 'A cable was worked out as a ply of plied yarns, each taken as round. The first ply must carry more twist than balance asks: cabling takes it out again.', effect: 'Sample: two steps are two chances to be wrong.' };
export const cableSame: Warning = { code: 'cable-same-direction', text: 'The cable turns the same way as the first ply, so it adds twist instead of cancelling it. A cable turns against the first ply.' };
export const balancedTwistTaken: Assumption = { code: 'balanced-twist-taken', text: 'No ply twist was given, so the turns are for the range in which a ply balances.' };
export const slippingFibres: Assumption = { code: 'fibres-slip', text: 'The single’s stiffness was taken as that of its fibres slipping freely, the least it can be.', effect: 'Yarns are measured near it. From a torque that was given the tension is then the most it can be; from the twist, the least.' };
export const stiffnessUnknown: Warning = { code: 'stiffness-not-known', text: 'No stiffness of this fibre is known here, so the tension against snarling was left out.' };
export const resetBrake: Assumption = { code: 'reset-brake', text: 'Plying turns the flyer the other way. A brake with a spring at one end then holds quite differently, often twice as hard: set it again.' };
export const roomDensity: Assumption = { code: 'density-on-bobbin', text: 'Plied yarn on the bobbin was taken to weigh 300 ± 50 kg in a cubic metre.', range: '200 to 400', effect: 'What the bobbin holds, in proportion.' };
export const doesNotFit: Warning = { code: 'does-not-fit', text: 'So much plied yarn does not fit on a bobbin of this wheel. Ply it in two goes, or on a larger bobbin.' };
