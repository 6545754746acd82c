/** What flyer and treadle take and give, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, quantity, quantityInOf } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import { turnedBys, wheelPlaces } from '../../wheels/words.js';
import { bearings, type FlyerQuestion, type FlyerResult } from './answer.js';

const opt = (kind: Parameters<typeof quantityInOf>[0], what: string) => quantityInOf(kind, what).exactOptional();
export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(), whorl: z.string().min(1).max(80).exactOptional().describe('Name of the whorl; the first when left out.'),
  treadling: opt('turning', 'Treadles'), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), flyerSpeed: opt('turning', 'Speed of the flyer'), arms: numberIn.exactOptional(),
  armWidth: opt('part', 'Width of an arm'), armLength: opt('part', 'Length of an arm'), armRadius: opt('part', 'From the shaft to an arm'), armThickness: opt('part', 'Thickness of an arm at the crook'), barHeight: opt('part', 'Height of the bar that joins the arms'), woodDensity: opt('density', 'Density of the arms'),
  shaftDiameter: opt('part', 'Shaft in its bearing, across'), bearingLoad: opt('pull', 'What lies on the bearings'), bearing: z.enum(bearings).exactOptional(), bearingFriction: numberIn.exactOptional(),
  unbalance: opt('mass', 'Weight out of balance'), unbalanceRadius: opt('part', 'How far out it stands'), flyerMass: opt('mass', 'Weight of flyer and bobbin'), bandTension: opt('band-tension', 'Tension of the band'), bandWrap: opt('angle', 'How far the band wraps a groove'), wheelIs: z.enum(wheelPlaces).exactOptional(),
  flyerInertia: opt('inertia', 'Inertia of the flyer'), coastFrom: opt('turning', 'Coasting down: speed at first'), coastTo: opt('turning', 'A lower speed'), coastTime: opt('time', 'Time until then'), coastToLater: opt('turning', 'A speed lower still'), coastTimeLater: opt('time', 'Time from the start until then'),
  drag: opt('torque', 'Drag of the flyer'), slipTorque: opt('torque', 'Torque of the brake, or at which the bobbin slips'), wheelBearing: opt('torque', 'Drag of the bearings of the wheel'), wheelInertia: opt('inertia', 'Inertia of the drive wheel'), bobbinInertia: opt('inertia', 'Inertia of the bobbin with its yarn'),
  stroke: opt('part', 'How far the treadle goes down'), turnedBy: z.enum(turnedBys).exactOptional(), twist: opt('twist', 'Twist that is spun'),
}).meta({ id: 'FlyerQuestion', description: 'A flyer and what drives it; each part is worked out from what was given for it.' });

export const result = z.object({
  speed: quantity.exactOptional(),
  drag: z.object({ bearing: quantity.exactOptional(), air: quantity.exactOptional(), whole: quantity, power: quantity.exactOptional() }).meta({ id: 'FlyerDrag', description: 'What holds the flyer back.' }).exactOptional(),
  hop: z.object({ speed: quantity, restLoad: quantity, state: z.enum(['steady', 'hops', 'too-close-to-say']).exactOptional() }).meta({ id: 'FlyerHop', description: 'The speed at which an unbalance lifts it from open bearings.' }).exactOptional(),
  arm: z.object({ stress: quantity, state: z.enum(['low', 'watch', 'too-much']) }).meta({ id: 'ArmStress', description: 'Bending at the root of an arm.' }).exactOptional(),
  coast: z.object({ bearing: quantity, air: quantity.exactOptional().describe('At the speed it coasted from.'), atThousand: quantity.exactOptional().describe('Both together at 1000 turns a minute.') }).meta({ id: 'CoastDown', description: 'Drag from coasting down.' }).exactOptional(),
  treadle: z.object({ load: quantity, slackLoad: quantity.exactOptional().describe('Double drive: while the yarn is slack.'), footForce: quantity.exactOptional(), power: quantity, workPerTurn: quantity, peakPush: quantity, turning: quantity.describe('Inertia of all that turns together while the yarn is held.'), swing: quantity.describe('From slowest to fastest, of the mean.') }).meta({ id: 'TreadleLoad', description: 'What the foot feels, yarn held.' }).exactOptional(),
  made: z.object({ drawSpeed: quantity, draftLengthPerWheelTurn: quantity }).meta({ id: 'YarnMade', description: 'Yarn of that twist, were the treadle never to pause.' }).exactOptional(),
}).meta({ id: 'FlyerResult', description: 'Drag, hopping, stress, coasting, and the load at the treadle.' });
void ((r: FlyerResult): z.input<typeof result> => r);
void ((q: FlyerQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: {
    wheel: { name: 'Thornmere 5', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }], turnedBy: 'one-treadle' },
    treadling: '60/min', slipTorque: '6 mN m', drag: '2 mN m', wheelBearing: '5 mN m', wheelInertia: '0.1 kg*m2', flyerInertia: '0.0003 kg*m2', bobbinInertia: '0.00005 kg*m2', stroke: '80 mm', unbalance: '5 g', unbalanceRadius: '60 mm', flyerMass: '250 g',
  },
  exampleQuery: 'drive=flyer-lead&driveWheel=560mm&band=2mm&whorl=60mm&treadling=60/min&turnedBy=one-treadle&slipTorque=6mN*m&drag=2mN*m&wheelBearing=5mN*m&wheelInertia=0.1kg*m2&flyerInertia=0.0003kg*m2&bobbinInertia=0.00005kg*m2&stroke=80mm&unbalance=5g&unbalanceRadius=60mm&flyerMass=250g',
} as const;
