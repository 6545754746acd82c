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

export const gum: Source = { id: 'jcgm-100', title: 'Evaluation of measurement data: Guide to the expression of uncertainty in measurement', author: 'JCGM', year: 2008, locator: '4.3.7, 5.1.2, 5.2.2, 6.2' };
export const engineeringMechanics: Source = { id: 'engineering-mechanics-33', title: 'A Textbook of Engineering Mechanics', locator: 'Example 33.3: velocity ratio with belt thickness and slip' };
