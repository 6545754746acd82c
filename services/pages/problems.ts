/** A page for each error of the catalogue, and the list of all. */
import { catalogue, type ProblemCode, type ProblemKind } from '../foundation/problems.js';
import { html } from './html.js';
import type { Page } from './layout.js';

const kinds: readonly ProblemKind[] = Object.values(catalogue);
export const problemOfCode = (code: string): ProblemKind | undefined => (Object.hasOwn(catalogue, code) ? catalogue[code as ProblemCode] : undefined);

export function problemPage(kind: ProblemKind): Page {
  const { title, meaning, remedy, example, status, code } = kind;
  return { title, description: meaning, body: html`<h1>${title}</h1><p class="lead">${meaning}</p>
<h2>What to do</h2><p>${remedy}</p>
${example === undefined ? '' : html`<h2>For instance</h2><p>Instead of</p><pre>${example.wrong}</pre><p>send</p><pre>${example.right}</pre>`}
<p class="soft">Programs find it as <code>${code}</code>, with status ${status}. <a href="/problems">All that can go wrong</a></p>` };
}

const groups: readonly (readonly [string, (status: number) => boolean])[] = [
  ['The question cannot be read', (s) => s === 400], ['The question cannot be answered', (s) => s === 422],
  ['Keys, and what is kept', (s) => [401, 403, 404, 409, 412, 428].includes(s)], ['On the way', (s) => [405, 406, 408, 413, 414, 415, 429, 431].includes(s)], ['On our side', (s) => s >= 500],
];
export function problemsPage(): Page {
  const left = kinds.filter((k) => !groups.some(([, has]) => has(k.status)));
  const list = (of: readonly ProblemKind[]) => html`<ul>${of.map((k) => html`<li><a href="/problems/${k.code}">${k.title}</a> <span class="soft">${k.meaning}</span></li>`)}</ul>`;
  return { title: 'What can go wrong', description: 'Every problem that Wheelgrist may answer with, what it means and what to do.', body: html`<h1>What can go wrong</h1><p class="lead">Every refusal names the place, what was read, and what was expected. These are all the kinds.</p>
${groups.map(([title, has]) => html`<h2>${title}</h2>${list(kinds.filter((k) => has(k.status)))}`)}${left.length === 0 ? '' : html`<h2>Others</h2>${list(left)}`}` };
}
