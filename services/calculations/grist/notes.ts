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
export const scaleStep: Assumption = { code: 'scale-step', text: 'The scale was taken to be good to half its step either way, once: emptied, set to nought, loaded.', effect: 'A scale that was never checked may be off by more.' };
export const scatter: Assumption = { code: 'scatter', text: 'The ± holds how the skeins spread, by Student’s t for so few of them, beside the ± of each.', effect: 'It says how well the mean is known, not how even the yarn is.' };
export const fewSkeins: Warning = { code: 'few-skeins', text: 'Two skeins hardly tell how a yarn spreads, so the ± is very wide. Measure a third and a fourth.' };
export const gradeLimits: Assumption = { code: 'grade-limits', text: 'A wool grade is a range of mean diameters, and the answer covers all of it. The diameters within the lot were taken to spread by no more than the grade allows.', effect: 'A micron report of the fleece narrows it. Grades of top have other limits.' };
export const evenFibres: Assumption = { code: 'fibres-of-one-thickness', text: 'The fibres were taken as all of one thickness.', range: 'a spread (CV) of 20 to 25 % is usual in wool', effect: 'Four to six per cent fewer fibres in the section.' };
export const irregularityConstant: Assumption = { code: 'irregularity-constant', text: 'For the most even yarn that so many fibres can make, the usual constant was taken: 106 for cotton, 112 for wool and hair, 100 for fibres of one thickness.', range: '100 to 118, by author', effect: 'In proportion. Give the spread of the fibre’s diameter instead.' };
export const fewestFibres: Assumption = { code: 'fewest-fibres', text: 'How few fibres a yarn can do with is advice from mills, by way of spinning; a hand may make finer yarn.', range: '10 to 120' };
export const fewFibres: Warning = { code: 'few-fibres', text: 'That is fewer than ten fibres in the section, which hardly makes a yarn. Check the grist and the fibre.' };
export const strengthPublished: Assumption = { code: 'strength-published', text: 'The strength for its grist is that of upland cotton yarn spun in a mill.', range: '15.6 to 19.2 gf/tex', effect: 'Handspun yarn has weak places: hang weights on a length of yours.' };
export const strengthFromMemory: Assumption = { code: 'strength-from-memory', text: 'The strength for its grist is from memory, for singles spun in a mill.', range: 'worsted 5 to 9, woollen 2 to 5, linen 15 to 25, spun silk 20 to 30 cN/tex', effect: 'Handspun yarn has weak places: hang weights on a length of yours.' };
export const regainFromMemory: Assumption = { code: 'regain-from-memory', text: 'That regain is from memory, not from a table that was seen.', effect: 'Check it in the standard before money depends on it.' };
export const strandsByRule: Assumption = { code: 'strands-without-take-up', text: 'One strand was computed without what plying takes up or gives back.', range: 'two plies: 1.4 to 1.5 times as many wraps; three: 1.7 to 2', effect: 'Spin a sample, ply it and wash it.' };
