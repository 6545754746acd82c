/** The flat names of a draft cycle. A hand that is spelled out piece by piece goes as JSON only. */
import type { Field, FieldSet } from '../../foundation/fields.js';
import { bobbinFields, countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const own: readonly Field[] = [
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min', first: true },
  countedField,
  { name: 'drafting', kind: 'choice', label: 'How you draft', first: true, choices: [{ value: 'short-backward', label: 'short backward: draft, then let it in' }, { value: 'short-forward', label: 'short forward: letting in all the time' }, { value: 'long-draw', label: 'long draw: draft, hold, let it in' }] },
  { name: 'draftLength', kind: 'part', label: 'Length drafted in one make', hint: 'such as 75 mm', first: true },
  { name: 'draftTime', kind: 'time', label: 'Drafting takes', hint: 'such as 0.5 s', first: true },
  { name: 'holdTime', kind: 'time', label: 'Held for more twist', hint: 'such as 1 s' },
  { name: 'windOnTime', kind: 'time', label: 'Letting it in takes', hint: 'such as 0.4 s', first: true },
  { name: 'handRise', kind: 'time', label: 'Hand from rest to full speed', hint: 'such as 0.1 s; less when it pounces', first: true },
  { name: 'leftBehind', kind: 'part', label: 'Yarn left between orifice and hand', hint: 'such as 50 mm' },
  { name: 'makes', kind: 'number', label: 'Makes to follow', hint: '1 to 400' },
  { name: 'woundDiameter', kind: 'part', label: 'Yarn on the bobbin, across', hint: 'half full when left open', first: true },
  { name: 'bagLifts', kind: 'pull', label: 'Bag test: the heaviest bag that it lifts', hint: 'wheel turned slowly by hand; such as 15 g', first: true },
  { name: 'bagPullsOff', kind: 'pull', label: 'Bag test: the lightest bag that pulls yarn off', hint: 'wheel held; such as 60 g', first: true },
  { name: 'bagDiameter', kind: 'part', label: 'Bag test: yarn on the bobbin, across', hint: 'the core when left open' },
  { name: 'slipTorque', kind: 'torque', label: 'Torque at which the bobbin slips, instead of a bag test', hint: 'of the flyer on a bobbin-lead wheel; such as 0.006 N m' },
  { name: 'spindleFriction', kind: 'torque', label: 'Friction of the bobbin on its shaft', hint: 'such as 0.0002 N m' },
  { name: 'bobbinInertia', kind: 'inertia', label: 'Inertia of the bobbin with its yarn', hint: 'such as 0.00005 kg*m2' },
  { name: 'flyerInertia', kind: 'inertia', label: 'Inertia of the flyer', hint: 'bobbin-lead wheels; such as 0.0003 kg*m2' },
  { name: 'packageDensity', kind: 'density', label: 'Density of the yarn on the bobbin', hint: 'such as 300 kg/m3' },
  { name: 'hookFactor', kind: 'number', label: 'What orifice and hooks multiply a pull by', hint: 'such as 1.9; the bag test measures it' },
  { name: 'treadleSwing', kind: 'share', label: 'How far the wheel’s speed swings to each side', hint: 'such as 5 %' },
  { name: 'swingsPerTurn', kind: 'number', label: 'Swings in one turn of the wheel', hint: '1 for one treadle, 2 for two' },
  { name: 'treadlePush', kind: 'torque', label: 'Greatest push of the treadle at the crank', hint: 'such as 0.26 N m; then wheel, flyer and bobbin move together' },
  { name: 'wheelInertia', kind: 'inertia', label: 'Inertia of the drive wheel', hint: 'with the push of the treadle; such as 0.1 kg*m2' },
  { name: 'wheelBearing', kind: 'torque', label: 'Drag of the wheel’s own bearings', hint: 'with the push of the treadle' },
  { name: 'flyerDrag', kind: 'torque', label: 'Drag of the flyer’s bearings', hint: 'with the push of the treadle' },
  { name: 'airDrag', kind: 'torque', label: 'Drag of the air at 1000 flyer turns a minute', hint: 'with the push of the treadle' },
  { name: 'yarnStretch', kind: 'yarn-stiffness', label: 'Stiffness of the free yarn', hint: 'such as 300 N/m' },
  { name: 'pullBorne', kind: 'pull', label: 'Pull that the yarn bears', hint: 'such as 150 g' },
  { name: 'fibreDiameter', kind: 'fibre-diameter', label: 'Thickness of a fibre', hint: 'such as 21 micron; for snarls' },
  { name: 'fibresInSection', kind: 'number', label: 'Fibres across the yarn', hint: 'for snarls' },
  { name: 'flyerSpeed', kind: 'turning', label: 'Speed of the flyer', hint: 'electric spinners' },
  { name: 'series', kind: 'time', label: 'Every moment as a table, in steps of', hint: 'such as 0.01 s; for programs' },
  { name: 'whorlName', kind: 'text', label: 'Name of the whorl', hint: 'when the wheel has several' },
  { name: 'bobbinName', kind: 'text', label: 'Name of the bobbin' },
];
const list: readonly Field[] = [driveField, ...pulleyFields, ...bobbinFields, ...own];
const paths = { bagLifts: 'bagTest/lifts', bagPullsOff: 'bagTest/pullsOff', bagDiameter: 'bagTest/woundDiameter', whorlName: 'whorl', bobbinName: 'bobbin' };
const names = own.map((f) => f.name);

export const fields: FieldSet = { list, toQuestion: (flat) => wheelQuestion(flat, names, paths) };
