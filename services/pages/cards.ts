/** Pages of the cards: the list, and a sheet for each that prints on one page. */
import { bagFields, cardFields, type Card, type CardField } from '../cards/card.js';
import type { Opens } from '../cards/opens.js';
import { written } from '../wheels/flat.js';
import type { QIn } from '../wheels/profile.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { sheetCautions } from './words.js';

export interface ShownCard { readonly id: string; readonly card: Card; readonly opens: readonly Opens[]; /** The name of its wheel, for who may see it. */ readonly wheel?: string; readonly wheelRevision?: number }

const groups: readonly (readonly [CardField['group'], string])[] = [['wheel', 'At the wheel'], ['spin', 'Fibre and hand'], ['yarn', 'The yarn']];
/** Said above, or in its own place. */
const apart = ['name', 'note', 'wheelId', 'wheelName', 'counted'];

function valueOf(f: CardField, card: Card): string {
  const v = card[f.name];
  if (f.choices !== undefined) return f.choices[String(v)] ?? f.choices[f.aliases?.[String(v)] ?? ''] ?? String(v);
  return written(v as QIn) ?? '';
}
const rows = (card: Card, group: CardField['group']): (readonly [string, string])[] => cardFields.filter((f) => f.group === group && !apart.includes(f.name) && card[f.name] !== undefined)
  .map((f): readonly [string, string] => [f.label, `${valueOf(f, card)}${f.name === 'treadlesPerDraw' && card['counted'] === 'each-foot' ? ', each foot counted' : ''}`]);

/** Such as `Z-spun, S-plied 2 ply, 195 tex`. */
function lineOf(card: Card): string {
  const plies = card['plies'] === undefined ? undefined : Number(card['plies']) === 1 ? 'single' : `${written(card['plies'] as QIn)}-ply`;
  return [plies, ...(['fibre', 'preparation', 'grist'] as const).map((k) => (card[k] === undefined ? undefined : written(card[k] as QIn)))].filter((t) => t !== undefined).join(', ') || 'A spin';
}

export function cardPage({ id, card, opens, wheel, wheelRevision }: ShownCard): Page {
  const on: Html | string | undefined = card.wheelId !== undefined
    ? html`<a href="/wheels/${encodeURIComponent(card.wheelId)}">${wheel ?? card.wheelId}</a>${wheelRevision === undefined ? '' : html` <span class="soft">as it was in its revision ${wheelRevision}</span>`}`
    : (card['wheelName'] as string | undefined);
  const bag = card.bagTest;
  return {
    title: card.name, description: `Card of a spin: ${lineOf(card)}.`,
    body: html`<div class="sheet wide"><h1>${card.name}</h1><p class="lead">${lineOf(card)}</p>
<div class="caution" role="note">${sheetCautions.map((line, i) => html`<p>${i === 0 ? html`<b>At every wheel.</b> ` : ''}${line}</p>`)}</div>
${on === undefined ? '' : html`<p><b>Wheel</b> ${on}</p>`}
<div class="card-groups">${groups.map(([group, title]) => ({ title, list: rows(card, group) })).filter((g) => g.list.length > 0).map((g) => html`<section><h2>${g.title}</h2><dl class="facts">${g.list.map(([a, b]) => html`<dt>${a}</dt><dd>${b}</dd>`)}</dl></section>`)}
${bag === undefined ? '' : html`<section><h2>Setting, by bag test</h2><dl class="facts">${bagFields.filter((f) => bag[f.name] !== undefined).map((f) => html`<dt>${f.label}</dt><dd>${written(bag[f.name])}</dd>`)}</dl></section>`}
${card['note'] === undefined ? '' : html`<section class="note"><h2>Note</h2><p>${card['note'] as string}</p></section>`}</div>
${opens.length === 0 ? '' : html`<section class="screen"><h2>Work on from here</h2><ul>${opens.map((o) => html`<li><a href="${o.page ?? o.link}">${o.title}</a></li>`)}</ul></section>`}
<p class="screen"><a href="/v1/cards/${encodeURIComponent(id)}">This card as JSON</a>. Print this page to keep it with the skein.</p></div>`,
  };
}

export function cardsPage(list: readonly { readonly id: string; readonly card: Card }[], next: string | undefined): Page {
  return { title: 'Cards', description: 'What was spun, how, and on which wheel.', body: html`<h1>Cards</h1><p class="lead">What was spun, how, and on which wheel, so that the next spinner can repeat it. Here are those that guilds have opened to all; a guild’s own are read with its key.</p>
${list.length === 0 ? html`<p>No card is open to all yet. A guild keeps one with <a href="/docs">its key</a>.</p>` : html`<ul class="cards">${list.map((c) => html`<li><a href="/cards/${encodeURIComponent(c.id)}">${c.card.name}</a><p>${lineOf(c.card)}</p></li>`)}</ul>`}
${next === undefined ? '' : html`<p><a href="/cards?cursor=${encodeURIComponent(next)}">More cards</a></p>`}` };
}
