/// <reference lib="dom" />
/** Every embed on other people's pages: languages, light, dark, forced colours and print, narrow, many at once, two versions. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { launch, listen, pagesApp } from '../support/browser.js';
import { describeWith } from '../support/require.js';
import { openHost } from './host.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const root = fileURLToPath(new URL('../../', import.meta.url));
const kebab = (name: string): string => name.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`);

/** Each element filled in with its calculation's own example. */
const filled = calculations.map(({ id, fields, contract }) => {
  const flat = new Map<string, string[]>();
  for (const [name, value] of new URLSearchParams(contract.exampleQuery)) flat.set(name, [...(flat.get(name) ?? []), value]);
  const attributes = [...flat].filter(([name]) => fields.list.some((f) => f.name === name)).map(([name, values]) => ` ${kebab(name)}="${values.join('; ').replaceAll('"', '&quot;')}"`).join('');
  return { id, html: `<wheelgrist-${id}${attributes}></wheelgrist-${id}>` };
});

await describeWith('chromium', 'every embed', () => {
  let app: FastifyInstance;
  let service: string;
  let browser: Browser;
  beforeAll(async () => {
    execFileSync(process.execPath, ['sdk/embeds/build.mjs'], { cwd: root });
    app = pagesApp();
    service = await listen(app);
    browser = await launch();
  });
  afterAll(async () => { await browser?.close(); await app?.close(); });
  const scripts = (): string => calculations.map((c) => `<script type="module" src="${service}/embeds/${c.id}.js"></script>`).join('');
  const all = filled.map((f) => f.html).join('');

  it('answers its own example, axe finds nothing in light, dark, forced colours and print, and 320 px wide nothing scrolls sideways', async () => {
    const host = await openHost(browser, service, all, { script: scripts() });
    await expect.poll(() => host.page.evaluate(() => [...document.querySelectorAll('main > *')].filter((e) => e.localName.startsWith('wheelgrist-') && e.shadowRoot?.querySelector('.numbers, .cards') == null).map((e) => `${e.localName}: ${e.shadowRoot?.querySelector('.answer')?.textContent} ${[...(e.shadowRoot?.querySelectorAll('.wrong') ?? [])].map((w) => w.textContent).join(' ')}`)), { timeout: 40_000 }).toEqual([]);
    expect(host.refused).toEqual([]);
    for (const d of await host.page.locator('summary').all()) await d.click();
    const sticksOut = (): Promise<string[]> => host.page.evaluate(() => [...document.querySelectorAll('main > *')].flatMap((e) => { const all = e.shadowRoot?.querySelector('.all'); return all != null && all.scrollWidth > all.clientWidth ? [e.localName] : []; }));
    expect(await sticksOut()).toEqual([]);
    await host.page.evaluate(axe);
    for (const media of [{ colorScheme: 'light' }, { colorScheme: 'dark' }, { forcedColors: 'active' }, { forcedColors: 'none', colorScheme: 'light', media: 'print' }] as const) {
      await host.page.emulateMedia(media);
      const found = await host.page.evaluate(() => (globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { html: string; failureSummary: string }[] }[] }> } }).axe.run().then((r) => r.violations.map((v) => `${v.id}: ${v.nodes.map((n) => `${n.html.slice(0, 200)} ${n.failureSummary}`).join('\n')}`)));
      expect.soft(found, JSON.stringify(media)).toEqual([]);
    }
    await host.page.emulateMedia({ media: 'screen', colorScheme: 'light' });
    await host.page.setViewportSize({ width: 320, height: 640 });
    expect(await host.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    expect(await sticksOut()).toEqual([]);
    const words = await host.page.evaluate(() => [...document.querySelectorAll('main > *')].flatMap((e) => [...(e.shadowRoot?.querySelectorAll<SVGTextElement>('.drawn text') ?? [])].map((t) => parseFloat(getComputedStyle(t).fontSize) * t.getScreenCTM()!.a)));
    expect(words.length).toBeGreaterThan(20);
    expect(Math.min(...words), 'words of pictures, in pixels').toBeGreaterThan(10);
    await host.close();
  });

  it.each([
    ['de', 'ltr', 'Übersetzung des Flügels', '9,06 : 1', 'Bei einer Umdrehung des Rades dreht sich der Flügel 9,06-mal.'], ['fr', 'ltr', 'rapport de l’ailette', '9,06 : 1', 'Pour un tour de roue, l’ailette tourne 9,06 fois.'],
    ['sv', 'ltr', 'vingens utväxling', '9,06 : 1', 'På ett hjulvarv går vingen 9,06 varv.'], ['ar', 'rtl', 'نسبة الجناح', '9.06 : 1', 'لكل دورة من العجلة يدور الجناح 9.06 مرة.'], ['en-GB', 'ltr', 'flyer ratio', '9.06 : 1', 'For one turn of the wheel the flyer turns 9.06 times.'],
  ])('speaks %s, from %s', async (lang, dir, label, number, sentence) => {
    const host = await openHost(browser, service, '<wheelgrist-ratio drive-wheel="560" band="2" whorl="60" bobbin="48"></wheelgrist-ratio>', { lang, viewport: { width: 320, height: 800 } });
    await host.page.locator('.numbers').waitFor();
    expect(await host.page.locator('.numbers li').first().innerText()).toContain(label);
    expect(await host.page.locator('.numbers strong').first().innerText()).toBe(number);
    expect(await host.page.locator('[part=sentence]').innerText()).toContain(sentence);
    expect(await host.page.locator('.all').getAttribute('dir')).toBe(dir);
    expect(await host.page.locator('label[for=driveWheel]').innerText() === 'Drive wheel, across').toBe(lang.startsWith('en'));
    expect(await host.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    expect(host.refused).toEqual([]);
    await host.close();
  });

  it('changes its language and keeps what was typed', async () => {
    const host = await openHost(browser, service, '<wheelgrist-ratio drive-wheel="560" whorl="60" band="2" lang="de"></wheelgrist-ratio>', { lang: 'en' });
    await host.page.locator('.numbers').waitFor();
    await host.page.locator('#driveWheel').fill('280,5');
    await host.page.evaluate(() => document.querySelector('wheelgrist-ratio')!.setAttribute('lang', 'ar'));
    await expect.poll(() => host.page.locator('.all').getAttribute('dir')).toBe('rtl');
    expect(await host.page.locator('#driveWheel').inputValue()).toBe('280,5');
    await host.close();
  });

  it('bears twenty of all kinds on a page, and a script of another version beside it', async () => {
    const twenty = Array.from({ length: 20 }, (_, i) => filled[i % filled.length]!.html).join('');
    const host = await openHost(browser, service, twenty, { script: `${scripts()}${calculations.map((c) => `<script type="module" src="${service}/embeds/${c.id}.js?other-version"></script>`).join('')}` });
    await expect.poll(() => host.page.locator('.numbers, .cards').count(), { timeout: 30_000 }).toBe(20);
    expect(host.refused).toEqual([]);
    await host.close();
  });

  it('goes on answering when the service is gone once it stands, and says so when it went before', async () => {
    const host = await openHost(browser, service, '<wheelgrist-ratio></wheelgrist-ratio>');
    await host.page.locator('text=Fill in what you have measured.').first().waitFor();
    await host.context.setOffline(true);
    for (const [id, text] of [['driveWheel', '560'], ['whorl', '60'], ['band', '2']] as const) await host.page.locator(`#${id}`).fill(text);
    await host.page.locator('.numbers').waitFor();
    await host.close();
    const cut = await openHost(browser, service, '', { script: '' });
    await cut.page.route(/-answer-/, (route) => route.abort());
    await cut.page.evaluate((src) => { const s = document.createElement('script'); s.type = 'module'; s.src = src; document.head.append(s); document.querySelector('main')!.append(document.createElement('wheelgrist-ratio')); }, `${service}/embeds/ratio.js`);
    await cut.page.locator('text=The calculator could not be loaded.').first().waitFor();
    expect(await cut.page.locator('#driveWheel').isVisible()).toBe(true);
    await cut.close();
  });
});
