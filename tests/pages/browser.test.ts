/// <reference lib="dom" />
/** Pages in a real browser: without scripts, by keyboard, narrow, dark, in forced colours, and printed. */
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import type { FastifyInstance } from 'fastify';
import type { Browser, BrowserContextOptions, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { launch, listen, pagesApp } from '../support/browser.js';
import { describeWith } from '../support/require.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const asked = '/calculate/ratio?drive=double-drive&driveWheel=560+/-+1mm&band=2mm&whorl=60mm&whorl=80mm&bobbin=48mm&treadling=60/min';
const advised = '/calculate/diagnosis?sign=will-not-draw-in&sign=yanks&sign=hands-drift-back&drive=flyer-lead&fill=half';
const all = ['/', '/calculate/ratio', asked, '/calculate/take-up?drive=double-drive&driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm&core=22mm&end=75mm&lengthBetweenEnds=90mm', '/calculate/ratio?driveWheel=560&whorl=60+furlongs', '/problems', '/problems/missing-unit', '/wheels', '/wheels/one', '/wheels/none', advised, '/first-aid', '/first-aid?drive=bobbin-lead'];
const profile = {
  name: 'Thornmere 20', style: 'castle' as const, driveWheel: { grooveDiameter: '535 mm' }, modes: [{ drive: 'double-drive' as const, band: { thickness: '2 mm' } }, { drive: 'flyer-lead' as const, band: { thickness: '2 mm' } }, { drive: 'bobbin-lead' as const, band: { thickness: '2 mm' } }],
  whorls: ['76 mm', '58 mm', '92 mm'].map((grooveDiameter) => ({ grooveDiameter })), bobbins: [{ name: 'two-ended', grooves: [{ name: 'narrow end', grooveDiameter: '46 mm' }, { name: 'wide end', grooveDiameter: '64 mm' }], coreDiameter: '24 mm', endDiameter: '90 mm', lengthBetweenEnds: '98 mm' }],
};

await describeWith('chromium', 'pages in a browser', () => {
  let app: FastifyInstance;
  let origin: string;
  let browser: Browser;
  beforeAll(async () => {
    app = pagesApp({ find: (id) => (id === 'one' ? Promise.resolve({ id, profile }) : Promise.resolve({ id, profile: { name: 'Empty' } })), list: () => Promise.resolve({ items: [{ id: 'one', profile }] }) });
    origin = await listen(app);
    browser = await launch();
  });
  afterAll(async () => { await browser?.close(); await app?.close(); });

  const open = async (path: string, options: BrowserContextOptions = {}): Promise<{ page: Page; complaints: string[]; close: () => Promise<void> }> => {
    const context = await browser.newContext({ viewport: { width: 1000, height: 800 }, ...options });
    const page = await context.newPage();
    const complaints: string[] = [];
    page.on('console', (m) => { if (/error|warning/.test(m.type()) && !/status of 4\d\d/.test(m.text())) complaints.push(m.text()); });
    page.on('pageerror', (e) => complaints.push(e.message));
    page.on('request', (r) => { if (!r.url().startsWith(origin)) complaints.push(`asked ${r.url()}`); });
    await page.goto(origin + path);
    return { page, complaints, close: () => context.close() };
  };

  it.each(all)('%s: keeps its own policy, asks nothing of others; axe finds nothing in light and dark; 320 px wide it does not scroll sideways', async (path) => {
    const { page, complaints, close } = await open(path);
    await page.waitForLoadState('networkidle');
    expect(complaints).toEqual([]);
    expect(await page.context().cookies()).toEqual([]);
    expect(await page.evaluate(() => localStorage.length + sessionStorage.length)).toBe(0);
    await page.evaluate(axe);
    for (const colorScheme of ['light', 'dark'] as const) {
      await page.emulateMedia({ colorScheme });
      const found = await page.evaluate(() => (globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }).axe.run().then((r) => r.violations.map((v) => `${v.id}: ${v.nodes[0]?.html}`)));
      expect(found, colorScheme).toEqual([]);
    }
    await page.setViewportSize({ width: 320, height: 640 });
    expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    await close();
  });

  it('answers without scripts, typed and sent by keyboard alone', async () => {
    const { page, close } = await open('/calculate/ratio', { javaScriptEnabled: false });
    await page.keyboard.press('Tab');
    expect(await page.locator(':focus').getAttribute('class')).toBe('skip');
    const reach = async (id: string): Promise<void> => {
      for (let i = 0; i < 40; i++) {
        await page.keyboard.press('Tab');
        if ((await page.locator(':focus').getAttribute('id')) === id) return;
      }
      throw new Error(`${id} is not reached by the Tab key`);
    };
    await reach('f-driveWheel');
    await page.keyboard.type('560');
    await reach('f-whorl');
    await page.keyboard.type('60 ± 0.5 mm');
    await reach('f-band');
    await page.keyboard.type('2');
    await page.keyboard.press('Enter');
    await page.waitForURL(/driveWheel=560/);
    await page.locator('.numbers strong').first().waitFor();
    expect(await page.locator('.numbers strong').first().textContent()).toBe('9.06 ± 0.07 : 1');
    expect(await page.locator('#f-driveWheel').inputValue()).toBe('560 mm');
    await close();
  });

  it('can be aimed at: every link outside of text, button and box is 24 px or more', async () => {
    const { page, close } = await open(asked, { viewport: { width: 320, height: 640 } });
    const small = await page.evaluate(() => [...document.querySelectorAll('button,input:not([type=hidden]),select,summary,.bar a')].map((e) => ({ e: e.outerHTML.slice(0, 80), r: e.getBoundingClientRect() })).filter(({ r }) => r.width > 0 && (r.height < 24 || r.width < 24)).map(({ e }) => e));
    expect(small).toEqual([]);
    await close();
  });

  it('shows where the focus is', async () => {
    const { page, close } = await open('/calculate/ratio');
    await page.locator('#f-driveWheel').focus();
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => getComputedStyle(document.activeElement!).outlineStyle)).toBe('solid');
    await close();
  });

  it('keeps to 70 signs in a line', async () => {
    const { page, close } = await open('/problems/missing-unit');
    const signs = await page.evaluate(() => {
      const p = document.querySelector<HTMLElement>('main p:not(.lead)')!;
      const probe = document.createElement('span');
      probe.textContent = 'A patient teacher sits down at the next wheel and says what to try. ';
      p.prepend(probe);
      const ofOne = probe.getBoundingClientRect().width / probe.textContent.length;
      return p.getBoundingClientRect().width / ofOne;
    });
    expect(signs).toBeGreaterThan(45);
    expect(signs).toBeLessThan(70);
    await close();
  });

  it.each(['dark', 'light'] as const)('is %s where that is asked for', async (colorScheme) => {
    const { page, close } = await open(asked, { colorScheme });
    const [ground, ink] = await page.evaluate(() => { const s = getComputedStyle(document.documentElement); const c = getComputedStyle(document.querySelector('svg text')!); return [s.backgroundColor, c.fill]; });
    const light = (c: string): number => c.match(/\d+/g)!.slice(0, 3).map(Number).reduce((a, b) => a + b, 0) / 3;
    expect(light(ground!) > light(ink!)).toBe(colorScheme === 'light');
    await close();
  });

  it('can be read in forced colours', async () => {
    const { page, close } = await open(asked, { forcedColors: 'active' });
    const [text, stroke] = await page.evaluate(() => [getComputedStyle(document.querySelector('svg text')!).fill, getComputedStyle(document.querySelector('svg .wg-woad')!).stroke]);
    expect(text).toBe(stroke);
    await close();
  });

  it.each([asked, '/wheels/one'])('%s prints on one sheet, without what is only for the screen', async (path) => {
    const { page, close } = await open(path);
    await page.emulateMedia({ media: 'print' });
    for (const gone of ['form', '.bar', '.screen']) expect(await page.locator(gone).evaluateAll((list) => list.filter((e) => getComputedStyle(e).display !== 'none').length)).toBe(0);
    for (const kept of ['.numbers', 'svg', 'footer']) expect(await page.locator(kept).first().isVisible()).toBe(true);
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type \/Page\b/g)).toHaveLength(1);
    await close();
  });

  it.each([advised, '/first-aid', '/first-aid?drive=double-drive', '/first-aid?drive=flyer-lead', '/first-aid?drive=bobbin-lead', '/first-aid?drive=electric'])('%s prints on one sheet, cautions on top', async (path) => {
    const { page, close } = await open(path);
    await page.emulateMedia({ media: 'print' });
    const top = (of: string): Promise<number> => page.locator(of).first().evaluate((e) => e.getBoundingClientRect().top);
    expect(await top('.caution')).toBeLessThan(await top('.advice, tbody'));
    const pdf = (await page.pdf({ format: 'A4', preferCSSPageSize: true })).toString('latin1');
    expect(pdf.match(/\/Type \/Page\b/g)).toHaveLength(1);
    await close();
  });
});
