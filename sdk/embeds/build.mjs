// Builds the embeds into dist/embeds/: `shared-….js`, once for all embeds of a page (the element, and the reader of
// measures and wheels); one file for each custom element with its fields, formulas and notes; and its picture, which is
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
rmSync(out, { recursive: true, force: true });
mkdirSync(out, { recursive: true });

// What more than one embed imports of our foundation, of wheels, and the element itself. Found by building once.
const everything = await build({ ...common, entryPoints: elements.map((name) => `sdk/embeds/${name}.ts`), outdir: out, splitting: true, write: false, plugins: [trimmed] });
const modules = Object.keys(everything.metafile.inputs).filter((path) => /^services\/(foundation|wheels)\//.test(path) || path === 'sdk/embeds/base.ts').sort();
const names = new Map();
for (const path of modules) {
  for (const [, name] of readFileSync(`${root}${path}`, 'utf8').matchAll(/^export (?:async )?(?:const|function\*?|class) (\w+)/gm)) {
    if ((names.get(name) ?? path) !== path) throw new Error(`${path} and ${names.get(name)} both export ${name}; the shared file cannot hold both.`);
    names.set(name, path);
  }
}
const shared = await build({ ...common, stdin: { contents: modules.map((path) => `export * from './${path}';`).join('\n'), resolveDir: root }, outdir: out, entryNames: 'shared-[hash]', plugins: [trimmed] });
const sharedName = Object.keys(shared.metafile.outputs)[0].replace('dist/embeds/', '');
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
    const drawn = await build({ ...common, entryPoints: { [`${name}-picture`]: picture }, outdir: out, entryNames: '[name]-[hash]', plugins: [heldBy(held)] });
    later = [[picture, Object.keys(drawn.metafile.outputs)[0].replace('dist/embeds/', '')]];
  }
  const contents = [`export { element } from './${entry}';`, ...[...needed].map((path) => `export * from './${path}';`)].join('\n');
  await build({ ...common, stdin: { contents, resolveDir: root }, outdir: out, entryNames: name, plugins: [heldBy(new Map([...inShared, ...later]))] });
}

const files = readdirSync(out).filter((f) => f.endsWith('.js')).sort();
writeFileSync(`${out}integrity.json`, `${JSON.stringify(Object.fromEntries(files.map((f) => [f, `sha384-${createHash('sha384').update(readFileSync(`${out}${f}`)).digest('base64')}`])), null, 2)}\n`);
const size = (f) => gzipSync(readFileSync(`${out}${f}`), { level: 9 }).length;
for (const f of files) console.log(`${String(size(f)).padStart(7)} bytes gzipped  ${f}`);
