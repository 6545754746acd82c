/** A loan of a wheel: what goes out, in which state, until when and for what; and what comes back. Pure. */
import { isDeepStrictEqual } from 'node:util';
import { plainText, readDate, readReference } from '../foundation/noted.js';
import { nearest, Reader, shown } from '../foundation/read.js';
import { readWheel, type Wheel } from '../wheels/profile.js';

export const periods = ['week', 'month', 'loan'] as const;
export type Period = (typeof periods)[number];
export interface Charge { readonly amount: number; readonly per: Period; readonly atMost?: number }
export interface Loan {
  readonly member: string; readonly lentOn: string; readonly dueOn: string; readonly returnedOn?: string; readonly whorls?: readonly string[]; readonly bobbins?: readonly string[]; readonly also?: readonly string[];
  readonly faultsOut: readonly string[]; readonly faultsIn?: readonly string[]; readonly charge?: Charge; readonly deposit?: number; readonly depositReturned?: number; readonly currency?: string;
  readonly hours?: string | { value: number; unit: string }; readonly nextServiceOn?: string; readonly note?: string;
}
export interface StoredLoan { readonly id: string; readonly wheel: string; readonly revision: number; readonly loan: Loan; readonly createdAt: Date; readonly updatedAt: Date }
const names = ['member', 'lentOn', 'dueOn', 'returnedOn', 'whorls', 'bobbins', 'also', 'faultsOut', 'faultsIn', 'charge', 'deposit', 'depositReturned', 'currency', 'hours', 'nextServiceOn', 'note'] as const;
const ours = ['id', 'wheel', 'revision', 'createdAt', 'updatedAt', 'reckoning'] as const;

export const told = (s: StoredLoan) => ({ id: s.id, wheel: s.wheel, revision: s.revision, createdAt: s.createdAt.toISOString(), updatedAt: s.updatedAt.toISOString(), ...s.loan, reckoning: reckon(s.loan) });

