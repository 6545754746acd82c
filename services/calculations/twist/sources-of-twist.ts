/** A twist that is known otherwise than by turns and length, and what is known of the yarn that carries it. */
import type { Notes } from '../../foundation/notes.js';
import type { Reader } from '../../foundation/read.js';
import type { Kind } from '../../foundation/quantity.js';
import { extent, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import { fibres } from '../../reference/fibres.js';
import { volumeOfFactor, wrapFactor, type Preparation } from '../../reference/wraps.js';
import * as f from './formula.js';
import * as notes from './notes.js';

type Json = Record<string, unknown>;
export interface Yarn {
  readonly grist?: Expr; readonly diameter?: Expr; readonly plies?: Expr; readonly lengthLost?: Expr; readonly factor?: Expr;
  /** tan α = K √(4π v): a factor and a density fix the angle without the grist. */
  readonly angle?: Expr;
  /** The one angle that was measured, where nothing says how thick the yarn is. */
  readonly alone?: Expr;
  readonly fibre?: string; readonly preparation?: Preparation;
  readonly lost?: { readonly twist: Expr; readonly angle: Expr };
}
interface Lists { readonly preparations: readonly Preparation[]; readonly fibreIds: readonly string[]; readonly fibreAliases: Readonly<Record<string, string>> }

export function yarnOf(q: Json, r: Reader, k: Knowns, out: Notes, lists: Lists): Yarn {
  const input = (key: string, kind: Kind, limits = {}): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const grist = input('grist', 'grist');
  const measured = input('diameter', 'part');
  const density = input('yarnDensity', 'density');
  const preparation = q['preparation'] === undefined ? undefined : r.choice(q['preparation'], '/preparation', lists.preparations);
  const fibreId = q['fibre'] === undefined ? undefined : r.choice(q['fibre'], '/fibre', lists.fibreIds, lists.fibreAliases);
  let diameter = measured;
  const volume = (): Expr => {
    if (density !== undefined) return expr((x) => 1 / x, density);
    out.assume(notes.diameterFromGrist);
    const { low, high } = wrapFactor('packed', fibres.find((x) => x.id === fibreId)?.packs, preparation);
    return k.assumed({ low: volumeOfFactor(high), high: volumeOfFactor(low) });
  };
  if (diameter === undefined && grist !== undefined) diameter = expr((g, v) => f.diameterOf({ grist: g, volume: v }), grist, volume());
  const angleLimits = { moreThan: 0, atMost: 1.55, says: 'more than 0 and less than 89 degrees' };
  const [angle, before] = q['angleBefore'] === undefined ? [undefined, undefined] : [input('angle', 'angle', angleLimits), input('angleBefore', 'angle', angleLimits)];
  if (q['angleBefore'] !== undefined && q['angle'] === undefined) r.missing('/angle', 'The angle after', 'such as 20 deg');
  const alone = q['angle'] !== undefined && q['angleBefore'] === undefined && diameter === undefined ? input('angle', 'angle', angleLimits) : undefined;
  const plies = q['plies'] === undefined ? undefined : r.number(q['plies'], '/plies', { atLeast: 1, atMost: 100, says: 'from 1 to 100' });
  let factor: Expr | undefined;
  let angleOfFactor: Expr | undefined;
  if (q['twistFactor'] !== undefined) {
    const v = r.number(q['twistFactor'], '/twistFactor', { moreThan: 0, atMost: 1e7 });
    const system = q['twistFactorIn'] === undefined
      ? r.missing('/twistFactorIn', 'The system of the twist factor', Object.keys(f.factorSystems).join(', '))
      : r.choice(q['twistFactorIn'], '/twistFactorIn', Object.keys(f.factorSystems) as f.FactorSystem[]);
    if (v !== undefined && system !== undefined) factor = expr((x) => x / f.factorSystems[system], k.input(v));
    if (factor !== undefined && density !== undefined && grist === undefined) angleOfFactor = expr((x, rho) => f.surfaceAngle({ twist: x, diameter: f.diameterOf({ grist: 1e-6, volume: 1 / rho }) }), factor, density);
  }
  // With a state named, it belongs to the three states.
  const lengthLost = q['state'] !== undefined && q['finishedTwist'] === undefined ? undefined : input('lengthLost', 'share', { atLeast: 0, atMost: 0.9 });
  return {
    ...(grist === undefined ? {} : { grist }), ...(diameter === undefined ? {} : { diameter }), ...(plies === undefined ? {} : { plies: k.input(plies) }), ...(lengthLost === undefined ? {} : { lengthLost }),
    ...(factor === undefined ? {} : { factor }), ...(angleOfFactor === undefined ? {} : { angle: angleOfFactor }), ...(alone === undefined ? {} : { alone }),
    ...(fibreId === undefined ? {} : { fibre: fibreId }), ...(preparation === undefined ? {} : { preparation }),
    ...(angle === undefined || before === undefined ? {} : { lost: { twist: expr((a, b) => f.lostByAngle({ before: b, after: a }), angle, before), angle: expr((a, b) => 1 - a / b, angle, before) } }),
  };
}

/** Nothing is known but that it is no less: the reading's lower end. */
const atLeast = (v: Reading): Reading => ({ low: Math.max(0, extent(v).low) });
export const plyBackStates = ['fresh', 'rested'] as const;

/** The twist itself, or from bumps, a ply-back, untwisting, an angle, a factor, or what it should be after washing. */
export function directTwist(
  q: Json, r: Reader, k: Knowns, out: Notes, yarn: Yarn, quantity: (key: string, kind: Kind, limits?: object) => Expr | undefined, number: (key: string) => Expr | undefined, gauge: Expr | undefined,
): Expr | undefined {
  const ways = ['twist', 'finishedTwist', 'bumps', 'plyBack', 'untwistTurns', 'retwistTurns', 'angle', 'twistFactor'].filter((key) => q[key] !== undefined && !(key === 'angle' && q['angleBefore'] !== undefined));
  if (ways.length > 1) return r.fail('', { code: 'one-of', detail: `The twist was given in ${ways.length} ways.`, received: ways.join(', '), expected: 'one of them' });
  switch (ways[0]) {
    case 'twist': return quantity('twist', 'twist');
    case 'finishedTwist': {
      const t = quantity('finishedTwist', 'twist');
      if (q['lengthLost'] === undefined) return r.missing('/lengthLost', 'The length lost in washing', 'such as 9 %');
      return t === undefined || yarn.lengthLost === undefined ? undefined : expr((x, l) => x * (1 - l), t, yarn.lengthLost);
    }
    case 'bumps': {
      const [n, over] = [number('bumps'), quantity('bumpsOver', 'part')];
      if (q['bumpsOver'] === undefined) r.missing('/bumpsOver', 'The length over which the bumps were counted', 'such as 1 in');
      if (q['plies'] === undefined) r.missing('/plies', 'How many plies the yarn has: bumps are turns times plies', 'such as 2');
      return n === undefined || over === undefined || yarn.plies === undefined ? undefined : expr((b, p, l) => f.twistOfBumps({ bumps: b, plies: p, length: l }), n, yarn.plies, over);
    }
    case 'plyBack': {
      const t = r.quantity(q['plyBack'], '/plyBack', 'twist');
      const state = q['plyBackState'] === undefined ? undefined : r.choice(q['plyBackState'], '/plyBackState', plyBackStates);
      out.assume(notes.plyBackRule);
      out.assume(state === 'rested' ? notes.plyBackRested : state === 'fresh' ? notes.plyBackRule : notes.plyBackUnsaid);
      return t === undefined ? undefined : expr((x) => f.singlesOfPlyBack({ plyBack: x }), k.input(state === 'rested' ? atLeast(t) : t));
    }
    case 'untwistTurns': case 'retwistTurns': {
      const again = ways[0] === 'retwistTurns';
      const n = r.number(q[ways[0]], `/${ways[0]}`, { moreThan: 0, atMost: 1e6 });
      if (q['gaugeLength'] === undefined) return r.missing('/gaugeLength', 'The length of the specimen before it was untwisted', 'such as 25 cm');
      if (n === undefined || gauge === undefined) return undefined;
      const set = again && (q['state'] === 'rested' || q['state'] === 'washed');
      if (again) out.warn(notes.retwisted); else out.assume(notes.untwisted);
      if (set) out.assume(notes.retwistSet);
      return expr((turns, length) => (again ? f.twistOfRetwist({ turns, length }) : f.twist({ turns, length })), k.input(set ? atLeast(n) : n), gauge);
    }
    case 'angle': {
      if (yarn.alone !== undefined) { out.warn(notes.angleAlone); return undefined; }
      const a = quantity('angle', 'angle', { moreThan: 0, atMost: 1.55, says: 'more than 0 and less than 89 degrees' });
      return a === undefined || yarn.diameter === undefined ? undefined : expr((angle, diameter) => f.twistOfAngle({ angle, diameter }), a, yarn.diameter);
    }
    case 'twistFactor':
      return yarn.factor === undefined || yarn.grist === undefined ? undefined : expr((x, grist) => f.twistOfFactor({ factor: x, grist }), yarn.factor, yarn.grist);
    default: return undefined;
  }
}
