/** Reads a ply and finds every number of it as an expression, for the answer and for the picture. Throws a ProblemError. */
import { Notes } from '../../foundation/notes.js';
import { Reader } from '../../foundation/read.js';
import { extent } from '../../foundation/reading.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { fibreAliases, fibreIds, fibres } from '../../reference/fibres.js';
import { preparations, volumeOfFactor, wrapFactor, type Preparation } from '../../reference/wraps.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import type * as words from '../../wheels/words.js';
import { readTurns } from '../treadles.js';
import { diameterOf, surfaceAngle, turnsPerLap, twistOfBumps } from '../twist/formula.js';
import * as twistNotes from '../twist/notes.js';
import * as f from './formula.js';
import * as notes from './notes.js';
import { constructions, directions, kept, opposite, readPlies, readStrands, together, type Construction, type Direction, type Single, type Strand } from './strands.js';
import { plyWheel, type PlyWheel } from './wheel.js';

export interface PlyQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; whorl?: string; bobbin?: string; ratio?: RIn; wheelTurns?: RIn; treadles?: RIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; woundDiameter?: QIn;
  singles?: Single[]; plies?: RIn; construction?: Construction; plyTwist?: QIn; bumps?: RIn; bumpsOver?: QIn; plyDirection?: Direction; plyGrist?: QIn; plyLength?: QIn; plyMass?: QIn;
  contraction?: QIn; contractionOf?: ContractionOf; endsLost?: QIn; bobbinsOfSingles?: RIn; cablePlies?: RIn; cableTwist?: QIn; cableDirection?: Direction;
  yarnDensity?: QIn; fibre?: string; preparation?: Preparation; stiffnessRatio?: RIn; fibreDiameter?: QIn; fibresInSection?: RIn; torque?: QIn;
}
export const contractionWays = ['singles', 'plied'] as const;
export type ContractionOf = (typeof contractionWays)[number];
export const contractionFroms = ['given', 'measured', 'worked-out', 'taken'] as const;
export type ContractionFrom = (typeof contractionFroms)[number];
export const names = ['wheel', 'wheelId', 'drive', 'whorl', 'bobbin', 'ratio', 'wheelTurns', 'treadles', 'counted', 'draftLength', 'woundDiameter', 'singles', 'plies', 'construction', 'plyTwist', 'bumps', 'bumpsOver', 'plyDirection', 'plyGrist', 'plyLength', 'plyMass',
  'contraction', 'contractionOf', 'endsLost', 'bobbinsOfSingles', 'cablePlies', 'cableTwist', 'cableDirection', 'yarnDensity', 'fibre', 'preparation', 'stiffnessRatio', 'fibreDiameter', 'fibresInSection', 'torque'] as const;

export interface Solved {
  readonly q: Readonly<Record<string, unknown>>; readonly r: Reader; readonly k: Knowns; readonly out: Notes;
  readonly strands: readonly Strand[]; readonly plies: number; readonly construction: Construction; readonly wheel: PlyWheel;
  readonly singlesDirection?: Direction; readonly plyDirection?: Direction; readonly mixed: boolean; /** 1 against the singles, -1 the same way. */ readonly against: number;
  readonly strand?: Expr; readonly sum?: Expr; readonly singlesTwist?: Expr; readonly plyTwist?: Expr; readonly singlesAngle?: Expr; readonly diameter?: Expr; readonly volume?: Expr; readonly plyAngle?: Expr;
  readonly contraction: Expr; readonly contractionFrom: ContractionFrom; readonly models: { readonly lengthening?: Expr; readonly fixed?: Expr }; readonly measured?: Expr;
  readonly plied?: Expr; readonly plyLength?: Expr; readonly plyMass?: Expr; readonly fibreId: string; readonly fibreSaid: boolean; readonly stiffness: () => Expr;
  readonly draw: { readonly length?: Expr; readonly turns?: Expr; readonly lap?: Expr; readonly ratio?: Expr };
}

