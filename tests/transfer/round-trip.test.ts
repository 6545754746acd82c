/** Wheels go out as a file and come in again as they were; a bad row is named, and does not keep the others out. */
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { inFull } from '../../sdk/generate/spec.js';
import committed from '../../sdk/openapi.json' with { type: 'json' };
import { csvLine, readCsv, withoutGuard } from '../../services/foundation/csv.js';
import { parseJson } from '../../services/http/json.js';
import { columns, headingIssues, rowOf, wheelOf } from '../../services/transfer/table.js';
import { wheels as seeded } from '../../services/wheels/thornmere.js';
import { valid, type Spec } from '../contract/requests.js';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

type Json = Record<string, unknown>;
const demo = Object.values(seeded) as Json[];
interface Imported { readonly rows: number; readonly made: number; readonly refused: number; readonly wheels: { row: number; line: number; verdict: string; id?: string; errors?: { column?: string; code: string; received?: string; expected?: string }[] }[] }
/** Names, measures and parts that a spreadsheet, a delimiter or a guess at types would spoil. */
const odd: Json[] = [
  { ...profile, name: '=SUM(A1:A9)' }, { ...profile, name: '\'=1+1' }, { ...profile, name: '+49, "loft"; \tno'.replace('\t', ' ') }, { ...profile, name: '-5' }, { ...profile, name: '007' }, { ...profile, name: '{"a":1}' }, { ...profile, name: ' padded ' },
  { name: 'Objects', driveWheel: { grooveDiameter: { value: 22.0625, unit: 'in', plusMinus: 0.0625 } }, whorls: [{ statedRatio: 9 }, { statedRatio: '9' }, { statedRatio: '9:1', name: '@small' }, { grooveDiameter: { low: 40, high: 42, unit: 'mm' } }] },
  { name: 'Rare parts', driveWheel: { grooveDiameter: '500 mm', shape: 'v', angle: '40 deg' }, stages: [{ driven: { grooveDiameter: '60 mm' }, driving: { grooveDiameter: '200 mm' } }], modes: [{ drive: 'flyer-lead', brake: { on: 'bobbin', grooveDiameter: '50 mm' } }], whorls: [], flyerSpeed: { slowest: '100/min' } },
  { name: 'Many', whorls: Array.from({ length: 9 }, (_, i) => ({ grooveDiameter: `${30 + i} mm` })), bobbins: [{ name: 'a', grooves: [{ grooveDiameter: '40 mm' }, { grooveDiameter: '45 mm' }, { grooveDiameter: '50 mm' }], mass: '90 g' }] },
];

describe('a row of a table', () => {
  const through = (wheel: Json, raw: boolean): Json => {
    const [head, row] = readCsv(csvLine(columns, { raw }) + csvLine(rowOf(wheel as never), { raw }), ',');
    expect(headingIssues(head!.cells)).toEqual([]);
    const { wheel: back, issues } = wheelOf(head!.cells, raw ? row!.cells : row!.cells.map(withoutGuard), parseJson);
    expect(issues).toEqual([]);
    return back;
  };
  it('gives back every wheel as it was', () => {
    for (const wheel of [...odd, ...demo]) for (const raw of [true, false]) expect(through(wheel, raw)).toEqual(wheel);
    const spec = inFull(committed as unknown as Spec);
    fc.assert(fc.property(valid(spec, spec.components.schemas['WheelToKeep']!), fc.boolean(), (made, raw) => { const wheel = JSON.parse(JSON.stringify(made)) as Json; expect(through(wheel, raw)).toEqual(wheel); }), { numRuns: 200 });
  });
});

