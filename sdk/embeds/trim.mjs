// Browsers need of each error only what an answer can raise: its code and status, not its title and the texts of its page; and of each unit
// its factor and its spellings, not where the factor is from.
import { readFile } from 'node:fs/promises';

const entry = /^( {2}'[\w-]+'): kind\('[\w-]+', (\d+), '.*\),$/gm;
const definition = /((?:unit|inverse)\('[^']+', [^,]+, (?:[^,'"]+), )(?:'(?:[^'\\]|\\.)*'|"[^"]*")/g;

/** What cannot be read, what cannot be answered, and what is named by its id and is not there; a test looks that no other code stands in what is built. */
const raised = (code, status) => status === '400' || status === '422' || code.includes('-not-found');

export const trimmed = {
  name: 'trimmed',
  setup(build) {
    build.onLoad({ filter: /services\/foundation\/problems\.ts$/ }, async ({ path }) => {
      const text = await readFile(path, 'utf8');
      let found = 0;
      const contents = text.replace(entry, (_, code, status) => { found++; return raised(code, status) ? `${code}: { status: ${status} },` : ''; });
      if (found < 30) throw new Error('The error catalogue has another form than sdk/embeds/trim.mjs knows.');
      return { contents, loader: 'ts' };
    });
    build.onLoad({ filter: /services\/foundation\/quantity\.ts$/ }, async ({ path }) => {
      const text = await readFile(path, 'utf8');
      let found = 0;
      const contents = text.replace(definition, (_, start) => { found++; return `${start}''`; });
      if (found < 60) throw new Error('The units have another form than sdk/embeds/trim.mjs knows.');
      return { contents, loader: 'ts' };
    });
  },
};
