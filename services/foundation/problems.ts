/**
 * Every error once: its code, title, status, what it means and what to do about it.
 * Pages, specification and SDK are made from this list; a test compares them in both directions.
 */

export interface ProblemKind {
  readonly code: string;
  readonly title: string;
  readonly status: number;
  /** What happened, in one or two sentences. */
  readonly meaning: string;
  /** What to do now. */
  readonly remedy: string;
  /** An example request or value, and what would be right, for the page. */
  readonly example?: { readonly wrong: string; readonly right: string };
}

const kind = (code: string, status: number, title: string, meaning: string, remedy: string, wrong?: string, right?: string): ProblemKind => ({
  code, status, title, meaning, remedy, ...(wrong === undefined ? {} : { example: { wrong, right: right! } }),
});

export const catalogue = {
  // what was sent cannot be read
  'invalid-request': kind('invalid-request', 400, 'The request cannot be read', 'Several things in the request cannot be read. Each is listed under errors.', 'Go through errors: each names its place, what was read and what was expected.'),
  'invalid-json': kind('invalid-json', 400, 'The body is not JSON', 'The body breaks the rules of JSON (RFC 8259) at the place named.', 'Mend the body at that place: often a missing comma, quote or bracket.', '{"wheel": {', '{"wheel": {}}'),
  'duplicate-key': kind('duplicate-key', 400, 'A name stands twice', 'An object holds the same name twice, so it is not clear which value is meant.', 'Keep one of them.', '{"drive": "flyer-lead", "drive": "double-drive"}', '{"drive": "double-drive"}'),
  'number-too-large': kind('number-too-large', 400, 'A number is beyond what can be computed', 'The number is too large to be held.', 'Check for a slip of the decimal point or exponent.', '1e400', '1e4'),
  'wrong-type': kind('wrong-type', 400, 'A value of another type was expected', 'The value has the wrong type: a number where text belongs, a list where one thing belongs, null, or true.', 'Send the type named under expected. Leave a field out rather than sending null.', '{"wheelTurns": "ten"}', '{"wheelTurns": 10}'),
  'unknown-field': kind('unknown-field', 400, 'A name is not known', 'The request holds a name that this operation does not know. Nothing is ignored in silence.', 'Use the nearest known name, which is offered, or leave it out.', 'driveWeel=560mm', 'driveWheel=560mm'),
  'unknown-choice': kind('unknown-choice', 400, 'Not one of the choices', 'This field takes one of a few words.', 'Use one of the words named under expected.', 'drive=double', 'drive=double-drive'),
  'repeated-field': kind('repeated-field', 400, 'A field stands twice', 'This field is taken once.', 'Keep one of them.', 'driveWheel=560mm&driveWheel=500mm', 'driveWheel=560mm'),
  'too-deep': kind('too-deep', 400, 'The body is nested too deeply', 'The body holds lists or objects within each other beyond the limit.', 'Send a flatter body.'),
  'bad-request-line': kind('bad-request-line', 400, 'The request line or a header cannot be read', 'The HTTP parser could not read the request. A raw ± or another sign outside ASCII in the address is the usual cause.', 'Encode the address: with curl, use -G and --data-urlencode. In an address /- is read as ±.', 'driveWheel=520±4mm', 'driveWheel=520/-4mm'),
  'invalid-cursor': kind('invalid-cursor', 400, 'The cursor is not one of ours', 'The cursor was changed, or comes from another list.', 'Start again without a cursor.'),
  // what was sent can be read, but not answered
  'cannot-answer': kind('cannot-answer', 422, 'The question cannot be answered as it stands', 'Several things stand in the way of an answer. Each is listed under errors.', 'Go through errors: each names its place, what was read and what was expected.'),
  'missing-unit': kind('missing-unit', 422, 'A unit is missing', 'A length, weight or other measure was given without its unit, and a guess could be wrong by a factor of 25.', 'Add the unit: the corrected request is offered.', 'driveWheel=560', 'driveWheel=560mm'),
  'unknown-unit': kind('unknown-unit', 422, 'The unit is not known here', 'The unit is not one that this field takes.', 'Use one of the units named under expected.', 'whorl=60 furlongs', 'whorl=60mm'),
  'unreadable-quantity': kind('unreadable-quantity', 422, 'The measure cannot be read', 'The text is not a number with a unit, a range, or a number with ±.', 'Write it like one of the examples: 22 1/16 in, 560 mm, 18-20 in, 520 ± 4 mm.', 'whorl=about as wide as an egg', 'whorl=45mm'),
  'ambiguous-number': kind('ambiguous-number', 422, 'The number can be read in two ways', 'A comma or an apostrophe may be a decimal sign, a thousands sign or a foot mark here.', 'Write it in the one way that is meant: both readings are offered.', '3,000 m', '3000 m, or 3.000 m'),
  'ambiguous-yarn-number': kind('ambiguous-yarn-number', 422, 'The yarn number needs its system', 'Count, lea, cut, hank and skein mean different lengths in different trades, and a bare 2/24 may be read from either end.', 'Name the system: cotton, worsted, linen, metric (Nm), Galashiels cut, woollen cut.', 'grist=20 lea', 'grist=20 linen-lea'),
  'out-of-range': kind('out-of-range', 422, 'The value is outside what is possible', 'A size, count or time must be more than nothing, and within what a wheel can be.', 'Check the value and its unit.', 'whorl=0mm', 'whorl=60mm'),
  'range-reversed': kind('range-reversed', 422, 'The range runs backwards', 'The first end of the range is larger than the second.', 'Write the smaller end first.', '20-18 mm', '18-20 mm'),
  'missing-field': kind('missing-field', 422, 'Something needed is missing', 'The answer needs a measure that was not given.', 'Add what is named. One of several measures may do.', '/v1/ratio?whorl=60mm', '/v1/ratio?driveWheel=560mm&whorl=60mm'),
  'one-of': kind('one-of', 422, 'Give one of these, not several', 'The same thing was given in more than one way.', 'Keep the measurement you trust most.', 'whorl=60mm&whorlRatio=9:1', 'whorl=60mm'),
  'too-many': kind('too-many', 422, 'Too many at once', 'There are more entries than one question may hold.', 'Ask in several questions, or use the batch.'),
  'impossible-geometry': kind('impossible-geometry', 422, 'These measures cannot belong together', 'The measures contradict each other: no groove can look like that.', 'Measure again: is it the rim, the seat or the circumference?'),
  'not-known-part': kind('not-known-part', 422, 'No such part on this wheel', 'The question names a whorl, bobbin or drive that the wheel does not have.', 'Use one of the names offered.'),
  'strict-warning': kind('strict-warning', 422, 'A warning counts as an error here', 'The request asked to be refused rather than warned (strict=true).', 'Supply what the warning asks for, or leave strict out.'),
  // tables of wheels
  'unreadable-file': kind('unreadable-file', 422, 'The file is no table that can be read', 'The file is not text, or not in the charset that was named, or was damaged on its way.', 'Save it as CSV in UTF-8, or name its charset in Content-Type.'),
  'nothing-to-analyse': kind('nothing-to-analyse', 422, 'The file holds nothing to analyse', 'The file is empty, has headings and no rows, or no heading names a part of a wheel.', 'Name the columns as a spinner would, with their units, or say with map what a heading means.', 'a,b,c', 'drive wheel (mm),whorl 1 (mm),bobbin groove (mm)'),
  'row-too-long': kind('row-too-long', 422, 'A row of the file has no end', 'A line is longer than any row of a table can be.', 'Look at that line: a line end, or a closing quote, is missing.'),
  'row-does-not-fit': kind('row-does-not-fit', 422, 'The row does not fit its table', 'A row has more cells than the table has columns, or a quote that is never closed.', 'Put a cell that holds the sign between cells into quotes.', '22,5,60', '"22,5",60'),
  'analysis-not-found': kind('analysis-not-found', 404, 'No such analysis', 'There is no analysis with this id that you may see, or its time is over and it was removed.', 'Check the id. An analysis is seen by its own guild alone.'),
  'analysis-not-finished': kind('analysis-not-finished', 409, 'The analysis is not finished', 'What was asked for is there once every row has its verdict.', 'Wait as long as Retry-After says, or follow its events. A cancelled one can be resumed.'),
  // the library
  'wheel-not-found': kind('wheel-not-found', 404, 'No such wheel', 'There is no wheel with this id that you may see.', 'Check the id. A wheel that belongs to another guild is not shown.'),
  'measurement-not-found': kind('measurement-not-found', 404, 'No such measurement', 'This wheel has no measurement with this id, or it was withdrawn.', 'See the list of the wheel’s measurements.'),
  'loan-not-found': kind('loan-not-found', 404, 'No such loan', 'This wheel has no loan with this id.', 'See the list of the wheel’s loans.'),
  'care-not-found': kind('care-not-found', 404, 'No such entry', 'The log of this wheel has no entry with this id, or it was struck.', 'See the log of the wheel’s care.'),
  'card-not-found': kind('card-not-found', 404, 'No such card', 'There is no card with this id that you may see.', 'Check the id. A card that belongs to another guild is not shown.'),
  'revision-not-found': kind('revision-not-found', 404, 'No such revision', 'There is no revision of that number that you may see.', 'See the list of revisions.'),
  'guild-not-found': kind('guild-not-found', 404, 'No such guild', 'There is no guild with this id that your key belongs to.', 'Use the id of your own guild.'),
  'key-not-found': kind('key-not-found', 404, 'No such key', 'Your guild has no key with this id.', 'See the list of its keys. The id of a key is not the key itself.'),
  'not-found': kind('not-found', 404, 'Nothing stands at this address', 'The address is not one of this service.', 'See /docs for all addresses.'),
  'unauthorized': kind('unauthorized', 401, 'A guild key is needed', 'No key was sent, or it is not one that works here.', 'Send Authorization: Bearer with your guild’s key. The first start of a library prints the key of the demo guild; npm run key makes more.'),
  'forbidden': kind('forbidden', 403, 'This key may not do that', 'The key is good, but its scope does not reach so far.', 'Ask whoever keeps your guild’s keys for one that may do this.'),
  'conflict': kind('conflict', 409, 'It clashes with what is there', 'What was sent cannot stand beside what is kept already.', 'Read what is there, then decide.'),
  'idempotency-key-reused': kind('idempotency-key-reused', 422, 'This Idempotency-Key belongs to another request', 'The same Idempotency-Key came before with another address or body, so it is not clear which is meant.', 'Use a new Idempotency-Key for each thing that is to be made, and the same one only to send the same request again.'),
  'request-in-flight': kind('request-in-flight', 409, 'The same request is being worked on', 'A request with this Idempotency-Key is not finished yet.', 'Wait a moment and send it again: it gets the reply of the first.'),
  'precondition-required': kind('precondition-required', 428, 'Say which revision you are changing', 'A change without If-Match could undo somebody else’s.', 'Read it, and send its ETag as If-Match.'),
  'precondition-failed': kind('precondition-failed', 412, 'Somebody changed it in the meantime', 'The revision named in If-Match is no longer the newest.', 'Read it again, make your change to what is there now, and send that.'),
  // HTTP
  'method-not-allowed': kind('method-not-allowed', 405, 'This address does not take that method', 'The methods that it takes are named in Allow.', 'Use one of those.'),
  'not-acceptable': kind('not-acceptable', 406, 'No such form of the answer', 'The Accept header names only media types that are not made here.', 'Accept application/json.'),
  'format-not-made': kind('format-not-made', 501, 'That format is not made', 'The answer is made in another format only.', 'Ask for the one named under expected, or leave the format out.', 'format=xml', 'format=json'),
  'payload-too-large': kind('payload-too-large', 413, 'The body is too large', 'The body is larger than this operation takes.', 'Send less at once.'),
  'uri-too-long': kind('uri-too-long', 414, 'The address is too long', 'The address is longer than is taken.', 'Use POST with a JSON body.'),
  'unsupported-media-type': kind('unsupported-media-type', 415, 'The body is of another kind', 'This operation reads application/json.', 'Send Content-Type: application/json.'),
  'headers-too-large': kind('headers-too-large', 431, 'The headers are too large', 'The headers of the request are larger than is taken.', 'Send fewer or smaller headers.'),
  'request-timeout': kind('request-timeout', 408, 'The request took too long to arrive', 'The request was not complete in time.', 'Send it again.'),
  'too-many-requests': kind('too-many-requests', 429, 'Too many requests', 'More was asked than is allowed for now.', 'Wait as long as Retry-After says.'),
  'too-busy': kind('too-busy', 503, 'Too busy just now', 'More is being asked than can be answered in good time.', 'Try again after the seconds named in Retry-After.'),
  'library-unavailable': kind('library-unavailable', 503, 'The library cannot be reached just now', 'The database does not answer. The calculators work without it.', 'Try again after the seconds named in Retry-After.'),
  'internal-error': kind('internal-error', 500, 'Something went wrong here', 'It is our fault, not yours. The request id helps to find it.', 'Try again; if it stays, report the request id.'),
} as const satisfies Record<string, ProblemKind>;

