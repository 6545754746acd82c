/**
 * The flat names of a calculation, once: query parameters, form fields, embed attributes, command-line options and CSV
 * columns are all made from this list. `toQuestion` builds the JSON question from flat text, and remembers which
 * parameter each JSON pointer came from, so that an error can name the parameter.
 */
import type { Issue } from './problems.js';
import type { Kind } from './quantity.js';

export interface Field {
  readonly name: string;
  readonly kind: Kind | 'ratio' | 'number' | 'choice' | 'text';
  /** What a spinner reads beside the box. */
  readonly label: string;
  readonly hint?: string;
  /** Choices with a group stand under its heading. */
  readonly choices?: readonly { readonly value: string; readonly label: string; readonly group?: string }[];
  /** May stand more than once. */
  readonly repeats?: true;
  /** Belongs to the wheel, not to the question: left out when a wheel is named by its id. */
  readonly ofWheel?: true;
  /** Shown in a form without unfolding `more`. */
  readonly first?: true;
  /** What a form starts with. */
  readonly start?: string;
}

export type Flat = Readonly<Record<string, readonly string[]>>;
export interface FromFlat {
  readonly question: Record<string, unknown>;
  /** JSON pointer -> parameter name. */
  readonly places: ReadonlyMap<string, string>;
  readonly issues: readonly Issue[];
}
export interface FieldSet {
  readonly list: readonly Field[];
  toQuestion(flat: Flat): FromFlat;
}

/** The parameter that a pointer came from: its own, or that of the nearest thing above it. */
export function placeOf(places: ReadonlyMap<string, string>, pointer: string): string | undefined {
  for (let at = pointer; at !== ''; at = at.slice(0, at.lastIndexOf('/'))) {
    const name = places.get(at);
    if (name !== undefined) return name;
  }
  return undefined;
}

/** Fields whose names are those of the question itself; one that repeats is a list. */
export function plainFields(list: readonly Field[]): FieldSet {
  return {
    list,
    toQuestion(flat) {
      const question: Record<string, unknown> = {};
      const places = new Map<string, string>();
      for (const { name, repeats } of list) {
        places.set(`/${name}`, name);
        const value = repeats === true ? flat[name] : flat[name]?.[0];
        if (value !== undefined) question[name] = value;
      }
      return { question, places, issues: [] };
    },
  };
}
