/** `<wheelgrist-drive-band>` */
import { answer } from '../../services/calculations/drive-band/answer.js';
import { fields } from '../../services/calculations/drive-band/fields.js';
import { define } from './base.js';

export const element = define({ id: 'drive-band', title: 'Drive band', fields, answer, picture: async () => (await import('../../services/calculations/drive-band/picture.js')).picture });
