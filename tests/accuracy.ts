/** Prints the table of the README. `--write` puts it there, between its two marks. */
import { readFileSync, writeFileSync } from 'node:fs';
import { accuracy } from './support/accuracy.js';

const { table, sources } = await accuracy();
console.log(`${table}\n\n${sources} published sources.`);
if (process.argv.includes('--write')) {
  const readme = readFileSync('README.md', 'utf8');
  writeFileSync('README.md', readme.replace(/<!-- accuracy -->[^]*<!-- \/accuracy -->/, `<!-- accuracy -->\n${table}\n<!-- /accuracy -->`));
}
