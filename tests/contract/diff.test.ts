/** The rules by which a change of the contract breaks a caller, each shown by a change made to the specification itself. */
import { describe, expect, it } from 'vitest';
import { contractDiff } from '../support/contract-diff.js';
import committed from '../../sdk/openapi.json' with { type: 'json' };

interface Field { type?: string; enum?: string[]; properties?: Record<string, Field>; required?: string[]; items?: Field; anyOf?: Field[]; maximum?: number; maxLength?: number; additionalProperties?: boolean; $ref?: string }
interface One { operationId: string; security?: object[]; parameters: { name: string; in: string; required: boolean; schema: Field }[]; requestBody: { required: boolean; content: Record<string, { schema: Field }> }; responses: Record<string, { description?: string; headers: Record<string, object>; content: Record<string, { schema: Field }> }> }
interface Small { security: object[]; paths: Record<string, Record<string, One>>; components: { schemas: Record<string, Field> } }
/** One operation with a question and a reply, named and unnamed, in lists and alternatives. */
const small = (): Small => ({
  security: [{}],
  paths: { '/v1/things': { post: {
    operationId: 'thing', parameters: [{ name: 'limit', in: 'query', required: false, schema: { type: 'integer', maximum: 100 } }],
    requestBody: { required: false, content: { 'application/json': { schema: { $ref: '#/components/schemas/Question' } }, 'text/csv': { schema: { type: 'string' } } } },
    responses: { 200: { headers: { ETag: {} }, content: { 'application/json': { schema: { $ref: '#/components/schemas/Reply' } } } }, 404: { headers: {}, content: {} } },
  } } },
  components: { schemas: {
    Question: { type: 'object', properties: { name: { type: 'string', maxLength: 80 }, drive: { type: 'string', enum: ['flyer-lead', 'bobbin-lead'] }, size: { anyOf: [{ $ref: '#/components/schemas/Size' }, { type: 'string' }] }, parts: { type: 'array', items: { $ref: '#/components/schemas/Question' } } }, required: ['drive'], additionalProperties: false },
    Size: { type: 'object', properties: { value: { type: 'number' }, unit: { type: 'string', enum: ['mm', 'in'] } }, required: ['value', 'unit'], additionalProperties: false },
    Reply: { type: 'object', properties: { result: { $ref: '#/components/schemas/Size' }, word: { type: 'string', enum: ['agrees', 'slip'] }, notes: { type: 'array', items: { type: 'string' } } }, required: ['result'] },
  } },
});
const op = (spec: Small): One => spec.paths['/v1/things']!['post']!;
const schema = (spec: Small, name: string): Field => spec.components.schemas[name]!;
const field = (spec: Small, name: string, of: string): Field => schema(spec, name).properties![of]!;
const diff = (change: (spec: Small) => void) => {
  const now = small();
  change(now);
  return contractDiff(small() as never, now as never).map(({ breaks, at, what }) => `${breaks ? 'breaks' : 'adds'} ${at}: ${what}`);
};

