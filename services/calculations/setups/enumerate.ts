/** Every way a wheel can spin the strand: each drive, whorl, bobbin and end, with the length to draft that leaves the most room, and every limit. */
import type { Notes } from '../../foundation/notes.js';
import { Reader } from '../../foundation/read.js';
import { extent, middle } from '../../foundation/reading.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { Drive } from '../../wheels/words.js';
import { readBagTest } from '../bag-test.js';
import * as takeUp from '../take-up/answer.js';
import { diameterAt } from '../take-up/formula.js';
import { readForces } from '../tension/forces.js';
import { torques, type Forces } from '../tension/window.js';
import { turnsPerLap } from '../twist/formula.js';
import * as f from './formula.js';
import type { Spinner } from './spinner.js';
import { asked, type Strand } from './target.js';

export const limitNames = ['longer-draft', 'shorter-draft', 'draw-in', 'pull', 'orifice', 'flyer-speed', 'slowest-flyer'] as const;
export type LimitName = (typeof limitNames)[number];
export interface Limit { readonly limit: LimitName; readonly slope: -1 | 0 | 1; readonly base: Expr; readonly centre: number }
export interface Candidate {
  readonly drive: Drive; readonly s: takeUp.Solved; readonly pair: takeUp.SolvedPair; readonly limits: readonly Limit[]; readonly rooms: readonly number[];
  /** Length for one turn of the wheel, m, and the flyer's turns in a second. */
  readonly length: number; readonly flyer: Expr; readonly speed: number; readonly output: number;
  /** What the wheel drives by; none on an electric spinner. */
  readonly ratio?: Expr; readonly lap?: Expr; readonly pulls?: Forces;
}
/** Above so many turns in a second a wooden flyer is no longer safe. */
const fastest = 25;

/** Every set-up of one wheel run in one way. Throws a ProblemError where the wheel lacks what this needs. */
export function candidatesOf(profile: unknown, drive: Drive | undefined, strand: Strand, spinner: Spinner, out: Notes, density?: unknown): Candidate[] {
  const s = takeUp.solve({ wheel: profile, ...(drive === undefined ? {} : { drive }), grist: asked('grist', strand.grist), ...(density === undefined ? {} : { packageDensity: density }) });
  const { train } = s;
  const k = train.knowns;
  const r = new Reader();
  const pulls = train.drive === 'spindle' ? undefined : readForces(spinner.forces, r, k, s.out, readBagTest(spinner.forces['bagTest'], r, k, s.out), train.mode?.band?.material);
  r.done();
  const treadling = k.assumed(spinner.treadling);
  const diameter = k.assumed(strand.diameter);
  const [tLow, tHigh] = [extent(strand.twist).low, extent(strand.twist).high];
  const list: Candidate[] = [];
  for (const pair of s.pairs) {
    if (pair.drawIn === 'too-close-to-say') continue;
    const ratio = train.drive === 'bobbin-lead' ? pair.bobbin.pulley?.ratio : pair.whorl?.ratio;
    if (ratio === undefined && train.drive !== 'electric') continue;
    const half = expr((core, full) => diameterAt({ core, full, fill: 0.5 }), pair.pack.core, pair.pack.full);
    const lap = train.drive === 'bobbin-lead' ? expr((d) => turnsPerLap({ diameter: d }), half) : undefined;
    const limits: Limit[] = [];
    const add = (limit: LimitName, slope: -1 | 0 | 1, base: Expr): void => { limits.push({ limit, slope, base, centre: k.centre(base) }); };
    const exact = (value: number): Expr => ({ uses: [], at: () => value });
    add('longer-draft', -1, exact(spinner.high));
    add('shorter-draft', 1, exact(1 / spinner.low));
    const { most } = takeUp.ceilings(s, pair, pair.pack.core);
    if (most !== undefined) add('draw-in', -1, most);
    if (pulls !== undefined) {
      const { least, most: borne } = torques(pulls, pair.pack.core, pair.pack.core);
      add('pull', 0, expr((h, l) => h / l, borne, least));
    }
    const flyerName = pair.whorl?.flyer ?? pair.bobbin.read.flyer;
    const flyers = train.wheel.flyers.filter((x) => flyerName === undefined || x.name === flyerName);
    const orifice = flyers.length === 1 ? flyers[0]!.orifice : undefined;
    if (orifice !== undefined) add('orifice', 0, expr((o, d) => f.orificeRoom({ orifice: o, diameter: d }), k.input(orifice), diameter));
    let [from, to] = [0, Infinity];
    let flyer: Expr;
    if (ratio === undefined) {
      // An electric flyer takes the speed that the hand needs: twist × length drawn in a second.
      const perLength = expr((t, n) => t * n, k.assumed({ value: middle(strand.twist) }), treadling);
      flyer = perLength;
      const speeds = train.wheel.flyerSpeed;
      if (speeds?.fastest !== undefined) add('flyer-speed', -1, expr((v, x) => v / x, k.input(speeds.fastest), perLength));
      if (speeds?.slowest !== undefined) add('slowest-flyer', 1, expr((v, x) => x / v, k.input(speeds.slowest), perLength));
    } else {
      flyer = expr((i, n) => i * n, ratio, treadling);
      // A spindle throws nothing; an old wooden flyer may.
      if (train.drive !== 'spindle') add('flyer-speed', 0, expr((n) => fastest / n, flyer));
      const [i, l] = [k.centre(ratio), lap === undefined ? 0 : k.centre(lap)];
      [from, to] = [f.lengthForTwist({ ratio: i, twist: tHigh, lap: l }), f.lengthForTwist({ ratio: i, twist: tLow, lap: l })];
    }
    const length = f.bestLength(limits.map((x) => ({ base: x.centre, slope: x.slope })), from, to);
    const rooms = limits.map((x) => f.roomOf({ base: x.centre, slope: x.slope }, length));
    // What is known so badly that it has no middle is no proposal.
    if (!(length > 0) || ![length, ...rooms].every(Number.isFinite)) continue;
    const speed = ratio === undefined ? k.centre(flyer) * length : k.centre(flyer);
    list.push({ drive: train.drive, s, pair, limits, rooms, length, flyer, speed, output: length * k.centre(treadling), ...(ratio === undefined ? {} : { ratio }), ...(lap === undefined ? {} : { lap }), ...(pulls === undefined ? {} : { pulls }) });
  }
  for (const a of s.out.assumptions) out.assume(a);
  return list;
}

/** Less than 0 where `a` is to stand before `b`. */
export function better(a: Candidate, b: Candidate, fine: boolean): number {
  const byRoom = f.compareRooms(a.rooms, b.rooms);
  if (byRoom !== 0) return byRoom;
  // Where both have room enough: fine, even yarn suits a double drive, other yarn a single drive. Common practice.
  const liked = (c: Candidate): number => (c.drive === 'double-drive') === fine ? 0 : 1;
  return liked(a) - liked(b) || b.output - a.output;
}
