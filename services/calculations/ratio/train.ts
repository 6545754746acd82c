/**
 * From a wheel as read to its pulleys: the pitch of every groove, the ratio of every whorl and bobbin, and the pairs of a
 * double drive, as expressions over the same inputs, so that a band thickness that two grooves share is one unknown.
 */
import type { Notes } from '../../foundation/notes.js';
import type { Reader } from '../../foundation/read.js';
import type { Reading } from '../../foundation/reading.js';
import { expr, Knowns, type Expr } from '../../foundation/uncertainty.js';
import { readWheel, type BandRead, type BobbinRead, type GrooveRead, type ModeRead, type WheelRead } from '../../wheels/profile.js';
import { driveAliases, driveNames, drives, type Drive } from '../../wheels/words.js';
import * as f from './formula.js';
import * as notes from './notes.js';

export interface Pulley {
  readonly name: string;
  readonly at: string;
  readonly flyer: string | undefined;
  /** Pitch diameter, m; undefined when only the ratio is known. */
  readonly pitch: Expr | undefined;
  readonly ratio: Expr | undefined;
  /** The ratio with a band of no thickness; undefined when it was measured with the band itself. */
  readonly bare: Expr | undefined;
  /** How far the band stands above the groove's rim, m; known where the groove's opening is. */
  readonly aboveRim: Expr | undefined;
}
export interface BobbinPulley extends Pulley { readonly groove: string; readonly bobbin: BobbinRead }
export interface Pair { readonly whorl: Pulley; readonly bobbin: BobbinPulley; readonly rho: Expr }
export interface Train {
  readonly drive: Drive;
  readonly mode: ModeRead | undefined;
  readonly knowns: Knowns;
  readonly wheel: WheelRead;
  readonly wheelPitch: Expr | undefined;
  readonly stages: readonly { driven: Expr; driving: Expr }[];
  /** The band that lies in the whorls. */
  readonly band: Expr;
  /** Pitch diameter of whatever drives the whorls, times the ratio before it. */
  readonly drivingPitch: Expr | undefined;
  readonly whorls: readonly Pulley[];
  readonly bobbins: readonly BobbinPulley[];
  readonly pairs: readonly Pair[];
}

/** Thickness taken when nothing is known of a band: from none at all to a thick cord. m. */
export const bandUnknown: Reading = { low: 0, high: 0.003 };
const vAngle = { v: Math.PI / 3, 'narrow-v': (Math.PI * 2) / 9, 'wide-v': Math.PI / 2 } as const;

export interface Asked { readonly drive?: Drive; readonly wheel?: WheelRead; readonly chosen?: { readonly drive: Drive; readonly mode: ModeRead | undefined } }
/** The wheel that a question holds, and the way it runs. Only where the library can be asked may it be named by its id. */
export function askedWheel(q: Readonly<Record<string, unknown>>, r: Reader): Asked {
  const drive = q['drive'] === undefined ? undefined : r.choice(q['drive'], '/drive', drives, driveAliases);
  if (q['wheelId'] !== undefined) r.fail('/wheelId', { code: 'wheel-not-found', detail: 'A wheel is named by its id only where the library can be asked.', received: typeof q['wheelId'] === 'string' ? q['wheelId'].slice(0, 80) : 'no text', expected: 'the wheel itself, as wheel' });
  const wheel = q['wheel'] === undefined ? undefined : readWheel(r, q['wheel'], '/wheel');
  const chosen = wheel === undefined ? undefined : chooseMode(wheel, drive, r);
  return { ...(drive === undefined ? {} : { drive }), ...(wheel === undefined ? {} : { wheel }), ...(chosen === undefined ? {} : { chosen }) };
}
export const missingWheel = (r: Reader): undefined => r.missing('/wheel', 'The wheel', '{"driveWheel": {"grooveDiameter": "560 mm"}, "whorls": [{"grooveDiameter": "60 mm"}]}');
/** The same, of a question that is nothing without a wheel: refused without one. */
export function neededWheel(q: Readonly<Record<string, unknown>>, r: Reader): Required<Pick<Asked, 'wheel' | 'chosen'>> {
  const { wheel, chosen } = askedWheel(q, r);
  if (q['wheel'] === undefined && q['wheelId'] === undefined) missingWheel(r);
  if (wheel !== undefined && chosen !== undefined) return { wheel, chosen };
  r.done();
  throw new Error('unreachable: a question without a wheel is refused');
}

