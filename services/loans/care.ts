/** The log of a wheel's care: hours at it, bands fitted, oil, and what was seen of the band. Pure. */
import { plainText, readDate, readReference } from '../foundation/noted.js';
import { metric } from '../foundation/quantity.js';
import { Reader } from '../foundation/read.js';
import { middle, wire, type Q } from '../foundation/reading.js';
import type { Band, QIn } from '../wheels/profile.js';
import { materials } from '../wheels/words.js';
import type { StoredLoan } from './loan.js';

export const cares = ['hours', 'band-fitted', 'oiled', 'looked-over'] as const;
/** What tells that a band is at its end. There is no fixed time: join, cord and tension differ, and eight hours and a year are both told of. Common practice. */
export const bandSigns = ['frayed', 'slips', 'stretched-past-the-adjuster'] as const;
export interface CareEntry { readonly what: (typeof cares)[number]; readonly on: string; readonly hours?: QIn; readonly band?: Band; readonly signs?: readonly (typeof bandSigns)[number][]; readonly member?: string; readonly note?: string }
export interface StoredCare { readonly id: string; readonly revision: number; readonly entry: CareEntry; readonly createdAt: Date }

const takes = { hours: ['hours'], 'band-fitted': ['band'], oiled: [], 'looked-over': ['signs'] } as const;
export function readCare(body: unknown): CareEntry {
  const r = new Reader();
  const o = r.object(body, '', ['what', 'on', 'hours', 'band', 'signs', 'member', 'note']);
  r.done();
  const q = o!;
  const what = q['what'] === undefined ? r.missing('/what', 'What was done', cares.join(', ')) : r.choice(q['what'], '/what', cares);
  if (q['on'] === undefined) r.missing('/on', 'The day', 'such as 2026-03-14'); else readDate(r, q['on'], '/on');
  if (what !== undefined) for (const name of ['hours', 'band', 'signs'] as const) {
    if ((takes[what] as readonly string[]).includes(name)) continue;
    if (q[name] !== undefined) r.fail(`/${name}`, { code: 'unknown-field', detail: `“${name}” does not belong to this entry.`, received: name, expected: takes[what][0] ?? 'nothing but the day and a note' });
  }
  if (what === 'hours') { if (q['hours'] === undefined) r.missing('/hours', 'How long', 'such as 2.5 h'); else r.quantity(q['hours'], '/hours', 'hours', { moreThan: 0, atMost: 1e8 }); }
  if (what === 'looked-over') {
    const list = q['signs'] === undefined ? r.missing('/signs', 'What was seen', `[], or any of ${bandSigns.join(', ')}`) : r.list(q['signs'], '/signs', bandSigns.length, 'signs');
    list?.forEach((sign, i) => r.choice(sign, `/signs/${i}`, bandSigns));
  }
  if (q['band'] !== undefined && what === 'band-fitted') {
    const band = r.object(q['band'], '/band', ['thickness', 'material']);
    if (band?.['thickness'] !== undefined) r.quantity(band['thickness'], '/band/thickness', 'part', { atLeast: 0, atMost: 0.05, says: 'from 0 to 50 mm' });
    if (band?.['material'] !== undefined) r.choice(band['material'], '/band/material', materials);
  }
  if (q['member'] !== undefined) readReference(r, q['member'], '/member');
  if (q['note'] !== undefined) { const text = r.text(q['note'], '/note', 2000); if (text !== undefined) plainText(r, text, '/note', true); }
  r.done();
  return q as unknown as CareEntry;
}

export interface Hours {
  total: Q;
  band: { hours: Q; fittedOn?: string; signs: readonly string[]; before: readonly { fittedOn: string; takenOffOn: string; hours: Q }[] };
  oil: { hours: Q; oiledOn?: string };
  lookFor: readonly string[];
  advice: string;
}
const secondsOf = (q: QIn | undefined): number => { const r = q === undefined ? undefined : new Reader().quantity(q, '', 'hours'); return r === undefined ? 0 : middle(r); };
const told = (seconds: number): Q => wire('hours', { value: seconds }, metric) as Q;

/** Hours at the wheel: of the log, and of loans that came back. A day counts for the band and the oil that were on it at its end. */
export function hoursOf(entries: readonly StoredCare[], loans: readonly StoredLoan[]): Hours {
  const spun = [
    ...entries.filter((e) => e.entry.what === 'hours').map((e) => ({ on: e.entry.on, seconds: secondsOf(e.entry.hours) })),
    ...loans.flatMap((l) => (l.loan.hours === undefined ? [] : [{ on: l.loan.returnedOn ?? l.loan.dueOn, seconds: secondsOf(l.loan.hours) }])),
  ];
  const days = (what: CareEntry['what']): string[] => [...new Set(entries.filter((e) => e.entry.what === what).map((e) => e.entry.on))].toSorted();
  const between = (from: string | undefined, to?: string): number => spun.filter((s) => (from === undefined || s.on >= from) && (to === undefined || s.on < to)).reduce((sum, s) => sum + s.seconds, 0);
  const [fitted, oiled] = [days('band-fitted'), days('oiled')];
  const [band, oil] = [fitted.at(-1), oiled.at(-1)];
  const seen = entries.filter((e) => e.entry.what === 'looked-over' && (band === undefined || e.entry.on >= band)).toSorted((a, b) => (a.entry.on < b.entry.on ? -1 : 1)).at(-1);
  return {
    total: told(between(undefined)),
    band: { hours: told(between(band)), ...(band === undefined ? {} : { fittedOn: band }), signs: seen?.entry.signs ?? [], before: fitted.slice(0, -1).map((on, i) => ({ fittedOn: on, takenOffOn: fitted[i + 1]!, hours: told(between(on, fitted[i + 1])) })) },
    oil: { hours: told(between(oil)), ...(oil === undefined ? {} : { oiledOn: oil }) },
    lookFor: bandSigns,
    advice: 'A band has no fixed life: the join, the cord and the tension differ from wheel to wheel. Change it when it frays, slips, or is stretched past what the wheel can take up; the hours of bands before it on this wheel are the best guide.',
  };
}
