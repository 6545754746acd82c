import type { Assumption, Warning } from '../../foundation/notes.js';

export const whichWrapping: Warning = {
  code: 'wrapping-not-said', text: 'How were the wraps laid: packed together until no more go in, side by side round a ruler, or loosely as knitters wind? The same yarn gives two to three times as many packed as loose, so this answer covers all three.',
};
export const wrapFactorRange: Assumption = {
  code: 'wrap-factor', text: 'Wraps and grist were tied by what is usual for this way of wrapping and this yarn, not measured on yours.', range: 'packed 0.84 (woollen) to 0.97 (cotton); round a ruler 0.58 to 0.68; loose 0.25 to 0.61 (wraps per inch over the root of yards in a pound)',
  effect: 'Ten per cent in it is twenty in the grist. Weigh one measured skein of yours to find your own.',
};
export const packing: Assumption = { code: 'yarn-packing', text: 'The diameter takes the yarn as round, packed as such yarn usually is.', range: 'specific volume 1.09 to 1.45 cm³/g', effect: 'Up to 15 % in the diameter; lofty woollen yarn is thicker still.' };
export const categoryIsNoMeasure: Assumption = { code: 'category-is-no-measure', text: 'A category is a word, not a measurement. At least four sets of bands go round, they overlap and leave gaps; each match names its set.' };
export const inchBalance: Assumption = { code: 'inch-balance', text: 'The balance was taken as the inch kind: its arm is worth 1/3600 lb, so that inches times 100 are yards in a pound.', effect: 'Another arm needs its weight.' };
export const skeinMeasure: Assumption = { code: 'length-as-measured', text: 'The length was taken as it was measured; a stretched skein reads long.', effect: 'Yarn on the winder is often 5 to 10 % longer than at rest, lofty yarn more.' };
export const densityFromMemory: Assumption = { code: 'density-from-memory', text: 'The density of this fibre is from memory, not from a table that was seen.', effect: 'A few per cent at most.' };
export const woolTaken: Assumption = { code: 'fibre-taken-as-wool', text: 'The fibre was taken as wool.', range: '1140 to 1530 kg/m³ for other fibres', effect: 'Fibres in the section change with the density.' };
export const finishedLength: Assumption = { code: 'plan-with-finished', text: 'Plans should use the finished length; grist is given for it.' };
