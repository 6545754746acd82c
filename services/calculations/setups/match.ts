/** The same yarn on another wheel: a card of what was spun, or a set-up as it is, made into the yarn that is wanted. */
import type { Notes } from '../../foundation/notes.js';
import { ProblemError, type Issue } from '../../foundation/problems.js';
import { nearest, type Reader } from '../../foundation/read.js';
import { middle } from '../../foundation/reading.js';
import { Knowns, expr } from '../../foundation/uncertainty.js';
import { fibreAliases, fibreIds } from '../../reference/fibres.js';
import { preparations, type Wrapping } from '../../reference/wraps.js';
import type { BagTest } from '../bag-test.js';
import type { QIn, RIn, Wheel } from '../../wheels/profile.js';
import type { Drive } from '../../wheels/words.js';
import * as ply from '../ply/answer.js';
import type { Direction } from '../ply/strands.js';
import { readTurns } from '../treadles.js';
import * as twist from '../twist/answer.js';
import * as notes from './notes.js';
import { asked } from './target.js';

/** What a card of a spin holds. What does not bear on the set-up is read past. */
export interface Match {
  wheel?: Wheel; wheelId?: string; cardId?: string; wheelName?: string; drive?: Drive; whorl?: string; bobbin?: string; bobbinEnd?: string; ratio?: RIn; treadlesPerDraw?: RIn; counted?: 'wheel-turns' | 'each-foot'; draftLength?: QIn; draftingStyle?: string;
  singlesGrist?: QIn; wheelFreshTwist?: QIn; finishedTwist?: QIn; plies?: RIn; plyTwist?: QIn; plyDirection?: Direction; direction?: Direction; grist?: QIn; wraps?: QIn; wrapping?: Wrapping; fibre?: string; preparation?: string;
  name?: string; spunOn?: string; member?: string; hours?: QIn; length?: QIn; mass?: QIn; note?: string; bagTest?: BagTest;
}
export const matchNames = ['wheel', 'wheelId', 'cardId', 'wheelName', 'drive', 'whorl', 'bobbin', 'bobbinEnd', 'ratio', 'treadlesPerDraw', 'counted', 'draftLength', 'draftingStyle', 'singlesGrist', 'wheelFreshTwist', 'finishedTwist', 'plies', 'plyTwist', 'plyDirection', 'direction', 'grist', 'wraps', 'wrapping', 'fibre', 'preparation', 'name', 'spunOn', 'member', 'hours', 'length', 'mass', 'note', 'bagTest'] as const;
type Json = Record<string, unknown>;
/** What of the question stands for the yarn; a card gives it instead. */
const given = ['grist', 'wraps', 'wrapping', 'plies', 'twist', 'angle', 'use', 'plyTwist', 'direction'] as const;
const long = /long/;

