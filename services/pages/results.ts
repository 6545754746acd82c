/** An answer as HTML, whatever the calculation: cautions first, then the number, then what it means, then the rest. */
import type { Calculation, Reply } from '../calculations/calculation.js';
import { withoutStyle } from '../foundation/drawing.js';
import { tell, type Part, type Table, type Told } from '../foundation/telling.js';
import { adviceOf } from './advice.js';
import { attribute, html, trusted, type Html, type Piece } from './html.js';

export const cautionsOf = (cautions: Reply<unknown>['cautions']): Html => html`${cautions.map((c) => html`<div class="caution" role="note"><p><b>Caution.</b> ${c.text}</p></div>`)}`;
const warningsOf = (warnings: Reply<unknown>['warnings']): Html => html`${warnings.map((w) => html`<div class="look" role="note"><p><b>Look at this.</b> ${w.text}</p></div>`)}`;

export function numbersOf(told: Told): Html {
  return html`<ul class="numbers${told.numbers.length > 1 ? ' many' : ''}">${told.numbers.map((x) => html`<li><strong>${x.text}</strong> <span class="soft">${[told.label, x.of].filter((t) => t !== '').join(', ')}</span></li>`)}</ul>
${told.sentences.length === 0 ? '' : html`<p>${told.sentences.join(' ')}</p>`}`;
}

/** A table whose rows become blocks with their heads on a narrow screen; there a sentence gets the whole width, under its head. */
export function tableOf(table: Table, caption?: string): Html {
  return html`<table class="rows">${caption === undefined ? '' : html`<caption>${caption}</caption>`}<thead><tr>${table.heads.map((h) => html`<th scope="col">${h}</th>`)}</tr></thead>
<tbody>${table.rows.map((row) => html`<tr>${row.map((cell, i) => (cell === '' ? html`<td></td>` : html`<td data-head="${table.heads[i]!}"${cell.length > 40 ? trusted(' class="long"') : ''}><span>${cell.length < 14 ? cell.replaceAll(' ', '\u00a0') : cell}</span></td>`))}</tr>`)}</tbody></table>`;
}
/** A table of many columns takes the whole width on paper. */
const wide = (p: Part): boolean => p.tables.some((t) => t.heads.length > 5);
const partOf = (p: Part): Html => html`<div${attribute('class', wide(p) ? 'across' : undefined)}>${p.title === '' ? '' : html`<h4 class="part">${p.title}</h4>`}
${p.facts.length === 0 ? '' : html`<dl class="facts">${p.facts.map((f) => html`<dt>${f.label}</dt><dd>${f.text}</dd>`)}</dl>`}${p.tables.map((t) => tableOf(t, t.title))}</div>`;
/** In columns on paper. */
export const partsOf = (parts: readonly Part[]): Html => html`<div class="full">${parts.map(partOf)}</div>`;
/** Lists whose first entry is the answer; the rest is folded away, and not printed. */
const ranked = 'setups';
function rankedParts(calculation: Calculation, told: Told, result: unknown): Html {
  const list = (result as Record<string, unknown>)[ranked];
  if (calculation.id !== ranked || !Array.isArray(list) || list.length < 2) return partsOf(told.parts);
  const of = (some: object): readonly Part[] => tell(calculation.id, some).parts;
  return html`${partsOf(of({ ...(result as object), [ranked]: list.slice(0, 1) }))}<details><summary>The next ones</summary>${partsOf(of({ [ranked]: list.slice(1) }))}</details>`;
}

/** Where there is little room a picture keeps its size, so that its words can be read, and is moved sideways: by keys too. */
export const figureOf = (svg: string, caption?: Piece): Html => html`<figure tabindex="0">${trusted(withoutStyle(svg))}${caption === undefined ? '' : html`<figcaption>${caption}</figcaption>`}</figure>`;

export const assumptionsOf = (list: Reply<unknown>['assumptions']): Html => (list.length === 0 ? html`` : html`<h3>What was taken for granted</h3>
<ul class="taken">${list.map((a) => html`<li>${a.text}${a.range === undefined && a.effect === undefined ? '' : html` <span class="soft">${a.range === undefined ? '' : `It may be otherwise: ${a.range}. `}${a.effect ?? ''}</span>`}</li>`)}</ul>`);

const sourcesOf = (list: Reply<unknown>['sources']): Html => (list.length === 0 ? html`` : html`<div class="sources"><h3>Sources</h3>
<ul>${list.map((s) => html`<li>${[s.author, s.title, s.year, s.locator].filter((x) => x !== undefined).join(', ')}${s.erratum === undefined ? '' : `. ${s.erratum}`}</li>`)}</ul></div>`);

/** Ways to take the same question elsewhere. */
export interface SameAs { readonly origin: string; readonly query: string; readonly question: unknown; readonly attributes: readonly (readonly [string, string])[] }

export function snippet(calculation: Calculation, same: Pick<SameAs, 'origin' | 'query' | 'attributes'>): string {
  const attributes = same.attributes.map(([name, value]) => ` ${name}="${value.replaceAll('&', '&amp;').replaceAll('"', '&quot;')}"`).join('');
  const link = `${same.origin}/calculate/${calculation.id}${same.query === '' ? '' : `?${same.query.replaceAll('&', '&amp;')}`}`;
  return `<script type="module" src="${same.origin}/embeds/${calculation.id}.js"></script>\n<wheelgrist-${calculation.id}${attributes}><a href="${link}">${calculation.title}</a></wheelgrist-${calculation.id}>`;
}

export function answerOf(calculation: Calculation, reply: Reply<unknown>, svg: string | undefined, same: SameAs, hasEmbed: boolean): Html {
  const told = tell(calculation.id, reply.result, same.question);
  const advised = told.advice !== undefined;
  const { origin, query } = same;
  return html`<section class="answer${reply.assumptions.length > 15 ? ' long' : ''}${advised ? ' advised' : ''}" id="answer" aria-labelledby="answer-title"><h2 id="answer-title">The answer</h2>
<div class="cautions">${cautionsOf(reply.cautions)}</div>${advised ? adviceOf(told.advice!, told.sentences.at(-1) ?? '') : ''}<div class="two"><div>${advised ? '' : numbersOf(told)}${warningsOf(reply.warnings)}
${assumptionsOf(reply.assumptions)}</div>${svg === undefined ? '' : figureOf(svg)}</div>
${advised ? '' : html`<h3>In full</h3>
${rankedParts(calculation, told, reply.result)}`}
${sourcesOf(reply.sources)}
<details class="screen"><summary>The same, to keep or to pass on</summary>
<p><b>A link to this page</b></p><pre>${`${origin}/calculate/${calculation.id}?${query}`}</pre>
<p><b>For a program, as JSON:</b> <a href="/v1/${calculation.id}?${query}">this answer</a>${svg === undefined ? '' : html`, and <a href="/v1/${calculation.id}.svg?${query}">its picture</a>`}. The question as a body for POST:</p><pre>${JSON.stringify(same.question, null, 1)}</pre>
${hasEmbed ? html`<p><b>A calculator on your own page, filled in like this</b></p><pre>${snippet(calculation, same)}</pre>` : ''}
</details></section>`;
}
