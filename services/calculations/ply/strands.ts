/** The strands of a ply as they are asked: one entry for all alike, or one for each. */
import { shown, type Reader } from '../../foundation/read.js';
import type { Kind } from '../../foundation/quantity.js';
import { isPoint } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { QIn } from '../../wheels/profile.js';
import { twistOfAngle } from '../twist/formula.js';

export type Direction = 'S' | 'Z';
export interface Single { name?: string; grist?: QIn; length?: QIn; mass?: QIn; twist?: QIn; direction?: Direction; angle?: QIn; diameter?: QIn }
export const constructions = ['plied', 'chain', 'cable'] as const;
export type Construction = (typeof constructions)[number];
export const mostPlies = 48;

export interface Strand {
  readonly name: string; readonly at: string; readonly grist?: Expr; readonly length?: Expr; readonly mass?: Expr; readonly twist?: Expr; readonly angle?: Expr; readonly diameter?: Expr; readonly direction?: Direction;
}
type Json = Record<string, unknown>;
const names = ['name', 'grist', 'length', 'mass', 'twist', 'direction', 'angle', 'diameter'] as const;
export const directions: Readonly<Record<string, Direction>> = { s: 'S', z: 'Z', clockwise: 'Z', anticlockwise: 'S', 'counter-clockwise': 'S', counterclockwise: 'S' };
export const opposite = (d: Direction): Direction => (d === 'S' ? 'Z' : 'S');

export function readStrands(q: Json, r: Reader, k: Knowns): Strand[] {
  if (q['singles'] === undefined) return [];
  return (r.list(q['singles'], '/singles', mostPlies, 'strands') ?? []).flatMap((v, i) => {
    const at = `/singles/${i}`;
    const o = r.object(v, at, names);
    return o === undefined ? [] : [strand(o, at, i, r, k)];
  });
}

function strand(o: Json, at: string, i: number, r: Reader, k: Knowns): Strand {
  const get = (key: string, kind: Kind, limits = {}): Expr | undefined => {
    const v = o[key] === undefined ? undefined : r.quantity(o[key], `${at}/${key}`, kind, limits);
    return v === undefined ? undefined : k.input(v);
  };
  const name = o['name'] === undefined ? undefined : r.text(o['name'], `${at}/name`, 80);
  const [length, mass, given] = [get('length', 'length', { moreThan: 0, atMost: 1e7 }), get('mass', 'mass', { moreThan: 0, atMost: 1e4 }), get('grist', 'grist', { moreThan: 1e-9, atMost: 1, says: 'a yarn' })];
  const [angle, diameter, asked] = [get('angle', 'angle', { moreThan: 0, atMost: 1.5, says: 'more than 0 and less than 86 degrees' }), get('diameter', 'part', { moreThan: 1e-6, atMost: 0.1 }), get('twist', 'twist', { moreThan: 0, atMost: 1e5 })];
  if (o['twist'] !== undefined && o['angle'] !== undefined) r.fail(`${at}/angle`, { code: 'one-of', detail: 'The twist of a strand was given in two ways: as turns and as an angle.', received: 'twist, angle', expected: 'one of them' });
  if (o['grist'] !== undefined && o['length'] !== undefined && o['mass'] !== undefined) r.fail(`${at}/grist`, { code: 'one-of', detail: 'Grist, length and weight of a strand: two of them give the third.', received: 'grist, length, mass', expected: 'two of them' });
  const direction = o['direction'] === undefined ? undefined : r.choice(o['direction'], `${at}/direction`, ['S', 'Z'] as const, directions);
  const grist = given ?? (length !== undefined && mass !== undefined ? expr((m, l) => m / l, mass, length) : undefined);
  const twist = asked ?? (angle !== undefined && diameter !== undefined ? expr((a, d) => twistOfAngle({ angle: a, diameter: d }), angle, diameter) : undefined);
  const [long, heavy] = [length ?? (mass !== undefined && grist !== undefined ? expr((m, g) => m / g, mass, grist) : undefined), mass ?? (length !== undefined && grist !== undefined ? expr((l, g) => l * g, length, grist) : undefined)];
  return { name: name ?? `strand ${i + 1}`, at, ...kept({ grist, length: long, mass: heavy, twist, angle, diameter, direction }) };
}
/** Without what is undefined. */
export const kept = <T extends object>(o: T): { [K in keyof T]?: Exclude<T[K], undefined> } => Object.fromEntries(Object.entries(o).filter(([, v]) => v !== undefined)) as { [K in keyof T]?: Exclude<T[K], undefined> };

/** How many strands: said, or as many as there are entries, or as the plied yarn number names them. */
export function readPlies(q: Json, r: Reader, strands: readonly Strand[], chain: boolean, named: number | undefined): number | undefined {
  const said = q['plies'] === undefined ? undefined : r.number(q['plies'], '/plies', { atLeast: 1, atMost: mostPlies, says: `a whole number from 2 to ${mostPlies}` });
  const limits = { received: shown(q['plies']), expected: `a whole number from 2 to ${mostPlies}` };
  if (said !== undefined && (!isPoint(said) || !Number.isInteger(said.value) || said.value < 2)) return r.fail('/plies', { code: 'out-of-range', detail: 'How many strands are plied together is a whole number, 2 or more.', ...limits });
  const n = said !== undefined && isPoint(said) ? said.value : undefined;
  if (q['plies'] !== undefined && n === undefined) return undefined;
  if (chain) {
    if (strands.length > 1) return r.fail('/singles', { code: 'one-of', detail: 'A chain ply is made of one single.', received: `${strands.length} singles`, expected: 'one' });
    if (n !== undefined && n !== 3) return r.fail('/plies', { code: 'out-of-range', detail: 'A chain ply has three strands, all from one single.', ...limits, expected: '3, or leave it out' });
    return 3;
  }
  if (n !== undefined && strands.length > 1 && strands.length !== n) return r.fail('/plies', { code: 'one-of', detail: `${strands.length} strands were given, and ${n} plies.`, received: `${strands.length} and ${n}`, expected: 'one entry for all strands alike, or one for each' });
  const found = n ?? (strands.length > 1 ? strands.length : named);
  if (found === undefined && r.issues.length === 0) return r.missing('/plies', 'How many strands are plied together', 'such as 2');
  return found;
}

/** What all strands come to: nothing where one of them does not say. */
export function together(strands: readonly Strand[], plies: number): { grist?: Expr; twist?: Expr; diameter?: Expr; angle?: Expr; alike: boolean } {
  const mean = (key: 'grist' | 'twist' | 'diameter' | 'angle'): Expr | undefined => {
    const list = strands.map((s) => s[key]);
    if (list.length === 0 || list.some((e) => e === undefined)) return undefined;
    return list.length === 1 ? list[0] : expr((...v) => v.reduce((a, b) => a + b, 0) / plies, ...(list as Expr[]));
  };
  return { alike: strands.length < 2, ...kept({ grist: mean('grist'), twist: mean('twist'), diameter: mean('diameter'), angle: mean('angle') }) };
}