/** The way of running that the question names, or the wheel's first, or what its parts say. */
export function chooseMode(wheel: WheelRead, asked: Drive | undefined, r: Reader): { drive: Drive; mode: ModeRead | undefined } | undefined {
  if (asked !== undefined) {
    const mode = wheel.modes.find((m) => m.drive === asked);
    if (mode === undefined && wheel.modes.length > 0) {
      return r.fail('/drive', { code: 'not-known-part', detail: `This wheel is not kept as ${driveNames[asked]}.`, received: asked, expected: wheel.modes.map((m) => m.drive).join(' or '), try: wheel.modes[0]!.drive });
    }
    return { drive: asked, mode };
  }
  if (wheel.modes.length > 0) return { drive: wheel.modes[0]!.drive, mode: wheel.modes[0] };
  if (wheel.flyerSpeed !== undefined && wheel.whorls.length === 0) return { drive: 'electric', mode: undefined };
  return { drive: wheel.bobbins.some((b) => b.grooves.length > 0) ? 'double-drive' : 'flyer-lead', mode: undefined };
}

export function buildTrain(wheel: WheelRead, chosen: { drive: Drive; mode: ModeRead | undefined }, r: Reader, out: Notes, knowns: Knowns = new Knowns()): Train {
  const wheelBand = new BandThickness(chosen.mode?.band, knowns, out);
  const pitches = (g: GrooveRead, band: BandThickness): Pitch => pitchOf(g, band, knowns, r, out);
  const wheelGroove = wheel.driveWheel === undefined ? undefined : pitches(wheel.driveWheel, wheelBand);

  // Each stage multiplies; the last band is the one that lies in the whorls.
  let [before, bareBefore]: [Expr | undefined, Expr | undefined] = [wheelGroove?.pitch, wheelGroove?.bare];
  let lastBand = wheelBand;
  const stages: { driven: Expr; driving: Expr }[] = [];
  for (const s of wheel.stages) {
    if (s.driven === undefined || s.driving === undefined) continue;
    const driven = pitches(s.driven, lastBand);
    lastBand = new BandThickness(s.band, knowns, out);
    const driving = pitches(s.driving, lastBand);
    stages.push({ driven: driven.pitch, driving: driving.pitch });
    const carry = (b: Expr | undefined, dn: Expr | undefined, dg: Expr | undefined): Expr | undefined =>
      b === undefined || dn === undefined || dg === undefined ? undefined : expr(ratioTimes, b, dn, dg);
    [before, bareBefore] = [carry(before, driven.pitch, driving.pitch), carry(bareBefore, driven.bare, driving.bare)];
  }
  const by = (D: Expr | undefined, d: Expr | undefined): Expr | undefined => (D === undefined || d === undefined ? undefined : expr(ratioOfPitches, D, d));
  const pulley = (name: string, at: string, flyer: string | undefined, g: GrooveRead): Pulley => {
    if (g.measure === 'stated') return { name, at, flyer, pitch: undefined, ratio: knowns.input(g.size), bare: undefined, aboveRim: undefined };
    const { pitch, bare, aboveRim } = pitches(g, lastBand);
    return { name, at, flyer, pitch, ratio: by(before, pitch), bare: by(bareBefore, bare), aboveRim };
  };
  const drivesWhorl = chosen.drive !== 'bobbin-lead' && chosen.drive !== 'electric';
  const drivesBobbin = chosen.drive === 'double-drive' || chosen.drive === 'bobbin-lead';
  const whorls: Pulley[] = [];
  if (drivesWhorl) for (const w of wheel.whorls) if (w.groove !== undefined) whorls.push(pulley(w.name, w.at, w.flyer, w.groove));
  const bobbins: BobbinPulley[] = [];
  if (drivesBobbin) {
    for (const b of wheel.bobbins) {
      for (let i = 0; i < b.grooves.length; i++) {
        const g = b.grooves[i]!;
        const { name, at, flyer, pitch, ratio, bare, aboveRim } = pulley(b.name, b.at, b.flyer, g.groove);
        bobbins.push({ name, at, groove: g.name ?? `groove ${i + 1}`, bobbin: b, flyer, pitch, ratio, bare, aboveRim });
      }
    }
  }
  const pairs: Pair[] = [];
  if (chosen.drive === 'double-drive') {
    for (const w of whorls) {
      for (const b of bobbins) {
        if (w.flyer !== undefined && b.flyer !== undefined && w.flyer !== b.flyer) continue;
        // Both grooves on the same band and wheel: the wheel drops out, ρ = d_w/d_b.
        const rho = w.pitch !== undefined && b.pitch !== undefined ? expr(quotient, w.pitch, b.pitch)
          : w.ratio !== undefined && b.ratio !== undefined ? expr(bobbinPerFlyer, w.ratio, b.ratio) : undefined;
        if (rho !== undefined) pairs.push({ whorl: w, bobbin: b, rho });
      }
    }
  }
  return { drive: chosen.drive, mode: chosen.mode, knowns, wheel, stages, whorls, bobbins, pairs, band: lastBand, wheelPitch: wheelGroove?.pitch, drivingPitch: before };
}

