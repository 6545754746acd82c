/** What a whole table of wheels shows, on paper or on a screen, for the holder of its guild’s key. */
import { grists, twists } from '../analyses/coverage.js';
import { picture } from '../analyses/picture.js';
import type { Summary } from '../analyses/summary.js';
import { coverageSentence, flagGroups, missingText, reasonText, spreadTexts, summarySentences } from '../analyses/telling.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { figureOf, tableOf } from './results.js';

/** `summary`: once it is done. */
export interface ShownAnalysis { readonly id: string; readonly state: string; readonly rows: number; readonly settled: number; readonly createdAt: Date; readonly summary?: Summary }

const day = (date: Date): string => date.toISOString().slice(0, 10);
const listed = (rows: readonly number[], all: number): string => `${rows.join(', ')}${all > rows.length ? ` and ${all - rows.length} more` : ''}`;

export function analysisPage({ id, state, rows, settled, createdAt, summary }: ShownAnalysis): Page {
  const address = `/v1/analyses/${encodeURIComponent(id)}`;
  const title = `A table of ${rows === 1 ? '1 wheel' : `${rows} wheels`}`;
  if (summary === undefined) {
    return {
      title, description: 'An analysis that is not done.',
      body: html`<h1>${title}</h1><p class="lead">${state === 'cancelled' ? 'It was cancelled' : 'It is being worked on'}: ${settled} of ${rows} rows have their verdict.</p><p>Come back when it is done; <a href="${address}">its state as JSON</a>.</p>`,
    };
  }
  const [first, ...rest] = summarySentences(summary);
  const care = summary.doNotRun > 0;
  const groups = flagGroups(summary);
  const spreads = spreadTexts(summary);
  const cannot = (summary.drawsIn['no'] ?? 0) + (summary.drawsIn['too-close-to-say'] ?? 0);
  const section = (heading: string, body: Html): Html => html`<section><h2>${heading}</h2>${body}</section>`;
  return {
    title, description: rest.join(' '),
    body: html`<div class="sheet wide analysis"><h1>${title}</h1><p class="soft">Sent on ${day(createdAt)}; ${id}.</p>
${care ? html`<div class="caution" role="note"><p><b>${first}</b> They do not turn before somebody qualified has passed them. Their numbers stand here all the same.</p></div>` : ''}
<ul>${(care ? rest : [first, ...rest]).map((sentence) => html`<li>${sentence}</li>`)}</ul>
${figureOf(picture(summary, { told: true }))}
${spreads.length === 0 ? '' : section('How sizes and ratios are spread', tableOf({ heads: ['', 'counted', '5 % are below', 'a quarter below', 'middle', 'a quarter above', '5 % are above', 'unit'], rows: spreads.map(({ label, unit, spread, said }) => [label, String(spread.count), said(spread.low), said(spread.quarter), said(spread.middle), said(spread.threeQuarters), said(spread.high), unit]) }))}
${cannot === 0 ? '' : section('Wheels that cannot draw in, or nearly', html`<p>Every bobbin groove is larger than its whorl, or so alike that it is too close to say. Row ${listed(summary.cannotDrawIn, cannot)}.</p>`)}
${groups.length === 0 ? '' : section('Worth a look: measures that are probably something else', html`<p>Nothing was mended: each row was analysed as it is written. Go and measure again before you change a number.</p>${tableOf({ heads: ['what it probably is', 'rows', 'the first of them'], rows: groups.map((g) => [g.name, String(g.rows), g.first]) })}`)}
${summary.coverage.wheels === 0 ? '' : section('Singles that these wheels can make', html`<p>${coverageSentence(summary)}</p>${tableOf({ heads: ['turns/m', ...grists.map((g) => `${g} tex`)], rows: twists.map((t, i) => [String(t), ...grists.map((_, g) => summary.coverage.counts[g]![i] === 0 ? '' : String(summary.coverage.counts[g]![i]))]).toReversed() }, 'Number of wheels, by twist and grist of the singles')}`)}
${summary.reasons.length === 0 ? '' : section('Why rows were refused', tableOf({ heads: ['column', 'what was wrong', 'rows'], rows: summary.reasons.slice(0, 20).map((r) => [r.column ?? '', reasonText(r.code), String(r.rows)]) }))}
${missingText(summary).length === 0 ? '' : section('What would say more', tableOf({ heads: ['not in the table', 'rows'], rows: missingText(summary).map((m) => [m.label, String(m.rows)]) }))}
<p class="screen"><a href="${address}/results.csv">Every verdict as a table</a>, <a href="${address}/rejects.csv">the refused rows</a>, <a href="${address}/summary">this as JSON</a>, <a href="${address}/summary.svg">the picture</a>; each is sent with the key.</p></div>`,
  };
}
