/** `<wheelgrist-ply>` */
import { answer } from '../../services/calculations/ply/answer.js';
import { fields } from '../../services/calculations/ply/fields.js';
import { define } from './base.js';

export const element = define({ id: 'ply', title: 'Ply', fields, answer, picture: async () => (await import('../../services/calculations/ply/picture.js')).picture });
