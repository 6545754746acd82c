/** Cards over HTTP, on both databases: kept, listed, revised, put away, and opened again as questions. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { examples } from '../../services/cards/contract.js';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

type Json = Record<string, unknown>;
const sock = examples.toKeep;

await describeOnBoth('cards', (open) => {
  let shelf: TwoGuilds;
  beforeAll(async () => { shelf = await twoGuilds(open()); });
  afterAll(() => shelf?.app.close());
  const keep = async (more: Json = {}, key = shelf.keys.own) => {
    const reply = await shelf.ask('POST', '/v1/cards', { key, body: { ...sock, ...more } });
    expect(reply.statusCode, reply.body).toBe(201);
    const { id } = reply.json<{ id: string }>();
    expect(reply.headers.location).toBe(`/v1/cards/${id}`);
    return { id, url: `/v1/cards/${id}`, etag: String(reply.headers.etag), body: reply.body };
  };

  it('are kept as they were written, with the revision of the wheel', async () => {
    const { url, body, etag } = await keep();
    const reply = await shelf.ask('GET', url, { key: shelf.keys.reader });
    expect([reply.body, reply.headers.etag]).toEqual([body, etag]);
    const { id: _, revision, visibility, guild, createdAt: __, updatedAt: ___, wheelRevision, opens, ...own } = reply.json<Json>();
    expect(JSON.stringify(own)).toBe(JSON.stringify(sock));
    expect({ revision, visibility, guild, wheelRevision }).toEqual({ revision: 1, visibility: 'guild', guild: 'thornmere-guild', wheelRevision: 1 });
    expect((opens as unknown[]).length).toBeGreaterThan(0);
    expect((await shelf.ask('GET', url, { key: shelf.keys.own, headers: { 'if-none-match': etag } })).statusCode).toBe(304);
  });

  it('open calculations that answer, with their values filled in', async () => {
    const { url } = await keep();
    const { opens } = (await shelf.ask('GET', url, { key: shelf.keys.own })).json<{ opens: { calculation: string; link: string; page?: string }[] }>();
    expect(opens.map((o) => o.calculation)).toEqual(['twist', 'grist', 'ply', 'plan', 'ratio', 'tension']);
    for (const { link, page } of opens) {
      const answered = await shelf.ask('GET', link, { key: shelf.keys.own });
      expect(answered.statusCode, `${link} ${answered.body}`).toBe(200);
      if (page !== undefined) expect((await shelf.ask('GET', page)).statusCode, page).toBe(200);
    }
    // 562/62 turns a treadle, two treadles, 75 mm: the definition of twist.
    const twist = (await shelf.ask('GET', opens[0]!.link)).json<{ result: { twist: { value: number } } }>();
    expect(twist.result.twist.value).toBeCloseTo(((562 / 62) * 2) / 0.075, 3);
  });

  it.each([
    [{ name: undefined }, '/name', 'missing-field'], [{ hours: '6.5' }, '/hours', 'missing-unit'], [{ plies: 2.5 }, '/plies', 'out-of-range'], [{ direction: 'X' }, '/direction', 'unknown-choice'], [{ spunOn: '2026-02-30' }, '/spunOn', 'out-of-range'],
    [{ member: 'A. Spinner, Mill Lane' }, '/member', 'out-of-range'], [{ bagTest: { lifts: '18 g' } }, '/bagTest/pullsOff', 'missing-field'], [{ wheelName: 'Mill Lane' }, '/wheelName', 'one-of'], [{ wheelId: 'none' }, '/wheelId', 'wheel-not-found'], [{ twists: 3 }, '/twists', 'unknown-field'], [{ revision: 4 }, '/revision', 'unknown-field'], [{ note: 'a\u0000b' }, '/note', 'out-of-range'],
  ])('refuse %j at %s', async (more, pointer, code) => {
    const reply = await shelf.ask('POST', '/v1/cards', { key: shelf.keys.own, body: { ...sock, ...more } });
    expect(problemIn(reply).errors).toMatchObject([{ pointer, code }]);
  });

  it('are a guild’s own unless they are public; a member is told to the guild alone', async () => {
    const own = await keep();
    const open2 = await keep({ visibility: 'public' });
    for (const options of [{}, { key: shelf.keys.other }]) {
      for (const [method, url] of [['GET', own.url], ['GET', `${own.url}/revisions`], ['PUT', own.url], ['DELETE', own.url]] as const) {
        const reply = await shelf.ask(method, url, { ...options, ...(method === 'PUT' ? { body: sock } : {}), headers: { 'if-match': '*' } });
        expect(problemIn(reply).status).toBe(options.key === undefined && (method !== 'GET' || url.endsWith('revisions')) ? 401 : 404);
      }
      const list = (await shelf.ask('GET', '/v1/cards?limit=100', options)).body;
      expect(list).not.toContain(own.id);
      expect(list).toContain(open2.id);
      expect(list).not.toContain('m-017');
      expect((await shelf.ask('GET', open2.url, options)).json()).not.toHaveProperty('member');
    }
    expect(problemIn(await shelf.ask('PUT', open2.url, { key: shelf.keys.other, body: sock, headers: { 'if-match': '*' } })).status).toBe(403);
    expect(problemIn(await shelf.ask('POST', '/v1/cards', { key: shelf.keys.reader, body: sock })).status).toBe(403);
    expect(problemIn(await shelf.ask('POST', '/v1/cards', { body: sock })).status).toBe(401);
    // Nobody names a wheel that they may not see.
    const wheel = (await shelf.ask('POST', '/v1/wheels', { key: shelf.keys.own, body: profile })).json<{ id: string }>().id;
    expect(problemIn(await shelf.ask('POST', '/v1/cards', { key: shelf.keys.other, body: { name: 'x', wheelId: wheel } })).errors![0]!.code).toBe('wheel-not-found');
  });

  it('are revised by whoever saw the newest, and every revision is kept', async () => {
    const { url, etag } = await keep();
    expect(problemIn(await shelf.ask('PUT', url, { key: shelf.keys.own, body: sock })).status).toBe(428);
    const read = (await shelf.ask('GET', url, { key: shelf.keys.own })).json<Json>();
    const changed = await shelf.ask('PUT', url, { key: shelf.keys.own, body: { ...read, note: 'Two\nlines' }, headers: { 'if-match': etag } });
    expect(changed.json()).toMatchObject({ revision: 2, note: 'Two\nlines', wheelRevision: 1 });
    expect(problemIn(await shelf.ask('PUT', url, { key: shelf.keys.own, body: sock, headers: { 'if-match': etag } })).status).toBe(412);
    const tries = await Promise.all(Array.from({ length: 6 }, () => shelf.ask('PUT', url, { key: shelf.keys.own, body: sock, headers: { 'if-match': String(changed.headers.etag) } })));
    expect(tries.map((t) => t.statusCode).toSorted((a, b) => a - b)).toEqual([200, 412, 412, 412, 412, 412]);
    const last = String(tries.find((t) => t.statusCode === 200)!.headers.etag);
    expect((await shelf.ask('DELETE', url, { key: shelf.keys.own, headers: { 'if-match': last } })).statusCode).toBe(204);
    expect(problemIn(await shelf.ask('GET', url, { key: shelf.keys.own })).type).toBe('/problems/card-not-found');
    const seen: [number, string][] = [];
    let from: string | undefined = `${url}/revisions?limit=3`;
    while (from !== undefined) {
      const page = await shelf.ask('GET', from, { key: shelf.keys.own });
      seen.push(...page.json<{ items: { revision: number; change: string }[] }>().items.map((r): [number, string] => [r.revision, r.change]));
      from = /^<(.+)>; rel="next"$/.exec(String(page.headers.link ?? ''))?.[1];
    }
    expect(seen).toEqual([[4, 'retired'], [3, 'changed'], [2, 'changed'], [1, 'made']]);
  });

  it('are listed in pages, each once, of a wheel alone where one is named', async () => {
    const made = new Set<string>();
    for (let i = 0; i < 5; i++) made.add((await keep({ wheelId: 'thornmere-7', drive: undefined, whorl: undefined })).id);
    const seen: string[] = [];
    let url: string | undefined = '/v1/cards?limit=2&wheel=thornmere-7';
    while (url !== undefined) {
      const page = await shelf.ask('GET', url, { key: shelf.keys.own });
      const { items, next } = page.json<{ items: { id: string; wheelId: string }[]; next?: string }>();
      expect(items.every((c) => c.wheelId === 'thornmere-7')).toBe(true);
      seen.push(...items.map((c) => c.id));
      url = /^<(.+)>; rel="next"$/.exec(String(page.headers.link ?? ''))?.[1];
      expect(url === undefined).toBe(next === undefined);
    }
    expect(seen).toEqual([...made].toSorted());
    expect(problemIn(await shelf.ask('GET', '/v1/cards?after=AAAAAAAAAAAAAAAAAAAAAAAA', { key: shelf.keys.own })).type).toBe('/problems/invalid-cursor');
  });

  it('are kept once for each Idempotency-Key', async () => {
    const ask = () => shelf.ask('POST', '/v1/cards', { key: shelf.keys.own, body: sock, headers: { 'idempotency-key': 'sock-1' } });
    const [first, again] = [await ask(), await ask()];
    expect([again.statusCode, again.body]).toEqual([201, first.body]);
    const rows = await open().client.query("select count(*)::int as n from audit where what = 'card' and action = 'made' and subject = $1", [first.json<{ id: string }>().id], 'objects');
    expect(rows).toEqual([{ n: 1 }]);
  });
});
