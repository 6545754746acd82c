/** What a twist takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf, ratio, ratioIn } from '../../parts.js';
import { fibreIds } from '../../reference/fibres.js';
import { preparations } from '../../reference/wraps.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import { staples, twistUses } from '../../reference/twists.js';
import { plyBackStates, unwounds, yarnStates, type TwistQuestion, type TwistResult } from './answer.js';
import { factorSystems, type FactorSystem } from './formula.js';
import { contractionWays } from './says.js';

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
  plyBackState: z.enum(plyBackStates).exactOptional(), untwistTurns: numberIn.exactOptional().describe('Turns to untwist the specimen.'), retwistTurns: numberIn.exactOptional().describe('Counter after untwisting and twisting the other way.'), gaugeLength: quantityInOf('part', 'Length of the specimen before untwisting').exactOptional(), untwistedLength: quantityInOf('part', 'Its length once untwisted').exactOptional(),
  length: quantityInOf('length', 'Length of the twisted yarn').exactOptional(), contractionFactor: numberIn.exactOptional().describe('Untwisted over twisted length.'), use: z.enum(twistUses).exactOptional().describe('What the yarn is for, in tables of twist.'), staple: z.enum(staples).exactOptional(),
  state: z.enum(yarnStates).exactOptional().describe('State in which the twist was measured.'), restingLost: quantityInOf('share', 'Length lost from wheel to rest').exactOptional(),
}).meta({ id: 'TwistQuestion', description: 'All but one of ratio, wheel turns, draft length and twist; or a twist by another way.' });

const factor = z.union([z.number(), z.object({ low: z.number().exactOptional(), high: z.number().exactOptional() }).meta({ id: 'FactorRange', description: 'Only a range is known.' })]).meta({ id: 'TwistFactorValue', description: 'A twist factor in one system.' });
export const result = z.object({
  solvedFor: z.enum(['twist', 'ratio', 'wheelTurns', 'draftLength', 'flyerTurns', 'flyerSpeed', 'drawSpeed', 'treadling', 'nothing']).describe('What was found; nothing when all was given.'),
  twist: quantity.exactOptional(), ratio: ratio.exactOptional(), wheelTurns: plainNumber.exactOptional(), flyerTurns: plainNumber.exactOptional(), draftLength: quantity.exactOptional(), draftLengthPerWheelTurn: quantity.exactOptional(),
  flyerSpeed: quantity.exactOptional(), drawSpeed: quantity.exactOptional(), treadling: quantity.exactOptional(), angle: quantity.exactOptional().describe('Surface angle, from the yarn’s axis.'),
  twistFactor: z.object(Object.fromEntries(systems.map((s) => [s, factor])) as Record<FactorSystem, typeof factor>).meta({ id: 'TwistFactors', description: 'The twist factor in every system.' }).exactOptional(),
  direction: z.enum(['S', 'Z']).exactOptional(), texFactor: plainNumber.exactOptional().describe('Turns in a metre times √tex, with its ±.'), measuringPull: quantity.exactOptional().describe('Pull to measure the specimen under, 0.5 cN/tex.'),
  states: z.array(z.object({ state: z.enum(yarnStates), twist: quantity }).meta({ id: 'TwistInState', description: 'The twist in one of the three states of a yarn.' })).exactOptional(),
  classes: z.array(z.object({ set: z.string(), class: z.string() }).meta({ id: 'TwistClassName', description: 'A class that the twist falls into, and whose set it is.' })).exactOptional(),
  recommended: z.array(z.object({ use: z.string(), staple: z.enum(staples).exactOptional(), factor: plainNumber, factorIn: z.enum(systems), twist: quantity.exactOptional(), within: z.enum(['yes', 'no', 'in-part']).exactOptional() }).meta({ id: 'RecommendedTwist', description: 'A range from a published table.' })).exactOptional(),
  shortening: z.array(z.object({ by: z.enum(contractionWays), shorter: quantity.describe('Of the untwisted length.'), factor: plainNumber.describe('Untwisted over twisted length.'), untwistedGrist: quantity.exactOptional(), untwistedLength: quantity.exactOptional() }).meta({ id: 'TwistShortening', description: 'How much shorter twist makes a single, by one model.' })).exactOptional(),
  greatestTwist: z.object({ angle: quantity, shorter: quantity, twist: quantity.exactOptional().describe('In a metre before twisting.'), factor: plainNumber.exactOptional() }).meta({ id: 'GreatestTwist', description: 'The most that a strand of this thickness takes.' }).exactOptional(),
  consistency: z.object({ twist: quantity.describe('What the other measures give.'), difference: quantity }).meta({ id: 'TwistConsistency', description: 'When all was given: do they agree?' }).exactOptional(),
  finishedTwist: quantity.exactOptional(), bumpsPerLength: z.object({ bumps: plainNumber, over: quantity }).meta({ id: 'BumpsPerLength', description: 'Bumps along one edge.' }).exactOptional(),
  twistLost: quantity.exactOptional(), angleLost: quantity.exactOptional(), afterUnwinding: quantity.exactOptional(),
  whorls: z.array(z.object({ name: z.string(), ratio, twist: quantity.exactOptional(), draftLength: quantity.exactOptional(), wheelTurns: plainNumber.exactOptional(), nearest: z.boolean().exactOptional() }).meta({ id: 'WhorlTwist', description: 'The same wish on one whorl.' })).exactOptional(),
}).meta({ id: 'TwistResult', description: 'The twist, and what else follows from what was given.' });
void ((r: TwistResult): z.input<typeof result> => r);
void ((q: TwistQuestion): z.input<typeof question> => q);

export const contract = { question, result, example: { ratio: '14:1', wheelTurns: 2, draftLength: '3 in' }, exampleQuery: 'ratio=14&wheelTurns=2&draftLength=3in' } as const;
