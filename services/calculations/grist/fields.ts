/** The flat names of a grist. */
import { plainFields, type Field, type FieldSet } from '../../foundation/fields.js';
import { fibreChoices } from '../../reference/fibres.js';
import { fibreForms } from '../../reference/regains.js';
import { namedGrades } from '../../reference/wool-grades.js';
import { stateChoices } from '../../reference/states.js';
import { preparations, wrappingChoices } from '../../reference/wraps.js';

const list: readonly Field[] = [
  { name: 'grist', kind: 'grist', label: 'Grist or yarn number', hint: '1500 yd/lb, 2/24 worsted, Nm 2/28, 230 m/100g, 64 tex', first: true },
  { name: 'length', kind: 'length', label: 'Length of the skein', hint: 'such as 254 yd', first: true },
  { name: 'mass', kind: 'mass', label: 'Its weight', hint: 'such as 2.125 oz', first: true },
  { name: 'wraps', kind: 'wraps', label: 'Wraps', hint: 'such as 12 wraps/in', first: true },
  { name: 'wrapping', kind: 'choice', label: 'How they were wrapped', first: true, choices: wrappingChoices },
  { name: 'fibre', kind: 'choice', label: 'Fibre', choices: fibreChoices, first: true },
  { name: 'preparation', kind: 'choice', label: 'Preparation', choices: preparations.map((value) => ({ value, label: value })) },
  { name: 'wrapFactor', kind: 'number', label: 'Your own wrap factor', hint: 'wraps per inch over the root of yards in a pound, from a skein you weighed' },
  { name: 'calibrationWraps', kind: 'wraps', label: 'Wraps of a skein of yours that you weighed', hint: 'finds your own wrap factor' },
  { name: 'calibrationGrist', kind: 'grist', label: 'Grist of that skein', hint: 'such as 254 yd/2.125 oz' },
  { name: 'skeins', kind: 'grist', label: 'Several skeins of one yarn', hint: 'each as 254 yd/2.125 oz', repeats: true },
  { name: 'averagedBy', kind: 'choice', label: 'The skeins are of equal', choices: [{ value: 'length', label: 'length' }, { value: 'weight', label: 'weight' }] },
  { name: 'spread', kind: 'share', label: 'Spread of your measurements (CV)', hint: 'such as 10 %' },
  { name: 'measurements', kind: 'number', label: 'How many measurements', hint: 'such as 10' },
  { name: 'state', kind: 'choice', label: 'State in which you measured', choices: stateChoices },
  { name: 'restingLost', kind: 'share', label: 'Length lost from wheel to rest', hint: 'such as 5 %' },
  { name: 'massLost', kind: 'share', label: 'Weight lost in washing', hint: 'such as 8 %' },
  { name: 'windings', kind: 'number', label: 'Turns on the winder' },
  { name: 'circumference', kind: 'length', label: 'One turn of the winder, measured', hint: 'such as 53 in' },
  { name: 'finishedCircumference', kind: 'length', label: 'One turn of the skein after washing', hint: 'such as 48 in' },
  { name: 'balanceLength', kind: 'part', label: 'Length that balances', hint: 'such as 8.4 in on an inch balance' },
  { name: 'balanceArm', kind: 'mass', label: 'What the balance’s arm weighs', hint: 'needed for a balance that is not read in inches' },
  { name: 'balanceReference', kind: 'grist', label: 'Grist of the yarn on the other side' },
  { name: 'balanceReferenceLength', kind: 'part', label: 'Length of the yarn on the other side' },
  { name: 'diameter', kind: 'part', label: 'Thickness of the yarn' },
  { name: 'yarnDensity', kind: 'density', label: 'Density of the yarn, air and all', hint: 'such as 700 kg/m3' },
  { name: 'fibreDiameter', kind: 'fibre-diameter', label: 'Thickness of a fibre', hint: 'such as 21 micron' },
  { name: 'fibreDiameterSpread', kind: 'share', label: 'Its spread (CV)', hint: 'such as 22 %' },
  { name: 'woolGrade', kind: 'choice', label: 'Wool grade', choices: namedGrades.map((value) => ({ value, label: value.replaceAll('-', ' ') })) },
  { name: 'fibreGrist', kind: 'grist', label: 'Yarn number of one fibre', hint: 'such as 4.5 den or 1.2 dtex' },
  { name: 'micronaire', kind: 'number', label: 'Micronaire of the cotton', hint: 'such as 4.2' },
  { name: 'fibresInSection', kind: 'number', label: 'Fibres wanted across the yarn', hint: 'gives the grist, such as 40' },
  { name: 'fewestFibres', kind: 'number', label: 'As few fibres as are to do', hint: 'gives the finest yarn' },
  { name: 'irregularity', kind: 'share', label: 'Unevenness of the yarn, measured (CV of mass)', hint: 'such as 18 %' },
  { name: 'irregularityConstant', kind: 'number', label: 'Constant of the most even yarn', hint: 'usual 106 for cotton, 112 for wool, 100 for fibres of one thickness' },
  { name: 'tenacity', kind: 'tenacity', label: 'Strength of the yarn for its grist', hint: 'such as 17 gf/tex' },
  { name: 'strengthSpread', kind: 'share', label: 'Spread of its strength (CV)', hint: 'such as 15 %' },
  { name: 'lengthLost', kind: 'share', label: 'Length lost in washing', hint: 'such as 9 %' },
  { name: 'regain', kind: 'share', label: 'Moisture (regain) when weighed', hint: 'such as 18.25 %' },
  { name: 'moistureContent', kind: 'share', label: 'Or its moisture content when weighed', hint: 'water over the whole weight, such as 12 %' },
  { name: 'regainWanted', kind: 'share', label: 'Moisture (regain) wanted', hint: 'such as 14 %' },
  { name: 'regainStandard', kind: 'choice', label: 'Or the standard whose regain is wanted', choices: [{ value: 'astm-d1909', label: 'ASTM D1909' }, { value: 'eu-1007', label: 'EU 1007/2011, Annex IX' }, { value: 'gb-9994', label: 'GB 9994' }, { value: 'room-air', label: 'air of 65 % humidity' }] },
  { name: 'fibreForm', kind: 'choice', label: 'Form of the fibre, for that standard', choices: fibreForms.map((value) => ({ value, label: value.replaceAll('-', ', ') })) },
  { name: 'plies', kind: 'number', label: 'Plies', hint: 'gives what each strand should be' },
  { name: 'stock', kind: 'mass', label: 'How much of it you have', hint: 'such as 12 oz; gives its length' },
  { name: 'scaleStep', kind: 'mass', label: 'Step of your scale', hint: 'such as 0.5 g; with a weight it gives its ±' },
  { name: 'within', kind: 'share', label: 'How near the grist should be', hint: 'such as 5 %; gives the least sample to weigh, or how many to measure' },
];
export const fields: FieldSet = plainFields(list);
