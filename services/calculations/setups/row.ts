/** One set-up as it is answered: what to set, what comes of it at empty, half and full, its limits, and what to change where one is broken. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import { ProblemError } from '../../foundation/problems.js';
import { extent, middle, wire, type Q, type R } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { Drive } from '../../wheels/words.js';
import { draftLimited } from '../plan/formula.js';
import { seatForRatio } from '../ratio/formula.js';
import * as takeUp from '../take-up/answer.js';
import { diameterAt, woundMass } from '../take-up/formula.js';
import * as tension from '../tension/answer.js';
import { needsTest } from '../tension/notes.js';
import type { State } from '../tension/window.js';
import type { Candidate, Limit, LimitName } from './enumerate.js';
import * as f from './formula.js';
import type { Spinner } from './spinner.js';
import type { Strand } from './target.js';

export type Verdict = 'fits' | 'when-fuller' | 'too-close-to-say' | 'does-not-fit';
export type Holds = 'yes' | 'no' | 'too-close-to-say';
export const changes = ['draft-longer', 'draft-shorter', 'other-ratio', 'whorl-to-have-made', 'bobbin-groove-to-have-made', 'fatter-core', 'smoother-hooks', 'larger-orifice', 'treadle-slower', 'draw-faster', 'draw-slower'] as const;
export type Change = (typeof changes)[number];
export interface FillRow { fill: number; woundDiameter: Q; insertedTwist?: Q; leastTwist?: Q; mostDrawnInPerWheelTurn?: Q; least?: Q; most?: Q; state?: State }
export interface SetupRow {
  wheel: string; wheelId?: string; drive: Drive; whorl?: string; bobbin?: string; groove?: string; stands: Verdict; binds: LimitName; room: R; ratio?: R; draftLengthPerWheelTurn: Q; draftLength?: Q; wheelTurns?: R; treadling: Q; flyerSpeed: Q; twist: Q; grist: Q;
  lengthPerHour: Q; massPerHour: Q; capacity?: { length: Q; mass: Q }; of?: 'band-tension' | 'brake-torque'; oneSettingServes?: Holds; handCheck?: { lifts: Q; pullsOff: Q }; fill: FillRow[]; limits: { limit: LimitName; room: R; holds: Holds }[]; change?: { change: Change; to: Q | R }[];
}
type Write = (kind: Parameters<typeof wire>[0], e: Expr) => Q;
type Json = Record<string, unknown>;

/** The wheel with only the parts of this set-up, as any other calculation takes it. */
export function onlyThese(profile: unknown, c: Candidate): Json {
  const p = profile as Json;
  const list = (key: string): Json[] => (Array.isArray(p[key]) ? (p[key] as Json[]) : []);
  const whorls = list('whorls').filter((w, i) => (w['name'] ?? `whorl ${i + 1}`) === c.pair.whorl?.name);
  const groove = c.pair.bobbin.pulley?.groove;
  const bobbins = list('bobbins').filter((b, i) => (b['name'] ?? `bobbin ${i + 1}`) === c.pair.bobbin.name).map((b): Json => (groove === undefined || !Array.isArray(b['grooves']) ? b : { ...b, grooves: (b['grooves'] as Json[]).filter((g, i) => (g['name'] ?? `groove ${i + 1}`) === groove) }));
  return { ...p, ...(c.pair.whorl === undefined ? {} : { whorls }), ...(bobbins.length === 0 ? {} : { bobbins }) };
}

const holdsOf = (room: { low: number; high: number }): Holds => (room.low >= 1 - 1e-9 ? 'yes' : room.high < 1 - 1e-9 ? 'no' : 'too-close-to-say');
/** The window of the setting; nothing where the wheel lacks what a window needs. */
function settingOf(profile: Json, c: Candidate, spinner: Spinner, out: Notes, units: UnitChoice): tension.TensionResult['windows'][number] | undefined {
  // On an electric spinner the brake is set as on a flyer-lead wheel, and there is no band to look at.
  if (c.drive === 'spindle' || c.drive === 'electric') return undefined;
  try {
    const told = tension.answer({ wheel: profile, drive: c.drive, ...spinner.forces }, { units });
    for (const a of told.assumptions) out.assume(a);
    if (told.warnings.some((w) => w.code === needsTest.code)) out.warn(needsTest);
    return told.result.windows[0];
  } catch (error) {
    if (error instanceof ProblemError) return undefined;
    throw error;
  }
}

