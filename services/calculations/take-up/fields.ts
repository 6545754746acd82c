/** The flat names of a take-up. */
import type { Field, FieldSet } from '../../foundation/fields.js';
import { bobbinFields, countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';

const own: readonly Field[] = [
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min', first: true },
  countedField,
  { name: 'draftLength', kind: 'part', label: 'Length drafted', hint: 'such as 50 mm', first: true },
  { name: 'wheelTurns', kind: 'number', label: 'Turns of the wheel for that length', hint: 'one when left open', first: true },
  { name: 'treadles', kind: 'number', label: 'Treadles for that length, instead of turns of the wheel' },
  { name: 'twist', kind: 'twist', label: 'Twist you want', hint: 'such as 6 turns/in; is it within reach?', first: true },
  { name: 'grist', kind: 'grist', label: 'Grist', hint: 'gives lengths and what the bobbin holds', first: true },
  { name: 'steps', kind: 'number', label: 'Steps from empty to full', hint: '2 to 101' },
  { name: 'packageDensity', kind: 'density', label: 'Density of the yarn on the bobbin', hint: 'such as 300 kg/m3' },
  { name: 'wound', kind: 'length', label: 'Yarn already on the bobbin', hint: 'such as 200 m' },
  { name: 'flyerSpeed', kind: 'turning', label: 'Speed of the flyer', hint: 'electric spinners' },
  { name: 'drawSpeed', kind: 'speed', label: 'Yarn made in a time', hint: 'electric spinners; such as 5 m/min' },
  { name: 'bagLifts', kind: 'pull', label: 'Bag test: the heaviest bag that it lifts', hint: 'wheel turned slowly by hand' },
  { name: 'bagPullsOff', kind: 'pull', label: 'Bag test: the lightest bag that pulls yarn off', hint: 'wheel held' },
  { name: 'bagDiameter', kind: 'part', label: 'Bag test: yarn on the bobbin, across', hint: 'the core when left open' },
];
const list: readonly Field[] = [driveField, ...pulleyFields, ...bobbinFields.map((f) => ({ ...f, first: true as const })), ...own];
const paths = { bagLifts: 'bagTest/lifts', bagPullsOff: 'bagTest/pullsOff', bagDiameter: 'bagTest/woundDiameter' };
const names = own.map((f) => f.name);

export const fields: FieldSet = { list, toQuestion: (flat) => wheelQuestion(flat, names, paths) };
