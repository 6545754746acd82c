/** Requests made from the specification alone: values that its schemas take, and values that they do not. */
import fc, { type Arbitrary } from 'fast-check';

export interface Schema { [key: string]: unknown; $ref?: string; type?: string; enum?: unknown[]; const?: unknown; anyOf?: Schema[]; properties?: Record<string, Schema>; required?: string[]; items?: Schema; description?: string }
export interface Parameter { name: string; in: 'path' | 'query' | 'header'; required: boolean; description?: string; schema: Schema; example?: unknown }
export interface SpecOperation {
  operationId: string; parameters?: Parameter[]; security: object[]; tags: string[];
  requestBody?: { required: boolean; content: Record<string, { schema: Schema; example?: unknown }> };
  responses: Record<string, { content?: Record<string, { schema: Schema; example?: unknown }> }>;
}
export interface Spec { paths: Record<string, Record<string, SpecOperation>>; components: { schemas: Record<string, Schema> } }

export const resolve = (spec: Spec, schema: Schema): Schema => (schema.$ref === undefined ? schema : resolve(spec, { ...spec.components.schemas[schema.$ref.split('/').pop()!]!, ...(schema.description === undefined ? {} : { description: schema.description }) }));

/** What people write in a box for a measure, well and badly. */
const typed = fc.oneof(
  { weight: 6, arbitrary: fc.tuple(fc.integer({ min: 1, max: 900 }), fc.constantFrom(' mm', 'mm', ' in', ' cm', '/min', ' ± 1 mm', ' g', ' yd/lb', ':1', '', ' deg', '"', '-900 mm')).map(([n, unit]) => `${n}${unit}`) },
  { weight: 2, arbitrary: fc.constantFrom('double-drive', 'flyer-lead', 'bobbin-lead', 'spindle', 'electric', 'small', 'plain', '9:1', 'about 20 mm', '18+ mm', 'over 700 yd/lb', '3,000 m', '0 mm', '-5 mm', '1e400 mm', 'NaN', '22 1/16 in', 'metric', 'imperial,twist:tpi') },
  { weight: 1, arbitrary: fc.string({ maxLength: 30, unit: 'binary' }) },
);
const junk = fc.oneof(fc.constantFrom(null, true, [], {}, [5], '', -1, 1e308, 'x'.repeat(300), { value: null }, { value: 1, unit: 'mm', plusMinus: -1 }, { low: 2, high: 1, unit: 'mm' }), fc.jsonValue({ maxDepth: 3 }));

/** Values that the schema takes. */
export function valid(spec: Spec, given: Schema, depth = 0): Arbitrary<unknown> {
  const schema = resolve(spec, given);
  if (schema.const !== undefined) return fc.constant(schema.const);
  if (schema.enum !== undefined) return fc.constantFrom(...schema.enum);
  if (schema.anyOf !== undefined) return fc.oneof(...schema.anyOf.map((s) => valid(spec, s, depth)));
  const number = (name: string, otherwise: number): number => (schema[name] as number | undefined) ?? otherwise;
  switch (schema.type) {
    case 'string': return typed.map((text) => text.slice(0, number('maxLength', 500)).padEnd(number('minLength', 0), 'x'));
    case 'integer': return fc.integer({ min: number('minimum', -1000), max: number('maximum', 100_000) });
    case 'number': return fc.oneof(fc.integer({ min: Math.max(1, number('minimum', 1)), max: 1000 }), fc.double({ min: number('minimum', -1e12), max: number('maximum', 1e12), noNaN: true }));
    case 'boolean': return fc.boolean();
    case 'null': return fc.constant(null);
    case 'array': return fc.array(valid(spec, schema.items!, depth + 1), { minLength: number('minItems', 0), maxLength: Math.min(number('maxItems', 3), 3) });
    case 'object': {
      const entries = Object.entries(schema.properties ?? {});
      // Deeper objects hold fewer of what they need not hold.
      const keep = Object.fromEntries(entries.map(([name, s]) => [name, (schema.required ?? []).includes(name) ? valid(spec, s, depth + 1) : fc.option(valid(spec, s, depth + 1), { nil: undefined, freq: depth < 2 ? 2 : 1 })]));
      return fc.record(keep).map((o) => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)));
    }
    default: throw new Error(`the fuzzer does not know this schema: ${JSON.stringify(schema).slice(0, 200)}`);
  }
}

/** A value with one place in it changed to something else. */
export function spoilt(value: unknown): Arbitrary<unknown> {
  const places: (readonly (string | number)[])[] = [];
  const visit = (v: unknown, path: readonly (string | number)[]): void => {
    places.push(path);
    if (Array.isArray(v)) for (const [i, e] of v.entries()) visit(e, [...path, i]);
    else if (typeof v === 'object' && v !== null) for (const key of Object.keys(v)) visit((v as Record<string, unknown>)[key], [...path, key]);
  };
  visit(value, []);
  const change = (v: unknown, path: readonly (string | number)[], to: unknown, name: string | undefined): unknown => {
    if (path.length === 0) return name !== undefined && typeof v === 'object' && v !== null && !Array.isArray(v) ? { ...v, [name]: to } : to;
    const [key, ...rest] = path;
    if (Array.isArray(v)) return v.map((e, i) => (i === key ? change(e, rest, to, name) : e));
    return { ...(v as object), [key!]: change((v as Record<string | number, unknown>)[key!], rest, to, name) };
  };
  return fc.tuple(fc.constantFrom(...places), junk, fc.option(fc.constantFrom('zzUnknown', '__proto__x', 'grooveDiametr', 'a/b~c'), { nil: undefined })).map(([path, to, name]) => change(value, path, to, name));
}

export interface Made { readonly path: Record<string, string>; readonly query: [string, string][]; readonly headers: Record<string, string>; readonly body?: unknown }

/** A whole request of the operation: as the specification has it, or with something spoilt. */
export function request(spec: Spec, operation: SpecOperation): Arbitrary<Made> {
  const of = (place: Parameter['in']): Parameter[] => (operation.parameters ?? []).filter((p) => p.in === place);
  const values = (list: Parameter[]): Arbitrary<[string, string][]> =>
    fc.tuple(...list.map((p) => {
      const some = p.example === undefined ? valid(spec, p.schema) : fc.oneof({ weight: 2, arbitrary: fc.constant(p.example) }, { weight: 1, arbitrary: valid(spec, p.schema) });
      return (p.required || p.example !== undefined ? fc.option(some, { nil: undefined, freq: p.required ? 1000 : 12 }) : fc.option(some, { nil: undefined, freq: 1 })).map((v): [string, string][] => [v].flat().filter((x) => x !== undefined).map((x) => [p.name, String(x)]));
    })).map((lists) => lists.flat());
  const body = operation.requestBody?.content['application/json'] ?? Object.values(operation.requestBody?.content ?? {})[0];
  const good = body === undefined ? fc.constant(undefined) : body.example === undefined ? valid(spec, body.schema) : fc.oneof({ weight: 3, arbitrary: valid(spec, body.schema) }, { weight: 1, arbitrary: fc.constant(body.example) });
  const sent = good.chain((value) => (value === undefined ? fc.constant(value) : fc.oneof({ weight: 1, arbitrary: fc.constant(value) }, { weight: 1, arbitrary: spoilt(value) })));
  const path = values(of('path').map((p) => ({ ...p, required: true }))).map((pairs) => Object.fromEntries(pairs));
  const headers = values(of('header')).map((pairs) => Object.fromEntries(pairs));
  return fc.record({ path, query: values(of('query')), headers, body: sent });
}