export function rowOf(c: Candidate, wheel: { readonly name: string; readonly id?: string; readonly profile: unknown }, strand: Strand, spinner: Spinner, out: Notes, units: UnitChoice): SetupRow {
  const { s, pair } = c;
  const k = s.train.knowns;
  const q: Write = (kind, e) => wire(kind, k.reading(e), units) as Q;
  const n = (e: Expr): R => wire('number', k.reading(e));
  const length = k.assumed({ value: c.length });
  const roomAt = (l: Limit): Expr => expr((base, x) => f.roomOf({ base, slope: l.slope }, x), l.base, length);
  const limits = c.limits.map((l) => ({ limit: l.limit, room: n(roomAt(l)), holds: holdsOf(extent(k.reading(roomAt(l)))), at: f.roomOf({ base: l.centre, slope: l.slope }, c.length) }));
  const binds = limits.reduce((a, b) => (b.at < a.at - 1e-12 ? b : a));
  const broken = limits.filter((l) => l.holds === 'no');
  const fuller = broken.length === 1 && broken[0]!.limit === 'draw-in' && drawsInWhenFull(c, length);
  const verdict: Verdict = broken.length > 0 ? (fuller ? 'when-fuller' : 'does-not-fit') : limits.every((l) => l.holds === 'yes') ? 'fits' : 'too-close-to-say';
  const window = settingOf(onlyThese(wheel.profile, c), c, spinner, out, units);
  const drafted: takeUp.Solved = { ...s, draft: length, turns: k.assumed({ value: 1 }), ...(c.ratio === undefined ? { flyerSpeed: expr((x, l) => x * l, c.flyer, length), drawSpeed: expr((l, t) => l * t, length, k.assumed(spinner.treadling)) } : {}) };
  const fill = ([0, 0.5, 1] as const).map((share, i): FillRow => {
    const { woundDiameter, insertedTwist, leastTwist, mostDrawnInPerWheelTurn } = takeUp.at(drafted, pair, expr((core, full) => diameterAt({ core, full, fill: share }), pair.pack.core, pair.pack.full), q);
    const set = window === undefined ? undefined : [window.empty, window.half, window.full][i]!;
    return { fill: share, woundDiameter, ...(insertedTwist === undefined ? {} : { insertedTwist }), ...(leastTwist === undefined ? {} : { leastTwist }), ...(mostDrawnInPerWheelTurn === undefined ? {} : { mostDrawnInPerWheelTurn }), ...(set === undefined ? {} : { least: set.least, ...(set.most === undefined ? {} : { most: set.most }), state: set.state }) };
  });
  const treadling = k.assumed(spinner.treadling);
  const duty = k.assumed(spinner.duty ?? { value: 0.75, u: 0.06 });
  const hourly = expr((t, d, share) => draftLimited({ treadling: t, draft: d }) * 3600 * share, treadling, length, duty);
  const grist = k.assumed(strand.grist);
  const twist = c.ratio === undefined ? k.assumed({ value: middle(strand.twist) }) : expr((i, l, lap) => f.twistForLength({ ratio: i, length: l, lap }), c.ratio, length, c.lap ?? k.assumed({ value: 0 }));
  const mass = expr((core, diameter, width, density) => woundMass({ core, diameter, width, density }), pair.pack.core, pair.pack.full, pair.pack.width, s.density);
  const make = spinner.make === undefined ? undefined : k.assumed({ value: spinner.make });
  const change = verdict === 'fits' || verdict === 'too-close-to-say' ? [] : broken.flatMap((l) => changesFor(l.limit, c, strand, spinner, q, n, length));
  return {
    wheel: wheel.name, ...(wheel.id === undefined ? {} : { wheelId: wheel.id }), drive: c.drive, ...(pair.whorl === undefined ? {} : { whorl: pair.whorl.name }), ...(c.drive === 'spindle' ? {} : { bobbin: pair.bobbin.name }), ...(pair.bobbin.pulley === undefined ? {} : { groove: pair.bobbin.pulley.groove }),
    stands: verdict, binds: binds.limit, room: binds.room, ...(c.ratio === undefined ? {} : { ratio: wire('ratio', k.reading(c.ratio)) }), draftLengthPerWheelTurn: q('part', length),
    ...(make === undefined ? {} : { draftLength: q('part', make), wheelTurns: n(expr((m, l) => m / l, make, length)) }),
    treadling: q('turning', treadling), flyerSpeed: q('turning', c.ratio === undefined ? drafted.flyerSpeed! : c.lap === undefined ? c.flyer : expr((i, l, lap, t) => (i - l * lap) * t, c.ratio, length, c.lap, treadling)), twist: q('twist', twist), grist: q('grist', grist),
    lengthPerHour: q('length', hourly), massPerHour: q('mass', expr((l, g) => l * g, hourly, grist)),
    ...(c.drive === 'spindle' ? {} : { capacity: { length: q('length', expr((m, g) => m / g, mass, grist)), mass: q('mass', mass) } }),
    ...(window === undefined ? {} : { of: window.of, oneSettingServes: window.oneSettingServes }),
    // At every fill the wheel must lift the one, and the other must be able to pull yarn off.
    ...(c.pulls === undefined ? {} : { handCheck: { lifts: q('pull', c.pulls.needed), pullsOff: q('pull', c.pulls.borne) } }),
    fill, limits: limits.map(({ limit, room, holds }) => ({ limit, room, holds })), ...(change.length === 0 ? {} : { change }),
  };
}

