/** A person never sees a word of the wire: every key and every choice of every result has its label. */
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { calculations } from '../../services/calculations/index.js';
import { asked, choiceOf, labelOf, labels } from '../../services/foundation/labels.js';
import { tell } from '../../services/foundation/telling.js';

interface Schema { $ref?: string; $defs?: Record<string, Schema>; enum?: string[]; const?: unknown; anyOf?: Schema[]; items?: Schema; properties?: Record<string, Schema> }
/** Shapes that are shown as one text. */
const shownWhole = new Set(['Quantity', 'QuantityValue', 'QuantityRange', 'Ratio', 'PlainNumber', 'NumberValue', 'NumberRange', 'YarnNumber', 'YarnNumberRange']);

/** Every key with the key above it, and every choice, that a result may hold. */
function words(result: z.ZodType): { keys: [string, string][]; choices: [string, string][] } {
  const root = z.toJSONSchema(result, { io: 'output' }) as Schema;
  const keys: [string, string][] = [];
  const choices: [string, string][] = [];
  const walk = (schema: Schema, key: string): void => {
    if (schema.$ref !== undefined) {
      const id = schema.$ref.split('/').at(-1)!;
      if (!shownWhole.has(id)) walk(root.$defs![id]!, key);
      return;
    }
    for (const value of [...(schema.enum ?? []), ...(typeof schema.const === 'string' ? [schema.const] : [])]) choices.push([key, value]);
    for (const one of schema.anyOf ?? []) walk(one, key);
    if (schema.items !== undefined) walk(schema.items, key);
    const properties = Object.entries(schema.properties ?? {});
    // The two ends of a range are shown as one text.
    if (properties.every(([name]) => name === 'low' || name === 'high')) return;
    for (const [name, inner] of properties) {
      keys.push([name, key]);
      walk(inner, name);
    }
  };
  walk(root, '');
  return { keys, choices };
}

describe.each(calculations.map((c) => [c.id, c] as const))('%s', (id, calculation) => {
  const { keys, choices } = words(calculation.contract.result);
  it('has a label for every key of its result', () => {
    expect(keys.length).toBeGreaterThan(3);
    expect(keys.filter(([key, above]) => labelOf(key, above) === undefined)).toEqual([]);
  });
  it('has a label for every choice of its result', () => {
    expect(choices.filter(([key, value]) => choiceOf(key, value) === undefined)).toEqual([]);
  });
  it('says its example with a number first and no word of the wire', () => {
    const told = tell(id, calculation.answer(calculation.contract.example).result);
    expect(told.numbers.length).toBeGreaterThan(0);
    expect(told.sentences.length).toBeGreaterThan(0);
    const said = JSON.stringify([told.label, told.sentences, told.parts.map((p) => [p.title, p.facts.map((f) => f.label), p.tables.map((t) => [t.title, t.heads])])]);
    expect(said).not.toMatch(/[a-z][A-Z]/);
    expect(JSON.stringify(told)).not.toMatch(/NaN|Infinity|undefined/);
  });
  it('labels each field in words', () => {
    for (const field of calculation.fields.list) {
      expect(field.label).toMatch(/^[A-Z]/);
      expect(`${field.label} ${field.hint ?? ''}`).not.toMatch(/\b[a-z]+[A-Z]/);
      for (const choice of field.choices ?? []) expect(choice.label).not.toBe('');
    }
  });
});

describe('labels', () => {
  it('are used: each key stands in some result', () => {
    const known = new Set(calculations.flatMap((c) => words(c.contract.result).keys.flatMap(([key, above]) => [key, `${above}/${key}`])));
    expect(Object.keys(labels).filter((key) => !known.has(key))).toEqual([]);
  });
  it('name places that results have', () => {
    for (const [id, list] of Object.entries(asked)) {
      const keys = new Set(words(calculations.find((c) => c.id === id)!.contract.result).keys.map(([key]) => key));
      for (const { at } of list) for (const step of at.split('/')) if (step !== '*' && !/^-?\d+$/.test(step)) expect(keys).toContain(step);
    }
  });
});
