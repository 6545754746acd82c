/** What the service says it knows, against what the sources print; and that nothing stands without saying on what. */
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { gradeOfDiameter, limitsOf, namedGrades } from '../../services/reference/wool-grades.js';
import { fibreAliases, fibreIds } from '../../services/reference/fibres.js';
import { classesByAngle } from '../../services/reference/twists.js';
import { calculations } from '../../services/calculations/index.js';
import { openApp } from '../support/http.js';

interface Q { value?: number; low?: number; high?: number; unit: string }
interface Item { [key: string]: unknown; sources?: string[]; standing?: string }
let app: FastifyInstance;
beforeAll(async () => { app = await openApp(); });
afterAll(() => app.close());
const list = async <T = Item>(name: string, units = ''): Promise<T[]> => (await app.inject(`/v1/${name}${units}`)).json<{ items: T[] }>().items;
const names = ['fibres', 'regains', 'wool-grades', 'yarn-categories', 'wrap-factors', 'twist-ranges', 'twist-classes'] as const;

describe('lists', () => {
  it.each(names)('%s: every line says what it stands on, and every source it names is listed', async (name) => {
    const known = new Set((await list<{ id: string }>('sources')).map((s) => s.id));
    const items = await list(name);
    expect(items.length).toBeGreaterThan(3);
    for (const item of items) {
      for (const id of item.sources ?? []) expect(known).toContain(id);
      expect(item.standing ?? 'published', JSON.stringify(item)).toMatch(/^(?:published|common-practice|memory)$/);
      if ((item.standing ?? 'published') === 'published') expect((item.sources ?? []).length, JSON.stringify(item)).toBeGreaterThan(0);
    }
  });
  it('densities and strengths are those of Morton and Hearle, Tables 5.1 and 13.1', async () => {
    const fibres = await list<{ id: string; density: Q; strengths: { sort?: string; tenacity: Q; breakingExtension: Q; initialModulus: Q; youngsModulus: Q }[] }>('fibres');
    const find = (id: string) => fibres.find((f) => f.id === id)!;
    // g/cm³ at 65 % relative humidity.
    for (const [id, printed] of [['cotton', 1.52], ['viscose', 1.49], ['wool', 1.31], ['silk', 1.34], ['nylon', 1.14], ['polyester', 1.39], ['acrylic', 1.19], ['casein', 1.3], ['pla', 1.25]] as const) expect(find(id).density.value! / 1000, id).toBeCloseTo(printed, 9);
    // Tenacity N/tex, breaking extension %, initial modulus N/tex.
    const printed: [string, string | undefined, number, number, number][] = [
      ['cotton', 'fine', 0.45, 6.8, 7.3], ['cotton', 'upland', 0.32, 7.1, 5], ['cotton', 'Bengal', 0.19, 5.6, 3.9], ['linen', undefined, 0.54, 3, 18], ['hemp', undefined, 0.47, 2.2, 21.7], ['jute', undefined, 0.31, 1.8, 17.2], ['ramie', undefined, 0.59, 3.7, 14.6],
      ['silk', undefined, 0.38, 23.4, 7.3], ['nylon', undefined, 0.47, 26, 2.6], ['viscose', undefined, 0.18, 27.2, 4.8], ['wool', '64s', 0.11, 42.5, 2.3], ['wool', '56s', 0.14, 42.9, 2.1], ['wool', '36s', 0.12, 29.8, 3],
    ];
    for (const [id, sort, tenacity, extension, modulus] of printed) {
      const s = find(id).strengths.find((x) => x.sort === sort)!;
      expect([s.tenacity.value! / 100, s.breakingExtension.value!, s.initialModulus.value! / 100].map((x) => Number(x.toPrecision(6))), `${id} ${sort}`).toEqual([tenacity, extension, modulus]);
    }
    // 2.3 N/tex × 1.31 g/cm³ = 3.013 GPa.
    expect(find('wool').strengths.find((s) => s.sort === '64s')!.youngsModulus.value! / 1000).toBeCloseTo(3.013, 9);
  });
  it('regains are those of their standards, and turn into the moisture content that is printed beside them', async () => {
    const regains = await list<{ fibre: string; standard: string; form?: string; regain: Q; moistureContent: Q; standing: string }>('regains');
    const of = (fibre: string, standard: string, form?: string) => regains.find((r) => r.fibre === fibre && r.standard === standard && r.form === form)!;
    const printed: [string, string, string | undefined, number][] = [
      ['wool', 'astm-d1909', undefined, 13.6], ['cotton', 'astm-d1909', undefined, 8.5], ['linen', 'astm-d1909', undefined, 12], ['hemp', 'astm-d1909', undefined, 12], ['jute', 'astm-d1909', undefined, 13.75], ['silk', 'astm-d1909', undefined, 11],
      ['wool', 'eu-1007', 'carded', 17], ['cotton', 'eu-1007', 'plain', 8.5], ['nylon', 'eu-1007', 'staple', 6.25],
      ['wool', 'gb-9994', 'scoured-mixed', 15], ['wool', 'gb-9994', 'scoured-uniform', 16], ['wool', 'gb-9994', 'noil', 16], ['wool', 'gb-9994', 'recovered', 17], ['wool', 'gb-9994', 'dry-top', 18.25], ['wool', 'gb-9994', 'oil-top', 19], ['cotton', 'gb-9994', undefined, 8.5],
    ];
    for (const [fibre, standard, form, percent] of printed) {
      const r = of(fibre, standard, form);
      expect(r.regain.value, `${fibre} ${standard}`).toBeCloseTo(percent, 9);
      expect(r.standing).toBe('published');
    }
    // MC = 100 R/(100 + R): 8.5, 11 and 18.25 % are 7.8341, 9.9099 and 15.4334 %; the teaching page prints 9.91 for silk, and 7.34 for cotton where 7.83 is meant.
    for (const [r, mc] of [[of('cotton', 'astm-d1909'), 7.8341], [of('silk', 'astm-d1909'), 9.9099], [of('wool', 'gb-9994', 'dry-top'), 15.4334]] as const) expect(Math.abs(r.moistureContent.value! - mc)).toBeLessThan(1e-4);
  });
  it('wool grades are those of the United States tables', async () => {
    const grades = await list<{ grade: string; from?: Q; to?: Q; mostSpread?: Q; blood: string }>('wool-grades');
    const printed: [string, number, number, number][] = [
      ['80s', 17.7, 19.14, 4.09], ['70s', 19.15, 20.59, 4.59], ['64s', 20.6, 22.04, 5.19], ['62s', 22.05, 23.49, 5.89], ['60s', 23.5, 24.94, 6.49], ['58s', 24.95, 26.39, 7.09], ['56s', 26.4, 27.84, 7.59], ['54s', 27.85, 29.29, 8.19], ['50s', 29.3, 30.99, 8.69],
      ['48s', 31, 32.69, 9.09], ['46s', 32.7, 34.39, 9.59], ['44s', 34.4, 36.19, 10.09], ['40s', 36.2, 38.09, 10.69], ['36s', 38.1, 40.2, 11.19],
    ];
    expect(grades.slice(1, -1).map((g) => [g.grade, ...[g.from, g.to, g.mostSpread].map((x) => Number(x!.value!.toPrecision(8)))])).toEqual(printed);
    for (let i = 2; i < grades.length; i++) expect(grades[i]!.from!.value! - grades[i - 1]!.to!.value!).toBeCloseTo(0.01, 6);
  });
  it('a diameter has one grade, and a named grade the diameters that lead to it', () => {
    expect([21, 25, 30, 17.69, 17.7, 19.145, 40.2, 40.21, 5, 60].map((d) => gradeOfDiameter(d).grade)).toEqual(['64s', '58s', '50s', 'finer than 80s', '80s', '80s', '36s', 'coarser than 36s', 'finer than 80s', 'coarser than 36s']);
    for (const name of namedGrades) {
      const { from, to, mostSpread } = limitsOf(name);
      expect(from < to && mostSpread > 3 && mostSpread < 12, name).toBe(true);
      if (name.endsWith('s')) for (const d of [from, (from + to) / 2, to]) expect(gradeOfDiameter(d).grade).toBe(name);
    }
    expect(limitsOf('half-blood')).toMatchObject({ from: 22.05, to: 24.94 });
    expect(limitsOf('common')).toMatchObject({ from: 34.4, to: 38.09 });
  });
  it('an angle at the edge of two classes is of both, and each class names its set', () => {
    expect(classesByAngle(10, 10).map((c) => c.class)).toEqual(['loose', 'medium', 'hardly holds together']);
    expect(classesByAngle(9, 26).map((c) => c.class)).toEqual(['loose', 'medium', 'tight', 'hardly holds together', 'knitting yarn, soft at 20']);
    for (const c of classesByAngle(0, 90)) expect(c.set).toMatch(/memory|common practice/);
  });
  it('every calculation that asks for a fibre offers the one list', () => {
    const asking = calculations.flatMap((c) => c.fields.list.filter((f) => f.name === 'fibre').map((f) => [c.id, f] as const));
    expect(asking.length).toBeGreaterThan(1);
    for (const [id, field] of asking) expect(field.choices?.map((c) => c.value), id).toEqual(fibreIds);
    for (const to of Object.values(fibreAliases)) expect(fibreIds).toContain(to);
  });
});
