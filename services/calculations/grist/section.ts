/** What the fibres say of a yarn: how many stand in its section, how even and how fine it can be, how strong it is. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import type { Reader } from '../../foundation/read.js';
import { extent, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import { isHair, type Fibre } from '../../reference/fibres.js';
import { fewestFibres, usualIrregularity, yarnStrengths } from '../../reference/sections.js';
import { gradeAliases, gradeOfDiameter, limitsOf, namedGrades } from '../../reference/wool-grades.js';
import type { Preparation } from '../../reference/wraps.js';
import * as f from './formula.js';
import * as notes from './notes.js';

type Json = Readonly<Record<string, unknown>>;
export const sectionNames = ['fibreDiameter', 'fibreDiameterSpread', 'fibreGrist', 'micronaire', 'woolGrade', 'fibresInSection', 'fewestFibres', 'irregularity', 'irregularityConstant', 'tenacity', 'strengthSpread'] as const;
export interface SectionResult {
  fibreDiameter?: Q; fibreGrist?: Q; fibresInSection?: R; limitIrregularity?: Q; irregularityIndex?: R; woolGrades?: { grade: string; blood: string }[]; finestYarns?: { way: string; fibres: R; grist: Q }[];
  strength?: { tenacity?: Q; mean?: Q; weakPlaces?: Q; fibresAlone?: Q };
}
export interface Section { readonly fibreGrist?: Expr; readonly diameter?: Expr; readonly byGrade: boolean; readonly constant: () => Expr; readonly fibres?: Expr; readonly fewest?: Expr; readonly irregularity?: Expr; readonly tenacity?: Expr; readonly strengthSpread?: Expr }

const synthetic = new Set(['nylon', 'polyester', 'acrylic', 'viscose', 'casein', 'pla']);
/** Wool, and hair that is taken as wool. */
const asWool = (fibre: Fibre | undefined): boolean => fibre === undefined || fibre.id === 'wool' || isHair(fibre.id);

