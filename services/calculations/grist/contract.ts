/** What a grist takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf } from '../../parts.js';
import { fibreIds } from '../../reference/fibres.js';
import { preparations, wrappings } from '../../reference/wraps.js';
import { yarnNumberUnits, type GristQuestion, type GristResult } from './answer.js';

export const question = z.strictObject({
  grist: quantityInOf('grist', 'Grist').exactOptional(), length: quantityInOf('length', 'Length of a skein').exactOptional(), mass: quantityInOf('mass', 'Weight of that length').exactOptional(),
  windings: numberIn.exactOptional(), circumference: quantityInOf('length', 'One turn of the winder').exactOptional(), finishedCircumference: quantityInOf('length', 'One turn after washing').exactOptional(),
  wraps: quantityInOf('wraps', 'Wraps').exactOptional(), wrapping: z.enum(wrappings).exactOptional(), wrapFactor: numberIn.exactOptional(),
  balanceLength: quantityInOf('part', 'Length that balances; inches unless balanceArm is given').exactOptional(), balanceArm: quantityInOf('mass', 'Weight of the arm').exactOptional(),
  balanceReference: quantityInOf('grist', 'Grist of the yarn on the other side').exactOptional(), balanceReferenceLength: quantityInOf('part', 'Its length').exactOptional(),
  diameter: quantityInOf('part', 'Thickness of the yarn').exactOptional(), fibre: z.string().max(40).describe(`One of ${fibreIds.join(', ')}.`).exactOptional(), preparation: z.enum(preparations).exactOptional(),
  fibreDiameter: quantityInOf('fibre-diameter', 'Thickness of a fibre').exactOptional(), fibreDiameterSpread: quantityInOf('share', 'Its coefficient of variation').exactOptional(),
  lengthLost: quantityInOf('share', 'Length lost in washing').exactOptional(), regain: quantityInOf('share', 'Regain when weighed').exactOptional(), regainWanted: quantityInOf('share', 'Regain wanted').exactOptional(),
  stock: quantityInOf('mass', 'How much there is').exactOptional(), scaleStep: quantityInOf('mass', 'Step of the scale').exactOptional(), within: quantityInOf('share', 'How near the grist should be').exactOptional(),
}).meta({ id: 'GristQuestion', description: 'A yarn by any one of: grist, length and mass, windings and mass, wraps, balance reading, diameter.' });

const ends = z.object({ low: z.number().exactOptional(), high: z.number().exactOptional() }).meta({ id: 'YarnNumberRange', description: 'Only a range is known.' });
const yarnNumber = z.union([z.number(), ends]).meta({ id: 'YarnNumber', description: 'The grist in one system.' });
const three = z.object({ packed: quantity, ruler: quantity, loose: quantity }).meta({ id: 'ByWrapping', description: 'For each way of wrapping.' });
const yarnNumberShape = Object.fromEntries(Object.entries(yarnNumberUnits).map(([key, unit]) => [key, yarnNumber.describe(unit)])) as Record<keyof typeof yarnNumberUnits, typeof yarnNumber>;

export const result = z.object({
  grist: quantity, yarnNumbers: z.object(yarnNumberShape).meta({ id: 'YarnNumbers', description: 'The grist in every system.' }),
  diameter: quantity.exactOptional(), wraps: three.exactOptional(),
  categories: z.array(z.object({ set: z.string(), category: z.string() }).meta({ id: 'YarnCategory', description: 'A band that the yarn falls into, and whose set it is.' })).exactOptional(),
  fibresInSection: plainNumber.exactOptional(), readings: three.exactOptional().describe('The grist by each way of wrapping, when it was not said.'), wrapFactor: plainNumber.exactOptional().describe('Wraps per inch over √(yd/lb), measured on this yarn.'),
  plies: z.number().exactOptional(), singles: quantity.exactOptional().describe('Grist of one strand, without take-up.'), length: quantity.exactOptional(), finishedLength: quantity.exactOptional(), lengthLost: quantity.exactOptional(),
  finishedGrist: quantity.exactOptional(), atRegain: z.object({ grist: quantity, mass: quantity.exactOptional() }).meta({ id: 'AtRegain', description: 'At the regain that was wanted.' }).exactOptional(),
  stockLength: quantity.exactOptional(), leastSample: quantity.exactOptional(),
}).meta({ id: 'GristResult', description: 'The grist, every yarn number, and what else follows from what was given.' });
void ((r: GristResult): z.input<typeof result> => r);
void ((q: GristQuestion): z.input<typeof question> => q);

export const contract = { question, result, example: { length: '254 yd', mass: '2.125 oz' }, exampleQuery: 'length=254yd&mass=2.125oz' } as const;
