/**
 * Every assumption, warning and caution once, as named exports, so that an embed carries only its own.
 * `text` is what a person reads. Assumptions also say over which range they may be wrong, and what that changes.
 */
export interface Assumption { readonly code: string; readonly text: string; readonly range?: string; readonly effect?: string }
export interface Warning { readonly code: string; readonly text: string }
export interface Caution { readonly code: string; readonly text: string }

/** What an answer gathers on its way; each code once, in the order in which it came up. */
export class Notes {
  readonly assumptions: Assumption[] = [];
  readonly warnings: Warning[] = [];
  readonly cautions: Caution[] = [];
  assume(a: Assumption): void { add(this.assumptions, a); }
  warn(w: Warning): void { add(this.warnings, w); }
  caution(c: Caution): void { add(this.cautions, c); }
}
function add<T extends { code: string; text: string }>(list: T[], note: T): void {
  for (const n of list) if (n.code === note.code && n.text === note.text) return;
  list.push(note);
}

// ---- how the question was read
export const approximate: Assumption = { code: 'read-as-approximate', text: 'A measure was given as approximate. It was used as it stands, so the answer is no better than that measure.', effect: 'Give it with ± to see how much it matters.' };
export const decimalComma: Warning = { code: 'decimal-comma', text: 'A comma was read as the decimal sign.' };
export const multiplied: Assumption = { code: 'multiplied', text: 'A count of equal pieces was multiplied by the size of one.' };
export const plyOrder: Warning = { code: 'ply-order', text: 'The plied yarn number was written against the habit of its trade; the smaller number was read as the plies.' };
export const noUncertainty: Warning = { code: 'no-uncertainty', text: 'No measure came with its ±, so how sure the answer is cannot be said. Give measures as 560 ± 1 mm to see it.' };
