/** What a drive band takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { plainNumber, quantity, quantityInOf } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import * as words from '../../wheels/words.js';
import type { DriveBandQuestion, DriveBandResult } from './answer.js';

const flag = z.union([z.boolean(), z.enum(['true', 'false'])]);
export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(),
  axleDistance: quantityInOf('part', 'Wheel axle to flyer shaft').exactOptional(), bandLength: quantityInOf('length', 'Length of a band; the distance that it needs is found').exactOptional(),
  measuredInside: flag.exactOptional().describe('The band was measured with a tape laid inside.'), crossed: flag.exactOptional().describe('A single band, crossed.'),
  direction: z.enum(['S', 'Z']).exactOptional(), wheelIs: z.enum(words.wheelPlaces).exactOptional(),
  offsets: z.strictObject({ wheelToWhorl: quantityInOf('part', 'First wheel groove to the whorl, sideways').exactOptional(), wheelToBobbin: quantityInOf('part', 'First wheel groove to the bobbin groove, sideways').exactOptional(), betweenWheelGrooves: quantityInOf('part', 'Between the wheel’s two grooves').exactOptional() })
    .meta({ id: 'GrooveOffsets', description: 'How far grooves lie aside of each other.' }).exactOptional(),
  stretch: quantityInOf('share', 'How far the band has stretched').exactOptional(), screwPitch: quantityInOf('part', 'One turn of the tension screw').exactOptional(), cordStiffness: quantityInOf('cord-stiffness', 'Stiffness of the cord (EA)').exactOptional(), tightenBy: quantityInOf('pull', 'By how much to tighten').exactOptional(),
}).meta({ id: 'DriveBandQuestion', description: 'A wheel, and either its distance from axle to flyer or the length of a band.' });

export const result = z.object({
  kind: z.enum(['open', 'crossed', 'doubled']),
  bands: z.array(z.object({
    whorl: z.string().exactOptional(), bobbin: z.string().exactOptional(), groove: z.string().exactOptional(), axleDistance: quantity, length: quantity.describe('Along the middle of the band.'), insideLength: quantity.exactOptional().describe('As a tape laid inside reads.'), cuttingLength: quantity,
    lengthPerTravel: plainNumber.describe('Band taken up for each unit of travel.'), wheelWrap: quantity, whorlWrap: quantity.exactOptional(), bobbinWrap: quantity.exactOptional(), whorlRun: quantity.exactOptional(), bobbinRun: quantity.exactOptional(),
    whorlBandAboveRim: quantity.exactOptional().describe('How far the band stands above the whorl’s rim; less than 0 where it lies below.'), bobbinBandAboveRim: quantity.exactOptional(),
    fleetAngles: z.object({ wheelToBobbin: quantity, wheelToWhorl: quantity }).meta({ id: 'FleetAngles', description: 'How far runs go aside.' }).exactOptional(),
    adjustment: z.object({
      tensionPerScrewTurn: quantity, tensionPerTravel: quantity.exactOptional(), screwTravel: quantity.exactOptional(), screwTurns: plainNumber.exactOptional(), stretchTravel: quantity.exactOptional(), stretchScrewTurns: plainNumber.exactOptional(), travelFromFirst: quantity.exactOptional().describe('From where the first whorl needs the flyer to where this one does, with the same band.'),
    }).meta({ id: 'BandAdjustment', description: 'What moving the flyer does.' }),
  }).meta({ id: 'BandAnswer', description: 'The band with one whorl or pair.' })),
  range: z.object({ shortest: quantity, longest: quantity }).meta({ id: 'BandRange', description: 'Bands between the flyer’s nearest and farthest place.' }).exactOptional(),
  cord: z.object({ greatestTension: quantity, smallestPulley: quantity }).meta({ id: 'CordLimits', description: 'What a urethane cord of this thickness bears.' }).exactOptional(),
  crossing: z.array(z.object({ run: z.enum(['lower', 'upper', 'left', 'right']), direction: z.enum(['S', 'Z']), wheelIs: z.enum(words.wheelPlaces) }).meta({ id: 'BandCrossing', description: 'The run on which the one crossing lies: the run that leaves the wheel.' })).exactOptional(),
}).meta({ id: 'DriveBandResult', description: 'How long the band is, and what moves it.' });
void ((r: DriveBandResult): z.input<typeof result> => r);
void ((q: DriveBandQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: {
    wheel: {
      name: 'Thornmere 4', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm', material: 'cotton' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }],
      bobbins: [{ name: 'plain', grooves: [{ name: 'end', grooveDiameter: '48 mm' }] }], wheelIs: 'right',
    },
    axleDistance: '500 mm', direction: 'Z',
  },
  exampleQuery: 'drive=double-drive&driveWheel=560mm&band=2mm&material=cotton&whorl=60mm&bobbin=48mm&axleDistance=500mm&wheelIs=right&direction=Z',
} as const;
