/** Wheels are found by what they are, by those who may see them, page by page. */
import { beforeAll, expect, it } from 'vitest';
import { describeOnBoth } from '../support/db.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

interface Found { readonly items: { readonly id: string; readonly name: string }[]; readonly next?: string }

await describeOnBoth('a search', (open) => {
  let shelf: TwoGuilds;
  const add = async (body: object, key = shelf.keys.own): Promise<string> => (await shelf.ask('POST', '/v1/wheels', { key, body: { ...profile, ...body } })).json<{ id: string }>().id;
  const search = async (query: Record<string, string>, key?: string): Promise<string[]> => {
    const reply = await shelf.ask('GET', `/v1/wheels?${String(new URLSearchParams({ limit: '100', ...query }))}`, key === undefined ? {} : { key });
    expect(reply.statusCode, reply.body).toBe(200);
    return reply.json<Found>().items.map((wheel) => wheel.name);
  };
  beforeAll(async () => {
    shelf = await twoGuilds(open());
    await add({ name: 'Grünwälder Spinnrad', visibility: 'public' });
    await add({ name: 'Hidden Cupboard', visibility: 'guild' });
    await add({ name: 'Two whorls', visibility: 'public', style: 'castle', driveWheel: { grooveDiameter: '498 mm' }, whorls: [{ grooveDiameter: '98 mm' }, { grooveDiameter: '23 mm' }] });
  });

  it('forgives accents, capitals, misspellings, and takes beginnings', async () => {
    for (const text of ['grunwalder', 'GRÜNWÄLDER spinnrad', 'Grunwlder', 'grunwaldre', 'grünwelder', 'spinrad', 'spinnrd', 'grünw']) expect(await search({ text }), text).toEqual(['Grünwälder Spinnrad']);
    for (const text of ['grunwalder cupboard', 'zzzz']) expect(await search({ text }), text).toEqual([]);
    expect((await search({ text: 'thronmere' })).length).toBeGreaterThan(5);
    expect((await search({ text: 'thornmer 12' }))[0]).toBe('Thornmere 12');
  });

  it('takes style, drive, ratios, orifice, and whether it draws in', async () => {
    expect(await search({ style: 'norwegian' })).toEqual(['Thornmere 7']);
    expect(await search({ drive: 'irish-tension', style: 'folding' })).toEqual(['Thornmere 15']);
    // (498 + 2) / (98 + 2) = 5 and 500 / 25 = 20: none between 9 and 11.
    expect(await search({ text: 'whorls', ratioAtLeast: '19:1', ratioAtMost: '21' })).toEqual(['Two whorls']);
    expect(await search({ text: 'whorls', ratioAtLeast: '9', ratioAtMost: '11' })).toEqual([]);
    expect(await search({ text: 'whorls', ratioAtMost: '4.9' })).toEqual([]);
    // Equal grooves of a double drive turn alike, by common practice of the trade.
    expect(await search({ text: 'equal', drawsIn: 'false' })).toEqual(['Thornmere 9, equal grooves']);
    expect(await search({ text: 'equal', drawsIn: 'true' })).toEqual([]);
    expect(await search({ text: 'thornmere 12', orificeAtLeast: '3/8 in' })).toEqual(['Thornmere 12']);
    expect(await search({ text: 'thornmere 12', orificeAtLeast: '11 mm' })).toEqual([]);
  });

  it('shows nobody what is not theirs, and follows every change', async () => {
    expect(await search({ text: 'cupboard' })).toEqual([]);
    expect(await search({ text: 'cupboard' }, shelf.keys.other)).toEqual([]);
    expect(await search({ text: 'cupboard' }, shelf.keys.own)).toEqual(['Hidden Cupboard']);
    const id = await add({ name: 'Lavender', visibility: 'public' });
    const change = async (method: 'PATCH' | 'DELETE', body?: object): Promise<void> => {
      const { etag } = (await shelf.ask('GET', `/v1/wheels/${id}`, { key: shelf.keys.own })).headers;
      expect((await shelf.ask(method, `/v1/wheels/${id}`, { key: shelf.keys.own, headers: { 'if-match': String(etag) }, ...(body === undefined ? {} : { body }) })).statusCode).toBeLessThan(300);
    };
    expect(await search({ text: 'lavender' }, shelf.keys.other)).toEqual(['Lavender']);
    await change('PATCH', { name: 'Rosemary' });
    expect([await search({ text: 'lavender' }), await search({ text: 'rosemary' })]).toEqual([[], ['Rosemary']]);
    expect((await shelf.ask('POST', `/v1/wheels/${id}/measurements`, { key: shelf.keys.own, body: { what: 'circumference', of: 'whorl', size: '157 mm' } })).statusCode).toBeLessThan(500);
    await change('PATCH', { visibility: 'guild' });
    expect([await search({ text: 'rosemary' }), await search({ text: 'rosemary' }, shelf.keys.own)]).toEqual([[], ['Rosemary']]);
    await change('DELETE');
    expect(await search({ text: 'rosemary' }, shelf.keys.own)).toEqual([]);
    const copy = await shelf.ask('POST', '/v1/wheels/thornmere-7/fork', { key: shelf.keys.other });
    expect(copy.statusCode, copy.body).toBe(201);
    expect(await search({ style: 'norwegian' }, shelf.keys.other)).toHaveLength(2);
    expect(await search({ style: 'norwegian' })).toHaveLength(1);
  });

  it('names what it cannot read', async () => {
    for (const [name, value] of [['style', 'round'], ['drive', 'x'], ['ratioAtLeast', 'many'], ['orificeAtLeast', '10 kg'], ['drawsIn', 'yes'], ['text', '---']] as const) {
      const reply = await shelf.ask('GET', `/v1/wheels?${name}=${encodeURIComponent(value)}`);
      expect([reply.statusCode, reply.json<{ errors: { parameter: string }[] }>().errors[0]!.parameter]).toEqual([expect.toSatisfy((n: number) => n === 400 || n === 422), name]);
    }
  });

  it('gives every wheel once while 1000 are added, and its cursor opens no other search', async () => {
    for (let i = 0; i < 60; i++) await add({ name: `Standing ${i}`, visibility: 'public' }, shelf.keys.other);
    const { database } = open();
    const { wheelStore } = await import('../../services/wheels/store.js');
    const store = wheelStore(database);
    // Forty at a time: a server's few connections do not let more wait.
    const lane = async (n: number): Promise<void> => { for (let i = n; i < 1000; i += 40) await store.create({ profile: { ...profile, name: `Standing new ${i}` } as never, visibility: 'public', parts: [] }, { guild: 'other-guild', keyId: null } as never); };
    const adding = Promise.all(Array.from({ length: 40 }, (_, n) => lane(n)));
    const seen: string[] = [];
    let url: string | undefined = '/v1/wheels?text=standing&limit=10';
    let first: string | undefined;
    while (url !== undefined) {
      const reply = await shelf.ask('GET', url);
      // A process that says that it is too busy is asked again.
      if (reply.statusCode === 503) { await new Promise((resolve) => setTimeout(resolve, 20)); continue; }
      expect(reply.statusCode, reply.body).toBe(200);
      const page = reply.json<Found>();
      seen.push(...page.items.map((wheel) => wheel.name));
      first ??= page.next;
      url = /<([^>]+)>; rel="next"/.exec(String(reply.headers.link))?.[1];
    }
    await adding;
    expect(new Set(seen).size).toBe(seen.length);
    expect(Array.from({ length: 60 }, (_, i) => `Standing ${i}`).filter((name) => !seen.includes(name))).toEqual([]);
    const after: string[] = [];
    let next: string | undefined;
    do {
      const { items, next: more } = await store.wheels({ limit: 100, search: { text: 'standing' }, ...(next === undefined ? {} : { after: next }) });
      after.push(...items.map((wheel) => wheel.id));
      next = more;
    } while (next !== undefined);
    expect([after.length, new Set(after).size]).toEqual([1060, 1060]);
    for (const query of [`text=other&after=${first}`, `after=${first}`, `text=standing&after=${first!.slice(0, -2)}`]) expect((await shelf.ask('GET', `/v1/wheels?${query}`)).statusCode, query).toBe(400);
  }, 120_000);
});
