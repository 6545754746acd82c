// Of all labels an element carries only its own: those whose word the specification names in its question or its reply. And the
// words of other languages.
import { readdirSync, readFileSync } from 'node:fs';
import { build } from 'esbuild';

/** Every name of a property and every choice that a component reaches. */
export function wordsOf(components, names) {
  const words = new Set();
  const seen = new Set();
  const walk = (schema) => {
    if (Array.isArray(schema)) { schema.forEach(walk); return; }
    if (typeof schema !== 'object' || schema === null) return;
    if (typeof schema.$ref === 'string') {
      const name = schema.$ref.split('/').at(-1);
      if (!seen.has(name)) { seen.add(name); walk(components[name]); }
      return;
    }
    for (const value of [...(schema.enum ?? []), schema.const]) if (typeof value === 'string') words.add(value);
    for (const [name, inner] of Object.entries(schema.properties ?? {})) { words.add(name); walk(inner); }
    for (const inner of [schema.items, schema.anyOf, schema.oneOf, schema.allOf, schema.additionalProperties]) walk(inner);
  };
  for (const name of names) walk({ $ref: `#/components/schemas/${name}` });
  return words;
}

/** A module of ours as it runs, without building it into anything. */
async function evaluated(path) {
  const { outputFiles } = await build({ entryPoints: [path], bundle: true, format: 'esm', write: false, charset: 'utf8', logLevel: 'warning' });
  return import(`data:text/javascript;base64,${Buffer.from(outputFiles[0].contents).toString('base64')}`);
}

/** Pairs of a language's code and its words. */
export const wordsOfLanguages = async (root) => Promise.all(readdirSync(`${root}sdk/embeds/words`).filter((f) => /^[a-z]{2}\.ts$/.test(f)).map(async (f) => [f.slice(0, 2), (await evaluated(`${root}sdk/embeds/words/${f}`)).words]));

const pascal = (id) => id.replace(/(?:^|-)(\w)/g, (_, letter) => letter.toUpperCase());
const only = (object, keep) => Object.fromEntries(Object.entries(object).filter(([key]) => keep(key)));

/** Gives `id -> plugin` that puts the labels of that calculation in the place of all labels. */
export async function ownLabels(root) {
  const all = await evaluated(`${root}services/foundation/labels.ts`);
  const { components } = JSON.parse(readFileSync(`${root}sdk/openapi.json`, 'utf8'));
  return (id) => {
    const words = wordsOf(components.schemas, ['Question', 'Reply'].map((part) => `${pascal(id)}${part}`).filter((name) => name in components.schemas));
    if (words.size === 0) throw new Error(`The specification has neither ${pascal(id)}Question nor ${pascal(id)}Reply: npm run gen`);
    const own = {
      labels: only(all.labels, (key) => key.split('/').every((word) => word === '' || words.has(word))),
      choiceLabels: Object.fromEntries(Object.entries(all.choiceLabels).filter(([key]) => key === '*' || words.has(key)).map(([key, choices]) => [key, only(choices, (value) => words.has(value))])),
      asked: only(all.asked, (key) => key === id),
      alsoSaid: only(all.alsoSaid, (key) => key === id),
    };
    const contents = Object.entries(all).map(([name, value]) => `export const ${name} = ${typeof value === 'function' ? value : JSON.stringify(own[name] ?? value)};`).join('\n');
    return { name: 'own-labels', setup(on) { on.onLoad({ filter: /services\/foundation\/labels\.ts$/ }, () => ({ contents, loader: 'js' })); } };
  };
}
