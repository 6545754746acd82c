/** What a take-up takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { bagTest, numberIn, plainNumber, quantity, quantityInOf } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import type { TakeUpQuestion, TakeUpResult } from './answer.js';

export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(), steps: numberIn.exactOptional().describe('Points from empty to full: 2 to 101, 3 when left out.'),
  treadling: quantityInOf('turning', 'Treadles').exactOptional(), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), draftLength: quantityInOf('part', 'Length drafted').exactOptional(), wheelTurns: numberIn.exactOptional(), treadles: numberIn.exactOptional(),
  grist: quantityInOf('grist', 'Grist').exactOptional(), twist: quantityInOf('twist', 'Twist that is wanted').exactOptional(), packageDensity: quantityInOf('density', 'Density of the yarn on the bobbin').exactOptional(),
  wound: quantityInOf('length', 'Yarn already on the bobbin').exactOptional(), flyerSpeed: quantityInOf('turning', 'Speed of an electric flyer').exactOptional(), drawSpeed: quantityInOf('speed', 'Yarn made in a time').exactOptional(),
  bagTest: bagTest.exactOptional(),
}).meta({ id: 'TakeUpQuestion', description: 'A wheel with its bobbins, and how it is spun on.' });

const fillShape = {
  woundDiameter: quantity, woundLength: quantity.exactOptional(), mostDrawnInPerWheelTurn: quantity.exactOptional().describe('The most it can draw in per treadle; absent where there is no ceiling.'), mostDrawnInSpeed: quantity.exactOptional(),
  leastTwist: quantity.exactOptional().describe('The softest twist this pair can make.'), insertedTwist: quantity.exactOptional(), flyerTurnsPerWheelTurn: plainNumber.exactOptional(), bobbinTurnsPerWheelTurn: plainNumber.exactOptional(), bobbinSpeed: quantity.exactOptional(),
  pull: z.object({ drawingIn: quantity, held: quantity, pullingOff: quantity }).meta({ id: 'Pull', description: 'Pull on the yarn: drawing in and pulling off at the hand, held at the bobbin.' }).exactOptional(),
};
const fill = z.object({ fill: z.number().exactOptional().describe('0 empty, 1 full: how far up the ends the yarn stands.'), ...fillShape }).meta({ id: 'FillPoint', description: 'One point between empty and full.' });
export const result = z.object({
  pairs: z.array(z.object({
    whorl: z.string().exactOptional(), bobbin: z.string(), groove: z.string().exactOptional(), drawIn: z.enum(['bobbin-leads', 'flyer-leads', 'too-close-to-say']).exactOptional(), bobbinPerFlyerTurn: plainNumber.exactOptional(), fill: z.array(fill),
    wound: fill.exactOptional().describe('With the yarn that is on it now.'), reachesTwistFrom: quantity.exactOptional().describe('Diameter from which the wanted twist can be made.'),
    capacity: z.object({ length: quantity.exactOptional(), mass: quantity }).meta({ id: 'Capacity', description: 'What the bobbin holds.' }),
  }).meta({ id: 'PairTakeUp', description: 'One pair from empty to full.' })),
}).meta({ id: 'TakeUpResult', description: 'What each pair can draw in, from empty to full.' });
void ((r: TakeUpResult): z.input<typeof result> => r);
void ((q: TakeUpQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: {
    wheel: {
      name: 'Thornmere 4', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }],
      bobbins: [{ name: 'plain', grooves: [{ name: 'end', grooveDiameter: '48 mm' }], coreDiameter: '22 mm', endDiameter: '75 mm', fullDiameter: '75 mm', lengthBetweenEnds: '90 mm' }],
    },
    treadling: '60/min', draftLength: '150 mm', wheelTurns: 1, grist: '100 tex', steps: 3,
  },
  exampleQuery: 'drive=double-drive&driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm&core=22mm&end=75mm&full=75mm&lengthBetweenEnds=90mm&steps=3&treadling=60/min&draftLength=150mm&wheelTurns=1&grist=100tex',
} as const;
