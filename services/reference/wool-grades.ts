/**
 * Wool grades of the United States: mean fibre diameter and the largest standard deviation, in µm (USDA wool grade tables;
 * New Mexico State University, B-409). The text left the Code of Federal Regulations in 1995 to 1997. The grade of *top* has
 * other limits. A count in hanks is a name here: the grade is not computed from it, since it is no constant number of fibres.
 */
export interface WoolGrade {
  readonly grade: string;
  /** Mean diameter, from and to, as printed; the finest and the coarsest are open. */
  readonly from?: number; readonly to?: number;
  readonly mostSpread?: number;
  readonly blood: string;
}
const grade = (name: string, from: number, to: number, mostSpread: number, blood: string): WoolGrade => ({ grade: name, from, to, mostSpread, blood });
export const woolGrades: readonly WoolGrade[] = [
  { grade: 'finer than 80s', to: 17.69, mostSpread: 3.59, blood: 'fine' },
  grade('80s', 17.7, 19.14, 4.09, 'fine'), grade('70s', 19.15, 20.59, 4.59, 'fine'), grade('64s', 20.6, 22.04, 5.19, 'fine'), grade('62s', 22.05, 23.49, 5.89, 'half blood'), grade('60s', 23.5, 24.94, 6.49, 'half blood'),
  grade('58s', 24.95, 26.39, 7.09, 'three-eighths blood'), grade('56s', 26.4, 27.84, 7.59, 'three-eighths blood'), grade('54s', 27.85, 29.29, 8.19, 'quarter blood'), grade('50s', 29.3, 30.99, 8.69, 'quarter blood'),
  grade('48s', 31, 32.69, 9.09, 'low quarter blood'), grade('46s', 32.7, 34.39, 9.59, 'low quarter blood'), grade('44s', 34.4, 36.19, 10.09, 'common'), grade('40s', 36.2, 38.09, 10.69, 'common or braid'), grade('36s', 38.1, 40.2, 11.19, 'braid'),
  // Its name is from memory.
  { grade: 'coarser than 36s', from: 40.21, blood: 'braid' },
];
/** A diameter that is printed for no grade, 19.145, is of the finer one. */
export const gradeOfDiameter = (micron: number): WoolGrade => woolGrades.findLast((g) => g.from !== undefined && micron >= g.from - 1e-9) ?? woolGrades[0]!;
/** Grades that a person can name: those with both limits, and bloods. */
export const gradeNames = woolGrades.filter((g) => g.from !== undefined && g.to !== undefined).map((g) => g.grade);
const bloods = ['half-blood', 'three-eighths-blood', 'quarter-blood', 'low-quarter-blood', 'common', 'braid'] as const;
export const namedGrades: readonly string[] = [...gradeNames, ...bloods];
export const gradeAliases: Readonly<Record<string, string>> = Object.fromEntries([
  ...gradeNames.flatMap((g) => [[g.slice(0, -1), g], [g.replace('s', '’s'), g], [g.replace('s', "'s"), g]]), ['1/2-blood', 'half-blood'], ['3/8-blood', 'three-eighths-blood'], ['3/8ths-blood', 'three-eighths-blood'], ['1/4-blood', 'quarter-blood'], ['low-1/4-blood', 'low-quarter-blood'],
]) as Readonly<Record<string, string>>;
/** From the finest to the coarsest mean of the grade, or of all grades of a blood, and their largest spread; µm. */
export function limitsOf(name: string): { readonly from: number; readonly to: number; readonly mostSpread: number } {
  const word = name.replaceAll('-', ' ').replace('three eighths', 'three-eighths');
  const found = woolGrades.filter((g) => g.from !== undefined && g.to !== undefined && (g.grade === name || g.blood === word || (g.blood === 'common or braid' && (word === 'common' || word === 'braid'))));
  return { from: found[0]!.from!, to: found.at(-1)!.to!, mostSpread: Math.max(...found.map((g) => g.mostSpread ?? 0)) };
}