// One function for every question: what is made for each costs more than what it computes.
const quotient = (a: number, b: number): number => a / b;
const half = (a: number): number => a / 2;
const ratioOfPitches = (driving: number, driven: number): number => f.driveRatio({ driving, driven });
const ratioTimes = (driving: number, driven: number, next: number): number => f.driveRatio({ driving, driven }) * next;
const bobbinPerFlyer = (flyer: number, bobbin: number): number => f.bobbinPerFlyerTurn({ flyer, bobbin });
const pitchFromTurn = (turn: number): number => f.pitchFromTurn({ turn });
const seatFromCircumference = (circumference: number, tape: number): number => f.seatFromCircumference({ circumference, tape });
const pitchOnSeat = (seat: number, band: number): number => f.pitchOnSeat({ seat, band });
const pitchOnFlat = (bottom: number, flat: number, band: number, halfAngle: number): number => f.pitchOnFlat({ bottom, flat, band, halfAngle });
const apexFromRim = (rim: number, opening: number, halfAngle: number): number => f.apexFromRim({ rim, opening, halfAngle });
const rimFromApex = (apex: number, opening: number, halfAngle: number): number => f.rimFromApex({ apex, opening, halfAngle });
const apexOfPitch = (pitch: number, band: number, halfAngle: number): number => pitch - band / Math.sin(halfAngle);
const bandAboveRim = (pitch: number, band: number, rim: number): number => f.bandAboveRim({ pitch, band, rim });
const pitchFromApex = (apex: number, band: number, halfAngle: number): number => f.pitchFromApex({ apex, band, halfAngle });

/** The thickness of one band. Only a groove that needs it makes it an unknown of the question. */
class BandThickness implements Expr {
  private found: Expr | undefined;
  constructor(private readonly band: BandRead | undefined, private readonly knowns: Knowns, private readonly out: Notes) {}
  get needed(): Expr {
    if (this.found === undefined) {
      const thickness = this.band?.thickness;
      if (thickness === undefined) this.out.assume(notes.bandThicknessUnknown);
      this.found = thickness === undefined ? this.knowns.assumed(bandUnknown) : this.knowns.input(thickness);
    }
    return this.found;
  }
  get uses(): readonly number[] { return this.needed.uses; }
  at(x: readonly number[]): number { return this.needed.at(x); }
}

