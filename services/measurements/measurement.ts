/** A measurement of a wheel: what was measured, on which part, how, by whom and when. Pure. */
import { asCounted } from '../calculations/ratio/counts.js';
import { Notes } from '../foundation/notes.js';
import type { ProblemCode } from '../foundation/problems.js';
import { nearest, Reader, shown } from '../foundation/read.js';
import { isPoint, type Point, type Reading } from '../foundation/reading.js';
import { plainText, readDate, readReference } from '../foundation/noted.js';
import { readWheel, type QIn, type RIn, type Wheel, type WheelRead } from '../wheels/profile.js';
import { driveAliases, drives, type Drive } from '../wheels/words.js';

export const whats = ['diameter', 'circumference', 'band-turn', 'counted-turns', 'lap-count', 'band-length', 'bag-test', 'coast-down'] as const;
export type What = (typeof whats)[number];
export const parts = ['drive-wheel', 'whorl', 'bobbin-groove', 'bobbin-core', 'bobbin-ends', 'head-driven', 'head-driving'] as const;
export type PartWord = (typeof parts)[number];
export const methods = ['calliper', 'rule', 'tape', 'string', 'band', 'by-eye', 'video', 'tachometer', 'scale', 'other'] as const;
export type Method = (typeof methods)[number];
/** Half-width at 95 % of a length without its own ±, m. Common practice. */
export const usualPlusMinus: Readonly<Record<Method, number>> = { calliper: 0.0002, rule: 0.001, tape: 0.002, string: 0.003, band: 0.003, 'by-eye': 0.003, video: 0.003, tachometer: 0.003, scale: 0.003, other: 0.003 };
/** How a size is taken to have been measured where nobody said. */
const usualMethod: Readonly<Record<string, Method>> = { diameter: 'rule', circumference: 'tape', 'band-turn': 'band', 'band-length': 'tape' };

export interface Measurement {
  readonly what: What; readonly drive?: Drive; readonly part?: PartWord; readonly whorl?: string; readonly bobbin?: string; readonly bobbinEnd?: string; readonly flyer?: string; readonly stage?: number;
  readonly size?: QIn; readonly tapeThickness?: QIn; readonly measuredInside?: boolean; readonly wheelTurns?: RIn; readonly flyerTurns?: RIn; readonly bobbinTurns?: RIn; readonly laps?: RIn; readonly windsOn?: 'forwards' | 'backwards';
  readonly lifts?: QIn; readonly pullsOff?: QIn; readonly woundDiameter?: QIn; readonly inertia?: QIn; readonly runs?: readonly { readonly from: QIn; readonly to: QIn; readonly time: QIn }[];
  readonly method?: Method; readonly measuredOn?: string; readonly member?: string; readonly note?: string;
}
export interface StoredMeasurement { readonly id: string; readonly measurement: Measurement; readonly revision: number; readonly createdAt: Date }

const common = ['what', 'method', 'measuredOn', 'member', 'note'] as const;
const sized = ['part', 'whorl', 'bobbin', 'bobbinEnd', 'stage', 'size'] as const;
/** What each kind of measurement takes; the first that are marked are needed. */
const takes: Readonly<Record<What, { needs: readonly string[]; also: readonly string[] }>> = {
  diameter: { needs: ['part', 'size'], also: sized },
  circumference: { needs: ['part', 'size'], also: [...sized, 'tapeThickness'] },
  'band-turn': { needs: ['part', 'size'], also: sized },
  'counted-turns': { needs: ['wheelTurns'], also: ['drive', 'whorl', 'bobbin', 'bobbinEnd', 'flyerTurns', 'bobbinTurns'] },
  'lap-count': { needs: ['flyerTurns', 'laps'], also: ['drive', 'whorl', 'bobbin', 'bobbinEnd', 'windsOn'] },
  'band-length': { needs: ['size'], also: ['drive', 'measuredInside'] },
  'bag-test': { needs: ['lifts', 'pullsOff'], also: ['drive', 'whorl', 'bobbin', 'bobbinEnd', 'woundDiameter'] },
  'coast-down': { needs: ['runs'], also: ['flyer', 'inertia'] },
};
const examplesOf: Readonly<Record<string, string>> = { part: parts.join(', '), size: 'such as 60.2 ± 0.2 mm', wheelTurns: 'such as 20', flyerTurns: 'such as 181', laps: 'such as 12', lifts: 'such as 18 g', pullsOff: 'such as 65 g', runs: '[{"from": "600/min", "to": "300/min", "time": "3.3 s"}]' };
const turns = { moreThan: 0, atMost: 1e7 };

