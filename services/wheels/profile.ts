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
const measureNames = Object.keys(measures) as (keyof typeof measures)[];
const names = {
  band: ['thickness', 'material'], brake: ['on', 'springs', 'springSide', ...grooveNames], mode: ['drive', 'band', 'brake'], whorl: ['name', 'flyer', 'thread', ...grooveNames],
  bobbin: ['name', 'flyer', 'grooves', 'coreDiameter', 'endDiameter', 'fullDiameter', 'lengthBetweenEnds', 'mass'], bobbinGroove: ['name', ...grooveNames],
  stage: ['driven', 'driving', 'band'], flyer: ['name', 'orificeDiameter', 'mass', 'inertia'], axleToFlyer: ['nearest', 'farthest'], flyerSpeed: ['slowest', 'fastest'],
  wheel: ['name', 'style', 'driveWheel', 'stages', 'modes', 'whorls', 'bobbins', 'flyers', 'axleToFlyer', 'wheelIs', 'turnedBy', 'flyerSpeed', 'condition'],
} as const;
const springs = ['none', 'one-end', 'both-ends'] as const;
const springSides = ['tight', 'slack'] as const;
const braked = ['bobbin', 'flyer'] as const;
const threads = ['left-hand', 'right-hand', 'none'] as const;
const angles: Limits = { moreThan: 0, atMost: Math.PI * 0.99, says: 'more than 0 and less than 180 degrees' };
const round: Limits = { moreThan: 1e-4 * Math.PI, atMost: 5 * Math.PI, says: 'from 0.4 mm to 15 m round' };
const stamped: Limits = { moreThan: 1e-3, atMost: 1e4, says: 'from 0.001 to 10 000' };
const masses: Limits = { moreThan: 0, atMost: 50 };
const inertias: Limits = { moreThan: 0, atMost: 100 };
const turnings: Limits = { moreThan: 0, atMost: 1000 };
type Json = Record<string, unknown>;

/** What was not given is undefined, and read as absent. Nothing is taken out: objects of one shape are read fast. */
const given = <T extends object>(o: T): { [K in keyof T]: Exclude<T[K], undefined> } => o as { [K in keyof T]: Exclude<T[K], undefined> };

// The member `key` of `o`, which stands at `at`; undefined when it was not given. A profile names few of all that it may
// name, and is read with every question: so no pointer and no function is made for what is not there.
const quantity = (r: Reader, o: Json, at: string, key: string, kind: Kind = 'part', limits: Limits = part): Reading | undefined => (o[key] === undefined ? undefined : r.quantity(o[key], `${at}/${key}`, kind, limits));
const text = (r: Reader, o: Json, at: string, key: string, most = 80): string | undefined => (o[key] === undefined ? undefined : r.text(o[key], `${at}/${key}`, most));
const choice = <T extends string>(r: Reader, o: Json, at: string, key: string, choices: readonly T[], aliases?: Readonly<Record<string, T>>): T | undefined => (o[key] === undefined ? undefined : r.choice(o[key], `${at}/${key}`, choices, aliases));
type ReadOne<T> = (r: Reader, v: unknown, at: string, i: number) => T | undefined;
const member = <T>(r: Reader, o: Json, at: string, key: string, read: ReadOne<T>): T | undefined => (o[key] === undefined ? undefined : read(r, o[key], `${at}/${key}`, 0));
function each<T>(r: Reader, o: Json, at: string, key: string, limit: number, what: string, read: ReadOne<T>): T[] {
  const out: T[] = [];
  if (o[key] === undefined) return out;
  const list = r.list(o[key], `${at}/${key}`, limit, what);
  if (list === undefined) return out;
  for (let i = 0; i < list.length; i++) {
    const one = read(r, list[i], `${at}/${key}/${i}`, i);
    if (one !== undefined) out.push(one);
  }
  return out;
}

