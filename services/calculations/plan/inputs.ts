/** Reads a plan's question: every measure as a Reading, by its place in the question. */
import type { Notes } from '../../foundation/notes.js';
import type { Kind } from '../../foundation/quantity.js';
import { isObject, nearest, Reader, type Limits } from '../../foundation/read.js';
import { extent, isPoint, type Reading } from '../../foundation/reading.js';
import { preparations, type Preparation } from '../../reference/wraps.js';
import { readWheel, type BobbinRead, type QIn, type RIn, type Wheel } from '../../wheels/profile.js';
import { readTreadling } from '../treadles.js';

export const fibreForms = ['combed', 'carded', 'washed-fleece', 'raw-fleece'] as const;
export type FibreForm = (typeof fibreForms)[number];
export const fibreFormAliases: Readonly<Record<string, FibreForm>> = { top: 'combed', roving: 'carded', batts: 'carded', batt: 'carded', rolags: 'carded', sliver: 'carded', washed: 'washed-fleece', scoured: 'washed-fleece', raw: 'raw-fleece', fleece: 'raw-fleece', grease: 'raw-fleece' };
export const plyingWays = ['strands', 'chain'] as const;
export type PlyingWay = (typeof plyingWays)[number];

export interface PlanQuestion {
  length?: QIn; mass?: QIn; pieces?: RIn; cloth?: { width?: QIn; length?: QIn; warpSett?: QIn; weftSett?: QIn; shrinkage?: QIn; loomWaste?: QIn }; swatch?: { width?: QIn; length?: QIn; yarn?: QIn };
  grist?: QIn; singlesSample?: { length?: QIn; mass?: QIn }; plies?: RIn; plyingWay?: PlyingWay; preparation?: Preparation; fibreForm?: FibreForm;
  reserve?: QIn; lengthLost?: QIn; plyAllowance?: QIn; spinningLoss?: QIn; preparationYield?: QIn; scouringYield?: QIn; ownYield?: { before?: QIn; after?: QIn }; samples?: QIn; gristSpread?: QIn; regainBought?: QIn; regainRoom?: QIn;
  stock?: QIn; wheel?: Wheel; wheelId?: string; bobbin?: string; bobbinHolds?: QIn; singlesBobbins?: RIn; packageDensity?: QIn;
  treadling?: QIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; ratio?: RIn; twist?: QIn; spinningSpeed?: QIn; duty?: QIn; hourlyRate?: QIn; pace?: { length?: QIn; mass?: QIn; time?: QIn };
  plyingSpeed?: QIn; plyingReserve?: QIn; bobbinChange?: QIn; skeinTime?: QIn; sitting?: QIn; sittingsPerWeek?: RIn;
}

