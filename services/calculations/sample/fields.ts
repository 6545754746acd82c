/** The flat names of a sample: how it was measured, what it should be, and how it was spun. */
import { plainFields, type Field, type FieldSet } from '../../foundation/fields.js';
import { fibreChoices } from '../../reference/fibres.js';
import { stateChoices } from '../../reference/states.js';
import { wrappingChoices } from '../../reference/wraps.js';

const list: readonly Field[] = [
  { name: 'skeins', kind: 'grist', label: 'Pieces of the sample, weighed', hint: 'each as 20 yd/3.1 g; one or several', repeats: true, first: true },
  { name: 'wrapCounts', kind: 'wraps', label: 'Wraps of the sample, counted', hint: 'such as 12 wraps/in; one or several', repeats: true, first: true },
  { name: 'wrapping', kind: 'choice', label: 'How they were wrapped', choices: wrappingChoices, first: true },
  { name: 'twistCounts', kind: 'twist', label: 'Twist of the sample, counted', hint: 'such as 8 turns/in; one or several', repeats: true, first: true },
  { name: 'wantedGrist', kind: 'grist', label: 'Grist that you want', hint: 'such as 1500 yd/lb', first: true },
  { name: 'wantedWraps', kind: 'wraps', label: 'Wraps that you want', hint: 'counted the same way', first: true },
  { name: 'wantedTwist', kind: 'twist', label: 'Twist that you want', hint: 'such as 9 turns/in', first: true },
  { name: 'within', kind: 'share', label: 'How near is near enough', hint: 'such as 5 %', first: true },
  { name: 'grist', kind: 'grist', label: 'Grist of the sample, if you have it already' },
  { name: 'length', kind: 'length', label: 'Length of the sample', hint: 'such as 20 yd' },
  { name: 'mass', kind: 'mass', label: 'Its weight', hint: 'such as 3.1 g' },
  { name: 'scaleStep', kind: 'mass', label: 'Step of your scale', hint: 'such as 0.1 g; with a weight it gives its ±' },
  { name: 'windings', kind: 'number', label: 'Turns on the winder' },
  { name: 'circumference', kind: 'length', label: 'One turn of the winder, measured', hint: 'such as 53 in' },
  { name: 'balanceLength', kind: 'part', label: 'Length that balances', hint: 'such as 8.4 in on an inch balance' },
  { name: 'balanceArm', kind: 'mass', label: 'What the balance’s arm weighs' },
  { name: 'diameter', kind: 'part', label: 'Thickness of the yarn' },
  { name: 'wrapFactor', kind: 'number', label: 'Your own wrap factor', hint: 'wraps per inch over the root of yards in a pound, from a skein you weighed' },
  { name: 'fibre', kind: 'choice', label: 'Fibre', choices: fibreChoices },
  { name: 'spread', kind: 'share', label: 'Spread of your measurements (CV)', hint: 'such as 10 %, if you have worked it out' },
  { name: 'measurements', kind: 'number', label: 'How many they were' },
  { name: 'bumps', kind: 'number', label: 'Bumps counted along one edge' },
  { name: 'bumpsOver', kind: 'part', label: 'Over this length', hint: 'such as 1 in' },
  { name: 'plies', kind: 'number', label: 'Plies', hint: 'of the yarn whose bumps were counted' },
  { name: 'plyBack', kind: 'twist', label: 'Twist of a fresh ply-back', hint: 'such as 6 turns/in' },
  { name: 'untwistTurns', kind: 'number', label: 'Turns to untwist a piece' },
  { name: 'gaugeLength', kind: 'part', label: 'Length of that piece before', hint: 'such as 25 cm' },
  { name: 'angle', kind: 'angle', label: 'Angle of the twist, from the yarn’s axis', hint: 'such as 20 deg' },
  { name: 'state', kind: 'choice', label: 'State in which you measured', choices: stateChoices },
  { name: 'wantedState', kind: 'choice', label: 'State in which you want it so', choices: stateChoices },
  { name: 'restingLost', kind: 'share', label: 'Length lost from wheel to rest', hint: 'such as 5 %' },
  { name: 'lengthLost', kind: 'share', label: 'Length lost in washing', hint: 'such as 9 %' },
  { name: 'massLost', kind: 'share', label: 'Weight lost in washing', hint: 'such as 8 %' },
  { name: 'ratio', kind: 'ratio', label: 'Ratio that it was spun at', hint: 'such as 9:1' },
  { name: 'otherRatios', kind: 'ratio', label: 'Other ratios of the wheel', hint: 'one for each whorl', repeats: true },
  { name: 'treadles', kind: 'number', label: 'Treadles for each draw' },
  { name: 'draftLength', kind: 'part', label: 'Length of each draw', hint: 'such as 3 in' },
];
export const fields: FieldSet = plainFields(list);
