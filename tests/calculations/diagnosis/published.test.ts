import { loadCases } from '../../support/cases.js';
import { runCases } from '../../support/run-cases.js';

runCases('diagnosis, published and derived values', loadCases(new URL('./published.json', import.meta.url)));
