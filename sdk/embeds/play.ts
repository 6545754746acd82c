/**
 * A wheel to play with: turned by hand, its bobbin as full as one likes. What the pair draws in, and the window of band or
 * brake, are those of the calculations at that fill. Pure: the same on the page without scripts and in it.
 */
import { drawChart, type Frame, type Line } from '../../services/foundation/chart.js';
import { lineTo, picture, textAt } from '../../services/foundation/drawing.js';
import { labels } from '../../services/foundation/labels.js';
import { fromSI, metric, outUnit, type Kind } from '../../services/foundation/quantity.js';
import { extent, middle, wire, type Reading } from '../../services/foundation/reading.js';
import { said } from '../../services/foundation/telling.js';
import { expr, type Expr } from '../../services/foundation/uncertainty.js';
import { solve as solveTakeUp, ceilings, type Solved as TakeUp, type SolvedPair } from '../../services/calculations/take-up/answer.js';
import { diameterAt } from '../../services/calculations/take-up/formula.js';
import { solve as solveTension, windowAt, type Part, type Solved as Tension } from '../../services/calculations/tension/answer.js';
import type { State } from '../../services/calculations/tension/window.js';
import { wheels } from '../../services/wheels/thornmere.js';
import { drawPlay } from './play-picture.js';

/** Wheels whose every part that is drawn was measured. */
export const playable = ['thornmere-4', 'thornmere-12', 'thornmere-15', 'thornmere-1', 'thornmere-20', 'thornmere-9', 'thornmere-castle'] as const;
export const playableWheels = playable.map((id) => ({ id, name: wheels[id]!.name ?? id }));
/** What a bag test at such a wheel may find; without one the window cannot be said. */
export const bagTest = { lifts: '15 g', pullsOff: '60 g' } as const;
export const mostTurns = 20;

export interface Play {
  readonly wheel: string;
  /** Which whorl with which bobbin. */
  readonly pair: number;
  /** 0 empty, 1 full. */
  readonly full: number;
  readonly turns: number;
}
export interface Played {
  readonly picture: string;
  readonly facts: readonly (readonly [string, string])[];
  readonly sentence: string;
  readonly pairs: readonly string[];
}
interface Opened { readonly takeUp: TakeUp; readonly tension: Tension; readonly kind: Kind; readonly lines: Map<number, { window: readonly [Line, Line]; drawn: Line | undefined }> }

const opened = new Map<string, Opened>();
function open(id: string): Opened {
  let o = opened.get(id);
  if (o === undefined) {
    const wheel = wheels[id];
    const tension = solveTension({ wheel, bagTest });
    opened.set(id, (o = { takeUp: solveTakeUp({ wheel }), tension, kind: tension.train.drive === 'double-drive' ? 'band-tension' : 'torque', lines: new Map() }));
  }
  return o;
}

/** A part whose name says what it is needs no more. */
const called = (part: string, name: string): string => (name.includes(part) ? name : `${part} ${name}`);
const nameOf = (p: SolvedPair): string => [p.whorl === undefined ? undefined : called('whorl', p.whorl.name), called('bobbin', p.bobbin.name), p.bobbin.pulley === undefined || p.bobbin.read.grooves.length < 2 ? undefined : p.bobbin.pulley.groove].filter((x) => x !== undefined).join(', ');
const at = (p: SolvedPair, fill: number): Expr => expr((core, full) => diameterAt({ core, full, fill }), p.pack.core, p.pack.full);

/** The same through the tension's own unknowns, which are not those of the take-up. */
const ofPart = (p: Part, fill: number): Expr => expr((core, full) => diameterAt({ core, full, fill }), p.core, p.full);

const steps = 20;
/** Both charts of a pair, from the empty bobbin to the full one: worked out once. */
function linesOf(o: Opened, pair: number, p: SolvedPair, part: Part): { window: readonly [Line, Line]; drawn: Line | undefined } {
  let found = o.lines.get(pair);
  if (found !== undefined) return found;
  const over = (label: string, mark: Line['mark'], kind: Kind, pick: (fill: number) => Reading | undefined): Line | undefined => {
    const points = Array.from({ length: steps + 1 }, (_, i) => {
      const r = pick(i / steps);
      if (r === undefined) return undefined;
      const { low, high } = extent(r);
      const [a, b] = [low, high].map((x) => fromSI(Math.max(0, x), outUnit(kind, metric))) as [number, number];
      return { x: i / steps, y: (a + b) / 2, low: a, high: b };
    });
    return points.some((x) => x === undefined) ? undefined : { label, mark, points: points as Line['points'] };
  };
  const k = o.takeUp.train.knowns;
  const windowOf = (fill: number): ReturnType<typeof windowAt> => windowAt(o.tension, part, ofPart(part, fill), ofPart(part, fill));
  found = {
    window: [over('draws in', 'madder', o.kind, (fill) => windowOf(fill).low)!, over('is borne', 'woad', o.kind, (fill) => windowOf(fill).high)!],
    drawn: over('at most', 'weld', 'part', (fill) => { const { most } = ceilings(o.takeUp, p, at(p, fill)); return most === undefined ? undefined : k.reading(most); }),
  };
  o.lines.set(pair, found);
  return found;
}