interface Pitch { readonly pitch: Expr; readonly bare?: Expr; readonly aboveRim?: Expr }
/** Pitch of one groove, and with a band of no thickness where that means anything. */
export function pitchOf(g: GrooveRead, band: { readonly needed: Expr }, knowns: Knowns, r: Reader, out: Notes): Pitch {
  const size = knowns.input(g.size);
  if (g.measure === 'band-turn') return { pitch: expr(pitchFromTurn, size) };
  const tape = g.measure === 'circumference' ? (g.tapeThickness === undefined ? none : knowns.input(g.tapeThickness)) : none;
  if (g.measure === 'circumference' && g.tapeThickness === undefined) out.assume(notes.thinTape);
  const across = g.measure === 'circumference' ? expr(seatFromCircumference, size, tape) : size;
  const seat = g.measuredAt ?? 'seat';
  if (g.measuredAt === undefined) out.assume(notes.measuredAtSeat);
  const shape = g.shape ?? 'v';
  if (seat === 'seat' || (seat === 'flat' && shape === 'flat')) {
    const pitch = expr(pitchOnSeat, across, band.needed);
    if (g.openingWidth === undefined || g.shape === undefined || shape === 'round' || shape === 'flat') return { pitch, bare: across };
    const flank = halfAngleOf(g, shape, knowns, out);
    return { pitch, bare: across, aboveRim: expr(bandAboveRim, pitch, band.needed, expr(rimFromApex, expr(apexOfPitch, pitch, band.needed, flank), knowns.input(g.openingWidth), flank)) };
  }
  if (shape === 'round' || shape === 'flat') {
    r.fail(`${parent(g.at)}/measuredAt`, { code: 'impossible-geometry', detail: `A ${shape} groove cannot be worked out from its ${seat}. Measure where the band sits, or one turn of the band itself.`, received: `${shape}, ${seat}`, expected: 'measuredAt seat, or bandTurn' });
    return { pitch: across };
  }
  const halfAngle = halfAngleOf(g, shape, knowns, out);
  if (seat === 'flat') {
    const flat = g.flatWidth === undefined ? none : knowns.input(g.flatWidth);
    return { pitch: expr(pitchOnFlat, across, flat, band.needed, halfAngle), bare: across };
  }
  let apex = across;
  if (seat === 'rim') {
    if (g.openingWidth === undefined) { r.missing(`${parent(g.at)}/openingWidth`, 'The width of the groove at the rim', 'openingWidth, such as 6 mm'); return { pitch: across }; }
    apex = expr(apexFromRim, across, knowns.input(g.openingWidth), halfAngle);
    const depth = knowns.reading(apex);
    if (('value' in depth ? depth.value : (depth.low ?? -1)) <= 0) {
      r.fail(`${parent(g.at)}/openingWidth`, { code: 'impossible-geometry', detail: 'So wide an opening at this angle would reach through the middle of the pulley.', received: 'the opening, the angle and the rim', expected: 'a groove that is shallower than the pulley' });
    }
  }
  const pitch = expr(pitchFromApex, apex, band.needed, halfAngle);
  if (g.openingWidth === undefined) return { pitch, bare: apex };
  const rim = seat === 'rim' ? across : expr(rimFromApex, apex, knowns.input(g.openingWidth), halfAngle);
  return { pitch, bare: apex, aboveRim: expr(bandAboveRim, pitch, band.needed, rim) };
}
function halfAngleOf(g: GrooveRead, shape: keyof typeof vAngle, knowns: Knowns, out: Notes): Expr {
  if (g.angle === undefined) out.assume(notes.grooveAngle[shape]);
  return expr(half, g.angle === undefined ? knowns.assumed({ value: vAngle[shape] }) : knowns.input(g.angle));
}
const none: Expr = { uses: [], at: () => 0 };
const parent = (at: string): string => at.slice(0, at.lastIndexOf('/'));
