/** What a plan takes and gives, for the specification. Reading is inputs.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf, ratioIn } from '../../parts.js';
import { preparations } from '../../reference/wraps.js';
import { wheel } from '../../wheels/schema.js';
import type { PlanQuestion, PlanResult } from './answer.js';
import { fibreForms, plyingWays } from './inputs.js';
import { allowanceNames, stages } from './work.js';

const q = (kind: Parameters<typeof quantityInOf>[0], what: string) => quantityInOf(kind, what).exactOptional();
export const question = z.strictObject({
  length: q('length', 'Length of finished yarn wanted'), mass: q('mass', 'Weight of finished yarn wanted'), pieces: numberIn.exactOptional().describe('How many of it; one when left out.'),
  cloth: z.strictObject({ width: q('length', 'Width of the finished cloth'), length: q('length', 'Length of the finished cloth'), warpSett: q('wraps', 'Ends across'), weftSett: q('wraps', 'Picks along'), shrinkage: q('share', 'Drawing in and shrinking, each way'), loomWaste: q('length', 'Warp that the loom wastes') })
    .meta({ id: 'PlanCloth', description: 'A piece of cloth: woven, by its sett, or of any kind by a swatch.' }).exactOptional(),
  swatch: z.strictObject({ width: q('length', 'Width of the swatch'), length: q('length', 'Length of the swatch'), yarn: q('length', 'Yarn that it took') }).meta({ id: 'PlanSwatch', description: 'A swatch of the same stuff, and the yarn that it took.' }).exactOptional(),
  grist: q('grist', 'Grist of the finished yarn'),
  singlesSample: z.strictObject({ length: q('length', 'Length of one strand'), mass: q('mass', 'Its weight') }).meta({ id: 'SinglesSample', description: 'A strand that was spun and weighed, instead of a grist.' }).exactOptional(),
  plies: numberIn.exactOptional(), plyingWay: z.enum(plyingWays).exactOptional().describe('chain: one strand plied with itself, three thick.'), preparation: z.enum(preparations).exactOptional(), fibreForm: z.enum(fibreForms).exactOptional().describe('The fibre as it is at hand.'),
  reserve: q('share', 'Reserve'), lengthLost: q('share', 'Length lost in washing'), plyAllowance: q('share', 'Extra strand for plying, of the plied length'), spinningLoss: q('share', 'Fibre lost in spinning'), preparationYield: q('share', 'Left after preparing'), scouringYield: q('share', 'Left after washing the fleece'),
  ownYield: z.strictObject({ before: q('mass', 'A handful as it is'), after: q('mass', 'The same, ready to spin') }).meta({ id: 'OwnYield', description: 'What your own fibre leaves, weighed before and after.' }).exactOptional(),
  samples: q('mass', 'Fibre for samples'), gristSpread: q('share', 'How far your grist may be off'), regainBought: q('share', 'Regain as bought'), regainRoom: q('share', 'Regain in your room'),
  stock: q('mass', 'Fibre at hand'), wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), bobbin: z.string().min(1).max(80).exactOptional().describe('Name of the bobbin; the first when left out.'),
  bobbinHolds: q('mass', 'What a bobbin holds'), singlesBobbins: numberIn.exactOptional().describe('Bobbins of single strands that will be filled.'), packageDensity: q('density', 'Yarn on the bobbin'),
  treadling: q('turning', 'Treadling'), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), draftLength: q('part', 'Length drafted for one treadle'), ratio: ratioIn.exactOptional(), twist: q('twist', 'Twist of the strand'),
  spinningSpeed: q('speed', 'Speed while spinning'), duty: q('share', 'Share of the hour spent spinning'), hourlyRate: q('speed', 'Length in an hour, pauses and all'),
  pace: z.strictObject({ length: q('length', 'Length spun'), mass: q('mass', 'Or its weight'), time: q('hours', 'In this time, pauses and all') }).meta({ id: 'Pace', description: 'What was spun in a time.' }).exactOptional(),
  plyingSpeed: q('speed', 'Speed while plying'), plyingReserve: q('share', 'Added to the hours of plying'), bobbinChange: q('minutes', 'Handling for each bobbin'), skeinTime: q('minutes', 'Handling for each skein'), sitting: q('minutes', 'Length of a sitting'), sittingsPerWeek: numberIn.exactOptional(),
}).meta({ id: 'PlanQuestion', description: 'What is wanted, in what yarn, from what fibre, and how fast you spin. Every allowance may be given.' });

export const result = z.object({
  wanted: z.object({ length: quantity.exactOptional(), mass: quantity.exactOptional(), pieces: plainNumber, warp: quantity.exactOptional(), weft: quantity.exactOptional() }).meta({ id: 'PlanWanted', description: 'Finished yarn, without reserve.' }),
  yarn: z.object({ grist: quantity, plies: z.int().exactOptional(), strandGrist: quantity.exactOptional().describe('Of one strand on the wheel.'), offTheWheelGrist: quantity.describe('Of the plied yarn before washing.') }).meta({ id: 'PlanYarn', description: 'The yarn, finished and as it is spun.' }).exactOptional(),
  lengths: z.object({ finished: quantity, withReserve: quantity, offTheWheel: quantity, eachStrand: quantity.exactOptional(), allStrands: quantity.exactOptional() }).meta({ id: 'PlanLengths', description: 'From finished yarn back to strands.' }).exactOptional(),
  fibre: z.array(z.object({ stage: z.enum(stages), mass: quantity }).meta({ id: 'PlanStage', description: 'What is needed at this stage.' })).exactOptional().describe('From yarn back to fibre; the last is what to have.'),
  bobbins: z.object({ holds: quantity, holdsPlied: quantity.exactOptional(), fills: z.int(), sets: z.int().describe('Times that all strands are spun and plied onto one bobbin.'), atOnce: z.int().describe('Bobbins in use at once.'), eachFibre: quantity.exactOptional().describe('Weigh so much for each bobbin.'), eachLength: quantity, pliedEach: quantity.exactOptional() })
    .meta({ id: 'PlanBobbins', description: 'Where to break off so that strands end together.' }).exactOptional(),
  hours: z.object({ whileSpinning: quantity.exactOptional(), overTheHour: quantity, limitedBy: z.enum(['twist', 'draft']).exactOptional(), shareSpinning: quantity.exactOptional(), spinning: quantity, plying: quantity.exactOptional(), handling: quantity, total: quantity, sittings: plainNumber, weeks: plainNumber.exactOptional() })
    .meta({ id: 'PlanHours', description: 'Spinning, plying and handling apart.' }).exactOptional(),
  stock: z.object({ enough: z.enum(['yes', 'no', 'too-close-to-say']).describe('For what is wanted, without reserve.'), likelihood: quantity.exactOptional(), coversReserve: z.enum(['yes', 'no']), makes: z.object({ length: quantity.exactOptional(), mass: quantity, pieces: plainNumber }).meta({ id: 'StockMakes', description: 'Finished yarn from all of it.' }), spare: quantity.exactOptional(), short: quantity.exactOptional(), hours: quantity.exactOptional().describe('To spin all of it.') })
    .meta({ id: 'PlanStock', description: 'Whether the fibre at hand is enough.' }).exactOptional(),
  allowances: z.array(z.object({ allowance: z.enum(allowanceNames), amount: quantity, basis: z.enum(['yours', 'common-practice']) }).meta({ id: 'PlanAllowance', description: 'What was added or taken off, and on what ground.' })),
}).meta({ id: 'PlanResult', description: 'The plan, with every allowance.' });
void ((r: PlanResult): z.input<typeof result> => r);
void ((x: PlanQuestion): z.input<typeof question> => x);

export const contract = {
  question, result,
  example: { length: '1300 yd', grist: '840 yd/lb', plies: 3, preparation: 'woollen', fibreForm: 'carded', stock: '2 lb', hourlyRate: '80 m/h', bobbinHolds: '120 g' },
  exampleQuery: 'length=1300yd&grist=840yd/lb&plies=3&preparation=woollen&fibreForm=carded&stock=2lb&hourlyRate=80m/h&bobbinHolds=120g',
} as const;
