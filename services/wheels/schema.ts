/** Zod of the Wheel as it is posted: for the specification and for types. Reading is profile.ts. */
import { z } from 'zod';
import { quantityIn, quantityInOf, ratioIn } from '../parts.js';
import type { Wheel } from './profile.js';
import { most } from './profile.js';
import * as words from './words.js';

const name = (of: string) => z.string().min(1).max(80).describe(of);
const grooveShape = {
  grooveDiameter: quantityIn.exactOptional().describe('Across the groove, where the band sits; the band’s thickness is then added.'),
  grooveCircumference: quantityIn.exactOptional().describe('Round the groove, where the band sits; the band’s thickness is then added.'),
  bandTurn: quantityIn.exactOptional().describe('One turn of the drive band itself, mark to mark: nothing to add.'),
  shape: z.enum(words.shapes).exactOptional().describe('Shape of the groove.'),
  angle: quantityIn.exactOptional().describe('The whole angle of a V.'),
  openingWidth: quantityIn.exactOptional().describe('Width of the groove at the rim.'),
  flatWidth: quantityIn.exactOptional().describe('Width of a flat bottom.'),
  measuredAt: z.enum(words.measuredAts).exactOptional().describe('Where it was measured; seat when left out.'),
  tapeThickness: quantityIn.exactOptional().describe('Thickness of the tape that took the circumference.'),
};
const stated = { statedRatio: ratioIn.exactOptional().describe('What is stamped on it.') };
export const groove = z.strictObject(grooveShape).meta({ id: 'Groove', description: 'A groove, measured in one of three ways.' });
export const band = z.strictObject({ thickness: quantityInOf('part', 'Thickness of the band').exactOptional(), material: z.enum(words.materials).exactOptional() }).meta({ id: 'Band', description: 'A drive band.' });
const brake = z.strictObject({
  on: z.enum(['bobbin', 'flyer']), ...grooveShape, springs: z.enum(['none', 'one-end', 'both-ends']).exactOptional(), springSide: z.enum(['tight', 'slack']).exactOptional(),
}).meta({ id: 'Brake', description: 'The brake of a flyer-lead or bobbin-lead wheel.' });
const whorl = z.strictObject({
  name: name('Defaults to whorl 1, whorl 2, …').exactOptional(), flyer: name('The flyer that it belongs to.').exactOptional(), thread: z.enum(['left-hand', 'right-hand', 'none']).exactOptional(), ...grooveShape, ...stated,
}).meta({ id: 'Whorl', description: 'A whorl of the flyer, or of the spindle.' });
const bobbin = z.strictObject({
  name: name('Defaults to bobbin 1, bobbin 2, …').exactOptional(), flyer: name('The flyer that it belongs to.').exactOptional(),
  grooves: z.array(z.strictObject({ name: name('Such as wide end.').exactOptional(), ...grooveShape, ...stated }).meta({ id: 'BobbinGroove', description: 'A groove of a bobbin.' })).max(most.grooves).exactOptional(),
  coreDiameter: quantityIn.exactOptional().describe('The empty shaft.'), endDiameter: quantityIn.exactOptional().describe('Across the ends.'),
  fullDiameter: quantityIn.exactOptional().describe('How far it is wound; 4 mm below the rim when left out.'), lengthBetweenEnds: quantityIn.exactOptional(), mass: quantityInOf('mass', 'Weight of the empty bobbin').exactOptional(),
}).meta({ id: 'Bobbin', description: 'A bobbin; a convertible one has two grooves, a bobbin-lead one several.' });
export const wheelShape = {
  name: z.string().min(1).max(120).exactOptional(),
  style: z.enum(words.styles).exactOptional().describe('Description only.'),
  driveWheel: groove.exactOptional().describe('None on an electric spinner.'),
  stages: z.array(z.strictObject({ driven: groove.describe('The groove that the wheel’s band sits in.'), driving: groove.describe('The groove that drives on.'), band: band.exactOptional() }).meta({ id: 'Stage', description: 'An accelerating head.' })).max(most.stages).exactOptional(),
  modes: z.array(z.strictObject({ drive: z.string().max(40).describe(`One of ${words.drives.join(', ')}; scotch-tension and irish-tension are read too.`), band: band.exactOptional(), brake: brake.exactOptional() }).meta({ id: 'Mode', description: 'One way in which the wheel can run.' })).max(most.modes).exactOptional().describe('Every way in which this wheel can run; the first is the default.'),
  whorls: z.array(whorl).max(most.whorls).exactOptional(),
  bobbins: z.array(bobbin).max(most.bobbins).exactOptional(),
  flyers: z.array(z.strictObject({ name: name('Parts that name a flyer pair only with parts of the same.'), orificeDiameter: quantityIn.exactOptional(), mass: quantityIn.exactOptional(), inertia: quantityIn.exactOptional() }).meta({ id: 'Flyer', description: 'A flyer.' })).max(most.flyers).exactOptional(),
  axleToFlyer: z.strictObject({ nearest: quantityIn.exactOptional(), farthest: quantityIn.exactOptional() }).meta({ id: 'AxleToFlyer', description: 'Wheel axle to flyer shaft.' }).exactOptional(),
  wheelIs: z.enum(words.wheelPlaces).exactOptional().describe('Where the wheel is from the flyer, seen by the spinner.'),
  turnedBy: z.enum(words.turnedBys).exactOptional(),
  flyerSpeed: z.strictObject({ slowest: quantityIn.exactOptional(), fastest: quantityIn.exactOptional() }).meta({ id: 'FlyerSpeed', description: 'Speeds of an electric flyer.' }).exactOptional(),
  condition: z.enum(words.conditions).exactOptional().describe('do-not-run blocks set-ups.'),
};
export const wheel = z.strictObject(wheelShape).meta({ id: 'Wheel', description: 'The profile of a wheel.' });
/** Whatever the interface holds, the schema takes. */
void ((w: Wheel): z.input<typeof wheel> => w);
export const driveIn = z.string().max(40).describe(`One of ${words.drives.join(', ')}; scotch-tension and irish-tension are read too.`);
