/** Ply twist for a balanced yarn by every published rule, side by side, each with where it comes from. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import { extent, span, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export const balanceRules = ['half', 'mill', 'shared', 'equal-factor', 'elastic'] as const;
export type BalanceRule = (typeof balanceRules)[number];
export const balanceStates = ['under-plied', 'within', 'over-plied', 'too-close-to-say'] as const;
export type BalanceState = (typeof balanceStates)[number];
export interface BalanceRow { rule: BalanceRule; basis: string; ratio: R; plyTwist?: Q; singlesTwist?: Q; plyAngle?: Q }
export interface Balance { ratio: R; plyTwist?: Q; singlesTwist?: Q; plied?: R; state?: BalanceState; rules: BalanceRow[] }

const exact = (value: number): Expr => ({ uses: [], at: () => value });
interface Rule { readonly rule: BalanceRule; readonly basis: string; readonly ratio: Expr; readonly angle?: Expr }

/** Every rule that is made for so many strands; the elastic one needs the angle of the singles. */
function rulesFor(plies: number, singlesAngle: Expr | undefined, stiffness: () => Expr, k: Knowns): Rule[] {
  const list: Rule[] = [];
  if (plies === 2) {
    list.push({ rule: 'half', basis: 'common practice: plying takes out half, and a strand plied with itself shows half', ratio: exact(0.5) });
    list.push({ rule: 'mill', basis: 'common practice of mills for two-fold yarn', ratio: k.assumed({ low: 0.6, high: 0.7 }) });
  }
  list.push({ rule: 'shared', basis: plies === 2 ? 'common practice, after Ross, Handspinner’s Workbook' : 'after Ross, Handspinner’s Workbook; for so many strands derived here', ratio: exact(f.sharedRatio({ plies })) });
  list.push({ rule: 'equal-factor', basis: 'the same twist factor in singles and ply; by definition', ratio: exact(f.equalFactorRatio({ plies })) });
  if (plies === 2 && singlesAngle !== undefined) {
    const angle = expr((a, s) => f.elasticAngle({ singlesAngle: a, stiffness: s }), singlesAngle, stiffness());
    list.push({ rule: 'elastic', basis: 'two elastic rods; derived here, for fresh singles', ratio: expr((a, s) => f.elasticRatio({ angle: f.elasticAngle({ singlesAngle: a, stiffness: s }), stiffness: s }), singlesAngle, stiffness()), angle });
  }
  return list;
}

export interface Twists { readonly plies: number; readonly singles?: Expr; readonly ply?: Expr; readonly singlesAngle?: Expr; readonly stiffness: () => Expr }
/** The widest that the rules say, each beside it, and where the ply stands that was made. */
export function balanceOf(t: Twists, k: Knowns, out: Notes, units: UnitChoice): { answer: Balance; plyTwist?: Reading } {
  const rules = rulesFor(t.plies, t.singlesAngle, t.stiffness, k);
  const known = (e: Expr): Reading => k.reading(e);
  const over = (pick: (x: Rule) => Expr): Reading => {
    const list = rules.map((x) => extent(known(pick(x))));
    const [low, high] = [Math.min(...list.map((x) => x.low)), Math.max(...list.map((x) => x.high))];
    return span(Number.isFinite(low) ? low : undefined, Number.isFinite(high) ? high : undefined);
  };
  const ofPly = (x: Rule): Expr => expr((ratio, s) => ratio * s, x.ratio, t.singles!);
  const ofSingles = (x: Rule): Expr => expr((ratio, p) => p / ratio, x.ratio, t.ply!);
  const ratio = over((x) => x.ratio);
  const plyTwist = t.singles === undefined ? undefined : over(ofPly);
  const answer: Balance = {
    ratio: wire('number', ratio), ...(plyTwist === undefined ? {} : { plyTwist: wire('twist', plyTwist, units) }),
    ...(t.singles === undefined && t.ply !== undefined ? { singlesTwist: wire('twist', over(ofSingles), units) } : {}),
    rules: rules.map((x) => ({
      rule: x.rule, basis: x.basis, ratio: wire('number', known(x.ratio)), ...(t.singles === undefined ? {} : { plyTwist: wire('twist', known(ofPly(x)), units) }),
      ...(t.singles === undefined && t.ply !== undefined ? { singlesTwist: wire('twist', known(ofSingles(x)), units) } : {}), ...(x.angle === undefined ? {} : { plyAngle: wire('angle', known(x.angle), units) }),
    })),
  };
  out.assume(notes.sampleAndWetTest);
  if (t.plies === 2 && t.singlesAngle === undefined) out.assume(notes.elasticNeedsAngle);
  if (t.singles !== undefined && t.ply !== undefined) {
    const plied = known(expr((p, s) => p / s, t.ply, t.singles));
    const [is, wanted] = [extent(plied), extent(ratio)];
    answer.plied = wire('number', plied);
    answer.state = is.high < wanted.low ? 'under-plied' : is.low > wanted.high ? 'over-plied' : is.low >= wanted.low && is.high <= wanted.high ? 'within' : 'too-close-to-say';
  }
  return { answer, ...(plyTwist === undefined ? {} : { plyTwist }) };
}
