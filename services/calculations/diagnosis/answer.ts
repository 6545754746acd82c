/** Diagnosis: from signs to the next thing to try. Pure; throws a ProblemError. */
import type { AnswerOptions, Reply } from '../calculation.js';
import { diagnose, type DiagnosisResult } from './diagnose.js';
import { knowledge } from './knowledge.js';

export { model } from './diagnose.js';
export type { DiagnosisQuestion, DiagnosisResult } from './diagnose.js';
export const answer = (question: unknown, options: AnswerOptions = {}): Reply<DiagnosisResult> => diagnose(question, options, knowledge);
