/** What a tension takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { bagTest, numberIn, plainNumber, quantity, quantityInOf } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import * as words from '../../wheels/words.js';
import type { TensionQuestion, TensionResult } from './answer.js';
import { runEnds, runs } from './checks.js';

export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(), axleDistance: quantityInOf('part', 'Wheel axle to flyer shaft').exactOptional(), wheelIs: z.enum(words.wheelPlaces).exactOptional(),
  bandFriction: numberIn.exactOptional(), drag: quantityInOf('torque', 'Drag of the flyer').exactOptional(), spindleFriction: quantityInOf('torque', 'Friction of the bobbin on its shaft').exactOptional(), startTorque: quantityInOf('torque', 'Torque that starts the flyer').exactOptional(),
  hookFactor: numberIn.exactOptional(), pullNeeded: quantityInOf('pull', 'Pull needed to draw in').exactOptional(), pullBorne: quantityInOf('pull', 'Pull that yarn and hand bear').exactOptional(), bagTest: bagTest.exactOptional(), brakeSpring: quantityInOf('pull', 'Pull of the brake’s spring').exactOptional(),
  sagCheck: z.strictObject({ run: quantityInOf('part', 'Free length of the run'), weight: quantityInOf('mass', 'Weight hung in its middle'), sag: quantityInOf('part', 'How far it sank'), cordStiffness: quantityInOf('cord-stiffness', 'Stiffness of the cord').exactOptional(), cordMass: quantityInOf('cord-mass', 'Weight of the cord').exactOptional(), runIs: z.enum(runs).exactOptional().describe('Which run: the pulleys’ roundness is then reckoned with.'), ends: z.enum(runEnds).exactOptional().describe('Whether wheel and flyer can turn a little while the weight hangs.') }).meta({ id: 'SagCheck', description: 'A small weight on a level run.' }).exactOptional(),
  pitchCheck: z.strictObject({ run: quantityInOf('part', 'Free length of the run'), pitch: quantityInOf('turning', 'How often it swings'), cordMass: quantityInOf('cord-mass', 'Weight of the cord').exactOptional() }).meta({ id: 'PitchCheck', description: 'A plucked run.' }).exactOptional(),
}).meta({ id: 'TensionQuestion', description: 'A wheel with its bobbins, what the yarn needs and bears, and any checks that were made.' });

const state = z.enum(['open', 'closed', 'too-close-to-say']);
const bandVerdict = z.enum(['right', 'too-slack', 'too-tight', 'both', 'too-close-to-say']).describe('The band tension that was measured, beside the window.');
const window = z.object({ least: quantity, most: quantity.exactOptional().describe('Absent: even no brake at all pulls too hard.'), state }).meta({ id: 'TensionWindow', description: 'From what still draws in to what yarn and hand still bear.' });
export const result = z.object({
  windows: z.array(z.object({
    whorl: z.string().exactOptional(), bobbin: z.string(), groove: z.string().exactOptional(), of: z.enum(['band-tension', 'brake-torque']), empty: window, half: window, full: window, wholeFill: window,
    oneSettingServes: z.enum(['yes', 'no', 'too-close-to-say']), spreadNeeded: plainNumber.describe('What one setting must span from core to full.'), spreadAllowed: plainNumber.describe('Pull borne over pull needed.'),
    givesFirst: z.enum(['bobbin', 'whorl', 'too-close-to-say']).exactOptional(), bandTensionNeeded: quantity.exactOptional(),
    bySag: bandVerdict.exactOptional(), byPitch: bandVerdict.exactOptional(),
    pull: z.array(z.object({ fill: z.number(), drawingIn: quantity, held: quantity, pullingOff: quantity }).meta({ id: 'PullAtFill', description: 'Pull on the yarn at one fill, by the bag test.' })).exactOptional(),
    setting: z.object({ verdict: z.enum(['right', 'draws-in-too-weakly', 'pulls-too-hard', 'both', 'too-close-to-say']), slipTorque: quantity, hookFactor: plainNumber, leastChange: plainNumber.describe('Times the present setting, for just drawing in on the full bobbin.'), change: plainNumber.describe('Times the present setting, for the middle of the window.'), mostChange: plainNumber.describe('Times the present setting, for what yarn and hand just bear on the empty bobbin.') }).meta({ id: 'TestedSetting', description: 'What the bag test says of the setting.' }).exactOptional(),
    wheelLoad: z.object({ held: quantity, drawingIn: quantity }).meta({ id: 'WheelLoad', description: 'Torque felt at the wheel.' }).exactOptional(),
    ways: z.array(z.object({ way: z.enum(['reset-as-it-fills', 'smoother-hooks', 'fatter-core', 'stop-at-three-quarters', 'stronger-yarn']), spreadNeeded: plainNumber, opens: z.enum(['yes', 'no', 'too-close-to-say']).exactOptional(), pullBorne: quantity.exactOptional().describe('Of a stronger yarn: the pull that it must bear.') }).meta({ id: 'WayToOpen', description: 'What would narrow the spread.' })).exactOptional(),
  }).meta({ id: 'PairTension', description: 'The window of one pair.' })),
  brake: z.object({ torque: quantity, whenReversed: quantity, reversalFactor: plainNumber }).meta({ id: 'BrakeAnswer', description: 'The brake, spinning and with the spin reversed.' }).exactOptional(),
  checks: z.array(z.object({ check: z.enum(['bag-test', 'hand-test', 'sag', 'pitch', 'screw']), applies: z.boolean(), how: z.string(), tension: quantity.exactOptional(), whileLoaded: quantity.exactOptional(), agreement: z.enum(['agrees', 'recheck']).exactOptional().describe('Of sag and pitch, where both were made.') }).meta({ id: 'TensionCheck', description: 'A check that a person can do.' })),
}).meta({ id: 'TensionResult', description: 'The window of every pair, and how to find it without a gauge.' });
void ((r: TensionResult): z.input<typeof result> => r);
void ((q: TensionQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: {
    wheel: {
      name: 'Thornmere 4', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm', material: 'cotton' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm', shape: 'v' }],
      bobbins: [{ name: 'plain', grooves: [{ name: 'end', grooveDiameter: '48 mm', shape: 'round' }], coreDiameter: '22 mm', endDiameter: '75 mm' }], axleToFlyer: { nearest: '480 mm', farthest: '520 mm' }, wheelIs: 'right',
    },
    pullNeeded: '5 g', pullBorne: '150 g', bagTest: { lifts: '40 g', pullsOff: '140 g' },
  },
  exampleQuery: 'drive=double-drive&driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm&core=22mm&end=75mm&axleDistance=500mm&pullNeeded=5g&pullBorne=150g&bagLifts=40g&bagPullsOff=140g',
} as const;