const length: Limits = { moreThan: 0, atMost: 1e7, says: 'more than 0 and at most 10 000 km' };
const mass: Limits = { moreThan: 0, atMost: 1e5, says: 'more than 0 and at most 100 t' };
const small: Limits = { atLeast: 0, atMost: 0.9, says: 'from 0 to 90 %' };
const yieldLimits: Limits = { moreThan: 0.01, atMost: 1, says: 'more than 1 % and at most 100 %' };
const minutes: Limits = { atLeast: 0, atMost: 86_400, says: 'from 0 to a day' };
const speed: Limits = { moreThan: 0, atMost: 100 };
type Spec = readonly [Kind | 'number' | 'ratio', Limits];
/** Where each measure stands, and what it is. */
const measures: Readonly<Record<string, Spec>> = {
  length: ['length', length], mass: ['mass', mass], pieces: ['number', { moreThan: 0, atMost: 1e5 }],
  'cloth/width': ['length', { moreThan: 0, atMost: 1e3 }], 'cloth/length': ['length', { moreThan: 0, atMost: 1e5 }], 'cloth/warpSett': ['wraps', { moreThan: 0, atMost: 1e5 }], 'cloth/weftSett': ['wraps', { moreThan: 0, atMost: 1e5 }], 'cloth/shrinkage': ['share', small], 'cloth/loomWaste': ['length', { atLeast: 0, atMost: 100 }],
  'swatch/width': ['length', { moreThan: 0, atMost: 100 }], 'swatch/length': ['length', { moreThan: 0, atMost: 100 }], 'swatch/yarn': ['length', { moreThan: 0, atMost: 1e5 }],
  'singlesSample/length': ['length', length], 'singlesSample/mass': ['mass', mass], plies: ['number', { atLeast: 1, atMost: 24, says: 'a whole number from 1 to 24' }],
  reserve: ['share', { atLeast: 0, atMost: 5, says: 'from 0 to 500 %' }], lengthLost: ['share', small], plyAllowance: ['share', { atLeast: -0.2, atMost: 1, says: 'from −20 to 100 %' }], spinningLoss: ['share', small], preparationYield: ['share', yieldLimits], scouringYield: ['share', yieldLimits],
  'ownYield/before': ['mass', mass], 'ownYield/after': ['mass', mass], samples: ['mass', { atLeast: 0, atMost: 100 }], gristSpread: ['share', { moreThan: 0, atMost: 0.9, says: 'more than 0 and at most 90 %' }], regainBought: ['share', small], regainRoom: ['share', small],
  stock: ['mass', mass], bobbinHolds: ['mass', { moreThan: 1e-4, atMost: 100 }], singlesBobbins: ['number', { atLeast: 1, atMost: 1e4, says: 'a whole number from 1 to 10 000' }], packageDensity: ['density', { moreThan: 20, atMost: 2000, says: 'from 20 to 2000 kg/m3' }],
  draftLength: ['part', { moreThan: 1e-4, atMost: 10 }], ratio: ['ratio', { moreThan: 1e-2, atMost: 1e4 }], twist: ['twist', { moreThan: 0, atMost: 1e5 }], spinningSpeed: ['speed', speed], duty: ['share', { moreThan: 0, atMost: 1, says: 'more than 0 and at most 100 %' }], hourlyRate: ['speed', speed],
  'pace/length': ['length', length], 'pace/mass': ['mass', mass], 'pace/time': ['hours', { moreThan: 0, atMost: 3.6e7 }], plyingSpeed: ['speed', speed], plyingReserve: ['share', { atLeast: 0, atMost: 5, says: 'from 0 to 500 %' }],
  bobbinChange: ['minutes', minutes], skeinTime: ['minutes', minutes], sitting: ['minutes', { moreThan: 59, atMost: 86_400, says: 'from a minute to a day' }], sittingsPerWeek: ['number', { moreThan: 0, atMost: 200 }],
};
export type Measure = keyof typeof measures;
const nested = [...new Set(Object.keys(measures).filter((m) => m.includes('/')).map((m) => m.split('/')[0]!))];
const names = [...new Set(Object.keys(measures).map((m) => m.split('/')[0]!)), 'grist', 'plyingWay', 'preparation', 'fibreForm', 'wheel', 'wheelId', 'bobbin', 'treadling', 'counted'];

export interface Given {
  readonly of: ReadonlyMap<string, Reading>;
  readonly grist?: Reading; readonly plies?: number; readonly treadling?: Reading; readonly plyingWay: PlyingWay; readonly preparation?: Preparation; readonly fibreForm?: FibreForm; readonly bobbin?: BobbinRead;
}

type Json = Record<string, unknown>;