/** What is to be kept of a body, for this wheel. Throws a problem that names every place. */
export function readMeasurement(body: unknown, profile: Wheel): Measurement {
  const r = new Reader();
  const names = [...common, ...new Set(Object.values(takes).flatMap((t) => [...t.needs, ...t.also]))];
  const o = r.object(body, '', names);
  r.done();
  const q = o!;
  const what = q['what'] === undefined ? r.missing('/what', 'What was measured', whats.join(', ')) : r.choice(q['what'], '/what', whats);
  r.done();
  const taken = takes[what!];
  for (const name of Object.keys(q)) {
    if (!(common as readonly string[]).includes(name) && !taken.needs.includes(name) && !taken.also.includes(name)) r.fail(`/${name}`, { code: 'unknown-field', detail: `“${name}” does not belong to ${a(what!)}.`, received: name, expected: `one of ${[...new Set([...taken.needs, ...taken.also])].join(', ')}` });
  }
  for (const name of taken.needs) if (q[name] === undefined) r.missing(`/${name}`, `“${name}”`, examplesOf[name] ?? 'a value');
  if (what === 'counted-turns' && q['flyerTurns'] === undefined && q['bobbinTurns'] === undefined) r.missing('/flyerTurns', 'The turns of the flyer or of the bobbin', 'flyerTurns or bobbinTurns');
  r.done();
  const wheel = readWheel(new Reader(), profile, '');
  const given = (name: string, read: (v: unknown, at: string) => unknown): unknown => (q[name] === undefined ? undefined : read(q[name], `/${name}`));
  given('method', (v, at) => r.choice(v, at, methods));
  given('measuredOn', (v, at) => readDate(r, v, at));
  given('member', (v, at) => readReference(r, v, at));
  given('note', (v, at) => { const t = r.text(v, at, 2000); if (t !== undefined) plainText(r, t, at, true); });
  const long = what === 'band-length';
  given('size', (v, at) => r.quantity(v, at, long ? 'length' : 'part', { moreThan: 1e-4, atMost: long ? 50 : 20, says: 'the size of a part' }));
  given('tapeThickness', (v, at) => r.quantity(v, at, 'part', { atLeast: 0, atMost: 0.05, says: 'from 0 to 50 mm' }));
  given('measuredInside', (v, at) => (typeof v === 'boolean' ? v : r.wrongType(at, v, 'true or false')));
  for (const name of ['wheelTurns', 'flyerTurns', 'bobbinTurns', 'laps']) given(name, (v, at) => r.number(v, at, turns));
  given('windsOn', (v, at) => r.choice(v, at, ['forwards', 'backwards']));
  for (const name of ['lifts', 'pullsOff']) given(name, (v, at) => r.quantity(v, at, 'pull', { moreThan: 0, atMost: 1000 }));
  given('woundDiameter', (v, at) => r.quantity(v, at, 'part', { moreThan: 1e-3, atMost: 1 }));
  given('inertia', (v, at) => r.quantity(v, at, 'inertia', { moreThan: 0, atMost: 100 }));
  if (what === 'coast-down') readRuns(r, q['runs'], wheel, q);
  const drive = given('drive', (v, at) => r.choice(v, at, drives, driveAliases)) as Drive | undefined;
  if (drive !== undefined && wheel !== undefined && wheel.modes.length > 0 && !wheel.modes.some((m) => m.drive === drive)) notKnown(r, '/drive', 'way to run', drive, wheel.modes.map((m) => m.drive));
  const part = given('part', (v, at) => r.choice(v, at, parts)) as PartWord | undefined;
  if (wheel !== undefined) namedParts(r, q, what!, part, wheel);
  if (what === 'bag-test' && r.issues.length === 0) {
    const [lifts, off] = [new Reader().quantity(q['lifts'], '', 'pull'), new Reader().quantity(q['pullsOff'], '', 'pull')];
    if (lifts !== undefined && off !== undefined && isPoint(lifts) && isPoint(off) && lifts.value > off.value) r.fail('/pullsOff', { code: 'impossible-geometry', detail: 'What pulls yarn off is never lighter than what the wheel lifts: friction is between them.', received: 'pullsOff below lifts', expected: 'pullsOff at least as heavy as lifts' });
  }
  r.done();
  return { ...q, ...(part === undefined ? {} : { part }), ...(drive === undefined ? {} : { drive }) } as unknown as Measurement;
}
const a = (what: What): string => ({ diameter: 'a diameter', circumference: 'a circumference', 'band-turn': 'a band turn', 'counted-turns': 'counted turns', 'lap-count': 'a count of laps', 'band-length': 'the length of a band', 'bag-test': 'a bag test', 'coast-down': 'a coast-down' })[what];

