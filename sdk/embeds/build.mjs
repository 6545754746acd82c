// Builds the embeds into dist/embeds/. A page that names `ratio.js` loads first that file (the element and its fields) and
// `shell-….js` (what all elements are made of), so that the form stands at once; then, by itself, `ratio-answer-….js` (formulas,
// notes and own labels) and `reader-….js` (what all answers are made of); `ratio-picture-….js` when there is something to draw;
// and `ratio-de-….js` on a German page.
// `npm run build` runs it. Writes the hash of each file and prints its size.
import { createHash } from 'node:crypto';
import { mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { build } from 'esbuild';
import { trimmed } from './trim.mjs';
import { ownLabels, wordsOfLanguages } from './words.mjs';

const root = fileURLToPath(new URL('../../', import.meta.url));
const out = `${root}dist/embeds/`;
const elements = readdirSync(fileURLToPath(new URL('each/', import.meta.url))).map((f) => f.replace('.gen.ts', ''));
const playEntry = 'sdk/embeds/play-page.ts';
const entryOf = (name) => `sdk/embeds/each/${name}.gen.ts`;

const common = { absWorkingDir: root, bundle: true, minify: true, format: 'esm', target: 'es2022', platform: 'browser', charset: 'utf8', legalComments: 'none', logLevel: 'warning', metafile: true };
const files = new Map();
/** Builds one file in memory from what it re-exports; gives its name. */
async function made(name, contents, plugins) {
  const { outputFiles } = await build({ ...common, stdin: { contents, resolveDir: root }, outdir: out, entryNames: name, write: false, plugins: [...plugins, trimmed] });
  const file = outputFiles[0].path.slice(out.length);
  files.set(file, outputFiles[0].contents);
  return file;
}

// Who imports whom, found by building everything once.
const { inputs } = (await build({ ...common, entryPoints: [...elements.map(entryOf), playEntry], outdir: out, splitting: true, write: false, plugins: [trimmed] })).metafile;
/** A module and all that it imports. */
function reached(path, found = new Set()) {
  if (found.has(path)) return found;
  found.add(path);
  for (const i of inputs[path].imports) if (i.kind !== 'dynamic-import') reached(i.path, found);
  return found;
}
const laterOf = (name, file) => inputs[entryOf(name)].imports.find((i) => i.kind === 'dynamic-import' && i.path.endsWith(file))?.path;
const foundationOrShell = (path) => /^services\/(foundation|wheels)\/|^sdk\/embeds\/[\w-]+\.ts$/.test(path);
/** Each answer has its own labels and sources, so these are never shared; nor is what two of them need. */
const own = (path) => /\/(labels|telling|sources|student)\.ts$/.test(path);
/** Fields of a wheel go with the fields of each element: that of a yarn has none. */
const forFields = (path) => path === 'services/wheels/flat.ts';
const shell = new Set(elements.flatMap((name) => [...reached(entryOf(name))]).filter((path) => foundationOrShell(path) && !forFields(path)));
const reader = new Set(elements.flatMap((name) => [...reached(laterOf(name, '/answer.ts')), ...reached(laterOf(name, '/telling.ts')), ...reached(laterOf(name, '/show.ts'))]).filter((path) => !shell.has(path) && !own(path) && (foundationOrShell(path) || path === 'services/calculations/ratio/train.ts')));

/** Names that modules outside of these import from each of them, or loaded later by its name alone. */
function wanted(modules) {
  const names = new Map();
  for (const [path, { imports }] of Object.entries(inputs)) {
    if (modules.has(path)) continue;
    const source = readFileSync(`${root}${path}`, 'utf8');
    for (const { path: to, original } of imports) {
      if (!modules.has(to)) continue;
      const found = names.get(to) ?? new Set();
      names.set(to, found);
      for (const [, list, from] of source.matchAll(/^import (?!type)(.+) from '([^']+)';$/gm)) {
        if (from !== original) continue;
        if (list.startsWith('*')) found.add('*');
        for (const name of list.replace(/[{}]/g, '').split(',')) if (name.trim() !== '' && !/^\s*type /.test(name)) found.add(name.trim().split(' as ')[0]);
      }
      for (const line of source.split('\n').filter((text) => text.includes('import('))) for (const [name] of line.matchAll(/\w+/g)) found.add(name);
    }
  }
  return names;
}

