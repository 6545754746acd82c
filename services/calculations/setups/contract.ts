/** What set-ups take and give, for the specification. Reading is target.ts, spinner.ts and answer.ts. */
import { z } from 'zod';
import { bagTest, numberIn, plainNumber, quantity, quantityInOf, ratio, ratioIn } from '../../parts.js';
import { staples } from '../../reference/twists.js';
import { preparations, wrappings } from '../../reference/wraps.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import { conditions, drives, styles } from '../../wheels/words.js';
import { reaches } from '../ply/wheel.js';
import { bests, mostWheels, type SetupsQuestion, type SetupsResult } from './answer.js';
import { limitNames } from './enumerate.js';
import { changes } from './row.js';
import { draftingStyles } from './spinner.js';
import { yarnUses } from './target.js';

const q = (kind: Parameters<typeof quantityInOf>[0], what: string) => quantityInOf(kind, what).exactOptional();
const letters = z.enum(['S', 'Z']);
const id = z.string().min(1).max(80);
const text = (most: number) => z.string().min(1).max(most).exactOptional();
const match = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: id.exactOptional(), cardId: id.exactOptional().describe('Or a card of the library, alone.'), wheelName: text(120), drive: driveIn.exactOptional(), whorl: text(80), bobbin: text(80), bobbinEnd: text(80), ratio: ratioIn.exactOptional(), treadlesPerDraw: numberIn.exactOptional(), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), draftLength: q('part', 'Length drafted in those treadles'), draftingStyle: text(40),
  singlesGrist: q('grist', 'Grist of the single'), wheelFreshTwist: q('twist', 'Twist of the single, fresh from the wheel'), finishedTwist: q('twist', 'Twist of the single, finished'), plies: numberIn.exactOptional(), plyTwist: q('twist', 'Ply twist'), plyDirection: letters.exactOptional(), direction: letters.exactOptional(), grist: q('grist', 'Grist of the yarn'), wraps: q('wraps', 'Wraps of it'), wrapping: z.enum(wrappings).exactOptional(),
  fibre: text(80), preparation: text(80), name: text(120), spunOn: text(10), member: text(80), hours: q('hours', 'Time at the wheel'), length: q('length', 'Length made'), mass: q('mass', 'Weight made'), note: text(2000), bagTest: bagTest.exactOptional(),
}).meta({ id: 'SetupToMatch', description: 'What was spun, as a card keeps it: the same yarn is wanted on another wheel. Its wheel, or its ratio, tells the twist where that was not counted.' });
export const question = z.strictObject({
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(),
  wheels: z.array(z.strictObject({ wheelId: id.exactOptional(), wheel }).meta({ id: 'OneOfWheels', description: 'One of several wheels.' })).max(mostWheels).exactOptional().describe('Several wheels instead of one.'), wheelIds: z.array(id).max(mostWheels).exactOptional().describe('Or several of the library.'),
  library: z.strictObject({ of: z.enum(['public', 'guild']).exactOptional().describe('public when left out; guild: the wheels of the guild whose key is sent.'), name: z.string().min(1).max(120).exactOptional().describe('Words of the name; accents, capitals and misspellings are forgiven, as in the search of the library.'), style: z.enum(styles).exactOptional(), drive: z.enum(drives).exactOptional() }).meta({ id: 'LibrarySearch', description: 'Wheels of the library, narrowed; 500 at most.' }).exactOptional(),
  best: z.enum(bests).exactOptional().describe('The best of all, or for a class sheet the best of each wheel.'),
  match: match.exactOptional(), wanted: z.array(ratioIn).max(24).exactOptional().describe('Ratios to have whorls made for.'),
  grist: q('grist', 'Grist of the yarn that you want, plied if it is to be plied'), wraps: q('wraps', 'Or its wraps'), wrapping: z.enum(wrappings).exactOptional().describe('How they were wound; needed with wraps.'), plies: numberIn.exactOptional().describe('Strands in it; one when left out.'),
  twist: q('twist', 'Twist of each strand as it is spun'), angle: q('angle', 'Or its angle from the axis'), use: z.enum(yarnUses).exactOptional().describe('Or what the yarn is for: the twist is then what is usual.'), plyTwist: q('twist', 'Twist of the ply'), direction: letters.exactOptional().describe('Of the strands; Z when left out.'),
  lengthLost: q('share', 'Length lost in washing: then grist and twist are those of the finished yarn'), fibre: z.string().max(80).exactOptional(), staple: z.enum(staples).exactOptional(), preparation: z.enum(preparations).exactOptional(),
  treadling: q('turning', 'Treadles'), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), draftLength: q('part', 'Length that you like to draft: for one treadle, in long draw for one make'), draftingStyle: z.enum(draftingStyles).exactOptional(),
  pull: q('pull', 'Pull that you like as the yarn draws in'), pullBorne: q('pull', 'Pull that yarn and hand bear'), hookFactor: numberIn.exactOptional().describe('What orifice and hooks multiply a pull by.'), bagTest: bagTest.exactOptional(), duty: q('share', 'Share of the hour spent spinning'),
  packageDensity: q('density', 'Density of the yarn on the bobbin'), plyDraw: q('part', 'Length of one draw in plying'),
}).meta({ id: 'SetupsQuestion', description: 'A yarn that is wanted, the wheel, and the spinner.' });

