/** `<wheelgrist-ratio>` */
import { answer } from '../../services/calculations/ratio/answer.js';
import { fields } from '../../services/calculations/ratio/fields.js';
import { define } from './base.js';

export const element = define({ id: 'ratio', title: 'Drive ratio', fields, answer, picture: async () => (await import('../../services/calculations/ratio/picture.js')).picture });
