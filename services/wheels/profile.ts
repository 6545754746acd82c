/**
 * The Wheel: what is kept of it (`Wheel`, as posted) and what is read from it (`WheelRead`, SI, every measure a Reading).
 * Reading gathers issues; it computes nothing.
 */
import type { Issue } from '../foundation/problems.js';
import type { Kind } from '../foundation/quantity.js';
import { Reader, type Limits } from '../foundation/read.js';
import type { Reading } from '../foundation/reading.js';
import * as words from './words.js';

/** A quantity as sent: text (`560 mm`), or a number with its unit. */
export type QIn = string | { value: number; unit: string; plusMinus?: number; limits?: number; text?: string } | { low?: number; high?: number; unit: string; text?: string };
/** A ratio or a plain number as sent. */
export type RIn = number | string | { value: number; plusMinus?: number; limits?: number; text?: string } | { low?: number; high?: number; text?: string };

export interface Groove {
  grooveDiameter?: QIn; grooveCircumference?: QIn; bandTurn?: QIn; statedRatio?: RIn;
  shape?: words.Shape; angle?: QIn; openingWidth?: QIn; flatWidth?: QIn; measuredAt?: words.MeasuredAt;
  /** Thickness of the tape that took the circumference; half of it lies outside the seat. */
  tapeThickness?: QIn;
}
export interface Band { thickness?: QIn; material?: words.Material }
export interface Brake extends Groove { on: 'bobbin' | 'flyer'; springs?: 'none' | 'one-end' | 'both-ends'; springSide?: 'tight' | 'slack' }
export interface Whorl extends Groove { name?: string; flyer?: string; thread?: 'left-hand' | 'right-hand' | 'none' }
export interface Bobbin {
  name?: string; flyer?: string; grooves?: (Groove & { name?: string })[];
  coreDiameter?: QIn; endDiameter?: QIn; fullDiameter?: QIn; lengthBetweenEnds?: QIn; mass?: QIn;
}
export interface Stage { driven: Groove; driving: Groove; band?: Band }
export interface Mode { drive: words.Drive; band?: Band; brake?: Brake }
export interface Flyer { name: string; orificeDiameter?: QIn; mass?: QIn; inertia?: QIn }
export interface Wheel {
  name?: string; style?: words.Style; driveWheel?: Groove; stages?: Stage[]; modes?: Mode[]; whorls?: Whorl[]; bobbins?: Bobbin[];
  flyers?: Flyer[]; axleToFlyer?: { nearest?: QIn; farthest?: QIn }; wheelIs?: words.WheelIs; turnedBy?: words.TurnedBy;
  flyerSpeed?: { slowest?: QIn; fastest?: QIn }; condition?: words.Condition;
}

export type Measure = 'diameter' | 'circumference' | 'band-turn' | 'stated';
export interface GrooveRead {
  readonly at: string; readonly measure: Measure; readonly size: Reading;
  readonly shape?: words.Shape; readonly angle?: Reading; readonly openingWidth?: Reading; readonly flatWidth?: Reading;
  readonly measuredAt?: words.MeasuredAt; readonly tapeThickness?: Reading;
}
export interface BandRead { readonly thickness?: Reading; readonly material?: words.Material }
export interface WhorlRead { readonly name: string; readonly flyer?: string; readonly thread?: 'left-hand' | 'right-hand' | 'none'; readonly groove?: GrooveRead; readonly at: string }
export interface BobbinRead {
  readonly name: string; readonly flyer?: string; readonly at: string;
  readonly grooves: readonly { readonly name?: string; readonly groove: GrooveRead }[];
  readonly core?: Reading; readonly end?: Reading; readonly full?: Reading; readonly lengthBetweenEnds?: Reading; readonly mass?: Reading;
}
export interface StageRead { readonly driven?: GrooveRead; readonly driving?: GrooveRead; readonly band?: BandRead }
export interface BrakeRead { readonly on: 'bobbin' | 'flyer'; readonly groove?: GrooveRead; readonly springs?: string; readonly springSide?: string }
export interface ModeRead { readonly drive: words.Drive; readonly band?: BandRead; readonly brake?: BrakeRead }
export interface WheelRead {
  readonly at: string; readonly name?: string; readonly style?: words.Style; readonly driveWheel?: GrooveRead; readonly stages: readonly StageRead[];
  readonly modes: readonly ModeRead[]; readonly whorls: readonly WhorlRead[]; readonly bobbins: readonly BobbinRead[];
  readonly flyers: readonly { readonly name: string; readonly orifice?: Reading; readonly mass?: Reading; readonly inertia?: Reading }[];
  readonly axleToFlyer?: { readonly nearest?: Reading; readonly farthest?: Reading }; readonly wheelIs?: words.WheelIs; readonly turnedBy?: words.TurnedBy;
  readonly flyerSpeed?: { readonly slowest?: Reading; readonly fastest?: Reading }; readonly condition?: words.Condition;
}

