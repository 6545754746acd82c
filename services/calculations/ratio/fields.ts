/** The flat names of a drive ratio. */
import type { Field, FieldSet, Flat, FromFlat } from '../../foundation/fields.js';
import { countedField, driveField, wheelFields, wheelQuestion } from '../../wheels/flat.js';

const list: readonly Field[] = [
  driveField,
  ...wheelFields,
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'such as 60/min; gives the flyer’s speed', first: true },
  countedField,
  { name: 'wanted', kind: 'ratio', label: 'Ratio you want', hint: 'gives the groove to have made', repeats: true },
  { name: 'wantedFlyerSpeed', kind: 'turning', label: 'Flyer speed you want', hint: 'such as 1200/min' },
  { name: 'wheelTurns', kind: 'number', label: 'Counted: turns of the wheel', hint: 'ten slow turns by hand, yarn off' },
  { name: 'flyerTurns', kind: 'number', label: 'Counted: turns of the flyer' },
  { name: 'bobbinTurns', kind: 'number', label: 'Counted: turns of the bobbin' },
];

function toQuestion(flat: Flat): FromFlat {
  const { question, places, issues } = wheelQuestion(flat, ['treadling', 'counted', 'wantedFlyerSpeed']);
  if (flat['wanted'] !== undefined) { question['wanted'] = [...flat['wanted']]; places.set('/wanted', 'wanted'); }
  const count: Record<string, unknown> = {};
  for (const name of ['wheelTurns', 'flyerTurns', 'bobbinTurns']) {
    places.set(`/counts/0/${name}`, name);
    if (flat[name] !== undefined) count[name] = flat[name][0];
  }
  if (Object.keys(count).length > 0) question['counts'] = [count];
  return { question, places, issues };
}

export const fields: FieldSet = { list, toQuestion };
