/** Pages without a browser: what they say, what they are sent with, and what they do with a bad question. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FastifyInstance } from 'fastify';
import { calculations } from '../../services/calculations/index.js';
import { answer } from '../../services/calculations/ratio/answer.js';
import { footer } from '../../services/foundation/drawing.js';
import { catalogue, ProblemError } from '../../services/foundation/problems.js';
import { withPlainUnit } from '../../services/foundation/plain-numbers.js';
import type { Shelf } from '../../services/pages/index.js';
import type { Wheel } from '../../services/wheels/profile.js';
import { pagesApp } from '../support/browser.js';

const profile: Wheel = {
  name: 'Thornmere <4> & "co"', style: 'saxony', condition: 'do-not-run', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }, { drive: 'flyer-lead', band: { thickness: '2 mm' } }],
  whorls: [{ name: 'small', grooveDiameter: { value: 60, unit: 'mm', plusMinus: 0.5 } }], bobbins: [{ name: 'plain', grooves: [{ grooveDiameter: { low: 47, high: 49, unit: 'mm' } }] }],
};
const shelf: Shelf = {
  find: (id) => (id === 'a b' ? Promise.resolve({ id, profile }) : Promise.reject(new ProblemError(id === 'away' ? 'library-unavailable' : 'wheel-not-found', undefined, { headers: id === 'away' ? { 'retry-after': '5' } : {} }))),
  list: () => Promise.resolve({ items: [{ id: 'a b', profile }], next: 'n&1' }),
};
let app: FastifyInstance;
beforeAll(() => { app = pagesApp(shelf); });
afterAll(() => app.close());
const get = (url: string, headers: Record<string, string> = {}) => app.inject({ url, headers });
const text = (html: string): string => html.replace(/<style[\s\S]*?<\/style>/g, '').replace(/<[^>]+>/g, ' ').replace(/&#(\d+);/g, (_, c: string) => String.fromCharCode(Number(c))).replace(/[\s\u00a0]+/g, ' ');
const asked = '/calculate/ratio?drive=double-drive&driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm&treadling=60/min';

describe('every page', () => {
  it.each(['/', '/calculate/ratio', asked, '/calculate/take-up', '/calculate/twist', '/calculate/grist', '/tables', '/problems', '/problems/missing-unit', '/wheels', '/wheels/a%20b'])('%s is HTML with a strict policy, nothing inline, and 304 when unchanged', async (url) => {
    const reply = await get(url);
    expect(reply.statusCode).toBe(200);
    expect(reply.headers['content-type']).toBe('text/html; charset=utf-8');
    const policy = String(reply.headers['content-security-policy']);
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain('unsafe');
    expect(policy).not.toContain('http');
    expect(reply.headers['x-content-type-options']).toBe('nosniff');
    expect(reply.headers['referrer-policy']).toBe('no-referrer');
    expect(reply.body).not.toMatch(/<style|\sstyle="|\son[a-z]+="|javascript:/);
    expect(reply.body.replace(/<pre>[\s\S]*?<\/pre>/g, '')).not.toMatch(/(?:src|href)="(?:https?:)?\/\//);
    expect(reply.body).toContain('<html lang="en-GB">');
    expect(text(reply.body)).toContain(footer);
    expect(text(reply.body)).not.toMatch(/NaN|Infinity|undefined|\[object/);
    const again = await get(url, { 'if-none-match': String(reply.headers.etag) });
    expect(again.statusCode).toBe(304);
  });
  it('loads a style sheet that may be kept for ever, zipped to those who take it', async () => {
    const href = /<link rel="stylesheet" href="([^"]+)"/.exec((await get('/')).body)![1]!;
    const plain = await get(href);
    expect(plain.headers['content-type']).toBe('text/css; charset=utf-8');
    expect(plain.headers['cache-control']).toContain('immutable');
    const zipped = await get(href, { 'accept-encoding': 'br, gzip' });
    expect(zipped.headers['content-encoding']).toBe('gzip');
    expect(zipped.headers.etag).not.toBe(plain.headers.etag);
    expect(zipped.rawPayload.length).toBeLessThan(plain.rawPayload.length / 2);
    expect((await get('/assets/page.css?v=old')).headers['cache-control']).toBe('public, no-cache');
  });
});

describe('a calculator', () => {
  it('answers with the number first, then what it means, then what was taken for granted', async () => {
    const { body } = await get(asked);
    const said = text(body);
    const { result } = answer({ wheel: { driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '60 mm' }], bobbins: [{ grooves: [{ grooveDiameter: '48 mm' }] }] } });
    const order = [result.whorls![0]!.flyerRatio.text, 'For one turn of the wheel the flyer turns 9.06 times', '544 turns a minute', 'What was taken for granted', 'In full', 'Sources', 'Change a measure'];
    const places = order.map((t) => said.indexOf(t));
    expect(places.every((p) => p >= 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
    expect(body).toContain('<svg');
    expect(body).toContain('value="560mm"');
  });
  it('puts cautions above the number that they belong to', async () => {
    const said = text((await get('/calculate/ratio?driveWheel=560mm&band=2mm&whorl=60mm&whorl=80mm')).body);
    expect(said.indexOf('Caution.')).toBeGreaterThan(0);
    expect(said.indexOf('Caution.')).toBeLessThan(said.indexOf('9.06 : 1'));
  });
  it('takes a form: empty boxes say nothing, numbers alone are in the unit beside them', async () => {
    const form = await get('/calculate/ratio?plain=yes&drive=double-drive&driveWheel=560&whorl=60&whorl=&bobbin=48&band=2&treadling=60&wanted=&units=metric');
    const link = await get(asked);
    expect(form.statusCode).toBe(200);
    const answerOf = (html: string): string => /<section class="answer"[\s\S]*?<h3>In full<\/h3>/.exec(html)![0];
    expect(answerOf(form.body)).toBe(answerOf(link.body));
    expect(form.body).toContain('value="560 mm"');
    expect((await get('/calculate/ratio?plain=yes&driveWheel=22+1/16&whorl=2&band=1/16&units=imperial')).body).toContain('value="22 1/16 in"');
  });
  it('leaves what has a unit, a range or a word as it is', () => {
    expect(withPlainUnit('560 ± 1', 'part', 'metric')).toBe('560 ± 1 mm');
    expect(withPlainUnit('18-20', 'part', 'imperial')).toBe('18-20 in');
    for (const as of ['560mm', '22"', 'about 45', '', '  ']) expect(withPlainUnit(as, 'part', 'metric')).toBe(as);
    expect(withPlainUnit('1500', 'grist', 'metric')).toBe('1500');
    expect(withPlainUnit('9', 'ratio', 'metric')).toBe('9');
  });
  it('says at the field what was read and what was expected, with the question mended', async () => {
    const reply = await get('/calculate/ratio?driveWheel=560&whorl=60+furlongs');
    expect(reply.statusCode).toBe(422);
    expect(reply.headers['cache-control']).toBe('no-store');
    const wrong = /<p class="wrong" id="f-driveWheel-wrong">([\s\S]*?)<\/p>/.exec(reply.body)![1]!;
    expect(text(wrong)).toMatch(/Read: 560 \..*Expected: a length with its unit/);
    expect(wrong).toContain('href="/calculate/ratio?driveWheel=560+mm');
    expect(reply.body).toMatch(/id="f-driveWheel" name="driveWheel" aria-invalid="true"/);
    expect(text(reply.body)).toContain('furlongs');
  });
  it('shows no word of the wire in what it says about a bad question', async () => {
    for (const url of ['/calculate/ratio?drive=dubble&driveWheel=560mm', '/calculate/ratio?whorl=60mm', '/calculate/ratio?driveWheel=0mm&whorl=60mm', '/calculate/ratio?driveWheel=560mm&driveWheelCircumference=1759mm&whorl=60mm', '/calculate/take-up?driveWheel=560mm', '/calculate/twist?ratio=9']) {
      const { body, statusCode } = await get(url);
      expect(statusCode, url).toBeGreaterThanOrEqual(400);
      const said = text(/<section class="problem"[\s\S]*?<\/section>/.exec(body)![0]);
      const atFields = [...body.matchAll(/<p class="wrong"[\s\S]*?<\/p>/g)].map((m) => text(m[0])).join(' ');
      expect(`${said} ${atFields}`, url).not.toMatch(/\b[a-z]+[A-Z][a-z]|double-drive|flyer-lead\b/);
    }
  });
  it('escapes whatever was typed', async () => {
    const { body } = await get(`/calculate/ratio?driveWheel=${encodeURIComponent('"><script>alert(1)</script>')}&whorl=60mm&${encodeURIComponent('<b>')}=1`);
    expect(body).not.toContain('<script>alert');
    expect(body).not.toContain('<b>');
  });
  it.each(calculations.map((c) => [c.id, c.contract.exampleQuery]))('%s answers its example', async (id, query) => {
    const reply = await get(`/calculate/${id}?${query}`);
    expect(reply.statusCode).toBe(200);
    expect(reply.body).toMatch(/class="(?:numbers|advice)/);
    expect(text(reply.body)).toMatch(/The same, to keep or to pass on/);
  });
  it('is 404 for one that there is not', async () => {
    const reply = await get('/calculate/nothing');
    expect(reply.statusCode).toBe(404);
    expect(reply.headers['content-type']).toBe('text/html; charset=utf-8');
  });
});

describe('problems', () => {
  it.each(Object.values(catalogue).map((k) => [k.code, k] as const))('%s has its page', async (code, kind) => {
    const { body, statusCode } = await get(`/problems/${code}`);
    expect(statusCode).toBe(200);
    for (const part of [kind.title, kind.meaning, kind.remedy, code]) expect(text(body)).toContain(part);
  });
  it('are all in the list, and nothing else has a page', async () => {
    const { body } = await get('/problems');
    expect([...body.matchAll(/href="\/problems\/([\w-]+)"/g)].map((m) => m[1]!).toSorted()).toEqual(Object.keys(catalogue).toSorted());
    for (const code of ['nope', 'constructor', '__proto__']) expect((await get(`/problems/${code}`)).statusCode).toBe(404);
  });
});

describe('wheels', () => {
  it('have a sheet with cautions above the ratios of every way to run', async () => {
    const said = text((await get('/wheels/a%20b')).body);
    const order = ['Thornmere <4> & "co"', 'Saxony wheel', 'Do not run this wheel', 'Never wind yarn or leader round a finger', 'Double drive', '9.06', 'Flyer-lead (Scotch tension)', 'Measures', '60 ± 0.5 mm across', '47 to 49 mm across'];
    const places = order.map((t) => said.indexOf(t));
    expect(places.every((p) => p >= 0), String(places)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });
  it('are listed, with more on the next page', async () => {
    const { body } = await get('/wheels');
    expect(body).toContain('href="/wheels/a%20b"');
    expect(body).toContain('href="/wheels?cursor=n%261"');
    expect(text(body)).toContain('Do not run.');
  });
  it('are 404 when there is none, and 503 with its pause when the library is away', async () => {
    expect((await get('/wheels/nope')).statusCode).toBe(404);
    const away = await get('/wheels/away');
    expect(away.statusCode).toBe(503);
    expect(away.headers['retry-after']).toBe('5');
    expect(text(away.body)).toContain('The calculators work without it');
  });
});
