/** The flat names of a grist. */
import { plainFields, type Field, type FieldSet } from '../../foundation/fields.js';
import { fibreChoices } from '../../reference/fibres.js';
import { preparations } from '../../reference/wraps.js';

const list: readonly Field[] = [
  { name: 'grist', kind: 'grist', label: 'Grist or yarn number', hint: '1500 yd/lb, 2/24 worsted, Nm 2/28, 230 m/100g, 64 tex', first: true },
  { name: 'length', kind: 'length', label: 'Length of the skein', hint: 'such as 254 yd', first: true },
  { name: 'mass', kind: 'mass', label: 'Its weight', hint: 'such as 2.125 oz', first: true },
  { name: 'wraps', kind: 'wraps', label: 'Wraps', hint: 'such as 12 wraps/in', first: true },
  { name: 'wrapping', kind: 'choice', label: 'How they were wrapped', first: true, choices: [
    { value: 'packed', label: 'packed together until no more go in' }, { value: 'ruler', label: 'side by side round a ruler' }, { value: 'loose', label: 'loosely, as knitters wind' },
  ] },
  { name: 'fibre', kind: 'choice', label: 'Fibre', choices: fibreChoices, first: true },
  { name: 'preparation', kind: 'choice', label: 'Preparation', choices: preparations.map((value) => ({ value, label: value })) },
  { name: 'wrapFactor', kind: 'number', label: 'Your own wrap factor', hint: 'wraps per inch over the root of yards in a pound, from a skein you weighed' },
  { name: 'windings', kind: 'number', label: 'Turns on the winder' },
  { name: 'circumference', kind: 'length', label: 'One turn of the winder, measured', hint: 'such as 53 in' },
  { name: 'finishedCircumference', kind: 'length', label: 'One turn of the skein after washing', hint: 'such as 48 in' },
  { name: 'balanceLength', kind: 'part', label: 'Length that balances', hint: 'such as 8.4 in on an inch balance' },
  { name: 'balanceArm', kind: 'mass', label: 'What the balance’s arm weighs', hint: 'needed for a balance that is not read in inches' },
  { name: 'balanceReference', kind: 'grist', label: 'Grist of the yarn on the other side' },
  { name: 'balanceReferenceLength', kind: 'part', label: 'Length of the yarn on the other side' },
  { name: 'diameter', kind: 'part', label: 'Thickness of the yarn' },
  { name: 'fibreDiameter', kind: 'fibre-diameter', label: 'Thickness of a fibre', hint: 'such as 21 micron' },
  { name: 'fibreDiameterSpread', kind: 'share', label: 'Its spread (CV)', hint: 'such as 22 %' },
  { name: 'lengthLost', kind: 'share', label: 'Length lost in washing', hint: 'such as 9 %' },
  { name: 'regain', kind: 'share', label: 'Moisture (regain) when weighed', hint: 'such as 18.25 %' },
  { name: 'regainWanted', kind: 'share', label: 'Moisture (regain) wanted', hint: 'such as 14 %' },
  { name: 'stock', kind: 'mass', label: 'How much of it you have', hint: 'such as 12 oz; gives its length' },
  { name: 'scaleStep', kind: 'mass', label: 'Step of your scale', hint: 'such as 0.5 g' },
  { name: 'within', kind: 'share', label: 'How near the grist should be', hint: 'such as 5 %; gives the least sample to weigh' },
];
export const fields: FieldSet = plainFields(list);
