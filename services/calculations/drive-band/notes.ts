import type { Assumption, Caution, Warning } from '../../foundation/notes.js';

export const distanceTaken: Assumption = {
  code: 'axle-to-flyer-taken', text: 'How far the wheel’s axle is from the flyer’s shaft was not given. It was taken as half the wheel and 140 to 300 mm more.', range: 'half the wheel + 220 ± 80 mm', effect: 'Twice as much in the length of a single band, four times in a double-drive band: measure it before you cut.',
};
export const screwTaken: Assumption = { code: 'screw-pitch-taken', text: 'One turn of the tension screw was taken as 6 mm.', range: '4 to 9 mm; many wheels have no screw', effect: 'Turns of the screw in proportion.' };
export const stiffnessTaken: Assumption = { code: 'cord-stiffness-taken', text: 'How stiff the cord is was not measured; what is usual for its stuff was taken, as a range.', range: 'cotton 50 to 500 N, linen 150 to 1000, urethane 20 to 100', effect: 'Ten times in the turns of the screw. An eighth of a turn at most, then the bag test.' };
export const preStretch: Assumption = { code: 'cut-shorter', text: 'An elastic band is cut shorter than its path so that it sits tight.', range: 'urethane 1 to 2 %, leather about 1 %, cord none', effect: 'Too short a band loads the bearings.' };
export const knot: Assumption = { code: 'knot-allowance', text: 'For a knot or splice 100 to 200 mm were added.', range: 'a sewn or melted join needs none' };
export const evenGrooves: Assumption = { code: 'grooves-in-line', text: 'Grooves that a run joins were taken as in line with each other.', range: 'offsets of 12 to 20 mm add less than 1 mm', effect: 'Skew runs climb out of shallow grooves.' };

export const measureFirst: Warning = { code: 'measure-before-cutting', text: 'This length rests on a guessed distance from axle to flyer. Run a string round the wheel’s own path before you cut a band.' };
export const standsOut: Warning = { code: 'band-stands-out', text: 'The band stands out above the rim of its groove: it climbs off sideways. Take a thinner band or a wider groove.' };
export const pulleyTooSmall: Warning = { code: 'pulley-too-small-for-cord', text: 'A pulley is smaller than this urethane cord should be bent round: the cord tires and cracks early, and costs treadling. Take a thinner cord or a larger pulley.' };
export const cordTooTight: Warning = { code: 'cord-beyond-its-limit', text: 'This is more tension than a urethane cord of this thickness bears for long. On a spinning wheel it needs far less.' };
export const singleCrossed: Warning = { code: 'crossed-reverses', text: 'A crossed single band turns the flyer the other way from the wheel: S and Z change places.' };

export const fitting: Caution = { code: 'fitting-a-band', text: 'Before you fit a band: block the wheel, foot off the treadle, feet clear of the crank.' };
export const welding: Caution = { code: 'welding-urethane', text: 'Joining urethane with a hot iron or flame burns and gives fumes: open a window, no task for a child. Run it far below its rating on old bearings.' };
export const slackenAfter: Caution = { code: 'slacken-after-use', text: 'Slacken band and brake when the wheel is put away.' };