/** What is to be kept of a body. `asRead`: the loan that it replaces. Throws a problem that names every place. */
export function readLoan(body: unknown, profile: Wheel, asRead?: ReturnType<typeof told>): Loan {
  const r = new Reader();
  const o = r.object(body, '', [...names, ...ours]);
  r.done();
  const { ...loan } = o!;
  for (const name of ours) {
    if (!Object.hasOwn(loan, name)) continue;
    // What follows from the loan may be sent back with it; the rest as it was read.
    if (name !== 'reckoning' && !isDeepStrictEqual(loan[name], asRead?.[name])) r.fail(`/${name}`, { code: 'unknown-field', detail: `“${name}” is given by the library and cannot be set.`, received: shown(loan[name]), expected: asRead === undefined ? `no ${name}` : `${name} as it was read, or none` });
    delete loan[name];
  }
  const needed = (name: string, what: string, example: string): unknown => (loan[name] === undefined ? r.missing(`/${name}`, what, example) : loan[name]);
  const date = (name: string): string | undefined => (loan[name] === undefined ? undefined : readDate(r, loan[name], `/${name}`));
  if (needed('member', 'Who borrows it', 'a reference of your own, such as m-017') !== undefined) readReference(r, loan['member'], '/member');
  needed('lentOn', 'The day on which it goes out', 'such as 2026-03-02');
  needed('dueOn', 'The day on which it is due back', 'such as 2026-03-30');
  const [lent, due, back] = [date('lentOn'), date('dueOn'), date('returnedOn')];
  date('nextServiceOn');
  if (lent !== undefined && due !== undefined && due < lent) r.fail('/dueOn', { code: 'range-reversed', detail: 'It is due back before it goes out.', received: `${lent}, ${due}`, expected: 'a day on or after lentOn' });
  if (lent !== undefined && back !== undefined && back < lent) r.fail('/returnedOn', { code: 'range-reversed', detail: 'It comes back before it goes out.', received: `${lent}, ${back}`, expected: 'a day on or after lentOn' });
  // Faults are written down before it goes out, and again when it is looked over on its return: an empty list says that none were found.
  if (needed('faultsOut', 'What is amiss as it goes out', '[], or a list such as ["nick in the whorl"]') !== undefined) texts(r, loan['faultsOut'], '/faultsOut');
  if (loan['faultsIn'] !== undefined) texts(r, loan['faultsIn'], '/faultsIn');
  if (loan['returnedOn'] !== undefined && loan['faultsIn'] === undefined) r.missing('/faultsIn', 'What is amiss on its return', '[], or a list such as ["treadle squeaks"]');
  if (loan['returnedOn'] === undefined && loan['faultsIn'] !== undefined) r.missing('/returnedOn', 'The day on which it came back', 'such as 2026-03-28');
  const wheel = readWheel(new Reader(), profile, '');
  for (const [key, list] of [['whorls', wheel?.whorls], ['bobbins', wheel?.bobbins]] as const) {
    const given = loan[key] === undefined ? [] : (texts(r, loan[key], `/${key}`) ?? []);
    const known = (list ?? []).map((p) => p.name);
    for (const [i, name] of given.entries()) {
      if (known.includes(name)) continue;
      const near = nearest(name, known);
      r.fail(`/${key}/${i}`, { code: 'not-known-part', detail: `This wheel has no ${key.slice(0, -1)} of that name.`, received: shown(name), expected: known.join(', ') || `no ${key} are in its profile`, ...(near === undefined ? {} : { try: near }) });
    }
  }
  if (loan['also'] !== undefined) texts(r, loan['also'], '/also');
  const money = (value: unknown, at: string): number | undefined => {
    if (typeof value !== 'number') return r.wrongType(at, value, 'a number, in the currency of your guild');
    return value >= 0 && value <= 1e9 ? value : r.fail(at, { code: 'out-of-range', detail: 'An amount of money is 0 or more.', received: shown(value), expected: 'from 0' });
  };
  const deposit = loan['deposit'] === undefined ? undefined : money(loan['deposit'], '/deposit');
  const returned = loan['depositReturned'] === undefined ? undefined : money(loan['depositReturned'], '/depositReturned');
  if (returned !== undefined && returned > (deposit ?? 0)) r.fail('/depositReturned', { code: 'out-of-range', detail: 'More of the deposit goes back than was laid down.', received: shown(returned), expected: `at most ${deposit ?? 0}` });
  if (loan['currency'] !== undefined) { const text = r.text(loan['currency'], '/currency', 3); if (text !== undefined && !/^[A-Z]{3}$/.test(text)) r.fail('/currency', { code: 'out-of-range', detail: 'A currency has three letters (ISO 4217).', received: shown(text), expected: 'such as EUR' }); }
  if (loan['charge'] !== undefined) readCharge(r, loan['charge'], lent, due, money);
  if (loan['hours'] !== undefined) r.quantity(loan['hours'], '/hours', 'hours', { moreThan: 0, atMost: 1e8 });
  if (loan['note'] !== undefined) { const text = r.text(loan['note'], '/note', 2000); if (text !== undefined) plainText(r, text, '/note', true); }
  r.done();
  return loan as unknown as Loan;
}
function texts(r: Reader, value: unknown, at: string): string[] | undefined {
  return r.list(value, at, 24, 'entries')?.flatMap((v, i) => {
    const text = r.text(v, `${at}/${i}`, 200);
    if (text !== undefined) plainText(r, text, `${at}/${i}`);
    return text ?? [];
  });
}
function readCharge(r: Reader, value: unknown, lent: string | undefined, due: string | undefined, money: (v: unknown, at: string) => number | undefined): void {
  const o = r.object(value, '/charge', ['amount', 'per', 'atMost']);
  if (o === undefined) return;
  if (o['amount'] === undefined) r.missing('/charge/amount', 'How much', 'such as 5'); else money(o['amount'], '/charge/amount');
  const per = o['per'] === undefined ? r.missing('/charge/per', 'For how long', periods.join(', ')) : r.choice(o['per'], '/charge/per', periods);
  const most = o['atMost'];
  if (most === undefined) return;
  if (!Number.isInteger(most) || (most as number) < 1 || (most as number) > 1000) { r.fail('/charge/atMost', { code: 'out-of-range', detail: 'The longest loan is a whole number of weeks or months.', received: shown(most), expected: 'such as 4' }); return; }
  if (per === 'loan') r.fail('/charge/atMost', { code: 'one-of', detail: 'What is charged once has no longest loan in weeks or months.', received: shown(most), expected: 'per week or month' });
  else if (per !== undefined && lent !== undefined && due !== undefined && due > later(lent, per, most as number)) r.fail('/dueOn', { code: 'out-of-range', detail: `The loan is longer than ${most as number} ${per}${most === 1 ? '' : 's'}.`, received: due, expected: `at the latest ${later(lent, per, most as number)}`, try: later(lent, per, most as number) });
}

const dayNumber = (day: string): number => Date.parse(`${day}T00:00:00Z`) / 86_400_000;
const dayOf = (n: number): string => new Date(n * 86_400_000).toISOString().slice(0, 10);
/** So many weeks or months later; a month that has no such day ends on its last. */
export function later(day: string, per: 'week' | 'month', n: number): string {
  if (per === 'week') return dayOf(dayNumber(day) + 7 * n);
  const [year, month, date] = day.split('-').map(Number) as [number, number, number];
  const last = new Date(Date.UTC(year, month - 1 + n + 1, 0)).getUTCDate();
  return dayOf(Date.UTC(year, month - 1 + n, Math.min(date, last)) / 86_400_000);
}

export interface Reckoning { readonly until: string; readonly periods?: number; readonly per?: Period; readonly fees?: number; readonly refundable?: number; readonly daysLate?: number }
/** What is owed: every week or month that was begun, until it came back or, until then, is due; and what goes back. */
export function reckon(loan: Loan): Reckoning {
  const until = loan.returnedOn ?? loan.dueOn;
  const late = loan.returnedOn === undefined ? 0 : dayNumber(loan.returnedOn) - dayNumber(loan.dueOn);
  const { charge } = loan;
  let n = 1;
  if (charge !== undefined && charge.per !== 'loan') while (later(loan.lentOn, charge.per, n) < until) n++;
  return {
    until, ...(charge === undefined ? {} : { periods: n, per: charge.per, fees: Number((n * charge.amount).toFixed(6)) }), ...(loan.deposit === undefined ? {} : { refundable: loan.deposit }), ...(late > 0 ? { daysLate: late } : {}),
  };
}
