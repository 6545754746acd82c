/** The envelope of an answer, and what `strict` makes of its warnings. Shared by every calculation. */
import type { Notes } from '../foundation/notes.js';
import { ProblemError } from '../foundation/problems.js';
import type { Source } from '../foundation/sources.js';
import type { AnswerOptions, Reply } from './calculation.js';

export function reply<Result>(result: Result, out: Notes, sources: readonly Source[], model: { readonly id: string; readonly version: string }, options: AnswerOptions): Reply<Result> {
  if (options.strict === true && out.warnings.length > 0) {
    throw new ProblemError('strict-warning', out.warnings.map((w) => w.text).join(' '), {
      issues: out.warnings.map((w) => ({ pointer: '', code: 'strict-warning' as const, detail: w.text, received: w.code })),
    });
  }
  return { result, assumptions: out.assumptions, warnings: out.warnings, cautions: out.cautions, sources, model };
}
