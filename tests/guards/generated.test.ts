/** What is generated is committed as it would be generated now: npm run gen. */
import { afterAll, describe, expect, it } from 'vitest';
import { generate } from '../../sdk/generate.js';
import { buildApp } from '../../services/http/app.js';
import { files, text } from '../support/tree.js';

const { version } = JSON.parse(text('package.json')) as { version: string };
const app = await buildApp({ config: { version } });
await app.ready();
const specification = `${JSON.stringify(await app.specification(), null, 2)}\n`;

describe('generated files', () => {
  it('the specification is that of the routes', () => { expect(text('sdk/openapi.json') === specification, 'sdk/openapi.json differs: npm run gen').toBe(true); });
  it('the SDK is that of the specification', async () => {
    const made = await generate(JSON.parse(specification));
    for (const [name, wanted] of made) expect(text(`sdk/${name}`) === wanted, `sdk/${name} differs: npm run gen`).toBe(true);
    expect(files.filter((f) => f.endsWith('.gen.ts')).toSorted()).toEqual([...made.keys()].map((name) => `sdk/${name}`).toSorted());
  });
  it('is the same every time', async () => {
    const document: unknown = JSON.parse(specification);
    expect([...(await generate(document))]).toEqual([...(await generate(document))]);
  });
  afterAll(() => app.close());
});