const windowState = z.enum(['open', 'closed', 'too-close-to-say']);
const sure = z.enum(['yes', 'no', 'too-close-to-say']);
const setup = z.object({
  wheel: z.string(), wheelId: z.string().exactOptional(), drive: z.enum(drives), whorl: z.string().exactOptional(), bobbin: z.string().exactOptional(), groove: z.string().exactOptional(),
  stands: z.enum(['fits', 'when-fuller', 'too-close-to-say', 'does-not-fit']), binds: z.enum(limitNames).describe('The limit with the least room.'), room: plainNumber.describe('Times over which that limit still allows it; less than 1 beyond it.'), ratio: ratio.exactOptional(),
  draftLengthPerWheelTurn: quantity.describe('Draft so much for each turn of the wheel.'), draftLength: quantity.exactOptional().describe('One make of long draw.'), wheelTurns: plainNumber.exactOptional().describe('Turns of the wheel for that make.'),
  treadling: quantity, flyerSpeed: quantity, twist: quantity, grist: quantity, lengthPerHour: quantity, massPerHour: quantity, capacity: z.object({ length: quantity, mass: quantity }).meta({ id: 'SetupCapacity', description: 'What the bobbin holds.' }).exactOptional(),
  of: z.enum(['band-tension', 'brake-torque']).exactOptional(), oneSettingServes: sure.exactOptional(), handCheck: z.object({ lifts: quantity, pullsOff: quantity }).meta({ id: 'SetupHandCheck', description: 'At every fill: a bag that the wheel must lift, and one that must pull yarn off.' }).exactOptional(),
  fill: z.array(z.object({ fill: z.number(), woundDiameter: quantity, insertedTwist: quantity.exactOptional(), leastTwist: quantity.exactOptional(), mostDrawnInPerWheelTurn: quantity.exactOptional(), least: quantity.exactOptional(), most: quantity.exactOptional(), state: windowState.exactOptional() }).meta({ id: 'SetupFill', description: 'Empty, half full, full.' })),
  limits: z.array(z.object({ limit: z.enum(limitNames), room: plainNumber, holds: sure }).meta({ id: 'SetupLimit', description: 'A limit and the room to it.' })),
  change: z.array(z.object({ change: z.enum(changes), to: z.union([quantity, ratio]) }).meta({ id: 'SetupChange', description: 'What would make it fit.' })).exactOptional(),
}).meta({ id: 'Setup', description: 'What to set and what comes of it.' });
export const result = z.object({
  yarn: z.object({ plies: z.int(), strandGrist: quantity, strandTwist: quantity, direction: letters, diameter: quantity, pliedGrist: quantity.exactOptional(), plyTwist: quantity.exactOptional(), plyDirection: letters.exactOptional() }).meta({ id: 'SetupsYarn', description: 'The yarn as it stands on the wheel.' }),
  setups: z.array(setup).describe('The best first.'), considered: z.int().describe('Set-ups that were looked at.'), fitting: z.int().describe('Of them within every limit.'),
  toMake: z.array(z.object({ wheel: z.string(), drive: z.enum(drives), ratio, grooveDiameter: quantity.exactOptional() }).meta({ id: 'WhorlToMake', description: 'A groove to have made.' })).exactOptional(),
  ply: z.array(z.object({ wheel: z.string(), wheelId: z.string().exactOptional(), drive: z.enum(drives), whorl: z.string().exactOptional(), bobbin: z.string().exactOptional(), groove: z.string().exactOptional(), ratio, direction: letters, draftLength: quantity, wheelTurns: plainNumber, leastTwistEmpty: quantity.exactOptional(), reach: z.enum(reaches).exactOptional(), holds: quantity.exactOptional(), fits: sure.exactOptional() }).meta({ id: 'PlySetup', description: 'A way to ply it.' })).exactOptional(),
  blocked: z.array(z.object({ wheel: z.string(), wheelId: z.string().exactOptional(), condition: z.enum(conditions) }).meta({ id: 'BlockedWheel', description: 'Not to be run.' })).exactOptional(),
  leftOut: z.array(z.object({ wheel: z.string(), wheelId: z.string().exactOptional(), why: z.string() }).meta({ id: 'WheelLeftOut', description: 'A wheel that lacks a measure.' })).exactOptional(), more: z.int().exactOptional().describe('Wheels that did not go on the sheet.'),
}).meta({ id: 'SetupsResult', description: 'Set-ups for a yarn, ranked.' });
void ((r: SetupsResult): z.input<typeof result> => r);
void ((x: SetupsQuestion): z.input<typeof question> => x);

export const contract = {
  question, result,
  example: {
    wheel: {
      name: 'Thornmere 4', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }, { name: 'large', grooveDiameter: '75 mm' }],
      bobbins: [{ name: 'plain', grooves: [{ name: 'end', grooveDiameter: '48 mm' }], coreDiameter: '22 mm', endDiameter: '75 mm', lengthBetweenEnds: '90 mm' }],
    },
    grist: '1200 yd/lb', plies: 2, twist: '6 turns/in', fibre: 'wool', treadling: '60/min', draftLength: '1.5-2 in',
  },
  exampleQuery: 'drive=double-drive&driveWheel=560mm&band=2mm&whorl=60mm&whorl=75mm&bobbin=48mm&core=22mm&end=75mm&lengthBetweenEnds=90mm&grist=1200yd/lb&plies=2&twist=6turns/in&fibre=wool&treadling=60/min&draftLength=1.5-2in',
} as const;
