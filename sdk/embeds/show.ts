/** An answer as elements: cautions, then the number, then what it means, then the rest. Loaded with the answer. */
import type { Reply } from '../../services/calculations/calculation.js';
import type { Told } from '../../services/foundation/telling.js';
import { h } from './h.js';

const noted = (kind: string, word: string, text: string): Node => h('p', { class: kind, part: kind }, h('b', {}, word), ` ${text}`);

export function show(reply: Reply<unknown>, told: Told): Node[] {
  const part = (p: Told['parts'][number]): Node[] => [
    ...(p.title === '' ? [] : [h('p', { class: 'title' }, p.title)]),
    ...(p.facts.length === 0 ? [] : [h('dl', {}, ...p.facts.flatMap((f) => [h('dt', {}, f.label), h('dd', {}, f.text)]))]),
    ...p.tables.map((t) => h('table', { part: 'table' }, ...(t.title === undefined ? [] : [h('caption', {}, t.title)]), h('thead', {}, h('tr', {}, ...t.heads.map((x) => h('th', { scope: 'col' }, x)))),
      h('tbody', {}, ...t.rows.map((row) => h('tr', {}, ...row.map((cell, i) => h('td', { 'data-head': t.heads[i], ...(cell.length > 40 && { class: 'long' }) }, h('span', {}, cell)))))))),
  ];
  return [
    ...reply.cautions.map((c) => noted('caution', 'Caution.', c.text)),
    h('ul', { class: 'numbers' }, ...told.numbers.map((x) => h('li', {}, h('strong', { part: 'number' }, x.text), ` ${[told.label, x.of].filter((t) => t !== '').join(', ')}`))),
    ...(told.sentences.length === 0 ? [] : [h('p', { part: 'sentence' }, told.sentences.join(' '))]),
    ...reply.warnings.map((w) => noted('look', 'Look at this.', w.text)),
    h('details', { part: 'full' }, h('summary', {}, 'In full, and what was taken for granted'), h('ul', {}, ...reply.assumptions.map((a) => h('li', {}, [a.text, a.range === undefined ? undefined : `It may be otherwise: ${a.range}.`, a.effect].filter((t) => t !== undefined).join(' ')))), ...told.parts.flatMap(part)),
  ];
}
