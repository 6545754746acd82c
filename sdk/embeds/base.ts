/**
 * What every embed is: a custom element made of a calculation's own fields, answer and picture. It computes in the page.
 * No cookie, no storage, nothing from elsewhere; only a wheel named by its id is fetched, from the service named.
 */
import type { Reply } from '../../services/calculations/calculation.js';
import { footer, pictureStyle, withoutStyle } from '../../services/foundation/drawing.js';
import { placeOf, type Field, type FieldSet } from '../../services/foundation/fields.js';
import { plainUnitSaid, withPlainUnit, type System } from '../../services/foundation/plain-numbers.js';
import type { ProblemError } from '../../services/foundation/problems.js';
import type { UnitChoice } from '../../services/foundation/quantity.js';
import type { Say, Told } from '../../services/foundation/telling.js';
import { formOf, type Form } from './form.js';
import { h, svgElement } from './h.js';
import { codeOf, languageOf, type Language, type Languages, type Words } from './language.js';
import { localNumber } from './numbers.js';
import { style } from './style.js';

export interface Embedded {
  readonly id: string;
  readonly title: string;
  readonly fields: FieldSet;
  /** What answers and words the answer: far heavier than the form, so it is loaded while the form stands already. */
  answering(): Promise<Answering>;
  /** Loaded when there is something to draw. */
  picture?(): Promise<(question: unknown, options: { units: UnitChoice }) => string>;
  readonly languages: Languages;
}

export interface Answering {
  answer(question: unknown, options: { units: UnitChoice }): Reply<unknown>;
  tell(calculation: string, result: unknown, question?: unknown, say?: Say): Told;
  inWords(text: string, fields: readonly Field[]): string;
  show(reply: Reply<unknown>, told: Told, language: Language): Node[];
}

const kebab = (name: string): string => name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);
let sheet: CSSStyleSheet | undefined;

