// Builds the embeds into dist/embeds/: `shared-….js`, once for all embeds of a page (the element, the reader of measures
// and wheels, and the pulleys of a wheel); one file for each custom element with its fields, formulas and notes; and its picture, which is
// loaded when there is something to draw. `npm run build` runs it. Writes the hash and prints the size of each.
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { trimmed } from './trim.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
const here = fileURLToPath(new URL('.', import.meta.url));
const out = `${root}dist/embeds/`;
const own = ['base', 'elements', 'numbers', 'style'];
const elements = readdirSync(here).filter((f) => f.endsWith('.ts')).map((f) => f.slice(0, -3)).filter((f) => !own.includes(f));

const common = { absWorkingDir: root, bundle: true, minify: true, format: 'esm', target: 'es2022', platform: 'browser', charset: 'utf8', legalComments: 'none', logLevel: 'warning', metafile: true };
const files = new Map();
/** Builds in memory; gives the names of what came out. */
const made = async (options) => {
  const { outputFiles, metafile } = await build({ ...common, outdir: out, write: false, ...options });
  for (const f of outputFiles) files.set(f.path.slice(out.length), f.contents);
  return { metafile, names: outputFiles.map((f) => f.path.slice(out.length)) };
};

// What more than one embed imports of our foundation, of wheels, and the element itself. Found by building once.
const everything = await build({ ...common, entryPoints: elements.map((name) => `sdk/embeds/${name}.ts`), outdir: out, splitting: true, write: false, plugins: [trimmed] });
const modules = Object.keys(everything.metafile.inputs).filter((path) => /^services\/(foundation|wheels)\//.test(path) || path === 'sdk/embeds/base.ts' || path === 'services/calculations/ratio/train.ts').sort();
const names = new Map();
for (const path of modules) {
  for (const [, name] of readFileSync(`${root}${path}`, 'utf8').matchAll(/^export (?:async )?(?:const|function\*?|class) (\w+)/gm)) {
    if ((names.get(name) ?? path) !== path) throw new Error(`${path} and ${names.get(name)} both export ${name}; the shared file cannot hold both.`);
    names.set(name, path);
  }
}
const shared = await made({ stdin: { contents: modules.map((path) => `export * from './${path}';`).join('\n'), resolveDir: root }, entryNames: 'shared-[hash]', plugins: [trimmed] });
const [sharedName] = shared.names;
/** Imports of modules that another file holds already become imports of that file. */
const heldBy = (held) => ({
  name: 'held',
  setup({ onResolve }) {
    onResolve({ filter: /^\..*\.js$/ }, ({ path, resolveDir }) => {
      const file = held.get(resolve(resolveDir, path).slice(root.length).replace(/\.js$/, '.ts'));
      return file === undefined ? undefined : { path: `./${file}`, external: true };
    });
  },
});
const inShared = modules.map((path) => [path, sharedName]);
const { inputs } = everything.metafile;

for (const name of elements) {
  // The picture is loaded later; what it needs of the answer is exported by the element's own file.
  const entry = `sdk/embeds/${name}.ts`;
  const picture = inputs[entry].imports.find((i) => i.kind === 'dynamic-import')?.path;
  const ownModules = new Set();
  const gather = (path) => {
    if (ownModules.has(path) || modules.includes(path)) return;
    ownModules.add(path);
    for (const i of inputs[path].imports) if (i.kind !== 'dynamic-import') gather(i.path);
  };
  gather(entry);
  const needed = new Set();
  const seen = new Set();
  const look = (path) => {
    if (seen.has(path) || modules.includes(path)) return;
    seen.add(path);
    for (const i of inputs[path].imports) if (ownModules.has(i.path)) needed.add(i.path); else look(i.path);
  };
  if (picture !== undefined) look(picture);
  let later = [];
  if (picture !== undefined) {
    const held = new Map([...inShared, ...[...ownModules].map((path) => [path, `${name}.js`])]);
    const drawn = await made({ entryPoints: { [`${name}-picture`]: picture }, entryNames: '[name]-[hash]', plugins: [heldBy(held)] });
    later = [[picture, drawn.names[0]]];
  }
  const contents = [`export { element } from './${entry}';`, ...[...needed].map((path) => `export * from './${path}';`)].join('\n');
  await made({ stdin: { contents, resolveDir: root }, entryNames: name, plugins: [heldBy(new Map([...inShared, ...later]))] });
}

// Only now is anything written, so that a service that runs is never without its files.
const integrity = Object.fromEntries([...files].sort().map(([name, bytes]) => [name, `sha384-${createHash('sha384').update(bytes).digest('base64')}`]));
files.set('integrity.json', Buffer.from(`${JSON.stringify(integrity, null, 2)}\n`));
mkdirSync(out, { recursive: true });
for (const [name, bytes] of files) writeFileSync(`${out}${name}`, bytes);
for (const name of readdirSync(out)) if (!files.has(name)) rmSync(`${out}${name}`);
for (const name of Object.keys(integrity)) console.log(`${String(gzipSync(files.get(name), { level: 9 }).length).padStart(7)} bytes gzipped  ${name}`);
