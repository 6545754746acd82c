/** The front page: a wheel to turn at once, every calculator with what to paste, and where to go on. Works without scripts. */
import { play, playableWheels, mostTurns } from '../../sdk/embeds/play.js';
import type { Calculation } from '../calculations/calculation.js';
import type { Query } from '../http/query.js';
import { attribute, html, trusted, type Html } from './html.js';
import type { Page } from './layout.js';
import { figureOf, snippet } from './results.js';

const drawn = { drive: 'double-drive', driveWheel: '560 mm', band: '2 mm', whorl: '60 mm', bobbin: '48 mm' } as const;

export interface Front {
  readonly calculations: readonly Calculation[];
  readonly hasLibrary: boolean;
  readonly origin: string;
  /** What is asked of the wheel that is played with, by its form. */
  readonly asked: Query;
  /** Addresses of the embeds that were built, by calculation, and of the script of the wheel. */
  readonly embeds: ReadonlyMap<string, string | undefined>;
  readonly script: string | undefined;
}

function wheelToTurn(asked: Query): Html {
  const number = (name: string, usual: number, most: number): number => { const x = Number(asked[name]?.[0] ?? usual); return Number.isFinite(x) ? Math.min(Math.max(x, 0), most) : usual; };
  const wheel = playableWheels.find((w) => w.id === asked['wheel']?.[0])?.id ?? playableWheels[0]!.id;
  const [full, turns] = [number('full', 40, 100), number('turns', 1.2, mostTurns)];
  const pair = Math.trunc(number('pair', 0, 99));
  const now = play({ wheel, pair, full: full / 100, turns });
  return html`<section class="wide" aria-labelledby="turn"><h2 id="turn">A wheel to turn</h2>
<p>Pick a wheel of the Thornmere Guild, turn it, and fill its bobbin: see what it draws in, and how the right setting moves.</p>
<div class="two"><form class="play" method="get" action="/#turn" aria-label="A wheel to turn">
<div class="field"><label for="p-wheel">Wheel</label><select id="p-wheel" name="wheel">${playableWheels.map((w) => html`<option value="${w.id}"${attribute('selected', w.id === wheel ? true : undefined)}>${w.name}</option>`)}</select></div>
<div class="field"><label for="p-pair">Whorl and bobbin</label><select id="p-pair" name="pair">${now.pairs.map((name, i) => html`<option value="${i}"${attribute('selected', i === pair ? true : undefined)}>${name}</option>`)}</select></div>
<div class="field"><label for="p-turns">Turn the wheel</label><span class="hint" id="p-turns-hint">up to ${mostTurns} turns</span><input id="p-turns" type="range" name="turns" min="0" max="${mostTurns}" step="0.05" value="${turns}" aria-describedby="p-turns-hint"></div>
<div class="field"><label for="p-full">Fill the bobbin</label><span class="hint" id="p-full-hint">from empty to full</span><input id="p-full" type="range" name="full" min="0" max="100" step="1" value="${full}" aria-describedby="p-full-hint"></div>
<button type="submit">Show it</button>
<p class="soft">The setting is worked out with a bag test that lifts 15 g and pulls off at 60 g, 5 g to draw in, and yarn and hand that bear 60 g. Do such a test at your own wheel: <a href="/calculate/tension">tension</a>.</p></form>
<div class="played">${figureOf(now.picture)}<dl class="facts">${now.facts.map(([what, text]) => html`<dt>${what}</dt><dd>${text}</dd>`)}</dl><p class="sentence">${now.sentence}</p></div></div></section>`;
}

/** Each calculator: what it answers, how it looks, and the two lines that put it on another page. */
function gallery(front: Front): Html {
  return html`<ul class="cards">${front.calculations.map((c) => html`<li><a href="/calculate/${c.id}">${c.title}</a><p>${c.summary}</p>${
    c.picture === undefined ? '' : html`<a href="/calculate/${c.id}?${c.contract.exampleQuery}"><img src="/v1/${c.id}.svg?${c.contract.exampleQuery}" alt="Picture of an example of ${c.title.toLowerCase()}" width="400" height="300" loading="lazy"></a>`}${
    front.embeds.get(c.id) === undefined ? '' : html`<details><summary>On your own page<span class="unseen">: ${c.title}</span></summary><div class="snippet"><pre>${snippet(c, { origin: front.origin, query: '', attributes: [] })}</pre></div></details>`}</li>`)}</ul>`;
}

export function frontPage(front: Front): Page {
  const { calculations, origin, embeds, script } = front;
  const ratio = calculations.find((c) => c.id === 'ratio');
  const attributes = Object.entries(drawn).map(([k, v]) => [k.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`), v] as const);
  const query = new URLSearchParams(drawn).toString();
  const embed = embeds.get('ratio');
  return {
    title: '', description: 'Spinning-wheel maths: drive ratio, take-up, twist and grist from what you can measure at the wheel.',
    head: html`${[script, embed].map((src) => (src === undefined ? '' : html`<script type="module" src="${src}"></script>`))}`,
    body: html`<h1>What your wheel does, in numbers</h1>
<p class="lead">Measure the wheel, its whorls and its bobbins. Wheelgrist works out what they do, how sure that is, and what was taken for granted on the way.</p>
${wheelToTurn(front.asked)}
<section class="wide"><h2>Work it out</h2>${front.hasLibrary ? html`<p>With your own measures, or from <a href="/wheels">a wheel of the library</a>, each with its sheet to print.</p>` : ''}${gallery(front)}</section>
<h2>How it answers</h2>
<ul><li><b>As you measured it.</b> A fraction of an inch, a string round the rim, one turn of the band itself, a stamped ratio, ten counted turns: each is read for what it is.</li>
<li><b>How sure it is.</b> Give a measure with its ±, and the answer has one. Leave out the thickness of the band, and the answer says from where to where.</li>
<li><b>Nothing guessed.</b> A measure without its unit is asked for again. What was taken for granted stands below the number.</li>
<li><b>Cautions first.</b> What could hurt you or an old wheel stands above the number.</li></ul>
${ratio === undefined || embed === undefined ? '' : html`<h2>On your guild’s own page</h2><p>Two lines put a calculator on a page. It works in the page itself and asks nothing of anybody.</p>
<div class="two wide"><div>${trusted(snippet(ratio, { origin: '', query, attributes }).split('\n')[1]!)}</div><div class="snippet"><pre>${snippet(ratio, { origin, query, attributes })}</pre>
<p class="soft">Without scripts the link stays, and leads to the same calculator here. Fonts, colours and corners follow your page by <code>--wheelgrist-ink</code>, <code>--wheelgrist-ground</code> and the like, and by <code>::part(input)</code>. With <code>service</code> and <code>wheel</code> it begins from a wheel of the library; with <code>lang</code> it speaks another language.</p></div></div>`}
<h2>For programs</h2><p>Every page has its address in the service. <a href="/docs">The documentation</a> lists them all; <a href="/problems">what can go wrong</a> has a page for each refusal.</p>
${ratio === undefined ? '' : html`<pre>curl '${`${origin}/v1/ratio?${ratio.contract.exampleQuery}`}'</pre>`}` };
}
