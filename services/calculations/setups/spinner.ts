/** The spinner: how fast she treadles, how long she likes to draft and in which way, and the pull she likes. */
import type { Notes } from '../../foundation/notes.js';
import type { Reader } from '../../foundation/read.js';
import { extent, isPoint, middle, type Reading } from '../../foundation/reading.js';
import { readTreadling } from '../treadles.js';
import * as notes from './notes.js';
import type { Target } from './target.js';

export const draftingStyles = ['short-draw', 'long-draw'] as const;
export type DraftingStyle = (typeof draftingStyles)[number];
export interface Spinner {
  /** Turns of the wheel in a second. */
  readonly treadling: Reading;
  /** For one turn of the wheel, m. */
  readonly low: number; readonly high: number;
  /** One make of long draw, m. */
  readonly make?: number;
  readonly duty?: Reading;
  /** What goes on to tension as it is. */
  readonly forces: Readonly<Record<string, unknown>>;
}
type Json = Readonly<Record<string, unknown>>;
const gram = 0.00980665;
/** Fewest and most treadles of a comfortable make. */
const makeTurns = { low: 2, high: 20 } as const;

/** Usual lengths by grist, kg/m. Common practice. */
const usualDrafts = [{ below: 40e-6, low: 0.02, high: 0.04, says: '2 to 4 cm for a treadle' }, { below: 400e-6, low: 0.035, high: 0.075, says: '3.5 to 7.5 cm for a treadle' }, { below: Infinity, low: 0.08, high: 0.15, says: '8 to 15 cm for a treadle' }] as const;
const usualBorne = [{ below: 50e-6, pull: 30 }, { below: 150e-6, pull: 60 }, { below: 350e-6, pull: 100 }, { below: Infinity, pull: 150 }] as const;

export function readSpinner(q: Json, target: Target, r: Reader, out: Notes): Spinner {
  const treadling = readTreadling(q, r, out) ?? (q['treadling'] === undefined ? (out.assume(notes.treadlingTaken), { value: 1 }) : { value: 1 });
  const style = q['draftingStyle'] === undefined ? 'short-draw' : (r.choice(q['draftingStyle'], '/draftingStyle', draftingStyles, { worsted: 'short-draw', 'short-forward': 'short-draw', 'short-backward': 'short-draw', woollen: 'long-draw', 'supported-long-draw': 'long-draw' }) ?? 'short-draw');
  const draft = q['draftLength'] === undefined ? undefined : r.quantity(q['draftLength'], '/draftLength', 'part', { moreThan: 1e-3, atMost: 5, says: 'from 1 mm to 5 m' });
  const duty = q['duty'] === undefined ? undefined : r.quantity(q['duty'], '/duty', 'share', { moreThan: 0, atMost: 1 });
  const grist = middle(target.strand.grist);
  const lengths = comfortable(draft, style, grist, out);
  const borne = target.about['fibre'] === 'cotton' ? 30 : usualBorne.find((x) => grist < x.below)!.pull;
  if (q['pullBorne'] === undefined) out.assume(notes.borneByGrist);
  const forces = {
    ...(q['pull'] === undefined ? {} : { pullNeeded: q['pull'] }), pullBorne: q['pullBorne'] ?? { value: borne, unit: 'gf' },
    ...(q['hookFactor'] === undefined ? {} : { hookFactor: q['hookFactor'] }), ...(q['bagTest'] === undefined ? {} : { bagTest: q['bagTest'] }),
  };
  for (const [key, of] of [['pull', 'pullNeeded'], ['pullBorne', 'pullBorne']] as const) if (q[key] !== undefined) { void of; r.quantity(q[key], `/${key}`, 'pull', { moreThan: 0, atMost: 100 * gram * 1000 }); }
  return { treadling, ...lengths, ...(duty === undefined ? {} : { duty }), forces };
}

function comfortable(draft: Reading | undefined, style: DraftingStyle, grist: number, out: Notes): { low: number; high: number; make?: number } {
  if (style === 'long-draw') {
    if (draft === undefined) out.assume(notes.draftTaken('a make of 60 to 90 cm'));
    const make = draft === undefined ? 0.75 : middle(draft);
    out.assume(notes.makeTurns);
    return { low: make / makeTurns.high, high: make / makeTurns.low, make };
  }
  if (draft === undefined) {
    const usual = usualDrafts.find((x) => grist < x.below)!;
    out.assume(notes.draftTaken(usual.says));
    return { low: usual.low, high: usual.high };
  }
  const { low, high } = extent(draft);
  if (!isPoint(draft) || high > low) return { low: Number.isFinite(low) ? Math.max(low, 1e-3) : 1e-3, high: Number.isFinite(high) ? high : low * 3 };
  out.assume(notes.draftNear);
  return { low: draft.value * 0.75, high: draft.value * 1.25 };
}
