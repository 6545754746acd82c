/** Words of the embeds in other languages: none that an embed shows is left in English unnoticed. */
import { describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { tell } from '../../services/foundation/telling.js';
import { codeOf, languageOf } from '../../sdk/embeds/language.js';
import { column, rows } from '../../sdk/embeds/words/rows.js';

/** The same in every language: letters of directions, units, wool grades, standards, and examples as they are typed. */
const signs = /^(?:[ZS]|d?tex|\d\ds|ASTM D1909|GB 9994|\d[\d.]* ?(?:mm|yd\/lb)?[\d ./,a-zA-Z]*)$/;
/** What a diagnosis says of a cause is English, and marked as that: known, and named in DEVELOPERS.md. */
const ofCauses = (id: string): boolean => id === 'diagnosis';

describe.each([['de', 1], ['fr', 2], ['sv', 3], ['ar', 4]] as const)('%s', (tag, at) => {
  const words = column(at);
  const missing = (texts: Iterable<string>): string[] => [...new Set(texts)].filter((text) => text !== '' && !signs.test(text) && !(text in words) && !languageOf(tag, words).translates(text));
  it.each(calculations.map((c) => [c.id, c] as const))('%s: title, boxes, choices and what is told of its example', (id, { fields, answer, contract }) => {
    const shown = fields.list.flatMap((f) => [f.label, f.hint ?? '', ...(f.choices ?? []).flatMap((c) => [c.label, c.group ?? ''])]);
    expect(missing(shown)).toEqual([]);
    const said = new Set<string>();
    const { result } = answer(contract.example);
    const told = tell(id, result, contract.example, (text) => { said.add(text); return text; });
    if (ofCauses(id)) expect(missing([...told.sentences, ...told.advice!.doFirst, ...told.advice!.cards.flatMap((c) => c.lines.map((l) => l.label)), ...told.advice!.lists.map((l) => l.title)])).toEqual([]);
    else expect(missing(said)).toEqual([]);
  });
  it('keeps the place of each number, and is of its own script', () => {
    const places = (text: string): number => text.split('{}').length;
    expect(rows.filter((row) => row[at] === '' || places(row[at]) !== places(row[0])).map(([en]) => en)).toEqual([]);
    if (codeOf(tag) === 'ar') expect(rows.filter((row) => !/[\u0600-\u06ff]/.test(row[at])).map(([en]) => en)).toEqual([]);
  });
});
