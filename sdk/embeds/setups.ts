/** `<wheelgrist-setups>` */
import { answer } from '../../services/calculations/setups/answer.js';
import { fields } from '../../services/calculations/setups/fields.js';
import { define } from './base.js';

export const element = define({ id: 'setups', title: 'Set-ups', fields, answer });
