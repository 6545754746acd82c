/** What is said of every cause. */
import { pullWords } from './words-pull.js';
import { wheelWords } from './words-wheel.js';
import { yarnWords } from './words-yarn.js';

export const words = { ...pullWords, ...yarnWords, ...wheelWords };
