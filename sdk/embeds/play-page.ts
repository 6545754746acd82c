/** Makes the wheel on the front page turn at once, without being sent: the same form, the same picture. */
import { h, svgElement } from './h.js';
import { withoutStyle } from '../../services/foundation/drawing.js';
import { mostTurns, play } from './play.js';

const form = document.querySelector<HTMLFormElement>('form.play');
const shown = document.querySelector<HTMLElement>('.played');
/** Whether there is a wheel to play with on this page. */
export const playing = form !== null && shown !== null;
if (form !== null && shown !== null) start(form, shown);

function start(form: HTMLFormElement, shown: HTMLElement): void {
  const named = <E extends HTMLElement>(name: string): E => form.elements.namedItem(name) as unknown as E;
  const [wheel, pair, full, turns] = [named<HTMLSelectElement>('wheel'), named<HTMLSelectElement>('pair'), named<HTMLInputElement>('full'), named<HTMLInputElement>('turns')];
  const status = h('p', { role: 'status', class: 'unseen' });
  form.append(status);
  form.querySelector('button')!.hidden = true;
  form.querySelector('#p-turns-hint')?.append('; or take the wheel itself and turn it');
  const still = matchMedia('(prefers-reduced-motion: reduce)');
  let timer: ReturnType<typeof setTimeout> | undefined;

  const show = (): void => {
    const now = play({ wheel: wheel.value, pair: Number(pair.value), full: Number(full.value) / 100, turns: still.matches ? 0 : Number(turns.value) });
    if ([...pair.options].map((o) => o.label).join() !== now.pairs.join()) pair.replaceChildren(...now.pairs.map((name, i) => h('option', { value: String(i) }, name)));
    shown.querySelector('figure')!.replaceChildren(svgElement(withoutStyle(now.picture)));
    shown.querySelector('dl')!.replaceChildren(...now.facts.flatMap(([what, text]) => [h('dt', {}, what), h('dd', {}, text)]));
    shown.querySelector('.sentence')!.textContent = now.sentence;
    clearTimeout(timer);
    timer = setTimeout(() => { status.textContent = `${now.facts.map(([what, text]) => `${what}: ${text}.`).join(' ')} ${now.sentence}`; }, 700);
  };
  form.addEventListener('input', (e) => { if (e.target === wheel) pair.replaceChildren(); show(); });
  form.addEventListener('submit', (e) => { e.preventDefault(); show(); });

  // The wheel itself may be taken by its rim.
  const angleOf = (e: PointerEvent): { angle: number; on: boolean } | undefined => {
    const svg = shown.querySelector('svg');
    const hub = svg?.querySelector('[data-wheel]')?.getAttribute('data-wheel')?.split(' ').map(Number);
    if (svg == null || hub === undefined) return undefined;
    const box = svg.getBoundingClientRect();
    const unit = svg.viewBox.baseVal.width / box.width;
    const [x, y] = [(e.clientX - box.left) * unit - hub[0]!, (e.clientY - box.top) * unit - hub[1]!];
    return { angle: Math.atan2(y, x) / (2 * Math.PI), on: Math.hypot(x, y) <= hub[2]! };
  };
  let last: number | undefined;
  shown.addEventListener('pointerdown', (e) => {
    const at = angleOf(e);
    if (at?.on !== true || e.button !== 0) return;
    last = at.angle;
    shown.setPointerCapture(e.pointerId);
    e.preventDefault();
  });
  shown.addEventListener('pointermove', (e) => {
    const at = angleOf(e);
    if (last === undefined || at === undefined) return;
    const by = ((at.angle - last + 1.5) % 1) - 0.5;
    last = at.angle;
    turns.value = String(Math.min(Math.max(Number(turns.value) + by, 0), mostTurns));
    show();
  });
  for (const end of ['pointerup', 'pointercancel']) shown.addEventListener(end, () => { last = undefined; });
}

/** Snippets are copied by a button, where the page may write to the clipboard. */
for (const box of document.querySelectorAll<HTMLElement>('.snippet')) {
  const button = h('button', { type: 'button' }, 'Copy');
  button.addEventListener('click', () => {
    void navigator.clipboard?.writeText(box.querySelector('pre')!.textContent ?? '').then(() => { button.textContent = 'Copied'; }, () => { button.textContent = 'Mark it and copy by hand'; });
  });
  if (navigator.clipboard !== undefined) box.append(button);
}
