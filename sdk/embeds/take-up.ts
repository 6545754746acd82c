/** `<wheelgrist-take-up>` */
import { answer } from '../../services/calculations/take-up/answer.js';
import { fields } from '../../services/calculations/take-up/fields.js';
import { define } from './base.js';

export const element = define({ id: 'take-up', title: 'Take-up', fields, answer, picture: async () => (await import('../../services/calculations/take-up/picture.js')).picture });
