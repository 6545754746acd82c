/// <reference lib="dom" />
/** `<wheelgrist-ratio>` on a guild's page, in a real browser. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { answer } from '../../services/calculations/ratio/answer.js';
import { contract } from '../../services/calculations/ratio/contract.js';
import { fields } from '../../services/calculations/ratio/fields.js';
import { launch, listen, pagesApp } from '../support/browser.js';
import { describeWith } from '../support/require.js';
import { countPreflights, openHost } from './host.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const root = fileURLToPath(new URL('../../', import.meta.url));
const full = '<wheelgrist-ratio drive="double-drive" drive-wheel="560 mm" band="2 mm" whorl="60 ± 0.5 mm; 80 mm" bobbin="48 mm" treadling="60/min"><a href="https://wheels.example/calculate/ratio?whorl=60mm">Drive ratio</a></wheelgrist-ratio>';
interface Element extends HTMLElement { reply?: { result: unknown; warnings: unknown; assumptions: unknown; cautions: unknown } }

await describeWith('chromium', 'the ratio embed', () => {
  let app: FastifyInstance;
  let service: string;
  let browser: Browser;
  let preflights: () => number;
  beforeAll(async () => {
    execFileSync(process.execPath, ['sdk/embeds/build.mjs'], { cwd: root });
    app = pagesApp();
    preflights = countPreflights(app);
    app.get('/v1/wheels/:id', (request, reply) => ((request.params as { id: string }).id === 'thornmere-4'
      ? reply.header('access-control-allow-origin', '*').send({ id: 'thornmere-4', revision: 1, visibility: 'public', ...contract.example.wheel, effective: contract.example.wheel }) : reply.code(404).send({})));
    service = await listen(app);
    browser = await launch();
  });
  afterAll(async () => { await browser?.close(); await app?.close(); });

  const number = (host: Awaited<ReturnType<typeof openHost>>): Promise<string | null> => host.page.locator('.numbers strong').first().textContent();

  it('answers at once under a strict policy, without a complaint, a cookie, storage, a preflight or a third party', async () => {
    const host = await openHost(browser, service, full);
    await host.page.locator('.numbers strong').first().waitFor();
    await host.page.locator('svg').waitFor();
    expect(await number(host)).toBe('9.06 ± 0.07 : 1');
    expect(host.refused).toEqual([]);
    expect(host.asked.filter((u) => !u.startsWith(host.origin) && !u.startsWith(service))).toEqual([]);
    expect(host.asked.filter((u) => u.includes('/v1/'))).toEqual([]);
    expect(await host.context.cookies()).toEqual([]);
    expect(await host.page.evaluate(() => localStorage.length + sessionStorage.length)).toBe(0);
    expect(preflights()).toBe(0);
    expect(await host.page.evaluate(() => getComputedStyle(document.querySelector('wheelgrist-ratio')!.shadowRoot!.querySelector('.fields')!).display)).toBe('grid');
    await host.close();
  });

  it.each([
    contract.exampleQuery, 'driveWheel=22 1/16 in&whorl=2 in&whorl=2.5 in&units=imperial', 'driveWheel=560 ± 1 mm&band=2 mm&whorl=60 ± 0.5 mm&wanted=12:1&wanted=15:1', 'whorlRatio=6.5&whorlRatio=9:1&treadling=60/min',
    'driveWheelBandTurn=1765 mm&whorlBandTurn=195 mm&bobbinBandTurn=157 mm', 'drive=bobbin-lead&driveWheel=500 mm&band=3 mm&bobbin=110 mm', 'wheelTurns=10&flyerTurns=90.5&bobbinTurns=112', 'drive=spindle&driveWheel=1150 mm&band=2 mm&headDriven=38 mm&headDriving=120 mm&headBand=1 mm&whorl=22 mm',
  ])('gives the very answer of the service: %s', async (query) => {
    const flat: Record<string, string[]> = {};
    for (const [k, v] of new URLSearchParams(query.replaceAll('+', '%2B'))) (flat[k] ??= []).push(v);
    const { units, ...rest } = flat;
    const attributes = Object.entries(flat).map(([k, v]) => `${k.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`)}="${v.join('; ')}"`).join(' ');
    const host = await openHost(browser, service, `<wheelgrist-ratio ${attributes}></wheelgrist-ratio>`);
    await host.page.locator('.numbers strong').first().waitFor();
    const got = await host.page.evaluate(() => { const { result, warnings, assumptions, cautions } = (document.querySelector('wheelgrist-ratio') as Element).reply!; return { result, warnings, assumptions, cautions }; });
    const { result, warnings, assumptions, cautions } = answer(fields.toQuestion(rest).question, { units: { system: units === undefined ? 'metric' : 'imperial' } });
    const near = (a: unknown, b: unknown): void => {
      if (typeof a === 'number' && typeof b === 'number') expect(Math.abs(a - b)).toBeLessThanOrEqual(1e-13 * Math.abs(b));
      else if (typeof a === 'object' && a !== null && typeof b === 'object' && b !== null) { expect(Object.keys(a)).toEqual(Object.keys(b)); for (const k of Object.keys(b)) near((a as Record<string, unknown>)[k], (b as Record<string, unknown>)[k]); } else expect(a).toBe(b);
    };
    near(got, JSON.parse(JSON.stringify({ result, warnings, assumptions, cautions })));
    await host.close();
  });

  it('is filled in by keyboard alone, says what it found, and scolds nobody while typing', async () => {
    const host = await openHost(browser, service, '<wheelgrist-ratio></wheelgrist-ratio>');
    const { page } = host;
    await page.locator('text=Fill in what you have measured.').first().waitFor();
    const reach = async (id: string): Promise<void> => {
      for (let i = 0; i < 20; i++) {
        await page.keyboard.press('Tab');
        if ((await page.evaluate(() => document.activeElement?.shadowRoot?.activeElement?.id)) === id) return;
      }
      throw new Error(`${id} is not reached by the Tab key`);
    };
    await reach('driveWheel');
    await page.keyboard.type('560');
    await reach('whorl');
    await page.keyboard.type('60 fu');
    expect(await page.locator('#whorl').getAttribute('aria-invalid')).not.toBe('true');
    await reach('bobbin');
    expect(await page.locator('#whorl').getAttribute('aria-invalid')).toBe('true');
    expect(await page.locator('#whorl-wrong').textContent()).toMatch(/^“60 fu”|unit.* Expected: /s);
    await page.keyboard.press('Shift+Tab');
    await page.keyboard.press('ControlOrMeta+a');
    await page.keyboard.type('60');
    await reach('band');
    await page.keyboard.type('2');
    await page.locator('.numbers strong').first().waitFor();
    expect(await number(host)).toBe('9.06 : 1');
    await page.locator('[role=status]', { hasText: 'flyer ratio' }).waitFor();
    // One click opens what stands below, even while a box is being left; and it stays open with the next answer.
    await page.locator('summary', { hasText: 'In full' }).click();
    expect(await page.locator('[part=full]').getAttribute('open')).toBe('');
    await page.locator('#band').fill('2.5');
    expect(await page.locator('[part=full]').getAttribute('open')).toBe('');
    expect(await page.locator('#whorl').getAttribute('aria-invalid')).toBe('false');
    await host.close();
  });

  it('is a calculator at 320 px, with targets of 24 px and a keypad for numbers', async () => {
    const host = await openHost(browser, service, full, { viewport: { width: 320, height: 640 } });
    await host.page.locator('.numbers strong').first().waitFor();
    expect(await host.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    const small = await host.page.evaluate(() => [...document.querySelector('wheelgrist-ratio')!.shadowRoot!.querySelectorAll('input,select,summary')].filter((e) => { const r = e.getBoundingClientRect(); return r.width > 0 && (r.height < 24 || r.width < 24); }).map((e) => e.id));
    expect(small).toEqual([]);
    expect(await host.page.locator('#driveWheel').getAttribute('inputmode')).toBe('decimal');
    await host.close();
  });

  it.each(['light', 'dark'] as const)('has nothing that axe finds, in %s', async (colorScheme) => {
    const host = await openHost(browser, service, full, { colorScheme });
    await host.page.locator('svg').waitFor();
    for (const d of await host.page.locator('summary').all()) await d.click();
    await host.page.evaluate(axe);
    const found = await host.page.evaluate(() => (globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }).axe.run().then((r) => r.violations.map((v) => `${v.id}: ${v.nodes[0]?.html}`)));
    expect(found).toEqual([]);
    await host.close();
  });

  it('takes a wheel of the library by its id, and asks nothing else', async () => {
    const host = await openHost(browser, service, `<wheelgrist-ratio wheel="thornmere-4" service="${service}"></wheelgrist-ratio>`);
    await host.page.locator('.numbers strong').first().waitFor();
    expect(await number(host)).toBe('9.06 : 1');
    expect(await host.page.locator('#driveWheel').isVisible()).toBe(false);
    expect(host.asked.filter((u) => u.includes('/v1/'))).toEqual([`${service}/v1/wheels/thornmere-4`]);
    expect(preflights()).toBe(0);
    await host.close();
  });

  it('computes while the service is down', async () => {
    const host = await openHost(browser, service, `<wheelgrist-ratio wheel="gone" service="${service}"></wheelgrist-ratio>`);
    const { page } = host;
    await page.locator('text=The wheel could not be fetched').first().waitFor();
    await page.route(`${service}/**`, (route) => route.abort());
    for (const [id, text] of [['driveWheel', '560'], ['whorl', '60'], ['band', '2']] as const) await page.locator(`#${id}`).fill(text);
    await page.locator('.numbers strong').first().waitFor();
    expect(await number(host)).toBe('9.06 : 1');
    await host.close();
  });

  it('leaves its link where there are no scripts, and gives the inputs to it where there are', async () => {
    const without = await openHost(browser, service, full, { javaScriptEnabled: false });
    expect(await without.page.locator('a', { hasText: 'Drive ratio' }).getAttribute('href')).toContain('/calculate/ratio');
    expect(await without.page.locator('a', { hasText: 'Drive ratio' }).isVisible()).toBe(true);
    await without.close();
    const host = await openHost(browser, service, full);
    await host.page.locator('.numbers strong').first().waitFor();
    const link = new URL((await host.page.locator('[part=link]').getAttribute('href'))!);
    expect(link.origin + link.pathname).toBe('https://wheels.example/calculate/ratio');
    expect(link.searchParams.getAll('whorl')).toEqual(['60 ± 0.5 mm', '80 mm']);
    await host.close();
  });

  it('belongs to a form, takes new attributes, and reads numbers as its page writes them', async () => {
    const host = await openHost(browser, service, '<form><wheelgrist-ratio name="wheel" drive-wheel="560,5" whorl="60" band="2"></wheelgrist-ratio></form>', { lang: 'de' });
    await host.page.locator('.numbers strong').first().waitFor();
    const value = (): Promise<string> => host.page.evaluate(() => String(new FormData(document.querySelector('form')!).get('wheel')));
    expect(new URLSearchParams(await value()).get('driveWheel')).toBe('560.5 mm');
    await host.page.evaluate(() => { const e = document.querySelector('wheelgrist-ratio')!; e.setAttribute('units', 'imperial'); e.setAttribute('drive-wheel', '22'); e.setAttribute('whorl', '2'); e.setAttribute('band', '0,1'); });
    expect(new URLSearchParams(await value()).get('driveWheel')).toBe('22 in');
    expect(await number(host)).toBe('10,5 : 1');
    await host.page.evaluate(() => document.querySelector('form')!.reset());
    expect(await number(host)).toBe('10,5 : 1');
    await host.close();
  });

  it('can be themed by custom properties and parts, follows dark pages, and prints its answer', async () => {
    const host = await openHost(browser, service, full, { policy: "default-src *; style-src * 'unsafe-inline'" });
    await host.page.locator('svg').waitFor();
    await host.page.addStyleTag({ content: 'wheelgrist-ratio{--wheelgrist-ground:rgb(1, 2, 3)} wheelgrist-ratio::part(number){color:rgb(4, 5, 6)}' });
    expect(await host.page.evaluate(() => getComputedStyle(document.querySelector('wheelgrist-ratio')!.shadowRoot!.querySelector('.all')!).backgroundColor)).toBe('rgb(1, 2, 3)');
    expect(await host.page.locator('.numbers strong').first().evaluate((e) => getComputedStyle(e).color)).toBe('rgb(4, 5, 6)');
    await host.page.emulateMedia({ media: 'print' });
    expect(await host.page.locator('form').isVisible()).toBe(false);
    expect(await host.page.locator('.numbers').isVisible()).toBe(true);
    expect(await host.page.locator('svg').isVisible()).toBe(true);
    await host.close();
  });

  it('bears twenty on a page, and two script tags', async () => {
    const host = await openHost(browser, service, full.repeat(20), { script: `<script type="module" src="${service}/embeds/ratio.js"></script><script type="module" src="${service}/embeds/ratio.js?other"></script><script type="module" src="${service}/embeds/grist.js"></script>` });
    await expect.poll(() => host.page.locator('.numbers').count(), { timeout: 20_000 }).toBe(20);
    expect(host.refused).toEqual([]);
    await host.close();
  });

  it('is kept for ever under its hash, and may be read from any origin', async () => {
    const plain = await fetch(`${service}/embeds/ratio.js`);
    expect(plain.headers.get('access-control-allow-origin')).toBe('*');
    expect(plain.headers.get('cache-control')).toBe('public, no-cache');
    const [shared] = (await plain.text()).match(/shell-[A-Z0-9]{8}\.js/)!;
    expect((await fetch(`${service}/embeds/${shared}`)).headers.get('cache-control')).toContain('immutable');
    expect((await fetch(`${service}/embeds/integrity.json`)).status).toBe(200);
    for (const no of ['nothing.js', '..%2f..%2fpackage.json', '%2e%2e/package.json']) expect((await fetch(`${service}/embeds/${no}`)).status).toBe(404);
  });
});
