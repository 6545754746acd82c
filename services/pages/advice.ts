/** Advice as HTML: what comes first, then a card for each cause with its own cautions on top, then what to look at. */
import type { Advice } from '../foundation/telling.js';
import { html, type Html } from './html.js';

export function adviceOf({ doFirst, cards, lists }: Advice, sentence: string): Html {
  return html`<p class="lead">${sentence}</p><ul>${doFirst.map((t) => html`<li>${t}</li>`)}</ul>
<ol class="advice">${cards.map((c) => html`<li><h3>${c.name}<span class="fit">${[c.fit, c.mark ?? ''].filter((t) => t !== '').join('; ')}</span></h3>
${c.cautions.map((t) => html`<div class="caution"><p><b>Caution.</b> ${t}</p></div>`)}${c.lines.map((l) => html`<p><b>${l.label}.</b> ${l.text}</p>`)}</li>`)}</ol>
${lists.map((l) => html`<h3>${l.title}</h3><ul>${l.items.map((t) => html`<li>${t}</li>`)}</ul>`)}`;
}
