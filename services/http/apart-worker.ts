/** The thread that answers long questions, one after another. */
import { parentPort } from 'node:worker_threads';
import { calculations } from '../calculations/index.js';
import { ProblemError } from '../foundation/problems.js';
import { answerText } from './answers.js';
import type { Job, Outcome } from './apart.js';

const byId = new Map(calculations.map((calculation) => [calculation.id, calculation]));

parentPort!.on('message', ({ id, calculation, make, question, options, wheel }: Job) => {
  const asked = byId.get(calculation)!;
  let outcome: Outcome;
  try {
    outcome = { id, text: make === 'answer' ? answerText(asked, question, options, wheel) : make === 'picture' ? asked.picture!(question, options) : asked.table!(question, options, make) };
  } catch (error) {
    outcome = error instanceof ProblemError ? { id, problem: { code: error.code, detail: error.message, issues: error.issues, headers: error.headers } } : { id, fault: error instanceof Error ? (error.stack ?? error.message) : String(error) };
  }
  parentPort!.postMessage(outcome);
});
