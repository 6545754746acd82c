/** What a twist says of the yarn: its class, what tables recommend, how much shorter it makes the strand, how much it could take. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import type { Reader } from '../../foundation/read.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import { classesByAngle, staples, twistRanges, twistUses, type Staple, type TwistUse } from '../../reference/twists.js';
import type { Preparation } from '../../reference/wraps.js';
import * as f from './formula.js';
import * as notes from './notes.js';

type Json = Readonly<Record<string, unknown>>;
export const contractionWays = ['measured', 'your-own', 'ideal-helix', 'staple-yarn', 'cotton-mill'] as const;
export type ContractionWay = (typeof contractionWays)[number];
export interface Shortening { by: ContractionWay; shorter: Q; factor: R; untwistedGrist?: Q; untwistedLength?: Q }
export interface Recommended { use: string; staple?: Staple; factor: R; factorIn: f.FactorSystem; twist?: Q; within?: 'yes' | 'no' | 'in-part' }
export interface SaysResult {
  classes?: { set: string; class: string }[]; recommended?: Recommended[]; shortening?: Shortening[]; greatestTwist?: { angle: Q; shorter: Q; twist?: Q; factor?: R };
}
export const saysNames = ['use', 'staple', 'length', 'contractionFactor', 'untwistedLength'] as const;
export interface Says { readonly use?: TwistUse; readonly staple?: Staple; readonly length?: Expr; readonly factor?: Expr; readonly measured?: Expr }

export function readSays(q: Json, r: Reader, k: Knowns, gauge: Expr | undefined): Says {
  const use = q['use'] === undefined ? undefined : r.choice(q['use'], '/use', twistUses);
  const staple = q['staple'] === undefined ? undefined : r.choice(q['staple'], '/staple', staples);
  const length = q['length'] === undefined ? undefined : r.quantity(q['length'], '/length', 'length');
  const factor = q['contractionFactor'] === undefined ? undefined : r.number(q['contractionFactor'], '/contractionFactor', { moreThan: 0.5, atMost: 10, says: 'from 0.5 to 10; untwisted over twisted length' });
  const after = q['untwistedLength'] === undefined ? undefined : r.quantity(q['untwistedLength'], '/untwistedLength', 'part');
  if (q['untwistedLength'] !== undefined && q['gaugeLength'] === undefined) r.missing('/gaugeLength', 'The length of the specimen before it was untwisted', 'such as 25 cm');
  return {
    ...(use === undefined ? {} : { use }), ...(staple === undefined ? {} : { staple }), ...(length === undefined ? {} : { length: k.input(length) }), ...(factor === undefined ? {} : { factor: k.input(factor) }),
    ...(after === undefined || gauge === undefined ? {} : { measured: expr((before, untwisted) => 1 - before / untwisted, gauge, k.input(after)) }),
  };
}

interface Known { readonly angle?: Expr; readonly factor?: Expr; readonly grist?: Expr; readonly diameter?: Expr; readonly cotton: boolean; readonly plied: boolean; readonly fibre?: string; readonly preparation?: Preparation }
export function saysOf(s: Says, yarn: Known, k: Knowns, out: Notes, units: UnitChoice): SaysResult {
  const known = (e: Expr): Reading => k.reading(e);
  const result: SaysResult = {};
  if (yarn.angle !== undefined) {
    const { low, high } = extent(known(yarn.angle));
    const degree = 180 / Math.PI;
    result.classes = classesByAngle(Math.max(0, low) * degree - 1e-9, high * degree + 1e-9);
    out.assume(notes.classIsNoMeasure);
  }
  const shortening = contractions(s, yarn, k, out).map(([by, share]): Shortening => ({
    by, shorter: wire('share', known(share), units), factor: wire('number', known(expr((c) => f.contractionFactor({ contraction: c }), share))),
    ...(yarn.grist === undefined ? {} : { untwistedGrist: wire('grist', known(expr((g, c) => g * (1 - c), yarn.grist, share)), units) }), ...(s.length === undefined ? {} : { untwistedLength: wire('length', known(expr((l, c) => l / (1 - c), s.length, share)), units) }),
  }));
  if (shortening.length > 0) result.shortening = shortening;
  const list = recommended(s, yarn, k, out, units);
  if (list.length > 0) result.recommended = list;
  if (!yarn.plied && (yarn.diameter !== undefined || shortening.length > 0)) {
    const most = yarn.diameter === undefined ? undefined : expr((diameter) => f.greatestTwist({ diameter }), yarn.diameter);
    result.greatestTwist = {
      angle: wire('angle', { value: f.greatestAngle }, units), shorter: wire('share', { value: f.helixContraction({ angle: f.greatestAngle }) }, units), ...(most === undefined ? {} : { twist: wire('twist', known(most), units) }),
      ...(most === undefined || yarn.grist === undefined ? {} : { factor: wire('number', known(expr((t, grist) => f.texFactor({ twist: t, grist }), most, yarn.grist))) }),
    };
    out.assume(notes.greatestTwist);
  }
  return result;
}

function contractions(s: Says, yarn: Known, k: Knowns, out: Notes): [ContractionWay, Expr][] {
  const list: [ContractionWay, Expr][] = [];
  if (s.measured !== undefined) list.push(['measured', s.measured]);
  if (s.factor !== undefined) list.push(['your-own', expr((c) => 1 - 1 / c, s.factor)]);
  if (yarn.angle === undefined || yarn.plied || extent(k.reading(yarn.angle)).low <= 0) return list;
  list.push(['ideal-helix', expr((angle) => f.helixContraction({ angle }), yarn.angle)]);
  list.push(['staple-yarn', expr((angle) => f.stapleContraction({ angle }), yarn.angle)]);
  out.assume(notes.contractionModels);
  if (!yarn.cotton || yarn.factor === undefined) return list;
  const multiplier = expr((x) => x * f.factorSystems.cotton, yarn.factor);
  const { low, high } = extent(k.reading(multiplier));
  if (low < 3 - 1e-9 || high > 5 + 1e-9) out.assume(notes.cottonOutside);
  else list.push(['cotton-mill', expr((m) => f.cottonContraction({ multiplier: m }), multiplier)]);
  return list;
}

function recommended(s: Says, yarn: Known, k: Knowns, out: Notes, units: UnitChoice): Recommended[] {
  if (yarn.factor === undefined && yarn.grist === undefined) return [];
  const rows = twistRanges.filter((x) => x.fibre === yarn.fibre && (x.fibre !== 'wool' || yarn.preparation === 'worsted') && (s.use === undefined || x.use === s.use || (x.use === 'weaving' && s.use !== 'knitting')) && (s.staple === undefined || x.staple === undefined || x.staple === s.staple));
  if (rows.length === 0) { if (s.use !== undefined) out.warn(notes.noPublishedRange); return []; }
  out.assume(notes.millRanges);
  const has = yarn.factor === undefined ? undefined : extent(k.reading(yarn.factor));
  return rows.map((row): Recommended => {
    const by = f.factorSystems[row.system];
    const [low, high] = [row.low / by, row.high / by];
    const within = has === undefined ? undefined : has.low >= low && has.high <= high ? 'yes' : has.high < low || has.low > high ? 'no' : 'in-part';
    return {
      use: row.use, ...(row.staple === undefined ? {} : { staple: row.staple }), factor: wire('number', { low: row.low, high: row.high }), factorIn: row.system,
      ...(yarn.grist === undefined ? {} : { twist: wire('twist', k.reading(expr((x, grist) => f.twistOfFactor({ factor: x, grist }), k.assumed({ low, high }), yarn.grist)), units) }), ...(within === undefined ? {} : { within }),
    };
  });
}
