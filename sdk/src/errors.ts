/** What can go wrong with a call. Every error is a `WheelgristError`; none of them holds the key. */
import type { Problem } from './types.gen.js';
import type { ProblemCode } from './problems.gen.js';

export class WheelgristError extends Error {
  override name = 'WheelgristError';
}

/** What a reply was, apart from its body. */
export interface ReplyFacts {
  readonly status: number;
  /** By lower-case name. */
  readonly headers: Readonly<Record<string, string>>;
  /** Names the request in the service's log. */
  readonly requestId: string | undefined;
}

class ReplyError extends WheelgristError implements ReplyFacts {
  declare readonly status: number;
  declare readonly headers: Readonly<Record<string, string>>;
  declare readonly requestId: string | undefined;
  constructor(message: string, facts: ReplyFacts, options?: ErrorOptions) {
    super(message, options);
    Object.assign(this, facts);
  }
}

/** The service, or something on the way to it, refused. Offline answers refuse in the same words. */
export class ProblemReply extends ReplyError {
  override name = 'ProblemReply';
  /** The code of the problem, such as `missing-unit`; undefined when the reply held no problem of this service. */
  readonly code: ProblemCode | (string & {}) | undefined;
  /** The problem as it was sent. Where there was none: type `about:blank` (RFC 9457, 4.2.1), with the status alone. */
  readonly problem: Problem;
  constructor(facts: ReplyFacts, problem: Problem = { type: 'about:blank', title: '', status: facts.status, detail: `Status ${facts.status}` }) {
    super(problem.detail, facts);
    this.code = problem.type.split('/problems/')[1];
    this.problem = problem;
  }
}

/** No reply came, or it broke off. `cause` says what the network said. */
export class NetworkFailure extends WheelgristError {
  override name = 'NetworkFailure';
}

/** The deadline passed. `cause` is what the last try met, if there was one. */
export class Timeout extends WheelgristError {
  override name = 'Timeout';
}

/** The caller's own signal ended the call. `cause` is the reason that the signal gave. */
export class Aborted extends WheelgristError {
  override name = 'Aborted';
}

/** A reply came, and is not what this operation answers with. Often a proxy or a sign-in page stands in between. */
export class UnreadableReply extends ReplyError {
  override name = 'UnreadableReply';
}
