/** Set-ups on wheels of the library: several by id, all that a search finds, a guild's own; and the same yarn on another wheel. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { wheels as demo } from '../../services/wheels/thornmere.js';
import { setups } from '../../services/calculations/index.js';
import { searchIn } from '../../services/http/library-search.js';
import type { Library } from '../../services/wheels/store.js';
import { openWhole, type Whole } from '../support/whole.js';
import { patiently, problemIn } from '../support/http.js';

let whole: Whole;
beforeAll(async () => { whole = await openWhole(); }, 60_000);
afterAll(() => whole.close());
const yarn = { grist: '1200 yd/lb', plies: 2, twist: '6 turns/in', fibre: 'wool', treadling: '60/min', draftLength: '1.5-2 in' };
const post = (question: object, key?: string) => patiently(() => whole.app.inject({ method: 'POST', url: '/v1/setups', payload: { ...yarn, ...question }, ...(key === undefined ? {} : { headers: { authorization: `Bearer ${key}` } }) }));
interface Result { setups: { wheel: string; wheelId?: string; whorl?: string; stands: string; draftLengthPerWheelTurn: { value: number } }[]; blocked?: { wheelId: string }[]; leftOut?: { wheelId: string; why: string }[]; considered: number; yarn: { strandGrist: { value: number }; strandTwist: { value: number } }; toMake?: { ratio: { value: number }; grooveDiameter?: { value: number } }[]; more?: number }
const resultOf = (reply: { json(): unknown }): Result => (reply.json() as { result: Result }).result;

describe('wheels of the library', { timeout: 60_000 }, () => {
  it('several by their ids give what the wheels themselves give', async () => {
    const ids = ['thornmere-4', 'thornmere-stamped'];
    const byId = await post({ wheelIds: ids });
    expect(byId.statusCode).toBe(200);
    const direct = setups.answer({ ...yarn, wheels: ids.map((id) => ({ wheelId: id, wheel: demo[id] })) });
    expect(byId.json()).toEqual(JSON.parse(JSON.stringify(direct)));
    expect(new Set(resultOf(byId).setups.map((s) => s.wheelId))).toEqual(new Set(ids));
  });
  it('a search finds them; what is not to be run is blocked, and the ranking is over all of them', async () => {
    const all = resultOf(await post({ library: {} }));
    expect(all.blocked!.map((b) => b.wheelId)).toEqual(['thornmere-attic']);
    expect(all.setups.some((s) => s.wheelId === 'thornmere-attic')).toBe(false);
    expect(all.considered).toBeGreaterThan(20);
    const castles = resultOf(await post({ library: { style: 'castle' } }));
    expect(new Set(castles.setups.map((s) => s.wheelId))).toEqual(new Set(['thornmere-20', 'thornmere-castle']));
    expect(resultOf(await post({ library: { name: 'stamped' } })).setups.every((s) => s.wheelId === 'thornmere-stamped')).toBe(true);
  });
  it('a guild’s own need its key', async () => {
    expect((await post({ library: { of: 'guild' } })).statusCode).toBe(401);
    const own = await post({ library: { of: 'guild' } }, whole.key);
    expect(own.statusCode).toBe(200);
    expect(resultOf(own).considered).toBeGreaterThan(20);
  });
  it('a search that finds nothing, an id that is none, and wheels given twice are refused where they stand', async () => {
    expect(problemIn(await post({ library: { name: 'nobody' } })).errors![0]).toMatchObject({ pointer: '/library', code: 'wheel-not-found' });
    expect(problemIn(await post({ library: { stile: 'castle' } })).errors![0]).toMatchObject({ pointer: '/library/stile', try: 'style' });
    expect(problemIn(await post({ wheelIds: ['thornmere-4', 'none'] })).status).toBe(404);
    expect(problemIn(await post({ wheelIds: ['thornmere-4'], library: {} })).errors![0]).toMatchObject({ pointer: '/wheelIds', code: 'one-of' });
    expect(problemIn(await post({ wheelIds: [4] })).errors![0]).toMatchObject({ pointer: '/wheelIds/0', code: 'wrong-type' });
  });
  it('the best of each wheel, for a class', async () => {
    const { setups: rows } = resultOf(await post({ library: {}, best: 'of-each-wheel' }));
    expect(new Set(rows.map((s) => s.wheelId)).size).toBe(rows.length);
    expect(rows.length).toBeGreaterThan(10);
  });
});

describe('five hundred wheels', { timeout: 60_000 }, () => {
  const list = Object.entries(demo);
  const many = (n: number) => Array.from({ length: n }, (_, i) => ({ wheelId: `w-${i}`, wheel: { ...list[i % list.length]![1], name: `Wheel ${i}` } }));
  it('are answered in one question, and one more is refused', () => {
    const { result } = setups.answer({ ...yarn, wheels: many(500), best: 'of-each-wheel' }) as { result: Result };
    expect(result.considered).toBeGreaterThan(1000);
    expect(result.setups.length + result.more!).toBeGreaterThan(400);
    expect(() => setups.answer({ ...yarn, wheels: many(501) })).toThrow(/At most 500/);
  });
  it('with more set-ups than can be looked at: says what to narrow', () => {
    const rich = { name: 'Rich', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'flyer-lead' }], whorls: Array.from({ length: 12 }, (_, i) => ({ grooveDiameter: `${40 + i} mm` })), bobbins: Array.from({ length: 3 }, () => ({ coreDiameter: '25 mm', endDiameter: '90 mm', lengthBetweenEnds: '100 mm' })) };
    let problem: unknown;
    try { setups.answer({ ...yarn, wheels: Array.from({ length: 500 }, () => ({ wheel: rich })) }); } catch (error) { problem = error; }
    expect(problem).toMatchObject({ code: 'too-many', issues: [{ pointer: '/wheels', detail: 'These wheels have more than 5000 set-ups between them.', expected: 'fewer wheels: narrow them by drive, style or name' }] });
  });
  it('a library that holds more says what to narrow', async () => {
    const page = many(100).map(({ wheelId, wheel }) => ({ id: wheelId, profile: wheel, guild: 'g' }));
    const library = { wheels: () => Promise.resolve({ items: page, next: 'more' }) } as unknown as Library;
    await expect(searchIn(library, { of: 'public' }, 500)).rejects.toMatchObject({ code: 'too-many', issues: [{ pointer: '/library', expected: 'a narrower search: by drive, style, or words of the name' }] });
  });
  it('a wheel that lacks a measure is left out, and why is said', () => {
    const { result } = setups.answer({ ...yarn, wheels: [{ wheelId: 'a', wheel: demo['thornmere-4'] }, { wheelId: 'b', wheel: { name: 'Bare', modes: [{ drive: 'flyer-lead' }] } }] }) as { result: Result };
    expect(result.leftOut).toMatchObject([{ wheelId: 'b', wheel: 'Bare' }]);
    expect(result.leftOut![0]!.why).toMatch(/whorl/);
  });
});

describe('match', { timeout: 60_000 }, () => {
  // On a 9:1 whorl two treadles for three inches: 6 turns an inch (common practice: ratio × turns over length).
  const card = { name: 'Blue', ratio: '9:1', treadlesPerDraw: 2, draftLength: '3 in', singlesGrist: '2400 yd/lb', fibre: 'wool', preparation: 'combed top', member: 'm-1' };
  const match = async (question: object): Promise<Result> => {
    const reply = await patiently(() => whole.app.inject({ method: 'POST', url: '/v1/setups', payload: { treadling: '60/min', ...question } }));
    expect(reply.statusCode, reply.body.slice(0, 400)).toBe(200);
    return resultOf(reply);
  };
  it('a card’s ratio, treadles and length give the twist that is wanted, on another wheel', async () => {
    const found = await match({ wheelId: 'thornmere-stamped', match: card });
    expect(found.yarn.strandTwist.value).toBeCloseTo(6 / 0.0254, 6);
    // 9:1 is on this wheel too: an inch and a half for each treadle, as it was.
    expect(found.setups[0]!.whorl).toBe('9');
    expect(found.setups[0]!.draftLengthPerWheelTurn.value).toBeCloseTo(38.1, 6);
  });
  it('each foot counted is half the turns', async () => {
    const found = await match({ wheelId: 'thornmere-stamped', match: { ...card, treadlesPerDraw: 4, counted: 'each-foot' } });
    expect(found.yarn.strandTwist.value).toBeCloseTo(6 / 0.0254, 6);
  });
  it('a card of a wheel of the library: its whorl’s ratio', async () => {
    const { ratio: _, ...rest } = card;
    const found = await match({ wheelId: 'thornmere-stamped', match: { ...rest, wheelId: 'thornmere-4', whorl: 'small' } });
    // (560 + 2)/(60 + 2) × 2 turns over 3 in.
    expect(found.yarn.strandTwist.value).toBeCloseTo((562 / 62) * 2 / 0.0762, 4);
    expect(problemIn(await patiently(() => whole.app.inject({ method: 'POST', url: '/v1/setups', payload: { wheelId: 'thornmere-stamped', match: { ...rest, wheelId: 'thornmere-4' } } }))).errors![0]).toMatchObject({ pointer: '/match/whorl' });
  });
  it('plied as it was, the strands come out as they were', async () => {
    const found = await match({ wheelId: 'thornmere-stamped', match: { ...card, plies: 2, plyTwist: '4 turns/in', direction: 'Z' } });
    const grist = found.yarn.strandGrist as { value?: number; low?: number; high?: number };
    expect(grist.value ?? (grist.low! + grist.high!) / 2).toBeCloseTo(453592.37 / 0.9144 / 2400, 0);
  });
  it('a card of the library by its id, its wheel and all', async () => {
    const headers = { authorization: `Bearer ${whole.key}` };
    const kept = await patiently(() => whole.app.inject({ method: 'POST', url: '/v1/cards', headers, payload: { name: 'Blue', wheelId: 'thornmere-4', drive: 'double-drive', whorl: 'small', treadlesPerDraw: 2, draftLength: '3 in', singlesGrist: '2400 yd/lb', fibre: 'wool', member: 'spinner-x', bagTest: { lifts: '10 g', pullsOff: '30 g' } } }));
    expect(kept.statusCode, kept.body).toBe(201);
    const { id } = kept.json() as { id: string };
    const ask = (match: object, more: object = { headers }) => patiently(() => whole.app.inject({ method: 'POST', url: '/v1/setups', payload: { wheelId: 'thornmere-stamped', match }, ...more }));
    const found = await ask({ cardId: id });
    expect(found.statusCode, found.body.slice(0, 400)).toBe(200);
    expect(resultOf(found).yarn.strandTwist.value).toBeCloseTo((562 / 62) * 2 / 0.0762, 4);
    expect(found.body).not.toContain('spinner-x');
    expect((await ask({ cardId: id }, {})).statusCode).toBe(404);
    expect(problemIn(await ask({ cardId: id, ratio: '9:1' })).errors![0]).toMatchObject({ pointer: '/match/cardId', code: 'one-of' });
  });
  it('the yarn given twice, and a card that says too little, are refused where they stand', async () => {
    const refused = async (question: object) => problemIn(await patiently(() => whole.app.inject({ method: 'POST', url: '/v1/setups', payload: { wheelId: 'thornmere-stamped', ...question } }))).errors!;
    expect((await refused({ match: card, grist: '100 tex' }))[0]).toMatchObject({ pointer: '/grist', code: 'one-of' });
    expect((await refused({ match: { name: 'Blue', ratio: '9:1' } })).map((e) => e.pointer)).toEqual(expect.arrayContaining(['/match/draftLength']));
    expect((await refused({ match: { nam: 'Blue' } }))[0]).toMatchObject({ pointer: '/match/nam', try: 'name' });
  });
});

it('whorls to have made for wanted ratios: (560 + 2)/10 - 2 and (560 + 2)/14 - 2 mm', async () => {
  const made = resultOf(await post({ wheelId: 'thornmere-4', wanted: [10, '14:1'] })).toMake!;
  expect(made.map((m) => m.grooveDiameter!.value)).toEqual([expect.closeTo(54.2, 9), expect.closeTo(562 / 14 - 2, 9)]);
});

describe('the class sheet', { timeout: 60_000 }, () => {
  const sheet = async (query: string) => { const { statusCode, body } = await whole.app.inject(`/class-sheet?${query}`); return { statusCode, body: body.replaceAll('\u00a0', ' ') }; };
  const asked = 'grist=1200+yd/lb&plies=2&twist=6+turns/in&fibre=wool&draftLength=1.5-2+in';
  it('has a line for each wheel, cautions above, and what is not to be run', async () => {
    const { statusCode, body } = await sheet(asked);
    expect(statusCode).toBe(200);
    for (const name of ['Thornmere 4', 'Thornmere 15', 'Thornmere Castle', 'Thornmere Stamped']) expect(body).toContain(name);
    expect(body).toMatch(/Not to be run:<\/b> Thornmere Attic/);
    expect(body.indexOf('A cracked flyer')).toBeLessThan(body.indexOf('<table'));
  });
  it('of a kind, of a name, or of these alone', async () => {
    expect((await sheet(`${asked}&style=castle`)).body).not.toContain('Thornmere 15');
    expect((await sheet(`${asked}&named=stamped`)).body).not.toContain('Thornmere 4<');
    expect((await sheet(`${asked}&wheelId=thornmere-4&wheelId=thornmere-15`)).body).not.toContain('Thornmere Castle');
  });
  it('says what is missing and what is wrong, beside its box', async () => {
    expect((await sheet('grist=1200+yd/lb')).statusCode).toBe(422);
    const wrong = await sheet(`${asked}&style=castel`);
    expect(wrong.statusCode).toBe(400);
    expect(wrong.body).toContain('no such kind of wheel');
    expect((await sheet('')).statusCode).toBe(200);
  });
});
