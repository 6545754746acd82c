/** What a ply takes and gives, for the specification. Reading is solve.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf, ratio, ratioIn } from '../../parts.js';
import { fibreIds } from '../../reference/fibres.js';
import { preparations } from '../../reference/wraps.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import type { PlyQuestion, PlyResult } from './answer.js';
import { balanceRules, balanceStates } from './balance.js';
import { contractionFroms, contractionWays } from './solve.js';
import { constructions, mostPlies } from './strands.js';
import { reaches } from './wheel.js';

const letter = z.enum(['S', 'Z']);
const single = z.strictObject({
  name: z.string().max(80).exactOptional(), grist: quantityInOf('grist', 'Grist').exactOptional(), length: quantityInOf('length', 'Length').exactOptional(), mass: quantityInOf('mass', 'Weight').exactOptional(), twist: quantityInOf('twist', 'Twist').exactOptional(),
  direction: letter.exactOptional(), angle: quantityInOf('angle', 'Twist angle, from the axis').exactOptional(), diameter: quantityInOf('part', 'Thickness').exactOptional(),
}).meta({ id: 'Single', description: 'A strand: two of grist, length and mass; its twist and direction.' });
export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(), whorl: z.string().max(80).exactOptional().describe('Name of a whorl of that wheel.'), bobbin: z.string().max(80).exactOptional().describe('Name of a bobbin of that wheel.'),
  ratio: ratioIn.exactOptional(), wheelTurns: numberIn.exactOptional(), treadles: numberIn.exactOptional(), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), draftLength: quantityInOf('part', 'Length plied in one draw').exactOptional(), woundDiameter: quantityInOf('part', 'Yarn on the bobbin, across').exactOptional(),
  singles: z.array(single).max(mostPlies).exactOptional().describe('One entry for all strands alike, or one for each.'), plies: numberIn.exactOptional(), construction: z.enum(constructions).exactOptional(),
  plyTwist: quantityInOf('twist', 'Ply twist, counted on the plied yarn').exactOptional(), bumps: numberIn.exactOptional(), bumpsOver: quantityInOf('part', 'Length over which bumps were counted').exactOptional(), plyDirection: letter.exactOptional(),
  plyGrist: quantityInOf('grist', 'Grist of the plied yarn').exactOptional(), plyLength: quantityInOf('length', 'Length of the plied yarn').exactOptional(), plyMass: quantityInOf('mass', 'Weight of the plied yarn').exactOptional(),
  contraction: quantityInOf('share', 'Length that plying takes; may be less than 0').exactOptional(), contractionOf: z.enum(contractionWays).exactOptional().describe('singles (default): share of the singles’ length. plied: extra for each length of plied yarn.'),
  endsLost: quantityInOf('share', 'More for loops, ends and samples').exactOptional(), bobbinsOfSingles: numberIn.exactOptional(), cablePlies: numberIn.exactOptional(), cableTwist: quantityInOf('twist', 'Twist of the cable').exactOptional(), cableDirection: letter.exactOptional(),
  yarnDensity: quantityInOf('density', 'Density of the yarn').exactOptional(), fibre: z.string().max(40).describe(`One of ${fibreIds.join(', ')}.`).exactOptional(), preparation: z.enum(preparations).exactOptional(), stiffnessRatio: numberIn.exactOptional().describe('Bending over torsional stiffness of a single; 1 to 1.3 when left out.'),
  fibreDiameter: quantityInOf('fibre-diameter', 'Thickness of a fibre').exactOptional(), fibresInSection: numberIn.exactOptional(), torque: quantityInOf('torque', 'Torque of a single').exactOptional(),
}).meta({ id: 'PlyQuestion', description: 'Singles, or a plied yarn, or both; and how they are plied.' });

const balance = z.object({
  ratio: plainNumber.describe('Ply twist over that of the singles, as far as the rules go.'), plyTwist: quantity.exactOptional(), singlesTwist: quantity.exactOptional(), plied: plainNumber.exactOptional().describe('As it was plied.'), state: z.enum(balanceStates).exactOptional(),
  rules: z.array(z.object({ rule: z.enum(balanceRules), basis: z.string().describe('Where the rule comes from.'), ratio: plainNumber, plyTwist: quantity.exactOptional(), singlesTwist: quantity.exactOptional(), plyAngle: quantity.exactOptional() }).meta({ id: 'BalanceRule', description: 'One rule for a balanced ply.' })),
}).meta({ id: 'PlyBalance', description: 'Where a ply balances by every rule: a range. Sample and wet-test.' });
const strand = z.object({
  name: z.string(), grist: quantity.exactOptional(), twist: quantity.exactOptional(), direction: letter.exactOptional(), twistLeft: quantity.exactOptional().describe('In the plied yarn, a metre of the strand; less than 0: turned the other way.'), untwisted: z.boolean().exactOptional(),
  length: quantity.exactOptional(), mass: quantity.exactOptional(), leftOver: quantity.exactOptional(),
}).meta({ id: 'PlyStrand', description: 'One strand in the ply.' });
export const result = z.object({
  construction: z.enum(constructions), plies: z.number(), plyDirection: letter.exactOptional(), wheelTurns: plainNumber.exactOptional().describe('Turns of the wheel for one draw.'), treadles: plainNumber.exactOptional().describe('Treadles for one draw, each foot counted.'), draftLengthPerWheelTurn: quantity.exactOptional(),
  plied: z.object({ grist: quantity.exactOptional(), length: quantity.exactOptional(), mass: quantity.exactOptional(), twist: quantity.exactOptional(), angle: quantity.exactOptional() }).meta({ id: 'PliedYarn', description: 'The plied yarn.' }),
  singles: quantity.exactOptional().describe('Grist of a strand; the mean, in tex, where they differ.'), contraction: quantity.exactOptional().describe('Share of the singles’ length that plying takes; less than 0 where it gains.'), extra: quantity.exactOptional().describe('The same as extra singles for each length of plied yarn.'), contractionFrom: z.enum(contractionFroms).exactOptional(),
  contractions: z.array(z.object({ model: z.enum(['lengthening', 'fixed-length', 'measured']), contraction: quantity, grist: quantity.exactOptional() }).meta({ id: 'ContractionModel', description: 'Contraction and plied grist by one model.' })).exactOptional(),
  strands: z.array(strand).exactOptional(), balance: balance.exactOptional(),
  tightest: z.object({ angle: quantity, crosswise: quantity, share: quantity, radius: plainNumber, mostTwist: quantity.exactOptional(), perStrand: plainNumber, perPly: plainNumber }).meta({ id: 'TightestPly', description: 'The tightest ply that touching strands allow: it neither twists nor untwists under a pull.' }).exactOptional(),
  yardage: z.object({ byTheRule: quantity, eachStrand: quantity, singlesLength: quantity, withEnds: quantity.exactOptional(), perBobbin: quantity.exactOptional(), singlesMass: quantity.exactOptional() }).meta({ id: 'PlyYardage', description: 'Singles for so much plied yarn.' }).exactOptional(),
  cable: z.object({ plies: z.number(), strandsInAll: z.number(), direction: letter.exactOptional(), grist: quantity.exactOptional(), twist: quantity.exactOptional(), contraction: quantity.exactOptional(), angle: quantity.exactOptional(), plyTwistLeft: quantity.exactOptional(), balance: balance.exactOptional() }).meta({ id: 'Cable', description: 'Plied yarns plied again.' }).exactOptional(),
  snarl: z.object({ leastTension: quantity, torque: quantity, fibres: plainNumber }).meta({ id: 'Snarl', description: 'What keeps a fresh single from snarling.' }).exactOptional(),
  pairs: z.array(z.object({ whorl: z.string().exactOptional(), bobbin: z.string().exactOptional(), groove: z.string().exactOptional(), ratio, wheelTurns: plainNumber.exactOptional(), plyTwist: quantity.exactOptional(), draftLengthPerWheelTurn: quantity.exactOptional(), leastTwistEmpty: quantity.exactOptional(), leastTwistFull: quantity.exactOptional(), reach: z.enum(reaches).exactOptional() }).meta({ id: 'PlyPair', description: 'Plying on one whorl or pair of the wheel.' })).exactOptional(),
  rooms: z.array(z.object({ bobbin: z.string(), holds: quantity, fits: z.enum(['yes', 'no', 'too-close-to-say']) }).meta({ id: 'PlyRoom', description: 'Whether the plied yarn fits on a bobbin.' })).exactOptional(),
}).meta({ id: 'PlyResult', description: 'The plied yarn, its strands, and where it balances.' });
void ((r: PlyResult): z.input<typeof result> => r);
void ((q: PlyQuestion): z.input<typeof question> => q);

export const contract = {
  question, result, example: { singles: [{ grist: '50 tex', twist: '450 turns/m', direction: 'Z' }], plies: 2, plyTwist: '300 turns/m', plyDirection: 'S', fibre: 'wool', ratio: '9:1', draftLength: '600 mm' },
  exampleQuery: 'singlesGrist=50tex&singlesTwist=450/m&singlesDirection=Z&plies=2&plyTwist=300/m&plyDirection=S&fibre=wool&ratio=9:1&draftLength=600mm',
} as const;
