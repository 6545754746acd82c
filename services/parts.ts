/** Zod of what every contract shares: quantities in and out, notes, sources, the envelope, problems, lists. Documentation and types; the reader of each room does the reading. */
import { z } from 'zod';
import { catalogue, mostIssues } from './foundation/problems.js';
import { kindNames, kinds, type Kind } from './foundation/quantity.js';

const optionalText = z.string().exactOptional();
const valueOf = z.number().describe('At full precision.');
const plusMinus = z.number().min(0).describe('Half-width at 95 % (k = 2, JCGM 100), in the same unit.');
const limits = z.number().min(0).describe('Half-width of a rectangular distribution, in the same unit. Instead of plusMinus.');
const low = z.number().describe('Lower end. Absent: no lower bound is known.');
const high = z.number().describe('Upper end. Absent: no upper bound is known.');
const text = z.string().describe('As a person reads it, rounded as far as it is known.');

// ---- in
const quantityText = z.string().min(1).max(200).describe('As people type it: 22 1/16 in, 560 mm, 520 ± 4 mm, 18-20 in, about 45 mm.');
export const quantityValueIn = z.strictObject({ value: z.number(), unit: z.string().max(60), plusMinus: plusMinus.exactOptional(), limits: limits.exactOptional(), text: optionalText })
  .meta({ id: 'QuantityValueIn', description: 'A number with its unit. Give plusMinus or limits, not both.' });
export const quantityRangeIn = z.strictObject({ low: low.exactOptional(), high: high.exactOptional(), unit: z.string().max(60), text: optionalText })
  .meta({ id: 'QuantityRangeIn', description: 'A range with its unit; one end may be missing.' });
export const quantityIn = z.union([quantityText, quantityValueIn, quantityRangeIn])
  .meta({ id: 'QuantityIn', description: 'A measure with its unit, never a bare number.', examples: ['560 mm', { value: 22, unit: 'in', plusMinus: 0.0625 }] });

const numberValueIn = z.strictObject({ value: z.number(), plusMinus: plusMinus.exactOptional(), limits: limits.exactOptional(), text: optionalText })
  .meta({ id: 'NumberValueIn', description: 'A number without a unit. Give plusMinus or limits, not both.' });
const numberRangeIn = z.strictObject({ low: low.exactOptional(), high: high.exactOptional(), text: optionalText })
  .meta({ id: 'NumberRangeIn', description: 'A range without a unit; one end may be missing.' });
export const ratioIn = z.union([z.number(), z.string().min(1).max(200), numberValueIn, numberRangeIn])
  .meta({ id: 'RatioIn', description: 'Turns of the driven part for one turn of the wheel: 9.5, 9:1, 7.5-8:1.', examples: ['9:1', 9.5] });
export const numberIn = z.union([z.number(), z.string().min(1).max(200), numberValueIn, numberRangeIn])
  .meta({ id: 'NumberIn', description: 'A number without a unit: 10, 10 ± 0.5, 8-12.', examples: [10, '10 ± 0.5'] });

/** A measure of this kind as an input, with its units said. */
export const quantityInOf = (kind: Kind, what: string): typeof quantityIn =>
  quantityIn.describe(`${what}. ${kinds[kind].says[0]!.toUpperCase()}${kinds[kind].says.slice(1)} with its unit: ${kinds[kind].units.map((u) => u.name).join(', ')}.`);

export const bagTest = z.strictObject({ lifts: quantityInOf('pull', 'The heaviest bag that it lifts'), pullsOff: quantityInOf('pull', 'The lightest bag that pulls yarn off'), woundDiameter: quantityInOf('part', 'Yarn on the bobbin, across').exactOptional() })
  .meta({ id: 'BagTest', description: 'A small soft bag on the leader over the orifice: what the wheel lifts, turned slowly by hand, and what pulls yarn off, the wheel held.' });

// ---- out
export const quantityValue = z.object({ value: valueOf, unit: z.string(), plusMinus: plusMinus.exactOptional(), text })
  .meta({ id: 'QuantityValue', description: 'A number with its unit.' });
export const quantityRange = z.object({ low: low.exactOptional(), high: high.exactOptional(), unit: z.string(), text })
  .meta({ id: 'QuantityRange', description: 'Only a range is known.' });
