/** The flat names of flyer and treadle. */
import type { Field, FieldSet } from '../../foundation/fields.js';
import { countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const own: readonly Field[] = [
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min', first: true },
  countedField,
  { name: 'flyerSpeed', kind: 'turning', label: 'Speed of the flyer', hint: 'when it was counted, or without a wheel', first: true },
  { name: 'slipTorque', kind: 'torque', label: 'Torque of the brake, or at which the bobbin slips', hint: 'such as 0.006 N m', first: true },
  { name: 'wheelInertia', kind: 'inertia', label: 'Inertia of the drive wheel', hint: 'such as 0.1 kg*m2', first: true },
  { name: 'stroke', kind: 'part', label: 'How far the treadle goes down', hint: 'such as 80 mm', first: true },
  { name: 'turnedBy', kind: 'choice', label: 'Turned by', choices: [{ value: 'one-treadle', label: 'one treadle' }, { value: 'two-treadles', label: 'two treadles' }, { value: 'hand', label: 'hand' }, { value: 'motor', label: 'a motor' }], first: true },
  { name: 'wheelBearing', kind: 'torque', label: 'Drag of the wheel’s own bearings', hint: 'such as 0.005 N m' },
  { name: 'drag', kind: 'torque', label: 'Drag of the flyer, when it is known', hint: 'such as 0.003 N m' },
  { name: 'flyerInertia', kind: 'inertia', label: 'Inertia of the flyer', hint: 'such as 0.0003 kg*m2' },
  { name: 'bobbinInertia', kind: 'inertia', label: 'Inertia of the bobbin with its yarn', hint: 'such as 0.00005 kg*m2' },
  { name: 'shaftDiameter', kind: 'part', label: 'Shaft in its bearing, across', hint: 'such as 8 mm' },
  { name: 'bearingLoad', kind: 'pull', label: 'What lies on the bearings', hint: 'such as 400 g' },
  { name: 'bearing', kind: 'choice', label: 'Bearing', choices: [{ value: 'dry-leather', label: 'leather, dry' }, { value: 'greased-leather', label: 'leather, greased' }, { value: 'greased-bronze', label: 'bronze, greased' }] },
  { name: 'bearingFriction', kind: 'number', label: 'Friction of the bearing, when it is known', hint: 'such as 0.1' },
  { name: 'arms', kind: 'number', label: 'Arms of the flyer', hint: 'two when left open' },
  { name: 'armWidth', kind: 'part', label: 'Width of an arm, across the air', hint: 'such as 12 mm' },
  { name: 'armLength', kind: 'part', label: 'Length of an arm', hint: 'such as 150 mm' },
  { name: 'armRadius', kind: 'part', label: 'From the shaft to an arm', hint: 'such as 60 mm' },
  { name: 'armThickness', kind: 'part', label: 'Thickness of an arm at the crook, outward', hint: 'such as 15 mm; gives the stress' },
  { name: 'barHeight', kind: 'part', label: 'Height of the bar that joins the arms', hint: 'such as 20 mm' },
  { name: 'woodDensity', kind: 'density', label: 'Density of the arms', hint: 'such as 700 kg/m3' },
  { name: 'unbalance', kind: 'mass', label: 'Weight that is out of balance', hint: 'a hook or guide on one side, such as 5 g' },
  { name: 'unbalanceRadius', kind: 'part', label: 'How far out it stands', hint: 'such as 60 mm' },
  { name: 'flyerMass', kind: 'mass', label: 'Weight of flyer and bobbin', hint: 'such as 250 g' },
  { name: 'bandTension', kind: 'band-tension', label: 'Tension of the band', hint: 'such as 0.5 N' },
  { name: 'bandWrap', kind: 'angle', label: 'How far the band wraps a groove', hint: 'such as 120 deg' },
  { name: 'wheelIs', kind: 'choice', label: 'Where the wheel is from the flyer', choices: [{ value: 'right', label: 'to the right' }, { value: 'left', label: 'to the left' }, { value: 'below', label: 'below' }, { value: 'above', label: 'above' }] },
  { name: 'coastFrom', kind: 'turning', label: 'Coasting down, band off: speed at first', hint: 'such as 1000/min' },
  { name: 'coastTo', kind: 'turning', label: 'Coasting down: a lower speed', hint: 'such as 500/min' },
  { name: 'coastTime', kind: 'time', label: 'Coasting down: time until then', hint: 'such as 3.3 s' },
  { name: 'coastToLater', kind: 'turning', label: 'Coasting down: a speed lower still', hint: 'such as 100/min' },
  { name: 'coastTimeLater', kind: 'time', label: 'Coasting down: time from the start until then', hint: 'such as 9 s' },
  { name: 'twist', kind: 'twist', label: 'Twist that you spin', hint: 'gives the yarn made; such as 160 turns/m' },
  { name: 'whorlName', kind: 'text', label: 'Name of the whorl', hint: 'when the wheel has several' },
];
const list: readonly Field[] = [driveField, ...pulleyFields, ...own];
const names = own.map((f) => f.name);

export const fields: FieldSet = { list, toQuestion: (flat) => wheelQuestion(flat, names, { whorlName: 'whorl' }) };
