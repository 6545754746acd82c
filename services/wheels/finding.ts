/** What a wheel is found by: told from its profile when it is written, and read from a search. Pure. */
import { problemOf, ProblemError, type Issue } from '../foundation/problems.js';
import { Reader, shown } from '../foundation/read.js';
import { extent, middle, type Reading, type Wire } from '../foundation/reading.js';
import { answer as ratioAnswer } from '../calculations/ratio/answer.js';
import { answer as takeUpAnswer } from '../calculations/take-up/answer.js';
import { readWheel, type Wheel } from './profile.js';
import { driveAliases, driveNames, drives, styles, type Drive, type Style } from './words.js';

export interface Traits {
  readonly keys: readonly string[];
  /** Of each whorl, or of each bobbin groove where the bobbin leads. */
  readonly ratios: readonly { readonly low: number; readonly high: number }[];
  /** Undefined where it cannot be told, and for a spindle, on which the hand winds on. */
  readonly drawsIn?: boolean;
  /** Of the widest, mm. */
  readonly orifice?: number;
  /** On an empty bobbin, of the best pair, as far as it is sure: the most that is drawn in per turn of the wheel, mm, and the softest twist, turns/m. */
  readonly mostDrawnIn?: number;
  readonly leastTwist?: number;
  readonly style?: Style;
  readonly drives: readonly Drive[];
  /** Across the drive wheel's groove, mm. */
  readonly wheelSize?: number;
}
export interface Search { readonly text?: string; readonly style?: Style; readonly drive?: Drive; readonly ratioAtLeast?: number; readonly ratioAtMost?: number; readonly drawsIn?: boolean; readonly orificeAtLeast?: number; /** mm per turn of the wheel. */ readonly drawsInAtLeast?: number; /** turns/m */ readonly twistAtMost?: number }

