/** The register of loans and the log of care over HTTP, on both databases; with what practitioners asked of them. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { later, reckon } from '../../services/loans/loan.js';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { twoGuilds, type TwoGuilds } from '../support/shelf.js';

type Json = Record<string, unknown>;
interface Case {
  id: string; care?: Json[]; hours?: { band: number; fittedOn: string; oil: number; total: number; before: number[]; signs: string[]; lookFor: string[] };
  loans?: { loan: { lentOn: string; dueOn: string } & Json; fees: number; refundable: number; periods: number; tooLong: string; latest: string }[];
}
const { count, cases } = JSON.parse(readFileSync(new URL('./cases.json', import.meta.url), 'utf8')) as { count: number; cases: Case[] };
const profile = { name: 'Mill Lane', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'flyer-lead' }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }, { name: 'large', grooveDiameter: '75 mm' }], bobbins: [{ name: 'plain' }] };
const loan = { member: 'm-017', lentOn: '2026-03-02', dueOn: '2026-03-30', faultsOut: [] };

await describeOnBoth('loans and care', (open) => {
  let shelf: TwoGuilds;
  beforeAll(async () => { shelf = await twoGuilds(open()); });
  afterAll(() => shelf?.app.close());
  const wheel = async (more: Json = {}): Promise<string> => `/v1/wheels/${(await shelf.ask('POST', '/v1/wheels', { key: shelf.keys.own, body: { ...profile, ...more } })).json<{ id: string }>().id}`;
  const post = async (url: string, body: Json) => {
    const reply = await shelf.ask('POST', url, { key: shelf.keys.own, body });
    expect(reply.statusCode, reply.body).toBe(201);
    return { at: String(reply.headers.location), etag: String(reply.headers.etag), body: reply.json<Json & { id: string; reckoning: Json }>() };
  };

  it('holds as many cases as it says', () => { expect(cases).toHaveLength(count); });
  for (const c of cases) {
    if (c.hours !== undefined) it(`${c.id}: hours of bands and of oil, the signs, and no interval`, async () => {
      const url = await wheel();
      for (const entry of c.care!) await post(`${url}/care`, entry);
      const got = (await shelf.ask('GET', `${url}/hours`, { key: shelf.keys.reader })).json<{ total: { value: number }; band: { hours: { value: number }; fittedOn: string; signs: string[]; before: { hours: { value: number } }[] }; oil: { hours: { value: number } }; lookFor: string[]; advice: string }>();
      expect({ band: got.band.hours.value, fittedOn: got.band.fittedOn, oil: got.oil.hours.value, total: got.total.value, before: got.band.before.map((b) => b.hours.value), signs: got.band.signs, lookFor: got.lookFor }).toEqual(c.hours);
      expect(got.advice).toMatch(/no fixed life/);
      expect(got.advice).not.toMatch(/\d/);
    });
    for (const l of c.loans ?? []) it(`${c.id}: ${l.fees} in fees, ${l.refundable} to go back; no longer than is allowed`, async () => {
      const url = await wheel();
      expect(problemIn(await shelf.ask('POST', `${url}/loans`, { key: shelf.keys.own, body: { ...l.loan, dueOn: l.tooLong } })).errors).toMatchObject([{ pointer: '/dueOn', code: 'out-of-range', try: l.latest }]);
      const { faultsOut: _, ...unlooked } = l.loan;
      expect(problemIn(await shelf.ask('POST', `${url}/loans`, { key: shelf.keys.own, body: unlooked })).errors).toMatchObject([{ pointer: '/faultsOut', code: 'missing-field' }]);
      const { at, etag, body } = await post(`${url}/loans`, l.loan);
      expect(body.reckoning).toMatchObject({ fees: l.fees, refundable: l.refundable, periods: l.periods, until: l.loan.dueOn });
      const { id: _id, wheel: _w, revision: _r, createdAt: _c, updatedAt: _u, reckoning: _k, ...own } = body;
      expect(own).toEqual(l.loan);
      // Examined on its return.
      const back = { ...body, returnedOn: l.loan.dueOn };
      expect(problemIn(await shelf.ask('PUT', at, { key: shelf.keys.own, body: back, headers: { 'if-match': etag } })).errors).toMatchObject([{ pointer: '/faultsIn', code: 'missing-field' }]);
      const returned = await shelf.ask('PUT', at, { key: shelf.keys.own, body: { ...back, faultsIn: ['treadle squeaks'], depositReturned: l.refundable }, headers: { 'if-match': etag } });
      expect(returned.json()).toMatchObject({ revision: 2, faultsIn: ['treadle squeaks'], reckoning: { fees: l.fees } });
      expect(await open().client.query('select revision from loan_revisions where loan_id = $1 order by revision', [body.id], 'objects')).toEqual([{ revision: 1 }, { revision: 2 }]);
    });
  }

  it('reckons every week or month that was begun; a month ends on its last day', () => {
    expect([later('2026-01-31', 'month', 1), later('2028-01-31', 'month', 1), later('2026-12-30', 'week', 1), later('2026-11-30', 'month', 3)]).toEqual(['2026-02-28', '2028-02-29', '2027-01-06', '2027-02-28']);
    const of = (returnedOn: string, per: 'week' | 'month' | 'loan') => reckon({ ...loan, returnedOn, faultsIn: [], charge: { amount: 5, per } });
    expect([of('2026-03-02', 'week').fees, of('2026-03-09', 'week').fees, of('2026-03-10', 'week').fees, of('2026-04-03', 'month').fees, of('2026-04-03', 'loan').fees]).toEqual([5, 5, 10, 10, 5]);
    expect(of('2026-04-03', 'week')).toMatchObject({ daysLate: 4, until: '2026-04-03' });
  });

  it('lends a wheel once at a time, however many ask at once, and none that is not to be run', async () => {
    const url = await wheel();
    const asked = await Promise.all(Array.from({ length: 6 }, () => shelf.ask('POST', `${url}/loans`, { key: shelf.keys.own, body: loan })));
    expect(asked.map((reply) => reply.statusCode).toSorted((a, b) => a - b)).toEqual([201, 409, 409, 409, 409, 409]);
    expect(problemIn(asked.find((reply) => reply.statusCode === 409)!).detail).toMatch(/out already/);
    expect(problemIn(await shelf.ask('POST', `${await wheel({ condition: 'do-not-run' })}/loans`, { key: shelf.keys.own, body: loan })).status).toBe(409);
  });

  it('is a guild’s own, even of a public wheel', async () => {
    const [own, shown] = [await wheel(), await wheel({ visibility: 'public' })];
    for (const url of [own, shown]) {
      const made = [await post(`${url}/loans`, loan), await post(`${url}/care`, { what: 'oiled', on: '2026-03-01' })];
      for (const path of [`${url}/loans`, `${url}/care`, `${url}/hours`, ...made.map((m) => m.at)]) {
        expect(problemIn(await shelf.ask('GET', path)).status).toBe(401);
        expect(problemIn(await shelf.ask('GET', path, { key: shelf.keys.other })).status, path).toBe(url === own ? 404 : 403);
        expect((await shelf.ask('GET', path, { key: shelf.keys.reader })).statusCode).toBe(200);
      }
      expect(problemIn(await shelf.ask('POST', `${url}/loans`, { key: shelf.keys.reader, body: loan })).status).toBe(403);
      expect(problemIn(await shelf.ask('DELETE', made[1]!.at, { key: shelf.keys.other, headers: { 'if-match': '*' } })).status).toBe(url === own ? 404 : 403);
    }
    expect((await shelf.ask('GET', '/v1/loans', { key: shelf.keys.other })).json()).toEqual({ items: [] });
  });

  it('tells what is out and due back, in pages; a struck entry no longer counts', async () => {
    const made: string[] = [];
    for (const dueOn of ['2027-01-01', '2027-02-01', '2027-03-01']) made.push((await post(`${await wheel()}/loans`, { ...loan, lentOn: '2026-12-01', dueOn })).body.id);
    const seen: string[] = [];
    let url: string | undefined = '/v1/loans?limit=2&out=true&dueBy=2027-02-01';
    while (url !== undefined) {
      const page = await shelf.ask('GET', url, { key: shelf.keys.reader });
      seen.push(...page.json<{ items: { id: string }[] }>().items.map((l) => l.id));
      url = /^<(.+)>; rel="next"$/.exec(String(page.headers.link ?? ''))?.[1];
    }
    expect(seen).toEqual(expect.arrayContaining(made.slice(0, 2)));
    expect(seen).not.toContain(made[2]);
    expect(new Set(seen).size).toBe(seen.length);
    expect(problemIn(await shelf.ask('GET', '/v1/loans?dueBy=soon', { key: shelf.keys.reader })).errors![0]!.parameter).toBe('dueBy');
    const wheelUrl = await wheel();
    const { at, etag } = await post(`${wheelUrl}/care`, { what: 'hours', on: '2026-03-01', hours: '2 h' });
    expect(problemIn(await shelf.ask('DELETE', at, { key: shelf.keys.own })).status).toBe(428);
    expect((await shelf.ask('DELETE', at, { key: shelf.keys.own, headers: { 'if-match': etag } })).statusCode).toBe(204);
    expect((await shelf.ask('GET', `${wheelUrl}/hours`, { key: shelf.keys.own })).json<{ total: { value: number } }>().total.value).toBe(0);
  });

  it.each([
    ['loans', { ...loan, member: 'A. Spinner' }, '/member', 'out-of-range'], ['loans', { ...loan, dueOn: '2026-02-01' }, '/dueOn', 'range-reversed'], ['loans', { ...loan, whorls: ['smal'] }, '/whorls/0', 'not-known-part'], ['loans', { ...loan, deposit: 50, depositReturned: 60 }, '/depositReturned', 'out-of-range'],
    ['loans', { ...loan, deposit: '50' }, '/deposit', 'wrong-type'], ['loans', { ...loan, faultsIn: [] }, '/returnedOn', 'missing-field'], ['loans', { ...loan, hours: '6' }, '/hours', 'missing-unit'], ['care', { what: 'hours', on: '2026-03-01' }, '/hours', 'missing-field'], ['care', { what: 'oiled', on: '2026-13-01' }, '/on', 'out-of-range'],
    ['care', { what: 'looked-over', on: '2026-03-01', signs: ['frayd'] }, '/signs/0', 'unknown-choice'], ['care', { what: 'oiled', on: '2026-03-01', hours: '2 h' }, '/hours', 'unknown-field'],
  ])('%s: refuses %j at %s', async (list, body, pointer, code) => {
    expect(problemIn(await shelf.ask('POST', `${await wheel()}/${list}`, { key: shelf.keys.own, body })).errors).toContainEqual(expect.objectContaining({ pointer, code }));
  });

  it('keeps a loan and an entry once for each Idempotency-Key', async () => {
    const url = await wheel();
    for (const [list, body] of [['loans', loan], ['care', { what: 'oiled', on: '2026-03-01' }]] as const) {
      const ask = () => shelf.ask('POST', `${url}/${list}`, { key: shelf.keys.own, body, headers: { 'idempotency-key': `${list} ${url}` } });
      const [one, again] = [await ask(), await ask()];
      expect([one.statusCode, again.body]).toEqual([201, one.body]);
      expect((await shelf.ask('GET', `${url}/${list}`, { key: shelf.keys.own })).json<{ items: unknown[] }>().items).toHaveLength(1);
    }
  });
});
