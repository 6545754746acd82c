/** What a sample takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf, ratio, ratioIn } from '../../parts.js';
import { fibreIds } from '../../reference/fibres.js';
import { yarnStates } from '../../reference/states.js';
import { wrappings } from '../../reference/wraps.js';
import type { SampleQuestion, SampleResult } from './answer.js';
import { differs, directions, nearEnoughs, whats } from './compare.js';

const several = (item: z.ZodType, says: string) => z.array(item).max(100).exactOptional().describe(says);
export const question = z.strictObject({
  skeins: several(quantityInOf('grist', 'A piece: a grist, or a length with its weight such as 20 yd/3.1 g'), 'The sample, weighed once or several times.'), wrapCounts: several(quantityInOf('wraps', 'Wraps of the sample'), 'Its wraps, counted once or several times.'), wrapping: z.enum(wrappings).exactOptional(),
  twistCounts: several(quantityInOf('twist', 'Twist of the sample'), 'Its twist, counted once or several times.'), wantedGrist: quantityInOf('grist', 'Grist wanted').exactOptional(), wantedWraps: quantityInOf('wraps', 'Wraps wanted, counted the same way').exactOptional(), wantedTwist: quantityInOf('twist', 'Twist wanted').exactOptional(), within: quantityInOf('share', 'How near is near enough').exactOptional(),
  grist: quantityInOf('grist', 'Grist of the sample').exactOptional(), length: quantityInOf('length', 'Length of the sample').exactOptional(), mass: quantityInOf('mass', 'Its weight').exactOptional(), scaleStep: quantityInOf('mass', 'Step of the scale').exactOptional(), windings: numberIn.exactOptional(), circumference: quantityInOf('length', 'One turn of the winder').exactOptional(),
  balanceLength: quantityInOf('part', 'Length that balances').exactOptional(), balanceArm: quantityInOf('mass', 'Weight of the arm').exactOptional(), diameter: quantityInOf('part', 'Thickness of the yarn').exactOptional(), wrapFactor: numberIn.exactOptional(), fibre: z.string().max(40).describe(`One of ${fibreIds.join(', ')}.`).exactOptional(),
  spread: quantityInOf('share', 'Coefficient of variation of several measurements').exactOptional(), measurements: numberIn.exactOptional().describe('How many they were.'),
  bumps: numberIn.exactOptional(), bumpsOver: quantityInOf('part', 'Length over which bumps were counted').exactOptional(), plies: numberIn.exactOptional(), plyBack: quantityInOf('twist', 'Twist of a fresh ply-back').exactOptional(), untwistTurns: numberIn.exactOptional().describe('Turns to untwist the specimen.'), gaugeLength: quantityInOf('part', 'Length of the specimen').exactOptional(), angle: quantityInOf('angle', 'Angle from the axis').exactOptional(),
  state: z.enum(yarnStates).exactOptional().describe('State in which the sample was measured.'), wantedState: z.enum(yarnStates).exactOptional().describe('State for which the wanted measures are meant; that of the sample when left out.'), restingLost: quantityInOf('share', 'Length lost from wheel to rest').exactOptional(), lengthLost: quantityInOf('share', 'Length lost in washing').exactOptional(), massLost: quantityInOf('share', 'Weight lost in washing').exactOptional(),
  ratio: ratioIn.exactOptional(), otherRatios: z.array(ratioIn).max(24).exactOptional().describe('Of the other whorls.'), treadles: numberIn.exactOptional().describe('Treadles for each draw.'), draftLength: quantityInOf('part', 'Length of each draw').exactOptional(),
}).meta({ id: 'SampleQuestion', description: 'A sample as it was measured, once or several times, what it should be, and how it was spun.' });

const repeats = z.object({ count: plainNumber, spread: quantity, standardError: quantity, halfWidth: quantity.describe('At 95 %, by Student’s t.') }).meta({ id: 'SampleRepeats', description: 'How the measurements spread.' });
export const result = z.object({
  compared: z.array(z.object({
    what: z.enum(whats), measured: quantity.describe('In the state that was wanted.'), wanted: quantity, off: quantity.describe('The difference as a share of what is wanted.'), direction: z.enum(directions),
    differs: z.enum(differs).describe('Whether the difference is more than the measurements leave open, at 95 %.'), nearEnough: z.enum(nearEnoughs).exactOptional(), repeats: repeats.exactOptional(),
    measurementsNeeded: plainNumber.exactOptional().describe('In all, to tell.'), measurementsMore: plainNumber.exactOptional().describe('Beyond those that were made.'),
  }).meta({ id: 'SampleCompared', description: 'One measure against what is wanted.' })),
  toChange: z.object({
    draftFactor: plainNumber.exactOptional().describe('The same fibre, drawn out to so many times the length.'), fibreFactor: plainNumber.exactOptional().describe('The fibre let into the same draw, times what it was.'),
    twist: quantity.exactOptional().describe('To aim at.'), turnsFactor: plainNumber.exactOptional(), treadles: plainNumber.exactOptional(), wholeTreadles: z.object({ treadles: plainNumber, twist: quantity }).meta({ id: 'WholeTreadles', description: 'The nearest whole number of treadles.' }).exactOptional(),
    draftLength: quantity.exactOptional().describe('Instead, with the same treadles.'), ratio: ratio.exactOptional().describe('Instead, with the same draw.'), whorl: z.object({ ratio, twist: quantity, treadles: plainNumber.exactOptional() }).meta({ id: 'OtherWhorl', description: 'The whorl that comes nearest: the twist that it gives with the same draw, and the treadles that make it right.' }).exactOptional(),
    asStrands: z.object({ count: plainNumber, grist: quantity }).meta({ id: 'SampleStrands', description: 'So many strands of this yarn make the thickness.' }).exactOptional(),
  }).meta({ id: 'SampleChange', description: 'What to change, by proportion. Any one of treadles, length of the draw and ratio brings the twist.' }).exactOptional(),
}).meta({ id: 'SampleResult', description: 'Each measure against what is wanted, and what to change.' });
void ((r: SampleResult): z.input<typeof result> => r);
void ((q: SampleQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: { skeins: ['20 yd/3.4 g', '20 yd/3.2 g', '20 yd/3.5 g', '20 yd/3.3 g'], wantedGrist: '2800 yd/lb', twistCounts: ['7 turns/in', '8 turns/in', '7.5 turns/in'], wantedTwist: '9 turns/in', ratio: '9:1', otherRatios: ['7:1', '11:1'], treadles: 3, draftLength: '3 in' },
  exampleQuery: 'skeins=20+yd/3.4+g&skeins=20+yd/3.2+g&skeins=20+yd/3.5+g&skeins=20+yd/3.3+g&wantedGrist=2800+yd/lb&twistCounts=7+turns/in&twistCounts=8+turns/in&twistCounts=7.5+turns/in&wantedTwist=9+turns/in&ratio=9:1&otherRatios=7:1&otherRatios=11:1&treadles=3&draftLength=3+in',
} as const;
