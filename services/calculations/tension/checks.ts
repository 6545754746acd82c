/** Checks that a person can do without a gauge, in the order in which to do them. */
import type { Notes } from '../../foundation/notes.js';
import type { Kind } from '../../foundation/quantity.js';
import type { Reader } from '../../foundation/read.js';
import { extent, type Q, type Reading } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { WheelRead } from '../../wheels/profile.js';
import type { Drive, WheelIs } from '../../wheels/words.js';
import type { Train } from '../ratio/train.js';
import * as f from './formula.js';
import * as notes from './notes.js';

type Json = Record<string, unknown>;
export type CheckName = 'bag-test' | 'hand-test' | 'sag' | 'pitch' | 'screw';
export interface Check { check: CheckName; applies: boolean; how: string; tension?: Q; whileLoaded?: Q; agreement?: 'agrees' | 'recheck' }
export interface Measured { readonly sag?: { readonly loaded: Expr; readonly unloaded: Expr }; readonly pitch?: Expr }

export const runs = ['upper', 'lower'] as const;
export type Run = (typeof runs)[number];
export const runEnds = ['pulleys-turn', 'pulleys-held'] as const;
export type RunEnds = (typeof runEnds)[number];

/** Radii of the two pulleys that a run lies between: the wheel, and any of the small ones. */
function radiiOf(train: Train, k: Knowns): [Expr, Expr] | undefined {
  const small = [...train.whorls, ...train.bobbins].flatMap((p) => (p.pitch === undefined ? [] : [p.pitch]));
  if (train.wheelPitch === undefined || small.length === 0) return undefined;
  const half = (e: Expr): Expr => expr((d) => d / 2, e);
  if (small.length === 1) return [half(train.wheelPitch), half(small[0]!)];
  const ends = small.map((e) => extent(k.reading(e)));
  return [half(train.wheelPitch), half(k.assumed({ low: Math.min(...ends.map((e) => e.low)), high: Math.max(...ends.map((e) => e.high)) }))];
}