/** Defines `<wheelgrist-{id}>`, unless something on the page has; gives its name. */
export function define(calculation: Embedded): string {
  const name = `wheelgrist-${calculation.id}`;
  if (typeof customElements === 'undefined' || customElements.get(name) !== undefined) return name;
  const { fields } = calculation;
  let answering: Answering | undefined;
  const byAttribute = new Map(fields.list.flatMap((f) => [[kebab(f.name), f.name], [f.name.toLowerCase(), f.name]]));

  customElements.define(name, class extends HTMLElement {
    static readonly formAssociated = true;
    static readonly observedAttributes = [...byAttribute.keys(), 'wheel', 'service', 'units', 'lang'];
    private readonly inside = this.attachInternals();
    private readonly root = this.attachShadow({ mode: 'open', delegatesFocus: true });
    private made: Form | undefined;
    private language = languageOf('en', undefined);
    private out = h('div', { part: 'answer', class: 'answer' });
    private drawn = h('div', { part: 'picture', class: 'drawn', role: 'group', 'aria-labelledby': 'title' });
    private status = h('p', { role: 'status', class: 'hidden' });
    private link = h('a', { part: 'link' });
    private timer: ReturnType<typeof setTimeout> | undefined;
    private wheel: unknown;
    private away = false;
    private asked = 0;
    private shown: string | undefined;
    private seen: unknown;
    private told: Told | undefined;
    private loading = false;
    private failed = false;
    /** The last answer, or undefined. */
    reply: Reply<unknown> | undefined;

    connectedCallback(): void {
      if (this.made !== undefined) return;
      if (sheet === undefined) {
        sheet = new CSSStyleSheet();
        sheet.replaceSync(pictureStyle + style);
      }
      this.root.adoptedStyleSheets = [sheet];
      void this.speak();
      void this.fetchWheel();
    }

    /** Builds the form in the language of the page; what stands in the boxes stays. */
    private async speak(): Promise<void> {
      const tag = this.closest('[lang]')?.getAttribute('lang') ?? 'en';
      const load = calculation.languages[codeOf(tag)];
      let words: Words | undefined;
      try {
        // Without waiting where nothing is to be loaded.
        if (load !== undefined) words = await load();
      } catch {
        // In English, then.
      }
      if (this.language.tag === tag && this.made !== undefined) return;
      this.language = languageOf(tag, words);
      this.build();
    }

    private build(): void {
      const { say, dir } = this.language;
      const before = this.made;
      const focused = this.root.activeElement?.id;
      const made = (this.made = formOf(calculation.title, fields, this.language));
      made.form.addEventListener('submit', (e) => { e.preventDefault(); this.ask(true); });
      made.form.addEventListener('input', () => { this.failed = false; this.ask(false); });
      made.form.addEventListener('change', () => this.ask(true));
      this.link.textContent = say('This as a page');
      this.root.replaceChildren(h('div', { class: 'wg-picture all', dir, lang: dir === 'rtl' || say('left open') !== 'left open' ? this.language.tag : 'en' }, made.form, this.out, this.drawn, this.status, h('p', { class: 'foot', part: 'footer' }, h('span', {}, `${say(footer)} `), this.link)));
      if (before === undefined) for (const { name: a, value } of this.attributes) this.take(a, value);
      else {
        for (const [field, box] of made.boxes) box.value = before.boxes.get(field)!.value;
        made.units.value = before.units.value;
        if (focused !== undefined) this.root.getElementById(focused)?.focus();
      }
      this.shown = undefined;
      this.ask(true);
    }

    /** Loads what answers, and asks again once it is there. */
    private async prepare(): Promise<void> {
      if (this.loading) return;
      this.loading = true;
      try {
        answering = await calculation.answering();
      } catch {
        this.failed = true;
      }
      this.loading = false;
      this.ask(true);
    }

    attributeChangedCallback(attribute: string, before: string | null, value: string | null): void {
      if (this.made === undefined || before === value) return;
      this.take(attribute, value ?? '');
      if (attribute === 'wheel' || attribute === 'service') void this.fetchWheel();
      if (attribute === 'lang') void this.speak();
      else this.ask(true);
    }
    formResetCallback(): void {
      for (const box of this.made?.boxes.values() ?? []) box.value = '';
      for (const { name: a, value } of this.attributes) this.take(a, value);
      this.ask(true);
    }
    formDisabledCallback(disabled: boolean): void { if (this.made !== undefined) for (const box of [...this.made.boxes.values(), this.made.units]) box.disabled = disabled; }

    private take(attribute: string, value: string): void {
      const box = this.made?.boxes.get(byAttribute.get(attribute) ?? '');
      if (box !== undefined) box.value = value;
      else if (attribute === 'units' && this.made !== undefined) this.made.units.value = value === 'imperial' ? value : 'metric';
    }

    /** What is asked, as flat text. */
    private flat({ boxes, units }: Form): Record<string, string[]> {
      const flat: Record<string, string[]> = {};
      for (const f of fields.list) {
        if (this.wheel !== undefined && f.ofWheel === true) continue;
        const { value } = boxes.get(f.name)!;
        const values = (f.repeats === true ? value.split(/[;؛]/) : [value]).filter((v) => v.trim() !== '');
        if (values.length > 0) flat[f.name] = f.choices === undefined && f.kind !== 'text' ? values.map((v) => withPlainUnit(localNumber(v.trim(), this.language.tag), f.kind, units.value as System)) : values;
      }
      return flat;
    }

    /** Computes and shows. What is wrong is said only once a box is left: nobody is told off while typing. */
    private ask(settled: boolean): void {
      const { made, language } = this;
      if (made === undefined) return;
      const { say } = language;
      const system = made.units.value as System;
      for (const span of this.root.querySelectorAll<HTMLElement>('.unit')) span.textContent = say(plainUnitSaid(span.dataset['kind']!, system) ?? '');
      const flat = this.flat(made);
      const query = new URLSearchParams(Object.entries(flat).flatMap(([k, list]) => list.map((v) => [k, v])));
      if (system === 'imperial') query.set('units', system);
      this.inside.setFormValue(String(query));
      const page = this.querySelector('a')?.href ?? (this.service === undefined ? undefined : `${this.service}/calculate/${calculation.id}`);
      this.link.hidden = page === undefined;
      if (page !== undefined) this.link.href = `${page.split('?')[0]}?${query}`;

      const { question, places, issues } = fields.toQuestion(flat);
      if (this.wheel !== undefined) question['wheel'] = this.wheel;
      const wrong = new Map<string, string>();
      const needed: string[] = this.away ? [say('The wheel could not be fetched. Its measures can be typed in.')] : [];
      this.reply = undefined;
      const units: UnitChoice = { system };
      const ready = answering;
      if (ready === undefined) {
        if (this.failed) needed.push(say('The calculator could not be loaded. It is tried again as soon as you type.'));
        else void this.prepare();
      } else if (Object.keys(flat).length === 0 && this.wheel === undefined) needed.push(say(fields.list[0]!.choices?.[0]?.group === undefined ? 'Fill in what you have measured.' : 'Tick what you notice.'));
      else {
        try {
          const reply = ready.answer(question, { units });
          if (issues.length === 0) this.reply = reply;
        } catch (error) {
          const found = (error as Partial<ProblemError>).issues;
          if (found === undefined) throw error;
          for (const i of [...issues, ...found]) {
            const field = i.parameter ?? placeOf(places, i.pointer ?? '');
            const label = fields.list.find((f) => f.name === field)?.label;
            // Another language says what kind of thing is wrong, and where; English says it in full.
            const text = language.translates(i.code) ? say(i.code) : ready.inWords(`${i.detail}${i.expected === undefined || i.code === 'missing-field' ? '' : ` Expected: ${i.expected}.`}`, fields.list);
            if (i.code === 'missing-field' || field === undefined || label === undefined) needed.push(language.translates(i.code) && label !== undefined ? `${say(label)}: ${text}` : text);
            else wrong.set(field, text);
          }
        }
      }
      for (const [field, p] of made.wrongs) {
        const text = wrong.get(field);
        if (text === undefined || settled) {
          p.textContent = text ?? '';
          made.boxes.get(field)!.setAttribute('aria-invalid', String(text !== undefined));
        }
      }
      // Leaving a box changes nothing that is shown already: what is being clicked at must stay where it is.
      const shown = `${query} ${system} ${this.away} ${this.failed} ${ready !== undefined}`;
      if (shown === this.shown && this.wheel === this.seen) { this.announce(this.told, settled ? [...needed, ...wrong.values()] : needed); return; }
      [this.shown, this.seen] = [shown, this.wheel];
      const told = this.reply === undefined ? undefined : ready!.tell(calculation.id, this.reply.result, question, say);
      this.told = told;
      const open = this.out.querySelector('details')?.open === true;
      this.out.replaceChildren(...(told === undefined ? [...new Set(needed)].map((t) => h('p', {}, t)) : ready!.show(this.reply!, told, language)));
      if (open) this.out.querySelector('details')?.setAttribute('open', '');
      void this.draw(question, units);
      this.announce(told, [...needed, ...(settled ? wrong.values() : [])]);
      this.dispatchEvent(new CustomEvent('wheelgrist-answer', { bubbles: true, composed: true, detail: this.reply }));
    }

    /** Says it once typing rests. */
    private announce(told: Told | undefined, problems: readonly string[]): void {
      clearTimeout(this.timer);
      const { say, number } = this.language;
      const text = told === undefined ? problems.join(' ') : [...this.reply!.cautions.map((c) => `${say('Caution.')} ${say(c.text)}`), ...told.numbers.map((x) => `${told.label} ${x.of} ${number(x.text)}.`), number(told.sentences.join(' '))].join(' ');
      this.timer = setTimeout(() => { this.status.textContent = text; }, 600);
    }

    private async draw(question: unknown, units: UnitChoice): Promise<void> {
      const turn = ++this.asked;
      if (this.reply === undefined || calculation.picture === undefined) { this.drawn.replaceChildren(); return; }
      try {
        const make = await calculation.picture();
        if (turn !== this.asked) return;
        this.drawn.replaceChildren(this.inLanguage(svgElement(withoutStyle(make(question, { units })))));
        // Where there is little room a picture keeps its size, so that its words can be read, and is moved sideways: by keys too.
        if (this.drawn.scrollWidth > this.drawn.clientWidth) this.drawn.tabIndex = 0;
        else this.drawn.removeAttribute('tabindex');
      } catch {
        // Without its picture the answer still stands.
        this.drawn.replaceChildren();
      }
    }
    /** Words of a picture that have a translation, and its numbers as they are written there. */
    private inLanguage(svg: Element): Element {
      const { say, number, tag } = this.language;
      if (tag !== 'en') for (const text of svg.querySelectorAll('text')) text.textContent = number(say(text.textContent ?? ''));
      return svg;
    }

    private get service(): string | undefined { return this.getAttribute('service')?.replace(/\/$/, ''); }

    private async fetchWheel(): Promise<void> {
      const id = this.getAttribute('wheel');
      const before = this.wheel;
      this.wheel = undefined;
      if (id !== null && this.service !== undefined) {
        try {
          const answer = await fetch(`${this.service}/v1/wheels/${encodeURIComponent(id)}`, { credentials: 'omit' });
          if (answer.ok && this.getAttribute('wheel') === id) {
            const { effective, id: _, revision, visibility, ...own } = (await answer.json()) as Record<string, unknown>;
            this.wheel = effective ?? own;
          }
        } catch {
          // The boxes stay open: the wheel can be typed in.
        }
      }
      this.away = id !== null && this.wheel === undefined;
      this.toggleAttribute('has-wheel', this.wheel !== undefined);
      if (this.wheel !== before || this.away) this.ask(true);
    }
  });
  return name;
}
