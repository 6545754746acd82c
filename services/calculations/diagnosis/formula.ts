/**
 * The model, in the open. Each cause is taken to show each of its signs with one of three likelihoods, and any other sign by
 * chance; what was seen, what was looked for and not seen, and the numbers of the wheel each multiply: Bayes' rule with signs
 * that are taken as independent. The likelihoods are judgement: common practice, counted by nobody. What a question tells is
 * the entropy that its answer is expected to take away (Shannon, A Mathematical Theory of Communication, 1948, section 6).
 */

/** What ranking needs to know of a cause. */
export interface Rankable {
  readonly id: string;
  /** 3: nearly always seen with it; 2: often; 1: at times. */
  readonly seen: ReadonlyMap<string, number>;
  readonly acts: string;
  readonly quantity?: readonly [of: string, side: string];
  readonly usual?: number;
}

/** Likelihood of a sign by how usual it is with the cause: by chance, at times, often, nearly always. */
const likelihoods = [0.03, 0.2, 0.5, 0.85] as const;
/** Share of signs that people see but do not think of saying. */
const unsaid = 0.5;
/** A number out of its window on the side of the cause, in natural logarithms; and one that is well inside it. */
const speaksFor = 2.2;
const speaksAgainst = -1.6;
/** A whorl that is not tiny may slip all the same, and a slow flyer lag. */
const speaksOnlyFor: ReadonlySet<string> = new Set(['whorl-size', 'flyer-speed']);
/** Grooves that differ clearly draw in: there the geometry alone decides. */
const impossible = -6;

export type Found = 'above' | 'below' | 'inside' | 'near';
export interface Evidence {
  /** With the weight of each: 1 as plainly seen. */
  readonly seen: ReadonlyMap<string, number>;
  readonly notSeen: ReadonlySet<string>;
  readonly numbers: ReadonlyMap<string, Found>;
  /** Three small steps of tightening changed nothing. */
  readonly tightenedInVain: boolean;
}
/** How likely a sign is with a cause. */
export const likelihood = (cause: Rankable, sign: string): number => likelihoods[(cause.seen.get(sign) ?? 0) as 0 | 1 | 2 | 3];
/** One of a set, of which only one was named: what was changed last, how full. */
const setOf = (sign: string): string | undefined => (sign.startsWith('changed/') || sign.startsWith('fill/') ? sign.slice(0, sign.indexOf('/')) : undefined);

function logWeight(cause: Rankable, e: Evidence): number {
  let sum = Math.log(cause.usual ?? 1);
  for (const [sign, strength] of e.seen) sum += strength * Math.log(likelihood(cause, sign));
  for (const sign of e.notSeen) sum += Math.log(1 - likelihood(cause, sign));
  for (const sign of cause.seen.keys()) {
    if (e.seen.has(sign) || e.notSeen.has(sign) || sign.includes('/')) continue;
    sum += Math.log(1 - (1 - unsaid) * likelihood(cause, sign));
  }
  for (const set of ['changed', 'fill']) {
    const expected = Math.max(0, ...[...cause.seen].filter(([sign]) => setOf(sign) === set).map(([, n]) => n));
    const named = [...e.seen.keys()].find((sign) => setOf(sign) === set);
    if (expected > 0 && named !== undefined && !cause.seen.has(named)) sum += Math.log(1 - likelihoods[expected as 1 | 2 | 3] * 0.6);
  }
  if (cause.quantity !== undefined) {
    const found = e.numbers.get(cause.quantity[0]);
    if (found === cause.quantity[1]) sum += speaksFor;
    else if (found !== undefined && found !== 'near' && !speaksOnlyFor.has(cause.quantity[0])) sum += cause.quantity[1] === 'near' ? impossible : speaksAgainst;
  }
  if (e.tightenedInVain && cause.acts === 'tighten') sum += 2 * speaksAgainst;
  return sum;
}

export interface Ranked<C extends Rankable> { readonly cause: C; readonly share: number }
/** Every cause with its share of what all together weigh, the heaviest first. */
export function rank<C extends Rankable>(causes: readonly C[], e: Evidence): Ranked<C>[] {
  const logs = causes.map((cause) => logWeight(cause, e));
  const most = Math.max(...logs);
  const weights = logs.map((x) => Math.exp(x - most));
  const total = weights.reduce((a, b) => a + b, 0);
  return causes.map((cause, i) => ({ cause, share: weights[i]! / total })).toSorted((a, b) => b.share - a.share || (a.cause.id < b.cause.id ? -1 : 1));
}

/**
 * The order in which to try. Looks that change nothing come before tension is touched, where they are nearly as likely;
 * and while signs speak of too much tension, whatever loosens comes before whatever tightens.
 */
export function inOrder<C extends Rankable>(ranked: readonly Ranked<C>[], tooStrong: boolean): Ranked<C>[] {
  const list = [...ranked];
  const tightens = (r: Ranked<C>): boolean => r.cause.acts === 'tighten';
  if (tooStrong) {
    const to = list.findIndex((r) => r.cause.acts === 'loosen');
    // With nothing to loosen among them, whatever tightens comes last.
    const [before, after] = to < 0 ? [list, []] : [list.slice(0, to + 1), list.slice(to + 1)];
    return [...before.filter((r) => !tightens(r)), ...before.filter(tightens), ...after];
  }
  const first = list.findIndex(tightens);
  if (first < 0) return list;
  const looks = list.slice(first + 1).filter((r) => r.cause.acts === 'look' && r.share >= nearlyAsLikely * list[first]!.share);
  return [...list.slice(0, first), ...looks, ...list.slice(first).filter((r) => !looks.includes(r))];
}
const nearlyAsLikely = 0.6;

const entropy = (shares: readonly number[]): number => shares.reduce((sum, p) => (p > 0 ? sum - p * Math.log2(p) : sum), 0);
export interface Question<C extends Rankable, S extends string> { readonly sign: S; readonly bits: number; readonly ifYes: C; readonly ifNo: C }
/** What one answer would tell, in bits: the entropy of the shares now, less what is expected after yes and after no. */
export function expectedBits(ranked: readonly Ranked<Rankable>[], sign: string): { bits: number; yes: number[]; no: number[] } {
  const yes = ranked.map((r) => r.share * likelihood(r.cause, sign));
  const no = ranked.map((r, i) => r.share - yes[i]!);
  const [py, pn] = [yes, no].map((list) => list.reduce((a, b) => a + b, 0)) as [number, number];
  const after = (list: readonly number[], p: number): number => (p > 0 ? p * entropy(list.map((x) => x / p)) : 0);
  return { bits: entropy(ranked.map((r) => r.share)) - after(yes, py) - after(no, pn), yes, no };
}
/** At most `most` questions that would tell most, each of another sign; none that would tell next to nothing. */
export function questionsOf<C extends Rankable, S extends string>(ranked: readonly Ranked<C>[], signs: readonly S[], most = 3, least = 0.05): Question<C, S>[] {
  // Causes that are out of the running tell nothing, nor do signs that none of the others shows.
  const live = ranked.filter((r) => r.share > 1e-3);
  const leads = (weights: readonly number[]): C => live[weights.indexOf(Math.max(...weights))]!.cause;
  return signs.filter((sign) => live.some((r) => r.cause.seen.has(sign))).map((sign): Question<C, S> => { const { bits, yes, no } = expectedBits(live, sign); return { sign, bits, ifYes: leads(yes), ifNo: leads(no) }; })
    .filter((q) => q.bits >= least).toSorted((a, b) => b.bits - a.bits || (a.sign < b.sign ? -1 : 1)).slice(0, most);
}
