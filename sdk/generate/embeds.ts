/** The element of each calculation, from the one list of calculations: what it loads first, and what it loads once its form stands. */
import type { Calculation } from '../../services/calculations/calculation.js';

/** Languages beside English; each has its words in sdk/embeds/words. */
export const languages = ['de', 'fr', 'sv', 'ar'] as const;

export function embedText(c: Calculation, banner: string): string {
  const at = `../../../services/calculations/${c.id}`;
  const picture = c.picture === undefined ? '' : `\n  picture: async () => (await import('${at}/picture.js')).picture,`;
  return `${banner}import { fields } from '${at}/fields.js';
import { define } from '../base.js';

export const element = define({
  id: '${c.id}', title: ${JSON.stringify(c.title)}, fields,
  answering: async () => {
    const [{ answer }, { tell, inWords }, { show }] = await Promise.all([import('${at}/answer.js'), import('../../../services/foundation/telling.js'), import('../show.js')]);
    return { answer, tell, inWords, show };
  },${picture}
  languages: {
${languages.map((l) => `    ${l}: async () => (await import('../words/${l}.js')).words,\n`).join('')}  },
});
`;
}
