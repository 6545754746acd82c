/** The packed package in other people's projects: compiled, run, bundled; its sizes; every example of its README. */
import { readdir, readFile, symlink, unlink, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { checkPackage, createPackageFromTarballData } from '@arethetypeswrong/core';
import { build } from 'esbuild';
import { publint } from 'publint';
import ts from 'typescript';
import ts59 from 'typescript59';
import { build as viteBuild } from 'vite';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ratioByLink } from '../../sdk/src/offline.js';
import { hostPage, launch } from '../support/browser.js';
import { listen } from '../support/http.js';
import { describeWith } from '../support/require.js';
import { openWhole, type Whole } from '../support/whole.js';
import { compile, done, packed, root, run, type Packed } from './packed.js';

let service: Whole;
let address: string;
let sdk: Packed;
beforeAll(async () => {
  service = await openWhole({ working: true });
  address = `http://127.0.0.1:${await listen(service.app)}`;
  sdk = await packed();
});
afterAll(async () => {
  await sdk?.close();
  await service?.close();
});

const text = (path: string): Promise<string> => readFile(join(root, path), 'utf8');
async function bundled(entry: string): Promise<{ code: string; gzip: number; inputs: string[] }> {
  const { outputFiles, metafile } = await build({ entryPoints: [join(sdk.folder, 'browser', entry)], bundle: true, minify: true, format: 'esm', target: 'es2022', write: false, metafile: true, absWorkingDir: sdk.folder });
  const code = outputFiles[0]!.text;
  return { code, gzip: gzipSync(code, { level: 9 }).length, inputs: Object.keys(metafile.inputs) };
}

describe('what is in it', () => {
  it('is only what an entry point reaches, without dependencies', async () => {
    const pack = JSON.parse(await readFile(join(sdk.installed, 'package.json'), 'utf8')) as Record<string, unknown>;
    expect(pack).toMatchObject({ name: '@wheelgrist/sdk', type: 'module', sideEffects: false, license: 'MIT' });
    expect(pack['dependencies']).toBeUndefined();
    expect(sdk.files).toEqual(expect.arrayContaining(['LICENSE', 'README.md', 'CHANGELOG.md', 'openapi.json', 'package.json', 'dist/sdk/src/index.js', 'dist/services/calculations/ratio/answer.js']));
    expect(sdk.files.filter((f) => /contract|zod|\/http\/|\/pages\/|store|route|\.test\.|\.map$|^src|generate/.test(f))).toEqual([]);
    expect(sdk.files.filter((f) => f.startsWith('dist/services') && f.endsWith('.d.ts'))).toEqual([]);
    // What a page or a program imports reaches nothing outside; the command alone, which reads files, reaches into Node.
    const reached = new Set<string>();
    const reach = async (file: string, outside: RegExp): Promise<void> => {
      if (reached.has(file)) return;
      reached.add(file);
      for (const { fileName } of ts.preProcessFile(await readFile(file, 'utf8'), true, true).importedFiles) {
        if (fileName.startsWith('.')) await reach(join(dirname(file), fileName), outside);
        else expect(fileName, file).toMatch(outside);
      }
    };
    for (const entry of ['index', 'node', 'offline']) await reach(join(sdk.installed, `dist/sdk/src/${entry}.js`), /^undici$/);
    await reach(join(sdk.installed, 'dist/sdk/src/cli.js'), /^node:/);
    expect(sdk.files.filter((f) => f.endsWith('.js') && !reached.has(join(sdk.installed, f)))).toEqual([]);
    expect(await readFile(join(sdk.installed, 'LICENSE'), 'utf8')).toBe(await text('LICENSE'));
    expect(await text('sdk/CHANGELOG.md')).toContain(`## ${String(pack['version'])}`);
    expect((JSON.parse(await text('package.json')) as { version: string }).version).toBe(pack['version']);
  });
});

describe('package checks', () => {
  it('publint finds nothing to say', async () => {
    const tarball = await readFile(join(sdk.folder, sdk.tarball));
    const { messages } = await publint({ strict: true, pack: { tarball: tarball.buffer.slice(tarball.byteOffset, tarball.byteOffset + tarball.byteLength) } });
    expect(messages).toEqual([]);
  });
  it('types are there wherever the package resolves, and are of what runs', async () => {
    const found = await checkPackage(createPackageFromTarballData(await readFile(join(sdk.folder, sdk.tarball))));
    if (found.types === false) throw new Error('No types were found.');
    expect(Object.keys(found.entrypoints)).toEqual(expect.arrayContaining(['.', './node', './offline']));
    // ES modules alone: require() of them is what every Node that is supported does (“runs by require()”), and resolution by the rules of Node 10 is not.
    const known = (p: (typeof found.problems)[number]): boolean => p.kind === 'CJSResolvesToESM' || (p.kind === 'NoResolution' && p.resolutionKind === 'node10');
    expect(found.problems.filter((p) => !known(p))).toEqual([]);
  });
});

