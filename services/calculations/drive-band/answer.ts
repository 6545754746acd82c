/** The drive band: how long, where the axle must be, where it crosses, what a turn of the screw does. Pure; throws a ProblemError. */
import { Notes, noUncertainty } from '../../foundation/notes.js';
import { metric } from '../../foundation/quantity.js';
import { Reader } from '../../foundation/read.js';
import { extent, middle, wire, type Q, type R, type Reading } from '../../foundation/reading.js';
import { gum, shigley, urethane } from '../../foundation/sources.js';
import { expr, type Expr } from '../../foundation/uncertainty.js';
import type { QIn, Wheel } from '../../wheels/profile.js';
import * as words from '../../wheels/words.js';
import type { AnswerOptions, Reply } from '../calculation.js';
import * as ratioNotes from '../ratio/notes.js';
import { buildTrain, neededWheel, type Pulley, type Train } from '../ratio/train.js';
import { urethaneCord } from '../../reference/cords.js';
import { reply } from '../reply.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export interface DriveBandQuestion {
  wheel?: Wheel; wheelId?: string; drive?: words.Drive; axleDistance?: QIn; bandLength?: QIn; measuredInside?: boolean; crossed?: boolean; direction?: 'S' | 'Z'; wheelIs?: words.WheelIs;
  offsets?: { wheelToWhorl?: QIn; wheelToBobbin?: QIn; betweenWheelGrooves?: QIn }; stretch?: QIn; screwPitch?: QIn; cordStiffness?: QIn; tightenBy?: QIn;
}
export interface BandAnswer {
  whorl?: string; bobbin?: string; groove?: string; axleDistance: Q; length: Q; insideLength?: Q; cuttingLength: Q; lengthPerTravel: R;
  wheelWrap: Q; whorlWrap?: Q; bobbinWrap?: Q; whorlRun?: Q; bobbinRun?: Q; whorlBandAboveRim?: Q; bobbinBandAboveRim?: Q; fleetAngles?: { wheelToBobbin: Q; wheelToWhorl: Q };
  adjustment: { tensionPerScrewTurn: Q; tensionPerTravel?: Q; screwTravel?: Q; screwTurns?: R; stretchTravel?: Q; stretchScrewTurns?: R; travelFromFirst?: Q };
}
export interface DriveBandResult { kind: 'open' | 'crossed' | 'doubled'; bands: BandAnswer[]; range?: { shortest: Q; longest: Q }; cord?: { greatestTension: Q; smallestPulley: Q }; crossing?: { run: f.Run; direction: 'S' | 'Z'; wheelIs: words.WheelIs }[] }
export const model = { id: 'drive-band', version: '1.0.0' } as const;
const names = ['wheel', 'wheelId', 'drive', 'axleDistance', 'bandLength', 'measuredInside', 'crossed', 'direction', 'wheelIs', 'offsets', 'stretch', 'screwPitch', 'cordStiffness', 'tightenBy'] as const;

/** Every pair is solved for by itself; more would hold up everybody else. */
const mostLoops = 96;

/** A loop of this wheel: its parts, its length and slope as functions of the distance. */
export interface Loop { readonly whorl?: string; readonly bobbin?: string; readonly groove?: string; readonly dw?: Expr; readonly db?: Expr; readonly whorlAboveRim?: Expr; readonly bobbinAboveRim?: Expr; readonly length: (c: Expr) => Expr; readonly slope: (c: Expr) => Expr; readonly least: Expr; readonly at: (length: Expr, stretch?: Expr) => Expr }
export interface Solved {
  readonly train: Train; readonly kind: DriveBandResult['kind']; readonly loops: readonly Loop[]; readonly distance?: Expr; readonly bandLength?: Expr; readonly range?: { readonly nearest: Expr; readonly farthest: Expr };
  readonly aside: { readonly whorl: Expr; readonly bobbin: Expr; readonly between: Expr; readonly given: boolean }; readonly wheelIs?: words.WheelIs; readonly direction?: 'S' | 'Z'; readonly stretch?: Expr; readonly screw: Expr; readonly stiffness: Expr; readonly tightenBy?: Expr; readonly out: Notes; readonly guessed: boolean;
}

