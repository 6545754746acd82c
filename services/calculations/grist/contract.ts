/** What a grist takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { numberIn, plainNumber, quantity, quantityInOf } from '../../parts.js';
import { fibreIds } from '../../reference/fibres.js';
import { fibreForms, regainStandards } from '../../reference/regains.js';
import { namedGrades } from '../../reference/wool-grades.js';
import { preparations, wrappings } from '../../reference/wraps.js';
import { yarnStates, type GristQuestion, type GristResult } from './answer.js';
import { averages } from './ways.js';
import { yarnNumberUnits } from './yarn-numbers.js';

export const question = z.strictObject({
  grist: quantityInOf('grist', 'Grist').exactOptional(), length: quantityInOf('length', 'Length of a skein').exactOptional(), mass: quantityInOf('mass', 'Weight of that length').exactOptional(),
  windings: numberIn.exactOptional(), circumference: quantityInOf('length', 'One turn of the winder').exactOptional(), finishedCircumference: quantityInOf('length', 'One turn after washing').exactOptional(),
  skeins: z.array(quantityInOf('grist', 'A skein: a grist, or a length with its weight such as 254 yd/2.125 oz')).max(100).exactOptional().describe('Several skeins of one yarn; averaged in mass to a length.'), averagedBy: z.enum(averages).exactOptional().describe('Whether the skeins are of equal length (default) or of equal weight.'),
  spread: quantityInOf('share', 'Coefficient of variation of several measurements').exactOptional(), measurements: numberIn.exactOptional().describe('How many they were.'),
  wraps: quantityInOf('wraps', 'Wraps').exactOptional(), wrapping: z.enum(wrappings).exactOptional(), wrapFactor: numberIn.exactOptional(), calibrationWraps: quantityInOf('wraps', 'Wraps of a skein that was weighed').exactOptional(), calibrationGrist: quantityInOf('grist', 'Grist of that skein').exactOptional(),
  balanceLength: quantityInOf('part', 'Length that balances; inches unless balanceArm is given').exactOptional(), balanceArm: quantityInOf('mass', 'Weight of the arm').exactOptional(),
  balanceReference: quantityInOf('grist', 'Grist of the yarn on the other side').exactOptional(), balanceReferenceLength: quantityInOf('part', 'Its length').exactOptional(),
  diameter: quantityInOf('part', 'Thickness of the yarn').exactOptional(), yarnDensity: quantityInOf('density', 'Density of the yarn, air included').exactOptional(), fibre: z.string().max(40).describe(`One of ${fibreIds.join(', ')}.`).exactOptional(), preparation: z.enum(preparations).exactOptional(),
  fibreDiameter: quantityInOf('fibre-diameter', 'Thickness of a fibre').exactOptional(), fibreDiameterSpread: quantityInOf('share', 'Its coefficient of variation').exactOptional(), fibreGrist: quantityInOf('grist', 'Yarn number of one fibre').exactOptional(), micronaire: numberIn.exactOptional(), woolGrade: z.string().max(40).describe(`One of ${namedGrades.join(', ')}.`).exactOptional(),
  fibresInSection: numberIn.exactOptional().describe('Fibres wanted in the section: gives the grist.'), fewestFibres: numberIn.exactOptional().describe('As few fibres as are to do.'), irregularity: quantityInOf('share', 'Measured coefficient of variation of mass').exactOptional(), irregularityConstant: numberIn.exactOptional().describe('Constant of the limit: 106 cotton, 112 wool, 100 for fibres of one thickness.'),
  tenacity: quantityInOf('tenacity', 'Strength of the yarn for its grist').exactOptional(), strengthSpread: quantityInOf('share', 'Coefficient of variation of strength').exactOptional(),
  state: z.enum(yarnStates).exactOptional().describe('State in which the yarn was measured.'), restingLost: quantityInOf('share', 'Length lost from wheel to rest').exactOptional(), massLost: quantityInOf('share', 'Weight lost in washing').exactOptional(),
  lengthLost: quantityInOf('share', 'Length lost in washing').exactOptional(), regain: quantityInOf('share', 'Regain when weighed').exactOptional(), moistureContent: quantityInOf('share', 'Moisture content when weighed, instead of regain').exactOptional(), regainWanted: quantityInOf('share', 'Regain wanted').exactOptional(),
  regainStandard: z.enum(regainStandards).exactOptional().describe('Standard whose regain is wanted; needs fibre.'), fibreForm: z.enum(fibreForms).exactOptional().describe('Form of the fibre, where the standard has several.'),
  plies: numberIn.exactOptional().describe('How many strands the yarn is plied of: gives what each should be.'), stock: quantityInOf('mass', 'How much there is').exactOptional(), scaleStep: quantityInOf('mass', 'Step of the scale').exactOptional(), within: quantityInOf('share', 'How near the grist should be').exactOptional(),
}).meta({ id: 'GristQuestion', description: 'A yarn by any one of: grist, length and mass, windings and mass, several skeins, wraps, balance reading, diameter, fibres in its section.' });

const ends = z.object({ low: z.number().exactOptional(), high: z.number().exactOptional() }).meta({ id: 'YarnNumberRange', description: 'Only a range is known.' });
const yarnNumber = z.union([z.number(), ends]).meta({ id: 'YarnNumber', description: 'The grist in one system.' });
const three = z.object({ packed: quantity, ruler: quantity, loose: quantity }).meta({ id: 'ByWrapping', description: 'For each way of wrapping.' });
const yarnNumberShape = Object.fromEntries(Object.entries(yarnNumberUnits).map(([key, unit]) => [key, yarnNumber.describe(unit)])) as Record<keyof typeof yarnNumberUnits, typeof yarnNumber>;

export const result = z.object({
  grist: quantity, yarnNumbers: z.object(yarnNumberShape).meta({ id: 'YarnNumbers', description: 'The grist in every system.' }),
  diameter: quantity.exactOptional(), wraps: three.exactOptional(),
  categories: z.array(z.object({ set: z.string(), category: z.string() }).meta({ id: 'YarnCategory', description: 'A band that the yarn falls into, and whose set it is.' })).exactOptional(),
  fibresInSection: plainNumber.exactOptional(), fibreDiameter: quantity.exactOptional().describe('Mean diameters of the wool grade.'), fibreGrist: quantity.exactOptional().describe('Yarn number of one fibre.'), limitIrregularity: quantity.exactOptional().describe('CV of mass of the most even yarn that so many fibres can make.'),
  irregularityIndex: plainNumber.exactOptional().describe('Measured CV over that.'), woolGrades: z.array(z.object({ grade: z.string(), blood: z.string() }).meta({ id: 'WoolGradeName', description: 'A grade of wool.' })).exactOptional(),
  finestYarns: z.array(z.object({ way: z.string(), fibres: plainNumber, grist: quantity }).meta({ id: 'FinestYarn', description: 'The finest yarn by a way of spinning.' })).exactOptional(),
  strength: z.object({ tenacity: quantity.exactOptional(), mean: quantity.exactOptional(), weakPlaces: quantity.exactOptional().describe('Mean less two standard deviations.'), fibresAlone: quantity.exactOptional().describe('All its fibres pulled at once: no yarn is stronger.') }).meta({ id: 'YarnStrength', description: 'What breaks it.' }).exactOptional(),
  packing: z.object({ yarnDensity: quantity, fibreShare: quantity.exactOptional().describe('Share of the yarn’s section that is fibre.') }).meta({ id: 'YarnPacking', description: 'How dense the yarn is.' }).exactOptional(), measuringPull: quantity.describe('Pull to measure it under, 0.5 cN/tex.'),
  states: z.array(z.object({ state: z.enum(yarnStates), grist: quantity, length: quantity.exactOptional() }).meta({ id: 'YarnInState', description: 'The yarn in one of its three states.' })).exactOptional(),
  repeats: z.object({ count: plainNumber, spread: quantity, standardError: quantity, halfWidth: quantity.describe('At 95 %, by Student’s t.'), needed: plainNumber.exactOptional().describe('Measurements for a mean as near as was asked.') }).meta({ id: 'YarnRepeats', description: 'How several measurements spread.' }).exactOptional(),
  moisture: z.object({ regain: quantity, moistureContent: quantity, regainWanted: quantity.exactOptional(), moistureContentWanted: quantity.exactOptional() }).meta({ id: 'YarnMoisture', description: 'Its moisture, both ways of saying it.' }).exactOptional(),
  readings: three.exactOptional().describe('The grist by each way of wrapping, when it was not said.'), wrapFactor: plainNumber.exactOptional().describe('Wraps per inch over √(yd/lb), measured on this yarn.'),
  plies: z.number().exactOptional(), singles: quantity.exactOptional().describe('Grist of one strand, without take-up.'), singlesWraps: z.object({ sameWrapping: quantity.describe('Strands that keep their round section.'), byRule: quantity.exactOptional().describe('By the rule of spinners, two plies or three.') }).meta({ id: 'StrandWraps', description: 'Wraps of one strand.' }).exactOptional(), length: quantity.exactOptional(), finishedLength: quantity.exactOptional(), lengthLost: quantity.exactOptional(),
  finishedGrist: quantity.exactOptional(), atRegain: z.object({ grist: quantity, mass: quantity.exactOptional() }).meta({ id: 'AtRegain', description: 'At the regain that was wanted.' }).exactOptional(),
  stockLength: quantity.exactOptional(), leastSample: quantity.exactOptional(),
}).meta({ id: 'GristResult', description: 'The grist, every yarn number, and what else follows from what was given.' });
void ((r: GristResult): z.input<typeof result> => r);
void ((q: GristQuestion): z.input<typeof question> => q);

export const contract = { question, result, example: { length: '254 yd', mass: '2.125 oz' }, exampleQuery: 'length=254yd&mass=2.125oz' } as const;
