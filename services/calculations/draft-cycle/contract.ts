/** What a draft cycle takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { bagTest, numberIn, plainNumber, quantity, quantityInOf } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import type { DraftCycleQuestion, DraftCycleResult } from './answer.js';
import { styles } from './schedule.js';

const opt = (kind: Parameters<typeof quantityInOf>[0], what: string) => quantityInOf(kind, what).exactOptional();
export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(),
  whorl: z.string().min(1).max(80).exactOptional().describe('Name of the whorl; the first when left out.'), bobbin: z.string().min(1).max(80).exactOptional().describe('Name of the bobbin; the first when left out.'),
  treadling: opt('turning', 'Treadles'), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), flyerSpeed: opt('turning', 'Speed of an electric flyer'),
  drafting: z.enum(styles).exactOptional().describe('short-backward and long-draw stop and go; short-forward lets in all the time.'),
  draftLength: opt('part', 'Length drafted in one make'), draftTime: opt('time', 'Drafting takes'), holdTime: opt('time', 'Held for more twist'), windOnTime: opt('time', 'Letting in takes'), handRise: opt('time', 'Hand from rest to full speed'), leftBehind: opt('part', 'Yarn left between orifice and hand'), makes: numberIn.exactOptional(),
  hand: z.array(z.strictObject({ from: quantityInOf('time', 'From'), to: quantityInOf('time', 'To'), start: quantityInOf('speed', 'Let in at first'), end: quantityInOf('speed', 'Let in at the end') }).meta({ id: 'HandPiece', description: 'A time in which the speed of letting in changes evenly.' })).max(2000).exactOptional().describe('What the hand lets in, piece by piece, instead of how it drafts; nothing in between.'),
  draft: z.array(z.strictObject({ from: quantityInOf('time', 'From'), to: quantityInOf('time', 'To'), speed: quantityInOf('speed', 'Drafted') }).meta({ id: 'DraftPiece', description: 'A time of even drafting.' })).max(2000).exactOptional(),
  start: z.strictObject({ length: opt('part', 'Between orifice and hand'), turns: numberIn.exactOptional(), speed: opt('speed', 'Draw-in at the start; at rest when left out') }).meta({ id: 'CycleStart', description: 'The free yarn at the start, the turns in it, and how fast it is drawn in already.' }).exactOptional(),
  woundDiameter: opt('part', 'Yarn on the bobbin, across'), bagTest: bagTest.exactOptional(), slipTorque: opt('torque', 'Torque at which the bobbin slips; on a bobbin-lead wheel the flyer'), spindleFriction: opt('torque', 'Friction of the bobbin on its shaft'),
  bobbinInertia: opt('inertia', 'Inertia of the bobbin with its yarn'), flyerInertia: opt('inertia', 'Inertia of the flyer'), packageDensity: opt('density', 'Density of the yarn on the bobbin'), hookFactor: numberIn.exactOptional(),
  treadleSwing: opt('share', 'How far the speed of the wheel swings to each side of its mean'), swingsPerTurn: numberIn.exactOptional(), yarnStretch: opt('yarn-stiffness', 'Stiffness of the free yarn'), pullBorne: opt('pull', 'Pull that the yarn bears'),
  fibreDiameter: opt('fibre-diameter', 'Thickness of a fibre'), fibresInSection: numberIn.exactOptional(), series: opt('time', 'Step of the series; without it there is none'),
  treadlePush: opt('torque', 'Greatest push of the treadle at the crank; with it wheel, flyer and bobbin move together'), wheelInertia: opt('inertia', 'Inertia of the drive wheel'), wheelBearing: opt('torque', 'Drag of the bearings of the wheel'), flyerDrag: opt('torque', 'Drag of the bearings of the flyer'), airDrag: opt('torque', 'Drag of the air at 1000 flyer turns a minute'),
}).meta({ id: 'DraftCycleQuestion', description: 'A wheel as it is set, and what the hand does.' });

const close = z.enum(['yes', 'no', 'too-close-to-say']);
export const result = z.object({
  verdict: z.enum(['follows', 'grabs', 'falls-behind', 'too-close-to-say']), because: z.enum(['hand-too-quick', 'beyond-the-ceiling', 'treadle']).exactOptional(),
  slack: z.object({ most: quantity, at: quantity, share: quantity.describe('Of the time.'), spells: plainNumber }).meta({ id: 'SlackAnswer', description: 'Yarn that hangs slack.' }),
  grab: z.object({ difference: quantity.describe('Speed that the yarn loses at once when it snaps tight.'), at: quantity, peakPull: quantity.describe('At the package, on a yarn that stretches.'), bears: close.exactOptional(), count: plainNumber }).meta({ id: 'GrabAnswer', description: 'The hardest grab.' }).exactOptional(),
  pull: z.object({ held: quantity, least: quantity.exactOptional(), most: quantity.exactOptional(), leastAtHand: quantity.exactOptional(), mostAtHand: quantity.exactOptional() }).meta({ id: 'CyclePull', description: 'Pull on the yarn while it is taut, at the package and at the hand while drawing in.' }),
  follows: z.object({ quickening: quantity, ceiling: quantity, timeToCeiling: quantity, massFelt: quantity, handQuickening: quantity.exactOptional(), handSpeed: quantity.exactOptional(), quickestAt: quantity.exactOptional().describe('Yarn on the bobbin, across, at which it follows best.') }).meta({ id: 'FollowAnswer', description: 'How the package follows, and what the hand asks of it.' }),
  twist: z.object({ mean: quantity.exactOptional(), first: quantity.exactOptional(), last: quantity.exactOptional(), inHand: quantity, along: z.array(z.object({ share: z.number().describe('0 the first of the make to go on, 1 the last.'), twist: quantity }).meta({ id: 'TwistAlong', description: 'Twist at one place of a make.' })) }).meta({ id: 'CycleTwist', description: 'Twist of what is wound on.' }),
  snarl: z.object({ torque: quantity, certain: quantity.describe('Below this pull a loop is certain.'), possible: quantity.describe('Below this pull a loop is possible.'), state: z.enum(['kept-straight', 'may-snarl', 'snarls', 'too-close-to-say']) }).meta({ id: 'CycleSnarl', description: 'What keeps the yarn from snarling.' }).exactOptional(),
  drawnIn: quantity, turns: z.object({ flyer: plainNumber.describe('Of the flyer; on a bobbin-lead wheel of the bobbin.'), in: plainNumber, woundOn: plainNumber, stored: plainNumber }).meta({ id: 'CycleTurns', description: 'Where the turns went.' }),
  overBobbin: z.array(z.object({ fill: z.number(), woundDiameter: quantity, held: quantity, quickening: quantity, ceiling: quantity, slack: quantity, difference: quantity, twist: quantity.exactOptional() }).meta({ id: 'CycleAtFill', description: 'The same makes at one fill of the bobbin.' })),
  treadled: z.object({ slowest: quantity, fastest: quantity, atEnd: quantity, wheelTurns: plainNumber, stoppedAfter: quantity.exactOptional(), spent: z.object({ treadle: quantity, slip: quantity, drag: quantity, bearing: quantity, spindle: quantity, yarn: quantity, wheel: quantity }).meta({ id: 'TreadledWork', description: 'Where the work of the treadle went; what the wheel kept or gave up is the rest.' }) }).meta({ id: 'Treadled', description: 'The wheel under the push of the treadle.' }).exactOptional(),
  events: z.array(z.object({ event: z.enum(['slack-begins', 'at-the-ceiling', 'grab']), time: quantity, difference: quantity.exactOptional() }).meta({ id: 'CycleEvent', description: 'What happened, and when.' })),
  audits: z.object({ turns: plainNumber, length: quantity, energy: quantity }).meta({ id: 'CycleAudits', description: 'What is missing from each balance: turns in against stored and wound on; length; energy.' }),
  series: z.object({ columns: z.array(z.object({ name: z.string(), unit: z.string() }).meta({ id: 'SeriesColumn', description: 'A column and its unit.' })), rows: z.array(z.array(z.number())) }).meta({ id: 'CycleSeries', description: 'Every moment, row by row.' }).exactOptional(),
}).meta({ id: 'DraftCycleResult', description: 'What happens between hand and package.' });
void ((r: DraftCycleResult): z.input<typeof result> => r);
void ((q: DraftCycleQuestion): z.input<typeof question> => q);

export const contract = {
  question, result,
  example: {
    wheel: {
      name: 'Thornmere 5', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }],
      bobbins: [{ name: 'plain', coreDiameter: '22 mm', endDiameter: '83 mm', lengthBetweenEnds: '90 mm' }],
    },
    treadling: '60/min', drafting: 'long-draw', draftLength: '600 mm', draftTime: '1.2 s', holdTime: '0.3 s', windOnTime: '0.85 s', handRise: '0.1 s', leftBehind: '150 mm', woundDiameter: '40 mm', slipTorque: '6 mN m', hookFactor: 1.9,
  },
  exampleQuery: 'drive=flyer-lead&driveWheel=560mm&band=2mm&whorl=60mm&core=22mm&end=83mm&lengthBetweenEnds=90mm&treadling=60/min&drafting=long-draw&draftLength=600mm&draftTime=1.2s&holdTime=0.3s&windOnTime=0.85s&handRise=0.1s&leftBehind=150mm&woundDiameter=40mm&slipTorque=6mN*m&hookFactor=1.9',
} as const;
