/** Every published source once. A fact of the trade without a source is `common practice` and is not listed. */
export interface Source {
  readonly id: string;
  readonly title: string;
  readonly author?: string;
  readonly year?: number;
  /** Where in it: clause, table, equation, example. */
  readonly locator?: string;
  readonly erratum?: string;
}
