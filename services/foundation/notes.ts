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
