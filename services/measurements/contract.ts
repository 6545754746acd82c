/** Zod of the doors of measurements: for the specification and for types. Reading is measurement.ts. */
import { z } from 'zod';
import { assumption, listOf, numberIn, plainNumber, quantity, quantityIn, quantityInOf, ratio, warning } from '../parts.js';
import { wheel } from '../wheels/schema.js';
import { methods, parts, whats } from './measurement.js';

const name = (what: string) => z.string().min(1).max(80).describe(what).exactOptional();
const shape = {
  what: z.enum(whats).describe('What was measured. diameter, circumference, band-turn (one turn of the band itself, mark to mark) take part and size; counted-turns take wheelTurns with flyerTurns or bobbinTurns; lap-count takes flyerTurns and laps; band-length takes size; bag-test takes lifts and pullsOff; coast-down takes runs.'),
  part: z.enum(parts).exactOptional().describe('The part whose size it is.'),
  drive: name('The way in which the wheel ran; its first when left out.'), whorl: name('Its name in the profile; needed where there are several.'), bobbin: name('Its name in the profile; needed where there are several.'), bobbinEnd: name('Its groove, where it has several: its name, or groove 1, groove 2, …'), flyer: name('Its name in the profile.'),
  stage: z.int().min(1).max(4).exactOptional().describe('Stage of an accelerating head; 1 is the one that the wheel drives.'),
  size: quantityIn.exactOptional().describe('The length that was measured.'), tapeThickness: quantityIn.exactOptional().describe('Thickness of the tape that took a circumference.'), measuredInside: z.boolean().exactOptional().describe('The length of a band was taken with a tape laid where the band lies.'),
  wheelTurns: numberIn.exactOptional().describe('Turns of the wheel.'), flyerTurns: numberIn.exactOptional().describe('Turns of the flyer, counted.'), bobbinTurns: numberIn.exactOptional().describe('Turns of the bobbin, counted.'),
  laps: numberIn.exactOptional().describe('Laps of yarn wound in those turns of the flyer: turns that a double drive’s bobbin gains on it.'), windsOn: z.enum(['forwards', 'backwards']).exactOptional().describe('backwards: the bobbin fell behind the flyer.'),
  lifts: quantityInOf('pull', 'The heaviest bag that it lifts').exactOptional(), pullsOff: quantityInOf('pull', 'The lightest bag that pulls yarn off').exactOptional(), woundDiameter: quantityInOf('part', 'Yarn on the bobbin, across').exactOptional(),
  inertia: quantityInOf('inertia', 'Moment of inertia of what coasts down; that of the flyer in the profile when left out').exactOptional(),
  runs: z.array(z.strictObject({ from: quantityInOf('turning', 'Speed at the start'), to: quantityInOf('turning', 'Speed at the end'), time: quantityInOf('time', 'Time between them') }).meta({ id: 'CoastDownRun', description: 'The flyer slowing down by itself, band off.' })).min(1).max(2).exactOptional().describe('One run gives its mean drag; two, over different speeds, tell bearing and air apart.'),
  method: z.enum(methods).exactOptional().describe('How. It also says how sure a length without its own ± is: calliper 0.2 mm, rule 1 mm, tape 2 mm, string or band 3 mm.'),
  measuredOn: z.string().min(10).max(10).exactOptional().describe('The day, such as 2026-03-14.'), member: z.string().min(1).max(80).exactOptional().describe('Your own reference of who measured: no name and no address. Told to the guild alone.'), note: z.string().min(1).max(2000).exactOptional(),
};
export const measurementToKeep = z.strictObject(shape).meta({ id: 'MeasurementToKeep', description: 'One measurement of a wheel.' });
const givesShape = z.object({
  size: quantity.exactOptional().describe('With the ± that it is taken to have.'), flyerRatio: ratio.exactOptional(), bobbinRatio: ratio.exactOptional(), bobbinPerFlyerTurn: plainNumber.exactOptional(),
  heldPull: quantity.exactOptional().describe('The pull with the yarn held: √(lifts · pullsOff).'), hookFactor: plainNumber.exactOptional().describe('What orifice and hooks multiply a pull by: √(pullsOff / lifts).'),
  drag: quantity.exactOptional().describe('Drag of the flyer: of its bearings alone where two runs tell air apart.'), airDragAtTheStart: quantity.exactOptional().describe('Air drag at the speed from which it coasted.'),
}).meta({ id: 'MeasurementGives', description: 'What a measurement says by itself.' });
export const keptMeasurement = z.object({ id: z.string(), revision: z.int().min(1), createdAt: z.iso.datetime(), ...shape, gives: givesShape }).meta({ id: 'KeptMeasurement', description: 'A measurement, and what it says by itself.' });
export const measurementList = listOf('MeasurementList', keptMeasurement, 'One page of the measurements of a wheel.');

