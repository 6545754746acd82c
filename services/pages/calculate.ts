/** The page of a calculation: its form, and above it the answer when something is asked. Works without scripts. */
import type { FastifyRequest } from 'fastify';
import type { Calculation, Reply } from '../calculations/calculation.js';
import { withPlainUnit, type System } from '../foundation/plain-numbers.js';
import { ProblemError, type Issue } from '../foundation/problems.js';
import { pictureFrom, replyFrom, type Apart } from '../http/apart.js';
import { askByLink, linkDoor, optionNames, type LinkDoor } from '../http/link.js';
import { parseQuery, queryText, type Query } from '../http/query.js';
import { advises, formOf, issueOf } from './form.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { answerOf } from './results.js';

/** Says that a form was sent: numbers without a unit are then in the unit beside their box, and empty boxes are none. */
const plainName = 'plain';
export interface Asked { readonly page: Page; readonly status: number }

export async function calculatorPage(calculation: Calculation, doors: Map<string, LinkDoor>, hasEmbed: boolean, request: FastifyRequest, origin: string, apart: Apart): Promise<Asked> {
  let door = doors.get(calculation.id);
  if (door === undefined) doors.set(calculation.id, (door = linkDoor(calculation.fields, true)));
  const { query, typed, system } = readForm(calculation, parseQuery(request.url.split('?').slice(1).join('?')));
  const names = Object.keys(query).filter((name) => !(optionNames as readonly string[]).includes(name));
  const path = `/calculate/${calculation.id}`;
  let above: Html = html`<p class="soft screen">${advises(calculation) ? html`Tick what you notice. To hang beside the wheel: <a href="/first-aid">a first-aid sheet</a>. ` : 'Fill in what you have measured. '}Or see <a href="${path}?${calculation.contract.exampleQuery}">an example</a>.</p>`;
  let issues: readonly Issue[] = [];
  let status = 200;
  if (names.length > 0) {
    try {
      const asked = await askByLink(door, path, query, undefined, async (question, options): Promise<{ reply: Reply<unknown>; svg?: string; question: unknown }> => ({
        reply: await replyFrom(apart, calculation, question, options), question, ...(calculation.picture === undefined ? {} : { svg: await pictureFrom(apart, calculation, question, options) }),
      }));
      const attributes = Object.entries(query).map(([name, values]) => [name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`), values.join('; ')] as const);
      above = answerOf(calculation, asked.reply, asked.svg, { origin, query: queryText(query), question: asked.question, attributes }, hasEmbed);
    } catch (error) {
      // Too busy is no fault of the question.
      if (!(error instanceof ProblemError) || error.status === 503) throw error;
      ({ status, issues } = error);
      above = problemAbove(calculation, error, issues);
    }
  }
  const title = names.length > 0 ? `${calculation.title}: ${status === 200 ? 'the answer' : 'something to mend'}` : calculation.title;
  return { status, page: { title, description: calculation.summary, body: html`<h1>${calculation.title}</h1><p class="lead screen">${calculation.summary}</p>${above}
<h2 class="screen">${advises(calculation) ? (names.length > 0 ? 'Change what you said' : 'What you notice') : names.length > 0 ? 'Change a measure' : 'Your measures'}</h2>${formOf(calculation, { values: typed, system, issues })}` } };
}

/** The question that was asked, and what stands in the boxes. */
export function readForm(calculation: Pick<Calculation, 'fields'>, sent: Query): { query: Query; typed: Query; system: System } {
  const query = Object.assign(Object.create(null), sent) as Query;
  const form = sent[plainName] !== undefined;
  delete query[plainName];
  const system: System = /^\s*imperial/.test(sent['units']?.[0] ?? '') ? 'imperial' : 'metric';
  const typed = Object.create(null) as Query;
  for (const name in query) {
    // A box that was left empty says nothing; a link may not say nothing.
    const values = form ? query[name]!.filter((v) => v.trim() !== '') : query[name]!;
    if (values.length === 0) { delete query[name]; continue; }
    const kind = calculation.fields.list.find((f) => f.name === name)?.kind;
    typed[name] = values;
    query[name] = form && kind !== undefined ? values.map((v) => withPlainUnit(v, kind, system)) : values;
  }
  if (form && query['units']?.[0] === 'metric') delete query['units'];
  return { query, typed: form ? query : typed, system };
}

export function problemAbove(calculation: Pick<Calculation, 'fields'>, error: ProblemError, issues: readonly Issue[]): Html {
  const { list } = calculation.fields;
  const fieldOf = (issue: Issue) => list.find((f) => f.name === issue.parameter);
  return html`<section class="problem" role="alert" id="answer"><h2>${issues.length > 1 ? 'A few things to mend' : 'One thing to mend'}</h2>
${issues.length === 0 ? html`<p>${error.message}</p>` : html`<ul>${issues.map((i) => { const f = fieldOf(i); return html`<li>${f === undefined ? '' : html`<a href="#f-${f.name}">${f.label}</a>: `}${issueOf(i, list, f === undefined)} <a class="soft" href="/problems/${i.code}">What this means</a></li>`; })}</ul>`}</section>`;
}
