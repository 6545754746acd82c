import type { Assumption, Warning } from '../../foundation/notes.js';

export const coreTaken: Assumption = { code: 'core-taken', text: 'The bobbin’s core was not given and was taken as 25 mm.', range: '18 to 50 mm', effect: 'The softest twist and the pull on an empty bobbin go as one over the core.' };
export const endsTaken: Assumption = { code: 'ends-taken', text: 'The bobbin’s ends were not given and were taken as 75 mm.', range: '60 to 120 mm', effect: 'What a full bobbin can draw in, and how much it holds.' };
export const fullBelowRim: Assumption = { code: 'full-below-rim', text: 'Full was taken as 4 mm below the rim of the bobbin’s ends.', range: 'many stop at three quarters', effect: 'Flush with the rim would be about a quarter more, and yarn falls off the edge.' };
export const lengthTaken: Assumption = { code: 'length-between-ends-taken', text: 'The length between the bobbin’s ends was not given and was taken as 90 mm.', range: '70 to 150 mm', effect: 'What the bobbin holds, in proportion.' };
export const densityTaken: Assumption = { code: 'density-on-bobbin', text: 'Yarn on the bobbin was taken to weigh 300 ± 50 kg in a cubic metre.', range: 'woollen 260, worsted single 330; 200 to 400', effect: 'What the bobbin holds, in proportion.' };
export const oneWheelTurn: Assumption = { code: 'one-wheel-turn', text: 'The length drafted was taken to go in with one turn of the wheel.' };
export const noBandSlip: Assumption = { code: 'ceiling-without-slip', text: 'The ceilings hold while neither whorl nor bobbin slips on its band.', effect: 'A slipping bobbin draws in less.' };

export const tooClose: Warning = { code: 'too-close-to-say', text: 'Whorl and bobbin groove are so alike that no ceiling can be named: what such a pair draws in comes from slip and friction, weakly. Count ten slow turns of flyer and bobbin, or choose parts that differ more.' };
export const cannotDrawInSoMuch: Warning = { code: 'more-than-it-can-draw-in', text: 'At some fill the length drafted is more than the pair can draw in for those turns of the wheel. The rest must wait for more turns, and the twist rises to the softest that this pair can make.' };
export const softestAboveTarget: Warning = { code: 'softest-above-target', text: 'At some fill even the softest twist of this pair is more than you want. A fatter core, a whorl and bobbin that differ more, or flyer-lead would make softer yarn.' };
export const noTwistLeft: Warning = { code: 'no-twist-left', text: 'On so thin a package each lap takes out as many turns as the wheel puts in: the yarn would get no twist.' };
export const overfull: Warning = { code: 'overfull', text: 'So much yarn stands above what was called full. An overfull bobbin rubs and binds.' };