describe('in Node', () => {
  it('runs as ES modules, with and without undici', async () => {
    expect(compile('node-esm/tsconfig.json', sdk.folder)).toEqual([]);
    const link = join(sdk.folder, 'node_modules/undici');
    for (const withUndici of [false, true]) {
      if (withUndici) await symlink(join(root, 'node_modules/undici'), link);
      const out = JSON.parse(await done(process.execPath, ['node-esm/built/main.js', address], sdk.folder)) as object;
      expect(out).toEqual({ same: true, ratios: ['9.06 : 1', '9.02 : 1'], refused: ['missing-unit'] });
    }
    await unlink(link);
  });
  it('runs by require()', async () => {
    expect(compile('node-cjs/tsconfig.json', sdk.folder)).toEqual([]);
    expect(await readFile(join(sdk.folder, 'node-cjs/built/main.js'), 'utf8')).toContain('require("@wheelgrist/sdk/node")');
    expect(JSON.parse(await done(process.execPath, ['node-cjs/built/main.js', address], sdk.folder))).toEqual({ same: true, ratios: ['9.06 : 1'] });
  });
});

describe('types', () => {
  // The declarations themselves are checked once by each compiler: how a resolver finds them does not change what they say.
  it.each([['6', 'nodenext', false], ['6', 'bundler', true], ['5.9', 'nodenext', true], ['5.9', 'bundler', false]])('hold under TypeScript %s and %s; declarations left unchecked: %s', (version, resolution, skipLibCheck) => {
    const by = version === '6' ? ts : (ts59 as unknown as typeof ts);
    expect(by.version.startsWith(version)).toBe(true);
    expect(compile(`types/tsconfig.${resolution}.json`, sdk.folder, { options: { skipLibCheck } }, by)).toEqual([]);
  });
  it('are checked at all: without its guards the same file fails', async () => {
    const file = join(sdk.folder, 'types/main.ts');
    const whole = await readFile(file, 'utf8');
    await writeFile(file, whole.replaceAll('// @ts-expect-error', '//'));
    const said = compile('types/tsconfig.nodenext.json', sdk.folder, { options: { skipLibCheck: true } });
    await writeFile(file, whole);
    expect(said).toHaveLength(whole.match(/@ts-expect-error/g)!.length);
  });
});

describe('in a bundle', () => {
  it('weighs what it may', async () => {
    const [one, whole, here] = [await bundled('one-call.ts'), await bundled('whole.ts'), await bundled('here.ts')];
    console.log(`gzip: one call ${one.gzip} B, whole client ${whole.gzip} B, ratio without a network ${here.gzip} B`);
    expect(one.gzip).toBeLessThanOrEqual(2048);
    expect(whole.gzip).toBeLessThanOrEqual(8192);
    expect(one.inputs.filter((f) => /offline|services/.test(f))).toEqual([]);
    expect(one.code).not.toContain('/v1/take-up');
    expect(here.inputs.length).toBeGreaterThan(5);
    for (const other of ['take-up/answer', 'twist/answer', 'grist/answer']) expect(await weight('here.ts', other), other).toBe(0);
  });
  async function weight(entry: string, part: string): Promise<number> {
    const { metafile } = await build({ entryPoints: [join(sdk.folder, 'browser', entry)], bundle: true, minify: true, format: 'esm', write: false, metafile: true, absWorkingDir: sdk.folder });
    return Object.entries(Object.values(metafile.outputs)[0]!.inputs).filter(([name]) => name.includes(part)).reduce((sum, [, { bytesInOutput }]) => sum + bytesInOutput, 0);
  }
});

await describeWith('chromium', 'built by Vite', () => {
  it('answers in a page with a strict policy, there and without a network', async () => {
    const site = join(sdk.folder, 'vite');
    await viteBuild({ root: site, configFile: false, logLevel: 'error', build: { outDir: 'built', target: 'es2022', modulePreload: false } });
    const names = await readdir(join(site, 'built/assets'));
    const files = Object.fromEntries(await Promise.all(names.map(async (name) => [`/assets/${name}`, { type: 'text/javascript', body: await readFile(join(site, 'built/assets', name), 'utf8') }] as const)));
    const html = (await readFile(join(site, 'built/index.html'), 'utf8')).replace('<main>', `<main data-service="${address}">`);
    const { origin, server } = await hostPage(html, { 'content-security-policy': `default-src 'none'; script-src 'self'; connect-src ${address}` }, files);
    const browser = await launch();
    const page = await browser.newPage();
    const said: string[] = [];
    page.on('console', (m) => { if (!m.text().includes('favicon')) said.push(m.text()); });
    page.on('pageerror', (e) => said.push(e.message));
    await page.route('**/favicon.ico', (route) => route.fulfill({ status: 204 }));
    await page.goto(origin);
    await page.locator('#there:not(:empty)').waitFor();
    expect(await page.locator('p').allInnerTexts()).toEqual(['9.06 : 1', '9.06 : 1']);
    expect(said).toEqual([]);
    await browser.close();
    server.close();
  });
});

