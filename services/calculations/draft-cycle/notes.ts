import type { Assumption, Caution, Warning } from '../../foundation/notes.js';

export const torqueTaken: Assumption = { code: 'slip-torque-taken', text: 'How hard the wheel pulls was not tested; 3 to 9 mN·m was taken for the torque at which the bobbin slips (the flyer, on a bobbin-lead wheel).', range: '2 to 12 mN·m', effect: 'Pull and quickness go in proportion. A bag test makes it needless.' };
export const treadlingTaken: Assumption = { code: 'treadling-taken', text: 'Treadling was taken as 60 turns of the wheel a minute.', range: '40 to 90', effect: 'Twist and the fastest that it can draw in, in proportion.' };
export const spindleTaken: Assumption = { code: 'bobbin-on-shaft-0.2', text: 'The bobbin’s friction on its shaft was taken as 0.2 mN·m.', range: '0.1 to 2 mN·m, the more the fuller', effect: 'That much less draws in.' };
export const bobbinTaken: Assumption = { code: 'bobbin-inertia-taken', text: 'The empty bobbin was taken as one of about 80 g, 3.5e-5 kg·m², to which its yarn is added.', range: '40 to 250 g', effect: 'How quickly it follows the hand, and how hard it grabs.' };
export const flyerTaken: Assumption = { code: 'flyer-inertia-taken', text: 'The flyer was taken as one of about 200 g, 3e-4 kg·m².', range: '1e-4 to 8e-4 kg·m²', effect: 'How quickly it follows the hand, and how hard it grabs.' };
export const habitTaken: Assumption = { code: 'habit-taken', text: 'What was not said of draft, hold and wind-on was taken as it is mostly done for this way of drafting.', range: 'everybody’s hands differ', effect: 'The quicker the hand at the start of the wind-on, the more slack.' };
export const steadyMakes: Assumption = { code: 'steady-makes', text: 'The yarn behind the orifice was taken to come from makes like these, one after the other.' };
export const evenTreadling: Assumption = { code: 'even-treadling', text: 'The wheel was taken to turn evenly.', range: 'it swings by 1 to 6 % or more with one treadle', effect: 'A swing lets yarn go slack by itself where the pull is small and what turns is heavy.' };
export const halfFull: Assumption = { code: 'half-full', text: 'The bobbin was taken as half full.', effect: 'An empty one pulls harder and follows more slowly; both are shown from empty to full.' };
export const handMoves: Assumption = { code: 'hand-prescribed', text: 'The hand was taken to let yarn in as said, whatever the pull.' };
export const evenTwist: Assumption = { code: 'twist-spreads', text: 'Twist was taken to spread evenly through the yarn between orifice and hand, with none in the fibre being drafted.', effect: 'Thin places take more twist than thick ones, and the orifice may hold twist back.' };
export const stretchTaken: Assumption = { code: 'yarn-stretch-taken', text: 'How the yarn stretches was not given; 100 to 1000 N for each metre of stretch was taken.', effect: 'The peak of a grab, about as the square root.' };
export const woolTaken: Assumption = { code: 'wool-for-snarls', text: 'For snarls the fibre was taken as wool whose fibres slip on each other, bending 1.3 times as stiffly as it twists.', effect: 'The pull that keeps it straight, in proportion to the stiffness.' };

export const cannotKeepUp: Warning = { code: 'beyond-the-ceiling', text: 'The hand lets in faster than this wheel can draw in at this treadling, however hard it pulls. Slow the hand, treadle faster, or take a pair that draws in more.' };
export const handTooQuick: Warning = { code: 'hand-too-quick', text: 'The hand speeds up more quickly than the package can follow, so yarn hangs slack at the start of the wind-on and is then snatched tight.' };
export const treadleSlackens: Warning = { code: 'treadle-slackens', text: 'The swing of the wheel alone lets the yarn go slack, with the hand at rest: once for each treadle.' };
export const snarls: Warning = { code: 'may-snarl', text: 'Slack yarn of so much twist has nothing to keep it straight: pigtails may form before the orifice.' };
export const pullBelowSnarl: Warning = { code: 'pull-below-snarling', text: 'Even taut, the pull falls below what keeps yarn of this twist from forming a loop when it is disturbed.' };
export const tooHard: Warning = { code: 'grab-too-hard', text: 'A grab may pull harder than yarn and hand bear.' };
export const uneven: Warning = { code: 'twist-uneven-within-make', text: 'Within each make the yarn wound on last has much more twist than what went on first, however even the rhythm. Wind on quickly, and leave less behind.' };

export const stalls: Warning = { code: 'wheel-stops', text: 'The wheel comes to a stand before the end: the push of the treadle does not keep up the load. Slacken the tensions, oil, or push harder.' };
export const evenOverBobbin: Assumption = { code: 'even-over-the-bobbin', text: 'From the empty bobbin to the full one the wheel was taken to turn evenly at the treadling given.' };

export const looseThings: Caution = { code: 'nothing-loose', text: 'Keep hair, sleeves, scarves and rings, children and pets away from the turning flyer, and never wind yarn round a finger: a grab closes on whatever is in the loop.' };