/** Reads the sag and pitch checks. A hung weight does nothing on an upright run, so there it is refused. */
export function readChecks(q: Json, r: Reader, train: Train, wheelIs: WheelIs | undefined, out: Notes): Measured {
  const k = train.knowns;
  const part = (o: Json, key: string, at: string, kind: Kind, what: string, example: string, limits = {}): Expr | undefined => {
    const v = o[key] === undefined ? (what === '' ? undefined : r.missing(`${at}/${key}`, what, example)) : r.quantity(o[key], `${at}/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  let sag: Measured['sag'];
  if (q['sagCheck'] !== undefined) {
    const o = r.object(q['sagCheck'], '/sagCheck', ['run', 'weight', 'sag', 'cordStiffness', 'cordMass', 'runIs', 'ends']);
    if (o !== undefined && (wheelIs === 'below' || wheelIs === 'above')) {
      r.fail('/sagCheck', { code: 'impossible-geometry', detail: 'The runs of this wheel stand upright, and a hung weight does nothing there. Make the bag test instead.', received: `wheel ${wheelIs} the flyer`, expected: 'a bag test' });
    } else if (o !== undefined) {
      const [run, mass, drop] = [part(o, 'run', '/sagCheck', 'part', 'The free length of the run', 'such as 430 mm', { moreThan: 1e-3, atMost: 10 }), part(o, 'weight', '/sagCheck', 'mass', 'The weight that was hung', 'such as 2 g', { moreThan: 0, atMost: 10 }), part(o, 'sag', '/sagCheck', 'part', 'How far it sank', 'such as 4 mm', { moreThan: 1e-5, atMost: 1 })];
      const stiff = part(o, 'cordStiffness', '/sagCheck', 'cord-stiffness', '', '');
      const cord = part(o, 'cordMass', '/sagCheck', 'cord-mass', '', '');
      const runIs = o['runIs'] === undefined ? undefined : r.choice(o['runIs'], '/sagCheck/runIs', runs);
      const held = o['ends'] === undefined ? undefined : r.choice(o['ends'], '/sagCheck/ends', runEnds);
      if (stiff === undefined) out.assume(notes.cordStiffnessTaken);
      if (held === undefined) out.assume(notes.runEndsTaken);
      if (run !== undefined && mass !== undefined && drop !== undefined) {
        const ea = stiff ?? k.assumed({ low: 20, high: 500 });
        const ends = k.assumed(held === undefined ? { low: 1, high: 2 } : { value: held === 'pulleys-held' ? 1 : 2 });
        const radii = runIs === undefined ? undefined : radiiOf(train, k);
        if (radii === undefined) out.assume(notes.runAlone);
        if (extent(k.reading(mass)).high > 0.002 * 1.0001) out.warn(notes.heavyWeight);
        const none = k.assumed({ value: 0 });
        const hung = (S: number, m: number, d: number, EA: number, n: number, mu: number, R: number, small: number): ReturnType<typeof f.tensionFromSagExact> =>
          f.tensionFromSagExact({ run: S, mass: m, sag: d, stiffness: EA, freeLength: n * S, weight: mu * f.gravity, radii: [R, small], side: runIs === 'lower' ? -1 : 1 });
        const by = [run, mass, drop, ea, ends, cord ?? none, ...(radii ?? [none, none])];
        // How far a light cord stretches does not change what hangs on it.
        sag = {
          loaded: cord === undefined ? expr((S, m, d, R, small) => hung(S, m, d, 0, 1, 0, R, small).loaded, run, mass, drop, ...(radii ?? [none, none])) : expr((...x) => hung(...(x as Parameters<typeof hung>)).loaded, ...by),
          unloaded: expr((...x) => Math.max(0, hung(...(x as Parameters<typeof hung>)).unloaded), ...by),
        };
      }
    }
  }
  let pitch: Expr | undefined;
  if (q['pitchCheck'] !== undefined) {
    const o = r.object(q['pitchCheck'], '/pitchCheck', ['run', 'pitch', 'cordMass']);
    if (o !== undefined) {
      const [run, hz] = [part(o, 'run', '/pitchCheck', 'part', 'The free length of the run', 'such as 430 mm', { moreThan: 1e-3, atMost: 10 }), part(o, 'pitch', '/pitchCheck', 'turning', 'How often it swings', 'such as 14/s', { moreThan: 0, atMost: 1e5 })];
      const cord = part(o, 'cordMass', '/pitchCheck', 'cord-mass', '', '');
      if (cord === undefined) out.assume(notes.cordMassTaken);
      if (run !== undefined && hz !== undefined) {
        if (extent(k.reading(hz)).low < 20) out.warn(notes.notInHearing);
        pitch = expr((S, n, mu) => f.tensionFromPitch({ run: S, frequency: n, massPerLength: mu }), run, hz, cord ?? k.assumed({ low: 0.0015, high: 0.0035 }));
      }
    }
  }
  return { ...(sag === undefined ? {} : { sag }), ...(pitch === undefined ? {} : { pitch }) };
}

/** Sag and pitch agree when their difference holds nothing, at twice its uncertainty. Two bare numbers are never the same: they agree within a tenth. */
function agreementOf(done: Measured, known: (e: Expr) => Reading): { agreement?: 'agrees' | 'recheck' } {
  if (done.sag === undefined || done.pitch === undefined) return {};
  const apart = extent(known(expr((a, b) => a - b, done.sag.unloaded, done.pitch)));
  const room = apart.low === apart.high ? extent(known(done.pitch)).high / 10 : 0;
  return { agreement: apart.low <= room && apart.high >= -room ? 'agrees' : 'recheck' };
}

/** The checks in words, with what was found where one was made. */
export function checkList(drive: Drive, wheel: WheelRead, wheelIs: WheelIs | undefined, done: Measured, known: (e: Expr) => Reading, q: (kind: Kind, r: Reading) => Q): Check[] {
  const upright = wheelIs === 'below' || wheelIs === 'above';
  const turns = drive === 'bobbin-lead' ? 'flyer' : 'bobbin';
  return [
    { check: 'bag-test', applies: true, how: 'Lead the yarn over the orifice to a small soft bag that you weigh on a kitchen scale. Wheel turned slowly by hand: the heaviest bag that it lifts. Wheel held: the lightest bag that pulls yarn off.' },
    { check: 'hand-test', applies: true, how: `Hold the rim of the standing wheel, no fingers between the spokes, and pull yarn off gently: the ${turns} must turn, and nothing else.` },
    { check: 'sag', applies: !upright, how: upright ? 'Not on this wheel: its runs stand upright, and a hung weight does nothing there.' : 'Hang at most 2 g on a light hook in the middle of a level run, and measure how far it sinks. Do it on every run, turn the wheel a little with no yarn on, and take the middle.', ...(done.sag === undefined ? {} : { tension: q('band-tension', known(done.sag.unloaded)), whileLoaded: q('band-tension', known(done.sag.loaded)) }) },
    { check: 'pitch', applies: true, how: 'Pluck a standing run a little, sideways, and count its swings, from a slowed-down film when they are too slow to hear.', ...(done.pitch === undefined ? {} : { tension: q('band-tension', known(done.pitch)) }), ...agreementOf(done, known) },
    { check: 'screw', applies: wheel.turnedBy !== 'motor', how: 'An eighth of a turn or less at a time, the last movement a tightening one. Wait, then make the bag test again. Many wheels have no screw but a tilting block, a slide or a spring: there, the smallest movement that you can make.' },
  ];
}
