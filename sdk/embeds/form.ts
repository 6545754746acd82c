/** The boxes of an element, made of a calculation's fields, in the reader's language. */
import type { Field, FieldSet } from '../../services/foundation/fields.js';
import { h } from './h.js';
import type { Language } from './language.js';

export interface Form {
  readonly form: HTMLFormElement;
  readonly boxes: ReadonlyMap<string, HTMLInputElement | HTMLSelectElement>;
  readonly wrongs: ReadonlyMap<string, HTMLElement>;
  readonly units: HTMLSelectElement;
}

export function formOf(title: string, fields: FieldSet, { say }: Language): Form {
  const boxes = new Map<string, HTMLInputElement | HTMLSelectElement>();
  const wrongs = new Map<string, HTMLElement>();
  const fieldOf = (f: Field): HTMLElement => {
    const plain = f.choices === undefined;
    const box = plain
      ? h('input', { type: 'text', inputmode: f.kind === 'text' ? undefined : 'decimal', autocomplete: 'off', spellcheck: 'false', maxlength: '200', dir: f.kind === 'text' ? 'auto' : 'ltr' })
      : h('select', {}, h('option', { value: '' }, say('left open')), ...f.choices.map((c) => h('option', { value: c.value }, say(c.label))));
    const described = `${f.hint === undefined && f.repeats !== true ? '' : `${f.name}-hint `}${f.name}-wrong`;
    for (const [k, v] of Object.entries({ id: f.name, part: 'input', 'aria-describedby': described })) box.setAttribute(k, v);
    const wrong = h('p', { id: `${f.name}-wrong`, class: 'wrong', part: 'error' });
    boxes.set(f.name, box);
    wrongs.set(f.name, wrong);
    const hint = [f.hint, f.repeats === true ? 'several: 60; 45' : undefined].flatMap((x) => (x === undefined ? [] : [say(x)])).join('; ');
    return h('div', { part: 'field', class: f.ofWheel === true ? 'field of-wheel' : 'field' }, h('div', { class: 'head' }, h('label', { for: f.name, part: 'label' }, say(f.label)), h('span', { id: `${f.name}-hint`, class: 'hint' }, hint)),
      h('div', {}, h('div', { class: 'box' }, box, ...(plain ? [h('span', { class: 'unit', 'data-kind': f.kind })] : [])), wrong));
  };
  const first = fields.list.filter((f) => f.first === true).map(fieldOf);
  const more = fields.list.filter((f) => f.first !== true).map(fieldOf);
  const units = h('select', { id: 'units', part: 'input' }, h('option', { value: 'metric' }, say('millimetres and grams')), h('option', { value: 'imperial' }, say('inches and ounces')));
  const form = h('form', { part: 'form', 'aria-labelledby': 'title', autocomplete: 'off' }, h('p', { id: 'title', part: 'title', class: 'title' }, say(title)),
    h('div', { class: 'fields' }, ...first),
    ...(more.length > 0 ? [h('details', { part: 'more' }, h('summary', {}, say('More measures, and other ways to give them')), h('div', { class: 'fields' }, ...more))] : []),
    h('div', { class: 'fields' }, h('div', {}, h('label', { for: 'units', part: 'label' }, say('I work in')), h('span', { class: 'hint' }, say('for numbers without a unit, and for the answer')), h('div', { class: 'box' }, units))));
  return { form, boxes, wrongs, units };
}
