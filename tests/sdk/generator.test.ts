/** The generator: what is committed is what it writes, the same every time; what it does not know stops it. */
import { readFile } from 'node:fs/promises';
import { beforeAll, describe, expect, it } from 'vitest';
import { generate } from '../../sdk/generate.js';
import { calculations } from '../../services/calculations/index.js';
import { NotKnown } from '../../sdk/generate/spec.js';

const sdk = new URL('../../sdk/', import.meta.url);
type Any = { [key: string]: Any } & { [key: number]: Any };
let spec: Any;
beforeAll(async () => { spec = JSON.parse(await readFile(new URL('openapi.json', sdk), 'utf8')) as Any; });
const changed = (change: (document: Any) => void): Any => { const copy = structuredClone(spec); change(copy); return copy; };
const set = (target: Any, key: string, value: unknown): void => { (target as Record<string, unknown>)[key] = value; };

describe('what is generated', () => {
  it('is what is committed, and the same on every run', async () => {
    const [one, two] = [await generate(spec), await generate(structuredClone(spec))];
    expect(one.size).toBe(6 + calculations.length);
    for (const [name, text] of one) {
      expect(text, name).toBe(two.get(name));
      expect(text === await readFile(new URL(name, sdk), 'utf8'), `${name} is not what the generator writes: npm run gen`).toBe(true);
    }
  });
  it('has a function and a method for every operation, and a type for every component', async () => {
    const files = await generate(spec);
    const ids = Object.values(spec['paths']!).flatMap((methods) => Object.values(methods).map((o) => String(o['operationId'])));
    expect(ids.length).toBeGreaterThan(10);
    for (const id of ids) {
      expect(files.get('src/operations.gen.ts')).toContain(`export const ${id} = (transport: Transport, `);
      expect(files.get('src/wheelgrist.gen.ts')).toContain(`  ${id}(`);
    }
    for (const name of Object.keys(spec['components']!['schemas']!)) expect(files.get('src/types.gen.ts')).toMatch(new RegExp(`^export type ${name} = `, 'm'));
  });
  it('holds neither any nor unknown', async () => {
    for (const [name, text] of await generate(spec)) expect(text.replaceAll(/\/\*\*.*?\*\/|'[^']*'|"[^"]*"/gs, ''), name).not.toMatch(/\b(any|unknown)\b/);
  });
  it('words of an answer stay open, words of a question do not', async () => {
    const types = (await generate(spec)).get('src/types.gen.ts')!;
    expect(types).toContain('"bobbin-leads" | "flyer-leads" | "too-close-to-say" | (string & {})');
    expect(types).toMatch(/"right" \| "left" \| "below" \| "above";/);
  });
});

describe('a list with a cursor, and a stream', () => {
  it('become loops', async () => {
    const document = changed((d) => {
      set(d['components']!['schemas']!, 'Thing', { type: 'object', properties: { id: { type: 'string' } }, required: ['id'] });
      set(d['components']!['schemas']!, 'ThingList', { type: 'object', properties: { items: { type: 'array', items: { $ref: '#/components/schemas/Thing' } }, next: { type: 'string' } }, required: ['items'] });
      const ok = (type: string, name: string) => ({ responses: { 200: { description: '', content: { [type]: { schema: { $ref: `#/components/schemas/${name}` } } } } } });
      set(d['paths']!, '/v1/things', {
        get: { operationId: 'listThings', summary: 'Things', tags: ['Reference'], parameters: [{ name: 'cursor', in: 'query', required: false, schema: { type: 'string' } }], ...ok('application/json', 'ThingList') },
        post: { operationId: 'createThing', summary: 'Make a thing', tags: ['Wheels'], parameters: [{ name: 'Idempotency-Key', in: 'header', required: false, schema: { type: 'string' } }], requestBody: { required: true, content: { 'application/json': { schema: { $ref: '#/components/schemas/Thing' } } } }, ...ok('application/json', 'Thing') },
      });
      set(d['paths']!, '/v1/things/{id}', { patch: { operationId: 'changeThing', summary: 'Change a thing', tags: ['Wheels'], parameters: [{ name: 'id', in: 'path', required: true, schema: { type: 'string' } }, { name: 'If-Match', in: 'header', required: true, schema: { type: 'string' } }], requestBody: { required: true, content: { 'application/merge-patch+json': { schema: { $ref: '#/components/schemas/Thing' } } } }, responses: { 204: { description: '' } } } });
      set(d['paths']!, '/v1/things.ndjson', { get: { operationId: 'streamThings', summary: 'Things', tags: ['Reference'], ...ok('application/x-ndjson', 'Thing') } });
    });
    const text = (await generate(document)).get('src/operations.gen.ts')!;
    expect(text).toContain('export const allThings = (transport: Transport, args: ListThingsArgs = {}, options?: CallOptions): AsyncGenerator<Thing, void, undefined> =>');
    expect(text).toContain('export const streamThings = (transport: Transport, args: StreamThingsArgs = {}, options?: CallOptions): AsyncGenerator<Thing, void, undefined> =>\n  rows<Thing>(');
    expect(text).toContain("transport.call({ id: 'createThing', method: 'POST', path: '/v1/things', place: keyed }, args, options, body)");
    expect(text).toContain('export const changeThing = (transport: Transport, body: Thing, args: ChangeThingArgs, options?: CallOptions): Call<undefined> =>');
    expect(text).toContain("sends: 'application/merge-patch+json', place: both(inPath, ifMatch) }");
  });
});

describe('what it does not know', () => {
  const ratio = (d: Any): Any => d['paths']!['/v1/ratio']!['post']!;
  const schema = (d: Any): Any => d['components']!['schemas']!['RatioResult']!;
  const cases: Record<string, [change: (d: Any) => void, place: RegExp]> = {
    'a schema keyword': [(d) => set(schema(d), 'allOf', []), /RatioResult.*“allOf”/],
    'a schema keyword deep within': [(d) => set(schema(d)['properties']!['bobbins']!['items']!, 'unevaluatedProperties', false), /bobbins\/items.*“unevaluatedProperties”/],
    'several types at once': [(d) => set(schema(d), 'type', ['object', 'null']), /RatioResult\/type/],
    'a reference elsewhere': [(d) => set(schema(d)['properties']!, 'x', { $ref: 'https://else.where/x' }), /reference/],
    'a reference to nothing': [(d) => set(schema(d)['properties']!, 'x', { $ref: '#/components/schemas/Nothing' }), /not there/],
    'a cookie': [(d) => set(ratio(d), 'parameters', [{ name: 'c', in: 'cookie', schema: { type: 'string' } }]), /cookie/],
    'a header': [(d) => set(ratio(d), 'parameters', [{ name: 'X-Other', in: 'header', schema: { type: 'string' } }]), /X-Other/],
    'an argument that is an object': [(d) => set(ratio(d), 'parameters', [{ name: 'o', in: 'query', schema: { type: 'object' } }]), /argument/],
    'a path whose argument is not declared': [(d) => { set(d['paths']!, '/v1/{x}', { get: { ...structuredClone(ratio(d)), operationId: 'other', parameters: [] } }); }, /path/],
    'a kind of body': [(d) => set(ratio(d)['requestBody']!, 'content', { 'multipart/form-data': { schema: { type: 'object' } } }), /multipart/],
    'a body without a name': [(d) => set(ratio(d)['requestBody']!['content']!['application/json']!, 'schema', { type: 'object' }), /named component/],
    'an answer of two kinds': [(d) => set(ratio(d)['responses']!['200']!['content']!, 'text/csv', { schema: { type: 'string' } }), /several kinds/],
    'an extension': [(d) => set(ratio(d), 'x-special', true), /“x-special”/],
    'callbacks': [(d) => set(ratio(d), 'callbacks', {}), /“callbacks”/],
    'two operations of one name': [(d) => set(d['paths']!['/v1/ratio']!['get']!, 'operationId', 'ratio'), /two operations/],
    'an older version': [(d) => set(d, 'openapi', '3.0.3'), /3\.0\.3/],
  };
  it.each(Object.entries(cases))('%s stops it', async (_, [change, place]) => {
    const run = generate(changed(change));
    await expect(run).rejects.toBeInstanceOf(NotKnown);
    await expect(run).rejects.toThrow(place);
  });
});
