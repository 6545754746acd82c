/** The part of jStat that is used here; it ships without types. */
declare module 'jstat' {
  export const jStat: { studentt: { inv(p: number, dof: number): number }; mean(values: readonly number[]): number; stdev(values: readonly number[], sample?: boolean): number; ttest(value: number, sample: readonly number[], sides: 1 | 2): number };
}
