/** An answer as elements: cautions, then the number, then what it means, then the rest. Loaded with the answer. */
import type { Reply } from '../../services/calculations/calculation.js';
import type { Told } from '../../services/foundation/telling.js';
import { h } from './h.js';
import type { Language } from './language.js';

/** A text that there is in English only is named as English, so that it is read and set as that. */
const spoken = (l: Language, text: string): Node => h('span', l.has(text) ? {} : { lang: 'en', dir: 'ltr' }, l.say(text));
const noted = (l: Language, kind: string, word: string, text: string): Node => h('p', { class: kind, part: kind }, h('b', {}, l.say(word)), ' ', spoken(l, text));

/** What comes first, then a card for each cause, its own cautions on top. */
function showAdvice(reply: Reply<unknown>, told: Told, advice: NonNullable<Told['advice']>, l: Language): Node[] {
  const lines = (texts: readonly string[]): Node => h('ul', {}, ...texts.map((t) => h('li', {}, spoken(l, t))));
  return [
    ...reply.cautions.map((c) => noted(l, 'caution', 'Caution.', c.text)),
    h('p', { part: 'sentence' }, told.sentences.at(-1) ?? ''), lines(advice.doFirst),
    h('ol', { class: 'cards' }, ...advice.cards.map((c) => h('li', { part: 'card' }, h('p', { class: 'title' }, spoken(l, c.name), h('span', { class: 'hint' }, [c.fit, c.mark ?? ''].filter((t) => t !== '').join('; '))),
      ...c.cautions.map((t) => noted(l, 'caution', 'Caution.', t)), ...c.lines.map((x) => h('p', {}, h('b', {}, `${l.say(x.label)}: `), spoken(l, x.text)))))),
    ...reply.warnings.map((w) => noted(l, 'look', 'Look at this.', w.text)),
    ...advice.lists.flatMap((x) => [h('p', { class: 'title' }, l.say(x.title)), lines(x.items)]),
    h('details', { part: 'full' }, h('summary', {}, l.say('What was taken for granted')), lines(reply.assumptions.map((a) => a.text))),
  ];
}

export function show(reply: Reply<unknown>, told: Told, l: Language): Node[] {
  if (told.advice !== undefined) return showAdvice(reply, told, told.advice, l);
  const number = (text: string): Node => h('bdi', {}, l.number(text));
  const part = (p: Told['parts'][number]): Node[] => [
    ...(p.title === '' ? [] : [h('p', { class: 'title' }, p.title)]),
    ...(p.facts.length === 0 ? [] : [h('dl', {}, ...p.facts.flatMap((f) => [h('dt', {}, f.label), h('dd', {}, number(f.text))]))]),
    ...p.tables.map((t) => h('div', { class: t.heads.length > 5 ? 'wide' : undefined }, h('table', { part: 'table' }, ...(t.title === undefined ? [] : [h('caption', {}, t.title)]), h('thead', {}, h('tr', {}, ...t.heads.map((x) => h('th', { scope: 'col' }, x)))),
      h('tbody', {}, ...t.rows.map((row) => h('tr', {}, ...row.map((cell, i) => h('td', { 'data-head': t.heads[i], ...(cell.length > 40 && { class: 'long' }) }, h('span', {}, number(cell)))))))))),
  ];
  return [
    ...reply.cautions.map((c) => noted(l, 'caution', 'Caution.', c.text)),
    h('ul', { class: 'numbers' }, ...told.numbers.map((x) => h('li', {}, h('strong', { part: 'number' }, number(x.text)), ` ${[told.label, x.of].filter((t) => t !== '').join(', ')}`))),
    ...(told.sentences.length === 0 ? [] : [h('p', { part: 'sentence' }, l.number(told.sentences.join(' ')))]),
    ...reply.warnings.map((w) => noted(l, 'look', 'Look at this.', w.text)),
    h('details', { part: 'full' }, h('summary', {}, l.say('In full, and what was taken for granted')), h('ul', {}, ...reply.assumptions.map((a) => h('li', {}, ...[a.text, a.range === undefined ? undefined : `It may be otherwise: ${a.range}.`, a.effect].flatMap((t) => (t === undefined ? [] : [spoken(l, t), ' ']))))), ...told.parts.flatMap(part)),
  ];
}
