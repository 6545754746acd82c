/** The yarn that is wanted, as it stands on the wheel: grist and twist of each strand, and of the ply. */
import type { Notes } from '../../foundation/notes.js';
import { metric, type Kind } from '../../foundation/quantity.js';
import { shown, type Reader } from '../../foundation/read.js';
import { extent, isPoint, middle, wire, type Q, type Reading } from '../../foundation/reading.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { fibreAliases, fibreIds, fibres } from '../../reference/fibres.js';
import { staples, twistUses, type TwistUse } from '../../reference/twists.js';
import { preparations, wrapFactor, wrappings } from '../../reference/wraps.js';
import * as grist from '../grist/formula.js';
import * as ply from '../ply/answer.js';
import { volumeTaken } from '../ply/solve.js';
import { directions, opposite, type Direction } from '../ply/strands.js';
import * as twistAnswer from '../twist/answer.js';
import { diameterOf, twistOfAngle } from '../twist/formula.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export const yarnUses = ['knitting', 'sock', 'weft', 'semi-warp', 'warp'] as const;
export type YarnUse = (typeof yarnUses)[number];
/** Surface angles of a strand, degrees. Common practice. */
const usualAngles: Readonly<Record<YarnUse, readonly [number, number]>> = { knitting: [18, 25], sock: [30, 35], weft: [20, 28], 'semi-warp': [25, 32], warp: [30, 38] };
const degree = Math.PI / 180;

export interface Strand { readonly grist: Reading; readonly twist: Reading; readonly diameter: Reading; readonly direction: Direction }
export interface Target { readonly plies: number; readonly strand: Strand; readonly plied?: Strand; readonly fine: boolean; readonly about: Readonly<Record<string, unknown>> }

/** A reading as a question of another calculation has it. */
export const asked = (kind: Kind, r: Reading): Q => wire(kind, r, metric);
/** And back, in SI: the widest that a quantity of another answer says. */
const read = (q: Q, perUnit: number): Reading => ('value' in q ? { value: q.value * perUnit, ...(q.plusMinus === undefined ? {} : { u: (q.plusMinus * perUnit) / 2 }) } : { ...(q.low === undefined ? {} : { low: q.low * perUnit }), ...(q.high === undefined ? {} : { high: q.high * perUnit }) });
const tex = 1e-6;

