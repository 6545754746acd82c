/** The envelope of an answer, and what `strict` makes of its warnings. Shared by every calculation. */
import type { Notes, Warning } from '../foundation/notes.js';
import { ProblemError } from '../foundation/problems.js';
import type { Source } from '../foundation/sources.js';
import type { AnswerOptions, Reply } from './calculation.js';

export function refuseWarnings(warnings: readonly Warning[]): never {
  throw new ProblemError('strict-warning', warnings.map((w) => w.text).join(' '), {
    issues: warnings.map((w) => ({ pointer: '', code: 'strict-warning' as const, detail: w.text, received: w.code })),
  });
}

export function reply<Result>(result: Result, out: Notes, sources: readonly Source[], model: { readonly id: string; readonly version: string }, options: AnswerOptions): Reply<Result> {
  if (options.strict === true && out.warnings.length > 0) refuseWarnings(out.warnings);
  return { result, assumptions: out.assumptions, warnings: out.warnings, cautions: out.cautions, sources, model };
}
