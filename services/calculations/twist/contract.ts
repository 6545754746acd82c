/** What a twist takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf, ratio, ratioIn } from '../../parts.js';
import { fibreIds } from '../../reference/fibres.js';
import { preparations } from '../../reference/wraps.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import { unwounds, type TwistQuestion, type TwistResult } from './answer.js';
import { factorSystems, type FactorSystem } from './formula.js';

const systems = Object.keys(factorSystems) as [FactorSystem, ...FactorSystem[]];
export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(),
  whorl: z.string().max(80).exactOptional().describe('Name of a whorl of that wheel.'), bobbin: z.string().max(80).exactOptional().describe('Name of a bobbin of that wheel (bobbin-lead).'),
  ratio: ratioIn.exactOptional(), wheelTurns: numberIn.exactOptional(), treadles: numberIn.exactOptional(), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), flyerTurns: numberIn.exactOptional(),
  draftLength: quantityInOf('part', 'Length drafted in those turns').exactOptional(), twist: quantityInOf('twist', 'Twist').exactOptional(), finishedTwist: quantityInOf('twist', 'Twist after washing').exactOptional(),
  lengthLost: quantityInOf('share', 'Length lost in washing').exactOptional(), bumps: numberIn.exactOptional(), bumpsOver: quantityInOf('part', 'Length over which bumps were counted').exactOptional(), plies: numberIn.exactOptional(),
  plyBack: quantityInOf('twist', 'Twist of a fresh ply-back').exactOptional(), angle: quantityInOf('angle', 'Angle from the axis').exactOptional(), angleBefore: quantityInOf('angle', 'Angle before setting').exactOptional(),
  twistFactor: numberIn.exactOptional(), twistFactorIn: z.enum(systems).exactOptional(), grist: quantityInOf('grist', 'Grist').exactOptional(), diameter: quantityInOf('part', 'Thickness of the yarn').exactOptional(),
  yarnDensity: quantityInOf('density', 'Density of the yarn').exactOptional(), fibre: z.string().max(40).describe(`One of ${fibreIds.join(', ')}.`).exactOptional(), preparation: z.enum(preparations).exactOptional(),
  direction: z.enum(['S', 'Z']).exactOptional(), woundDiameter: quantityInOf('part', 'Yarn on the bobbin, across').exactOptional(), unwound: z.enum(unwounds).exactOptional(),
  treadling: quantityInOf('turning', 'Treadles').exactOptional(), flyerSpeed: quantityInOf('turning', 'Speed of the flyer').exactOptional(), drawSpeed: quantityInOf('speed', 'Yarn made in a time').exactOptional(), share: quantityInOf('share', 'Share of that time spent twisting').exactOptional(),
}).meta({ id: 'TwistQuestion', description: 'All but one of ratio, wheel turns, draft length and twist; or a twist by another way.' });

const factor = z.union([z.number(), z.object({ low: z.number().exactOptional(), high: z.number().exactOptional() }).meta({ id: 'FactorRange', description: 'Only a range is known.' })]).meta({ id: 'TwistFactorValue', description: 'A twist factor in one system.' });
export const result = z.object({
  solvedFor: z.enum(['twist', 'ratio', 'wheelTurns', 'draftLength', 'flyerTurns', 'flyerSpeed', 'drawSpeed', 'treadling', 'nothing']).describe('What was found; nothing when all was given.'),
  twist: quantity.exactOptional(), ratio: ratio.exactOptional(), wheelTurns: plainNumber.exactOptional(), flyerTurns: plainNumber.exactOptional(), draftLength: quantity.exactOptional(), draftLengthPerWheelTurn: quantity.exactOptional(),
  flyerSpeed: quantity.exactOptional(), drawSpeed: quantity.exactOptional(), treadling: quantity.exactOptional(), angle: quantity.exactOptional().describe('Surface angle, from the yarn’s axis.'),
  twistFactor: z.object(Object.fromEntries(systems.map((s) => [s, factor])) as Record<FactorSystem, typeof factor>).meta({ id: 'TwistFactors', description: 'The twist factor in every system.' }).exactOptional(),
  direction: z.enum(['S', 'Z']).exactOptional(),
  consistency: z.object({ twist: quantity.describe('What the other measures give.'), difference: quantity }).meta({ id: 'TwistConsistency', description: 'When all was given: do they agree?' }).exactOptional(),
  finishedTwist: quantity.exactOptional(), bumpsPerLength: z.object({ bumps: plainNumber, over: quantity }).meta({ id: 'BumpsPerLength', description: 'Bumps along one edge.' }).exactOptional(),
  twistLost: quantity.exactOptional(), angleLost: quantity.exactOptional(), afterUnwinding: quantity.exactOptional(),
  whorls: z.array(z.object({ name: z.string(), ratio, twist: quantity.exactOptional(), draftLength: quantity.exactOptional(), wheelTurns: plainNumber.exactOptional(), nearest: z.boolean().exactOptional() }).meta({ id: 'WhorlTwist', description: 'The same wish on one whorl.' })).exactOptional(),
}).meta({ id: 'TwistResult', description: 'The twist, and what else follows from what was given.' });
void ((r: TwistResult): z.input<typeof result> => r);
void ((q: TwistQuestion): z.input<typeof question> => q);

export const contract = { question, result, example: { ratio: '14:1', wheelTurns: 2, draftLength: '3 in' }, exampleQuery: 'ratio=14&wheelTurns=2&draftLength=3in' } as const;