type Json = Readonly<Record<string, unknown>>;
export function readTarget(q: Json, r: Reader, out: Notes): Target | undefined {
  const k = new Knowns();
  const quantity = (key: string, kind: Kind, limits = {}): Expr | undefined => { const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, kind, limits); return v === undefined ? undefined : k.input(v); };
  const fibre = q['fibre'] === undefined ? undefined : r.choice(q['fibre'], '/fibre', fibreIds, fibreAliases);
  const preparation = q['preparation'] === undefined ? undefined : r.choice(q['preparation'], '/preparation', preparations);
  const staple = q['staple'] === undefined ? undefined : r.choice(q['staple'], '/staple', staples);
  const use = q['use'] === undefined ? undefined : r.choice(q['use'], '/use', yarnUses);
  const direction = q['direction'] === undefined ? 'Z' : (r.choice(q['direction'], '/direction', ['S', 'Z'] as const, directions) ?? 'Z');
  const wanted = gristOf(q, r, k, fibre, preparation, out);
  const plies = readPlies(q, r, wanted?.plies, out);
  const lost = quantity('lengthLost', 'share', { atLeast: 0, atMost: 0.9 });
  const [twist, plyTwist, angle] = [quantity('twist', 'twist', { moreThan: 0, atMost: 1e5 }), quantity('plyTwist', 'twist', { moreThan: 0, atMost: 1e5 }), quantity('angle', 'angle', { moreThan: 0, atMost: 1.4, says: 'more than 0 and less than 80 degrees' })];
  if (q['twist'] !== undefined && q['angle'] !== undefined) r.fail('/angle', { code: 'one-of', detail: 'The twist of the strand was given as turns and as an angle.', received: 'twist, angle', expected: 'one of them' });
  if (q['plyTwist'] !== undefined && plies === 1) r.fail('/plyTwist', { code: 'one-of', detail: 'A single has no ply twist.', received: 'plyTwist, and one strand', expected: 'twist, or more plies' });
  if (q['twist'] === undefined && q['angle'] === undefined && q['use'] === undefined && q['plyTwist'] === undefined) r.missing('/twist', 'How much twist: its turns, its angle, or what the yarn is for', 'such as 8 turns/in, 22 deg, or use knitting');
  if (r.issues.length > 0 || wanted === undefined) return undefined;

  const volume = volumeTaken(k, fibre, preparation);
  const before = (e: Expr): Expr => (lost === undefined ? e : expr((finished, l) => f.onTheWheel({ finished, lost: l }), e, lost));
  if (lost === undefined) out.assume(notes.onTheWheelTaken);
  const whole = before(wanted.grist);
  const about = { ...(fibre === undefined ? {} : { fibre }), ...(preparation === undefined ? {} : { preparation }) };
  const thick = (g: Reading): Reading => k.reading(expr((x, v) => diameterOf({ grist: x, volume: v }), k.assumed(g), volume));
  const strandOf = (g: Reading, t: Reading, d: Direction): Strand => ({ grist: g, twist: t, diameter: thick(g), direction: d });
  const done = (strand: Strand, plied?: Strand): Target | undefined => (sound(strand, q, r) ? { plies, strand, ...(plied === undefined ? {} : { plied }), fine: middle(strand.grist) < 60 * tex, about } : undefined);

  const rough = k.reading(plies === 1 ? whole : expr((g) => g / plies, whole));
  const asOnWheel = twist === undefined ? undefined : k.reading(before(twist));
  const turns = asOnWheel ?? twistOf(rough, { angle, use: plyTwist === undefined || angle !== undefined ? use : undefined, fibre, staple, volume }, k, out);
  if (plies === 1) return turns === undefined ? undefined : done(strandOf(k.reading(whole), turns, direction));

  const plyWanted = plyTwist === undefined ? undefined : k.reading(before(plyTwist));
  const plyDirection = opposite(direction);
  const ask = (t: Reading | undefined, p: Reading | undefined) => ply.answer({
    plies, plyGrist: asked('grist', k.reading(whole)), plyDirection, ...about, singles: [{ direction, ...(t === undefined ? {} : { twist: asked('twist', t) }) }], ...(p === undefined ? {} : { plyTwist: asked('twist', p) }),
  }).result;
  // Whichever twist was not wanted is the middle of what balances the other.
  const balanced = (from: Q | undefined): Reading => { out.assume(notes.plyTwistTaken); return { value: middle(read(from!, 1)) }; };
  const singlesTwist = turns ?? balanced(ask(undefined, plyWanted).balance?.singlesTwist);
  const plied = plyWanted ?? balanced(ask(singlesTwist, undefined).balance?.plyTwist);
  const found = ask({ value: middle(singlesTwist) }, { value: middle(plied) });
  const each = found.singles === undefined ? rough : read(found.singles, tex);
  return done(strandOf(each, singlesTwist, direction), strandOf(k.reading(whole), plied, plyDirection));
}

function gristOf(q: Json, r: Reader, k: Knowns, fibre: string | undefined, preparation: Parameters<typeof wrapFactor>[2], out: Notes): { grist: Expr; plies?: number } | undefined {
  if (q['grist'] !== undefined && q['wraps'] !== undefined) return r.fail('/wraps', { code: 'one-of', detail: 'How thick the yarn is was given in two ways.', received: 'grist, wraps', expected: 'one of them' });
  if (q['grist'] !== undefined) {
    const g = r.read(q['grist'], '/grist', 'grist', { moreThan: 1e-9, atMost: 1, says: 'a yarn' });
    return g === undefined ? undefined : { grist: k.input(g.reading), ...(g.plies === undefined ? {} : { plies: g.plies }) };
  }
  if (q['wraps'] === undefined) return r.missing('/grist', 'How thick the yarn is: its grist, or its wraps with how they are wound', 'such as 1200 yd/lb');
  const wraps = r.quantity(q['wraps'], '/wraps', 'wraps');
  if (q['wrapping'] === undefined) return r.missing('/wrapping', 'How the wraps were wound', wrappings.join(', '));
  const wrapping = r.choice(q['wrapping'], '/wrapping', wrappings);
  if (wraps === undefined || wrapping === undefined) return undefined;
  void out;
  const { low, high } = wrapFactor(wrapping, fibres.find((x) => x.id === fibre)?.packs, preparation);
  return { grist: expr((n, factor) => grist.gristOfWraps({ wraps: n, factor }), k.input(wraps), k.assumed({ low, high })) };
}

