/** The flat names of a drive band. */
import type { Field, FieldSet, Flat, FromFlat } from '../../foundation/fields.js';
import { driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';
import { materials } from '../../wheels/words.js';

const own: readonly Field[] = [
  { name: 'axleDistance', kind: 'part', label: 'Wheel axle to flyer shaft', hint: 'such as 500 mm', first: true },
  { name: 'bandLength', kind: 'length', label: 'Length of a band that you have', hint: 'then the distance that it needs is found', first: true },
  { name: 'measuredInside', kind: 'choice', label: 'How that band was measured', choices: [{ value: 'false', label: 'along its middle' }, { value: 'true', label: 'with a tape laid inside' }] },
  { name: 'crossed', kind: 'choice', label: 'Single band crossed', choices: [{ value: 'false', label: 'no' }, { value: 'true', label: 'yes: the flyer turns the other way' }] },
  { name: 'material', kind: 'choice', label: 'What the band is made of', choices: materials.map((value) => ({ value, label: value })), ofWheel: true, first: true },
  { name: 'wheelIs', kind: 'choice', label: 'Where the wheel is from the flyer', hint: 'as you sit at it', choices: [{ value: 'right', label: 'to the right' }, { value: 'left', label: 'to the left' }, { value: 'below', label: 'below' }, { value: 'above', label: 'above' }], first: true },
  { name: 'direction', kind: 'choice', label: 'Spinning', choices: [{ value: 'Z', label: 'Z: the wheel turns clockwise' }, { value: 'S', label: 'S: the wheel turns anticlockwise' }], first: true },
  { name: 'wheelToWhorl', kind: 'part', label: 'First wheel groove to the whorl, sideways' },
  { name: 'wheelToBobbin', kind: 'part', label: 'First wheel groove to the bobbin groove, sideways' },
  { name: 'betweenWheelGrooves', kind: 'part', label: 'Between the wheel’s two grooves' },
  { name: 'stretch', kind: 'share', label: 'The band has stretched by', hint: 'such as 1.5 %' },
  { name: 'screwPitch', kind: 'part', label: 'One turn of the tension screw', hint: 'such as 5 mm; leave open if there is none' },
  { name: 'cordStiffness', kind: 'cord-stiffness', label: 'Stiffness of the cord', hint: 'such as 150 N, when it was measured' },
  { name: 'tightenBy', kind: 'pull', label: 'Tighten the band by', hint: 'such as 10 g' },
];
const list: readonly Field[] = [driveField, ...pulleyFields, ...own];
const paths = { wheelToWhorl: 'offsets/wheelToWhorl', wheelToBobbin: 'offsets/wheelToBobbin', betweenWheelGrooves: 'offsets/betweenWheelGrooves' };
const names = own.map((f) => f.name).filter((name) => name !== 'material');

function toQuestion(flat: Flat): FromFlat {
  const asked = wheelQuestion(flat, names, paths);
  const { question, places } = asked;
  places.set('/wheel/axleToFlyer', 'axleDistance');
  if (flat['material'] !== undefined) {
    const wheel = question['wheel'] as Record<string, unknown> | undefined;
    const modes = (wheel?.['modes'] ?? [{ drive: flat['drive']?.[0] ?? (flat['bobbin'] === undefined ? 'flyer-lead' : 'double-drive'), band: {} }]) as { band: Record<string, unknown> }[];
    modes[0]!.band['material'] = flat['material'][0];
    places.set('/wheel/modes/0/band/material', 'material');
    question['wheel'] = { ...wheel, modes };
    delete question['drive'];
  }
  return asked;
}
export const fields: FieldSet = { list, toQuestion };
