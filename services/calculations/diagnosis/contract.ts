/** What a diagnosis takes and gives, for the specification. Reading is answer.ts. */
import { z } from 'zod';
import { bagTest, numberIn, plainNumber, quantity, quantityInOf } from '../../parts.js';
import { driveIn, wheel } from '../../wheels/schema.js';
import { strengths, type DiagnosisQuestion, type DiagnosisResult } from './diagnose.js';
import type { QuantityId } from './cause.js';
import { kinds } from './contradict.js';
import { changes, fills, habits, placeNames, places, signIds, signs, type Change, type Fill, type Habit } from '../../reference/signs.js';

const keysOf = <T extends string>(of: Readonly<Record<T, unknown>>): [T, ...T[]] => Object.keys(of) as [T, ...T[]];
const signId = z.enum(signIds as unknown as [string, ...string[]]).meta({ id: 'SignId', description: 'A sign; see GET /v1/signs.' }) as unknown as z.ZodType<(typeof signIds)[number]>;
export const question = z.strictObject({
  signs: z.array(z.union([signId, z.strictObject({ sign: signId, strength: z.enum(strengths).exactOptional() }).meta({ id: 'SignSeen', description: 'A sign with its strength.' })])).min(1).max(24).exactOptional(), notSeen: z.array(signId).max(48).exactOptional().describe('Looked for, and not there.'),
  wheel: wheel.exactOptional(), wheelId: z.string().min(1).max(80).exactOptional().describe('Instead of wheel: one of the library.'), drive: driveIn.exactOptional(), whorl: z.string().min(1).max(80).exactOptional().describe('Whorl in use, by its name.'), bobbin: z.string().min(1).max(80).exactOptional().describe('Bobbin in use, by its name.'),
  fill: z.enum(keysOf<Fill>(fills)).exactOptional(), changed: z.enum(keysOf<Change>(changes)).exactOptional().describe('What was changed last.'), habits: z.array(z.enum(keysOf<Habit>(habits))).max(Object.keys(habits).length).exactOptional(), stepsTightened: numberIn.exactOptional().describe('Small steps of tightening so far.'),
  treadling: quantityInOf('turning', 'Treadling').exactOptional(), counted: z.enum(['wheel-turns', 'each-foot']).exactOptional(), draftLength: quantityInOf('part', 'Length drafted').exactOptional(), wheelTurns: numberIn.exactOptional(), treadles: numberIn.exactOptional(), twist: quantityInOf('twist', 'Twist wanted').exactOptional(),
  bagTest: bagTest.exactOptional(), pullNeeded: quantityInOf('pull', 'Pull needed to draw in').exactOptional(), pullBorne: quantityInOf('pull', 'Pull that yarn and hand bear').exactOptional(),
}).meta({ id: 'DiagnosisQuestion', description: 'Signs, with all that is known of the wheel, its setting, the yarn and the spinner. At least one sign is needed.' });

const quantityIds: readonly QuantityId[] = ['draws-in', 'pulls-off', 'bobbin-per-flyer-turn', 'feed', 'twist', 'softest-twist', 'spread', 'twist-of-a-lap', 'flyer-speed', 'treadling', 'whorl-size'];
const value = z.union([quantity, plainNumber]);
const beside = z.object({
  of: z.enum(quantityIds as [QuantityId, ...QuantityId[]]), value, atLeast: value.exactOptional(), atMost: value.exactOptional(), found: z.enum(['above', 'below', 'inside', 'near']).describe('Beside its window; near: too close to say.'), times: plainNumber.exactOptional().describe('Out of its window: times the edge.'),
}).meta({ id: 'NumberInWindow', description: 'A number of the wheel or of a test beside its window.' });
export const result = z.object({
  verdict: z.enum(['stop', 'stands-out', 'look-first']), doFirst: z.array(z.string()).describe('Before any one cause.'),
  causes: z.array(z.object({
    id: z.string(), name: z.string(), fit: quantity.describe('Share of this cause among all that fit.'), cautions: z.array(z.string()).describe('Show them above the advice.'), why: z.string(), checkFirst: z.string().describe('Touches nothing; ten seconds.'), tryNext: z.string().describe('One change.'),
    quantity: beside.exactOptional(), tension: z.enum(['loosen', 'tighten', 'leave']), technicianOnly: z.boolean().describe('The remedy is no spinner’s work, or cannot be undone.'), explains: z.array(z.string()).describe('What was said that goes with it.'), notExplained: z.array(z.string()).describe('Signs that it does not explain.'),
  }).meta({ id: 'LikelyCause', description: 'A cause, the likeliest first.' })),
  questions: z.array(z.object({ id: z.string(), asks: z.string(), bits: plainNumber.describe('What the answer is expected to tell.'), ifYes: z.string(), ifNo: z.string() }).meta({ id: 'AskNext', description: 'A question that would tell much.' })).max(3),
  contradictions: z.array(z.object({ kind: z.enum(kinds), says: z.string(), look: z.string() }).meta({ id: 'Contradiction', description: 'What does not go together.' })), measures: z.array(beside),
}).meta({ id: 'DiagnosisResult', description: 'Causes in the order in which to try them, and what to look at before more can be said.' });
void ((r: DiagnosisResult): z.input<typeof result> => r as z.input<typeof result>);
void ((q: DiagnosisQuestion): z.input<typeof question> => q);

/** One line of GET /v1/signs. */
export const signLine = z.object({ id: signId, says: z.string(), noticed: z.enum(places), where: z.string().describe('As a person reads it.'), danger: z.enum(['stop', 'rest']).exactOptional().describe('stop: nothing else before this. rest: stop for today.') })
  .meta({ id: 'Sign', description: 'A sign in spinners’ words. The dangerous ones come first.' });
export const signLines = signs.map((s) => ({ id: s.id, says: s.says, noticed: s.place, where: placeNames[s.place], ...(s.danger === undefined ? {} : { danger: s.danger }) }));

export const contract = {
  question, result,
  example: { signs: ['will-not-draw-in', 'hands-drift-back', { sign: 'yarn-slack', strength: 'strong' }], drive: 'flyer-lead', fill: 'half', stepsTightened: 1 },
  exampleQuery: 'sign=will-not-draw-in&sign=hands-drift-back&strong=yarn-slack&drive=flyer-lead&fill=half&stepsTightened=1',
} as const;
