/** The one list of calculations. Every door is made from it. */
import type { Calculation } from './calculation.js';
import * as draftCycleAnswer from './draft-cycle/answer.js';
import * as draftCycleContract from './draft-cycle/contract.js';
import * as draftCycleFields from './draft-cycle/fields.js';
import { picture as draftCyclePicture } from './draft-cycle/picture.js';
import * as diagnosisAnswer from './diagnosis/answer.js';
import * as diagnosisContract from './diagnosis/contract.js';
import * as diagnosisFields from './diagnosis/fields.js';
import { table as draftCycleTable } from './draft-cycle/table.js';
import * as driveBandAnswer from './drive-band/answer.js';
import * as driveBandContract from './drive-band/contract.js';
import * as driveBandFields from './drive-band/fields.js';
import { picture as driveBandPicture } from './drive-band/picture.js';
import * as flyerAnswer from './flyer/answer.js';
import * as flyerContract from './flyer/contract.js';
import * as flyerFields from './flyer/fields.js';
import * as gristAnswer from './grist/answer.js';
import * as gristContract from './grist/contract.js';
import * as gristFields from './grist/fields.js';
import * as planAnswer from './plan/answer.js';
import * as planContract from './plan/contract.js';
import * as planFields from './plan/fields.js';
import * as plyAnswer from './ply/answer.js';
import * as plyContract from './ply/contract.js';
import * as plyFields from './ply/fields.js';
import { picture as plyPicture } from './ply/picture.js';
import * as ratioAnswer from './ratio/answer.js';
import * as ratioContract from './ratio/contract.js';
import * as ratioFields from './ratio/fields.js';
import { picture as ratioPicture } from './ratio/picture.js';
import * as setupsAnswer from './setups/answer.js';
import * as setupsContract from './setups/contract.js';
import * as setupsFields from './setups/fields.js';
import * as sampleAnswer from './sample/answer.js';
import * as sampleContract from './sample/contract.js';
import * as sampleFields from './sample/fields.js';
import * as takeUpAnswer from './take-up/answer.js';
import * as takeUpContract from './take-up/contract.js';
import * as takeUpFields from './take-up/fields.js';
import { picture as takeUpPicture } from './take-up/picture.js';
import * as tensionAnswer from './tension/answer.js';
import * as tensionContract from './tension/contract.js';
import * as tensionFields from './tension/fields.js';
import { picture as tensionPicture } from './tension/picture.js';
import * as twistAnswer from './twist/answer.js';
import * as twistContract from './twist/contract.js';
import * as twistFields from './twist/fields.js';

const of = (answer: Pick<Calculation, 'answer' | 'model'>, fields: Pick<Calculation, 'fields'>, contract: Pick<Calculation, 'contract'>): Pick<Calculation, 'answer' | 'model' | 'fields' | 'contract'> =>
  ({ answer: answer.answer, model: answer.model, fields: fields.fields, contract: contract.contract });

export const ratio: Calculation = {
  id: 'ratio', title: 'Drive ratio', summary: 'Turns of flyer and bobbin for one turn of the wheel, what each pair does, and the groove for a ratio you want.', picture: ratioPicture,
  ...of(ratioAnswer, ratioFields, ratioContract),
};
export const takeUp: Calculation = {
  id: 'take-up', title: 'Take-up', summary: 'What each whorl and bobbin can draw in from empty to full, the softest twist they can make, and what the bobbin holds.', picture: takeUpPicture,
  ...of(takeUpAnswer, takeUpFields, takeUpContract),
};
export const twist: Calculation = {
  id: 'twist', title: 'Twist', summary: 'Any one of ratio, turns of the wheel, draft length and twist from the other three; angle and twist factor.',
  ...of(twistAnswer, twistFields, twistContract),
};
export const grist: Calculation = {
  id: 'grist', title: 'Grist', summary: 'Every yarn number from any one, or from a skein, wraps, a balance or the yarn’s thickness.',
  ...of(gristAnswer, gristFields, gristContract),
};

export const driveBand: Calculation = {
  id: 'drive-band', title: 'Drive band', summary: 'How long the band is, how far the axle must be, where the one crossing lies, and what a turn of the screw does.', picture: driveBandPicture,
  ...of(driveBandAnswer, driveBandFields, driveBandContract),
};
export const tension: Calculation = {
  id: 'tension', title: 'Tension', summary: 'The setting that draws in and spares the yarn, from empty to full; what gives first; and how to find it without a gauge.', picture: tensionPicture,
  ...of(tensionAnswer, tensionFields, tensionContract),
};
export const plan: Calculation = {
  id: 'plan', title: 'Plan', summary: 'From the yarn or cloth that you want back to strands, fibre, bobbins and hours, and whether what you have is enough.',
  ...of(planAnswer, planFields, planContract),
};

export const diagnosis: Calculation = {
  id: 'diagnosis', title: 'What is wrong', summary: 'From the signs that you notice to the next thing to look at and to try: safety first, one change at a time.',
  ...of(diagnosisAnswer, diagnosisFields, diagnosisContract),
};

export const ply: Calculation = {
  id: 'ply', title: 'Ply', summary: 'From singles to the plied yarn and back, where it balances by every rule, twist left in each strand, and turns for each draw.', picture: plyPicture,
  ...of(plyAnswer, plyFields, plyContract),
};

export const setups: Calculation = {
  id: 'setups', title: 'Set-ups', summary: 'For a yarn that you want: which whorl and bobbin, how much to draft for a treadle, how to set it from empty to full, what limits it, and the ply after.',
  ...of(setupsAnswer, setupsFields, setupsContract),
};
export const sample: Calculation = {
  id: 'sample', title: 'Sample', summary: 'A measured sample against the yarn that you want: whether the difference is real, what to change and by how much, and how many measurements would tell.',
  ...of(sampleAnswer, sampleFields, sampleContract),
};

export const draftCycle: Calculation = {
  id: 'draft-cycle', title: 'Draft cycle', summary: 'One draw, step by step: whether the bobbin follows the hand, where yarn hangs slack, how hard it grabs, and the twist along what is wound on.', picture: draftCyclePicture, table: draftCycleTable,
  ...of(draftCycleAnswer, draftCycleFields, draftCycleContract),
};

export const flyer: Calculation = {
  id: 'flyer', title: 'Flyer and treadle', summary: 'What drags on the flyer, when it hops, what its arms bear, drag from coasting down; what the foot feels, and how far the wheel swings.',
  ...of(flyerAnswer, flyerFields, flyerContract),
};

export const calculations: readonly Calculation[] = [ratio, takeUp, twist, grist, driveBand, tension, draftCycle, flyer, setups, plan, ply, sample, diagnosis];
