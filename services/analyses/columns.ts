/**
 * What the columns of a table of wheels mean, found from their headings and said with its evidence. A heading names a part,
 * what was measured of it, which of several it is, and perhaps the unit: `whorl_1_in`, `Bobbin 2 groove (mm)`, `driveWheel`.
 * Nothing is guessed of a unit: a bare number under a heading without one is refused in its row.
 */
import { findUnit, kinds, type Kind, type Unit } from '../foundation/quantity.js';
import { nearest } from '../foundation/read.js';
import { isRefusal, readText } from '../foundation/read-text.js';

export const partNames = ['driveWheel', 'whorl', 'bobbin', 'band', 'axle', 'name', 'drive', 'condition', 'doNotRun', 'material'] as const;
export type PartName = (typeof partNames)[number];
export const measureNames = ['diameter', 'circumference', 'bandTurn', 'ratio', 'core', 'end', 'full', 'lengthBetweenEnds', 'mass', 'thickness', 'nearest', 'farthest', 'name', 'word'] as const;
export type MeasureName = (typeof measureNames)[number];

/** What a column holds. `n`: which whorl or bobbin, from 0. */
export interface Is { readonly part: PartName; readonly measure: MeasureName; readonly n: number; readonly unit?: Unit; readonly rim?: true }
export interface Column {
  readonly heading: string;
  /** Absent: not known here; its cells are kept beside the verdict. */
  readonly is?: Is;
  /** Cells are read with a comma for the decimal sign. */
  readonly decimalComma: boolean;
  readonly evidence: readonly string[];
  readonly readable: number;
  readonly unreadable: number;
  readonly empty: number;
  readonly examples: readonly string[];
}

export const mostColumns = 400;
const words: Readonly<Record<string, string>> = {
  antriebsrad: 'wheel', schwungrad: 'wheel', spinnrad: 'wheel', rad: 'wheel', flywheel: 'wheel', wirtel: 'whorl', pulley: 'whorl', whirl: 'whorl', spule: 'bobbin', spulenkern: 'bobbin core', spool: 'bobbin', reel: 'bobbin',
  cord: 'band', belt: 'band', string: 'band', driveband: 'band', drivewheel: 'wheel', schnur: 'band', antriebsschnur: 'band', umfang: 'circumference', circ: 'circumference', circumf: 'circumference', girth: 'circumference', round: 'circumference', perimeter: 'circumference',
  durchmesser: 'diameter', diam: 'diameter', dia: 'diameter', across: 'diameter', ø: 'diameter', size: 'diameter', dicke: 'thickness', thick: 'thickness', ratios: 'ratio', übersetzung: 'ratio', shaft: 'core', barrel: 'core', hub: 'core', empty: 'core', kern: 'core',
  ends: 'end', flange: 'end', flanges: 'end', weight: 'mass', gewicht: 'mass', wheels: 'wheel', whorls: 'whorl', bobbins: 'bobbin', spulen: 'bobbin', axis: 'axle', centres: 'axle', centers: 'axle', achse: 'axle', achsabstand: 'axle distance', antrieb: 'drive', zustand: 'condition', state: 'condition',
};
const known = ['wheel', 'drive', 'whorl', 'bobbin', 'band', 'axle', 'distance', 'diameter', 'circumference', 'thickness', 'ratio', 'groove', 'core', 'end', 'full', 'length', 'between', 'mass', 'turn', 'condition', 'name', 'material', 'nearest', 'farthest', 'flyer', 'rim'];
const bareUnits = new Set(['mm', 'cm', 'in', 'inch', 'inches', 'ins', 'zoll', 'ft', 'g', 'oz', 'kg', 'lb', 'thou']);

