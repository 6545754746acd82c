/// <reference lib="dom" />
/** `<wheelgrist-diagnosis>` on a guild's page, in a real browser: signs are ticked, and advice stands under its cautions. */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import type { FastifyInstance } from 'fastify';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { answer } from '../../services/calculations/diagnosis/answer.js';
import { launch, listen, pagesApp } from '../support/browser.js';
import { describeWith } from '../support/require.js';
import { openHost } from './host.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const inside = '<wheelgrist-diagnosis sign="will-not-draw-in; hands-drift-back" drive="flyer-lead"><a href="https://wheels.example/calculate/diagnosis">What is wrong</a></wheelgrist-diagnosis>';
interface Element extends HTMLElement { reply?: unknown }

await describeWith('chromium', 'the diagnosis embed', () => {
  let app: FastifyInstance;
  let service: string;
  let browser: Browser;
  beforeAll(async () => {
    execFileSync(process.execPath, ['sdk/embeds/build.mjs'], { cwd: fileURLToPath(new URL('../../', import.meta.url)) });
    app = pagesApp();
    service = await listen(app);
    browser = await launch();
  });
  afterAll(async () => { await browser?.close(); await app?.close(); });
  const open = (options = {}) => openHost(browser, service, inside, { script: `<script type="module" src="${service}/embeds/diagnosis.js"></script>`, ...options });

  it('answers as the calculation does, under a strict policy, with no question sent anywhere', async () => {
    const host = await open();
    await host.page.locator('.cards li').first().waitFor();
    expect(await host.page.locator('wheelgrist-diagnosis').evaluate((e) => (e as Element).reply)).toEqual(JSON.parse(JSON.stringify(answer({ signs: ['will-not-draw-in', 'hands-drift-back'], drive: 'flyer-lead' }))));
    expect(host.refused).toEqual([]);
    expect(host.asked.filter((u) => !u.startsWith(host.origin) && !u.startsWith(service))).toEqual([]);
    expect(host.asked.filter((u) => u.includes('/v1/'))).toEqual([]);
    await host.close();
  });
  it('a ticked sign changes the answer, by keyboard too, and a cracked flyer stops everything', async () => {
    const host = await open();
    await host.page.locator('.cards li').first().waitFor();
    await host.page.locator('input[value=cracked-flyer]').first().focus();
    await host.page.keyboard.press('Space');
    await host.page.getByText('The flyer is cracked').waitFor();
    expect(await host.page.locator('.cards li').count()).toBe(1);
    const texts = await host.page.locator('.answer').innerText();
    expect(texts.indexOf('Stop the wheel now')).toBeLessThan(texts.indexOf('Look first'));
    expect(await host.page.locator('a[part=link]').getAttribute('href')).toContain('sign=cracked-flyer');
    await host.close();
  });
  it('cautions stand above advice; axe finds nothing in light and dark; 320 px wide it does not scroll sideways', async () => {
    const host = await open({ policy: `script-src ${service} 'unsafe-eval'; style-src 'self'` });
    await host.page.locator('.cards li').first().waitFor();
    const card = await host.page.locator('.cards li').first().innerText();
    expect(card.indexOf('Caution.')).toBeGreaterThan(0);
    expect(card.indexOf('Caution.')).toBeLessThan(card.indexOf('Look first'));
    await host.page.evaluate(axe);
    for (const colorScheme of ['light', 'dark'] as const) {
      await host.page.emulateMedia({ colorScheme });
      expect(await host.page.evaluate(() => (globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> } }).axe.run().then((r) => r.violations.map((v) => `${v.id}: ${v.nodes[0]?.html}`)))).toEqual([]);
    }
    await host.page.setViewportSize({ width: 320, height: 640 });
    expect(await host.page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
    await host.close();
  });
});
