/** What a route says about itself, for the specification: `app.get(url, { config: { operation } }, handler)`, or `{ operation: () => …, made: [media type] }`. Every route has one; a test compares routes with the specification. */
import type {} from 'fastify';
import type { z } from 'zod';
import type { ProblemCode } from '../foundation/problems.js';
import type { headerTable } from './headers.js';

export type Tag = 'Calculations' | 'Wheels' | 'Cards' | 'Loans' | 'Analyses' | 'Guilds' | 'Reference' | 'Service' | 'Pages';

export interface OperationReply {
  readonly description: string;
  /** Absent: a reply without a body, or with text of `mediaType`. */
  readonly schema?: z.ZodType;
  /** application/json when left out and there is a schema. */
  readonly mediaType?: string;
  readonly example?: unknown;
  readonly headers?: readonly (keyof typeof headerTable)[];
}

export interface Operation {
  /** Name in the SDK, camelCase. */
  readonly id: string;
  readonly summary: string;
  readonly description?: string;
  readonly tag: Tag;
  readonly params?: z.ZodObject;
  readonly query?: z.ZodObject;
  readonly headers?: z.ZodObject;
  readonly body?: { readonly schema: z.ZodType; readonly example?: unknown; readonly mediaType?: string; /** Further media types that it takes as well. */ readonly others?: readonly string[]; readonly optional?: true };
  /** Examples of parameters of path and query, by name. */
  readonly parameterExamples?: Readonly<Record<string, unknown>>;
  readonly replies: Readonly<Record<number, OperationReply>>;
  /** What it may be refused with, beside what every address may answer. */
  readonly problems: readonly ProblemCode[];
  /** A guild's key is needed, or read when sent. */
  readonly key?: 'needed' | 'optional';
}

/** An operation, or how to make it when the specification is asked for: what it says takes longer to put together than the service has to start. */
export type OperationOrLater = Operation | (() => Operation);
export const operationNow = (operation: OperationOrLater): Operation => (typeof operation === 'function' ? operation() : operation);

declare module 'fastify' {
  interface FastifyContextConfig {
    operation?: OperationOrLater;
    /** Media types that a good answer may have; taken from the operation when that is there already. */
    made?: readonly string[];
    /** Its body may take hours to arrive: it is a stream. */
    slowBody?: true;
  }
}
