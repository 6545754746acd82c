/** Writes sdk/openapi.json. The same routes give the same bytes. */
import { readFile, writeFile } from 'node:fs/promises';
import { buildApp } from './http/app.js';

const { version } = JSON.parse(await readFile('package.json', 'utf8')) as { version: string };
const app = await buildApp({ config: { version } });
await app.ready();
await writeFile('sdk/openapi.json', `${JSON.stringify(await app.specification(), null, 2)}\n`);
await app.close();
