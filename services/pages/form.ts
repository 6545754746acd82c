/** A calculation's form, made of its fields, with what was typed and what is wrong with it. */
import type { Calculation } from '../calculations/calculation.js';
import type { Field } from '../foundation/fields.js';
import { plainUnitSaid, type System } from '../foundation/plain-numbers.js';
import type { Issue } from '../foundation/problems.js';
import { inWords } from '../foundation/telling.js';
import type { Query } from '../http/query.js';
import { attribute, html, type Html } from './html.js';

export interface Typed { readonly values: Query; readonly system: System; readonly issues: readonly Issue[] }

/** What is wrong; `whole` with what was read and what was expected. */
export function issueOf(issue: Issue, fields: readonly Field[], whole: boolean): Html {
  const say = (text: string): string => inWords(text, fields);
  const mended = issue.try !== undefined && /^\//.test(issue.try) ? issue.try : undefined;
  return html`${issue.code === 'unknown-field' ? issue.detail : say(issue.detail)} ${!whole || issue.received === undefined || issue.received === 'nothing' ? '' : html`<span class="soft">Read: <span class="read">${issue.code === 'one-of' ? say(issue.received) : issue.received}</span>.</span> `}${!whole || issue.expected === undefined ? '' : html`<span class="soft">Expected: ${say(issue.expected)}.</span>`}${
    issue.try === undefined ? '' : mended === undefined ? html` Try <span class="read">${issue.try}</span>.` : html` <a href="${mended}">Ask it mended</a>`}`;
}

const idOf = (name: string, i = 0): string => `f-${name}${i === 0 ? '' : `-${i + 1}`}`;
const numeric = (f: Field, system: System): boolean => f.kind === 'number' || f.kind === 'ratio' || plainUnitSaid(f.kind, system) !== undefined;

type Choices = NonNullable<Field['choices']>;
const groupsOf = (choices: Choices): (readonly [string | undefined, Choices])[] => [...new Set(choices.map((c) => c.group))].map((group) => [group, choices.filter((c) => c.group === group)]);

/** Of many choices several may be ticked: group by group, the first open, and others where something is ticked. */
const ticked = (f: Field): boolean => f.repeats === true && f.choices !== undefined && (f.first === true || f.choices[0]!.group === undefined) && f.choices.length > 4;
function ticks(f: Field, typed: Typed): Html {
  const on = typed.values[f.name] ?? [];
  const wrong = typed.issues.filter((x) => x.parameter === f.name);
  const line = (c: Choices[number]): Html => html`<label class="tick"><input type="checkbox" name="${f.name}" value="${c.value}"${attribute('checked', on.includes(c.value) ? true : undefined)}> ${c.label}</label>`;
  return html`<fieldset class="field ticks" id="${idOf(f.name)}"><legend>${f.label}</legend>${wrong.map((x) => html`<p class="wrong">${issueOf(x, [f], true)}</p>`)}<div>${groupsOf(f.choices!).map(([group, list], i) => (group === undefined ? html`<div class="group">${list.map(line)}</div>`
    : html`<details class="group"${attribute('open', i === 0 || list.some((c) => on.includes(c.value)) ? true : undefined)}><summary>${group}</summary>${list.map(line)}</details>`))}</div></fieldset>`;
}

function control(f: Field, typed: Typed, value: string, i: number, of: number): Html {
  const wrong = typed.issues.filter((x) => x.parameter === f.name && (of < 2 || x.received === undefined || x.received === value || x.received === value.trim()));
  const described = [...(f.hint === undefined && of < 2 ? [] : [`${idOf(f.name)}-hint`]), ...(wrong.length > 0 ? [`${idOf(f.name, i)}-wrong`] : [])].join(' ');
  const shared = html`id="${idOf(f.name, i)}" name="${f.name}"${attribute('aria-invalid', wrong.length > 0 ? 'true' : undefined)}${attribute('aria-describedby', described === '' ? undefined : described)}`;
  const unit = plainUnitSaid(f.kind, typed.system);
  const option = (c: NonNullable<Field['choices']>[number]): Html => html`<option value="${c.value}"${attribute('selected', c.value === value ? true : undefined)}>${c.label}</option>`;
  const box = f.choices === undefined
    ? html`<input type="text" ${shared}${attribute('inputmode', numeric(f, typed.system) ? 'decimal' : undefined)} autocomplete="off" spellcheck="false" maxlength="200" value="${value}"${attribute('aria-label', i === 0 ? undefined : `${f.label}, number ${i + 1}`)}>${unit === undefined ? '' : html`<span class="unit">${unit}</span>`}`
    : html`<select ${shared}><option value="">left open</option>${groupsOf(f.choices).map(([group, list]) => (group === undefined ? list.map(option) : html`<optgroup label="${group}">${list.map(option)}</optgroup>`))}</select>`;
  return html`<div class="box">${box}</div>${wrong.length === 0 ? '' : html`<p class="wrong" id="${idOf(f.name, i)}-wrong">${wrong.map((x) => issueOf(x, [f], true))}</p>`}`;
}

function fieldOf(f: Field, typed: Typed): Html {
  if (ticked(f)) return ticks(f, typed);
  const values = typed.values[f.name] ?? [];
  // A part that may stand more than once has an empty box after those that are filled.
  const boxes = f.repeats === true ? [...values, ''] : [values[0] ?? f.start ?? ''];
  const hint = boxes.length > 1 ? [f.hint, 'a box for each; an empty one is left out'].filter((t) => t !== undefined).join('; ') : f.hint;
  return html`<div class="field"><div class="head"><label for="${idOf(f.name)}">${f.label}</label>${hint === undefined ? '' : html`<span class="hint" id="${idOf(f.name)}-hint">${hint}</span>`}</div>
<div>${boxes.map((value, i) => control(f, typed, value, i, boxes.length))}</div></div>`;
}

/** Signs are ticked, not measured, and the answer is advice. */
export const advises = (calculation: Pick<Calculation, 'id'>): boolean => calculation.id === 'diagnosis';

export function formOf(calculation: Pick<Calculation, 'id' | 'title' | 'fields'>, typed: Typed, action = `/calculate/${calculation.id}`): Html {
  const { list } = calculation.fields;
  const more = list.filter((f) => f.first !== true);
  const open = more.some((f) => typed.values[f.name] !== undefined || typed.issues.some((i) => i.parameter === f.name));
  return html`<form method="get" action="${action}#answer" aria-label="${calculation.title}"><input type="hidden" name="plain" value="yes">
<div class="fields">${list.filter((f) => f.first === true).map((f) => fieldOf(f, typed))}</div>
${more.length === 0 ? '' : html`<details${attribute('open', open ? true : undefined)}><summary>More measures, and other ways to give them</summary><div class="fields">${more.map((f) => fieldOf(f, typed))}</div></details>`}
<div class="send"><div><label for="f-units">I work in</label><span class="hint" id="f-units-hint">for numbers without a unit, and for the answer</span><select id="f-units" name="units" aria-describedby="f-units-hint"><option value="metric">millimetres and grams</option><option value="imperial"${attribute('selected', typed.system === 'imperial' ? true : undefined)}>inches and ounces</option></select></div>
<button type="submit">${advises(calculation) ? 'What may it be?' : 'Work it out'}</button></div>
<p class="soft">A measure may carry its own unit and its ±, as it was taken: <span class="read">22 1/16 in</span>, <span class="read">560 ± 1 mm</span>, <span class="read">18-20 in</span>.</p></form>`;
}
