/** A class sheet: one yarn, and for each of many wheels what to set. On one page, to print and hand round. */
import type { FastifyRequest } from 'fastify';
import type { Calculation } from '../calculations/calculation.js';
import type { SetupsResult } from '../calculations/setups/answer.js';
import type { Field, FieldSet } from '../foundation/fields.js';
import { choiceOf, labels } from '../foundation/labels.js';
import { ProblemError, problemOf, type Issue } from '../foundation/problems.js';
import { shown } from '../foundation/read.js';
import { said } from '../foundation/telling.js';
import { replyFrom, type Apart } from '../http/apart.js';
import { askByLink, linkDoor, optionNames } from '../http/link.js';
import { parseQuery } from '../http/query.js';
import { driveField } from '../wheels/flat.js';
import { styles, type Drive, type Style } from '../wheels/words.js';
import { problemAbove, readForm } from './calculate.js';
import { formOf } from './form.js';
import { html, type Html } from './html.js';
import type { Shelf } from './index.js';
import type { Page } from './layout.js';
import { assumptionsOf, cautionsOf, tableOf } from './results.js';
import { sheetCautions, styleWords } from './words.js';

const path = '/class-sheet';
/** As many as go on the sheet, and a few more to say so of. */
const mostSearched = 500;
const ofWheels: readonly Field[] = [
  { name: 'style', kind: 'choice', label: 'Wheels of this kind', hint: 'left open: any', choices: styles.map((value) => ({ value, label: styleWords[value] })), first: true },
  { ...driveField, label: 'Run as', hint: 'left open: any way that the wheel can run' },
  { name: 'named', kind: 'text', label: 'Wheels whose name holds', hint: 'such as Thornmere', first: true },
  { name: 'wheelId', kind: 'text', label: 'Or these wheels alone', hint: 'the last part of a wheel’s address', repeats: true },
];
const wheelNames = new Set(ofWheels.map((f) => f.name));

/** The yarn and the spinner of the set-ups, and which wheels. */
function fieldsOf(setups: Calculation): FieldSet {
  const list = [...setups.fields.list.filter((f) => f.ofWheel !== true && !wheelNames.has(f.name)), ...ofWheels];
  return { list, toQuestion: (flat) => setups.fields.toQuestion(Object.fromEntries(Object.entries(flat).filter(([name]) => !wheelNames.has(name) || name === 'drive'))) };
}

export async function classSheet(setups: Calculation, library: Required<Pick<Shelf, 'search'>> & { find(id: string): ReturnType<Shelf['find']> }, request: FastifyRequest, apart: Apart): Promise<{ page: Page; status: number }> {
  const like = { id: 'class-sheet', title: 'Class sheet', fields: fieldsOf(setups) };
  const { query, typed, system } = readForm(like, parseQuery(request.url.split('?').slice(1).join('?')));
  let [above, issues, status]: [Html, readonly Issue[], number] = [html`<p class="soft screen">Say which yarn the class spins; the sheet has a line for each wheel of the library.</p>`, [], 200];
  if (Object.keys(query).some((name) => !(optionNames as readonly string[]).includes(name))) {
    try {
      const one = (name: string): string | undefined => query[name]?.[0];
      const ids = query['wheelId'] ?? [];
      const wheels = ids.length > 0 ? await Promise.all(ids.map((id) => library.find(id)))
        : await library.search({ of: 'public', ...(one('style') === undefined ? {} : { style: one('style') as Style }), ...(one('drive') === undefined ? {} : { drive: one('drive') as Drive }), ...(one('named') === undefined ? {} : { name: one('named')! }) }, mostSearched);
      if (one('style') !== undefined && !(styles as readonly string[]).includes(one('style')!)) throw problemOf([{ parameter: 'style', code: 'unknown-choice', detail: 'There is no such kind of wheel.', received: shown(one('style')), expected: styles.join(', ') }]);
      if (wheels.length === 0) throw problemOf([{ parameter: one('named') === undefined ? 'style' : 'named', code: 'wheel-not-found', detail: 'No wheel of the library is like that.', received: one('named') ?? one('style') ?? 'nothing', expected: 'part of a name that the library has' }]);
      const reply = await askByLink(linkDoor(like.fields, true), path, query, undefined, (question, options) => replyFrom(apart, setups, { ...(question as object), wheels: wheels.map((w) => ({ wheelId: w.id, wheel: w.profile })), best: 'of-each-wheel' }, options));
      above = sheet(reply.result as SetupsResult, reply);
    } catch (error) {
      if (!(error instanceof ProblemError) || error.status === 503) throw error;
      ({ status, issues } = error);
      above = problemAbove(like, error, issues);
    }
  }
  return { status, page: { title: 'Class sheet', description: 'One yarn on many wheels: what to set on each, on one page.', body: html`<h1>Class sheet</h1><p class="lead screen">One yarn on many wheels: for each the whorl, the bobbin, and how much to draft for a treadle. It prints on one page.</p>${above}
<h2 class="screen">The yarn, and the wheels</h2>${formOf(like, { values: typed, system, issues }, path)}` } };
}

