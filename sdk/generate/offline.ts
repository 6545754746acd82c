/** The offline answers and the command's list, from the one list of calculations. */
import type { Calculation } from '../../services/calculations/calculation.js';
import type { Spec } from './spec.js';
import { NotKnown } from './spec.js';

const camel = (id: string): string => id.replace(/-(\w)/g, (_, letter: string) => letter.toUpperCase());
const upper = (name: string): string => name[0]!.toUpperCase() + name.slice(1);
const from = (id: string, file: string): string => `'../../services/calculations/${id}/${file}.js'`;

export function offlineText(calculations: readonly Calculation[], spec: Spec, banner: string): string {
  const names = calculations.map((c) => camel(c.id));
  for (const name of names) for (const type of [`${upper(name)}Question`, `${upper(name)}Reply`]) if (!Object.hasOwn(spec.components.schemas, type)) throw new NotKnown(`#/components/schemas/${type}`, 'a calculation without this component');
  const imports = calculations.map((c) => {
    const name = camel(c.id);
    return `import { answer as ${name}Answer } from ${from(c.id, 'answer')};\nimport { fields as ${name}Fields } from ${from(c.id, 'fields')};\n${c.picture === undefined ? '' : `import { picture as ${name}Drawing } from ${from(c.id, 'picture')};\n`}`;
  });
  const parts = calculations.map((c) => {
    const name = camel(c.id);
    const picture = c.picture === undefined ? '' : `/** The same as a picture: SVG text, from flat text. */\nexport const ${name}Picture = (args: ${upper(name)}ByLinkArgs): string => settle(() => byLink(${name}Fields, args, ${name}Drawing));\n`;
    return `/** ${c.title}. ${c.summary} */
export const ${name} = (question: ${upper(name)}Question, args?: ${upper(name)}Args): ${upper(name)}Reply => settle(() => ${name}Answer(question, optionsOf(args)));
/** ${c.title}, from flat text. */
export const ${name}ByLink = (args: ${upper(name)}ByLinkArgs): ${upper(name)}Reply => settle(() => byLink(${name}Fields, args, ${name}Answer));
${picture}`;
  });
  return `${banner}${imports.join('')}import { byLink, optionsOf, settle } from './local.js';
import type { ${names.flatMap((n) => [`${upper(n)}Args`, `${upper(n)}ByLinkArgs`]).join(', ')} } from './operations.gen.js';
import type { ${names.flatMap((n) => [`${upper(n)}Question`, `${upper(n)}Reply`]).join(', ')} } from './types.gen.js';

${parts.join('\n')}`;
}

/** What the command can do: names and words, beside the code that answers. */
export function commandsText(calculations: readonly Calculation[], version: string, banner: string): string {
  const imports = calculations.map((c) => `import { answer as ${camel(c.id)}Answer } from ${from(c.id, 'answer')};\nimport { fields as ${camel(c.id)}Fields } from ${from(c.id, 'fields')};\n`);
  const rows = calculations.map((c) => `  { id: ${JSON.stringify(c.id)}, title: ${JSON.stringify(c.title)}, summary: ${JSON.stringify(c.summary)}, fields: ${camel(c.id)}Fields, answer: ${camel(c.id)}Answer, example: ${JSON.stringify(c.contract.exampleQuery)} },\n`);
  return `${banner}${imports.join('')}import type { Command } from './local.js';

export const version = '${version}';

export const commands: readonly Command[] = [
${rows.join('')}];
`;
}