function groove(r: Reader, o: Json, at: string, stated: boolean): GrooveRead | undefined {
  let key: keyof typeof measures | undefined;
  let found = 0;
  for (const name of measureNames) if (o[name] !== undefined) { key ??= name; found++; }
  const shape = choice(r, o, at, 'shape', words.shapes, words.shapeAliases);
  const angle = quantity(r, o, at, 'angle', 'angle', angles);
  const openingWidth = quantity(r, o, at, 'openingWidth');
  const flatWidth = quantity(r, o, at, 'flatWidth', 'part', thickness);
  const measuredAt = choice(r, o, at, 'measuredAt', words.measuredAts);
  const tapeThickness = quantity(r, o, at, 'tapeThickness', 'part', thickness);
  if (key === undefined) return undefined;
  if (found > 1) return r.fail(at, { code: 'one-of', detail: `This groove was given in ${found} ways.`, received: measureNames.filter((name) => o[name] !== undefined).join(', '), expected: 'one of grooveDiameter, grooveCircumference, bandTurn, statedRatio' });
  const place = `${at}/${key}`;
  if (key === 'statedRatio' && !stated) return r.fail(place, { code: 'one-of', detail: 'A stated ratio belongs to a whorl or a bobbin.', received: 'statedRatio', expected: 'grooveDiameter, grooveCircumference or bandTurn' });
  const size = key === 'statedRatio' ? r.ratio(o[key], place, stamped) : r.quantity(o[key], place, 'part', key === 'grooveDiameter' ? part : round);
  return size === undefined ? undefined : given({ at: place, measure: measures[key], size, shape, angle, openingWidth, flatWidth, measuredAt, tapeThickness });
}
function grooveOf(r: Reader, value: unknown, at: string): GrooveRead | undefined {
  const o = r.object(value, at, grooveNames);
  return o === undefined ? undefined : (groove(r, o, at, false) ?? noMeasure(r, at));
}
function noMeasure(r: Reader, at: string): undefined {
  if (!r.issues.some((i) => i.pointer?.startsWith(at))) r.missing(at, 'A measure of this groove', 'grooveDiameter, grooveCircumference or bandTurn');
  return undefined;
}
function band(r: Reader, value: unknown, at: string): BandRead | undefined {
  const o = r.object(value, at, names.band);
  return o && given({ thickness: quantity(r, o, at, 'thickness', 'part', thickness), material: choice(r, o, at, 'material', words.materials) });
}
function brake(r: Reader, value: unknown, at: string): BrakeRead | undefined {
  const o = r.object(value, at, names.brake);
  if (o === undefined) return undefined;
  const on = o['on'] === undefined ? r.missing(`${at}/on`, 'Which part is braked', 'bobbin or flyer') : choice(r, o, at, 'on', braked);
  const rest = given({ groove: groove(r, o, at, false), springs: choice(r, o, at, 'springs', springs), springSide: choice(r, o, at, 'springSide', springSides) });
  return on === undefined ? undefined : { on, ...rest };
}
function mode(r: Reader, value: unknown, at: string): ModeRead | undefined {
  const o = r.object(value, at, names.mode);
  if (o === undefined) return undefined;
  const drive = o['drive'] === undefined ? r.missing(`${at}/drive`, 'The drive', words.drives.join(', ')) : choice(r, o, at, 'drive', words.drives, words.driveAliases);
  const rest = given({ band: member(r, o, at, 'band', band), brake: member(r, o, at, 'brake', brake) });
  return drive === undefined ? undefined : given({ drive, band: rest.band, brake: rest.brake });
}
function whorl(r: Reader, value: unknown, at: string, i: number): WhorlRead | undefined {
  const o = r.object(value, at, names.whorl);
  return o && given({ at, name: text(r, o, at, 'name') ?? `whorl ${i + 1}`, flyer: text(r, o, at, 'flyer'), thread: choice(r, o, at, 'thread', threads), groove: groove(r, o, at, true) });
}
function bobbinGroove(r: Reader, value: unknown, at: string): BobbinRead['grooves'][number] | undefined {
  const o = r.object(value, at, names.bobbinGroove);
  const read = o && (groove(r, o, at, true) ?? noMeasure(r, at));
  return o && read && given({ name: text(r, o, at, 'name'), groove: read });
}
function bobbin(r: Reader, value: unknown, at: string, i: number): BobbinRead | undefined {
  const o = r.object(value, at, names.bobbin);
  return o && given({
    at, name: text(r, o, at, 'name') ?? `bobbin ${i + 1}`, grooves: each(r, o, at, 'grooves', most.grooves, 'grooves of one bobbin', bobbinGroove),
    flyer: text(r, o, at, 'flyer'), core: quantity(r, o, at, 'coreDiameter'), end: quantity(r, o, at, 'endDiameter'), full: quantity(r, o, at, 'fullDiameter'),
    lengthBetweenEnds: quantity(r, o, at, 'lengthBetweenEnds'), mass: quantity(r, o, at, 'mass', 'mass', masses),
  });
}
function stageGroove(r: Reader, o: Json, at: string, key: 'driven' | 'driving'): GrooveRead | undefined {
  return o[key] === undefined ? r.missing(`${at}/${key}`, 'Both grooves of a stage', 'driven and driving') : grooveOf(r, o[key], `${at}/${key}`);
}
function stage(r: Reader, value: unknown, at: string): StageRead | undefined {
  const o = r.object(value, at, names.stage);
  return o && given({ driven: stageGroove(r, o, at, 'driven'), driving: stageGroove(r, o, at, 'driving'), band: member(r, o, at, 'band', band) });
}
function flyer(r: Reader, value: unknown, at: string): WheelRead['flyers'][number] | undefined {
  const o = r.object(value, at, names.flyer);
  if (o === undefined) return undefined;
  const name = o['name'] === undefined ? r.missing(`${at}/name`, 'The name of a flyer', 'a name such as jumbo') : text(r, o, at, 'name');
  const rest = given({ orifice: quantity(r, o, at, 'orificeDiameter'), mass: quantity(r, o, at, 'mass', 'mass', masses), inertia: quantity(r, o, at, 'inertia', 'inertia', inertias) });
  return name === undefined ? undefined : { name, ...rest };
}
function axleToFlyer(r: Reader, value: unknown, at: string): WheelRead['axleToFlyer'] {
  const o = r.object(value, at, names.axleToFlyer);
  return o && given({ nearest: quantity(r, o, at, 'nearest'), farthest: quantity(r, o, at, 'farthest') });
}
function flyerSpeed(r: Reader, value: unknown, at: string): WheelRead['flyerSpeed'] {
  const o = r.object(value, at, names.flyerSpeed);
  return o && given({ slowest: quantity(r, o, at, 'slowest', 'turning', turnings), fastest: quantity(r, o, at, 'fastest', 'turning', turnings) });
}

