/** The front page: what this is, a wheel to look at, and where to go on. */
import type { Calculation } from '../calculations/calculation.js';
import { html, trusted } from './html.js';
import type { Page } from './layout.js';
import { figureOf, snippet } from './results.js';

const drawn = { drive: 'double-drive', driveWheel: '560 mm', band: '2 mm', whorl: '60 mm', bobbin: '48 mm' } as const;

export function frontPage(calculations: readonly Calculation[], hasEmbed: (id: string) => boolean, hasLibrary: boolean, origin: string, embedAddress: string | undefined): Page {
  const ratio = calculations.find((c) => c.id === 'ratio');
  const demo = ratio?.contract.example;
  const attributes = Object.entries(drawn).map(([k, v]) => [k.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`), v] as const);
  const query = new URLSearchParams(drawn).toString();
  const withEmbed = ratio !== undefined && hasEmbed('ratio') && embedAddress !== undefined;
  return {
    title: '', description: 'Spinning-wheel maths: drive ratio, take-up, twist and grist from what you can measure at the wheel.',
    ...(withEmbed ? { head: html`<script type="module" src="${embedAddress}"></script>` } : {}),
    body: html`<h1>What your wheel does, in numbers</h1>
<p class="lead">Measure the wheel, its whorls and its bobbins. Wheelgrist works out what they do, how sure that is, and what was taken for granted on the way.</p>
<div class="two wide">${ratio === undefined || demo === undefined ? '' : figureOf(ratio.picture?.(demo) ?? '', 'A demonstration wheel: each circle as it is measured, each line as far as the part turns.')}
<div><h2>Work it out</h2><ul class="cards">${calculations.map((c) => html`<li><a href="/calculate/${c.id}">${c.title}</a><p>${c.summary}</p></li>`)}</ul>${hasLibrary ? html`<p>Or begin from <a href="/wheels">a wheel of the library</a>, with its sheet to print.</p>` : ''}</div></div>
<h2>How it answers</h2>
<ul><li><b>As you measured it.</b> A fraction of an inch, a string round the rim, one turn of the band itself, a stamped ratio, ten counted turns: each is read for what it is.</li>
<li><b>How sure it is.</b> Give a measure with its ±, and the answer has one. Leave out the thickness of the band, and the answer says from where to where.</li>
<li><b>Nothing guessed.</b> A measure without its unit is asked for again. What was taken for granted stands below the number.</li>
<li><b>Cautions first.</b> What could hurt you or an old wheel stands above the number.</li></ul>
${withEmbed ? html`<h2>On your guild’s own page</h2><p>Two lines put this calculator on a page. It works in the page itself and asks nothing of anybody.</p>
<div class="two wide"><div>${trusted(snippet(ratio, { origin: '', query, attributes }).split('\n')[1]!)}</div><div><pre>${snippet(ratio, { origin, query, attributes })}</pre>
<p class="soft">Without scripts the link stays, and leads to the same calculator here. Fonts, colours and corners follow your page by <code>--wheelgrist-ink</code>, <code>--wheelgrist-ground</code> and the like, and by <code>::part(input)</code>. With <code>service</code> and <code>wheel</code> it begins from a wheel of the library.</p></div></div>` : ''}
<h2>For programs</h2><p>Every page has its address in the service. <a href="/docs">The documentation</a> lists them all; <a href="/problems">what can go wrong</a> has a page for each refusal.</p>
${ratio === undefined ? '' : html`<pre>curl '${`${origin}/v1/ratio?${ratio.contract.exampleQuery}`}'</pre>`}` };
}
