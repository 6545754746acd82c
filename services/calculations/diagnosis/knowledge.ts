/** All that is known of causes. It weighs more than what ranks them, so an embed loads it when there is something to rank. */
import type { Caution } from '../../foundation/notes.js';
import type { Cause, OwnCaution, Words } from './cause.js';
import { causeCautions } from './cautions.js';
import { causes } from './causes.js';
import type { Contradictions } from './contradict.js';
import { contradictions } from './contradictions.js';
import { words } from './words.js';

export interface Knowledge { readonly causes: readonly Cause[]; readonly words: Words; readonly contradictions: Contradictions; readonly cautions: Readonly<Record<OwnCaution, Caution>> }
export const knowledge: Knowledge = { causes, words, contradictions, cautions: causeCautions };
