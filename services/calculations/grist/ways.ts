/** The ways in which a grist is known: itself, length and weight, several skeins, a balance, wraps, thickness, or its fibres. */
import type { Notes } from '../../foundation/notes.js';
import { findUnit } from '../../foundation/quantity.js';
import { isObject, type Reader } from '../../foundation/read.js';
import { isPoint, type Reading } from '../../foundation/reading.js';
import { meanAndDeviation, studentT } from '../../foundation/student.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import { wrapFactor, type Wrapping } from '../../reference/wraps.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import type { Section } from './section.js';

type Json = Readonly<Record<string, unknown>>;
/** What each way needs; wraps may stand beside another. */
const ways = [['grist'], ['length', 'mass'], ['windings', 'mass'], ['skeins'], ['balanceLength'], ['diameter'], ['fibresInSection'], ['wraps']] as const;
export const averages = ['length', 'weight'] as const;
export interface Skein { readonly wound: Expr; readonly finished?: Expr }
export interface Repeats { readonly count: Expr; readonly spread: Expr }
export interface Means {
  wraps: Expr | undefined; wrapping: Wrapping | undefined; ownFactor: Expr | undefined; factorFor: (w: Wrapping) => Expr; volume: () => Expr; skein: Skein | undefined; mass: Expr | undefined; section: Section;
}
export interface Found { grist?: Expr; plies?: number; repeats?: Repeats }

export const hasOtherWay = (q: Json): boolean => ways.some((w) => w[0] !== 'wraps' && w.every((key) => q[key] !== undefined));

/** Length by turns of a winder, on it and finished. */
export function skeinLength(q: Json, r: Reader, k: Knowns): Skein | undefined {
  if (q['windings'] === undefined) return undefined;
  const n = r.number(q['windings'], '/windings', { moreThan: 0, atMost: 1e6 });
  const girth = q['circumference'] === undefined ? r.missing('/circumference', 'The length of one turn of the winder, measured', 'such as 1.5 yd or 54 in') : r.quantity(q['circumference'], '/circumference', 'length');
  const after = q['finishedCircumference'] === undefined ? undefined : r.quantity(q['finishedCircumference'], '/finishedCircumference', 'length');
  if (n === undefined || girth === undefined) return undefined;
  const turns = k.input(n);
  return { wound: expr((a, b) => a * b, turns, k.input(girth)), ...(after === undefined ? {} : { finished: expr((a, b) => a * b, turns, k.input(after)) }) };
}

/** A weight, with the step of the scale as its resolution: rectangular, half a step either way. (JCGM 100:2008, F.2.2.1.) */
export function weighed(q: Json, r: Reader, k: Knowns, out: Notes): { mass?: Expr; step?: Reading } {
  const mass = q['mass'] === undefined ? undefined : r.quantity(q['mass'], '/mass', 'mass');
  const step = q['scaleStep'] === undefined ? undefined : r.quantity(q['scaleStep'], '/scaleStep', 'mass');
  if (mass === undefined) return step === undefined ? {} : { step };
  if (step === undefined) return { mass: k.input(mass) };
  out.assume(notes.scaleStep);
  const size = isPoint(step) ? step.value : (step.high ?? step.low ?? 0);
  const resolution = size / Math.sqrt(12);
  return { step, mass: k.input(isPoint(mass) ? { value: mass.value, u: Math.hypot(mass.u ?? 0, resolution) } : { ...(mass.low === undefined ? {} : { low: mass.low - size / 2 }), ...(mass.high === undefined ? {} : { high: mass.high + size / 2 }) }) };
}

export function readGrist(q: Json, r: Reader, k: Knowns, out: Notes, m: Means): Found {
  const found = ways.filter((w) => w[0] !== 'wraps' && q[w[0]] !== undefined);
  if (found.length > 1) {
    r.fail('', { code: 'one-of', detail: `Grist was given in ${found.length} ways.`, received: found.map((w) => w.join(' and ')).join('; '), expected: 'one of them (wraps may stand beside it)' });
    return {};
  }
  const amount = (key: string, kind: 'mass' | 'length' | 'part'): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind);
    return v === undefined ? undefined : k.input(v);
  };
  switch (found[0]?.[0]) {
    case 'grist': {
      const g = r.read(q['grist'], '/grist', 'grist', yarnLimits);
      return g === undefined ? {} : { grist: k.input(g.reading), ...(g.plies === undefined ? {} : { plies: g.plies }) };
    }
    case 'length': case 'windings': {
      const length = q['length'] !== undefined ? amount('length', 'length') : (m.skein?.finished ?? m.skein?.wound);
      if (q['mass'] === undefined) r.missing('/mass', 'The weight of that length', 'such as 100 g or 3.5 oz');
      return length === undefined || m.mass === undefined ? {} : { grist: expr((x, l) => f.gristOf({ mass: x, length: l }), m.mass, length) };
    }
    case 'skeins': return skeins(q, r, k);
    case 'balanceLength': return balance(q, r, k, out, amount);
    case 'diameter': {
      const d = amount('diameter', 'part');
      return d === undefined ? {} : { grist: expr((x, v) => f.gristOfDiameter({ diameter: x, volume: v }), d, m.volume()) };
    }
    case 'fibresInSection': {
      const { fibres, fibreGrist } = m.section;
      return fibres === undefined || fibreGrist === undefined ? {} : { grist: expr((n, one) => f.gristOfFibres({ fibres: n, fibreGrist: one }), fibres, fibreGrist) };
    }
    default: break;
  }
  if (q['wraps'] !== undefined) {
    if (m.wraps === undefined) return {};
    const factor = m.ownFactor ?? (m.wrapping === undefined ? undefined : m.factorFor(m.wrapping));
    if (factor !== undefined) return { grist: expr((n, x) => f.gristOfWraps({ wraps: n, factor: x }), m.wraps, factor) };
    out.warn(notes.whichWrapping);
    const [a, b] = [wrapFactor('loose', undefined, undefined), wrapFactor('packed', undefined, undefined)];
    return { grist: expr((n, x) => f.gristOfWraps({ wraps: n, factor: x }), m.wraps, k.assumed({ low: a.low, high: b.high })) };
  }
  const half = q['mass'] !== undefined ? 'length' : undefined;
  r.missing(half === undefined ? '/grist' : '/length', half === undefined ? 'A grist, or a length with its weight, or wraps, or a balance reading, or a diameter,' : 'The length of that weight', half === undefined ? 'such as 1500 yd/lb' : 'such as 254 yd');
  return {};
}
const yarnLimits = { moreThan: 1e-12, atMost: 10, says: 'a yarn' };