const breaking: [string, (spec: Small) => void, string][] = [
  ['an operation taken away', (s) => { delete s.paths['/v1/things']!['post']; }, 'POST /v1/things: the operation was taken away'],
  ['an operation renamed', (s) => { op(s).operationId = 'other'; }, 'POST /v1/things: its name was thing and is other'],
  ['a key asked for', (s) => { op(s).security = [{ key: [] }]; }, 'POST /v1/things: it now asks for a key'],
  ['a parameter taken away', (s) => { op(s).parameters = []; }, 'POST /v1/things query limit: the parameter was taken away'],
  ['a parameter that must be given', (s) => { op(s).parameters[0]!.required = true; }, 'POST /v1/things query limit: it must now be given'],
  ['a new parameter that must be given', (s) => { op(s).parameters.push({ name: 'after', in: 'query', required: true, schema: {} }); }, 'POST /v1/things query after: a new parameter that must be given'],
  ['a lower limit', (s) => { op(s).parameters[0]!.schema.maximum = 50; }, 'POST /v1/things query limit: maximum was 100 and is 50'],
  ['a body that must be sent', (s) => { op(s).requestBody.required = true; }, 'POST /v1/things body: a body must now be sent'],
  ['a media type not taken', (s) => { delete op(s).requestBody.content['text/csv']; }, 'POST /v1/things body: text/csv is no longer taken'],
  ['a reply not given', (s) => { delete op(s).responses['200']; }, 'POST /v1/things 200: it is no longer answered so'],
  ['a header taken away', (s) => { op(s).responses['200']!.headers = {}; }, 'POST /v1/things 200: the header ETag was taken away'],
  ['a field of the question taken away', (s) => { delete schema(s, 'Question').properties!['name']; }, 'Question (asked).name: the field was taken away'],
  ['a new field that must be given', (s) => { schema(s, 'Question').properties!['colour'] = { type: 'string' }; schema(s, 'Question').required!.push('colour'); }, 'Question (asked).colour: a new field that must be given'],
  ['a field that must be given', (s) => { schema(s, 'Question').required!.push('name'); }, 'Question (asked).name: it must now be given'],
  ['a narrower type', (s) => { schema(s, 'Question').properties!['size'] = { $ref: '#/components/schemas/Size' }; }, 'Question (asked).size: it was string and is object'],
  ['a shorter text', (s) => { field(s, 'Question', 'name').maxLength = 40; }, 'Question (asked).name: maxLength was 80 and is 40'],
  ['a word of a question taken away', (s) => { field(s, 'Question', 'drive').enum = ['flyer-lead']; }, 'Question (asked).drive: the word "bobbin-lead" was taken away'],
  ['words where any text was taken', (s) => { field(s, 'Question', 'name').enum = ['a', 'b']; }, 'Question (asked).name: it takes a, b alone'],
  ['a number turned to text', (s) => { field(s, 'Size', 'value').type = 'string'; }, 'Size (told).value: it was number and is string'],
  ['a field of the reply taken away', (s) => { delete schema(s, 'Reply').properties!['notes']; }, 'Reply (told).notes: the field was taken away'],
  ['a field of the reply that may be left out', (s) => { schema(s, 'Reply').required = []; }, 'Reply (told).result: it may now be left out'],
  ['a word of the reply taken away', (s) => { field(s, 'Reply', 'word').enum = ['agrees']; }, 'Reply (told).word: the word "slip" was taken away'],
  ['another shape of a reply', (s) => { schema(s, 'Reply').properties!['notes'] = { anyOf: [{ type: 'array', items: { type: 'string' } }, { type: 'string' }] }; }, 'Reply (told).notes: another shape'],
  ['other items of a list', (s) => { field(s, 'Reply', 'notes').items = { type: 'number' }; }, 'Reply (told).notes[]: it was string and is number'],
];
const harmless: [string, (spec: Small) => void, string][] = [
  ['a new operation', (s) => { s.paths['/v1/others'] = { post: op(small()) }; }, 'POST /v1/others: a new operation'],
  ['a new parameter', (s) => { op(s).parameters.push({ name: 'after', in: 'query', required: false, schema: {} }); }, 'POST /v1/things query after: a new parameter'],
  ['a new field of the question', (s) => { schema(s, 'Question').properties!['colour'] = { type: 'string' }; }, 'Question (asked).colour: a new field'],
  ['a new field of the reply', (s) => { schema(s, 'Reply').properties!['colour'] = { type: 'string' }; schema(s, 'Reply').required!.push('colour'); }, 'Reply (told).colour: a new field'],
  ['a new word', (s) => { field(s, 'Reply', 'word').enum!.push('recheck'); }, 'Reply (told).word: the word "recheck" too'],
  ['another way to be refused', (s) => { op(s).responses['409'] = { headers: {}, content: {} }; }, 'POST /v1/things 409: it may now be answered so'],
];

describe('a change of the contract', () => {
  it.each(breaking)('breaks callers: %s', (_, change, told) => { expect(diff(change)).toContain(`breaks ${told}`); });
  it.each(harmless)('breaks nobody: %s', (_, change, told) => { expect(diff(change)).toEqual([`adds ${told}`]); });
  it('is nothing where nothing that counts was changed', () => {
    expect(diff(() => {})).toEqual([]);
    expect(diff((s) => { field(s, 'Question', 'name').maxLength = 100; op(s).responses['200']!.description = 'Said otherwise.'; delete op(s).responses['404']; schema(s, 'Question').required = []; })).toEqual([]);
    // A name of a schema is none of the callers' business.
    expect(diff((s) => { s.components.schemas['Measure'] = s.components.schemas['Size']!; field(s, 'Reply', 'result').$ref = '#/components/schemas/Measure'; })).toEqual([]);
  });
  it('is refused where the comparison does not know a keyword, so that none is passed over', () => {
    expect(() => diff((s) => { Object.assign(field(s, 'Question', 'name'), { not: {} }); })).toThrow('“not”');
  });
  it('is found in the whole specification too', () => {
    const now = structuredClone(committed) as unknown as Small;
    expect(contractDiff(committed as never, now as never)).toEqual([]);
    schema(now, 'QuantityValue').required = (schema(now, 'QuantityValue').required ?? []).filter((name) => name !== 'text');
    const changes = contractDiff(committed as never, now as never);
    expect(changes.map(({ breaks, at, what }) => [breaks, at, what])).toEqual([[true, 'QuantityValue (told).text', 'it may now be left out']]);
  });
});
