/** Contracts as JSON Schema for the specification. Every schema that has an id becomes one component, the same for what comes in and what goes out. */
import { z } from 'zod';

export type JsonSchema = { [key: string]: unknown };

export class Schemas {
  private readonly byId = new Map<string, JsonSchema>();

  /** The schema, its named parts as references. */
  convert(schema: z.ZodType, io: 'input' | 'output'): JsonSchema {
    const { $schema: _, $defs = {}, ...root } = z.toJSONSchema(schema, { io, target: 'draft-2020-12', unrepresentable: 'throw', override: tidy }) as JsonSchema & { $defs?: Record<string, JsonSchema> };
    for (const [id, part] of Object.entries($defs)) this.add(id, pointed(part) as JsonSchema);
    return pointed(root) as JsonSchema;
  }

  private add(id: string, { id: _, ...schema }: JsonSchema): void {
    const known = this.byId.get(id);
    if (known !== undefined && JSON.stringify(known) !== JSON.stringify(schema)) throw new Error(`two schemas are named ${id}: ${JSON.stringify(known)} and ${JSON.stringify(schema)}`);
    this.byId.set(id, schema);
  }

  components(): Record<string, JsonSchema> {
    return Object.fromEntries([...this.byId].toSorted(([a], [b]) => (a < b ? -1 : 1)));
  }
}

/** What a reader of the specification does not need: bounds of every whole number, patterns beside a format; and what would break one: answers closed to new fields. */
function tidy(context: { zodSchema: z.core.$ZodTypes; jsonSchema: JsonSchema }): void {
  const { jsonSchema, zodSchema } = context;
  if (jsonSchema['maximum'] === Number.MAX_SAFE_INTEGER) delete jsonSchema['maximum'];
  if (jsonSchema['minimum'] === Number.MIN_SAFE_INTEGER) delete jsonSchema['minimum'];
  if (jsonSchema['format'] !== undefined) delete jsonSchema['pattern'];
  if (zodSchema._zod.def.type === 'object' && zodSchema._zod.def.catchall === undefined) delete jsonSchema['additionalProperties'];
}

function pointed(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(pointed);
  if (typeof value !== 'object' || value === null) return value;
  return Object.fromEntries(Object.entries(value).map(([key, member]) => [key, key === '$ref' ? String(member).replace('#/$defs/', '#/components/schemas/') : pointed(member)]));
}