/** Several skeins of one yarn: their mean in mass to a length, and how they spread. */
function skeins(q: Json, r: Reader, k: Knowns): Found {
  const list = r.list(q['skeins'], '/skeins', 100, 'skeins');
  const by = q['averagedBy'] === undefined ? 'length' : r.choice(q['averagedBy'], '/averagedBy', averages, { mass: 'weight' });
  const readings = list?.map((s, i) => r.quantity(s, `/skeins/${i}`, 'grist', yarnLimits)) ?? [];
  if (list !== undefined && list.length === 0) r.missing('/skeins/0', 'At least one skein', 'such as 254 yd/2.125 oz');
  if (readings.length === 0 || by === undefined || readings.some((x) => x === undefined)) return {};
  const all = (readings as Reading[]).map((x) => k.input(x));
  const n = all.length;
  const mean = by === 'length' ? expr((...g) => g.reduce((a, b) => a + b, 0) / n, ...all) : expr((...g) => n / g.reduce((a, b) => a + 1 / b, 0), ...all);
  if (n < 2 || !(readings as Reading[]).every(isPoint)) return { grist: mean };
  const values = (readings as { value: number }[]).map((x) => x.value);
  const { mean: average, deviation } = meanAndDeviation(values);
  return { grist: mean, repeats: { count: k.assumed({ value: n }), spread: k.assumed({ value: deviation / average }) } };
}

/** A mean of n with its scatter: 95 % half-width t CV/√n, by Student's t (JCGM 100:2008, G.3), carried as twice a standard uncertainty. */
export function scattered(grist: Expr, halfWidth: number, k: Knowns): Expr {
  return expr((g, x) => g * x, grist, k.input({ value: 1, u: halfWidth / 2 }));
}
export const halfWidthOf = (spread: number, count: number): number => studentT(0.95, count - 1) * f.standardError({ spread, count });

/** A beam balance: against its own arm, or against a length of a yarn whose grist is known. */
function balance(q: Json, r: Reader, k: Knowns, out: Notes, amount: (key: string, kind: 'mass' | 'length' | 'part') => Expr | undefined): Found {
  const length = amount('balanceLength', 'part');
  const reference = q['balanceReference'] === undefined ? undefined : r.quantity(q['balanceReference'], '/balanceReference', 'grist');
  if (reference !== undefined) {
    const of = q['balanceReferenceLength'] === undefined ? r.missing('/balanceReferenceLength', 'The length of the known yarn on the other side', 'such as 120 cm') : amount('balanceReferenceLength', 'part');
    return length === undefined || of === undefined ? {} : { grist: expr((g, a, b) => (g * a) / b, k.input(reference), of, length) };
  }
  const arm = amount('balanceArm', 'mass');
  if (arm !== undefined && length !== undefined) return { grist: expr((a, l) => f.gristOfBalance({ arm: a, length: l }), arm, length) };
  if (q['balanceArm'] !== undefined) return {};
  if (!typedInInches(q['balanceLength'])) {
    r.missing('/balanceArm', 'A balance that is not read in inches: what its arm weighs', 'the weight of the arm, such as 0.126 g');
    return {};
  }
  out.assume(notes.inchBalance);
  return length === undefined ? {} : { grist: expr((l) => f.gristOfBalance({ arm: f.inchArm, length: l }), length) };
}
const typedInInches = (v: unknown): boolean => (typeof v === 'string' ? /\d\s*(?:in\b|ins\b|inch|["″”])/i.test(v) : isObject(v) && typeof v['unit'] === 'string' && findUnit('part', v['unit'])?.name === 'in');
