/**
 * What people really type, and what it must become: read by itself, and through a link. A row holds the text, and its
 * value, its ends or its ± in the unit named; or the code of the refusal, and what is then offered. Expected values are
 * written to eight figures.
 */
import { readFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { findUnit, fromSI, kinds, toSI, type Kind } from '../../services/foundation/quantity.js';
import { readRatioText } from '../../services/foundation/read-ratio.js';
import { isRefusal, readText } from '../../services/foundation/read-text.js';
import { extent, isPoint } from '../../services/foundation/reading.js';
import { app, at, encoded } from '../support/cases.js';

interface Row {
  kind: Kind | 'ratio' | 'number'; text: string; unit?: string; is?: number; low?: number; high?: number; plusMinus?: number; remarks?: string[]; plies?: number; refused?: string; try?: string;
}
const rows = JSON.parse(readFileSync(new URL('./strings.json', import.meta.url), 'utf8')) as Row[];
const close = (a: number, b: number, tolerance = 2e-7): boolean => Math.abs(a - b) <= tolerance * Math.max(Math.abs(a), Math.abs(b));
const read = (row: Row): ReturnType<typeof readText> => (row.kind === 'ratio' ? readRatioText(row.text) : readText(row.text, row.kind));

/** The numbers that a row means: in `to`, or in SI. */
function meant(row: Row, to?: string): Record<string, number> {
  const unit = row.unit === undefined ? undefined : findUnit(row.kind as Kind, row.unit)!;
  const out = to === undefined || unit === undefined ? undefined : findUnit(row.kind as Kind, to)!;
  const of = (x: number): number => (unit === undefined ? x : out === undefined ? toSI(x, unit) : fromSI(toSI(x, unit), out));
  const turned = unit !== undefined && unit.reciprocal === true && out?.reciprocal !== true;
  const got: Record<string, number> = {};
  if (row.is !== undefined) got['value'] = of(row.is);
  if (row.low !== undefined) got[turned ? 'high' : 'low'] = of(row.low);
  if (row.high !== undefined) got[turned ? 'low' : 'high'] = of(row.high);
  if (row.plusMinus !== undefined) got['plusMinus'] = Math.abs(row.is === undefined ? 0 : (of(row.is) * row.plusMinus) / row.is);
  return got;
}
function same(actual: Record<string, unknown>, expected: Record<string, number>, what: string): void {
  for (const key of ['value', 'low', 'high', 'plusMinus']) {
    const [a, b] = [actual[key], expected[key]];
    if (b === undefined) expect(a, `${what}: ${key} should not be there`).toBeUndefined();
    else expect(typeof a === 'number' && close(a, b, key === 'plusMinus' ? 1e-5 : 2e-7), `${what}: ${key} is ${String(a)}, not ${b}`).toBe(true);
  }
}

/** Where each kind can be typed in a link, and where it then stands in the answer. */
const places: Partial<Record<Row['kind'], { operation: string; parameter: string; beside: string; pointer: string }>> = {
  part: { operation: 'twist', parameter: 'draftLength', beside: 'ratio=1&wheelTurns=1', pointer: '/result/draftLength' },
  length: { operation: 'grist', parameter: 'circumference', beside: 'windings=1&mass=100 g', pointer: '/result/length' },
  twist: { operation: 'twist', parameter: 'twist', beside: '', pointer: '/result/twist' },
  wraps: { operation: 'grist', parameter: 'wraps', beside: 'wrapping=packed', pointer: '/result/wraps/packed' },
  grist: { operation: 'grist', parameter: 'grist', beside: '', pointer: '/result/grist' },
  turning: { operation: 'twist', parameter: 'flyerSpeed', beside: 'twist=100/m', pointer: '/result/flyerSpeed' },
  speed: { operation: 'twist', parameter: 'drawSpeed', beside: 'twist=100/m', pointer: '/result/drawSpeed' },
  angle: { operation: 'twist', parameter: 'angle', beside: 'diameter=1 mm', pointer: '/result/angle' },
  ratio: { operation: 'ratio', parameter: 'whorlRatio', beside: '', pointer: '/result/whorls/0/flyerRatio' },
  number: { operation: 'twist', parameter: 'wheelTurns', beside: 'ratio=1&draftLength=1 m', pointer: '/result/wheelTurns' },
};

describe('what people type', () => {
  it('holds enough of it, and no text twice', () => {
    expect(rows.length).toBeGreaterThan(800);
    expect(new Set(rows.map((r) => `${r.kind}|${r.text}`)).size).toBe(rows.length);
    for (const row of rows) expect(row.refused !== undefined || row.is !== undefined || row.low !== undefined || row.high !== undefined, row.text).toBe(true);
  });
  it('is read as meant', () => {
    for (const row of rows) {
      const what = `${row.kind} «${row.text}»`;
      const r = read(row);
      if (isRefusal(r)) {
        expect(r.code, what).toBe(row.refused);
        if (row.try !== undefined) expect(r.try, what).toBe(row.try);
        continue;
      }
      expect(row.refused, `${what} was read as ${JSON.stringify(r.reading)}`).toBeUndefined();
      const g = r.reading;
      same(isPoint(g) ? { value: g.value, ...(g.u === undefined ? {} : { plusMinus: 2 * g.u }) } : { ...g }, meant(row), what);
      expect(r.remarks, what).toEqual(row.remarks ?? []);
      expect('plies' in r ? r.plies : undefined, what).toBe(row.plies);
    }
  });
  it('is read so through a link too', async () => {
    let asked = 0;
    for (const row of rows) {
      const place = places[row.kind];
      if (place === undefined || row.text.trim() === '') continue;
      asked++;
      const what = `${place.operation} ${place.parameter}=«${row.text}»`;
      const query = [`${place.parameter}=${encodeURIComponent(row.text)}`, encoded(place.beside)].filter((x) => x !== '').join('&');
      const reply = await (await app()).inject({ url: `/v1/${place.operation}?${query}` });
      const body: unknown = reply.json();
      const refusal = (): { code: string; parameter?: string; try?: string } | undefined => ((at(body, '/errors') ?? []) as { code: string; parameter?: string; try?: string }[])[0];
      const ends = [row.is, row.low, row.high].filter((x) => x !== undefined);
      if (row.refused === undefined && reply.statusCode === 422 && refusal()?.code === 'out-of-range') {
        expect(Math.min(...ends) <= 0 || Math.max(...ends) > 1e3, `${what} is refused as out of range`).toBe(true);
        continue;
      }
      if (row.refused !== undefined) {
        expect(reply.statusCode, `${what}: ${reply.body.slice(0, 300)}`).toBe(row.refused === 'number-too-large' ? 400 : 422);
        expect([refusal()?.code, refusal()?.parameter], what).toEqual([row.refused, place.parameter]);
        continue;
      }
      expect(reply.statusCode, `${what}: ${reply.body.slice(0, 300)}`).toBe(200);
      const got = at(body, place.pointer) as Record<string, unknown>;
      same(got, meant(row, row.unit === undefined ? undefined : kinds[row.kind as Kind].metric), what);
    }
    expect(asked).toBeGreaterThan(700);
  });
  it('with spaces, capitals and signs of other scripts changed, is read alike', () => {
    let tried = 0;
    for (const row of rows) {
      if (row.refused !== undefined || row.kind === 'ratio' || /[A-Z]/.test(row.text)) continue;
      const changed = [` ${row.text} `, row.text.replaceAll(' ', '\u00a0'), row.text.replaceAll('-', '–'), row.text.replaceAll('"', '″'), row.text.replaceAll("'", '’'), row.text.replace(/[a-z]/g, (c) => c.toUpperCase())];
      for (const text of new Set(changed)) {
        // A no-break space between digits groups them, which a space need not.
        if (text === row.text || /\d\u00a0\d{3}/.test(text)) continue;
        tried++;
        const r = read({ ...row, text });
        expect(isRefusal(r) ? r.detail : extent(r.reading), `${row.kind} «${text}», as «${row.text}»`).toEqual(extent((read(row) as Exclude<ReturnType<typeof read>, { code: string }>).reading));
      }
    }
    expect(tried).toBeGreaterThan(1000);
  });
  afterAll(async () => { await (await app()).close(); });
});