function readRuns(r: Reader, value: unknown, wheel: WheelRead | undefined, q: Record<string, unknown>): void {
  const list = r.list(value, '/runs', 2, 'runs');
  if (list === undefined) return;
  if (list.length === 0) r.missing('/runs/0', 'A run', examplesOf['runs']!);
  for (const [i, run] of list.entries()) {
    const at = `/runs/${i}`;
    const o = r.object(run, at, ['from', 'to', 'time']);
    if (o === undefined) continue;
    const get = (name: string, kind: 'turning' | 'time'): Reading | undefined => (o[name] === undefined ? r.missing(`${at}/${name}`, `“${name}”`, kind === 'time' ? 'such as 3.3 s' : 'such as 600/min') : r.quantity(o[name], `${at}/${name}`, kind, { moreThan: 0, atMost: kind === 'time' ? 1e5 : 1000 }));
    const [from, to] = [get('from', 'turning'), get('to', 'turning')];
    get('time', 'time');
    if (from !== undefined && to !== undefined && isPoint(from) && isPoint(to) && to.value >= from.value) r.fail(`${at}/to`, { code: 'range-reversed', detail: 'A flyer that coasts down ends slower than it began.', received: shown(o['to']), expected: 'slower than from' });
  }
  if (q['inertia'] === undefined && wheel !== undefined && flyerOf(wheel, q['flyer'])?.inertia === undefined) r.missing('/inertia', 'The moment of inertia of what coasts down (it stands neither here nor with this flyer in the profile)', 'such as 0.00022 kg*m2');
}
export const flyerOf = (wheel: WheelRead, name: unknown): WheelRead['flyers'][number] | undefined => (name === undefined ? (wheel.flyers.length === 1 ? wheel.flyers[0] : undefined) : wheel.flyers.find((f) => f.name === name));

function notKnown(r: Reader, at: string, what: string, name: string, names: readonly string[], code: ProblemCode = 'not-known-part'): undefined {
  const near = nearest(name, names);
  return r.fail(at, { code, detail: `This wheel has no ${what} of that name.`, received: shown(name), expected: names.join(', ') || `no ${what} is in its profile`, ...(near === undefined ? {} : { try: near }) });
}
/** A part that is named must be there; one that is not named must be the only one. */
function pickName(r: Reader, q: Record<string, unknown>, key: string, what: string, names: readonly string[], needed: boolean): void {
  const name = q[key];
  if (name !== undefined) {
    const text = r.text(name, `/${key}`, 80);
    if (text !== undefined && !names.includes(text)) notKnown(r, `/${key}`, what, text, names);
  } else if (needed && names.length !== 1) r.fail(`/${key}`, names.length === 0 ? { code: 'not-known-part', detail: `There is no ${what} in the profile of this wheel.`, received: 'nothing', expected: `a wheel with a ${what}` } : { code: 'missing-field', detail: `Which ${what} is needed for this.`, received: 'nothing', expected: names.join(', ') });
}
export const endName = (b: WheelRead['bobbins'][number], j: number): string => b.grooves[j]!.name ?? `groove ${j + 1}`;

