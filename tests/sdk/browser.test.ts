/** The bundled client in a real browser, on a page of another origin. */
import { join } from 'node:path';
import { build } from 'esbuild';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import type * as Sdk from '../../sdk/src/index.js';
import { hostPage, launch } from '../support/browser.js';
import { listen } from '../support/http.js';
import { describeWith } from '../support/require.js';
import { openWhole, type Whole } from '../support/whole.js';
import { root } from './packed.js';

await describeWith('chromium', 'in Chromium', () => {
  let service: Whole;
  let browser: Browser;
  let page: Page;
  let address: string;
  let host: Awaited<ReturnType<typeof hostPage>>;
  const asked: string[] = [];
  beforeAll(async () => {
    service = await openWhole();
    address = `http://127.0.0.1:${await listen(service.app)}`;
    const { outputFiles } = await build({ entryPoints: [join(root, 'sdk/src/index.ts')], bundle: true, minify: true, format: 'iife', globalName: 'sdk', target: 'es2022', write: false });
    host = await hostPage('<!doctype html><title>A guild</title><script src="/sdk.js"></script>', { 'content-security-policy': `default-src 'none'; script-src 'self'; connect-src ${address}` }, { '/sdk.js': { type: 'text/javascript', body: outputFiles[0]!.text } });
    browser = await launch();
    page = await browser.newPage();
    page.on('request', (request) => asked.push(`${request.method()} ${request.url()}`));
    await page.goto(host.origin);
  });
  afterAll(async () => {
    await browser?.close();
    host?.server.close();
    await service?.close();
  });

  it('answers, walks pages and reads headers across origins, plain GETs without a preflight', async () => {
    const got = await page.evaluate(async (baseUrl) => {
      const { Wheelgrist } = (globalThis as unknown as { sdk: typeof Sdk }).sdk;
      const wheelgrist = new Wheelgrist({ baseUrl });
      const { data, headers, requestId } = await wheelgrist.ratioByLink({ driveWheel: '520 ± 4 mm', whorl: '60 mm', band: '2 mm' }).withResponse();
      let wheels = 0;
      for await (const wheel of wheelgrist.allWheels({ limit: 5 })) if (wheel.visibility === 'public') wheels++;
      const posted = await wheelgrist.ratio({ wheel: { whorls: [{ statedRatio: '9:1' }] } });
      return { text: data.result.whorls?.[0]?.flyerRatio.text, etag: headers['etag'] !== undefined, requestId: requestId !== undefined, wheels, posted: posted.result.whorls?.[0]?.flyerRatio.text };
    }, address);
    expect(got).toMatchObject({ text: expect.stringMatching(/^8\.4.* : 1$/), etag: true, requestId: true, posted: '9 : 1' });
    expect(got.wheels).toBeGreaterThan(5);
    expect(asked.filter((line) => !line.includes(host.origin)).every((line) => line.includes(address))).toBe(true);
  });
  it('says what was wrong, and what was not reached', async () => {
    const got = await page.evaluate(async (baseUrl) => {
      const { Wheelgrist, ProblemReply, NetworkFailure, Timeout } = (globalThis as unknown as { sdk: typeof Sdk }).sdk;
      const name = (error: unknown): string => (error instanceof ProblemReply ? `${error.code} ${error.problem.errors?.[0]?.parameter}` : error instanceof NetworkFailure ? 'network' : error instanceof Timeout ? 'timeout' : String(error));
      return [
        await new Wheelgrist({ baseUrl }).ratioByLink({ driveWheel: '560', whorl: '60 mm' }).catch(name),
        await new Wheelgrist({ baseUrl: 'http://127.0.0.1:1', retries: 0 }).listUnits().catch(name),
        await new Wheelgrist({ baseUrl, fetch: () => new Promise(() => {}), deadline: 50 }).listUnits().catch(name),
      ];
    }, address);
    expect(got).toEqual(['missing-unit driveWheel', 'network', 'timeout']);
  });
  it('refuses a key in a page, unless it is allowed', async () => {
    const got = await page.evaluate(async ({ baseUrl, key }) => {
      const { Wheelgrist } = (globalThis as unknown as { sdk: typeof Sdk }).sdk;
      let refused = '';
      try { new Wheelgrist({ baseUrl, key }); } catch (error) { refused = String(error); }
      const made = await new Wheelgrist({ baseUrl, key, allowKeyInBrowser: true }).createWheel({ name: 'Page wheel', whorls: [{ statedRatio: '7:1' }] });
      return { refused, name: made.name };
    }, { baseUrl: address, key: service.key });
    expect(got).toEqual({ refused: expect.stringContaining('allowKeyInBrowser'), name: 'Page wheel' });
    expect(got.refused).not.toContain(service.key);
  });
});