/** Reads a profile at the pointer `at`. What cannot be read is in the reader's issues. */
export function readWheel(r: Reader, value: unknown, at: string): WheelRead | undefined {
  const o = r.object(value, at, names.wheel);
  return o && given({
    at, stages: each(r, o, at, 'stages', most.stages, 'stages', stage), modes: each(r, o, at, 'modes', most.modes, 'ways to run', mode),
    whorls: each(r, o, at, 'whorls', most.whorls, 'whorls', whorl), bobbins: each(r, o, at, 'bobbins', most.bobbins, 'bobbins', bobbin), flyers: each(r, o, at, 'flyers', most.flyers, 'flyers', flyer),
    name: text(r, o, at, 'name', 120), style: choice(r, o, at, 'style', words.styles), driveWheel: member(r, o, at, 'driveWheel', grooveOf),
    axleToFlyer: member(r, o, at, 'axleToFlyer', axleToFlyer), wheelIs: choice(r, o, at, 'wheelIs', words.wheelPlaces), turnedBy: choice(r, o, at, 'turnedBy', words.turnedBys),
    flyerSpeed: member(r, o, at, 'flyerSpeed', flyerSpeed), condition: choice(r, o, at, 'condition', words.conditions),
  });
}

/** Every issue of a profile that is to be kept; it needs a name. Pointers begin at the profile. */
export function checkWheel(value: unknown): Issue[] {
  const r = new Reader();
  const wheel = readWheel(r, value, '');
  if (wheel !== undefined && wheel.name === undefined && !r.issues.some((i) => i.pointer === '/name')) r.missing('/name', 'A name', 'a name such as Thornmere 4');
  return r.issues;
}