export type ProblemCode = keyof typeof catalogue;

/** One thing wrong in a request. */
export interface Issue {
  /** JSON pointer into the question, or the query parameter's name. */
  readonly pointer?: string;
  readonly parameter?: string;
  readonly code: ProblemCode;
  readonly detail: string;
  readonly received?: string;
  readonly expected?: string;
  /** What to send instead: a value, or a whole corrected link. */
  readonly try?: string;
}

export const mostIssues = 50;

export interface ProblemDocument {
  type: string;
  title: string;
  status: number;
  detail: string;
  instance?: string;
  requestId?: string;
  errors?: Issue[];
}

/** An error that carries its problem document through every layer. */
export class ProblemError extends Error {
  readonly code: ProblemCode;
  readonly status: number;
  readonly issues: readonly Issue[];
  /** Further headers of the reply, such as Allow or Retry-After. */
  readonly headers: Readonly<Record<string, string>>;

  constructor(code: ProblemCode, detail?: string, more: { issues?: readonly Issue[]; headers?: Record<string, string>; cause?: unknown } = {}) {
    super(detail ?? catalogue[code].meaning, more.cause === undefined ? undefined : { cause: more.cause });
    this.name = 'ProblemError';
    this.code = code;
    this.status = catalogue[code].status;
    this.issues = more.issues ?? [];
    this.headers = more.headers ?? {};
  }

  document(): ProblemDocument {
    return {
      type: `/problems/${this.code}`,
      title: catalogue[this.code].title,
      status: this.status,
      detail: this.message,
      ...(this.issues.length === 0 ? {} : { errors: this.issues.slice(0, mostIssues) }),
    };
  }
}

/** One problem for all issues: that of the issue when they are of one kind; what cannot be read goes before what cannot be answered. */
export function problemOf(issues: readonly Issue[]): ProblemError {
  const unreadable = issues.filter((i) => catalogue[i.code].status === 400);
  const codes = new Set(issues.map((i) => i.code));
  const only = codes.size === 1 ? issues[0]!.code : unreadable.length > 0 ? 'invalid-request' : 'cannot-answer';
  const detail = issues.length === 1 ? issues[0]!.detail : `${issues.length} things to mend: ${issues.slice(0, 3).map((i) => i.detail).join(' ')}`;
  return new ProblemError(only, detail, { issues });
}
