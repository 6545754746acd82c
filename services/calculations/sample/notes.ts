import type { Assumption, Warning } from '../../foundation/notes.js';

export const byProportion: Assumption = {
  code: 'by-proportion', text: 'What to change was found by proportion from the yarn that you spun: whatever your wheel, your hand and washing do to it stays as it is.', effect: 'Spin another sample after the change. Small steps are surer than large ones.',
};
export const sameAngle: Assumption = { code: 'twist-for-the-same-angle', text: 'No twist was asked for, so the twist for the new grist is the one that keeps the angle of the yarn as it is.', effect: 'Say which twist you want to have it otherwise.' };
export const wrapsAsCounted: Assumption = { code: 'wraps-as-counted', text: 'The wraps wanted were taken as counted in the same way, on yarn in the same state, as those of the sample.', effect: 'Another hand or another ruler makes 10 % and more.' };
export const wrapsScatter: Assumption = { code: 'scatter', text: 'The ± holds how your counts spread, by Student’s t for so few of them.', effect: 'It says how well the mean is known, not how even the yarn is.' };
export const strandsWithoutTakeUp: Assumption = { code: 'strands-without-take-up', text: 'Plied strands were added up without what plying takes up or gives back.', range: 'usually -2 to 10 % of the length', effect: 'Ply a sample and wash it.' };
export const twoMeasured: Warning = { code: 'two-measurements', text: 'Two measurements hardly tell how a yarn spreads, so the ± is very wide. Measure a third and a fourth.' };
export const measuredOnce: Warning = {
  code: 'measured-once', text: 'It was measured once and without its ±, so whether the difference is real cannot be said. Measure four or more pieces from different places, and give each.',
};
export const otherTooWide: Warning = { code: 'more-will-not-tell', text: 'More measurements will not settle it: what is wanted, or the scale, is less sure than the difference itself.' };
