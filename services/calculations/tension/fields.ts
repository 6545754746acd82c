/** The flat names of a tension. */
import type { Field, FieldSet, Flat, FromFlat } from '../../foundation/fields.js';
import { bobbinFields, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const own: readonly Field[] = [
  { name: 'bagLifts', kind: 'pull', label: 'Bag test: the heaviest bag that it lifts', hint: 'wheel turned slowly by hand; such as 15 g', first: true },
  { name: 'bagPullsOff', kind: 'pull', label: 'Bag test: the lightest bag that pulls yarn off', hint: 'wheel held; such as 60 g', first: true },
  { name: 'bagDiameter', kind: 'part', label: 'Bag test: yarn on the bobbin, across', hint: 'the core when left open' },
  { name: 'pullNeeded', kind: 'pull', label: 'Pull that you need to draw in', hint: 'such as 5 g', first: true },
  { name: 'pullBorne', kind: 'pull', label: 'Pull that yarn and hand bear', hint: 'lace 30 g, sock single 60 g, bulky 150 g', first: true },
  { name: 'axleDistance', kind: 'part', label: 'Wheel axle to flyer shaft', hint: 'such as 500 mm' },
  { name: 'wheelIs', kind: 'choice', label: 'Where the wheel is from the flyer', hint: 'as you sit at it', choices: [{ value: 'right', label: 'to the right' }, { value: 'left', label: 'to the left' }, { value: 'below', label: 'below' }, { value: 'above', label: 'above' }] },
  { name: 'bandFriction', kind: 'number', label: 'Friction of band on wood', hint: 'such as 0.3' },
  { name: 'drag', kind: 'torque', label: 'Drag of the flyer', hint: 'such as 0.003 N m' },
  { name: 'spindleFriction', kind: 'torque', label: 'Friction of the bobbin on its shaft', hint: 'such as 0.0002 N m' },
  { name: 'startTorque', kind: 'torque', label: 'Torque that starts the flyer', hint: 'such as 0.002 N m' },
  { name: 'hookFactor', kind: 'number', label: 'What orifice and hooks multiply a pull by', hint: 'such as 1.9; the bag test measures it' },
  { name: 'brakeSpring', kind: 'pull', label: 'Pull of the brake’s spring', hint: 'such as 80 g' },
  { name: 'sagRun', kind: 'part', label: 'Sag: free length of the run' },
  { name: 'sagWeight', kind: 'mass', label: 'Sag: weight hung in its middle', hint: 'at most 2 g' },
  { name: 'sag', kind: 'part', label: 'Sag: how far it sank' },
  { name: 'cordStiffness', kind: 'cord-stiffness', label: 'Stiffness of the cord', hint: 'such as 150 N, when it was measured' },
  { name: 'sagRunIs', kind: 'choice', label: 'Sag: the run it hung on', choices: [{ value: 'upper', label: 'the upper one' }, { value: 'lower', label: 'the lower one' }] },
  { name: 'sagEnds', kind: 'choice', label: 'Sag: wheel and flyer meanwhile', choices: [{ value: 'pulleys-turn', label: 'free to turn a little' }, { value: 'pulleys-held', label: 'both held' }] },
  { name: 'sagCordMass', kind: 'cord-mass', label: 'Sag: weight of the cord', hint: 'such as 2.3 g/m; its own sag is then reckoned with' },
  { name: 'pitchRun', kind: 'part', label: 'Pitch: free length of the run' },
  { name: 'pitch', kind: 'turning', label: 'Pitch: how often it swings', hint: 'such as 14/s' },
  { name: 'cordMass', kind: 'cord-mass', label: 'Weight of the cord', hint: 'such as 2.3 g/m' },
];
const list: readonly Field[] = [driveField, ...pulleyFields, ...bobbinFields.map((f) => ({ ...f, first: true as const })), ...own];
/** Where a flat name goes that is not a name of the question itself. */
const paths = {
  bagLifts: 'bagTest/lifts', bagPullsOff: 'bagTest/pullsOff', bagDiameter: 'bagTest/woundDiameter', sagRun: 'sagCheck/run', sagWeight: 'sagCheck/weight', sag: 'sagCheck/sag', cordStiffness: 'sagCheck/cordStiffness', sagRunIs: 'sagCheck/runIs', sagEnds: 'sagCheck/ends', sagCordMass: 'sagCheck/cordMass',
  pitchRun: 'pitchCheck/run', pitch: 'pitchCheck/pitch', cordMass: 'pitchCheck/cordMass',
};
const names = own.map((f) => f.name);

function toQuestion(flat: Flat): FromFlat {
  const asked = wheelQuestion(flat, names, paths);
  asked.places.set('/sagCheck', 'sag');
  return asked;
}
export const fields: FieldSet = { list, toQuestion };
