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

  it('takes what it can draw in, from an empty bobbin', async () => {
    // A braked flyer's bobbin stands still at most: a turn of the flyer draws in pi times the core, so 22 mm and 8.33 to 1 make 576 mm
    // of a turn of the wheel, and 1 / (pi 0.022 m) = 14.5 turns/m is the softest twist (Klein, twist = flyer turns by length wound).
    await add({ name: 'Drawing', visibility: 'public', driveWheel: { grooveDiameter: '498 mm' }, whorls: [{ grooveDiameter: '58 mm' }], bobbins: [{ coreDiameter: '22 mm', endDiameter: '75 mm', lengthBetweenEnds: '90 mm' }] });
    for (const [name, inside, outside] of [['drawsInAtLeast', '570 mm', '580 mm'], ['twistAtMost', '14.6 turns/m', '14.3 turns/m']] as const) {
      expect(await search({ text: 'drawing', [name]: inside })).toEqual(['Drawing']);
      expect(await search({ text: 'drawing', [name]: outside })).toEqual([]);
    }
    expect(await search({ text: 'whorls', twistAtMost: '1000 turns/m' })).not.toContain('Two whorls');
  });

  it('finds wheels like one, the most alike first, and says why', async () => {
    const like = async (id: string, key?: string) => {
      const reply = await shelf.ask('GET', `/v1/wheels/${id}/similar`, key === undefined ? {} : { key });
      expect(reply.statusCode, reply.body).toBe(200);
      return reply.json<{ items: { wheel: { id: string; name: string }; distance: number; why: { part: string; distance: number; text: string }[] }[] }>().items;
    };
    const base = { driveWheel: { grooveDiameter: '498 mm' }, style: 'castle', flyers: [{ name: 'one', orificeDiameter: '10 mm' }] };
    const id = await add({ ...base, name: 'Model', visibility: 'public', whorls: [{ grooveDiameter: '48 mm' }] });
    await add({ ...base, name: 'Twin', visibility: 'public', whorls: [{ grooveDiameter: '48 mm' }] });
    await add({ ...base, name: 'Twice as fast', visibility: 'public', whorls: [{ grooveDiameter: '23 mm' }] });
    await add({ ...base, name: 'Half as fast', visibility: 'public', whorls: [{ grooveDiameter: '98 mm' }] });
    await add({ ...base, name: 'Own twin', visibility: 'guild', whorls: [{ grooveDiameter: '48 mm' }] });
    const open = await like(id);
    expect(open.map((one) => one.wheel.name)).not.toContain('Own twin');
    expect((await like(id, shelf.keys.own)).slice(0, 2).map((one) => one.wheel.name).toSorted()).toEqual(['Own twin', 'Twin']);
    expect(open[0]).toMatchObject({ wheel: { name: 'Twin' }, distance: 0 });
    const [fast, slow] = ['Twice as fast', 'Half as fast'].map((name) => open.find((one) => one.wheel.name === name)!);
    // Ten to one against twenty, and against five: one doubling each, which counts two.
    expect([fast!.distance, slow!.distance]).toEqual([2, 2]);
    expect(fast!.why[0]).toEqual({ part: 'ratios', distance: 2, text: '10 : 1; there 20 : 1' });
    for (const one of open) expect(one.distance).toBeCloseTo(one.why.reduce((sum, part) => sum + part.distance, 0), 9);
    expect(open.map((one) => one.distance)).toEqual(open.map((one) => one.distance).toSorted((a, b) => a - b));
    expect(open).toHaveLength(10);
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
