/** The ratios that a wheel offers to a calculation that needs one. */
import type { Notes } from '../../foundation/notes.js';
import { nearest, type Reader } from '../../foundation/read.js';
import type { Expr, Knowns } from '../../foundation/uncertainty.js';
import type { Drive } from '../../wheels/words.js';
import { askedWheel, buildTrain } from '../ratio/train.js';

export interface RatioOption { readonly name: string; readonly ratio: Expr }

/** Ratio of each whorl (each bobbin groove on a bobbin-lead wheel), or of the one that the question names. */
export function ratiosOf(q: Record<string, unknown>, r: Reader, k: Knowns, out: Notes): { drive: Drive | undefined; options: readonly RatioOption[] } {
  const { drive, wheel, chosen } = askedWheel(q, r);
  if (wheel === undefined || chosen === undefined) return { drive, options: [] };
  const train = buildTrain(wheel, chosen, r, out, k);
  const all = chosen.drive === 'bobbin-lead' ? train.bobbins.map((b) => ({ name: b.name, ratio: b.ratio })) : train.whorls.map((w) => ({ name: w.name, ratio: w.ratio }));
  const key = chosen.drive === 'bobbin-lead' ? 'bobbin' : 'whorl';
  const wanted = q[key] === undefined ? undefined : r.text(q[key], `/${key}`, 80);
  const list = all.filter((x): x is RatioOption => x.ratio !== undefined && (wanted === undefined || x.name === wanted));
  if (wanted !== undefined && list.length === 0 && r.issues.length === 0) {
    const near = nearest(wanted, all.map((x) => x.name));
    r.fail(`/${key}`, { code: 'not-known-part', detail: `This wheel has no ${key} of that name.`, received: wanted, expected: all.map((x) => x.name).join(', ') || `no ${key} was given`, ...(near === undefined ? {} : { try: near }) });
  }
  return { drive: chosen.drive, options: list };
}
