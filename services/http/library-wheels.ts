/** Puts several wheels of the library into a question: by their ids, or all that a search finds; and a card, or the wheel of a set-up, that is to be matched. */
import type { FastifyRequest } from 'fastify';
import { ProblemError, problemOf } from '../foundation/problems.js';
import { isObject, Reader, shown } from '../foundation/read.js';
import { drives, driveAliases, styles, type Drive, type Style } from '../wheels/words.js';
import type { Wheel } from '../wheels/profile.js';

export interface ListedWheel { readonly id: string; readonly profile: Wheel }
export interface WheelSearch { readonly of: 'public' | 'guild'; readonly name?: string; readonly style?: Style; readonly drive?: Drive }
/** What of the library a question may name beside one wheel, for whoever asks. */
export interface FindSeveral {
  (id: string, request: FastifyRequest): Promise<{ readonly profile: unknown }>;
  /** What a card of the library holds. Throws `card-not-found`. */
  card(id: string, request: FastifyRequest): Promise<Readonly<Record<string, unknown>>>;
  /** At most `most`; more are refused, with what to narrow. Throws `unauthorized`, `library-unavailable` or `too-many`. */
  search(wanted: WheelSearch, most: number, request: FastifyRequest): Promise<readonly ListedWheel[]>;
}
/** As many as one question takes. */
const mostWheels = 500;
type Json = Record<string, unknown>;

export const namesSeveral = (question: Json): boolean => question['wheelIds'] !== undefined || question['library'] !== undefined || (isObject(question['match']) && (question['match']['wheelId'] !== undefined || question['match']['cardId'] !== undefined));

/** The question with the library's wheels in place of their ids. `takes` are the names that the calculation reads. */
export async function withSeveral(question: Json, request: FastifyRequest, find: FindSeveral, takes: ReadonlySet<string>): Promise<Json> {
  let whole = question;
  if (isObject(whole['match']) && whole['match']['cardId'] !== undefined && takes.has('match')) {
    const { cardId, ...rest } = whole['match'];
    if (Object.keys(rest).length > 0) throw new ProblemError('one-of', undefined, { issues: [{ pointer: '/match/cardId', code: 'one-of', detail: 'What is to be matched was given twice: as a card of the library and by itself.', received: `cardId, ${Object.keys(rest).join(', ')}`, expected: 'one of them' }] });
    whole = { ...whole, match: await find.card(textOf(cardId, '/match/cardId', 'card'), request) };
  }
  if (isObject(whole['match']) && whole['match']['wheelId'] !== undefined && takes.has('match')) {
    const { wheelId, ...card } = whole['match'];
    if (card['wheel'] !== undefined) throw twice('/match/wheelId', 'wheel, wheelId');
    whole = { ...whole, match: { ...card, wheel: (await find(textOf(wheelId, '/match/wheelId'), request)).profile } };
  }
  if (takes.has('wheels')) {
    if (whole['wheelIds'] !== undefined) {
      const { wheelIds, ...rest } = whole;
      if (['wheel', 'wheels', 'library'].some((key) => rest[key] !== undefined)) throw twice('/wheelIds', 'wheelIds, and wheels otherwise');
      const r = new Reader();
      const ids = r.list(wheelIds, '/wheelIds', mostWheels, 'wheels') ?? [];
      r.done();
      const wheels: Json[] = [];
      for (const [i, id] of ids.entries()) wheels.push({ wheelId: id, wheel: (await find(textOf(id, `/wheelIds/${i}`), request)).profile });
      whole = { ...rest, wheels };
    }
    if (whole['library'] !== undefined) {
      const { library, ...rest } = whole;
      if (['wheel', 'wheels'].some((key) => rest[key] !== undefined)) throw twice('/library', 'library, and wheels otherwise');
      const found = await find.search(readSearch(library), mostWheels, request);
      if (found.length === 0) throw problemOf([{ pointer: '/library', code: 'wheel-not-found', detail: 'No wheel of the library is like that.', received: shown(library), expected: 'a search that finds wheels, as GET /v1/wheels lists them' }]);
      whole = { ...rest, wheels: found.map(({ id, profile }) => ({ wheelId: id, wheel: profile })) };
    }
  }
  return whole;
}

const twice = (pointer: string, received: string): ProblemError => new ProblemError('one-of', undefined, { issues: [{ pointer, code: 'one-of', detail: 'The wheel was given twice: as wheel and as wheelId.', received, expected: 'one of them' }] });
function textOf(value: unknown, pointer: string, what = 'wheel'): string {
  if (typeof value === 'string') return value;
  throw new ProblemError('wrong-type', undefined, { issues: [{ pointer, code: 'wrong-type', detail: `The id of a ${what} is text.`, received: shown(value), expected: `the id of a ${what}` }] });
}

function readSearch(value: unknown): WheelSearch {
  const r = new Reader();
  const o = r.object(value, '/library', ['of', 'name', 'style', 'drive']) ?? {};
  const of = o['of'] === undefined ? 'public' : (r.choice(o['of'], '/library/of', ['public', 'guild'] as const) ?? 'public');
  const name = o['name'] === undefined ? undefined : r.text(o['name'], '/library/name', 120);
  const style = o['style'] === undefined ? undefined : r.choice(o['style'], '/library/style', styles);
  const drive = o['drive'] === undefined ? undefined : r.choice(o['drive'], '/library/drive', drives, driveAliases);
  r.done();
  return { of, ...(name === undefined ? {} : { name }), ...(style === undefined ? {} : { style }), ...(drive === undefined ? {} : { drive }) };
}
