/** Measurements over HTTP, on both databases: kept for a wheel, combined with its profile, used by calculations, and said so. */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { twoGuilds, type TwoGuilds } from '../support/shelf.js';

type Json = Record<string, unknown>;
const profile = {
  name: 'Mill Lane', driveWheel: { grooveDiameter: '560 ± 1 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 ± 0.1 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 ± 1 mm' }, { name: 'stamped', statedRatio: '6:1' }],
  bobbins: [{ name: 'plain', grooves: [{ grooveDiameter: '48 ± 0.5 mm' }], coreDiameter: '22 mm', endDiameter: '75 mm', lengthBetweenEnds: '90 mm' }], flyers: [{ name: 'f', inertia: '0.00022 kg*m2' }],
};
interface Found { of: string; what: string; verdict: string; outliers: string[]; agreement?: string; value: { value: number; plusMinus: number }; estimates: { from: string; weight: number }[] }
interface Effective { profile: typeof profile & Json; found: Found[]; given: Record<string, { value: number; plusMinus: number }>; warnings: { code: string; text: string }[]; assumptions: { code: string; text: string }[] }

await describeOnBoth('measurements', (open) => {
  let shelf: TwoGuilds;
  beforeAll(async () => { shelf = await twoGuilds(open()); });
  afterAll(() => shelf?.app.close());
  const wheel = async (more: Json = {}): Promise<string> => `/v1/wheels/${(await shelf.ask('POST', '/v1/wheels', { key: shelf.keys.own, body: { ...profile, ...more } })).json<{ id: string }>().id}`;
  const add = async (url: string, ...list: Json[]): Promise<string[]> => {
    const ids: string[] = [];
    for (const body of list) {
      const reply = await shelf.ask('POST', `${url}/measurements`, { key: shelf.keys.own, body });
      expect(reply.statusCode, reply.body).toBe(201);
      ids.push(reply.json<{ id: string }>().id);
    }
    return ids;
  };
  const effective = async (url: string): Promise<Effective> => (await shelf.ask('GET', `${url}/effective`, { key: shelf.keys.own })).json<Effective>();
  const ratio = async (url: string, query = ''): Promise<{ result: { whorls: { name: string; flyerRatio: { value: number; plusMinus?: number } }[] }; assumptions: { code: string }[]; warnings: { code: string; text: string }[]; sources: { id: string }[] }> => (await shelf.ask('GET', `${url}/ratio${query}`, { key: shelf.keys.own })).json();

  it('change nothing while there are none', async () => {
    const url = await wheel();
    expect(await effective(url)).toEqual({ profile, found: [], given: {}, assumptions: [], warnings: [] });
  });

  it('are combined with the profile by their weights, and calculations by id use and say it', async () => {
    const url = await wheel();
    const before = await ratio(url);
    await add(url, { what: 'diameter', part: 'whorl', whorl: 'small', size: '60.6 ± 0.2 mm', method: 'calliper', measuredOn: '2026-03-14', member: 'm-017' }, { what: 'circumference', part: 'drive-wheel', size: '1762 ± 3 mm' }, { what: 'band-turn', part: 'whorl', whorl: 'small', size: '196.5 ± 2 mm' });
    const { profile: now, found } = await effective(url);
    // The weighted mean of 60 ± 1, 60.6 ± 0.2 and 196.5/π - 2 ± (2/π ⊕ 0.1): by its definition.
    const list = [[60, 0.5], [60.6, 0.1], [196.5 / Math.PI - 2, Math.hypot(1 / Math.PI, 0.05)]] as const;
    const weights = list.map(([, u]) => 1 / u ** 2);
    const sum = weights.reduce((a, b) => a + b);
    const mean = list.reduce((s, [x], i) => s + x * weights[i]!, 0) / sum;
    const whorl = now.whorls[0]!.grooveDiameter as unknown as { value: number; plusMinus: number };
    expect(whorl.value).toBeCloseTo(mean, 9);
    expect(whorl.plusMinus).toBeCloseTo(2 / Math.sqrt(sum), 4);
    expect(found.map((f) => [f.of, f.verdict, f.estimates.length])).toEqual([['the drive wheel', 'agree', 2], ['whorl small', 'agree', 3]]);
    expect(found[1]!.estimates.reduce((s, e) => s + e.weight, 0)).toBeCloseTo(1, 12);
    const after = await ratio(url);
    const read = (await shelf.ask('GET', url, { key: shelf.keys.own })).json<{ effective: Json } & Json>();
    expect(read.effective).toEqual(now);
    expect(read['whorls']).toEqual(profile.whorls);
    expect(after.result.whorls[0]!.flyerRatio.value).not.toBe(before.result.whorls[0]!.flyerRatio.value);
    expect(after.result.whorls[0]!.flyerRatio.plusMinus!).toBeLessThan(before.result.whorls[0]!.flyerRatio.plusMinus! / 2);
    expect(after.assumptions[0]!.code).toBe('measurements-combined');
    expect([before, after].map((reply) => reply.sources.some((s) => s.id === 'birge-1932'))).toEqual([false, true]);
    expect(before.assumptions.map((a) => a.code)).not.toContain('measurements-combined');
    // The same by every door.
    const posted = (await shelf.ask('POST', '/v1/ratio', { key: shelf.keys.own, body: { wheelId: url.split('/').pop() } })).json<Json>();
    const batch = (await shelf.ask('POST', '/v1/batch', { key: shelf.keys.own, body: { questions: [{ calculation: 'ratio', question: { wheelId: url.split('/').pop() } }] } })).json<{ items: { body: Json }[] }>();
    expect([posted, batch.items[0]!.body]).toEqual([after, after]);
  });

  it('name the one that lies out, and leave it out where the others agree', async () => {
    const url = await wheel();
    const [, wrong] = await add(url, { what: 'diameter', part: 'whorl', whorl: 'small', size: '60.2 ± 0.3 mm' }, { what: 'diameter', part: 'whorl', whorl: 'small', size: '66 ± 0.3 mm', measuredOn: '2026-02-01' });
    const { found, warnings } = await effective(url);
    expect(found).toMatchObject([{ verdict: 'left-out', outliers: [wrong] }]);
    expect(warnings).toMatchObject([{ code: 'measurement-outlier' }]);
    expect(warnings[0]!.text).toMatch(new RegExp(`2026-02-01 \\(${wrong}\\), 66`));
    expect((await ratio(url)).warnings[0]).toEqual(warnings[0]);
    expect(problemIn(await shelf.ask('GET', `${url}/ratio?strict=true`, { key: shelf.keys.own })).type).toBe('/problems/strict-warning');
    // Withdrawn, it is gone.
    const at = `${url}/measurements/${wrong}`;
    expect(problemIn(await shelf.ask('DELETE', at, { key: shelf.keys.own })).status).toBe(428);
    expect(problemIn(await shelf.ask('DELETE', at, { key: shelf.keys.own, headers: { 'if-match': '"old"' } })).status).toBe(412);
    const { etag } = (await shelf.ask('GET', at, { key: shelf.keys.own })).headers;
    expect((await shelf.ask('DELETE', at, { key: shelf.keys.own, headers: { 'if-match': String(etag) } })).statusCode).toBe(204);
    expect(problemIn(await shelf.ask('GET', at, { key: shelf.keys.own })).type).toBe('/problems/measurement-not-found');
    expect((await effective(url)).warnings).toEqual([]);
    expect(await open().client.query('select retired_at is not null as gone, revision from measurements where id = $1', [wrong], 'objects')).toEqual([{ gone: true, revision: 2 }]);
  });

  it('of two that differ say that nobody can tell which is wrong', async () => {
    const url = await wheel({ whorls: [{ name: 'small', grooveDiameter: '60 ± 0.2 mm' }] });
    await add(url, { what: 'diameter', part: 'whorl', size: '62 ± 0.2 mm' });
    const { found, warnings } = await effective(url);
    expect(found).toMatchObject([{ verdict: 'disagree', outliers: [] }]);
    expect(warnings[0]!.code).toBe('measurements-disagree');
    expect(found[0]!.value.plusMinus).toBeGreaterThan(1.9);
  });

  it('counted turns that agree make the groove surer; those that fall short are slip and are not averaged', async () => {
    // 562/62 = 9.0645 turns; a count of 181.5 in 20 is 9.075.
    const agree = await wheel();
    await add(agree, { what: 'counted-turns', whorl: 'small', wheelTurns: 20, flyerTurns: 181.5 });
    const before = await ratio(await wheel());
    const now = await ratio(agree);
    expect((await effective(agree)).found).toMatchObject([{ what: 'flyer-ratio', agreement: 'agrees' }]);
    expect(now.result.whorls[0]!.flyerRatio.plusMinus!).toBeLessThan(before.result.whorls[0]!.flyerRatio.plusMinus! / 2);
    expect(Math.abs(now.result.whorls[0]!.flyerRatio.value - 9.075)).toBeLessThan(Math.abs(562 / 62 - 9.075));
    const slip = await wheel();
    await add(slip, { what: 'counted-turns', whorl: 'small', wheelTurns: 20, flyerTurns: 170 });
    expect((await effective(slip)).profile).toEqual(profile);
    expect((await effective(slip)).warnings).toMatchObject([{ code: 'counted-slip' }]);
    const more = await wheel();
    await add(more, { what: 'counted-turns', whorl: 'small', wheelTurns: 20, flyerTurns: 192 });
    expect((await effective(more)).warnings).toMatchObject([{ code: 'counted-recheck' }]);
    const stamped = await wheel();
    await add(stamped, { what: 'counted-turns', whorl: 'stamped', wheelTurns: 20, flyerTurns: 130 });
    expect((await ratio(stamped)).result.whorls[1]!.flyerRatio.value).toBeCloseTo(6.5, 12);
    expect((await effective(stamped)).warnings).toMatchObject([{ code: 'stamped-otherwise' }]);
  });

  it('counted turns beside sizes that nobody gave a ± for are no slip, and make the groove surer', async () => {
    // 562/62 = 9.0645; 181.5 turns in 20 are 9.075, one part in 900 more: well within a rule's millimetre.
    const url = await wheel({ driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }] });
    await add(url, { what: 'counted-turns', wheelTurns: 20, flyerTurns: 181.5 });
    const { found, warnings, profile: now } = await effective(url);
    expect([found[0]!.agreement, warnings]).toEqual(['agrees', []]);
    expect((now.whorls[0]!.grooveDiameter as unknown as { plusMinus: number }).plusMinus).toBeLessThan(0.5);
    const { value } = (await ratio(url)).result.whorls[0]!.flyerRatio;
    expect(Math.abs(value - 9.075)).toBeLessThan(Math.abs(562 / 62 - 9.075) / 2);
  });

  it('laps tell how far the bobbin outruns the flyer', async () => {
    const url = await wheel();
    // (60 + 2)/(48 + 2) = 1.24: a lap in 4.1667 turns of the flyer.
    const [id] = await add(url, { what: 'lap-count', whorl: 'small', bobbin: 'plain', flyerTurns: 100, laps: 24 });
    const one = (await shelf.ask('GET', `${url}/measurements/${id}`, { key: shelf.keys.own })).json<{ gives: { bobbinPerFlyerTurn: { value: number } } }>();
    expect(one.gives.bobbinPerFlyerTurn.value).toBeCloseTo(1.24, 12);
    expect((await effective(url)).found).toMatchObject([{ what: 'bobbin-per-flyer-turn', agreement: 'agrees' }]);
  });

  it('bag tests and coast-downs go into the tension of their wheel, which says so', async () => {
    const url = await wheel({ whorls: profile.whorls.slice(0, 1) });
    await add(url, { what: 'bag-test', lifts: '20 ± 1 g', pullsOff: '80 ± 2 g' }, { what: 'coast-down', runs: [{ from: '1000/min', to: '500/min', time: '3.2736115671931745 s' }, { from: '1000/min', to: '100/min', time: '9.037205028831398 s' }] }, { what: 'band-length', size: '4.2 m' });
    const { given, found } = await effective(url);
    expect(given['hookFactor']!.value).toBeCloseTo(2, 10);
    expect(given['drag']!.value).toBeCloseTo(1.2, 6);
    expect(found.map((f) => f.what)).toEqual(['hook-factor', 'drag', 'band-length']);
    const asked = await shelf.ask('GET', `${url}/tension`, { key: shelf.keys.own });
    expect(asked.statusCode, asked.body).toBe(200);
    const tension = asked.json<{ assumptions: { code: string }[] }>();
    expect(tension.assumptions.map((a) => a.code)).toEqual(expect.arrayContaining(['measured-drag', 'measured-hook-factor']));
    const own = (await shelf.ask('GET', `${url}/tension?drag=3+mN*m&hookFactor=1.9`, { key: shelf.keys.own })).json<{ assumptions: { code: string }[] }>();
    expect(own.assumptions.map((a) => a.code).filter((c) => c === 'measured-drag' || c === 'measured-hook-factor')).toEqual([]);
    expect((await ratio(url)).assumptions.map((a) => a.code)).not.toContain('measured-drag');
  });

  it.each([
    [{}, '/what', 'missing-field'], [{ what: 'diametre' }, '/what', 'unknown-choice'], [{ what: 'diameter', part: 'whorl', whorl: 'smal', size: '60 mm' }, '/whorl', 'not-known-part'], [{ what: 'diameter', part: 'whorl', size: '60 mm' }, '/whorl', 'missing-field'],
    [{ what: 'diameter', part: 'whorl', whorl: 'small', size: '60' }, '/size', 'missing-unit'], [{ what: 'diameter', part: 'drive-wheel' }, '/size', 'missing-field'], [{ what: 'diameter', part: 'drive-wheel', size: '56 cm', laps: 3 }, '/laps', 'unknown-field'],
    [{ what: 'counted-turns', whorl: 'small', wheelTurns: 10 }, '/flyerTurns', 'missing-field'], [{ what: 'bag-test', lifts: '80 g', pullsOff: '20 g' }, '/pullsOff', 'impossible-geometry'], [{ what: 'diameter', part: 'head-driven', size: '60 mm' }, '/part', 'not-known-part'],
    [{ what: 'coast-down', runs: [{ from: '100/min', to: '200/min', time: '3 s' }] }, '/runs/0/to', 'range-reversed'], [{ what: 'counted-turns', drive: 'bobbin-lead', whorl: 'small', wheelTurns: 10, flyerTurns: 90 }, '/drive', 'not-known-part'], [{ what: 'diameter', part: 'drive-wheel', size: '56 cm', member: 'A. Spinner' }, '/member', 'out-of-range'],
  ])('are refused: %j at %s', async (body, pointer, code) => {
    expect(problemIn(await shelf.ask('POST', `${await wheel()}/measurements`, { key: shelf.keys.own, body })).errors).toContainEqual(expect.objectContaining({ pointer, code }));
  });

  it('are a guild’s own; of a public wheel all may read them, but for who measured', async () => {
    const [own, shown] = [await wheel(), await wheel({ visibility: 'public' })];
    const body = { what: 'diameter', part: 'drive-wheel', size: '559 mm', member: 'm-017' };
    const [[a], [b]] = [await add(own, body), await add(shown, body)];
    for (const options of [{}, { key: shelf.keys.other }]) {
      for (const path of ['/measurements', `/measurements/${a}`, '/effective', '/ratio']) expect(problemIn(await shelf.ask('GET', own + path, options)).type).toBe('/problems/wheel-not-found');
      const seen = await shelf.ask('GET', `${shown}/measurements/${b}`, options);
      expect(seen.json()).not.toHaveProperty('member');
      expect((await shelf.ask('GET', `${shown}/measurements`, options)).json<{ items: Json[] }>().items).toHaveLength(1);
      expect((await shelf.ask('GET', `${shown}/effective`, options)).json<Effective>().found).toHaveLength(1);
      expect(problemIn(await shelf.ask('POST', `${shown}/measurements`, { ...options, body })).status).toBe(options.key === undefined ? 401 : 403);
      expect(problemIn(await shelf.ask('DELETE', `${shown}/measurements/${b}`, { ...options, headers: { 'if-match': '*' } })).status).toBe(options.key === undefined ? 401 : 403);
    }
    expect((await shelf.ask('GET', `${shown}/measurements/${b}`, { key: shelf.keys.reader })).json()).toMatchObject({ member: 'm-017' });
    expect(problemIn(await shelf.ask('POST', `${own}/measurements`, { key: shelf.keys.reader, body })).status).toBe(403);
    // Not by the path of another wheel either.
    expect(problemIn(await shelf.ask('GET', `${shown}/measurements/${a}`, { key: shelf.keys.own })).type).toBe('/problems/measurement-not-found');
  });

  it('come in pages, are kept once for each Idempotency-Key, and change the wheel’s tag', async () => {
    const url = await wheel();
    const before = (await shelf.ask('GET', url, { key: shelf.keys.own })).headers.etag;
    const made = new Set<string>();
    for (let i = 0; i < 5; i++) for (const id of await add(url, { what: 'diameter', part: 'drive-wheel', size: `${558 + i} mm` })) made.add(id);
    const ask = () => shelf.ask('POST', `${url}/measurements`, { key: shelf.keys.own, body: { what: 'bag-test', lifts: '20 g', pullsOff: '70 g' }, headers: { 'idempotency-key': `m-${url}` } });
    const [one, again] = [await ask(), await ask()];
    expect(again.body).toBe(one.body);
    made.add(one.json<{ id: string }>().id);
    const seen: string[] = [];
    let next: string | undefined = `${url}/measurements?limit=4`;
    while (next !== undefined) {
      const page = await shelf.ask('GET', next, { key: shelf.keys.own });
      seen.push(...page.json<{ items: { id: string }[] }>().items.map((m) => m.id));
      next = /^<(.+)>; rel="next"$/.exec(String(page.headers.link ?? ''))?.[1];
    }
    expect(seen).toEqual([...made].toSorted());
    const now = await shelf.ask('GET', url, { key: shelf.keys.own });
    expect(now.headers.etag).not.toBe(before);
    // A changed profile keeps its measurements, and the reply to the change is what is read next.
    const changed = await shelf.ask('PUT', url, { key: shelf.keys.own, body: { ...profile, name: 'Mill Lane 2' }, headers: { 'if-match': String(now.headers.etag) } });
    expect((await shelf.ask('GET', url, { key: shelf.keys.own })).body).toBe(changed.body);
    expect(changed.json<{ effective: { driveWheel: Json } }>().effective.driveWheel).not.toEqual(profile.driveWheel);
  });
});