/** As they are called at the wheel, so that a line stays a line. */
const shortDrives: Readonly<Record<Drive, string>> = { 'double-drive': 'double drive', 'flyer-lead': 'Scotch tension', 'bobbin-lead': 'Irish tension', spindle: 'spindle', electric: 'electric' };
function standing(s: SetupsResult['setups'][number]): string {
  if (s.stands === 'fits') return word('stands', s.stands);
  const at = s.limits.filter((l) => l.holds === (s.stands === 'too-close-to-say' ? 'too-close-to-say' : 'no')).map((l) => word('limit', l.limit));
  return `${word('stands', s.stands)}: ${at.join(', ')}`;
}
const word = (key: string, value: string): string => choiceOf(key, value) ?? value;
function sheet(r: SetupsResult, reply: ReturnType<Calculation['answer']>): Html {
  const { yarn } = r;
  const lines = [`Each strand ${said(yarn.strandGrist)}, ${said(yarn.strandTwist)} ${yarn.direction}.`, ...(yarn.pliedGrist === undefined ? [] : [`${yarn.plies} of them plied ${yarn.plyDirection!} to ${said(yarn.pliedGrist)}, ${said(yarn.plyTwist!)}.`])];
  const plied = new Map((r.ply ?? []).map((p) => [p.wheelId ?? p.wheel, p]));
  const rows = r.setups.map((s) => {
    const ply = plied.get(s.wheelId ?? s.wheel);
    return [s.wheel, shortDrives[s.drive], s.whorl ?? '', [s.bobbin, s.groove === undefined || s.groove === 'groove 1' ? undefined : s.groove].filter((x) => x !== undefined).join(', '), said(s.draftLengthPerWheelTurn), said(s.lengthPerHour), standing(s),
      ...(yarn.pliedGrist === undefined ? [] : [ply === undefined ? '' : `${[ply.whorl, ply.whorl === undefined ? ply.bobbin : undefined].filter((x) => x !== undefined).join('')}: ${said(ply.wheelTurns)}${ply.reach === 'no' || ply.reach === 'when-fuller' ? `, ${word('reach', ply.reach)}` : ''}`])];
  });
  const check = r.setups.find((s) => s.handCheck !== undefined)?.handCheck;
  return html`<section class="class-sheet wide" id="answer"><p class="lead">${lines.join(' ')}</p>
${cautionsOf(reply.cautions.slice(0, 3))}<div class="caution" role="note">${sheetCautions.map((line) => html`<p>${line}</p>`)}</div>
${tableOf({ heads: [labels['wheel']!, labels['drive']!, labels['whorl']!, labels['bobbin']!, 'Draft for each treadle', 'In an hour', labels['stands']!, ...(yarn.pliedGrist === undefined ? [] : [`Ply it ${yarn.plyDirection!}: whorl, and treadles for ${said(r.ply?.[0]?.draftLength ?? { text: 'a draw' })}`])], rows })}
${check === undefined ? '' : html`<p>Setting, at every fill: it lifts a bag of ${said(check.lifts)}, and a bag of ${said(check.pullsOff)} pulls yarn off.</p>`}
${(r.blocked ?? []).length === 0 ? '' : html`<p><b>Not to be run:</b> ${r.blocked!.map((b) => b.wheel).join(', ')}.</p>`}
${(r.leftOut ?? []).length === 0 ? '' : html`<div class="screen"><p><b>Left out, since a measure is missing:</b></p><ul>${r.leftOut!.map((x) => html`<li>${x.wheel}: ${x.why}</li>`)}</ul></div>`}
${r.more === undefined ? '' : html`<p>${r.more} more wheels did not go on the sheet: narrow them by kind, drive or name.</p>`}
<div class="screen">${assumptionsOf(reply.assumptions)}</div></section>`;
}
