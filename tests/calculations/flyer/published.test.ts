import { loadCases } from '../../support/cases.js';
import { runCases } from '../../support/run-cases.js';

runCases('flyer and treadle, derived values', loadCases(new URL('./published.json', import.meta.url)));