export function readPlan(question: unknown, out: Notes): Given {
  const r = new Reader(out);
  const q = r.object(question, '', names) ?? {};
  const of = new Map<string, Reading>();
  for (const part of nested) if (q[part] !== undefined) r.object(q[part], `/${part}`, Object.keys(measures).filter((m) => m.startsWith(`${part}/`)).map((m) => m.slice(part.length + 1)));
  for (const [place, [kind, limits]] of Object.entries(measures)) {
    const [key, inner] = place.split('/') as [string, string?];
    const value = inner === undefined ? q[key] : isObject(q[key]) ? q[key][inner] : undefined;
    if (value === undefined) continue;
    const found = kind === 'number' ? r.number(value, `/${place}`, limits) : kind === 'ratio' ? r.ratio(value, `/${place}`, limits) : r.quantity(value, `/${place}`, kind, limits);
    if (found !== undefined) of.set(place, found);
  }
  const grist = q['grist'] === undefined ? undefined : r.read(q['grist'], '/grist', 'grist', { moreThan: 1e-9, atMost: 1, says: 'a yarn' });
  const choice = <T extends string>(key: string, list: readonly T[], aliases: Readonly<Record<string, T>> = {}): T | undefined => (q[key] === undefined ? undefined : r.choice(q[key], `/${key}`, list, aliases));
  const treadling = readTreadling(q, r, out);
  const given = {
    of, grist: grist?.reading, plies: wholePlies(of, grist?.plies, choice('plyingWay', plyingWays), r), treadling, plyingWay: choice('plyingWay', plyingWays) ?? 'strands',
    preparation: choice('preparation', preparations), fibreForm: choice('fibreForm', fibreForms, fibreFormAliases), bobbin: bobbinOf(q, r),
  };
  target(q, of, given.grist !== undefined, r);
  if (q['singlesSample'] !== undefined && given.plies === undefined && of.get('plies') === undefined) r.missing('/plies', 'How many strands the yarn will have', 'such as 2');
  rates(of, treadling, r);
  r.done();
  return given as Given;
}

function wholePlies(of: ReadonlyMap<string, Reading>, told: number | undefined, way: PlyingWay | undefined, r: Reader): number | undefined {
  const given = of.get('plies');
  if (given === undefined) return way === 'chain' ? 3 : told;
  if (isPoint(given) && Number.isInteger(given.value)) {
    if (way === 'chain' && given.value !== 3) return r.fail('/plies', { code: 'out-of-range', detail: 'A chain ply has three strands.', received: String(given.value), expected: '3, or no number at all' });
    return given.value;
  }
  return r.fail('/plies', { code: 'out-of-range', detail: 'Strands are counted in whole numbers.', received: JSON.stringify(given), expected: 'a whole number such as 2' });
}

/** What is wanted, once; and the yarn that it is wanted in. */
function target(q: Json, of: ReadonlyMap<string, Reading>, hasGrist: boolean, r: Reader): void {
  const ways = ['length', 'mass', 'cloth'].filter((key) => q[key] !== undefined);
  if (ways.length > 1) r.fail('', { code: 'one-of', detail: 'What is wanted was given in several ways.', received: ways.join(', '), expected: 'a length of yarn, a weight of yarn, or cloth' });
  if (ways.length === 0) r.missing('/length', 'What you want: a length of yarn, a weight of it, or a size of cloth', 'such as 1300 yd');
  if (ways[0] === 'cloth' && r.issues.length === 0) {
    if (!of.has('cloth/width')) r.missing('/cloth/width', 'How wide the cloth is', 'such as 60 cm');
    if (!of.has('cloth/length')) r.missing('/cloth/length', 'How long the cloth is', 'such as 2 m');
    if (q['swatch'] === undefined) {
      if (!of.has('cloth/warpSett')) r.missing('/cloth/warpSett', 'Woven cloth needs its ends across, knitted cloth a swatch: the ends', 'such as 8 ends/cm');
      if (!of.has('cloth/weftSett')) r.missing('/cloth/weftSett', 'The picks along the cloth', 'such as 8 ends/cm');
    } else for (const key of ['width', 'length', 'yarn'] as const) if (!of.has(`swatch/${key}`)) r.missing(`/swatch/${key}`, key === 'yarn' ? 'How much yarn the swatch took' : `The ${key} of the swatch`, key === 'yarn' ? 'such as 12 m' : 'such as 10 cm');
  }
  if (q['swatch'] !== undefined && q['cloth'] === undefined && r.issues.length === 0) r.missing('/cloth/width', 'The size of the cloth that the swatch is of', 'such as 60 cm');
  const grists = [hasGrist ? 'grist' : '', q['singlesSample'] === undefined ? '' : 'singlesSample'].filter((x) => x !== '');
  if (grists.length > 1) r.fail(`/${grists[1]}`, { code: 'one-of', detail: 'The yarn was given in several ways.', received: grists.join(', '), expected: 'its grist, or a sample of one strand' });
  if (grists.length === 0 && ways[0] !== 'mass' && q['grist'] === undefined) r.missing('/grist', 'The grist of the yarn, or a strand that you have spun and weighed', 'such as 840 yd/lb');
  for (const [part, a, b, what] of [['singlesSample', 'length', 'mass', 'sample'], ['ownYield', 'before', 'after', 'handful']] as const) {
    if (q[part] === undefined) continue;
    for (const key of [a, b]) if (isObject(q[part]) && q[part][key] === undefined) r.missing(`/${part}/${key}`, key === 'before' || key === 'after' ? `The weight of the ${what} ${key}` : `The ${key === 'mass' ? 'weight' : 'length'} of the ${what}`, key === 'length' ? 'such as 20 m' : 'such as 12 g');
  }
  const [before, after] = [of.get('ownYield/before'), of.get('ownYield/after')];
  if (before !== undefined && after !== undefined && extent(after).low > extent(before).high) r.fail('/ownYield/after', { code: 'out-of-range', detail: 'A handful weighs no more after washing or preparing than before.', received: 'more after than before', expected: 'less than before' });
  if (of.has('regainBought') !== of.has('regainRoom')) r.missing(of.has('regainBought') ? '/regainRoom' : '/regainBought', 'For moisture both are needed: as bought and in your room. The other one', 'such as 14 %');
}

