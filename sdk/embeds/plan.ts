/** `<wheelgrist-plan>` */
import { answer } from '../../services/calculations/plan/answer.js';
import { fields } from '../../services/calculations/plan/fields.js';
import { define } from './base.js';

export const element = define({ id: 'plan', title: 'Plan', fields, answer });