/** The question with the card's yarn in it. What the question says itself of fibre and spinner goes before the card. */
export function withMatch(q: Json, r: Reader, out: Notes): Json {
  if (q['match'] === undefined) return q;
  const card = r.object(q['match'], '/match', matchNames);
  for (const key of given) if (q[key] !== undefined) r.fail(`/${key}`, { code: 'one-of', detail: 'The yarn was given twice: by itself and by what it is to match.', received: `${key}, match`, expected: 'one of them' });
  if (card?.['cardId'] !== undefined) r.fail('/match/cardId', { code: 'card-not-found', detail: 'A card is named by its id only where the library can be asked.', received: String(card['cardId']).slice(0, 80), expected: 'what the card holds' });
  if (card === undefined || r.issues.length > 0) return q;
  const { match: _, ...rest } = q;
  const turns = readTurns({ ...(card['treadlesPerDraw'] === undefined ? {} : { treadles: card['treadlesPerDraw'] }), ...(card['counted'] === undefined ? {} : { counted: card['counted'] }) }, r, out);
  const spun = card['wheelFreshTwist'] ?? fromWheel(card, r);
  const out2: Json = { ...rest };
  for (const key of ['plies', 'plyTwist', 'direction'] as const) if (card[key] !== undefined) out2[key] = card[key];
  if (spun !== undefined) out2['twist'] = spun;
  if (card['singlesGrist'] !== undefined && spun !== undefined) out2['grist'] = plied(card, spun, r);
  else if (card['grist'] !== undefined) out2['grist'] = card['grist'];
  else if (card['singlesGrist'] !== undefined) out2['grist'] = card['singlesGrist'];
  else if (card['wraps'] !== undefined) Object.assign(out2, { wraps: card['wraps'], ...(card['wrapping'] === undefined ? {} : { wrapping: card['wrapping'] }) });
  else r.missing('/match/singlesGrist', 'How thick the strand was', 'such as 2400 yd/lb');
  const fibre = typeof card['fibre'] === 'string' ? card['fibre'].trim().toLowerCase() : undefined;
  if (out2['fibre'] === undefined && fibre !== undefined) {
    const known = fibreAliases[fibre] ?? (fibreIds.includes(fibre) ? fibre : nearest(fibre, fibreIds));
    if (known !== undefined && (fibreIds.includes(fibre) || fibreAliases[fibre] !== undefined)) out2['fibre'] = known;
  }
  if (out2['preparation'] === undefined && (preparations as readonly unknown[]).includes(card['preparation'])) out2['preparation'] = card['preparation'];
  const isLong = typeof card['draftingStyle'] === 'string' && long.test(card['draftingStyle']);
  if (out2['draftingStyle'] === undefined && isLong) out2['draftingStyle'] = 'long-draw';
  if (out2['draftLength'] === undefined && card['draftLength'] !== undefined) {
    const draw = r.quantity(card['draftLength'], '/match/draftLength', 'part', { moreThan: 1e-3, atMost: 20 });
    const k = new Knowns();
    if (isLong) out2['draftLength'] = card['draftLength'];
    else if (draw !== undefined && turns !== undefined) out2['draftLength'] = asked('part', { value: middle(k.reading(expr((l, n) => l / n, k.input(draw), k.input(turns)))) });
  }
  out.assume(notes.matched);
  return out2;
}

/** The twist that the set-up of the card put in. */
function fromWheel(card: Json, r: Reader): unknown {
  if (card['finishedTwist'] !== undefined && card['draftLength'] === undefined) return card['finishedTwist'];
  const parts = card['ratio'] !== undefined ? { ratio: card['ratio'] } : { ...(card['wheel'] === undefined ? {} : { wheel: card['wheel'] }), ...(card['drive'] === undefined ? {} : { drive: card['drive'] }), ...(card['whorl'] === undefined ? {} : { whorl: card['whorl'] }), ...(card['wheel'] === undefined || card['drive'] !== 'bobbin-lead' || card['bobbin'] === undefined ? {} : { bobbin: card['bobbin'] }) };
  try {
    const { result } = twist.answer({ ...parts, ...(card['draftLength'] === undefined ? {} : { draftLength: card['draftLength'] }), ...(card['treadlesPerDraw'] === undefined ? { wheelTurns: 1 } : { treadles: card['treadlesPerDraw'] }), ...(card['counted'] === undefined ? {} : { counted: card['counted'] }) });
    if (result.twist !== undefined) return result.twist;
    r.missing('/match/whorl', 'Which whorl it was spun on: the wheel has several. Its name', (result.whorls ?? []).map((w) => w.name).join(', ') || 'such as small');
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    const names: Readonly<Record<string, string>> = { '/wheelTurns': '/treadlesPerDraw', '/treadles': '/treadlesPerDraw' };
    for (const { pointer, parameter: __, ...issue } of error.issues as (Issue & { parameter?: string })[]) r.fail(`/match${names[pointer ?? ''] ?? pointer ?? ''}`, { received: 'nothing', expected: 'as said', ...issue });
  }
  return undefined;
}

/** Strands as they were, plied as they were: the grist of the whole. */
function plied(card: Json, spun: unknown, r: Reader): unknown {
  if (card['plies'] === undefined || card['plies'] === 1 || card['plies'] === '1') return card['singlesGrist'];
  try {
    const single = { grist: card['singlesGrist'], twist: spun, direction: card['direction'] ?? 'Z' };
    const first = ply.answer({ plies: card['plies'], singles: [single], ...(card['plyTwist'] === undefined ? {} : { plyTwist: card['plyTwist'] }) }).result;
    return first.plied.grist;
  } catch (error) {
    if (!(error instanceof ProblemError)) throw error;
    for (const { pointer, ...issue } of error.issues) r.fail(`/match${(pointer ?? '').replace('/singles/0/grist', '/singlesGrist').replace('/singles/0/twist', '/wheelFreshTwist')}`, { received: 'nothing', expected: 'as said', ...issue });
    return undefined;
  }
}
