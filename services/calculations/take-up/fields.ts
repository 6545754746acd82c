/** The flat names of a take-up. */
import type { Field, FieldSet, Flat, FromFlat } from '../../foundation/fields.js';
import { bobbinFields, driveField, pulleyFields, wheelFromFlat } from '../../wheels/flat.js';

const own: readonly Field[] = [
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min', first: true },
  { name: 'counted', kind: 'choice', label: 'How treadles were counted', choices: [{ value: 'wheel-turns', label: 'once for each turn of the wheel' }, { value: 'each-foot', label: 'each foot, on two treadles' }] },
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
const bag = { bagLifts: 'lifts', bagPullsOff: 'pullsOff', bagDiameter: 'woundDiameter' } as const;

function toQuestion(flat: Flat): FromFlat {
  const places = new Map<string, string>();
  const question: Record<string, unknown> = {};
  const wheel = wheelFromFlat(flat, places);
  if (wheel !== undefined) question['wheel'] = wheel;
  if (flat['drive'] !== undefined && wheel?.['modes'] === undefined) question['drive'] = flat['drive'][0];
  const test: Record<string, unknown> = {};
  for (const { name } of own) {
    const part = (bag as Record<string, string>)[name];
    places.set(part === undefined ? `/${name}` : `/bagTest/${part}`, name);
    if (flat[name] === undefined) continue;
    if (part === undefined) question[name] = flat[name][0];
    else test[part] = flat[name][0];
  }
  if (Object.keys(test).length > 0) question['bagTest'] = test;
  return { question, places, issues: [] };
}
export const fields: FieldSet = { list, toQuestion };
