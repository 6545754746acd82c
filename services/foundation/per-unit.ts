/**
 * Units made of two, as people put them together: `yards to a pound`, `yd/50g`, `g per 1100 m`, `turns to the inch`,
 * `wraps in 2 inches`, `treadles a minute`. A length with a weight is a grist, whichever comes first.
 */
import { numeral } from './numerals.js';
import { findUnit, toSI, type Kind, type Unit } from './quantity.js';

export const things = '(?:balls?|skeins?|hanks?|cones?|bobbins?|braids?|bumps?|bags?|cakes?)';
const parts = /^(.*?)(?:\s*[/=,;@]\s*|\s+(?:per|in|to|for|an?|each|every|over|weighs?|weighing)\s+(?:(?:the|an?|each)\s+)?|\s+(?=[\d.]))(.*)$/i;
const ending = new RegExp(`\\s*${things}$`, 'i');
const tops: Readonly<Partial<Record<Kind, RegExp>>> = {
  twist: /^(?:turns?|twists?|t)?$/i, wraps: /^(?:wraps?|w|ends?|picks?|threads?)?$/i,
  turning: /^(?:(?:wheel )?turns?|treadles?|treadlings?|strokes?|times|revs?|revolutions?|beats?|rotations?|x|r)?$/i,
};
const named = (num: number, den: number, name: string, more: Partial<Unit> = {}): Unit => ({ name, num, den, definition: name, also: [], ...more });

/** The unit that `text` puts together for this kind, or undefined. */
export function perUnit(kind: Kind, text: string): Unit | undefined {
  if (kind !== 'grist' && kind !== 'speed' && tops[kind] === undefined) return undefined;
  const m = parts.exec(` ${text}`);
  if (m === null) return undefined;
  const top = m[1]!.trim();
  const below = numeral(m[2]!);
  if (below !== undefined && ('ambiguous' in below || !(below.value > 0))) return undefined;
  const n = below?.value ?? 1;
  const bottom = m[2]!.slice(below?.text.length ?? 0).replace(ending, '').trim();
  const si = (of: Kind, word: string): number | undefined => {
    const u = findUnit(of, word);
    return u === undefined ? undefined : toSI(1, u);
  };
  if (kind === 'grist') {
    const [length, mass] = [si('length', top), si('mass', bottom)];
    if (length !== undefined && mass !== undefined) return named(mass * n, length, text, { reciprocal: true });
    const [weight, along] = [si('mass', top), si('length', bottom)];
    return weight === undefined || along === undefined ? undefined : named(weight, along * n, text);
  }
  const against = si(kind === 'turning' || kind === 'speed' ? 'time' : 'length', bottom);
  const over = kind === 'speed' ? si('length', top) : tops[kind]!.test(top) ? 1 : undefined;
  return against === undefined || over === undefined ? undefined : named(over, against * n, text);
}
