/** The safety lines that belong to single causes, beside those that other calculations say too. */
import type { Caution } from '../../foundation/notes.js';
import type { OwnCaution } from './cause.js';

export const causeCautions: Readonly<Record<OwnCaution, Caution>> = {
  'by-hand': { code: 'by-hand', text: 'Turn the wheel slowly by hand for this, foot off the treadle, no fingers between the spokes.' },
  oil: { code: 'oil', text: 'No penetrating oil and no spray on an antique, on a thread or on a finish. Do not oil sealed bearings.' },
  'band-on': { code: 'band-on', text: 'To fit a band: wheel blocked, foot off, feet clear of the crank.' },
  melting: { code: 'melting', text: 'A band that is joined by heat: burns and fumes. Open window, no child’s task; the join bears far less than the cord.' },
  'throws-parts': { code: 'throws-parts', text: 'At speed a broken flyer, hook or spoke is thrown. Keep faces and children away, and do not run it to try.' },
};