function rates(of: ReadonlyMap<string, Reading>, treadling: Reading | undefined, r: Reader): void {
  if ([...of.keys()].some((k) => k.startsWith('pace/'))) {
    if (!of.has('pace/time')) r.missing('/pace/time', 'How long that took', 'such as 30 min');
    if (of.has('pace/length') === of.has('pace/mass')) r.fail('/pace/length', { code: of.has('pace/length') ? 'one-of' : 'missing-field', detail: 'Say what you spun in that time: its length or its weight.', received: of.has('pace/length') ? 'both' : 'neither', expected: 'one of them' });
    if (of.has('hourlyRate')) r.fail('/hourlyRate', { code: 'one-of', detail: 'How fast you spin was given twice.', received: 'hourlyRate, pace', expected: 'one of them' });
  }
  if ((of.has('ratio') && !of.has('twist')) || (of.has('twist') && !of.has('ratio'))) r.missing(of.has('ratio') ? '/twist' : '/ratio', of.has('ratio') ? 'What the twist allows needs the twist too: it' : 'What the twist allows needs the ratio too: it', of.has('ratio') ? 'such as 6 turns/in' : 'such as 9:1');
  if (treadling === undefined && (of.has('ratio') || of.has('draftLength')) && r.issues.length === 0) r.missing('/treadling', 'How fast you treadle', 'such as 60/min');
}

function bobbinOf(q: Json, r: Reader): BobbinRead | undefined {
  if (q['wheelId'] !== undefined) r.fail('/wheelId', { code: 'wheel-not-found', detail: 'A wheel is named by its id only where the library can be asked.', received: typeof q['wheelId'] === 'string' ? q['wheelId'].slice(0, 80) : 'no text', expected: 'the wheel itself, as wheel' });
  const wheel = q['wheel'] === undefined ? undefined : readWheel(r, q['wheel'], '/wheel');
  const wanted = q['bobbin'] === undefined ? undefined : r.text(q['bobbin'], '/bobbin', 80);
  if (wheel === undefined) return wanted === undefined || q['wheel'] !== undefined ? undefined : r.missing('/wheel', 'The wheel that the bobbin belongs to', 'a wheel with its bobbins');
  const list = wheel.bobbins.map((b) => b.name);
  const found = wanted === undefined ? wheel.bobbins[0] : wheel.bobbins.find((b) => b.name === wanted);
  if (wanted === undefined || found !== undefined) return found;
  const near = nearest(wanted, list);
  return r.fail('/bobbin', { code: 'not-known-part', detail: 'This wheel has no bobbin of that name.', received: wanted, expected: list.join(', ') || 'no bobbin was given', ...(near === undefined ? {} : { try: near }) });
}
