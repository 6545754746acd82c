/**
 * A messy file of the invented guild: its wheels, measured by many hands, in one of three dialects of a table. Each kind of
 * mix-up stands in 2 % of the rows, one to a row. Five rows of a hundred are borderline by rule: whorl and bobbin groove within
 * 4 % of each other, or all sizes 12 % up or down; they are clean. What cannot be told apart by rule is not planted: a swap of
 * grooves within 4 %, a rim on a groove that it enlarges by less than 8 %.
 */
import { wheels } from '../../services/wheels/thornmere.js';
import { Reader } from '../../services/foundation/read.js';
import { middle } from '../../services/foundation/reading.js';
import { readWheel, type GrooveRead } from '../../services/wheels/profile.js';
import { csvLine } from '../../services/foundation/csv.js';
import type { Slip } from '../../services/analyses/fleet.js';
import { seeded } from '../support/random.js';

export const dialects = ['metric', 'decimal comma', 'inches'] as const;
export type Dialect = (typeof dialects)[number];
export interface Planted { readonly row: number; readonly code: Slip; readonly part: string }
export interface Messy { readonly text: string; readonly planted: readonly Planted[]; readonly rows: number; readonly refused: ReadonlySet<number>; readonly repeats: ReadonlySet<number> }

interface Model { drive: string; D: number; w: number[]; b: number[]; t: number; core: number; end: number }
const across = (g: GrooveRead | undefined): number | undefined => (g === undefined || g.measure === 'stated' ? undefined : g.measure === 'diameter' ? middle(g.size) : middle(g.size) / Math.PI);
const models: Model[] = Object.values(wheels).flatMap((wheel) => {
  const r = readWheel(new Reader(), wheel, '')!;
  const drive = r.modes[0]!.drive;
  const D = across(r.driveWheel);
  const w = r.whorls.flatMap((x) => across(x.groove) ?? []).slice(0, 2);
  const b = drive === 'flyer-lead' ? [] : r.bobbins.flatMap((x) => x.grooves.flatMap((g) => across(g.groove) ?? [])).slice(0, 2);
  if (D === undefined || (drive !== 'double-drive' && drive !== 'flyer-lead') || w.length === 0 || r.stages.length > 0) return [];
  const band = r.modes[0]!.band?.thickness;
  const [bobbin] = r.bobbins;
  return [{ drive, D, w, b, t: band === undefined ? 0.002 : middle(band), core: bobbin?.core === undefined ? 0.025 : middle(bobbin.core), end: bobbin?.end === undefined ? 0.08 : middle(bobbin.end) }];
});

const kinds: readonly Slip[] = ['inches-for-millimetres', 'circumference-for-diameter', 'decimal-slip', 'swapped-whorl-and-bobbin', 'rim-for-groove'];
const names = ['Alder', 'Birch', 'Cedar', 'Dogwood', 'Elm', 'Fir', 'Gorse', 'Hazel', 'Ivy', 'Juniper'];