function drawsInWhenFull(c: Candidate, length: Expr): boolean {
  const { most } = takeUp.ceilings(c.s, c.pair, c.pair.pack.full);
  return most !== undefined && extent(c.s.train.knowns.reading(expr((m, l) => m / l, most, length))).high >= 1;
}

function changesFor(limit: LimitName, c: Candidate, strand: Strand, spinner: Spinner, q: Write, n: (e: Expr) => R, length: Expr): { change: Change; to: Q | R }[] {
  const { train } = c.s;
  const k = train.knowns;
  const base = (name: LimitName): Expr => c.limits.find((l) => l.limit === name)!.base;
  switch (limit) {
    case 'longer-draft': case 'shorter-draft': {
      const wanted = expr((twist, l, lap) => (twist + lap) * l, k.assumed({ value: middle(strand.twist) }), k.assumed({ value: Math.sqrt(spinner.low * spinner.high) }), c.lap ?? k.assumed({ value: 0 }));
      const made = train.drivingPitch === undefined || c.ratio === undefined ? undefined : expr((driving, ratio, band) => seatForRatio({ driving, ratio, band }), train.drivingPitch, wanted, train.band);
      return [
        { change: limit === 'longer-draft' ? 'draft-longer' : 'draft-shorter', to: q('part', length) },
        ...(c.ratio === undefined ? [] : [{ change: 'other-ratio' as const, to: { ...n(wanted), text: `${n(wanted).text} : 1` } }]),
        ...(made === undefined || !(extent(k.reading(made)).low > 0) ? [] : [{ change: c.drive === 'bobbin-lead' ? 'bobbin-groove-to-have-made' as const : 'whorl-to-have-made' as const, to: q('part', made) }]),
      ];
    }
    // What is drawn in goes with the diameter.
    case 'draw-in': return [{ change: 'fatter-core', to: q('part', expr((core, l, most) => (core * l) / most, c.pair.pack.core, length, base('draw-in'))) }];
    case 'pull': return [{ change: 'smoother-hooks', to: n(expr((h, l) => Math.sqrt(h / l), c.pulls!.borne, c.pulls!.needed)) }];
    case 'orifice': return [{ change: 'larger-orifice', to: q('part', expr((d) => 2 * d, k.assumed(strand.diameter))) }];
    case 'flyer-speed': return [c.ratio === undefined ? { change: 'draw-slower', to: q('speed', expr((v, t) => v * t, base('flyer-speed'), k.assumed(spinner.treadling))) } : { change: 'treadle-slower', to: q('turning', expr((room, t) => room * t, base('flyer-speed'), k.assumed(spinner.treadling))) }];
    case 'slowest-flyer': return [{ change: 'draw-faster', to: q('speed', expr((v, t) => t / v, base('slowest-flyer'), k.assumed(spinner.treadling))) }];
  }
}
