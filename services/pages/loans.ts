/** A wheel's page in the register: who has it, what is amiss, when it is due back, and the hours of its band and oil. For the holder of its guild's key. */
import type { Hours } from '../loans/care.js';
import { told, type StoredLoan } from '../loans/loan.js';
import { said } from '../foundation/telling.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { tableOf } from './results.js';

const signWords: Readonly<Record<string, string>> = { frayed: 'it frays', slips: 'it slips', 'stretched-past-the-adjuster': 'it is stretched past what the wheel can take up' };
const faults = (list: readonly string[] | undefined): string => (list === undefined ? '' : list.length === 0 ? 'none found' : list.join('; '));
const money = (amount: number | undefined, currency: string | undefined): string => (amount === undefined ? '' : `${amount}${currency === undefined ? '' : ` ${currency}`}`);

function loanOf(s: StoredLoan): Html {
  const { reckoning: r, ...l } = told(s);
  const rows: (readonly [string, string])[] = [
    ['Member', l.member], ['Out', l.lentOn], ['Due back', l.dueOn], ['Came back', l.returnedOn ?? 'not yet'], ['Goes with it', [...(l.whorls ?? []).map((w) => `whorl ${w}`), ...(l.bobbins ?? []).map((b) => `bobbin ${b}`), ...(l.also ?? [])].join(', ')],
    ['Faults as it went out', faults(l.faultsOut)], ['Faults on its return', faults(l.faultsIn)], ['Fees', r.fees === undefined ? '' : `${money(r.fees, l.currency)}${r.per === 'loan' ? '' : ` for ${r.periods} ${r.per}${r.periods === 1 ? '' : 's'}`}`], ['Deposit', money(l.deposit, l.currency)], ['Deposit given back', money(l.depositReturned, l.currency)], ['Late', r.daysLate === undefined ? '' : `${r.daysLate} day${r.daysLate === 1 ? '' : 's'}`], ['Next looked over', l.nextServiceOn ?? ''], ['Note', l.note ?? ''],
  ];
  return html`<section><h3>${l.returnedOn === undefined ? 'Out now' : `${l.lentOn} to ${l.returnedOn}`}</h3><dl class="facts">${rows.filter(([, v]) => v !== '').map(([a, b]) => html`<dt>${a}</dt><dd>${b}</dd>`)}</dl></section>`;
}

export function loansPage(wheel: { readonly id: string; readonly name: string; readonly doNotRun: boolean }, loans: readonly StoredLoan[], hours: Hours): Page {
  const list = loans.toSorted((a, b) => (a.loan.returnedOn === undefined ? -1 : b.loan.returnedOn === undefined ? 1 : a.loan.lentOn < b.loan.lentOn ? 1 : -1));
  return {
    title: `Register: ${wheel.name}`, description: `Loans and care of ${wheel.name}.`,
    body: html`<div class="sheet wide"><h1>Register: ${wheel.name}</h1>
${wheel.doNotRun ? html`<div class="caution" role="note"><p><b>Do not run this wheel.</b> It does not go out until somebody qualified has passed it.</p></div>` : ''}
<h2>Band and oil</h2><dl class="facts"><dt>Since the band was fitted</dt><dd>${said(hours.band.hours)}${hours.band.fittedOn === undefined ? ', no fitting was logged' : `, since ${hours.band.fittedOn}`}</dd><dt>Since it was oiled</dt><dd>${said(hours.oil.hours)}${hours.oil.oiledOn === undefined ? ', no oiling was logged' : `, since ${hours.oil.oiledOn}`}</dd>${hours.band.signs.length === 0 ? '' : html`<dt>Seen of the band</dt><dd>${hours.band.signs.map((s) => signWords[s] ?? s).join('; ')}</dd>`}</dl>
${hours.band.before.length === 0 ? '' : tableOf({ heads: ['band fitted', 'taken off', 'hours'], rows: hours.band.before.map((b) => [b.fittedOn, b.takenOffOn, said(b.hours)]) })}
<p>${hours.advice}</p>
<h2>Loans</h2>${list.length === 0 ? html`<p>It was never lent.</p>` : html`<div class="card-groups">${list.map(loanOf)}</div>`}
<p class="screen"><a href="/wheels/${encodeURIComponent(wheel.id)}">Its sheet</a>, <a href="/v1/wheels/${encodeURIComponent(wheel.id)}/loans">its loans as JSON</a>.</p></div>`,
  };
}
