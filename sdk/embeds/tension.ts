/** `<wheelgrist-tension>` */
import { answer } from '../../services/calculations/tension/answer.js';
import { fields } from '../../services/calculations/tension/fields.js';
import { define } from './base.js';

export const element = define({ id: 'tension', title: 'Tension', fields, answer, picture: async () => (await import('../../services/calculations/tension/picture.js')).picture });
