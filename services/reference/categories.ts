/**
 * Yarn categories by wraps per inch as knitters wind. At least four sets of bands go round; they overlap and leave gaps,
 * and no publisher says how hard to pull. Common practice, no source. Bands include both ends.
 */
export interface CategoryBand { readonly category: string; readonly low: number; readonly high: number; /** Metres in 100 g, where the set has them. */ readonly metres?: readonly [number, number] }
export interface BandSet { readonly set: string; readonly bands: readonly CategoryBand[] }

const no = Infinity;
const b = (category: string, low: number, high: number, metres?: readonly [number, number]): CategoryBand => ({ category, low, high, ...(metres === undefined ? {} : { metres }) });
export const bandSets: readonly BandSet[] = [
  { set: 'band set 1', bands: [
    b('0 lace', 30, no), b('1 super fine', 14, 30), b('2 fine', 12, 18), b('3 light', 11, 15), b('4 medium', 9, 12), b('5 bulky', 6, 9), b('6 super bulky', 5, 6), b('7 jumbo', 1, 4),
  ] },
  { set: 'band set 2', bands: [
    b('0 lace', 16, no), b('1 super fine', 13, 15), b('2 fine', 12, 12), b('3 light', 11, 11), b('4 medium, worsted', 9, 10), b('4 medium, aran', 8, 8), b('5 bulky', 7, 7), b('6 super bulky', 5, 6), b('6 super bulky, thickest', 0, 4),
  ] },
  { set: 'band set 3', bands: [
    b('0 lace, thinnest', 40, no, [800, no]), b('0 lace', 30, 40, [600, 800]), b('1 super fine, thin', 20, 30, [500, 600]), b('1 super fine', 14, 24, [350, 450]), b('2 fine', 12, 18, [250, 350]),
    b('3 light', 11, 15, [200, 250]), b('4 medium', 9, 12, [120, 200]), b('5 bulky', 6, 8, [100, 130]), b('6 super bulky', 5, 6, [0, 100]),
  ] },
  { set: 'band set 4', bands: [
    b('0 lace', 18, no), b('1 super fine', 14, 17), b('2 fine', 12, 13), b('3 light', 11, 11), b('4 medium', 9, 9), b('5 bulky', 7, 7), b('6 super bulky', 5, 6),
  ] },
];

export interface Category { readonly set: string; readonly category: string }

/** Every band that a count, or an interval of counts, of wraps per inch touches. */
export function categoriesByWraps(low: number, high: number): Category[] {
  return bandSets.flatMap(({ set, bands }) => bands.filter((x) => x.low <= high && x.high >= low).map(({ category }) => ({ set, category })));
}
/** The one set that also goes by metres in 100 g. */
export function categoriesByMetres(low: number, high: number): Category[] {
  return bandSets.flatMap(({ set, bands }) => bands.filter((x) => x.metres !== undefined && x.metres[0] <= high && x.metres[1] >= low).map(({ category }) => ({ set, category })));
}
