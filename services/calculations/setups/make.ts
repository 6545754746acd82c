/** Whorls to have made: for ratios that are wanted, or for the one that puts the best set-up in the middle of what the spinner likes to draft. */
import { ProblemError } from '../../foundation/problems.js';
import { metric, type UnitChoice } from '../../foundation/quantity.js';
import { middle, wire } from '../../foundation/reading.js';
import * as ratio from '../ratio/answer.js';
import type { OneWheel, ToMake } from './answer.js';
import type { Candidate } from './enumerate.js';
import type { Spinner } from './spinner.js';
import type { Target } from './target.js';

export function toMake(best: { readonly c: Candidate; readonly w: OneWheel } | undefined, wheels: readonly OneWheel[], target: Target, spinner: Spinner, wanted: unknown, units: UnitChoice): ToMake[] {
  const from = best?.w ?? wheels[0];
  if (from === undefined || best?.c.drive === 'electric') return [];
  const drive = best?.c.drive ?? from.drives[0];
  const { lap } = best?.c ?? {};
  const middleRatio = (middle(target.strand.twist) + (lap === undefined ? 0 : best!.c.s.train.knowns.centre(lap))) * Math.sqrt(spinner.low * spinner.high);
  const ask = wanted ?? [wire('ratio', { value: middleRatio }, metric)];
  try {
    const { result } = ratio.answer({ wheel: from.profile, ...(drive === undefined ? {} : { drive }), wanted: ask }, { units });
    return result.wanted.map((x) => ({ wheel: from.name, drive: drive ?? 'flyer-lead', ratio: x.ratio, ...(x.grooveDiameter === undefined ? {} : { grooveDiameter: x.grooveDiameter }) }));
  } catch (error) {
    // What cannot be worked out is not made; but a ratio that was asked for and cannot be read is said.
    if (!(error instanceof ProblemError) || (wanted !== undefined && error.issues.some((i) => i.pointer?.startsWith('/wanted')))) throw error;
    return [];
  }
}