describe('the command', () => {
  const wheelgrist = (...args: string[]) => run(join(sdk.folder, 'node_modules/.bin/wheelgrist'), args, sdk.folder);
  const question = ['ratio', '--drive-wheel', '560mm', '--whorl', '60mm', '--bobbin=48mm', '--band', '2mm'];
  it('answers in words and as JSON', async () => {
    const said = await wheelgrist(...question, '--treadling', '60/min');
    expect(said).toMatchObject({ code: 0, error: '' });
    for (const words of ['9.06 : 1', '544 a minute', 'the bobbin leads and draws in', 'Taken for granted']) expect(said.out).toContain(words);
    const json = await wheelgrist(...question, '--json');
    expect(JSON.parse(json.out)).toEqual(JSON.parse(JSON.stringify(ratioByLink({ driveWheel: '560mm', whorl: '60mm', bobbin: '48mm', band: '2mm' }))));
  });
  it('says what is wrong and how to mend it', async () => {
    const unread = await wheelgrist('ratio', '--drive-weel', '560', '--whorl', '60mm');
    expect(unread).toMatchObject({ code: 2, out: '' });
    expect(unread.error).toMatch(/--drive-weel[\s\S]*--drive-wheel/);
    const unanswered = await wheelgrist('ratio', '--drive-wheel', '560', '--whorl', '60mm');
    expect(unanswered).toMatchObject({ code: 1, out: '' });
    expect(unanswered.error).toMatch(/read: +560\n.*expected:.*\n.*try: +--drive-wheel 560 mm/);
    expect(JSON.parse((await wheelgrist('ratio', '--json')).out)).toMatchObject({ status: 422, type: '/problems/missing-field' });
    expect((await wheelgrist('ratio', '--whorl')).error).toContain('--whorl stands without its value');
    expect((await wheelgrist('ratio', '--whorl', '2', '3/8', 'in')).error).toContain('“3/8” stands by itself');
    expect((await wheelgrist('ration')).error).toContain('ratio');
    expect((await wheelgrist()).code).toBe(2);
    expect((await wheelgrist('--version')).out.trim()).toBe((JSON.parse(await text('sdk/package.json')) as { version: string }).version);
    expect((await wheelgrist('take-up', '--help')).out).toContain('--length-between-ends');
  });
});

describe('README', async () => {
  const blocks = [...(await text('sdk/README.md')).matchAll(/```(\w+)\n([\s\S]*?)```/g)].map(([, language, code]) => ({ language: language!, code: code! }));
  const programs = blocks.filter((b) => b.language === 'ts').map((b, i) => ({ ...b, i }));
  it('holds programs and commands, and nothing that is not run', () => {
    expect(programs.length).toBeGreaterThan(5);
    expect(blocks.filter((b) => b.language !== 'ts' && b.language !== 'sh')).toEqual([]);
  });
  it('programs compile', async () => {
    const files = programs.map(({ i }) => join(sdk.folder, `readme${i}.ts`));
    for (const { code, i } of programs) await writeFile(files[i]!, code.replaceAll('http://127.0.0.1:8080', address));
    expect(compile('node-esm/tsconfig.json', sdk.folder, { files, options: { outDir: sdk.folder, types: ['node'], typeRoots: [join(root, 'node_modules/@types')] } })).toEqual([]);
  });
  it.each(programs)('program $i prints what it says', async ({ code, i }) => {
    const expected = code.split('\n').flatMap((line) => (line.includes('console.log(') && / \/\/ /.test(line) ? [line.split(' // ').at(-1)!] : []));
    expect(expected.length).toBeGreaterThan(0);
    const out = await done(process.execPath, [`readme${i}.js`], sdk.folder, { WHEELGRIST_KEY: service.key });
    expect(out.trim().split('\n')).toEqual(expected);
  });
  it('commands do what they say', async () => {
    const lines = blocks.filter((b) => b.language === 'sh').flatMap((b) => b.code.trim().split('\n'));
    // These two are how the package came here (packed.ts).
    const [pack, install, ...others] = lines;
    expect([pack, install]).toEqual(['npm pack ./sdk', `npm install ./${sdk.tarball}`]);
    expect(others.length).toBeGreaterThan(1);
    for (const line of others) expect((await done('sh', ['-c', line.replace(/^npx /, 'npx --offline ')], sdk.folder)).length, line).toBeGreaterThan(10);
  });
});
