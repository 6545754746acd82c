/** What does not go together: signs with each other, and signs with the numbers of the wheel or of a test. Common practice, our wording. */
import type { Contradictions, Signs } from './contradict.js';

const strong: Signs = ['yanks', 'wheel-gets-ahead', 'strong-since-empty', 'pull-though-slack'];
const pairs: Contradictions['pairs'] = [
  [strong, ['will-not-draw-in', 'draws-in-weakly', 'no-draw-in-at-any-tension', 'hands-drift-back'], 'Friction at orifice and hooks can do both: it lets little in, and bites when it goes. Or the two belong to an empty and to a full bobbin. Look at the hooks before any tension.'],
  [['over-twisted'], ['under-twisted'], 'Along one yarn both can stand, where twist is uneven. Do they come from the same place, and the same bobbin?'],
  [['flyer-slow'], ['flyer-fast'], 'Count it: ten slow turns of the wheel, and the turns of the flyer.'],
  [['stiff-with-band-off'], ['free-with-band-off'], 'Take the band off once more, and spin the wheel by hand.'],
  [['brake-off'], ['brake-grabs', 'brake-felt-tight'], 'Look at the brake again: does its cord lie in the groove?'],
  [['soft-impossible'], ['under-twisted'], 'A yarn that is too soft here and too hard there: look whether both come from the same fill of the bobbin.'],
];
/** Signs that no wheel of such a drive can show. */
const ofDrives: Contradictions['ofDrives'] = [
  [['double-drive'], ['brake-off', 'brake-grabs', 'brake-touches-band', 'second-loop-on-bobbin', 'single-crossed'], 'is no sign of a double drive'],
  [['flyer-lead', 'bobbin-lead', 'electric', 'spindle'], ['one-pass-slack', 'crosses-twice', 'two-bands', 'grooves-alike'], 'is a sign of a double drive only'],
  [['flyer-lead', 'electric', 'spindle'], ['bobbin-not-driven'], 'is no sign of this drive: the band does not turn its bobbin'],
  [['electric'], ['stalls', 'starts-wrong-way', 'wheel-walks', 'legs-tire', 'feet-race'], 'is no sign of a wheel without treadles'],
];
/** A sign, the number that would bear it out, and how that number stands instead. */
const besideNumbers: Contradictions['besideNumbers'] = [
  [strong, 'bobbin-per-flyer-turn', 'near', 'sign-and-wheel', 'By its grooves this pair can hardly draw in, and yet it pulls.', 'Then friction pulls: a bobbin that binds, a band out of line, yarn behind the bobbin. Or a groove was measured at its rim: one turn of the band itself round each tells.'],
  [strong, 'bobbin-per-flyer-turn', 'below', 'sign-and-wheel', 'By its grooves the flyer leads and winds on backwards, weakly, and yet it pulls.', 'Then friction pulls, or a groove was measured wrongly, or the bobbin is back to front.'],
  [['grooves-alike'], 'bobbin-per-flyer-turn', 'inside', 'sign-and-wheel', 'The grooves look alike, but by their measures they differ clearly.', 'Is the bobbin that is on it the one that was measured?'],
  [['will-not-draw-in', 'draws-in-weakly'], 'draws-in', 'inside', 'sign-and-test', 'By the bag test it lifts more than the yarn needs, and yet it will not go in.', 'Then it is the yarn’s way: caught yarn, a thick place, a hook, or a leader that holds only a bag.'],
  [strong, 'pulls-off', 'inside', 'sign-and-test', 'By the bag test it pulls no harder than the yarn bears, and yet it snatches.', 'Then it comes in fits: a sticky brake, a rough hook, a knot, or a jerk of the hand.'],
  [['over-twisted'], 'twist', 'below', 'sign-and-wheel', 'By ratio and draw the yarn should get less twist than you want, and yet it is hard.', 'Then it is held longer than you think: count the turns for each draw. Or it is not drawn in, and goes on twisting.'],
  [['under-twisted'], 'twist', 'above', 'sign-and-wheel', 'By ratio and draw the yarn should get more twist than you want, and yet it is soft.', 'Then the flyer turns less than its ratio: a band that slips, or a loose whorl. Count ten turns.'],
  [['snarls', 'yarn-slack'], 'feed', 'inside', 'sign-and-wheel', 'The pair could draw in more than you feed, and yet the yarn hangs slack or coils.', 'Then the bobbin does not reach its speed: too little tension, a stiff bobbin, or a start that is too quick.'],
  [['soft-impossible'], 'softest-twist', 'inside', 'sign-and-wheel', 'By its grooves this pair can make so soft a yarn.', 'Then it is held too long, or does not draw in freely.'],
];

export const contradictions: Contradictions = { pairs, ofDrives, besideNumbers };