export const most = { whorls: 24, bobbins: 24, grooves: 12, stages: 4, modes: 8, flyers: 24 } as const;
/** The largest wheel and the smallest groove that are taken: 5 m and 0.1 mm. */
const part: Limits = { moreThan: 1e-4, atMost: 5, says: 'from 0.1 mm to 5 m' };
const thickness: Limits = { atLeast: 0, atMost: 0.05, says: 'from 0 to 50 mm' };

const grooveNames = ['grooveDiameter', 'grooveCircumference', 'bandTurn', 'statedRatio', 'shape', 'angle', 'openingWidth', 'flatWidth', 'measuredAt', 'tapeThickness'] as const;
const measures = { grooveDiameter: 'diameter', grooveCircumference: 'circumference', bandTurn: 'band-turn', statedRatio: 'stated' } as const;
type Json = Record<string, unknown>;

/** What was not given is undefined, and read as absent. Nothing is taken out: objects of one shape are read fast. */
const given = <T extends object>(o: T): { [K in keyof T]: Exclude<T[K], undefined> } => o as { [K in keyof T]: Exclude<T[K], undefined> };
const optional = <T>(value: unknown, read: (v: unknown) => T): T | undefined => (value === undefined ? undefined : read(value));

function groove(r: Reader, o: Json, at: string, stated: boolean): GrooveRead | undefined {
  const found = (Object.keys(measures) as (keyof typeof measures)[]).filter((key) => o[key] !== undefined);
  const shape = optional(o['shape'], (v) => r.choice(v, `${at}/shape`, words.shapes, words.shapeAliases));
  const q = (key: string, kind: Kind, limits: Limits = part): Reading | undefined => optional(o[key], (v) => r.quantity(v, `${at}/${key}`, kind, limits));
  const more = given({
    shape, angle: q('angle', 'angle', { moreThan: 0, atMost: Math.PI * 0.99, says: 'more than 0 and less than 180 degrees' }), openingWidth: q('openingWidth', 'part'), flatWidth: q('flatWidth', 'part', thickness),
    measuredAt: optional(o['measuredAt'], (v) => r.choice(v, `${at}/measuredAt`, words.measuredAts)), tapeThickness: q('tapeThickness', 'part', thickness),
  });
  if (found.length === 0) return undefined;
  if (found.length > 1) return r.fail(at, { code: 'one-of', detail: `This groove was given in ${found.length} ways.`, received: found.join(', '), expected: 'one of grooveDiameter, grooveCircumference, bandTurn, statedRatio' });
  const key = found[0]!;
  if (key === 'statedRatio' && !stated) return r.fail(`${at}/statedRatio`, { code: 'one-of', detail: 'A stated ratio belongs to a whorl or a bobbin.', received: 'statedRatio', expected: 'grooveDiameter, grooveCircumference or bandTurn' });
  const size = key === 'statedRatio' ? r.ratio(o[key], `${at}/${key}`, { moreThan: 1e-3, atMost: 1e4, says: 'from 0.001 to 10 000' })
    : r.quantity(o[key], `${at}/${key}`, 'part', key === 'grooveDiameter' ? part : { moreThan: 1e-4 * Math.PI, atMost: 5 * Math.PI, says: 'from 0.4 mm to 15 m round' });
  const { angle, openingWidth, flatWidth, measuredAt, tapeThickness } = more;
  return size === undefined ? undefined : given({ at: `${at}/${key}`, measure: measures[key], size, shape, angle, openingWidth, flatWidth, measuredAt, tapeThickness });
}
const grooveOf = (r: Reader, value: unknown, at: string): GrooveRead | undefined => {
  const o = r.object(value, at, grooveNames);
  return o === undefined ? undefined : (groove(r, o, at, false) ?? noMeasure(r, at));
};
function noMeasure(r: Reader, at: string): undefined {
  if (!r.issues.some((i) => i.pointer?.startsWith(at))) r.missing(at, 'A measure of this groove', 'grooveDiameter, grooveCircumference or bandTurn');
  return undefined;
}
function band(r: Reader, value: unknown, at: string): BandRead | undefined {
  const o = r.object(value, at, ['thickness', 'material']);
  return o && given({ thickness: optional(o['thickness'], (v) => r.quantity(v, `${at}/thickness`, 'part', thickness)), material: optional(o['material'], (v) => r.choice(v, `${at}/material`, words.materials)) });
}
function brake(r: Reader, value: unknown, at: string): BrakeRead | undefined {
  const o = r.object(value, at, ['on', 'springs', 'springSide', ...grooveNames]);
  if (o === undefined) return undefined;
  const on = o['on'] === undefined ? r.missing(`${at}/on`, 'Which part is braked', 'bobbin or flyer') : r.choice(o['on'], `${at}/on`, ['bobbin', 'flyer'] as const);
  const rest = given({
    groove: groove(r, o, at, false), springs: optional(o['springs'], (v) => r.choice(v, `${at}/springs`, ['none', 'one-end', 'both-ends'] as const)),
    springSide: optional(o['springSide'], (v) => r.choice(v, `${at}/springSide`, ['tight', 'slack'] as const)),
  });
  return on === undefined ? undefined : { on, ...rest };
}
function mode(r: Reader, value: unknown, at: string): ModeRead | undefined {
  const o = r.object(value, at, ['drive', 'band', 'brake']);
  if (o === undefined) return undefined;
  const drive = o['drive'] === undefined ? r.missing(`${at}/drive`, 'The drive', words.drives.join(', ')) : r.choice(o['drive'], `${at}/drive`, words.drives, words.driveAliases);
  const rest = given({ band: optional(o['band'], (v) => band(r, v, `${at}/band`)), brake: optional(o['brake'], (v) => brake(r, v, `${at}/brake`)) });
  return drive === undefined ? undefined : { drive, ...rest };
}
function whorl(r: Reader, value: unknown, at: string, i: number): WhorlRead | undefined {
  const o = r.object(value, at, ['name', 'flyer', 'thread', ...grooveNames]);
  return o && { at, name: optional(o['name'], (v) => r.text(v, `${at}/name`, 80)) ?? `whorl ${i + 1}`, ...given({
    flyer: optional(o['flyer'], (v) => r.text(v, `${at}/flyer`, 80)), thread: optional(o['thread'], (v) => r.choice(v, `${at}/thread`, ['left-hand', 'right-hand', 'none'] as const)), groove: groove(r, o, at, true),
  }) };
}
function bobbin(r: Reader, value: unknown, at: string, i: number): BobbinRead | undefined {
  const o = r.object(value, at, ['name', 'flyer', 'grooves', 'coreDiameter', 'endDiameter', 'fullDiameter', 'lengthBetweenEnds', 'mass']);
  if (o === undefined) return undefined;
  const q = (key: string): Reading | undefined => optional(o[key], (v) => r.quantity(v, `${at}/${key}`, 'part', part));
  const grooves = optional(o['grooves'], (v) => each(r, v, `${at}/grooves`, most.grooves, 'grooves of one bobbin', (g, gAt) => {
    const go = r.object(g, gAt, ['name', ...grooveNames]);
    const read = go && (groove(r, go, gAt, true) ?? noMeasure(r, gAt));
    return go && read && given({ name: optional(go['name'], (n) => r.text(n, `${gAt}/name`, 80)), groove: read });
  })) ?? [];
  return { at, name: optional(o['name'], (v) => r.text(v, `${at}/name`, 80)) ?? `bobbin ${i + 1}`, grooves, ...given({
    flyer: optional(o['flyer'], (v) => r.text(v, `${at}/flyer`, 80)), core: q('coreDiameter'), end: q('endDiameter'), full: q('fullDiameter'),
    lengthBetweenEnds: q('lengthBetweenEnds'), mass: optional(o['mass'], (v) => r.quantity(v, `${at}/mass`, 'mass', { moreThan: 0, atMost: 50 })),
  }) };
}
function each<T>(r: Reader, value: unknown, at: string, limit: number, what: string, read: (v: unknown, at: string, i: number) => T | undefined): T[] {
  const out: T[] = [];
  for (const [i, v] of (r.list(value, at, limit, what) ?? []).entries()) {
    const one = read(v, `${at}/${i}`, i);
    if (one !== undefined) out.push(one);
  }
  return out;
}

