/**
 * What the service is judged by, point by point, and the tests that show each: a file, and words of the titles in it. A point
 * without a test says why. `npm run scorecard` runs them and prints the sum; a guard sees that every citation is there.
 */
export interface Point {
  readonly n: number;
  readonly area: string;
  readonly asks: string;
  readonly by?: readonly (readonly [file: string, title: string])[];
  /** Shown by a script that is run by hand or by the bench, and prints its figure. */
  readonly script?: string;
  /** Not shown yet, and why. */
  readonly missing?: string;
  /** Nothing of the kind exists here. */
  readonly notApplicable?: string;
}

const http = (name: string): string => `tests/http/${name}.test.ts`;
const sdk = (name: string): string => `tests/sdk/${name}.test.ts`;
const embeds = 'tests/embeds/ratio.test.ts';
const fuzz = 'tests/contract/fuzz.test.ts';
const wheels = 'tests/wheels/http.test.ts';
const risks = 'tests/security/risks.test.ts';
const idempotency = 'tests/guilds/idempotency.test.ts';
const database = 'tests/faults/database.test.ts';
const bulk = 'tests/analyses/bulk.test.ts';
const inventory = 'tests/contract/inventory.test.ts';
const laws = 'tests/calculations/laws.test.ts';

export const points: readonly Point[] = [
  { n: 1, area: 'HTTP', asks: 'strong ETag on calculations', by: [[http('caching'), 'has a strong tag']] },
  { n: 2, area: 'HTTP', asks: '304 on If-None-Match, headers kept', by: [[http('caching'), 'answers 304 without a body']] },
  { n: 3, area: 'HTTP', asks: '428 without, 412 with a stale If-Match', by: [[wheels, 'changes a wheel only for whoever has seen']] },
  { n: 4, area: 'HTTP', asks: 'two racing changes: one 200, one 412, 500 times', by: [['tests/tenancy/races.test.ts', 'one 200 and one 412']] },
  { n: 5, area: 'HTTP', asks: 'public caching of calculations, private of a guild\'s own', by: [[http('caching'), 'may be kept by anybody'], ['tests/contract/wheel-doors.test.ts', 'kept by nobody between']] },
  { n: 6, area: 'HTTP', asks: 'HEAD equals the headers of GET', by: [[http('caching'), 'same headers for HEAD']] },
  { n: 7, area: 'HTTP', asks: '405 with Allow on every address', by: [[http('methods'), 'every address answers 405 with Allow']] },
  { n: 8, area: 'HTTP', asks: '406, 415, 413, 414', by: [[http('methods'), '406'], [risks, '4, resources']] },
  { n: 9, area: 'HTTP', asks: 'GET and POST give the same bytes', by: [[http('doors'), 'give the same bytes']] },
  { n: 10, area: 'HTTP', asks: 'an unknown parameter is 400', by: [[fuzz, 'refuses a parameter that it does not know']] },
  { n: 11, area: 'Errors', asks: 'every failure is a whole problem document', by: [[fuzz, 'answers whatever is sent'], [http('methods'), 'an unknown address is a problem'], [http('parser'), 'is let go with 408']] },
  { n: 12, area: 'Errors', asks: 'each type answers with its page', by: [['tests/guards/problems.test.ts', 'every code has its page']] },
  { n: 13, area: 'Errors', asks: 'pointers name the field, all at once', by: [[fuzz, 'by its pointer'], [http('json'), 'not more than fifty'], [http('doors'), 'names every parameter at once']] },
  { n: 14, area: 'Errors', asks: 'nothing of stack, SQL or path', by: [[fuzz, 'answers whatever is sent'], [risks, 'stand in no log and no reply']] },
  { n: 15, area: 'Idempotency', asks: 'replay, 422, 409', by: [[idempotency, 'however often it is sent'], [idempotency, 'refused with another body'], [idempotency, 'whoever comes between gets 409']] },
  { n: 16, area: 'Idempotency', asks: 'survives SIGKILL between effect and reply', by: [['tests/faults/idempotency-kill.test.ts', 'does it once']] },
  { n: 17, area: 'Pagination', asks: 'none skipped, none doubled under 1 000 inserts', by: [['tests/wheels/search.test.ts', 'gives every wheel once while 1000 are added']] },
  { n: 18, area: 'Pagination', asks: 'cursor and Link agree; a tampered cursor is 400', by: [[wheels, 'page by page'], [wheels, 'refuses ?after']] },
  { n: 19, area: 'Limits', asks: 'RateLimit headers parse as structured fields', by: [[http('limits'), 'refused beyond what the headers promise']] },
  { n: 20, area: 'Limits', asks: 'the real limit is that of the headers', by: [[http('limits'), 'refused beyond what the headers promise']] },
  { n: 21, area: 'Lifecycle', asks: 'Deprecation and Sunset on deprecated routes', notApplicable: 'no route is deprecated' },
  { n: 22, area: 'Lifecycle', asks: 'no breaking change since the last release', by: [['tests/contract/diff.test.ts', 'is found in the whole specification'], ['tests/contract/diff.test.ts', 'is refused where the comparison does not know']] },
  { n: 23, area: 'Lifecycle', asks: 'changes listed release by release', by: [[http('caching'), 'every release is listed']] },
  { n: 24, area: 'Contract', asks: 'the specification lints clean', script: 'npx redocly lint sdk/openapi.json, in .ci/run' },
  { n: 25, area: 'Contract', asks: 'examples are valid and run', by: [[inventory, 'calculations answer their examples']] },
  { n: 26, area: 'Contract', asks: 'routes are the contract', by: [[inventory, 'every route is in the specification']] },
  { n: 27, area: 'Contract', asks: 'security.txt is valid', by: [[http('caching'), 'security.txt is as RFC 9116']] },
  { n: 28, area: 'CORS', asks: 'plain GET from any origin without a preflight', by: [[sdk('browser'), 'plain GETs without a preflight']] },
  { n: 29, area: 'CORS', asks: 'no reflection with credentials; Max-Age of two hours', by: [[http('methods'), 'two hours and more'], [risks, '8, configuration']] },
  { n: 30, area: 'Units', asks: 'a missing unit and an unknown one are 422 with what to send', by: [['tests/foundation/strings.test.ts', 'is read as meant'], [http('doors'), 'unknown units']] },
  { n: 31, area: 'Units', asks: 'unit invariance to 1e-12', by: [[laws, 'whatever units the wheel is measured'], [laws, 'every pair of units']] },
  { n: 32, area: 'Units', asks: 'reciprocal conversions', by: [['tests/calculations/grist/published.test.ts', 'A'], [laws, 'any cycle of systems']] },
  { n: 33, area: 'Units', asks: 'strict numbers', by: [[http('json'), 'refuses exactly the objects'], [http('methods'), 'ten thousand whorls']] },
  { n: 34, area: 'Units', asks: 'a misspelt field is never passed over', by: [[fuzz, 'refuses a field that it does not know']] },
  { n: 35, area: 'Calculation', asks: 'a 50-digit oracle to 1e-12', by: [['tests/calculations/oracle.test.ts', 'leaves out no closed form'], ['tests/calculations/ratio/oracle.test.ts', '']] },
  { n: 36, area: 'Calculation', asks: 'there and back to 1e-10', by: [[laws, 'there and back']] },
  { n: 37, area: 'Calculation', asks: 'uncertainty: 13.0 ± 0.34; within 5 % of Monte Carlo', by: [['tests/foundation/uncertainty.test.ts', '13.0 ± 0.34'], ['tests/foundation/uncertainty.test.ts', 'Monte Carlo']] },
  { n: 38, area: 'Calculation', asks: 'assumptions and warnings, coded and documented', by: [[http('doors'), 'its examples ask the same']] },
  { n: 39, area: 'Calculation', asks: 'strict makes warnings 422', by: [[http('doors'), 'strict']] },
  { n: 40, area: 'Calculation', asks: 'model, version and source in each answer', by: [['tests/guards/citations.test.ts', 'that an answer cites'], [inventory, 'calculations answer their examples']] },
  { n: 41, area: 'Calculation', asks: 'golden files of each version', by: [['tests/guards/golden.test.ts', 'gives the numbers that its version is pinned to']] },
  { n: 42, area: 'Calculation', asks: 'no number that is not finite', by: [['tests/calculations/odd.test.ts', 'answers in finite numbers'], [http('serialize'), 'any finite reply']] },
  { n: 43, area: 'Calculation', asks: 'credentials never echoed', by: [[risks, 'stand in no log and no reply']] },
  { n: 44, area: 'Batch', asks: 'each by itself, in order, the bytes of one', by: [[http('doors'), 'answers or refuses each by itself'], [http('doors'), 'give the same bytes']] },
  { n: 45, area: 'Batch', asks: 'a dry run of an analysis changes nothing', by: [[bulk, 'is understood before anything is kept']] },
  { n: 46, area: 'Batch', asks: 'NDJSON with an end record; truncation is seen', by: [[bulk, 'gets a verdict for every row'], ['tests/calculations/draft-cycle/table.test.ts', 'has its own end'], [sdk('api'), 'that break off']] },
  { n: 47, area: 'Fuzz', asks: 'every operation, valid and invalid', by: [[fuzz, 'answers whatever is sent']] },
  { n: 48, area: 'Fuzz', asks: 'use after delete 404, create then get 200', by: [[wheels, 'retires a wheel'], [wheels, 'gives a wheel as it was posted']] },
  { n: 49, area: 'Crash', asks: '20 SIGKILLs under writes: none lost, none doubled', by: [['tests/faults/write-kill.test.ts', 'loses nothing and doubles nothing']] },
  { n: 50, area: 'Crash', asks: 'SIGTERM drains, also with the database hung', by: [[database, 'is stopped in order while the database hangs'], [database, 'answers what it has begun']] },
  { n: 51, area: 'Database', asks: 'every connection ended mid-transaction, 100 times', by: [[database, 'in the middle of changes']] },
  { n: 52, area: 'Database', asks: 'down: calculators 200, library 503 within 2 s, back within 5 s', by: [[database, 'a server that is stopped and started']] },
  { n: 53, area: 'Database', asks: 'a black hole is bounded by the deadline', by: [[database, 'swallows everything'], ['tests/db/away.test.ts', 'swallows everything']] },
  { n: 54, area: 'Streams', asks: 'a reader of 1 kB/s costs no memory', missing: 'results are sent piece by piece; not measured at that size' },
  { n: 55, area: 'Abuse', asks: '2 000 slow sockets', by: [['tests/faults/abuse.test.ts', 'two thousand sockets']] },
  { n: 56, area: 'Abuse', asks: 'limits of body, depth and address', by: [[risks, '4, resources'], [http('json'), 'takes nesting up to the limit']] },
  { n: 57, area: 'Abuse', asks: 'three times overload: goodput 0.9 of peak', by: [['tests/faults/abuse.test.ts', 'three times what it can take']] },
  { n: 58, area: 'Jobs', asks: 'workers killed: each row once, taken over within 30 s', by: [['tests/analyses/killed.test.ts', 'one every'], ['tests/analyses/broken.test.ts', 'that row alone is set aside']] },
  { n: 59, area: 'Jobs', asks: 'cancel, resume, dead letter, progress', missing: 'cancel, resume and progress are tested; the bisection of poison is not' },
  { n: 60, area: 'Migrations', asks: 'twice, at once, killed midway', by: [['tests/db/migrate.test.ts', 'change nothing the second time'], ['tests/db/migrate.test.ts', 'run once when four processes'], ['tests/db/migrate-kill.test.ts', 'as it was or whole'], ['tests/db/migrate-kill.test.ts', 'the next start ends them']] },
  { n: 61, area: 'Tenancy', asks: 'two guilds, every route: 404', by: [[risks, '1, object level'], ['tests/tenancy/apart.test.ts', 'as if it were not there']] },
  { n: 62, area: 'Tenancy', asks: 'row-level security forced, the role owns nothing', by: [['tests/db/roles.test.ts', 'are guarded in every table']] },
  { n: 63, area: 'Tenancy', asks: 'a long mixed soak without a leak', missing: 'not written yet' },
  { n: 64, area: 'Auth', asks: 'keys hashed, prefixed, checksummed; revoked within 5 s; scopes', by: [['tests/tenancy/keys-kept.test.ts', 'holds no key that can be used'], ['tests/tenancy/keys-kept.test.ts', 'within 5 s'], ['tests/guilds/keys.test.ts', 'a key is told once']] },
  { n: 65, area: 'Auth', asks: 'roles by routes', by: [[risks, '5, functions'], [risks, '2, authentication']] },
  { n: 66, area: 'Input', asks: 'prototype pollution, ReDoS, log and CSV injection', by: [[risks, 'part of every object'], ['tests/security/patterns.test.ts', 'no pattern runs for longer'], [risks, 'stand in no log'], ['tests/analyses/csv.test.ts', 'formula']] },
  { n: 67, area: 'Input', asks: 'nothing makes it fetch an address', by: [[risks, '7, addresses']] },
  { n: 68, area: 'Operation', asks: 'request id and trace context in reply, log and problem', by: [[http('methods'), 'every reply names its request']] },
  { n: 69, area: 'Operation', asks: 'health is not ready', by: [['tests/start/start.test.ts', 'is not ready before its library is'], [database, 'swallows everything']] },
  { n: 70, area: 'SDK', asks: 'types and package checks; ESM, require()', by: [[sdk('package'), 'runs as ES modules'], [sdk('package'), 'runs by require()'], [sdk('package'), 'hold under']] },
  { n: 71, area: 'SDK', asks: 'at most 8 kB whole, 2 kB one call, no dependency', by: [[sdk('package'), 'weighs what it may'], [sdk('package'), 'without dependencies']] },
  { n: 72, area: 'SDK', asks: 'retry, jitter, Retry-After, deadline, abort', by: [[sdk('net'), 'are drawn from nothing up to a bound'], [sdk('net'), 'Retry-After comes first'], [sdk('net'), 'holds over all tries together'], [sdk('net'), 'ends a call under way']] },
  { n: 73, area: 'SDK', asks: 'typed errors, whole reply, hooks, redaction, unknown words', by: [[sdk('api'), 'keep the problem'], [sdk('api'), 'see every try'], [sdk('api'), 'is nowhere in the client'], [sdk('api'), 'keep words and fields']] },
  { n: 74, area: 'SDK', asks: 'generated is committed; every operation called', by: [['tests/guards/generated.test.ts', 'the SDK is that of the specification'], [sdk('live'), 'every operation answers']] },
  { n: 75, area: 'Embeds', asks: 'at most 12 kB, no dependency, hashes published', missing: 'the form stands after 12 kB; what answers comes after it, 45 kB in all' },
  { n: 76, area: 'Embeds', asks: 'strict policy; no cookie, storage, third party, preflight', by: [[embeds, 'answers at once under a strict policy']] },
  { n: 77, area: 'Embeds', asks: 'axe, keyboard, 24 px, 320 px, forced colours', by: [[embeds, 'has nothing that axe finds'], [embeds, 'is filled in by keyboard alone'], [embeds, 'is a calculator at 320 px']] },
  { n: 78, area: 'Embeds', asks: 'numbers by language; without scripts; service down; forms', by: [[embeds, 'computes while the service is down'], [embeds, 'leaves its link where there are no scripts'], [embeds, 'belongs to a form'], ['tests/embeds/build.test.ts', 'numbers as they are written']] },
  { n: 79, area: 'Embeds', asks: 'oEmbed', by: [['tests/pages/oembed.test.ts', 'the sheet of a wheel names it'], ['tests/pages/oembed.test.ts', 'keeps to the room']] },
  { n: 80, area: 'Scale', asks: '10 000 calculations a second on 4 processes; a library of 10^7 rows', missing: 'not measured at that size' },
];
