/** The table of operations: one function each, and the client that has them all as methods. */
import { nameOf, NotKnown, type Json, type Parameter, type Spec, type SpecOperation } from './spec.js';

interface Made { readonly name: string; readonly doc: string; readonly args: string; readonly argsText: string; readonly needsArgs: boolean; readonly body?: string; readonly reply: string; readonly row: string; readonly places: readonly string[]; readonly kind: 'call' | 'rows'; readonly pages?: { readonly cursor: string; readonly item: string } }

const upper = (name: string): string => name[0]!.toUpperCase() + name.slice(1);
const quoted = (text: string): string => `'${text.replaceAll('\\', '\\\\').replaceAll('\'', '\\\'')}'`;
export const commented = (text: string, indent = ''): string => {
  const lines = text.replaceAll('*/', '*\\/').split('\n');
  return lines.length === 1 ? `${indent}/** ${lines[0]} */\n` : `${indent}/**\n${lines.map((line) => `${indent} * ${line}\n`).join('')}${indent} */\n`;
};
/** Headers that an argument stands for. The run time sees to the idempotency key; what else may be sent goes into `headers`. */
const headerArguments: Readonly<Record<string, string>> = { 'If-Match': 'ifMatch' };
const ownHeaders = ['Idempotency-Key', 'If-None-Match'];

/** The type of an argument: what stands in an address is text, a number, true or false, or several of them. */
function argumentType(schema: Json, at: string): string {
  if (Array.isArray(schema['enum'])) {
    const words = schema['enum'] as string[];
    return words.join() === 'true,false' ? 'boolean' : words.map(quoted).join(' | ');
  }
  switch (schema['type']) {
    case 'string': return 'string';
    case 'integer': case 'number': return 'number';
    case 'boolean': return 'boolean';
    case 'array': {
      const one = argumentType(schema['items'] as Json, at);
      return `${one} | readonly ${one.includes(' ') ? `(${one})` : one}[]`;
    }
    default: throw new NotKnown(at, `an argument that is ${JSON.stringify(schema)}`);
  }
}

function argument(parameter: Parameter, at: string): { name: string; text: string; required: boolean; header?: string } | undefined {
  if (parameter.in === 'header' && ownHeaders.includes(parameter.name)) return undefined;
  const name = parameter.in === 'header' ? headerArguments[parameter.name] : parameter.name;
  if (name === undefined || !/^[a-z]\w*$/i.test(name)) throw new NotKnown(at, `the ${parameter.in} parameter ${parameter.name}`);
  const required = parameter.required === true;
  const example = parameter.example === undefined ? '' : `\n@example ${JSON.stringify(parameter.example)}`;
  const doc = parameter.description === undefined && example === '' ? '' : commented(`${parameter.description ?? ''}${example}`.trim(), '  ');
  return { name, required, text: `${doc}  readonly ${name}${required ? '' : '?'}: ${argumentType(parameter.schema, at)};\n`, ...(parameter.in === 'header' ? { header: parameter.name } : {}) };
}

const referenced = (schema: Json, at: string): string => {
  if (typeof schema['$ref'] !== 'string') throw new NotKnown(at, 'a body that is not a named component');
  return nameOf(schema['$ref']);
};

