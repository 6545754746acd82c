/** What spinners and their teachers asked, in our words, with what each answer must hold. Common practice, no source. */
import { loadCases } from '../support/cases.js';
import { runCases } from '../support/run-cases.js';

runCases('practitioners and teachers', loadCases(new URL('./cases.json', import.meta.url)));