const stateWords: Readonly<Record<State, string>> = {
  open: 'Between the two lines the setting is right: enough to draw the yarn in, no more than yarn and hand bear.',
  closed: 'No setting is right here: what draws the yarn in is more than yarn and hand bear.',
  'too-close-to-say': 'Whether there is a right setting here cannot be said from these measures alone. A bag test at the wheel would tell.',
};

/** What is seen and said. What is not a wheel, a pair or a fill of ours is taken as the nearest that is. */
export function play(asked: Play): Played {
  const id = (playable as readonly string[]).includes(asked.wheel) ? asked.wheel : playable[0];
  const o = open(id);
  const { takeUp, tension } = o;
  const pair = takeUp.pairs[asked.pair] === undefined ? 0 : asked.pair;
  const [p, part] = [takeUp.pairs[pair]!, tension.parts[pair]!];
  const within = (x: number, most: number): number => (Number.isFinite(x) ? Math.min(Math.max(x, 0), most) : 0);
  const [full, turns] = [within(asked.full, 1), within(asked.turns, mostTurns)];
  const k = takeUp.train.knowns;
  const d = at(p, full);
  const text = (kind: Kind | 'ratio' | 'number', e: Expr): string => said(wire(kind, k.reading(e)));
  const value = (e: Expr | undefined): number | undefined => (e === undefined ? undefined : middle(k.reading(e)));
  const { most, least } = ceilings(takeUp, p, d);
  const window = windowAt(tension, part, ofPart(part, full), ofPart(part, full));
  const [flyer, bobbin] = [p.whorl?.ratio, p.bobbin.pulley?.ratio];
  const ofTension = (r: Reading): string => { const { low, high } = extent(r); return high <= 0 ? 'nothing' : said(wire(o.kind, low < 0 ? { low: 0, high } : r)); };
  const setting = o.kind === 'torque' ? 'Brake' : 'Band tension';
  const facts: (readonly [string, string])[] = [
    ...(flyer === undefined ? [] : [[labels['flyerRatio']!, text('ratio', flyer)] as const]),
    ...(bobbin === undefined ? [] : [[labels['bobbinRatio']!, text('ratio', bobbin)] as const]),
    [labels['woundDiameter']!, text('part', d)],
    ...(most === undefined ? [] : [['Drawn in at most, for one wheel turn', text('part', most)] as const]),
    ...(least === undefined ? [] : [['Softest twist it can make now', text('twist', least)] as const]),
    [`${setting}: draws in from`, ofTension(window.low)],
    [`${setting}: borne up to`, ofTension(window.high)],
  ];

  const { window: lines, drawn } = linesOf(o, pair, p, part);
  const train = drawPlay({
    train: takeUp.train, turns, core: value(p.pack.core)!, end: value(p.pack.full)!, wound: value(d)!,
    ...(p.whorl === undefined ? {} : { whorl: p.whorl }), ...(p.bobbin.pulley === undefined ? {} : { bobbin: p.bobbin.pulley }),
    ...(flyer === undefined ? {} : { flyerTurns: value(flyer)! * turns }), ...(bobbin === undefined ? {} : { bobbinTurns: value(bobbin)! * turns }),
  });
  let y = train.bottom + 26;
  let body = train.body;
  const ticks = [{ x: 0, label: 'empty' }, { x: 0.5, label: 'half' }, { x: 1, label: 'full' }];
  const chart = (title: string, kind: Kind, shown: readonly Line[], between?: readonly [Line, Line]): void => {
    const u = outUnit(kind, metric);
    const frame: Frame = { x: 14, y, width: 452, height: 138, labels: 74 };
    const x = frame.x + 44 + full * (frame.width - 44 - frame.labels);
    body += drawChart({ title, unit: u.spoken ?? u.name, ticks, lines: shown, levels: [], ...(between === undefined ? {} : { between }) }, frame)
      + lineTo(x, y + 20, x, y + frame.height, 'wg-ink', 2.5) + textAt(x, y + frame.height + 36, 'now', { anchor: 'middle', as: 'wg-strong' });
    y += frame.height + 58;
  };
  chart(`${setting} as it fills`, o.kind, lines, lines);
  if (drawn !== undefined) chart('Drawn in for one wheel turn', 'part', [drawn]);
  const sentence = stateWords[window.state];
  const name = wheels[id]!.name ?? id;
  return {
    pairs: takeUp.pairs.map(nameOf), facts, sentence,
    picture: picture({ width: 480, height: y - 14, title: `${name}: ${nameOf(p)}`, described: `${facts.map(([a, b]) => `${a}: ${b}.`).join(' ')} ${sentence}`, body }),
  };
}
