/** A plan, the set-ups of a wheel and a class sheet each print on one sheet: counted in the PDF that a browser makes. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { plan, setups } from '../../services/calculations/index.js';
import { launch } from '../support/browser.js';
import { listen } from '../support/http.js';
import { describeWith } from '../support/require.js';
import { openWhole, type Whole } from '../support/whole.js';

const wool = 'length=1300yd&grist=840yd/lb&plies=3&preparation=woollen&fibreForm=raw-fleece&stock=2lb';
const cloth = 'clothWidth=60cm&clothLength=2m&warpSett=8ends/cm&weftSett=7ends/cm&grist=200tex&plies=2&preparation=worsted&fibreForm=combed&stock=600g&paceLength=40m&paceTime=30min&sittingsPerWeek=4';

await describeWith('chromium', 'on one sheet', () => {
  let whole: Whole;
  let browser: Browser;
  let origin: string;
  beforeAll(async () => {
    whole = await openWhole();
    origin = `http://127.0.0.1:${await listen(whole.app)}`;
    browser = await launch();
  }, 60_000);
  afterAll(async () => { await browser?.close(); await whole?.close(); });

  it.each([
    ['the plan of its example', `/calculate/plan?${plan.contract.exampleQuery}`], ['a plan from raw fleece', `/calculate/plan?${wool}`], ['a plan of cloth', `/calculate/plan?${cloth}`],
    ['set-ups', `/calculate/setups?${setups.contract.exampleQuery}`], ['a class sheet', '/class-sheet?grist=1200yd/lb&plies=2&twist=6turns/in&fibre=wool&draftLength=1.5-2in'],
  ])('%s', async (_, path) => {
    const page = await browser.newPage();
    const reply = await page.goto(origin + path);
    expect(reply!.status()).toBe(200);
    for (const format of ['A4', 'Letter']) {
      const pdf = await page.pdf({ format });
      expect((pdf.toString('latin1').match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length, format).toBe(1);
    }
    await page.close();
  }, 60_000);
});
