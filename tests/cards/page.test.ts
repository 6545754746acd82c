/// <reference lib="dom" />
/** The sheet of a card in a real browser: without scripts, and on one sheet of paper however much was noted. */
import { createRequire } from 'node:module';
import { readFileSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { examples } from '../../services/cards/contract.js';
import { launch, listen } from '../support/browser.js';
import { openTestDatabase, type TestDatabase } from '../support/db.js';
import { describeWith } from '../support/require.js';
import { twoGuilds, type TwoGuilds } from '../support/shelf.js';

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const wordy = Array.from({ length: 40 }, (_, i) => `Line ${i}: ends left overnight, plied from the side.`).join('\n').slice(0, 2000);

await describeWith('chromium', 'sheets of cards', () => {
  let opened: TestDatabase;
  let shelf: TwoGuilds;
  let browser: Browser;
  let origin: string;
  beforeAll(async () => {
    opened = await openTestDatabase('pglite');
    shelf = await twoGuilds(opened);
    origin = await listen(shelf.app);
    browser = await launch();
  });
  afterAll(async () => { await browser?.close(); await shelf?.app.close(); await opened?.close(); });
  const keep = async (more: object): Promise<string> => (await shelf.ask('POST', '/v1/cards', { key: shelf.keys.own, body: { ...examples.toKeep, ...more } })).json<{ id: string }>().id;

  it.each([[{}], [{ note: wordy }], [{ note: 'x'.repeat(2000) }]])('print on one sheet of A4 and of US letter, scripts off: %#', async (more) => {
    const id = await keep({ visibility: 'public', ...more });
    const page = await (await browser.newContext({ javaScriptEnabled: false })).newPage();
    expect((await page.goto(`${origin}/cards/${id}`))!.status()).toBe(200);
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ format });
      expect(pdf.toString('latin1').match(/\/Type\s*\/Page\b/g), format).toHaveLength(1);
    }
    await page.emulateMedia({ media: 'print' });
    expect(await page.getByText('Work on from here').isVisible()).toBe(false);
    expect(await page.getByText('do not run the wheel').isVisible()).toBe(true);
    expect(await page.getByText('Fibre and hand').isVisible()).toBe(true);
    await page.context().close();
  });

  it('lead to calculators that are filled in, and are read by everybody', async () => {
    const id = await keep({ visibility: 'public' });
    const page = await browser.newPage();
    for (const path of ['/cards', `/cards/${id}`]) {
      await page.goto(origin + path);
      await page.evaluate(axe);
      expect(await page.evaluate(() => (globalThis as unknown as { axe: { run(): Promise<{ violations: { id: string }[] }> } }).axe.run().then((r) => r.violations.map((v) => v.id)))).toEqual([]);
      await page.setViewportSize({ width: 320, height: 640 });
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(320);
      await page.setViewportSize({ width: 1000, height: 800 });
    }
    await page.getByRole('link', { name: /^Twist of the single/ }).click();
    expect(await page.getByLabel('Length drafted in those turns').inputValue()).toBe('75 mm');
    expect(await page.locator('#answer .numbers').textContent()).toMatch(/242/);
    await page.close();
  });

  it('show a guild’s own to the holder of its key alone', async () => {
    const id = await keep({});
    expect((await shelf.ask('GET', `/cards/${id}`)).statusCode).toBe(404);
    const own = await shelf.ask('GET', `/cards/${id}`, { key: shelf.keys.reader });
    expect([own.statusCode, own.headers['cache-control']]).toEqual([200, 'private, no-cache']);
    expect(own.body).toContain('m-017');
    expect((await shelf.ask('GET', '/cards')).body).not.toContain(id);
  });
});
