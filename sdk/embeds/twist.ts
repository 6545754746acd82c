/** `<wheelgrist-twist>` */
import { answer } from '../../services/calculations/twist/answer.js';
import { fields } from '../../services/calculations/twist/fields.js';
import { define } from './base.js';

export const element = define({ id: 'twist', title: 'Twist', fields, answer });