export function solve(question: unknown): Solved {
  const out = new Notes();
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const flag = (key: string): boolean => (q[key] === undefined ? false : q[key] === 'true' ? true : q[key] === 'false' ? false : typeof q[key] === 'boolean' ? (q[key] as boolean) : (r.wrongType(`/${key}`, q[key], 'true or false'), false));
  const [crossed, inside] = [flag('crossed'), flag('measuredInside')];
  const { wheel, chosen } = neededWheel(q, r);
  const train = buildTrain(wheel, chosen, r, out);
  const k = train.knowns;
  const quantity = (o: Record<string, unknown>, key: string, at: string, kind: Parameters<Reader['quantity']>[2], limits = {}): Expr | undefined => {
    const v = o[key] === undefined ? undefined : r.quantity(o[key], `${at}/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const far = { moreThan: 1e-3, atMost: 20, says: 'from 1 mm to 20 m' };
  const distance = quantity(q, 'axleDistance', '', 'part', far);
  const typed = quantity(q, 'bandLength', '', 'length', { moreThan: 1e-2, atMost: 100, says: 'from 10 mm to 100 m' });
  if (distance !== undefined && typed !== undefined) r.fail('/bandLength', { code: 'one-of', detail: 'Give the distance from axle to flyer, or the band’s length: each follows from the other.', received: 'axleDistance and bandLength', expected: 'one of them' });
  const o = q['offsets'] === undefined ? {} : (r.object(q['offsets'], '/offsets', ['wheelToWhorl', 'wheelToBobbin', 'betweenWheelGrooves']) ?? {});
  const side = { atLeast: 0, atMost: 1, says: 'from 0 to 1 m' };
  const [toWhorl, toBobbin, between] = [quantity(o, 'wheelToWhorl', '/offsets', 'part', side), quantity(o, 'wheelToBobbin', '/offsets', 'part', side), quantity(o, 'betweenWheelGrooves', '/offsets', 'part', side)];
  const given = toWhorl !== undefined || toBobbin !== undefined || between !== undefined;
  const zero = k.assumed({ value: 0 });
  const aside = { whorl: toWhorl ?? zero, bobbin: toBobbin ?? zero, between: between ?? zero, given };
  const direction = q['direction'] === undefined ? undefined : r.choice(q['direction'], '/direction', ['S', 'Z'] as const, { s: 'S', z: 'Z', clockwise: 'Z', anticlockwise: 'S', 'counter-clockwise': 'S' });
  const wheelIs = q['wheelIs'] === undefined ? wheel.wheelIs : r.choice(q['wheelIs'], '/wheelIs', words.wheelPlaces);
  const stretch = quantity(q, 'stretch', '', 'share', { atLeast: 0, atMost: 0.5, says: 'from 0 to 50 %' });
  let screw = quantity(q, 'screwPitch', '', 'part', { moreThan: 1e-4, atMost: 0.1, says: 'from 0.1 to 100 mm' });
  if (screw === undefined) { out.assume(notes.screwTaken); screw = k.assumed({ low: 0.004, high: 0.009 }); }
  let stiffness = quantity(q, 'cordStiffness', '', 'cord-stiffness', { moreThan: 0.1, atMost: 1e6 });
  if (stiffness === undefined) { out.assume(notes.stiffnessTaken); stiffness = k.assumed(stiffnessOf(chosen.mode?.band?.material)); }
  const tightenBy = quantity(q, 'tightenBy', '', 'pull', { moreThan: 0, atMost: 1000 });
  const kind = chosen.drive === 'double-drive' ? 'doubled' as const : crossed ? 'crossed' as const : 'open' as const;
  const loops = r.issues.length > 0 ? [] : loopsOf(train, kind, aside, r);
  if (crossed && kind === 'crossed') out.warn(notes.singleCrossed);
  if (loops.length > mostLoops) r.fail('/wheel/bobbins', { code: 'too-many', detail: `${loops.length} pairs are more than one question takes.`, received: `${loops.length} pairs`, expected: `at most ${mostLoops}: fewer whorls or bobbins` });
  const axle = wheel.axleToFlyer;
  const range = axle?.nearest !== undefined && axle.farthest !== undefined ? { nearest: k.input(axle.nearest), farthest: k.input(axle.farthest) } : undefined;
  let where = distance ?? (typed === undefined && range !== undefined ? expr((a, b) => (a + b) / 2, range.nearest, range.farthest) : undefined);
  const guessed = where === undefined && typed === undefined;
  if (guessed && train.wheelPitch !== undefined) {
    out.assume(notes.distanceTaken);
    where = expr((D, more) => D / 2 + more, train.wheelPitch, k.assumed({ low: 0.14, high: 0.3 }));
  }
  if (r.issues.length === 0) fits(loops, where, distance !== undefined ? '/axleDistance' : '/wheel/axleToFlyer', k, r);
  const bandLength = typed === undefined ? undefined : inside ? expr((l, t) => l + (kind === 'doubled' ? 2 : 1) * Math.PI * t, typed, train.band) : typed;
  if (r.issues.length === 0 && bandLength !== undefined) bandFits(loops, bandLength, k, r);
  r.done();
  const more = { range, wheelIs, direction, stretch, tightenBy, bandLength, distance: where };
  return { train, kind, loops, aside, screw, stiffness, out, guessed, ...(Object.fromEntries(Object.entries(more).filter(([, v]) => v !== undefined)) as Partial<Solved>) };
}

const stiffnessOf = (material: words.Material | undefined): Reading => (material === 'urethane' ? { low: 20, high: 100 } : material === 'linen' || material === 'hemp' ? { low: 150, high: 1000 } : material === 'cotton' ? { low: 50, high: 500 } : { low: 20, high: 1000 });

function loopsOf(train: Train, kind: Solved['kind'], aside: Solved['aside'], r: Reader): Loop[] {
  const D = train.wheelPitch;
  const wheelPulleys = train.stages.length > 0 ? [{ name: 'head', pitch: train.stages[0]!.driven, rims: {} }] : undefined;
  if (train.drive === 'electric') { r.fail('/drive', { code: 'not-known-part', detail: 'An electric spinner’s own belt is the maker’s affair: it is not worked out here.', received: 'electric', expected: 'a wheel with a drive band' }); return []; }
  if (D === undefined) { r.missing('/wheel/driveWheel', 'The drive wheel', 'its diameter where the band sits, such as 560 mm'); return []; }
  if (kind === 'doubled') {
    if (train.pairs.length === 0 || train.pairs.some((p) => p.whorl.pitch === undefined || p.bobbin.pitch === undefined)) {
      r.missing(train.bobbins.length === 0 ? '/wheel/bobbins/0/grooves/0/grooveDiameter' : '/wheel/whorls/0/grooveDiameter', 'A doubled band needs both grooves measured: whorl and bobbin', 'grooveDiameter, grooveCircumference or bandTurn');
      return [];
    }
    return train.pairs.map((p) => {
      const [dw, db] = [p.whorl.pitch!, p.bobbin.pitch!];
      const shape = (v: readonly number[]): f.Doubled => ({ wheel: v[0]!, whorl: v[1]!, bobbin: v[2]!, whorlAside: [v[3]!, Math.abs(v[5]! - v[3]!)], bobbinAside: [v[4]!, Math.abs(v[4]! - v[5]!)], distance: v[6]! });
      const parts = [D, dw, db, aside.whorl, aside.bobbin, aside.between] as const;
      return {
        whorl: p.whorl.name, bobbin: p.bobbin.name, groove: p.bobbin.groove, dw, db, ...aboveRim(p.whorl, p.bobbin), least: expr((a, b, c) => (a + Math.max(b, c)) / 2, D, dw, db),
        length: (c) => expr((...v) => f.doubledLength(shape(v)), ...parts, c), slope: (c) => expr((...v) => f.doubledSlope(shape(v)), ...parts, c),
        at: (length, s) => expr((...v) => {
          const [base, L] = [v.slice(0, 6), v[6]! * (1 + (v[7] ?? 0))];
          return f.distanceFor(L, (v[0]! + Math.max(v[1]!, v[2]!)) / 2, (c) => f.doubledLength(shape([...base, c])), (c) => f.doubledSlope(shape([...base, c]))) ?? Number.NaN;
        }, ...parts, length, ...(s === undefined ? [] : [s])),
      };
    });
  }
  const [lengthOf, slopeOf] = kind === 'crossed' ? [f.crossedLength, f.crossedSlope] : [f.openLength, f.openSlope];
  const driven = wheelPulleys ?? (train.drive === 'bobbin-lead' ? train.bobbins.map((b) => ({ name: b.name, groove: b.groove, pitch: b.pitch, rims: aboveRim(undefined, b) })) : train.whorls.map((w) => ({ name: w.name, pitch: w.pitch, rims: aboveRim(w, undefined) })));
  const list = driven.filter((d) => d.pitch !== undefined);
  if (list.length === 0) { r.missing(train.drive === 'bobbin-lead' ? '/wheel/bobbins/0/grooves/0/grooveDiameter' : '/wheel/whorls/0/grooveDiameter', 'The groove that the band drives', 'its diameter where the band sits, such as 60 mm'); return []; }
  return list.map((d) => {
    const pulley = d.pitch!;
    return {
      ...(train.drive === 'bobbin-lead' ? { bobbin: d.name, groove: (d as { groove?: string }).groove ?? '', db: pulley } : { whorl: d.name, dw: pulley }), ...d.rims, least: expr((a, b) => (a + b) / 2, D, pulley),
      length: (c: Expr) => expr((wheel, p, distance) => lengthOf({ wheel, pulley: p, distance }), D, pulley, c), slope: (c: Expr) => expr((wheel, p, distance) => slopeOf({ wheel, pulley: p, distance }), D, pulley, c),
      at: (length: Expr, s?: Expr) => expr((wheel, p, L, more = 0) => f.distanceFor(L * (1 + more), (wheel + p) / 2, (distance) => lengthOf({ wheel, pulley: p, distance }), (distance) => slopeOf({ wheel, pulley: p, distance })) ?? Number.NaN, D, pulley, length, ...(s === undefined ? [] : [s])),
    };
  });
}

const aboveRim = (whorl: Pulley | undefined, bobbin: Pulley | undefined): Pick<Loop, 'whorlAboveRim' | 'bobbinAboveRim'> => ({
  ...(whorl?.aboveRim === undefined ? {} : { whorlAboveRim: whorl.aboveRim }), ...(bobbin?.aboveRim === undefined ? {} : { bobbinAboveRim: bobbin.aboveRim }),
});

/** Shafts must be so far apart that the pulleys do not touch. */
function fits(loops: readonly Loop[], where: Expr | undefined, at: string, k: Train['knowns'], r: Reader): void {
  if (where === undefined) return;
  for (const loop of loops) {
    const least = k.reading(loop.least);
    if (extent(k.reading(where)).low > extent(least).high) continue;
    r.fail(at, { code: 'impossible-geometry', detail: `Wheel and ${loop.whorl ?? loop.bobbin ?? 'pulley'} would touch: the axle must be more than ${wire('part', least).text} from the flyer.`, received: wire('part', k.reading(where)).text, expected: `more than ${wire('part', least).text}` });
    return;
  }
}
function bandFits(loops: readonly Loop[], length: Expr, k: Train['knowns'], r: Reader): void {
  for (const loop of loops) {
    const shortest = k.reading(loop.length(expr((c) => c * (1 + 1e-9), loop.least)));
    if (extent(k.reading(length)).low > extent(shortest).high) continue;
    r.fail('/bandLength', { code: 'impossible-geometry', detail: `No band so short fits: with wheel and pulley all but touching it would be ${wire('length', shortest).text}.`, received: wire('length', k.reading(length)).text, expected: `more than ${wire('length', shortest).text}` });
    return;
  }
}

export function answer(question: unknown, options: AnswerOptions = {}): Reply<DriveBandResult> {
  const s = solve(question);
  const { train, out } = s;
  const units = options.units ?? metric;
  const k = train.knowns;
  const q = (kind: Parameters<typeof wire>[0], e: Expr): Q => wire(kind, k.reading(e), units) as Q;
  const n = (e: Expr): R => wire('number', k.reading(e));
  if (train.wheel.condition === 'do-not-run') out.caution(ratioNotes.doNotRun);
  out.caution(notes.fitting);
  const material = train.mode?.band?.material;
  if (material === 'urethane') out.caution(notes.welding);
  out.caution(notes.slackenAfter);
  if (!s.aside.given && s.kind === 'doubled') out.assume(notes.evenGrooves);
  if (s.guessed) out.warn(notes.measureFirst);
  const D = train.wheelPitch!;
  const loopsIn = s.kind === 'doubled' ? 2 : 1;
  const first = s.loops[0]!;
  const firstDistance = s.distance ?? first.at(s.bandLength!);
  const firstLength = s.bandLength ?? first.length(firstDistance);
  const bands = s.loops.map((loop, i): BandAnswer => {
    const c = s.bandLength === undefined ? firstDistance : loop.at(s.bandLength);
    const length = s.bandLength ?? loop.length(c);
    const slope = loop.slope(c);
    const per = expr((stiffness, sl, l) => f.tensionPerTravel({ stiffness, slope: sl, length: l }), s.stiffness, slope, length);
    const wraps = (d: Expr, of: (t: f.Two) => number): Q => q('angle', expr((wheel, pulley, distance) => of({ wheel, pulley, distance }), D, d, c));
    const crossed = s.kind === 'crossed';
    const span = (d: Expr): Expr => expr((wheel, pulley, distance) => (crossed ? f.crossedSpan : f.openSpan)({ wheel, pulley, distance }), D, d, c);
    const adjustment: BandAnswer['adjustment'] = { tensionPerScrewTurn: q('pull', expr((x, t) => x * t, per, s.screw)) };
    if (s.stretch !== undefined) {
      const travel = expr((b, a) => b - a, loop.at(length, s.stretch), c);
      adjustment.stretchTravel = q('part', travel);
      adjustment.stretchScrewTurns = n(expr((x, t) => x / t, travel, s.screw));
    }
    if (s.tightenBy !== undefined) {
      const travel = expr((t, x) => t / x, s.tightenBy, per);
      adjustment.screwTravel = q('part', travel);
      adjustment.screwTurns = n(expr((x, t) => x / t, travel, s.screw));
    }
    // The band that fits the first whorl, moved to this one.
    if (i > 0 && s.bandLength === undefined) { const moved = loop.at(firstLength); if (Number.isFinite(middle(k.reading(moved)))) adjustment.travelFromFirst = q('part', expr((b, a) => b - a, moved, firstDistance)); }
    const above = (e: Expr): Q => {
      const known = k.reading(e);
      if (extent(known).low > 0) out.warn(notes.standsOut);
      return wire('part', known, units);
    };
    return {
      ...(loop.whorl === undefined ? {} : { whorl: loop.whorl }), ...(loop.bobbin === undefined ? {} : { bobbin: loop.bobbin }), ...(loop.groove === undefined ? {} : { groove: loop.groove }),
      axleDistance: q('part', c), length: q('length', length), ...(train.wheel.driveWheel?.measure === 'band-turn' ? {} : { insideLength: q('length', expr((pitch, band) => f.insideOfPitch({ pitch, band, loops: loopsIn }), length, train.band)) }),
      cuttingLength: cutting(s, length, q), lengthPerTravel: n(slope),
      wheelWrap: wraps(loop.dw ?? loop.db!, crossed ? f.crossedWrap : f.wrapOnWheel),
      ...(loop.dw === undefined ? {} : { whorlWrap: wraps(loop.dw, crossed ? f.crossedWrap : f.wrapOnPulley), whorlRun: q('part', span(loop.dw)) }), ...(loop.db === undefined ? {} : { bobbinWrap: wraps(loop.db, crossed ? f.crossedWrap : f.wrapOnPulley), bobbinRun: q('part', span(loop.db)) }),
      ...(loop.whorlAboveRim === undefined ? {} : { whorlBandAboveRim: above(loop.whorlAboveRim) }), ...(loop.bobbinAboveRim === undefined ? {} : { bobbinBandAboveRim: above(loop.bobbinAboveRim) }),
      ...(s.aside.given && s.kind === 'doubled' ? { fleetAngles: {
        wheelToBobbin: q('angle', expr((aside, x) => f.fleetAngle({ aside, span: x }), s.aside.bobbin, span(loop.db!))), wheelToWhorl: q('angle', expr((w, b, x) => f.fleetAngle({ aside: Math.abs(b - w), span: x }), s.aside.whorl, s.aside.between, span(loop.dw!))),
      } } : {}),
      adjustment,
    };
  });
  const result: DriveBandResult = { kind: s.kind, bands };
  if (s.range !== undefined) result.range = { shortest: q('length', first.length(s.range.nearest)), longest: q('length', first.length(s.range.farthest)) };
  const cord = cordOf(train);
  if (cord !== undefined) {
    result.cord = { greatestTension: wire('band-tension', cord.greatestTension, units), smallestPulley: wire('part', cord.smallestPulley, units) };
    const tooSmall = (e: Expr): boolean => extent(k.reading(e)).high < extent(cord.smallestPulley).low;
    if (s.loops.some((loop) => [loop.dw, loop.db].some((e) => e !== undefined && tooSmall(e)))) out.warn(notes.pulleyTooSmall);
    if (s.tightenBy !== undefined && extent(k.reading(s.tightenBy)).low > extent(cord.greatestTension).high) out.warn(notes.cordTooTight);
  }
  if (s.kind === 'doubled' && s.wheelIs !== undefined) result.crossing = (s.direction === undefined ? ['Z', 'S'] as const : [s.direction]).map((direction) => ({ run: f.crossingRun({ wheelIs: s.wheelIs!, direction }), direction, wheelIs: s.wheelIs! }));
  if (!k.hasUncertainty) out.warn(noUncertainty);
  return reply(result, out, cord === undefined ? [shigley, gum] : [shigley, urethane, gum], model, options);
}

/** What the cord bears, where its stuff and its thickness are known. */
export function cordOf(train: Train): ReturnType<typeof urethaneCord> {
  const band = train.mode?.band;
  return band?.material === 'urethane' && band.thickness !== undefined ? urethaneCord(extent(band.thickness)) : undefined;
}

/** What to cut: elastic bands shorter than their path, cord longer by its knot. Common practice. */
function cutting(s: Solved, length: Expr, q: (kind: Parameters<typeof wire>[0], e: Expr) => Q): Q {
  const k = s.train.knowns;
  const material = s.train.mode?.band?.material;
  if (material === 'urethane' || material === 'leather') {
    s.out.assume(notes.preStretch);
    return q('length', expr((l, p) => l * (1 - p), length, k.assumed(material === 'leather' ? { value: 1 / 96 } : { low: 0.01, high: 0.02 })));
  }
  s.out.assume(notes.knot);
  return q('length', expr((l, more) => l + more, length, k.assumed({ low: 0.1, high: 0.2 })));
}
