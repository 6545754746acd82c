/** `<wheelgrist-grist>` */
import { answer } from '../../services/calculations/grist/answer.js';
import { fields } from '../../services/calculations/grist/fields.js';
import { define } from './base.js';

export const element = define({ id: 'grist', title: 'Grist', fields, answer });