function make(spec: Spec, path: string, method: string, operation: SpecOperation): Made {
  const at = `#/paths${path}/${method}`;
  const { operationId: name, parameters = [], requestBody, responses } = operation;
  const args = parameters.flatMap((parameter) => argument(parameter, at) ?? []);
  if (new Set(args.map((a) => a.name)).size !== args.length) throw new NotKnown(at, 'two arguments of one name');
  const inPath = [...path.matchAll(/\{(\w+)\}/g)].map(([, n]) => n!);
  const declared = parameters.filter((p) => p.in === 'path').map((p) => p.name);
  if (inPath.toSorted().join() !== declared.toSorted().join()) throw new NotKnown(at, 'a path whose parameters are not those that are declared');

  let body: string | undefined;
  let sends = 'application/json';
  if (requestBody !== undefined) {
    const [[mediaType, media], ...others] = Object.entries(requestBody.content) as [[string, { schema: Json }], ...[string, { schema: Json }][]];
    sends = mediaType;
    // A file goes out as it is: which of its kinds it is, the caller says in content-type.
    if ([[mediaType, media] as const, ...others].every(([type, { schema }]) => !/[/+]json$/.test(type) && schema['type'] === 'string')) body = 'Upload';
    else if (others.length > 0 || !/[/+]json$/.test(mediaType)) throw new NotKnown(at, `a body that is ${Object.keys(requestBody.content).join(' or ')}`);
    else body = `${requestBody.required === true ? '' : 'undefined | '}${referenced(media.schema, at)}`;
  }
  const good = Object.entries(responses).filter(([status]) => /^2\d\d$/.test(status));
  const kinds = good.flatMap(([, reply]) => Object.entries(reply.content ?? {}));
  const media = new Set(kinds.map(([mediaType]) => mediaType));
  if (good.length === 0 || media.size > 1) throw new NotKnown(at, 'an operation that answers with none or several kinds');
  for (const [status, reply] of good) if ((reply.content === undefined) !== (status === '204')) throw new NotKnown(at, `status ${status} with or without a body`);
  const [accept] = media;
  const isRows = accept !== undefined && accept.endsWith('ndjson');
  const isJson = accept !== undefined && accept.endsWith('json') && !isRows;
  const replies = [...new Set(kinds.map(([, m]) => (isJson || isRows ? referenced(m.schema, at) : 'string')))];
  if (good.some(([, reply]) => reply.content === undefined)) replies.push('undefined');
  const keyed = parameters.some((p) => p.in === 'header' && p.name === 'Idempotency-Key');
  const again = method === 'get' || (method === 'post' && operation.tags.includes('Calculations'));
  const places = [...(inPath.length === 0 ? [] : ['inPath']), ...(args.some((a) => a.header !== undefined) ? ['ifMatch'] : []), ...(keyed ? ['keyed'] : [])];
  const row = `{ id: ${quoted(name)}, method: ${quoted(method.toUpperCase())}, path: ${quoted(path)}${accept === 'application/json' ? '' : `, accept: ${quoted(accept ?? '*/*')}`}${sends === 'application/json' ? '' : `, sends: ${quoted(sends)}`}${again ? ', again: true' : ''}${places.length === 0 ? '' : `, place: ${places.length === 1 ? places[0]! : `both(${places.join(', ')})`}`} }`;
  const cursor = parameters.find((p) => p.in === 'query' && (p.name === 'after' || p.name === 'cursor'))?.name;
  const properties = isJson ? (spec.components.schemas[replies[0]!] as { properties?: Json }).properties : undefined;
  if (cursor !== undefined && properties?.['next'] === undefined) throw new NotKnown(at, 'a cursor without a next');
  const pages = cursor === undefined ? undefined : { cursor, item: itemOf(spec, replies[0]!, at) };
  const said = operation.description === undefined ? operation.summary : operation.description.startsWith(operation.summary) ? operation.description : `${operation.summary}. ${operation.description}`;
  return {
    name, args: `${upper(name)}Args`, argsText: args.map((a) => a.text).join(''), needsArgs: args.some((a) => a.required), ...(body === undefined ? {} : { body }), reply: replies.join(' | '), row, places: places.length > 1 ? [...places, 'both'] : places,
    kind: isRows ? 'rows' : 'call', ...(pages === undefined ? {} : { pages }),
    doc: `${said.replace(/([^.])$/, '$1.')} \`${method.toUpperCase()} ${path}\`${operation.deprecated === true ? '\n@deprecated' : ''}`,
  };
}

function itemOf(spec: Spec, reply: string, at: string): string {
  const list = spec.components.schemas[reply] as { properties?: { items?: { items?: Json } } };
  if (list.properties?.items?.items === undefined) throw new NotKnown(at, 'a list without items');
  return referenced(list.properties.items.items, at);
}

