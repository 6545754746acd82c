/** A card opened again as the input of a calculation: the same question by link, on a page and as JSON. Pure. */
import { answer as ratioAnswer } from '../calculations/ratio/answer.js';
import { ProblemError } from '../foundation/problems.js';
import { isObject } from '../foundation/read.js';
import { fibreAliases, fibreIds } from '../reference/fibres.js';
import { preparations } from '../reference/wraps.js';
import { written } from '../wheels/flat.js';
import type { QIn } from '../wheels/profile.js';
import type { Card } from './card.js';

/** `title`: what it answers, for a person. `page` where there is one for people. */
export interface Opens { readonly calculation: string; readonly title: string; readonly link: string; readonly page?: string }
type Flat = Record<string, string>;

/** A measure as a link has it: a rectangular half-width as the ± of the same standard uncertainty (JCGM 100, 4.3.7). */
function typed(v: unknown): string | undefined {
  if (v === undefined) return undefined;
  if (isObject(v) && typeof v['limits'] === 'number' && v['text'] === undefined) {
    const { limits, ...rest } = v;
    return written({ ...rest, plusMinus: Number(((2 * limits) / Math.sqrt(3)).toPrecision(6)) } as QIn);
  }
  return written(v as QIn);
}
const only = (flat: Record<string, string | undefined>): Flat => Object.fromEntries(Object.entries(flat).filter(([, v]) => v !== undefined)) as Flat;
/** `±` cannot stand in an address as it is; `/-` is read as it. */
const query = (flat: Flat): string => new URLSearchParams(Object.entries(flat).map(([k, v]): [string, string] => [k, v.replaceAll('±', '/-')])).toString();

/** What of the fibre and its preparation a calculation knows by name. */
function stuff(card: Card): Flat {
  const known = (text: unknown): string => (typeof text === 'string' ? text.trim().toLowerCase().replace(/\s+/g, '-') : '');
  const fibre = known(card['fibre']);
  const id = fibreIds.includes(fibre) ? fibre : Object.hasOwn(fibreAliases, fibre) ? fibreAliases[fibre] : undefined;
  const preparation = (preparations as readonly string[]).find((p) => p === known(card['preparation']));
  return only({ fibre: id, preparation });
}

/** `ratio`: that of the card's whorl on the library's wheel, where the card names none. */
export function opensOf(card: Card, ratio?: string): Opens[] {
  const of = (key: string): string | undefined => typed(card[key]);
  const list: Opens[] = [];
  const open = (calculation: string, title: string, flat: Flat): void => { list.push({ calculation, title, link: `/v1/${calculation}?${query(flat)}`, page: `/calculate/${calculation}?${query(flat)}` }); };
  const plies = Number(card['plies'] ?? 1);
  const turned = of('ratio') ?? ratio;
  const single = of('singlesGrist') ?? (plies === 1 ? of('grist') : undefined);

  // Any three of ratio, treadles, length and twist give the fourth; all four would only be compared.
  const treadles: Flat = card['treadlesPerDraw'] === undefined ? {} : card['counted'] === 'each-foot' ? { treadles: of('treadlesPerDraw')!, counted: 'each-foot' } : { wheelTurns: of('treadlesPerDraw')! };
  const three = only({ ratio: turned, ...treadles, draftLength: of('draftLength') });
  const known = [turned, treadles['wheelTurns'] ?? treadles['treadles'], of('draftLength')].filter((x) => x !== undefined).length;
  const more = only({ grist: single, direction: of('direction') });
  if (known === 3) open('twist', 'Twist of the single, and what other treadling or another ratio would do', { ...three, ...more });
  else if (known === 2 && of('wheelFreshTwist') !== undefined) open('twist', 'What is missing of ratio, treadles and length for this twist', { ...three, twist: of('wheelFreshTwist')!, ...more });

  const weighed = of('length') !== undefined && of('mass') !== undefined ? only({ length: of('length'), mass: of('mass') }) : undefined;
  const wrapped = of('wraps') === undefined ? undefined : only({ wraps: of('wraps'), wrapping: of('wrapping') });
  const way = of('grist') !== undefined ? { grist: of('grist')! } : (weighed ?? wrapped);
  if (way !== undefined) open('grist', 'Its grist in every yarn number', { ...way, ...stuff(card), ...(plies > 1 ? { plies: String(plies) } : {}) });

  if (plies > 1 && (single !== undefined || of('grist') !== undefined)) {
    open('ply', 'Its singles, ply and balance', only({
      plies: String(plies), ...(single === undefined ? { plyGrist: of('grist') } : { singlesGrist: single }), singlesTwist: of('wheelFreshTwist'), singlesDirection: of('direction'), plyTwist: of('plyTwist'), plyDirection: of('plyDirection'),
    }));
  }
  if (of('length') !== undefined && of('grist') !== undefined) open('plan', 'What as much of it again would take', only({ length: of('length'), grist: of('grist'), plies: String(plies) }));
  if (card.wheelId !== undefined) {
    const wheel = `/v1/wheels/${encodeURIComponent(card.wheelId)}`;
    const drive = only({ drive: of('drive') });
    list.push({ calculation: 'ratio', title: 'Ratios of this wheel', link: `${wheel}/ratio${drive['drive'] === undefined ? '' : `?${query(drive)}`}`, page: `/wheels/${encodeURIComponent(card.wheelId)}` });
    if (card.bagTest !== undefined) {
      list.push({ calculation: 'tension', title: 'Its setting by the bag test, on this wheel', link: `${wheel}/tension?${query(only({ ...drive, bagLifts: typed(card.bagTest.lifts), bagPullsOff: typed(card.bagTest.pullsOff), bagDiameter: typed(card.bagTest.woundDiameter) }))}` });
    }
  }
  return list;
}

/** The ratio of the card’s whorl (on a bobbin-lead wheel: of its bobbin) on this wheel, as text; undefined where it cannot be said. */
export function ratioOf(card: Card, profile: unknown): string | undefined {
  try {
    const { whorls, bobbins } = ratioAnswer({ wheel: profile, ...(card['drive'] === undefined ? {} : { drive: card['drive'] }) }).result;
    const pick = <T extends { name: string }>(list: readonly T[], name: unknown): T | undefined => (name === undefined ? (list.length === 1 ? list[0] : undefined) : list.find((p) => p.name === name));
    const ratio = whorls === undefined ? pick(bobbins.filter((b) => card['bobbinEnd'] === undefined || b.groove === card['bobbinEnd']), card['bobbin'])?.bobbinRatio : pick(whorls, card['whorl'])?.flyerRatio;
    if (ratio === undefined) return undefined;
    const end = (x: number): string => String(Number(x.toPrecision(8)));
    if ('value' in ratio) return `${end(ratio.value)}${ratio.plusMinus === undefined ? '' : ` ± ${end(ratio.plusMinus)}`}`;
    return 'low' in ratio && ratio.low !== undefined && ratio.high !== undefined ? `${end(ratio.low)}-${end(ratio.high)}` : undefined;
  } catch (error) {
    if (error instanceof ProblemError) return undefined;
    throw error;
  }
}