const wheelNames = ['name', 'style', 'driveWheel', 'stages', 'modes', 'whorls', 'bobbins', 'flyers', 'axleToFlyer', 'wheelIs', 'turnedBy', 'flyerSpeed', 'condition'] as const;

/** Reads a profile at the pointer `at`. What cannot be read is in the reader's issues. */
export function readWheel(r: Reader, value: unknown, at: string): WheelRead | undefined {
  const o = r.object(value, at, wheelNames);
  if (o === undefined) return undefined;
  const two = (key: string, names: readonly [string, string], kind: Kind, limits: Limits): Json | undefined => {
    const p = optional(o[key], (v) => r.object(v, `${at}/${key}`, names));
    return p && given(Object.fromEntries(names.map((n) => [n, optional(p[n], (v) => r.quantity(v, `${at}/${key}/${n}`, kind, limits))])));
  };
  return { at, stages: optional(o['stages'], (v) => each(r, v, `${at}/stages`, most.stages, 'stages', (s, sAt) => {
    const so = r.object(s, sAt, ['driven', 'driving', 'band']);
    const g = (key: string): GrooveRead | undefined => (so![key] === undefined ? r.missing(`${sAt}/${key}`, 'Both grooves of a stage', 'driven and driving') : grooveOf(r, so![key], `${sAt}/${key}`));
    return so && given({ driven: g('driven'), driving: g('driving'), band: optional(so['band'], (b) => band(r, b, `${sAt}/band`)) });
  })) ?? [],
  modes: optional(o['modes'], (v) => each(r, v, `${at}/modes`, most.modes, 'ways to run', (m, mAt) => mode(r, m, mAt))) ?? [],
  whorls: optional(o['whorls'], (v) => each(r, v, `${at}/whorls`, most.whorls, 'whorls', (w, wAt, i) => whorl(r, w, wAt, i))) ?? [],
  bobbins: optional(o['bobbins'], (v) => each(r, v, `${at}/bobbins`, most.bobbins, 'bobbins', (b, bAt, i) => bobbin(r, b, bAt, i))) ?? [],
  flyers: optional(o['flyers'], (v) => each(r, v, `${at}/flyers`, most.flyers, 'flyers', (f, fAt) => {
    const fo = r.object(f, fAt, ['name', 'orificeDiameter', 'mass', 'inertia']);
    const name = fo && (fo['name'] === undefined ? r.missing(`${fAt}/name`, 'The name of a flyer', 'a name such as jumbo') : r.text(fo['name'], `${fAt}/name`, 80));
    return fo && name === undefined ? undefined : fo && { name: name!, ...given({
      orifice: optional(fo['orificeDiameter'], (q) => r.quantity(q, `${fAt}/orificeDiameter`, 'part', part)), mass: optional(fo['mass'], (q) => r.quantity(q, `${fAt}/mass`, 'mass', { moreThan: 0, atMost: 50 })),
      inertia: optional(fo['inertia'], (q) => r.quantity(q, `${fAt}/inertia`, 'inertia', { moreThan: 0, atMost: 100 })),
    }) };
  })) ?? [],
  ...given({
    name: optional(o['name'], (v) => r.text(v, `${at}/name`, 120)), style: optional(o['style'], (v) => r.choice(v, `${at}/style`, words.styles)),
    driveWheel: optional(o['driveWheel'], (v) => grooveOf(r, v, `${at}/driveWheel`)),
    axleToFlyer: two('axleToFlyer', ['nearest', 'farthest'], 'part', part), wheelIs: optional(o['wheelIs'], (v) => r.choice(v, `${at}/wheelIs`, words.wheelPlaces)),
    turnedBy: optional(o['turnedBy'], (v) => r.choice(v, `${at}/turnedBy`, words.turnedBys)),
    flyerSpeed: two('flyerSpeed', ['slowest', 'fastest'], 'turning', { moreThan: 0, atMost: 1000 }), condition: optional(o['condition'], (v) => r.choice(v, `${at}/condition`, words.conditions)),
  }) } as WheelRead;
}

/** Every issue of a profile that is to be kept; it needs a name. Pointers begin at the profile. */
export function checkWheel(value: unknown): Issue[] {
  const r = new Reader();
  const wheel = readWheel(r, value, '');
  if (wheel !== undefined && wheel.name === undefined && !r.issues.some((i) => i.pointer === '/name')) r.missing('/name', 'A name', 'a name such as Thornmere 4');
  return r.issues;
}