function readPlies(q: Json, r: Reader, named: number | undefined, out: Notes): number {
  if (q['plies'] === undefined) { if (named === undefined) out.assume(notes.singleTaken); return named ?? 1; }
  const v = r.number(q['plies'], '/plies', { atLeast: 1, atMost: 12, says: 'a whole number from 1 to 12' });
  if (v === undefined) return 1;
  if (isPoint(v) && Number.isInteger(v.value)) return v.value;
  r.fail('/plies', { code: 'out-of-range', detail: 'How many strands are plied together is a whole number.', received: shown(q['plies']), expected: 'a whole number from 1 to 12' });
  return 1;
}

/** Only what has two ends, both more than nothing, can be set up for. */
function sound(strand: Strand, q: Json, r: Reader): boolean {
  const ends = (of: Reading): boolean => { const { low, high } = extent(of); return low > 0 && Number.isFinite(high); };
  const given = (...keys: string[]): string => keys.find((key) => q[key] !== undefined) ?? keys[0]!;
  for (const [of, key, what] of [[strand.grist, given('grist', 'wraps'), 'How thick the yarn is'], [strand.diameter, given('grist', 'wraps'), 'How thick the yarn is'], [strand.twist, given('twist', 'angle', 'plyTwist', 'use'), 'The twist']] as const) {
    if (!ends(of)) r.fail(`/${key}`, { code: 'out-of-range', detail: `${what} must be known at both ends, and be more than nothing, before a wheel can be set up for it.`, received: shown(q[key]), expected: 'a number, or a range with two ends' });
  }
  return r.issues.length === 0;
}

interface Wish { readonly angle: Expr | undefined; readonly use: YarnUse | undefined; readonly fibre: string | undefined; readonly staple: string | undefined; readonly volume: Expr }
/** Turns of a strand from its angle, from a published table, or from the angle that is usual for its use. */
function twistOf(strand: Reading, w: Wish, k: Knowns, out: Notes): Reading | undefined {
  const byAngle = (angle: Expr): Reading => { out.assume(notes.angleThickness); return k.reading(expr((a, g, v) => twistOfAngle({ angle: a, diameter: diameterOf({ grist: g, volume: v }) }), angle, k.assumed(strand), w.volume)); };
  if (w.angle !== undefined) return byAngle(w.angle);
  if (w.use === undefined) return undefined;
  if (w.fibre === 'cotton' && (twistUses as readonly string[]).includes(w.use)) {
    const rows = twistAnswer.answer({ grist: asked('grist', { value: middle(strand) }), fibre: 'cotton', use: w.use as TwistUse, ...(w.staple === undefined ? {} : { staple: w.staple }) }).result.recommended ?? [];
    const ends = rows.filter((row) => row.use === w.use && row.twist !== undefined).map((row) => extent(read(row.twist!, 1)));
    if (ends.length > 0) { out.assume(notes.tableTwist); return { low: Math.min(...ends.map((e) => e.low)), high: Math.max(...ends.map((e) => e.high)) }; }
  }
  out.assume(notes.usualAngle);
  const [low, high] = usualAngles[w.use];
  // The thickness is taken at its middle: the use already names a range.
  const diameter = diameterOf({ grist: middle(strand), volume: k.centre(w.volume) });
  return { low: twistOfAngle({ angle: low * degree, diameter }), high: twistOfAngle({ angle: high * degree, diameter }) };
}
