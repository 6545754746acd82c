/** The one list of calculations. Every door is made from it. */
import type { Calculation } from './calculation.js';
import { answer, model } from './ratio/answer.js';
import { contract } from './ratio/contract.js';
import { fields } from './ratio/fields.js';

export const ratio: Calculation = {
  id: 'ratio', title: 'Drive ratio', summary: 'Turns of flyer and bobbin for one turn of the wheel, what each pair does, and the groove for a ratio you want.', model, fields, answer, contract,
};

export const calculations: readonly Calculation[] = [ratio];
