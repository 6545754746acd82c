/** What a diagnosis takes for granted, and the safety lines that stand above its advice. */
import type { Assumption, Caution } from '../../foundation/notes.js';
import { antique, doNotRun, leftHandThread, powered } from '../ratio/notes.js';
import { smallSteps, soreHands } from '../tension/notes.js';

export const common: Assumption = { code: 'common-practice', text: 'Which signs go with which cause is common practice of the trade; nobody has counted it.', effect: 'The order and the shares are a help in looking, not a measurement.' };
export const oneCause: Assumption = { code: 'one-cause', text: 'One cause was taken to be behind all the signs.', effect: 'Two at once, such as a dry bearing and a worn band, are each shown weaker than they are.' };
export const driveOpen: Assumption = { code: 'drive-open', text: 'How the wheel is driven was not said, so causes of every drive are among these.', effect: 'Naming the drive leaves out a third of them.' };
export const wheelOpen: Assumption = { code: 'wheel-open', text: 'The wheel’s measures were not given, so nothing was worked out of its grooves and bobbin.' };

export const stop: Caution = { code: 'stop', text: 'Stop the wheel now. Do not spin on it until somebody qualified has looked at it. Nothing else is worth trying before that.' };
export const clear: Caution = { code: 'keep-clear', text: 'Before you touch anything: foot off the treadle, wheel standing still. Hair, sleeves, scarf, lanyard and rings away from flyer and wheel, children and pets too. Never wind yarn or leader round a finger. Local rules and the maker’s leaflet come first.' };

export { doNotRun, powered, soreHands, smallSteps };
/** Safety lines of causes that other calculations say too. */
export const sharedCautions = { 'sore-hands': soreHands, 'small-steps': smallSteps, 'left-hand': leftHandThread, antique, unplug: powered } as const;