export function messyFile(dialect: Dialect, seed: number, rows: number): Messy {
  const random = seeded(seed);
  const pick = <T>(list: readonly T[]): T => list[Math.floor(random.uniform() * list.length)]!;
  const planted: Planted[] = [];
  const refused = new Set<number>();
  const repeats = new Set<number>();
  const inches = dialect === 'inches';
  const delimiter = dialect === 'metric' ? ',' as const : dialect === 'decimal comma' ? ';' as const : '\t' as const;
  const unit = inches ? 'in' : 'mm';
  const per = inches ? 0.0254 : 0.001;
  const written = (x: number): string => {
    const n = Number((x / per).toFixed(inches ? 3 : 1));
    if (inches && random.uniform() < 0.3) { const sixteenths = Math.round((x / per) * 16); const [whole, part] = [Math.floor(sixteenths / 16), sixteenths % 16]; return part === 0 ? `${whole}` : whole === 0 ? `${part}/16` : `${whole} ${part}/16`; }
    const text = String(n);
    const typed = random.uniform();
    if (dialect === 'decimal comma') return text.replace('.', ',');
    return typed < 0.05 ? `${text} ${unit}` : typed < 0.08 && !inches ? `${Number((x * 100).toFixed(2))} cm` : typed < 0.1 ? `about ${text} ${unit}` : text;
  };
  const heads = [`Drive wheel (${unit})`, `whorl_1_${unit}`, `whorl_2_${unit}`, `Bobbin groove 1 (${unit})`, `Bobbin groove 2 (${unit})`, `Band (${inches ? 'in' : 'mm'})`, `Bobbin core (${unit})`, `Bobbin ends (${unit})`];
  const out: string[] = [];
  const lines: string[][] = [];
  for (let row = 1; row <= rows; row++) {
    const model = pick(models);
    const borderline = random.uniform() < 0.05;
    const grow = borderline && random.uniform() < 0.5 ? pick([0.88, 1.12]) : 1;
    const jitter = (x: number): number => x * grow * (1 + 0.008 * random.normal());
    const m: Model = { ...model, D: jitter(model.D), w: model.w.map(jitter), b: model.b.map(jitter), t: model.t * (1 + 0.03 * random.normal()), core: jitter(model.core), end: jitter(model.end) };
    if (borderline && grow === 1 && m.b.length > 0) m.b[0] = m.w[0]! * (1 + 0.04 * (random.uniform() * 2 - 1));
    const cells = [`${pick(names)} ${row}`, m.drive === 'double-drive' ? pick(['double drive', 'double-drive', 'Double Drive']) : pick(['Scotch tension', 'flyer-lead'])];
    let sizes: (number | string | undefined)[] = [m.D, m.w[0], m.w[1], m.b[0], m.b[1], m.t, m.core, m.end];
    const draw = Math.floor(random.uniform() / 0.02);
    let kind = borderline ? undefined : kinds[draw];
    const plant = (part: string): void => { planted.push({ row, code: kind === 'inches-for-millimetres' && inches ? 'millimetres-for-inches' : kind!, part }); };
    const at = pick([0, 1, ...(m.b.length > 0 ? [3] : [])]);
    const part = ['drive wheel', 'whorl 1', 'whorl 2', 'bobbin 1'][at]!;
    const x = sizes[at] as number;
    if (kind === 'swapped-whorl-and-bobbin' && (m.b.length === 0 || Math.abs(m.w[0]! / m.b[0]! - 1) < 0.04)) kind = undefined;
    if (kind === 'rim-for-groove' && at === 0) kind = undefined;
    switch (kind) {
      case 'inches-for-millimetres': sizes[at] = inches ? x * 25.4 : x / 25.4; plant(part); break;
      case 'circumference-for-diameter': sizes[at] = x * Math.PI; plant(part); break;
      case 'decimal-slip': sizes[at] = x * pick([0.1, 10]); plant(part); break;
      case 'swapped-whorl-and-bobbin': sizes = [sizes[0], m.b[0], sizes[2], m.w[0], ...sizes.slice(4)]; plant('whorl 1'); break;
      case 'rim-for-groove': { const more = 0.004 + 0.008 * random.uniform(); if (more / x >= 0.08) { sizes[at] = x + more; plant(part); } break; }
      default:
    }
    if (kind === undefined && random.uniform() < 0.02) { sizes[pick([0, 1])] = pick(['unknown', '?', 'as wide as an egg', '60 furlongs']); refused.add(row); }
    else if (kind === undefined && random.uniform() < 0.1) sizes[pick([5, 6, 7])] = undefined;
    let line = [...cells, ...sizes.map((size) => (typeof size === 'number' ? written(size) : (size ?? ''))), pick(['red', 'walnut', '=1+1', 'a "fine" one', '']), pick(['', '', '', 'do not run'])];
    if (kind === undefined && !refused.has(row) && row > 10 && random.uniform() < 0.01) { line = [...lines[row - 6]!]; if (planted.some((p) => p.row === row - 5) || refused.has(row - 5)) line = [...cells, ...sizes.map((size) => (typeof size === 'number' ? written(size) : (size ?? ''))), '', '']; else repeats.add(row); }
    lines.push(line);
    out.push(csvLine(line, { delimiter, raw: true }));
  }
  const title = dialect === 'metric' ? '' : 'Thornmere Guild, members’ wheels\r\n';
  return { text: `${dialect === 'decimal comma' ? '\ufeff' : ''}${title}${csvLine(['Name', 'Drive', ...heads, 'Colour', 'Condition'], { delimiter, raw: true })}${out.join('')}`, planted, rows, refused, repeats };
}