interface Heading { readonly tokens: readonly string[]; readonly unit?: string; readonly number?: number; readonly mended: readonly string[] }
function readHeading(text: string): Heading {
  let rest = text.normalize('NFC').replace(/([a-z0-9])([A-Z])/g, '$1 $2').trim();
  let unit: string | undefined;
  const bracket = /[([{]([^()[\]{}]{1,20})[)\]}]/.exec(rest);
  const within = bracket?.[1]!.trim().replace(/^in\s/i, '').trim();
  if (bracket !== null && within !== undefined && (findUnit('part', within) ?? findUnit('mass', within)) !== undefined) { unit = within; rest = rest.replace(bracket[0], ' '); }
  let tokens = rest.toLowerCase().replace(/["″]/g, ' in ').split(/[\s_\-.,:;/()[\]{}#]+/).filter((t) => t !== '');
  tokens = tokens.flatMap((t) => /^([a-zäöüø]+)(\d{1,2})$/.exec(t)?.slice(1) ?? [t]);
  const last = tokens.at(-1);
  if (unit === undefined && tokens.length > 1 && last !== undefined && bareUnits.has(last)) { unit = last; tokens = tokens.slice(0, -1); }
  let number: number | undefined;
  tokens = tokens.filter((t) => {
    const n = /^(\d{1,2})(?:st|nd|rd|th)?$/.exec(t);
    if (n === null) return true;
    number ??= Number(n[1]);
    return false;
  });
  const mended: string[] = [];
  tokens = tokens.flatMap((t) => {
    const word = words[t];
    if (word !== undefined) return word.split(' ');
    if (t.length < 5 || known.includes(t)) return [t];
    const near = nearest(t, known.filter((k) => Math.abs(k.length - t.length) < 2));
    if (near === undefined || t.slice(0, 2) !== near.slice(0, 2)) return [t];
    mended.push(`“${t}” is taken for “${near}”`);
    return [near];
  });
  return { tokens, mended, ...(unit === undefined ? {} : { unit }), ...(number === undefined ? {} : { number }) };
}

/** What the words of a heading stand for; undefined: nothing that is known here. */
export function isOf(text: string): { readonly is: Is; readonly numbered: boolean; readonly evidence: readonly string[] } | undefined {
  const h = readHeading(text);
  const has = (...any: string[]): boolean => any.some((t) => h.tokens.includes(t));
  const joined = h.tokens.join(' ');
  const unit = h.unit === undefined ? undefined : (findUnit('part', h.unit) ?? findUnit('mass', h.unit));
  const n = Math.max(0, (h.number ?? 1) - 1);
  const made = (part: PartName, measure: MeasureName): { is: Is; numbered: boolean; evidence: string[] } => ({
    is: { part, measure, n: part === 'whorl' || part === 'bobbin' ? n : 0, ...(unit === undefined ? {} : { unit }), ...(has('rim') && measure === 'diameter' ? { rim: true as const } : {}) },
    numbered: h.number !== undefined,
    evidence: [`the heading says ${saysPart[part]}${measure === 'word' || measure === 'name' ? '' : `, ${saysMeasure[measure]}`}${h.number === undefined ? '' : `, number ${h.number}`}${unit === undefined ? '' : `, in ${unit.name}`}`, ...h.mended],
  });
  if (/\bdo not run\b|\bunsafe\b|\bdonotrun\b/.test(joined)) return made('doNotRun', 'word');
  if (/^(?:wheel )?(?:name|label|called|title)$/.test(joined)) return made('name', 'name');
  if (/^(?:wheel )?condition$/.test(joined)) return made('condition', 'word');
  if (/^(?:drive|drive (?:type|system|kind|mode)|(?:type|kind) of drive|tension (?:type|system))$/.test(joined)) return made('drive', 'word');
  if (has('band') && has('material') || joined === 'band made of') return made('material', 'word');
  const turn = has('turn') || (has('band') && has('length') && has('whorl', 'bobbin', 'wheel'));
  const measure: MeasureName = has('ratio') ? 'ratio' : turn ? 'bandTurn' : has('circumference') ? 'circumference' : 'diameter';
  if (has('axle', 'distance') && !has('whorl', 'bobbin') && (has('axle') || joined.includes('flyer') || has('wheel'))) return made('axle', has('farthest', 'far', 'max', 'longest', 'most') ? 'farthest' : 'nearest');
  if (has('bobbin')) {
    if (has('name', 'label')) return made('bobbin', 'name');
    const of = has('core') ? 'core' : has('full') ? 'full' : has('end') ? 'end' : has('mass') ? 'mass' : has('length', 'between', 'width') ? 'lengthBetweenEnds' : measure;
    return made('bobbin', of);
  }
  if (has('whorl')) return has('name', 'label') ? made('whorl', 'name') : made('whorl', measure);
  if (has('band')) return has('length', 'turn') ? undefined : made('band', 'thickness');
  if (has('wheel') && !has('id', 'no', 'number', 'type', 'style', 'maker', 'age', 'ref', 'colour', 'color', 'wood', 'owner', 'member', 'weight', 'mass', 'ratio') && h.tokens.every((t) => known.includes(t) || ['of', 'the', 'big', 'main', 'driving', 'd', 'at'].includes(t))) return made('driveWheel', measure);
  return undefined;
}
const saysPart: Readonly<Record<PartName, string>> = { driveWheel: 'drive wheel', whorl: 'whorl', bobbin: 'bobbin', band: 'band', axle: 'wheel axle to flyer', name: 'name', drive: 'drive', condition: 'condition', doNotRun: 'do not run', material: 'what the band is made of' };
const saysMeasure: Readonly<Record<MeasureName, string>> = { diameter: 'across', circumference: 'round', bandTurn: 'one turn of the band', ratio: 'stamped ratio', core: 'core', end: 'ends', full: 'full', lengthBetweenEnds: 'length between the ends', mass: 'weight', thickness: 'thickness', nearest: 'distance', farthest: 'greatest distance', name: 'name', word: '' };
/** What a column is, as a person says it. */
export const columnText = (is: Is): string => `${saysPart[is.part]}${is.part === 'whorl' || is.part === 'bobbin' ? ` ${is.n + 1}` : ''}${saysMeasure[is.measure] === '' || is.measure === 'name' && is.part === 'name' ? '' : `, ${saysMeasure[is.measure]}`}${is.unit === undefined ? '' : ` (${is.unit.name})`}`;

export const kindOf = (is: Is): Kind | 'ratio' | 'word' => (is.measure === 'ratio' ? 'ratio' : is.measure === 'mass' ? 'mass' : is.measure === 'word' || is.measure === 'name' ? 'word' : 'part');
const commaNumber = /^[^\d]*\d+,\d+[^\d,.]*$/;
const pointNumber = /\d\.\d/;

/** Headings and a sample of rows to columns. `map`: what a heading is to be read as instead; an empty text keeps it apart. */
export function understand(headings: readonly string[], sample: readonly (readonly string[])[], map: ReadonlyMap<string, string> = new Map()): Column[] {
  const counted: Record<string, number> = {};
  const first = new Map<string, number>();
  return headings.map((heading, i) => {
    const wanted = map.get(heading);
    const found = wanted === '' ? undefined : isOf(wanted ?? heading);
    let is = found?.is;
    const evidence = wanted === undefined ? [...(found?.evidence ?? [])] : [wanted === '' ? 'you said: keep it apart' : `you said: ${wanted}`];
    if (is !== undefined && (is.part === 'whorl' || is.part === 'bobbin') && found?.numbered === false) {
      // Several unnumbered columns of one kind are the first, second and third of it.
      const key = `${is.part} ${is.measure}`;
      const n = (counted[key] = (counted[key] ?? -1) + 1);
      if (n > 0) { is = { ...is, n }; evidence.push(`number ${n + 1} of its kind`); }
    }
    if (is !== undefined) {
      const key = `${is.part} ${is.measure} ${is.n}`;
      const before = first.get(key);
      if (before !== undefined) evidence.push(`the same as column ${before + 1}: whichever is filled in is used`);
      else first.set(key, i);
    }
    const cells = sample.map((row) => row[i]?.trim() ?? '');
    const filled = cells.filter((c) => c !== '');
    const commas = filled.filter((c) => commaNumber.test(c)).length;
    const decimalComma = is !== undefined && kindOf(is) !== 'word' && commas > 0 && !filled.some((c) => pointNumber.test(c));
    if (decimalComma) evidence.push(`decimal comma: in ${commas} of ${filled.length} cells, and a point in none`);
    let readable = 0;
    if (is !== undefined && kindOf(is) !== 'word') {
      const kind = kindOf(is);
      readable = filled.filter((c) => readsAs(c, is, decimalComma)).length;
      if (filled.length > 0) evidence.push(`${readable} of ${filled.length} cells can be read as ${kind === 'ratio' ? 'a ratio' : kinds[kind as Kind].says}`);
      if (is.unit === undefined && kind !== 'ratio' && filled.some((c) => /^[\d.,/ ]+$/.test(c))) evidence.push('no unit in the heading: bare numbers are refused; say it with map');
    } else readable = filled.length;
    if (is === undefined) evidence.push(...(wanted === '' ? [] : ['not known here: kept beside the verdict']));
    return { heading, ...(is === undefined ? {} : { is }), decimalComma, evidence, readable, unreadable: filled.length - readable, empty: cells.length - filled.length, examples: [...new Set(filled)].slice(0, 3).map((c) => c.slice(0, 60)) };
  });
}

/** A cell as it is read: list signs cut, the comma and the unit of its column put in. */
export const withColumn = (cell: string, is: Is, decimalComma: boolean): string => {
  const text = decimalComma ? cell.replace(/(\d),(\d)/g, '$1.$2') : cell;
  return is.unit !== undefined && /^[\d.,/\s½¼¾⅛⅜⅝⅞±+-]+$/.test(text) ? `${text} ${is.unit.name}` : text;
};
/** Several measures in one cell. */
export const listIn = (cell: string): string[] => cell.split(/[|;]/).map((one) => one.trim());
function readsAs(cell: string, is: Is, decimalComma: boolean): boolean {
  const kind = kindOf(is);
  return listIn(cell).every((one) => {
    if (kind === 'ratio') return /\d/.test(one);
    return !isRefusal(readText(withColumn(one, is, decimalComma), kind as Kind));
  });
}
