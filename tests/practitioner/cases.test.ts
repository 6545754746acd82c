/** What spinners and their teachers asked, kind by kind, in our words, with what each answer must hold. Common practice, no source. */
import { readdirSync } from 'node:fs';
import { loadCases } from '../support/cases.js';
import { runCases } from '../support/run-cases.js';

const folder = new URL('./cases/', import.meta.url);
const files = readdirSync(folder).filter((name) => name.endsWith('.json')).sort();
if (files.length < 10) throw new Error(`Cases are missing: only ${files.length} files in tests/practitioner/cases.`);
for (const file of files) runCases(`practitioners and teachers, ${file.replace('.json', '')}`, loadCases(new URL(file, folder)));
