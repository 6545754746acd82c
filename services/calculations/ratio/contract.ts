/** What a drive ratio takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf, ratio, ratioIn } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import type { RatioQuestion, RatioResult } from './answer.js';

const drawIn = z.enum(['bobbin-leads', 'flyer-leads', 'too-close-to-say']).describe('Which turns faster; flyer-leads winds on backwards, weakly.');
const agreement = z.enum(['agrees', 'slip', 'recheck']);
const count = z.strictObject({
  whorl: z.string().max(80).exactOptional(), bobbin: z.string().max(80).exactOptional(), wheelTurns: numberIn, flyerTurns: numberIn.exactOptional(), bobbinTurns: numberIn.exactOptional(),
}).meta({ id: 'Count', description: 'Turns counted by hand: ten slow turns of the wheel, yarn off.' });

export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(),
  counts: z.array(count).max(48).exactOptional(), treadling: quantityInOf('turning', 'Treadles').exactOptional(), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(),
  wanted: z.array(ratioIn).max(24).exactOptional().describe('Ratios for which a groove is to be found.'), wantedFlyerSpeed: quantityInOf('turning', 'A flyer speed').exactOptional(),
}).meta({ id: 'RatioQuestion', description: 'A wheel, or counted turns, or both.' });

export const result = z.object({
  whorls: z.array(z.object({
    name: z.string(), flyerRatio: ratio, bareRatio: ratio.exactOptional().describe('With no band thickness.'), flyerSpeed: quantity.exactOptional(), treadlingNeeded: quantity.exactOptional(),
  }).meta({ id: 'WhorlRatio' })).exactOptional(),
  bobbins: z.array(z.object({
    name: z.string(), groove: z.string(), bobbinRatio: ratio, bareRatio: ratio.exactOptional(), bobbinSpeed: quantity.exactOptional(), treadlingNeeded: quantity.exactOptional(),
  }).meta({ id: 'BobbinRatio' })),
  pairs: z.array(z.object({
    whorl: z.string(), bobbin: z.string(), groove: z.string(), bobbinPerFlyerTurn: plainNumber, bobbinGainPerWheelTurn: plainNumber.exactOptional(), flyerTurnsPerLap: plainNumber.exactOptional(), drawIn,
  }).meta({ id: 'PairRatio', description: 'What a whorl and a bobbin groove of a double drive do together.' })),
  counts: z.array(z.object({
    whorl: z.string().exactOptional(), bobbin: z.string().exactOptional(), counted: ratio.exactOptional(), measured: ratio.exactOptional(), agreement: agreement.exactOptional(), slip: plainNumber.exactOptional(),
    combined: ratio.exactOptional().describe('Weighted mean of both, where they agree.'), bobbinCounted: ratio.exactOptional(), bobbinMeasured: ratio.exactOptional(), bobbinAgreement: agreement.exactOptional(),
    bobbinSlip: plainNumber.exactOptional(), bobbinPerFlyerTurn: plainNumber.exactOptional(), drawIn: drawIn.exactOptional(),
  }).meta({ id: 'CountAnswer' })),
  wanted: z.array(z.object({
    ratio, grooveDiameter: quantity.exactOptional().describe('Where the band sits, of the whorl (of the bobbin on a bobbin-lead wheel).'),
    driveWheels: z.array(z.object({ whorl: z.string(), grooveDiameter: quantity }).meta({ id: 'WantedDriveWheel' })).exactOptional(),
    comparedWith: z.array(z.object({ whorl: z.string(), times: plainNumber.describe('Effective size beside this whorl: groove plus band.') }).meta({ id: 'WantedComparison' })).exactOptional(),
  }).meta({ id: 'WantedRatio' })),
  flyerSpeed: quantity.exactOptional().describe('Of an electric flyer.'),
}).meta({ id: 'RatioResult', description: 'Ratios of whorls and bobbins, what the pairs do, counts reconciled, grooves for wanted ratios.' });

/** What the answer gives, the schema holds; what the schema takes, the question holds. */
void ((r: RatioResult): z.input<typeof result> => r);
void ((q: RatioQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: {
    wheel: {
      name: 'Thornmere 4', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }],
      whorls: [{ name: 'small', grooveDiameter: '60 mm' }], bobbins: [{ name: 'plain', grooves: [{ name: 'end', grooveDiameter: '48 mm' }] }],
    },
    treadling: '60/min',
  },
  exampleQuery: 'drive=double-drive&driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm&treadling=60/min',
} as const;
