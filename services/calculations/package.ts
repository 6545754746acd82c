/** The package that a bobbin carries: core, full and width, as every calculation reads them. */
import type { Notes } from '../foundation/notes.js';
import type { Reader } from '../foundation/read.js';
import { extent } from '../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../foundation/uncertainty.js';
import type { BobbinRead } from '../wheels/profile.js';
import * as notes from './take-up/notes.js';

export interface Package { readonly core: Expr; readonly full: Expr; readonly width: Expr }
/** Core, full and width of a bobbin, with what was taken for granted. */
export function packageOf(b: BobbinRead, { knowns: k }: { readonly knowns: Knowns }, r: Reader, out: Notes, withWidth = true): Package {
  const core = b.core === undefined ? (out.assume(notes.coreTaken), k.assumed({ value: 0.025 })) : k.input(b.core);
  const width = b.lengthBetweenEnds === undefined ? (withWidth && out.assume(notes.lengthTaken), k.assumed({ value: 0.09 })) : k.input(b.lengthBetweenEnds);
  if (b.end === undefined && b.full === undefined) out.assume(notes.endsTaken);
  if (b.full === undefined) out.assume(notes.fullBelowRim);
  const end = b.end === undefined ? k.assumed({ value: 0.075 }) : k.input(b.end);
  const full = b.full === undefined ? expr((e) => e - 0.008, end) : k.input(b.full);
  if (extent(k.reading(full)).low <= extent(k.reading(core)).high) {
    r.fail(`${b.at}/${b.full === undefined ? 'endDiameter' : 'fullDiameter'}`, { code: 'impossible-geometry', detail: 'The full bobbin is no larger than its core.', received: 'core and full (or ends less 8 mm)', expected: 'a core smaller than the full bobbin' });
  }
  return { core, full, width };
}
