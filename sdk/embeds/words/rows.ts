/** Texts of the embeds in every language that they speak. An embed is built with those alone that it holds. */
import { answers } from './answers.js';
import { boxes } from './boxes.js';
import { frame } from './frame.js';
import type { Row } from './row.js';
import { signs } from './signs.js';
import { wheel } from './wheel.js';
import { work } from './work.js';
import { yarn } from './yarn.js';

export const rows: readonly Row[] = [...frame, ...boxes, ...answers, ...yarn, ...work, ...signs, ...wheel];

/** English -> the language that stands at this place of each row. */
export function column(at: 1 | 2 | 3 | 4): Readonly<Record<string, string>> {
  return Object.fromEntries(rows.map((row) => [row[0], row[at]]));
}
