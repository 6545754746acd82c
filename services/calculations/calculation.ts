/** What a calculation is: one object from which every door is made (services/http/mount.ts). */
import type { z } from 'zod';
import type { FieldSet } from '../foundation/fields.js';
import type { Assumption, Caution, Warning } from '../foundation/notes.js';
import type { UnitChoice } from '../foundation/quantity.js';
import type { Source } from '../foundation/sources.js';

/** The envelope of every answer. */
export interface Reply<Result> {
  result: Result;
  assumptions: readonly Assumption[];
  warnings: readonly Warning[];
  cautions: readonly Caution[];
  sources: readonly Source[];
  model: { readonly id: string; readonly version: string };
}

export interface AnswerOptions {
  /** Units of the answer; metric when left out. */
  readonly units?: UnitChoice;
  /** Warnings become errors. */
  readonly strict?: boolean;
}

export interface Calculation {
  /** Its path segment: `/v1/{id}`, `/calculate/{id}`. */
  readonly id: string;
  /** What a person calls it, for headings: `Drive ratio`. */
  readonly title: string;
  /** One sentence: what it answers. */
  readonly summary: string;
  readonly model: { readonly id: string; readonly version: string };
  readonly fields: FieldSet;
  /** Reads the question, computes, words the answer. Pure. Throws a ProblemError whose issues carry JSON pointers into the question. */
  answer(question: unknown, options?: AnswerOptions): Reply<unknown>;
  /** The same answer as SVG text, where a picture says more. Throws as `answer` does. */
  picture?(question: unknown, options?: AnswerOptions): string;
  /** What happens moment by moment, as lines of text, where the question asks for it. Throws as `answer` does. */
  table?(question: unknown, options: AnswerOptions, form: 'ndjson' | 'csv'): string;
  readonly contract: {
    readonly question: z.ZodType;
    readonly result: z.ZodType;
    /** An example that runs: a POST body. */
    readonly example: unknown;
    /** The same example as a query string, without the leading question mark. */
    readonly exampleQuery: string;
  };
}
