/** The commands of the README, run as they stand there against a service that has just been started. */
import { execFile } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { freePort, root, start, type Started } from './support.js';

const run = promisify(execFile);
const readme = readFileSync(`${root}README.md`, 'utf8');
const blocks = [...readme.matchAll(/(<!-- run: curl -->\n)?```(\w+)\n([^]*?)```/g)].map((m) => ({ marked: m[1] !== undefined, language: m[2]!, body: m[3]! }));
const curls = blocks.filter((b) => b.language === 'sh' && b.body.includes('curl '));
/** One command a line; a line that ends in \ goes on. */
const commands = curls.flatMap((b) => b.body.replace(/\\\n\s*/g, '').trim().split('\n'));

const folder = mkdtempSync(join(tmpdir(), 'readme-'));
let service: Started;
let [address, key] = ['', ''];
beforeAll(async () => {
  const port = await freePort();
  service = start({ PORT: String(port), DATA_DIR: join(folder, 'data') });
  key = (await service.says(/key: (\S+)/))[1]!;
  address = `http://127.0.0.1:${port}`;
});
afterAll(async () => {
  await service.stop();
  rmSync(folder, { recursive: true, force: true });
});
const here = (command: string): string => command.replaceAll('http://127.0.0.1:8080', address);

describe('the commands of the README', () => {
  it('are more than five', () => { expect(commands.length).toBeGreaterThan(5); });
  it.each(commands)('%s', async (command) => {
    const { stdout } = await run('bash', ['-c', here(command).replace(/^curl/, 'curl -sS --fail-with-body')], { cwd: folder, env: { ...process.env, KEY: key } });
    if (!command.startsWith('curl')) return;
    if (command.startsWith('curl -i')) { expect(stdout).toMatch(/^HTTP\/1\.1 20[0-9] /); return; }
    if (command.includes('.svg')) expect(stdout).toMatch(/^<svg[^]*<\/svg>\s*$/);
    else expect(Object.keys(JSON.parse(stdout) as object).length).toBeGreaterThan(1);
  });
  it('the first of them says what the README says', async () => {
    const { stdout } = await run('bash', ['-c', here(commands[0]!).replace(/^curl/, 'curl -sS')]);
    const { result } = JSON.parse(stdout) as { result: { whorls: { flyerRatio: { text: string } }[]; bobbins: { bobbinRatio: { text: string } }[] } };
    expect(readme).toContain(`${result.whorls[0]!.flyerRatio.text} for the flyer, ${result.bobbins[0]!.bobbinRatio.text} for the bobbin`);
  });
  it('its program prints a ratio', async () => {
    const program = blocks.find((b) => b.language === 'ts')!.body.replace('@wheelgrist/sdk', `${root}sdk/src/index.ts`);
    const { stdout } = await run(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', here(program)], { cwd: root });
    expect(stdout).toMatch(/^[\d.]+(?: to [\d.]+)? : 1\n$/);
  });
  it('the two lines for a website lead to a script and a page', async () => {
    const html = here(blocks.find((b) => b.language === 'html')!.body);
    const [script, page] = [/src="([^"]+)"/.exec(html)![1]!, /href="([^"]+)"/.exec(html)![1]!];
    const asked = await Promise.all([script, page].map((url) => fetch(url)));
    expect(asked.map((r) => r.status)).toEqual([200, 200]);
    expect(asked[0]!.headers.get('content-type')).toMatch(/javascript/);
    expect((await asked[0]!.text()).length).toBeGreaterThan(100);
  });
});
