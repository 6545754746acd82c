/** The boxes of an element, made of a calculation's fields, in the reader's language. */
import type { Field, FieldSet } from '../../services/foundation/fields.js';
import { h } from './h.js';
import type { Language } from './language.js';

/** A box of a form: what was typed, chosen or ticked as one text, several parted by semicolons. */
export type Box = HTMLElement & { value: string; disabled: boolean };
/** Choices of which several may be ticked, group by group; a group opens with a press, the first is open. */
function checkList(f: Field, say: Language['say']): Box {
  const boxes = f.choices!.map((c) => h('input', { type: 'checkbox', value: c.value }));
  const groups = [...new Set(f.choices!.map((c) => c.group))];
  const list = h('div', { role: 'group', 'aria-label': say(f.label), class: 'ticks' }, ...groups.map((group, n) => {
    const lines = f.choices!.flatMap((c, i) => (c.group === group ? [h('label', { class: 'tick' }, boxes[i]!, ` ${say(c.label)}`)] : []));
    return group === undefined ? h('div', {}, ...lines) : h('details', n === 0 && f.first === true ? { open: '' } : {}, h('summary', {}, say(group)), ...lines);
  }));
  return Object.defineProperties(list, {
    value: { get: () => boxes.filter((b) => b.checked).map((b) => b.value).join(';'), set: (text: string) => { const on = text.split(';').map((one) => one.trim()); for (const b of boxes) b.checked = on.includes(b.value); } },
    disabled: { set: (off: boolean) => { for (const b of boxes) b.disabled = off; } },
  }) as unknown as Box;
}

export interface Form {
  readonly form: HTMLFormElement;
  readonly boxes: ReadonlyMap<string, Box>;
  readonly wrongs: ReadonlyMap<string, HTMLElement>;
  readonly units: HTMLSelectElement;
}

export function formOf(title: string, fields: FieldSet, { say }: Language): Form {
  const boxes = new Map<string, Box>();
  const wrongs = new Map<string, HTMLElement>();
  const fieldOf = (f: Field): HTMLElement => {
    const plain = f.choices === undefined;
    const box = plain
      ? h('input', { type: 'text', inputmode: f.kind === 'text' ? undefined : 'decimal', autocomplete: 'off', spellcheck: 'false', maxlength: '200', dir: f.kind === 'text' ? 'auto' : 'ltr' })
      : f.repeats === true && f.choices.length > 4 ? checkList(f, say) : h('select', {}, h('option', { value: '' }, say('left open')), ...f.choices.map((c) => h('option', { value: c.value }, say(c.label))));
    const described = `${f.hint === undefined && f.repeats !== true ? '' : `${f.name}-hint `}${f.name}-wrong`;
    for (const [k, v] of Object.entries({ id: f.name, part: 'input', 'aria-describedby': described })) box.setAttribute(k, v);
    const wrong = h('p', { id: `${f.name}-wrong`, class: 'wrong', part: 'error' });
    boxes.set(f.name, box);
    wrongs.set(f.name, wrong);
    const hint = [f.hint, f.repeats === true && plain ? 'several: 60; 45' : undefined].flatMap((x) => (x === undefined ? [] : [say(x)])).join('; ');
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
