/** The step after: where to ply, in which direction, with how many treadles for a draw, and whether it fits. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, middle, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { expr, Knowns } from '../../foundation/uncertainty.js';
import type { Drive } from '../../wheels/words.js';
import { packageOf } from '../package.js';
import { pairRows, plyWheel, rooms, type Reach } from '../ply/wheel.js';
import { turnsPerLap } from '../twist/formula.js';
import * as f from './formula.js';
import type { Direction } from '../ply/strands.js';
import type { Strand } from './target.js';

export interface PlySetup { wheel: string; wheelId?: string; drive: Drive; whorl?: string; bobbin?: string; groove?: string; ratio: R; direction: Direction; draftLength: Q; wheelTurns: R; leastTwistEmpty?: Q; reach?: Reach; holds?: Q; fits?: 'yes' | 'no' | 'too-close-to-say' }
interface Ranked { readonly row: PlySetup; readonly worst: number; readonly turns: number }
const reachRank = { 'all-the-way': 0, 'too-close-to-say': 1, 'when-fuller': 2, no: 3 } as const;
const fitRank = { yes: 0, 'too-close-to-say': 1, no: 2 } as const;

/** Ways to ply on one wheel run in one way, the best first: it can ply so softly, it fits, the orifice passes it, and then the fewest treadles. */
export function plySetups(wheel: { readonly name: string; readonly id?: string; readonly profile: unknown }, asked: Drive | undefined, plied: Strand, draw: Reading, mass: Reading | undefined, out: Notes, units: UnitChoice): Ranked[] {
  const [r, k] = [new Reader(), new Knowns()];
  const pw = plyWheel({ wheel: wheel.profile, ...(asked === undefined ? {} : { drive: asked }) }, r, k, out);
  r.done();
  const { train } = pw;
  if (train === undefined) return [];
  const { drive } = train;
  const twist = k.input(plied.twist);
  const length = k.input(draw);
  const room = mass === undefined ? [] : rooms(pw, k.input(mass), r, k, out, units);
  return pw.drivers.flatMap((d) => {
    const bobbin = train.wheel.bobbins.find((b) => b.name === d.bobbin);
    const pack = drive === 'bobbin-lead' && bobbin !== undefined ? packageOf(bobbin, train, r, out, false) : undefined;
    const lap = pack === undefined ? undefined : expr((core, full) => turnsPerLap({ diameter: (core + full) / 2 }), pack.core, pack.full);
    const [row] = pairRows([d], { twist, length, ...(lap === undefined ? {} : { lap }) }, k, units);
    if (row?.wheelTurns === undefined) return [];
    const whorl = train.whorls.find((w) => w.name === d.whorl);
    const flyerName = whorl?.flyer ?? bobbin?.flyer;
    const flyers = train.wheel.flyers.filter((x) => flyerName === undefined || x.name === flyerName);
    const orifice = flyers.length === 1 ? flyers[0]!.orifice : undefined;
    const narrow = orifice !== undefined && f.orificeRoom({ orifice: middle(orifice), diameter: middle(plied.diameter) }) < 1;
    const one = room.find((x) => x.bobbin === d.bobbin);
    const { reach } = row;
    const plain: PlySetup = {
      wheel: wheel.name, ...(wheel.id === undefined ? {} : { wheelId: wheel.id }), drive, ...(row.whorl === undefined ? {} : { whorl: row.whorl }), ...(row.bobbin === undefined ? {} : { bobbin: row.bobbin }), ...(row.groove === undefined ? {} : { groove: row.groove }), ratio: row.ratio, direction: plied.direction,
      draftLength: wire('part', draw, units), wheelTurns: row.wheelTurns, ...(row.leastTwistEmpty === undefined ? {} : { leastTwistEmpty: row.leastTwistEmpty }), ...(reach === undefined ? {} : { reach }), ...(one === undefined ? {} : { holds: one.holds, fits: one.fits }),
    };
    const turns = 'value' in row.wheelTurns ? row.wheelTurns.value : extent(row.wheelTurns as Reading).high;
    return [{ row: plain, worst: (narrow ? 4 : 0) + (drive === 'spindle' ? 3 : 0) + (reach === undefined ? 1 : reachRank[reach]) + (one === undefined ? 0 : fitRank[one.fits]), turns }];
  });
}
export const betterPly = (a: Ranked, b: Ranked): number => a.worst - b.worst || a.turns - b.turns;