function namedParts(r: Reader, q: Record<string, unknown>, what: What, part: PartWord | undefined, wheel: WheelRead): void {
  const ofWhorl = part === 'whorl' || what === 'lap-count' || (what === 'counted-turns' && q['flyerTurns'] !== undefined && wheel.whorls.length > 0);
  const ofGroove = part === 'bobbin-groove' || what === 'lap-count' || (what === 'counted-turns' && q['bobbinTurns'] !== undefined);
  const ofBobbin = ofGroove || part === 'bobbin-core' || part === 'bobbin-ends';
  pickName(r, q, 'whorl', 'whorl', wheel.whorls.map((w) => w.name), ofWhorl);
  pickName(r, q, 'bobbin', 'bobbin', wheel.bobbins.map((b) => b.name), ofBobbin);
  pickName(r, q, 'flyer', 'flyer', wheel.flyers.map((f) => f.name), false);
  const bobbin = q['bobbin'] === undefined ? (wheel.bobbins.length === 1 ? wheel.bobbins[0] : undefined) : wheel.bobbins.find((b) => b.name === q['bobbin']);
  if (bobbin !== undefined) pickName(r, q, 'bobbinEnd', 'end of this bobbin', bobbin.grooves.map((_, j) => endName(bobbin, j)), ofGroove);
  else if (q['bobbinEnd'] !== undefined) r.text(q['bobbinEnd'], '/bobbinEnd', 80);
  const stage = q['stage'];
  if (stage !== undefined && !(Number.isInteger(stage) && (stage as number) >= 1 && (stage as number) <= Math.max(1, wheel.stages.length))) r.fail('/stage', { code: 'out-of-range', detail: 'Stages of the head are counted from 1, the one that the wheel drives.', received: shown(stage), expected: `a whole number from 1 to ${Math.max(1, wheel.stages.length)}` });
  if ((part === 'head-driven' || part === 'head-driving') && wheel.stages.length === 0) notKnown(r, '/part', 'accelerating head', part, []);
  if (part === 'drive-wheel' && wheel.driveWheel === undefined && wheel.modes.some((m) => m.drive === 'electric')) notKnown(r, '/part', 'drive wheel', part, []);
}

/** A reading as one value with a standard uncertainty: an interval as a rectangular one (JCGM 100:2008, 4.3.7); `usual` where none is known. Undefined: open to one side. */
export function asPoint(r: Reading | undefined, usual: number): Required<Point> | undefined {
  if (r === undefined) return undefined;
  if (isPoint(r)) return { value: r.value, u: r.u === undefined || r.u === 0 ? usual : r.u };
  if (r.low === undefined || r.high === undefined) return undefined;
  return { value: (r.low + r.high) / 2, u: Math.max((r.high - r.low) / 2 / Math.sqrt(3), 1e-9) };
}
/** Standard uncertainty of a size that came without its ±. */
export const usualOf = (m: Measurement): number => usualPlusMinus[m.method ?? usualMethod[m.what] ?? 'other'] / 2;
/** A size of a measurement that was read before it was kept, m. */
export const sizeOf = (m: Measurement): Required<Point> | undefined => asPoint(new Reader().quantity(m.size, '', m.what === 'band-length' ? 'length' : 'part'), usualOf(m));
/** A count: to the nearest turn, or to a part of one, unless it has its own ±. */
export const countOf = (v: RIn | undefined): Reading | undefined => {
  const r = v === undefined ? undefined : new Reader().number(v, '', turns);
  return r === undefined ? undefined : asCounted(r, new Notes());
};
/** Turns of the wheel are exact where nothing else was said: the count begins and ends at a mark. */
export const wheelTurnsOf = (m: Measurement): Reading | undefined => (m.wheelTurns === undefined ? undefined : new Reader().number(m.wheelTurns, '', turns));