export const quantity = z.union([quantityValue, quantityRange]).meta({ id: 'Quantity', description: 'A quantity in an answer: a number, or a range where only that is known.' });
export const numberValue = z.object({ value: valueOf, plusMinus: plusMinus.exactOptional(), text })
  .meta({ id: 'NumberValue', description: 'A number without a unit.' });
export const numberRange = z.object({ low: low.exactOptional(), high: high.exactOptional(), text })
  .meta({ id: 'NumberRange', description: 'Only a range is known; no unit.' });
export const ratio = z.union([numberValue, numberRange]).meta({ id: 'Ratio', description: 'Turns for one turn of the wheel; its text ends in “: 1”.' });
export const plainNumber = z.union([numberValue, numberRange]).meta({ id: 'PlainNumber', description: 'A number without a unit in an answer.' });

// ---- notes, sources, envelope
export const assumption = z.object({ code: z.string(), text: z.string(), range: optionalText.describe('Within which it may be otherwise.'), effect: optionalText.describe('What changes if it is otherwise.') })
  .meta({ id: 'Assumption', description: 'What was taken for granted.' });
export const warning = z.object({ code: z.string().describe('An open set: new codes may come.'), text: z.string() }).meta({ id: 'Warning', description: 'Something to look at. With strict=true it is an error.' });
export const caution = z.object({ code: z.string(), text: z.string() }).meta({ id: 'Caution', description: 'A safety line: show it above the number that it belongs to.' });
export const source = z.object({
  id: z.string(), title: z.string(), author: optionalText, year: z.int().min(1500).max(2100).exactOptional(),
  locator: optionalText.describe('Where in it: clause, table, equation.'), erratum: optionalText,
}).meta({ id: 'Source', description: 'A published source.' });
export const model = z.object({ id: z.string(), version: z.string().describe('Moves with every change of a number.') }).meta({ id: 'Model', description: 'Which model gave the numbers; see /v1/models.' });

const envelopes = new WeakMap<z.ZodType, z.ZodType>();
/** The envelope of every answer, as the component `id`. One result has one envelope. */
export function envelope(id: string, result: z.ZodType): z.ZodType {
  let made = envelopes.get(result);
  if (made === undefined) {
    made = z.object({
      result, assumptions: z.array(assumption), warnings: z.array(warning), cautions: z.array(caution), sources: z.array(source), model,
    }).meta({ id, description: 'An answer with all that belongs to it.' });
    envelopes.set(result, made);
  }
  return made;
}

// ---- problems
const codes = Object.keys(catalogue) as (keyof typeof catalogue)[];
export const issue = z.object({
  pointer: optionalText.describe('JSON pointer into the body.'), parameter: optionalText.describe('Or the parameter of the address.'),
  code: z.enum(codes), detail: z.string(), received: optionalText.describe('What was read.'), expected: optionalText,
  try: optionalText.describe('What to send instead: a value, or a whole corrected link.'),
}).meta({ id: 'Issue', description: 'One thing to mend.' });
export const problem = z.object({
  type: z.string().describe('Address of the page that explains it: /problems/{code}.'), title: z.string(), status: z.int().min(400).max(599), detail: z.string(),
  instance: optionalText.describe('The address that was asked.'), requestId: optionalText, errors: z.array(issue).max(mostIssues).exactOptional(),
}).meta({ id: 'Problem', description: 'Every failure, as RFC 9457 has it.', examples: [{ type: '/problems/not-found', title: catalogue['not-found'].title, status: 404, detail: catalogue['not-found'].meaning }] });

// ---- lists
/** A page of a list, as the component `id`. */
export const listOf = <Item extends z.ZodType>(id: string, item: Item, what = 'One page of a list.') =>
  z.object({ items: z.array(item), next: optionalText.describe('Cursor of the next page; absent on the last.') }).meta({ id, description: what });

export const unitsParameter = z.string().max(400).describe(`Units of the answer: metric (default), imperial, or by kind: metric,twist:turns/in,grist:yd/lb. Kinds: ${kindNames.join(', ')}.`);
export const strictParameter = z.enum(['true', 'false']).describe('true: be refused rather than warned.');
