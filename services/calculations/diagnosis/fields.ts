/** The flat names of a diagnosis. */
import type { Field, FieldSet, Flat, FromFlat } from '../../foundation/fields.js';
import { bobbinFields, countedField, driveField, pulleyFields, wheelQuestion } from '../../wheels/flat.js';
import { changes, fills, habits, placeNames, signs } from '../../reference/signs.js';

const signChoices = signs.map((s) => ({ value: s.id, label: s.says, group: s.danger === undefined ? placeNames[s.place] : 'Dangerous: look at these first' }));
const choicesOf = (of: Readonly<Record<string, string>>): { value: string; label: string }[] => Object.entries(of).map(([value, label]) => ({ value, label }));
const own: readonly Field[] = [
  { name: 'sign', kind: 'choice', label: 'What do you notice', choices: signChoices, repeats: true, first: true },
  { name: 'changed', kind: 'choice', label: 'What was changed last', choices: choicesOf(changes), first: true },
  { name: 'fill', kind: 'choice', label: 'How full is the bobbin', choices: choicesOf(fills), first: true },
  { name: 'stepsTightened', kind: 'number', label: 'Small steps of tightening so far', hint: 'since the last good yarn', first: true },
  { name: 'habit', kind: 'choice', label: 'How you spin', choices: choicesOf(habits), repeats: true },
  { name: 'strong', kind: 'choice', label: 'Which of the signs is strong', choices: signChoices, repeats: true },
  { name: 'slight', kind: 'choice', label: 'Which of the signs is slight', choices: signChoices, repeats: true },
  { name: 'notSeen', kind: 'choice', label: 'Looked for, and not there', choices: signChoices, repeats: true },
  { name: 'whorlName', kind: 'text', label: 'Whorl in use, by its name' },
  { name: 'bobbinName', kind: 'text', label: 'Bobbin in use, by its name' },
  { name: 'treadling', kind: 'turning', label: 'Treadling', hint: 'treadles a minute' },
  countedField,
  { name: 'draftLength', kind: 'part', label: 'Length drafted', hint: 'before you let it in' },
  { name: 'wheelTurns', kind: 'number', label: 'Turns of the wheel for it' },
  { name: 'treadles', kind: 'number', label: 'Or treadles for it' },
  { name: 'twist', kind: 'twist', label: 'Twist you want' },
  { name: 'bagLifts', kind: 'pull', label: 'Heaviest bag that it lifts', hint: 'wheel turned slowly by hand' },
  { name: 'bagPullsOff', kind: 'pull', label: 'Lightest bag that pulls yarn off', hint: 'wheel held' },
  { name: 'pullNeeded', kind: 'pull', label: 'Pull needed to draw in' },
  { name: 'pullBorne', kind: 'pull', label: 'Pull that yarn and hand bear' },
];
const lists = { notSeen: 'notSeen', habit: 'habits' } as const;
const strengths = ['strong', 'slight'] as const;
const paths = { whorlName: 'whorl', bobbinName: 'bobbin', bagLifts: 'bagTest/lifts', bagPullsOff: 'bagTest/pullsOff' };
const singles = own.map((f) => f.name).filter((name) => name !== 'sign' && !(name in lists) && !(strengths as readonly string[]).includes(name));
const list: readonly Field[] = [...own.slice(0, 1), { ...driveField, hint: 'left open: causes of every drive' }, ...own.slice(1), ...[...pulleyFields, ...bobbinFields].map(({ first: _, ...f }): Field => f)];

function toQuestion(flat: Flat): FromFlat {
  const { question, places, issues } = wheelQuestion(flat, singles, paths);
  const said: unknown[] = [];
  const put = (name: string, values: readonly string[], make: (value: string) => unknown): void => {
    for (const value of values) { places.set(`/signs/${said.length}`, name); said.push(make(value)); }
  };
  const marked = new Set(strengths.flatMap((s) => flat[s] ?? []));
  put('sign', (flat['sign'] ?? []).filter((s) => !marked.has(s)), (sign) => sign);
  for (const strength of strengths) put(strength, flat[strength] ?? [], (sign) => ({ sign, strength }));
  places.set('/signs', 'sign');
  const listed: Record<string, unknown> = said.length === 0 ? {} : { signs: said };
  for (const [name, key] of Object.entries(lists)) {
    places.set(`/${key}`, name);
    if (flat[name] !== undefined) listed[key] = flat[name];
  }
  return { question: { ...listed, ...question }, places, issues };
}
export const fields: FieldSet = { list, toQuestion };