/** What a file must export so that others can import these modules from it. */
function exporting(modules) {
  const outside = wanted(modules);
  const names = new Map();
  for (const path of modules) {
    for (const [, name] of readFileSync(`${root}${path}`, 'utf8').matchAll(/^export (?:async )?(?:const|function\*?|class) (\w+)/gm)) {
      if ((names.get(name) ?? path) !== path) throw new Error(`${path} and ${names.get(name)} both export ${name}; one file cannot hold both.`);
      names.set(name, path);
    }
  }
  return [...modules].sort().map((path) => {
    const of = outside.get(path) ?? new Set();
    // What is loaded later by its name is taken from wherever it is exported.
    return of.has('*') ? `export * from './${path}';` : `export { ${[...of].filter((name) => names.get(name) === path).sort().join(', ')} } from './${path}';`;
  }).join('\n');
}
/** Imports of modules that another file holds already become imports of that file. */
const heldBy = (...held) => {
  const at = new Map(held.flatMap(([modules, file]) => (file === undefined ? [] : [...modules].map((path) => [path, file]))));
  return {
    name: 'held',
    setup({ onResolve }) {
      onResolve({ filter: /^\..*\.js$/ }, ({ path, resolveDir }) => {
        const file = at.get(resolve(resolveDir, path).slice(root.length).replace(/\.js$/, '.ts'));
        return file === undefined ? undefined : { path: `./${file}`, external: true };
      });
    },
  };
};

const shellFile = await made('shell-[hash]', exporting(shell), []);
const readerFile = await made('reader-[hash]', exporting(reader), [heldBy([shell, shellFile])]);
const labelsOf = await ownLabels(root);
const languages = await wordsOfLanguages(root);
for (const name of elements) {
  const [answer, telling, show, picture] = ['/answer.ts', '/telling.ts', '/show.ts', '/picture.ts'].map((file) => laterOf(name, file));
  const held = [[shell, shellFile], [reader, readerFile]];
  const ownModules = [...reached(answer), ...reached(telling)].filter((path) => !shell.has(path) && !reader.has(path));
  // What the picture needs of the answer is exported by the answer's file.
  const drawing = picture === undefined ? new Set() : reached(picture);
  const direct = new Set([...drawing].filter((path) => !ownModules.includes(path)).flatMap((path) => inputs[path].imports.map((i) => i.path)));
  const exported = new Set([answer, telling, ...ownModules.filter((path) => direct.has(path))]);
  const answerFile = await made(`${name}-answer-[hash]`, exporting(exported), [heldBy(...held), labelsOf(name)]);
  const pictureFile = picture === undefined ? undefined : await made(`${name}-picture-[hash]`, `export { picture } from './${picture}';`, [heldBy(...held, [exported, answerFile])]);
  // A language's file has the texts that stand in the files of this element, and no others.
  const texts = [answerFile, pictureFile, readerFile, shellFile].flatMap((file) => (file === undefined ? [] : [new TextDecoder().decode(files.get(file))])).join('\n');
  const ownFields = readFileSync(`${root}${entryOf(name)}`, 'utf8') + [...reached(entryOf(name))].filter((path) => !shell.has(path)).map((path) => readFileSync(`${root}${path}`, 'utf8')).join('\n');
  // A short text stands by itself, or it would be found in every word that it is a part of.
  const stands = (en) => (en.length > 12 ? [''] : ['"', "'", '`']).some((quote) => texts.includes(quote + en) || ownFields.includes(quote + en));
  const spoken = [];
  for (const [code, words] of languages) {
    const path = laterOf(name, `/words/${code}.ts`);
    const ownWords = Object.fromEntries(Object.entries(words).filter(([en]) => stands(en)));
    spoken.push([[path], await made(`${name}-${code}-[hash]`, `export const words = ${JSON.stringify(ownWords)};`, [])]);
  }
  await made(name, `export { element } from './${entryOf(name)}';`, [heldBy([shell, shellFile], [[answer, telling], answerFile], [[show], readerFile], ...spoken, ...(picture === undefined ? [] : [[[picture], pictureFile]]))]);
}
// The script of the front page: its wheel, for which it needs what answers need.
await made('play', `export { playing } from './${playEntry}';`, [heldBy([shell, shellFile], [reader, readerFile])]);

// Only now is anything written, so that a service that runs is never without its files.
const integrity = Object.fromEntries([...files].sort().map(([name, bytes]) => [name, `sha384-${createHash('sha384').update(bytes).digest('base64')}`]));
files.set('integrity.json', Buffer.from(`${JSON.stringify(integrity, null, 2)}\n`));
mkdirSync(out, { recursive: true });
for (const [name, bytes] of files) writeFileSync(`${out}${name}`, bytes);
for (const name of readdirSync(out)) if (!files.has(name)) rmSync(`${out}${name}`);
for (const name of Object.keys(integrity)) console.log(`${String(gzipSync(files.get(name), { level: 9 }).length).padStart(7)} bytes gzipped  ${name}`);