/** Letters that are no other letter with a mark. */
const letters: Readonly<Record<string, string>> = { æ: 'ae', œ: 'oe', ø: 'o', ß: 'ss', ł: 'l', đ: 'd', ð: 'd', þ: 'th', ı: 'i' };
const longest = 24;
/** Words without accents, capitals and doubled letters: what people leave out first. */
export function wordsOf(text: string): string[] {
  const plain = text.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase().replace(/[æœøßłđðþı]/g, (letter) => letters[letter]!).replace(/['’ʼ]/g, '').replace(/(\p{L})\1+/gu, '$1');
  return (plain.match(/[\p{L}\p{N}]+/gu) ?? []).map((word) => Array.from(word).slice(0, longest).join(''));
}

const without = (word: string): string[] => { const signs = Array.from(word); return signs.map((_, i) => signs.filter((__, j) => j !== i).join('')); };
/** A word with one, and with two letters left out; short words and numbers are taken as they are. */
function shortened(word: string): [string[], string[]] {
  const length = Array.from(word).length;
  if (length < 4 || /\p{N}/u.test(word)) return [[], []];
  const one = [...new Set(without(word))];
  return [one, length < 7 ? [] : [...new Set(one.flatMap(without))]];
}
// The sign before a key: 0 the word itself, 1 and 2 so many letters left out, p a beginning, s the style, d a drive.
/** Words beyond so many are found as they are spelt. */
const forgiven = 60;
function keysOf(words: readonly string[]): string[] {
  const keys = new Set<string>();
  [...new Set(words)].forEach((word, i) => {
    keys.add(`0${word}`);
    const signs = Array.from(word);
    for (let n = 3; n <= signs.length; n++) keys.add(`p${signs.slice(0, n).join('')}`);
    if (i >= forgiven) return;
    const [one, two] = shortened(word);
    for (const less of one) keys.add(`1${less}`);
    for (const less of two) keys.add(`2${less}`);
  });
  return [...keys];
}
/** Keys of which a wheel has at least one when it has this word, its beginning, or it misspelt: one letter wrong or two left out or too many. */
export function keysWanted(word: string): string[] {
  const [one, two] = shortened(word);
  return [`0${word}`, `1${word}`, `2${word}`, ...(Array.from(word).length < 3 ? [] : [`p${word}`]), ...one.flatMap((less) => [`0${less}`, `1${less}`]), ...two.map((less) => `0${less}`)];
}
export const styleKey = (style: Style): string => `s${style}`;
export const driveKey = (drive: Drive): string => `d${drive}`;

const ends = (wire: Wire): { low: number; high: number } => ('value' in wire ? { low: wire.value, high: wire.value } : { low: wire.low ?? 0, high: wire.high ?? wire.low ?? 0 });

/** `profile`: the effective one. */
export function traitsOf(profile: Wheel): Traits {
  const read = readWheel(new Reader(), profile, '');
  const own = [...new Set((profile.modes ?? []).map((mode) => mode.drive))].map((drive) => driveAliases[drive] ?? drive);
  const ratios = new Map<string, { low: number; high: number }>();
  const draws: boolean[] = [];
  const [most, twists]: [number[], number[]] = [[], []];
  // A core that was taken for granted tells nothing of this wheel.
  const bobbins = (profile.bobbins ?? []).filter((bobbin) => bobbin.coreDiameter !== undefined);
  for (const drive of own.length === 0 ? [undefined] : own) {
    try {
      const { result } = ratioAnswer({ wheel: profile, ...(drive === undefined ? {} : { drive }) });
      const each = (result.whorls ?? []).length > 0 ? result.whorls!.map((whorl) => whorl.flyerRatio) : result.bobbins.map((bobbin) => bobbin.bobbinRatio);
      for (const { low, high } of each.map(ends)) ratios.set(`${low} ${high}`, { low, high });
      for (const pair of result.pairs) draws.push(pair.drawIn !== 'too-close-to-say');
    } catch (error) {
      // A profile need not be whole: what cannot be reckoned yet is not searched by.
      if (!(error instanceof ProblemError)) throw error;
    }
    try {
      if (bobbins.length > 0) for (const { fill: [empty] } of takeUpAnswer({ wheel: { ...profile, bobbins }, steps: 2, ...(drive === undefined ? {} : { drive }) }).result.pairs) {
        if (empty?.mostDrawnInPerWheelTurn !== undefined) most.push(ends(empty.mostDrawnInPerWheelTurn).low);
        if (empty?.leastTwist !== undefined) twists.push(ends(empty.leastTwist).high);
      }
    } catch (error) {
      // As above.
      if (!(error instanceof ProblemError)) throw error;
    }
    // A braked bobbin or flyer lags behind by itself.
    if (drive === 'flyer-lead' || drive === 'bobbin-lead' || drive === 'electric') draws.push(true);
  }
  const orifices = (read?.flyers ?? []).flatMap((flyer) => (flyer.orifice === undefined ? [] : [extent(flyer.orifice).high * 1000])).filter(Number.isFinite);
  const style = read?.style;
  const size = read?.driveWheel === undefined ? undefined : middle(read.driveWheel.size) * (read.driveWheel.measure === 'diameter' ? 1 : 1 / Math.PI) * 1000;
  const names = [profile.name, style, ...own.map((drive) => driveNames[drive]), ...(profile.whorls ?? []).map((w) => w.name), ...(profile.bobbins ?? []).map((b) => b.name), ...(profile.flyers ?? []).map((f) => f.name)];
  return {
    keys: [...keysOf(wordsOf(names.join(' '))), ...(style === undefined ? [] : [styleKey(style)]), ...own.map(driveKey)],
    ratios: [...ratios.values()], ...(draws.length === 0 ? {} : { drawsIn: draws.includes(true) }), ...(orifices.length === 0 ? {} : { orifice: Math.max(...orifices) }),
    ...(most.length === 0 ? {} : { mostDrawnIn: Math.max(...most) }), ...(twists.length === 0 ? {} : { leastTwist: Math.min(...twists) }), ...(style === undefined ? {} : { style }), drives: own, ...(size === undefined || !Number.isFinite(size) ? {} : { wheelSize: size }),
  };
}

export const searchNames = ['text', 'style', 'drive', 'ratioAtLeast', 'ratioAtMost', 'drawsIn', 'orificeAtLeast', 'drawsInAtLeast', 'twistAtMost'] as const;
/** Whose wheels. Throws a problem that names the parameter. */
export function readOf(of: string | undefined): 'public' | 'guild' | undefined {
  if (of === undefined || of === 'public' || of === 'guild') return of;
  throw problemOf([{ parameter: 'of', code: 'unknown-choice', detail: 'Wheels of everybody, or of the own guild.', received: shown(of), expected: 'public or guild' }]);
}
const mostWords = 8;
/** Throws a problem that names each parameter that cannot be read. Undefined: nothing is asked for. */
export function readSearch(query: Readonly<Record<string, string | undefined>>): Search | undefined {
  if (!searchNames.some((name) => query[name] !== undefined)) return undefined;
  const reader = new Reader();
  const { text, style, drive, ratioAtLeast, ratioAtMost, drawsIn, orificeAtLeast, drawsInAtLeast, twistAtMost } = query;
  const words = text === undefined ? [] : wordsOf(text);
  if (text !== undefined && (words.length === 0 || words.length > mostWords)) reader.fail('text', { code: 'out-of-range', detail: 'A search takes 1 to 8 words, of letters or numbers.', received: shown(text), expected: 'words of a name, such as saxony' });
  const ratio = (value: string | undefined, at: string): Reading | undefined => (value === undefined ? undefined : reader.ratio(value, at, { moreThan: 0, atMost: 1e4 }));
  const [low, high] = [ratio(ratioAtLeast, 'ratioAtLeast'), ratio(ratioAtMost, 'ratioAtMost')];
  const orifice = orificeAtLeast === undefined ? undefined : reader.quantity(orificeAtLeast, 'orificeAtLeast', 'part', { atLeast: 0 });
  const most = drawsInAtLeast === undefined ? undefined : reader.quantity(drawsInAtLeast, 'drawsInAtLeast', 'part', { atLeast: 0 });
  const twist = twistAtMost === undefined ? undefined : reader.quantity(twistAtMost, 'twistAtMost', 'twist', { atLeast: 0 });
  const wantedStyle = style === undefined ? undefined : reader.choice(style, 'style', styles);
  const wantedDrive = drive === undefined ? undefined : reader.choice(drive, 'drive', drives, driveAliases);
  if (drawsIn !== undefined && drawsIn !== 'true' && drawsIn !== 'false') reader.fail('drawsIn', { code: 'unknown-choice', detail: 'A wheel draws in, or it does not.', received: shown(drawsIn), expected: 'true or false' });
  if (low !== undefined && high !== undefined && middle(low) > middle(high)) reader.fail('ratioAtMost', { code: 'out-of-range', detail: 'The highest ratio is lower than the lowest.', received: shown(ratioAtMost), expected: `at least ${shown(ratioAtLeast)}` });
  if (reader.issues.length > 0) throw problemOf(reader.issues.map(({ pointer, ...issue }): Issue => ({ ...issue, parameter: pointer!.replace(/^\//, '') })));
  return {
    ...(text === undefined ? {} : { text: words.join(' ') }), ...(wantedStyle === undefined ? {} : { style: wantedStyle }), ...(wantedDrive === undefined ? {} : { drive: wantedDrive }),
    ...(low === undefined ? {} : { ratioAtLeast: middle(low) }), ...(high === undefined ? {} : { ratioAtMost: middle(high) }),
    ...(drawsIn === undefined ? {} : { drawsIn: drawsIn === 'true' }), ...(orifice === undefined ? {} : { orificeAtLeast: middle(orifice) * 1000 }),
    ...(most === undefined ? {} : { drawsInAtLeast: middle(most) * 1000 }), ...(twist === undefined ? {} : { twistAtMost: middle(twist) }),
  };
}