export function solve(question: unknown): Solved {
  const out = new Notes();
  const r = new Reader(out);
  const k = new Knowns();
  const q = r.object(question, '', names) ?? {};
  const quantity = (key: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const number = (key: string, limits = {}): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.number(q[key], `/${key}`, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const direction = (key: string): Direction | undefined => (q[key] === undefined ? undefined : r.choice(q[key], `/${key}`, ['S', 'Z'] as const, directions));
  const cabled = ['cablePlies', 'cableTwist', 'cableDirection'].some((key) => q[key] !== undefined);
  const construction = q['construction'] === undefined ? (cabled ? 'cable' : 'plied') : (r.choice(q['construction'], '/construction', constructions, { 'chain-ply': 'chain', cabled: 'cable', ply: 'plied' }) ?? 'plied');
  if (cabled && construction !== 'cable') r.fail('/construction', { code: 'one-of', detail: 'Plies, twist or direction of a cable were given, but not that it is one.', received: construction, expected: 'cable' });
  const strands = readStrands(q, r, k);
  const pliedRead = q['plyGrist'] === undefined ? undefined : r.read(q['plyGrist'], '/plyGrist', 'grist', { moreThan: 1e-9, atMost: 1, says: 'a yarn' });
  const plies = readPlies(q, r, strands, construction === 'chain', pliedRead?.plies) ?? 2;
  const wheel = plyWheel(q, r, k, out);
  const ratioRead = q['ratio'] === undefined ? undefined : r.ratio(q['ratio'], '/ratio', { moreThan: 1e-3, atMost: 1e4 });
  const turnsRead = readTurns(q, r, out);
  const [ratio, turns, length] = [ratioRead && k.input(ratioRead), turnsRead && k.input(turnsRead), quantity('draftLength', 'part', { moreThan: 1e-5, atMost: 100, says: 'more than 0' })];
  let wound = quantity('woundDiameter', 'part', { moreThan: 1e-3, atMost: 1, says: 'from 1 mm to 1 m' });
  if (wheel.drive === 'bobbin-lead' && wound === undefined) { out.assume(twistNotes.packageSpan); wound = k.assumed({ low: 0.025, high: 0.067 }); }
  const lap = wheel.drive === 'bobbin-lead' && wound !== undefined ? expr((diameter) => turnsPerLap({ diameter }), wound) : undefined;
  const driver = ratio ?? (wheel.drivers.length === 1 ? wheel.drivers[0]!.ratio : undefined);

  const dirs = readDirections(strands, direction('plyDirection'), out, q);
  const stiffnessRead = q['stiffnessRatio'] === undefined ? undefined : r.number(q['stiffnessRatio'], '/stiffnessRatio', { moreThan: 0, atMost: 100 });
  let stiffnessFound: Expr | undefined;
  const stiffness = (): Expr => (stiffnessFound ??= stiffnessRead === undefined ? (out.assume(notes.elasticLimits), k.assumed({ low: 1, high: 1.3 })) : k.input(stiffnessRead));
  const fibreId = q['fibre'] === undefined ? undefined : r.choice(q['fibre'], '/fibre', fibreIds, fibreAliases);
  const preparation = q['preparation'] === undefined ? undefined : r.choice(q['preparation'], '/preparation', preparations);
  const density = quantity('yarnDensity', 'density', { moreThan: 20, atMost: 3000, says: 'from 20 to 3000 kg/m3' });
  let volumeFound: Expr | undefined;
  const volume = (): Expr => (volumeFound ??= density === undefined ? (out.assume(twistNotes.diameterFromGrist), volumeTaken(k, fibreId, preparation)) : expr((x) => 1 / x, density));

  const mean = together(strands, plies);
  if (!mean.alike) out.assume(notes.strandsAveraged);
  if (q['bumps'] !== undefined && q['bumpsOver'] === undefined) r.missing('/bumpsOver', 'The length over which the bumps were counted', 'such as 1 in');
  if (q['bumps'] !== undefined && q['plyTwist'] !== undefined) r.fail('/bumps', { code: 'one-of', detail: 'The ply twist was given in two ways.', received: 'plyTwist, bumps', expected: 'one of them' });
  const [given, bumps, over] = [quantity('plyTwist', 'twist', { moreThan: 0, atMost: 1e5 }), number('bumps', { moreThan: 0, atMost: 1e6 }), quantity('bumpsOver', 'part')];
  const byBumps = bumps === undefined || over === undefined ? undefined : expr((b, l) => twistOfBumps({ bumps: b, plies, length: l }), bumps, over);
  const byDraw = driver === undefined || turns === undefined || length === undefined ? undefined : expr((i, n, l, x) => (i * n) / l - x, driver, turns, length, lap ?? nothing);
  const plyTwist = given ?? byBumps ?? byDraw;
  const [plyLength, plyMass, contractionGiven] = [quantity('plyLength', 'length', { moreThan: 0, atMost: 1e7 }), quantity('plyMass', 'mass', { moreThan: 0, atMost: 1e4 }), readContraction(q, r, quantity, out)];
  if (pliedRead !== undefined && plyLength !== undefined && plyMass !== undefined) r.fail('/plyGrist', { code: 'one-of', detail: 'Grist, length and weight of the plied yarn: two of them give the third.', received: 'plyGrist, plyLength, plyMass', expected: 'two of them' });
  const pliedGiven = pliedRead !== undefined ? k.input(pliedRead.reading) : plyLength !== undefined && plyMass !== undefined ? expr((m, l) => m / l, plyMass, plyLength) : undefined;
  if (strands.length === 0 && pliedGiven === undefined && plyTwist === undefined && plyLength === undefined && r.issues.length === 0) r.missing('/singles', 'The singles (their grist, twist or length), or the plied yarn', 'such as a grist of 50 tex and a twist of 8 turns/in');
  r.done();

  const own = { out, k, plies, strands, mean, volume, plyTwist, pliedGiven, contractionGiven, ...dirs };
  const c = contractions(own);
  if (byDraw !== undefined && plyTwist === byDraw && extent(k.reading(byDraw)).high <= 0) out.warn(twistNotes.noTwistLeft);
  const strand = mean.grist ?? c.strand;
  const plied = pliedGiven ?? (strand === undefined ? undefined : expr((g, x) => f.pliedGrist({ sum: g * plies, contraction: x }), strand, c.contraction));
  const mass = plyMass ?? (plyLength !== undefined && plied !== undefined ? expr((l, g) => l * g, plyLength, plied) : undefined);
  return {
    q, r, k, out, strands, plies, construction, wheel, mixed: dirs.mixed, against: dirs.against, contraction: c.contraction, contractionFrom: c.from, models: c.models, fibreId: fibreId ?? 'wool', fibreSaid: fibreId !== undefined, stiffness,
    draw: kept({ length, turns, lap, ratio }),
    ...kept({
      singlesDirection: dirs.singlesDirection, plyDirection: dirs.plyDirection, strand, singlesTwist: mean.twist, plyTwist, singlesAngle: c.singlesAngle, diameter: c.diameter, volume: volumeFound, plyAngle: c.plyAngle, measured: c.measured,
      sum: strand === undefined ? undefined : expr((g) => g * plies, strand), plied, plyLength: plyLength ?? (mass !== undefined && plied !== undefined ? expr((m, g) => m / g, mass, plied) : undefined), plyMass: mass,
    }),
  };
}
const nothing: Expr = { uses: [], at: () => 0 };

/** Specific volume by fibre and preparation, m³/kg. */
export function volumeTaken(k: Knowns, fibreId: string | undefined, preparation: Preparation | undefined): Expr {
  const { low, high } = wrapFactor('packed', fibres.find((x) => x.id === fibreId)?.packs, preparation);
  return k.assumed({ low: volumeOfFactor(high), high: volumeOfFactor(low) });
}

interface Directions { readonly singlesDirection?: Direction; readonly plyDirection?: Direction; readonly mixed: boolean; readonly against: number }
function readDirections(strands: readonly Strand[], ply: Direction | undefined, out: Notes, q: Readonly<Record<string, unknown>>): Directions {
  const said = new Set(strands.map((s) => s.direction).filter((d) => d !== undefined));
  const about = q['plyTwist'] !== undefined || q['bumps'] !== undefined || strands.some((s) => s.twist !== undefined || s.direction !== undefined);
  if (said.size > 1) { out.warn(notes.mixedDirections); return { mixed: true, against: 1, ...kept({ plyDirection: ply }) }; }
  const singles = [...said][0];
  if (singles === undefined && ply === undefined) { if (about) out.warn(notes.noDirections); return { mixed: false, against: 1 }; }
  if (singles === undefined) { out.warn(notes.singlesDirectionTaken(opposite(ply!))); return { mixed: false, against: 1, singlesDirection: opposite(ply!), plyDirection: ply! }; }
  if (ply === undefined) { out.warn(notes.againstTaken(opposite(singles))); return { mixed: false, against: 1, singlesDirection: singles, plyDirection: opposite(singles) }; }
  if (ply === singles && !isCable(q)) out.warn(notes.sameDirection);
  return { mixed: false, against: ply === singles ? -1 : 1, singlesDirection: singles, plyDirection: ply };
}
const isCable = (q: Readonly<Record<string, unknown>>): boolean => q['construction'] === 'cable' || ['cablePlies', 'cableTwist', 'cableDirection'].some((key) => q[key] !== undefined);

function readContraction(q: Readonly<Record<string, unknown>>, r: Reader, quantity: (key: string, kind: 'share', limits?: object) => Expr | undefined, out: Notes): Expr | undefined {
  const of = q['contractionOf'] === undefined ? 'singles' : (r.choice(q['contractionOf'], '/contractionOf', contractionWays) ?? 'singles');
  if (q['contraction'] === undefined) return q['contractionOf'] === undefined ? undefined : r.missing('/contraction', 'The contraction itself', 'such as 5 %');
  const c = quantity('contraction', 'share', { atLeast: -0.5, atMost: of === 'plied' ? 9 : 0.9, says: of === 'plied' ? 'from -50 to 900 %' : 'from -50 to 90 %' });
  out.assume(of === 'plied' ? notes.extraIsOfPlied : notes.contractionIsOfSingles);
  return c === undefined || of === 'singles' ? c : expr((extra) => f.contractionOfExtra({ extra }), c);
}

interface Own extends Directions {
  readonly out: Notes; readonly k: Knowns; readonly plies: number; readonly strands: readonly Strand[]; readonly mean: ReturnType<typeof together>; readonly volume: () => Expr; readonly plyTwist: Expr | undefined; readonly pliedGiven: Expr | undefined; readonly contractionGiven: Expr | undefined;
}
interface Contractions { readonly contraction: Expr; readonly from: ContractionFrom; readonly models: Solved['models']; readonly strand?: Expr; readonly diameter?: Expr; readonly singlesAngle?: Expr; readonly plyAngle?: Expr; readonly measured?: Expr }

/** The contraction that counts: given, told by the grists, worked out, or taken as nothing; and what the models say beside it. */
function contractions(o: Own): Contractions {
  const { plies, plyTwist, mean, against } = o;
  const fits = plies <= 6;
  if (!fits) o.out.assume(notes.tooManyStrands);
  const measured = mean.grist !== undefined && o.pliedGiven !== undefined ? expr((g, R) => f.measuredContraction({ sum: g * plies, plied: R }), mean.grist, o.pliedGiven) : undefined;
  const modelled = fits && !o.mixed && mean.twist !== undefined && plyTwist !== undefined;
  let strand = mean.grist;
  let contraction = o.contractionGiven ?? measured;
  let from: ContractionFrom = o.contractionGiven !== undefined ? 'given' : measured !== undefined ? 'measured' : 'worked-out';
  if (contraction === undefined && strand === undefined && mean.diameter === undefined && o.pliedGiven !== undefined && modelled) {
    // The strand is what gives this plied grist, its own contraction counted.
    strand = expr((R, v, s, p) => f.strandOfPlied({ plied: R, volume: v, plies, singlesTwist: s, plyTwist: p, against }), o.pliedGiven, o.volume(), mean.twist!, plyTwist!);
  } else if (strand === undefined && o.pliedGiven !== undefined) {
    if (contraction === undefined) { contraction = nothing; from = 'taken'; o.out.assume(notes.contractionTaken); }
    strand = expr((R, c) => f.sumOfStrands({ plied: R, contraction: c }) / plies, o.pliedGiven, contraction);
  }
  const diameter = mean.diameter ?? (strand === undefined || (plyTwist === undefined && mean.twist === undefined) ? undefined : expr((g, v) => diameterOf({ grist: g, volume: v }), strand, o.volume()));
  const singlesAngle = mean.angle ?? (diameter === undefined || mean.twist === undefined ? undefined : expr((twist, d) => surfaceAngle({ twist, diameter: d }), mean.twist, diameter));
  const plyAngle = fits && diameter !== undefined && plyTwist !== undefined ? expr((d, t) => f.plyAngle({ radius: f.ringRadius({ diameter: d, plies }), twist: t }), diameter, plyTwist) : undefined;
  const fixed = plyAngle === undefined ? undefined : expr((angle) => f.helixContraction({ angle }), plyAngle);
  const lengthening = plyAngle === undefined || singlesAngle === undefined || !modelled ? undefined
    : expr((a, b, p, s) => f.pliedContraction({ singlesAngle: a, plyAngle: b, ratio: (against * p) / s }), singlesAngle, plyAngle, plyTwist!, mean.twist!);
  if (contraction === undefined && lengthening !== undefined) { contraction = lengthening; o.out.assume(notes.contractionModel); }
  if (contraction === undefined) { contraction = nothing; from = 'taken'; o.out.assume(notes.contractionTaken); }
  return { contraction, from, models: kept({ lengthening, fixed }), ...kept({ strand, diameter, singlesAngle, plyAngle, measured: o.contractionGiven === undefined ? undefined : measured }) };
}