export function readSection(q: Json, r: Reader, k: Knowns, out: Notes, fibre: Fibre | undefined): Section {
  const read = (key: string, kind: Parameters<Reader['quantity']>[2] | 'number', limits = {}): Expr | undefined => {
    if (q[key] === undefined) return undefined;
    const v = kind === 'number' ? r.number(q[key], `/${key}`, limits) : r.quantity(q[key], `/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const ways = ['fibreDiameter', 'fibreGrist', 'micronaire', 'woolGrade'].filter((key) => q[key] !== undefined);
  if (ways.length > 1) r.fail(`/${ways[1]!}`, { code: 'one-of', detail: `How fine the fibre is was given in ${ways.length} ways.`, received: ways.join(', '), expected: 'one of them' });
  let diameter = read('fibreDiameter', 'fibre-diameter', { moreThan: 1e-7, atMost: 1e-3, says: 'from 0.1 to 1000 micron' });
  let spread = read('fibreDiameterSpread', 'share', { atLeast: 0, atMost: 2 });
  const direct = read('fibreGrist', 'grist', { moreThan: 1e-10, atMost: 1e-4, says: 'a fibre' });
  const micronaire = read('micronaire', 'number', { moreThan: 0.5, atMost: 20, says: 'from 0.5 to 20' });
  const grade = q['woolGrade'] === undefined ? undefined : r.choice(q['woolGrade'], '/woolGrade', namedGrades, gradeAliases);
  const own = spread !== undefined;
  if (grade !== undefined) {
    const { from, to, mostSpread } = limitsOf(grade);
    diameter = k.assumed({ low: from * 1e-6, high: to * 1e-6 });
    spread ??= k.assumed({ low: 0, high: mostSpread / to });
    out.assume(notes.gradeLimits);
  }
  let fibreGrist = direct ?? (micronaire === undefined ? undefined : expr((m) => f.fibreGristOfMicronaire({ micronaire: m }), micronaire));
  if (diameter !== undefined) {
    if (fibre === undefined) out.assume(notes.woolTaken);
    if (fibre?.fromMemory) out.assume(notes.densityFromMemory);
    if (spread === undefined) out.assume(notes.evenFibres);
    const density = fibre?.density ?? 1310;
    fibreGrist = expr((d, c) => f.fibreGristOf({ density, diameter: d, spread: c }), diameter, spread ?? k.assumed({ value: 0 }));
  }
  const ownConstant = read('irregularityConstant', 'number', { atLeast: 50, atMost: 300, says: 'from 50 to 300' });
  const constant = (): Expr => {
    if (ownConstant !== undefined) return expr((c) => c / 100, ownConstant);
    if (own && spread !== undefined) return expr((c) => f.irregularityConstant({ spread: c }), spread);
    out.assume(notes.irregularityConstant);
    const usual = micronaire !== undefined || fibre?.id === 'cotton' ? 'cotton' : asWool(fibre) && (diameter !== undefined || fibre !== undefined) ? 'wool' : 'even';
    return k.assumed({ value: usualIrregularity[usual] });
  };
  const fibres = read('fibresInSection', 'number', { moreThan: 0, atMost: 1e7, says: 'more than 0' });
  if (fibres !== undefined && ways.length === 0) r.missing('/fibreDiameter', 'How fine the fibre is (its thickness, its own yarn number, micronaire or a wool grade)', 'such as 21 micron');
  const fewest = read('fewestFibres', 'number', { atLeast: 1, atMost: 1e5, says: 'at least 1' });
  if (fewest !== undefined && ways.length === 0) r.missing('/fibreDiameter', 'How fine the fibre is', 'such as 21 micron');
  const irregularity = read('irregularity', 'share', { moreThan: 0, atMost: 3 });
  if (irregularity !== undefined && ways.length === 0) r.missing('/fibreDiameter', 'How fine the fibre is: the limit depends on the fibres in the section', 'such as 21 micron');
  const [tenacity, strengthSpread] = [read('tenacity', 'tenacity', { moreThan: 0, atMost: 5e6, says: 'at most 5 N/tex' }), read('strengthSpread', 'share', { atLeast: 0, atMost: 0.49, says: 'from 0 to 49 %' })];
  return {
    constant, byGrade: grade !== undefined, ...(fibreGrist === undefined ? {} : { fibreGrist }), ...(diameter === undefined ? {} : { diameter }), ...(fibres === undefined ? {} : { fibres }), ...(fewest === undefined ? {} : { fewest }), ...(irregularity === undefined ? {} : { irregularity }),
    ...(tenacity === undefined ? {} : { tenacity }), ...(strengthSpread === undefined ? {} : { strengthSpread }),
  };
}

export function sectionOf(s: Section, grist: Expr, k: Knowns, out: Notes, fibre: Fibre | undefined, preparation: Preparation | undefined, units: UnitChoice): SectionResult {
  const known = (e: Expr): Reading => k.reading(e);
  const result: SectionResult = {};
  if (s.fibreGrist !== undefined) {
    result.fibreGrist = wire('grist', known(s.fibreGrist), units);
    const n = s.fibres ?? expr((g, one) => g / one, grist, s.fibreGrist);
    result.fibresInSection = wire('number', known(n));
    if (extent(known(n)).high < 10) out.warn(notes.fewFibres);
    const limit = expr((x, c) => f.limitIrregularity({ fibres: x, constant: c }), n, s.constant());
    result.limitIrregularity = wire('share', known(limit), units);
    if (s.irregularity !== undefined) result.irregularityIndex = wire('number', known(expr((is, least) => is / least, s.irregularity, limit)));
    const yarnOf = (count: Expr): Q => wire('grist', known(expr((x, one) => f.gristOfFibres({ fibres: x, fibreGrist: one }), count, s.fibreGrist!)), units);
    const ways = fewestFibres.filter((w) => (fibre?.id === 'cotton' ? /cotton|rotor/ : fibre !== undefined && synthetic.has(fibre.id) ? /synthetic|rotor/ : asWool(fibre) ? /worsted|woollen/ : /^$/).test(w.way));
    if (ways.length > 0) out.assume(notes.fewestFibres);
    const list = [
      ...(s.fewest === undefined ? [] : [{ way: 'as few as you said', fibres: wire('number', known(s.fewest)), grist: yarnOf(s.fewest) }]),
      ...ways.map((w) => { const count = k.assumed(w.from === w.to ? { value: w.from } : { low: w.from, high: w.to }); return { way: w.way, fibres: wire('number', known(count)), grist: yarnOf(count) }; }),
    ];
    if (list.length > 0) result.finestYarns = list;
  }
  if (s.byGrade) result.fibreDiameter = wire('fibre-diameter', known(s.diameter!), units);
  if (s.diameter !== undefined && asWool(fibre)) {
    const { low, high } = extent(known(s.diameter));
    const [a, b] = [gradeOfDiameter(low * 1e6), gradeOfDiameter(high * 1e6)];
    result.woolGrades = a === b ? [{ grade: a.grade, blood: a.blood }] : [a, b].map(({ grade, blood }) => ({ grade, blood }));
  }
  const strength = strengthOf(s, grist, k, out, fibre, preparation, units);
  return strength === undefined ? result : { ...result, strength };
}

function strengthOf(s: Section, grist: Expr, k: Knowns, out: Notes, fibre: Fibre | undefined, preparation: Preparation | undefined, units: UnitChoice): SectionResult['strength'] {
  const usual = yarnStrengths.find((y) => y.fibre === fibre?.id && (y.preparation === undefined || y.preparation === preparation));
  const tenacity = s.tenacity ?? (usual === undefined ? undefined : k.assumed({ low: usual.low * 1e6, high: usual.high * 1e6 }));
  if (s.tenacity === undefined && usual !== undefined) out.assume(usual.fromMemory === true ? notes.strengthFromMemory : notes.strengthPublished);
  const out2: NonNullable<SectionResult['strength']> = {};
  if (tenacity !== undefined) {
    const mean = expr((t, g) => f.breakingPull({ tenacity: t, grist: g }), tenacity, grist);
    Object.assign(out2, { tenacity: wire('tenacity', k.reading(tenacity), units), mean: wire('pull', k.reading(mean), units) });
    if (s.strengthSpread !== undefined) out2.weakPlaces = wire('pull', k.reading(expr((m, c) => f.weakPull({ mean: m, spread: c }), mean, s.strengthSpread)), units);
  }
  if (fibre?.strengths !== undefined) {
    const [low, high] = [Math.min(...fibre.strengths.map((x) => x.tenacity)), Math.max(...fibre.strengths.map((x) => x.tenacity))];
    const alone = k.assumed(low === high ? { value: low * 1e6 } : { low: low * 1e6, high: high * 1e6 });
    out2.fibresAlone = wire('pull', k.reading(expr((t, g) => f.breakingPull({ tenacity: t, grist: g }), alone, grist)), units);
  }
  return Object.keys(out2).length === 0 ? undefined : out2;
}