const typesOf = (made: readonly Made[]): Set<string> => new Set(made.flatMap((m) => [m.body?.replace('undefined | ', ''), ...m.reply.split(' | '), m.pages?.item].filter((t): t is string => t !== undefined && t !== 'Upload' && /^[A-Z]/.test(t))));
const allName = (name: string): string => `all${upper(name.replace(/^list/, ''))}`;
const signature = (made: Made, optionalArgs: string): string => `${made.body === undefined ? '' : `body: ${made.body}, `}args${made.needsArgs ? `: ${made.args}` : optionalArgs.replace('ARGS', made.args)}, options?: CallOptions`;
const handed = (made: Made): string => `${made.body === undefined ? '' : 'body, '}args, options`;

export function operationsOf(spec: Spec): readonly Made[] {
  return Object.entries(spec.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => make(spec, path, method, operation)));
}

export function operationsText(made: readonly Made[], banner: string): string {
  const types = typesOf(made);
  const upload = made.some((m) => m.body === 'Upload') ? ', Upload' : '';
  const streams = [made.some((m) => m.pages !== undefined) ? 'items' : '', made.some((m) => m.kind === 'rows') ? 'rows' : ''].filter((s) => s !== '');
  const places = [...new Set(made.flatMap((m) => m.places))].toSorted();
  const parts = made.map((m) => {
    const args = m.argsText === '' ? `export type ${m.args} = Readonly<Record<string, never>>;\n` : `export interface ${m.args} {\n${m.argsText}}\n`;
    const rest = `${m.row}, args, options${m.body === undefined ? '' : ', body'}`;
    const one = m.kind === 'rows'
      ? `export const ${m.name} = (transport: Transport, ${signature(m, ': ARGS = {}')}): AsyncGenerator<${m.reply}, void, undefined> =>\n  rows<${m.reply}>(transport, ${rest});\n`
      : `export const ${m.name} = (transport: Transport, ${signature(m, ': ARGS = {}')}): Call<${m.reply}> =>\n  transport.call(${rest});\n`;
    const all = m.pages === undefined ? '' : `${commented(`${m.doc.split(' `')[0]} Every item, page after page.`)}export const ${allName(m.name)} = (transport: Transport, ${signature(m, ': ARGS = {}')}): AsyncGenerator<${m.pages.item}, void, undefined> =>\n  items((${m.pages.cursor}) => ${m.name}(transport, ${m.pages.cursor} === undefined ? args : { ...args, ${m.pages.cursor} }, options), args.${m.pages.cursor});\n`;
    return `${args}${commented(m.doc)}${one}${all}`;
  });
  return `${banner}import type { Transport } from './client.js';\nimport type { Call, CallOptions${upload} } from './options.js';\n${streams.length === 0 ? '' : `import { ${streams.join(', ')} } from './streams.js';\n`}${places.length === 0 ? '' : `import { ${places.join(', ')} } from './places.js';\n`}import type { ${[...types].toSorted().join(', ')} } from './types.gen.js';\n\n${parts.join('\n')}`;
}

export function clientText(made: readonly Made[], banner: string): string {
  const types = typesOf(made);
  const upload = made.some((m) => m.body === 'Upload') ? ', Upload' : '';
  const methods = made.map((m) => {
    const what = m.kind === 'rows' ? `AsyncGenerator<${m.reply}, void, undefined>` : `Call<${m.reply}>`;
    const argsType = signature(m, '?: ARGS').replace(m.args, `operations.${m.args}`);
    const one = `${commented(m.doc, '  ')}  ${m.name}(${argsType}): ${what} { return operations.${m.name}(this.transport, ${handed(m)}); }\n`;
    const all = m.pages === undefined ? '' : `${commented(`${m.doc.split(' `')[0]} Every item, page after page.`, '  ')}  ${allName(m.name)}(${argsType}): AsyncGenerator<${m.pages.item}, void, undefined> { return operations.${allName(m.name)}(this.transport, ${handed(m)}); }\n`;
    return one + all;
  });
  return `${banner}import { Transport } from './client.js';\nimport * as operations from './operations.gen.js';\nimport type { Call, CallOptions, TransportOptions${upload} } from './options.js';\nimport type { ${[...types].toSorted().join(', ')} } from './types.gen.js';\n
/** The service, with every operation as a method. Where size matters, hand a \`Transport\` to the operation's own function instead. */
export class Wheelgrist {
  readonly transport: Transport;
  constructor(options: TransportOptions) { this.transport = new Transport(options); }

${methods.join('')}}
`;
}
