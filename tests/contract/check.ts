/** Whether a reply is what the specification says of it. */
import { Ajv2020 } from 'ajv/dist/2020.js';
import type { LightMyRequestResponse } from 'fastify';
import { expect } from 'vitest';
import { leaks, problemIn } from '../support/http.js';
import type { Schema, Spec, SpecOperation } from './requests.js';

/** A whole OpenAPI document is not described again in itself. */
const openByNature = 'An OpenAPI 3.1 document.';

/** The schemas with every object closed: a reply that holds more than is declared fails here, though clients must take it. */
function closed(schema: unknown): unknown {
  if (Array.isArray(schema)) return schema.map(closed);
  if (typeof schema !== 'object' || schema === null) return schema;
  const o = Object.fromEntries(Object.entries(schema).map(([key, value]) => [key, key === 'example' || key === 'examples' ? value : closed(value)]));
  return o['type'] === 'object' && o['properties'] !== undefined && o['additionalProperties'] === undefined && o['description'] !== openByNature ? { ...o, additionalProperties: false } : o;
}

export function checker(spec: Spec): (operation: SpecOperation, reply: LightMyRequestResponse, what: string) => void {
  const ajv = new Ajv2020({ strict: false, allErrors: false, validateFormats: false });
  ajv.addSchema({ $id: 'spec', components: closed(spec.components) });
  const compiled = new Map<string, ReturnType<typeof ajv.compile>>();
  const validatorOf = (schema: Schema) => {
    const text = JSON.stringify(closed(schema)).replaceAll('"#/components', '"spec#/components');
    let validator = compiled.get(text);
    if (validator === undefined) compiled.set(text, (validator = ajv.compile(JSON.parse(text) as object)));
    return validator;
  };
  return (operation, reply, what) => {
    const declared = operation.responses[String(reply.statusCode)];
    if (declared === undefined) throw new Error(`${what}: ${reply.statusCode} is not declared; ${reply.body.slice(0, 300)}`);
    if (reply.statusCode >= 500 && reply.statusCode !== 503) throw new Error(`${what}: ${reply.statusCode} ${reply.body.slice(0, 300)}`);
    expect(reply.headers['request-id']).toBeTruthy();
    const page = operation.tags.includes('Pages') && String(reply.headers['content-type']).startsWith('text/html');
    if (reply.statusCode >= 400 && !page) problemIn(reply);
    else if (reply.body.length < 1_000_000 && leaks.test(reply.body.replaceAll('undefined', '')) && /node_modules|FST_ERR|\bat [\w.<>]+ \(/.test(reply.body)) throw new Error(`${what}: ${reply.body.slice(0, 300)}`);
    if (declared.content === undefined) {
      expect(reply.body).toBe('');
      return;
    }
    const mediaType = String(reply.headers['content-type']).split(';')[0]!;
    const content = declared.content[mediaType];
    if (content === undefined) throw new Error(`${what}: ${mediaType} is not declared for ${reply.statusCode}`);
    if (!/json$/.test(mediaType)) return;
    const validate = validatorOf(content.schema);
    // NDJSON: every line is what the specification says of one.
    for (const text of mediaType.endsWith('ndjson') ? reply.body.split('\n').filter((line) => line !== '') : [reply.body]) {
      if (!validate(JSON.parse(text))) throw new Error(`${what}: ${JSON.stringify(validate.errors)} ${text.slice(0, 600)}`);
    }
  };
}