await describeOnBoth('wheels as a file', (open) => {
  let two: TwoGuilds;
  beforeAll(async () => {
    two = await twoGuilds(open());
    const all = await send('.ndjson', odd.map((wheel) => JSON.stringify(wheel)).join('\n'), two.keys.admin);
    expect(all.json<Imported>()).toMatchObject({ rows: odd.length, made: odd.length, refused: 0 });
  }, 60_000);
  afterAll(() => two?.app.close());
  const send = (kind: '.ndjson' | '.csv', payload: string | Buffer, key: string, query = '', headers: Record<string, string> = {}) =>
    two.app.inject({ method: 'POST', url: `/v1/wheels${kind}${query}`, headers: { authorization: `Bearer ${key}`, 'content-type': kind === '.csv' ? 'text/csv' : 'application/x-ndjson', ...headers }, payload });
  const fetched = async (kind: string, key?: string): Promise<string> => {
    const reply = await two.ask('GET', `/v1/wheels${kind}`, key === undefined ? {} : { key });
    expect(reply.statusCode, reply.body).toBe(200);
    return reply.body;
  };
  /** What of each line a guild posts; the rest the library gives. */
  const posted = (ndjson: string): Json[] => ndjson.trimEnd().split('\n').map((line) => JSON.parse(line) as Json).filter((line) => line['end'] !== true)
    .map(({ id: _, revision: __, guild: ___, createdAt: ____, updatedAt: _____, forkedFrom: ______, ...own }) => own).toSorted((a, b) => (String(a['name']) < String(b['name']) ? -1 : 1));

  it('come in as they went out, into another guild, by either kind', async () => {
    const out = await fetched('.ndjson', two.keys.admin);
    const wheels = posted(out);
    expect(JSON.parse(out.trimEnd().split('\n').at(-1)!)).toEqual({ end: true, wheels: wheels.length });
    expect(wheels.length).toBe(demo.length + odd.length);
    for (const [kind, query] of [['.ndjson', ''], ['.csv', ''], ['.csv', '?raw=true']] as const) {
      const guild = `guild-${kind.slice(1)}-${query.length}`;
      const { guildStore } = await import('../../services/guilds/store.js');
      await guildStore(open().database).addGuild(guild, guild);
      const key = await two.key(guild, 'read', 'write');
      const reply = await send(kind, await fetched(`${kind}${query}`, two.keys.admin), key, query);
      expect(reply.json<Imported>(), reply.body).toMatchObject({ rows: wheels.length, made: wheels.length, refused: 0 });
      expect(posted(await fetched('.ndjson', key))).toEqual(wheels);
      if (kind === '.csv') expect((await fetched(`.csv${query}`, key)).split('\r\n').map((row) => row.split(',').slice(7).join()).toSorted()).toEqual((await fetched(`.csv${query}`, two.keys.admin)).split('\r\n').map((row) => row.split(',').slice(7).join()).toSorted());
      // What was made so is found, has its first revision and one line of the audit.
      const made = reply.json<Imported>().wheels[0]!.id!;
      expect((await two.ask('GET', `/v1/wheels/${made}/revisions`, { key })).json<{ items: { revision: number; change: string }[] }>().items).toMatchObject([{ revision: 1, change: 'made' }]);
    }
    expect((await two.ask('GET', '/v1/wheels?of=guild&text=rare', { key: two.keys.own })).json<{ items: { name: string }[] }>().items.map((w) => w.name)).toEqual(['Rare parts']);
  });

  it('name the row, the column, what was read and what was expected, and make the others', async () => {
    const table = 'name;style;driveWheel.grooveDiameter;whorls.1.grooveDiameter;whorls.2.grooveDiameter;whorls\nGood one;saxony;560 mm;60 mm;;\nBad unit;saxony;560;60 mm;;\n;castle;;;;\nBad list;;;;55 mm;\nBad JSON;;;;;[{\n"Open;;;;;\nToo long;;;;;;;x\nGood two;;520 mm;;;"[{""name"":""a""}]"\n';
    const reply = (await send('.csv', table, two.keys.other)).json<Imported>();
    expect(reply).toMatchObject({ rows: 8, made: 2, refused: 6 });
    const [good, unit, nameless, list, json, quote, long, last] = reply.wheels;
    expect([good, last]).toMatchObject([{ row: 1, line: 2, verdict: 'made' }, { row: 8, line: 9, verdict: 'made' }]);
    expect(unit).toMatchObject({ row: 2, line: 3, verdict: 'refused', errors: [{ column: 'driveWheel.grooveDiameter', code: 'missing-unit', received: '560' }] });
    expect(nameless!.errors).toMatchObject([{ column: 'name', code: 'missing-field' }]);
    expect(list!.errors![0]).toMatchObject({ column: 'whorls.1', code: 'missing-field' });
    expect(json!.errors).toMatchObject([{ column: 'whorls', code: 'invalid-json', received: '[{' }]);
    expect([quote!.errors![0]!.code, long!.errors![0]!.code]).toEqual(['row-does-not-fit', 'row-does-not-fit']);
    for (const refused of [unit, nameless, list, json, quote, long]) expect(refused!.errors![0]!.expected).toBeTruthy();
    const lines = (await send('.ndjson', '{"name":"Line one"}\n{"name":"x","name":"y"}\n[1]\n{"name":"z","whorls":[{"grooveDiametr":"1 mm"}]}\nnothing\n', two.keys.other)).json<Imported>();
    expect(lines).toMatchObject({ rows: 5, made: 1, refused: 4 });
    expect(lines.wheels.map((w) => [w.line, w.errors?.[0]?.code])).toEqual([[1, undefined], [2, 'duplicate-key'], [3, 'wrong-type'], [4, 'unknown-field'], [5, 'invalid-json']]);
    expect(lines.wheels[3]!.errors![0]!.column).toBe('whorls.1.grooveDiametr');
  });

  it('are not taken where the file as a whole cannot be', async () => {
    expect(problemIn(await send('.csv', 'name,whorl\nA,60 mm\n', two.keys.own))).toMatchObject({ status: 400, errors: [{ pointer: '/whorl', code: 'unknown-field' }] });
    expect(problemIn(await send('.csv', '', two.keys.own)).type).toBe('/problems/unreadable-file');
    expect(problemIn(await send('.csv', Buffer.from([0x6e, 0xff, 0xfe, 0x0a]), two.keys.own)).type).toBe('/problems/unreadable-file');
    expect(problemIn(await send('.csv', 'name\nA\n', two.keys.reader)).type).toBe('/problems/forbidden');
    expect(problemIn(await two.ask('POST', '/v1/wheels.csv', { key: two.keys.own, body: {} })).type).toBe('/problems/unsupported-media-type');
    expect(problemIn(await two.ask('GET', '/v1/wheels.csv?of=guild')).type).toBe('/problems/unauthorized');
    expect(problemIn(await send('.ndjson', '{"name":"n"}\n'.repeat(10_001), two.keys.own)).type).toBe('/problems/too-many');
  });

  it('are made once for one Idempotency-Key, and on a dry run not at all', async () => {
    const file = Array.from({ length: 250 }, (_, i) => JSON.stringify({ name: `Zebra ${i}` })).join('\n');
    const count = async (): Promise<number> => (await fetched('.ndjson?text=zebra', two.keys.other)).split('\n').length - 2;
    const dry = (await send('.ndjson', file, two.keys.other, '?dryRun=true')).json<Imported>();
    expect([dry.made, dry.wheels.every((wheel) => wheel.verdict === 'would-be-made')]).toEqual([250, true]);
    expect(await count()).toBe(0);
    const named = { 'idempotency-key': 'once' };
    const [first, again] = [await send('.ndjson', file, two.keys.other, '', named), await send('.ndjson', file, two.keys.other, '', named)];
    expect(again.json()).toEqual(first.json());
    expect(await count()).toBe(250);
    expect(problemIn(await send('.ndjson', `${file}\n{"name":"Zebra more"}`, two.keys.other, '', named)).type).toBe('/problems/idempotency-key-reused');
    expect(await count()).toBe(250);
  });

  it('go out to whoever has no key as far as they are public', async () => {
    const out = posted(await fetched('.ndjson'));
    expect(out.length).toBeGreaterThan(10);
    expect(out.every((wheel) => wheel['visibility'] === 'public')).toBe(true);
    expect(posted(await fetched('.ndjson?of=public', two.keys.own))).toEqual(out);
    expect((await fetched('.csv')).split('\r\n').length).toBe(out.length + 2);
  });
});
