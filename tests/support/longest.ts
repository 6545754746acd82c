/** The longest requests that are taken: as many pairs, words and rows as there may be, every measure a range. */
import type { InjectOptions } from 'fastify';
import type { Calculation } from '../../services/calculations/calculation.js';

type Json = Record<string, unknown>;
/** A wheel of so many whorls and bobbin grooves, every measure of it a range. */
export const wheelOf = (whorls: number, bobbins: number, drive = 'double-drive'): Json => ({
  driveWheel: { grooveDiameter: '550-560 mm' }, modes: [{ drive, band: { thickness: '1-3 mm' } }],
  whorls: Array.from({ length: whorls }, (_, i) => ({ name: `whorl ${i + 1}`, grooveDiameter: `${50 + i}-${51 + i} mm` })),
  bobbins: Array.from({ length: bobbins }, (_, i) => ({ name: `bobbin ${i + 1}`, grooves: [{ grooveDiameter: `${40 + i / 2}-${41 + i / 2} mm` }], coreDiameter: '25-26 mm', fullDiameter: '80-82 mm', lengthBetweenEnds: '100-102 mm' })),
});
const more: Readonly<Record<string, Json>> = { 'drive-band': { axleDistance: '500-510 mm' }, 'take-up': { treadling: '60-70/min', draftLength: '150-160 mm', wheelTurns: 1, grist: '100-110 tex' }, ratio: { treadling: '60-70/min', wanted: ['9:1', '12:1', '15:1'] }, tension: {} };

export interface Longest { readonly name: string; readonly sent: InjectOptions }
const post = (url: string, payload: unknown, type = 'application/json'): InjectOptions => ({ method: 'POST', url, headers: { 'content-type': type }, payload: typeof payload === 'string' ? payload : JSON.stringify(payload) });

/** `wheel`: the id of one of the library. */
export function longest(calculations: readonly Calculation[], wheel: string): Longest[] {
  const out: Longest[] = [];
  for (const { id } of calculations) {
    const extra = more[id];
    if (extra === undefined) continue;
    for (const [w, b] of [[1, 1], [2, 1], [2, 2], [4, 3], [8, 3], [16, 4], [40, 1]] as const) out.push({ name: `${id} of ${w} × ${b}`, sent: post(`/v1/${id}`, { ...extra, wheel: wheelOf(w, b) }) });
  }
  for (const steps of [101, 1000]) out.push({ name: `take-up in ${steps} steps`, sent: post('/v1/take-up', { ...more['take-up'], steps, wheel: wheelOf(2, 2) }) });
  // As a link, for a page and for a picture.
  const whorls = Array.from({ length: 24 }, (_, i) => `whorl=${50 + i}-${51 + i}mm`).join('&');
  const link = `driveWheel=550-560mm&band=1-3mm&bobbin=48-49mm&${whorls}`;
  const ends = 'core=25-26mm&end=85mm&full=80-82mm&lengthBetweenEnds=100-102mm';
  for (const [id, query] of [['ratio', link], ['drive-band', `${link}&axleDistance=500-510mm`], ['take-up', `${link}&${ends}`], ['tension', `${link}&${ends}`]] as const) {
    for (const url of [`/v1/${id}`, `/v1/${id}.svg`, `/calculate/${id}`]) out.push({ name: `${url} of 24 whorls`, sent: { method: 'GET', url: `${url}?${query}` } });
  }
  for (const calculation of calculations) {
    out.push({ name: `/calculate/${calculation.id}, its example`, sent: { method: 'GET', url: `/calculate/${calculation.id}?${calculation.contract.exampleQuery}` } });
    out.push({ name: `${calculation.id}, its example`, sent: post(`/v1/${calculation.id}`, calculation.contract.example) });
    // So many as make several turns; a thousand differ in how many turns there are.
    out.push({ name: `batch of ${calculation.id}`, sent: post('/v1/batch', { questions: Array.from({ length: 40 }, () => ({ calculation: calculation.id, question: calculation.contract.example })) }) });
  }
  // A body as large as is taken, of what takes longest to read.
  out.push({ name: 'a body of 1 MB of numbers', sent: post('/v1/ratio', `{"wheel":{"whorls":[${'1.234567890123456,'.repeat(58_000)}1]}}`) });
  out.push({ name: 'a body of 1 MB of lists', sent: post('/v1/ratio', `{"wheel":{"whorls":[${'[],'.repeat(349_000)}1]}}`) });
  out.push({ name: 'a body of 1 MB of names', sent: post('/v1/ratio', `{${Array.from({ length: 70_000 }, (_, i) => `"n${i}":1`).join(',')}}`) });
  out.push({ name: 'a body of 1 MB of one text', sent: post('/v1/ratio', `{"treadling":"${'9 '.repeat(520_000)}"}`) });
  out.push({ name: 'a whole wheel', sent: post('/v1/wheels', { name: 'Longest', ...wheelOf(40, 20) }) });
  out.push({ name: 'a table of wheels', sent: post('/v1/wheels.csv', `name,driveWheel,whorl\n${Array.from({ length: 20_000 }, (_, i) => `wheel ${i},500 mm,${40 + (i % 40)} mm`).join('\n')}\n`, 'text/csv') });
  out.push({ name: 'an analysis, dry', sent: post('/v1/analyses?dryRun=true', `name,drive wheel,whorl,ratio\n${Array.from({ length: 20_000 }, (_, i) => `wheel ${i},500 mm,${40 + (i % 40)} mm,12:1`).join('\n')}\n`, 'text/csv') });
  out.push({ name: 'an analysis', sent: post('/v1/analyses', `name,drive wheel,whorl,ratio\n${Array.from({ length: 20_000 }, (_, i) => `wheel ${i},500 mm,${40 + (i % 40)} mm,12:1`).join('\n')}\n`, 'text/csv') });
  for (const url of ['/openapi.json', '/docs', '/', '/v1/wheels?limit=100', `/wheels/${wheel}`, `/v1/wheels/${wheel}/similar`, '/first-aid', '/changes.json', '/metrics']) out.push({ name: url, sent: { method: 'GET', url } });
  return out;
}