const estimate = z.object({ from: z.string().describe('profile, or the id of a measurement.'), value: z.number().describe('SI.'), plusMinus: z.number().describe('Half-width at 95 %, SI.'), weight: z.number().min(0).max(1).describe('Its share in the mean.') }).meta({ id: 'Estimate', description: 'One of the estimates that were combined.' });
const foundThing = z.object({
  of: z.string().describe('Such as whorl small.'), what: z.enum(['size', 'flyer-ratio', 'bobbin-ratio', 'bobbin-per-flyer-turn', 'hook-factor', 'drag', 'band-length']),
  value: z.union([quantity, plainNumber]).describe('Of all of them together.'), verdict: z.enum(['one', 'agree', 'left-out', 'disagree']).describe('left-out: the rest agree without what is named under outliers. disagree: nobody can say which is wrong, and the mean is less sure.'),
  chiSquare: z.number(), freedom: z.int().min(0).describe('Degrees of freedom.'), birge: z.number().exactOptional().describe('Birge ratio: near 1 when they scatter as their uncertainties say.'),
  outliers: z.array(z.string()), agreement: z.enum(['agrees', 'slip', 'recheck']).exactOptional().describe('Counted turns beside what the measures give.'), estimates: z.array(estimate),
}).meta({ id: 'CombinedMeasurement', description: 'What several measurements say together.' });
export const effectiveReply = z.object({
  profile: wheel.describe('What calculations by this id use.'), found: z.array(foundThing), given: z.object({ drag: quantityIn.exactOptional(), hookFactor: numberIn.exactOptional() }).describe('What a question by this id is given where it says nothing else.'), assumptions: z.array(assumption), warnings: z.array(warning),
}).meta({ id: 'EffectiveProfile', description: 'The profile and every measurement together, and how they were combined.' });

export const wheelId = z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel of the library.') });
export const measurementId = z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel of the library.'), measurement: z.string().min(1).max(80).describe('Id of a measurement.') });
export const pageQuery = z.strictObject({ limit: z.int().min(1).max(100).exactOptional().describe('Measurements on a page; 20 when left out.'), after: z.string().max(400).exactOptional().describe('The cursor that the page before gave as next.') });
export const ifMatch = z.strictObject({ 'If-Match': z.string().describe('The ETag of the measurement as it was read.') });

const drive = { what: 'diameter', part: 'drive-wheel', size: '559 mm', method: 'tape', measuredOn: '2026-03-14', member: 'm-017' };
const said = { id: 'measurement-5q8w2mzr7tkd', revision: 1, createdAt: '2026-03-14T18:00:00.000Z' };
const kept = { ...said, ...drive, gives: { size: { value: 559, unit: 'mm', plusMinus: 2, text: '559 mm' } } };
export const examples = {
  toKeep: drive, kept, list: { items: [kept] },
  effective: {
    profile: { name: 'Thornmere 4', driveWheel: { grooveDiameter: { value: 559.8, unit: 'mm', plusMinus: 0.894427 } } },
    found: [{ of: 'the drive wheel', what: 'size', value: { value: 559.8, unit: 'mm', plusMinus: 0.894427, text: '559.8 mm' }, verdict: 'agree', chiSquare: 0.8, freedom: 1, birge: 0.894427, outliers: [], estimates: [{ from: 'profile', value: 0.56, plusMinus: 0.001, weight: 0.8 }, { from: 'measurement-5q8w2mzr7tkd', value: 0.559, plusMinus: 0.002, weight: 0.2 }] }],
    given: {}, assumptions: [], warnings: [],
  },
} as const;
