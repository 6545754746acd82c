/** The run as a table, moment by moment. Pure. */
import { fromSI, outUnit, type Kind, type UnitChoice } from '../../foundation/quantity.js';
import { middle } from '../../foundation/reading.js';
import type { Moment } from './tally.js';
import { cycle, type Solved, type Values } from './solve.js';

export interface SeriesTable { columns: { name: string; unit: string }[]; rows: number[][] }
const list: readonly { readonly name: string; readonly kind: Kind; readonly of: (m: Moment, factor: number, turning: number) => number }[] = [
  { name: 'time', kind: 'time', of: (m) => m.time }, { name: 'letIn', kind: 'speed', of: (m) => m.letIn }, { name: 'drafted', kind: 'speed', of: (m) => m.drafted }, { name: 'drawIn', kind: 'speed', of: (m) => m.drawIn },
  { name: 'slack', kind: 'part', of: (m) => m.slack }, { name: 'free', kind: 'part', of: (m) => m.free }, { name: 'pull', kind: 'pull', of: (m) => m.pull }, { name: 'pullAtHand', kind: 'pull', of: (m, factor) => m.pull / factor },
  { name: 'twist', kind: 'twist', of: (m) => m.twist }, { name: 'wound', kind: 'length', of: (m) => m.wound }, { name: 'turning', kind: 'turning', of: (m, _, turning) => m.wheelSpeed * turning },
];
export const columnsOf = (units: UnitChoice): { name: string; unit: string }[] => list.map((c) => ({ name: c.name, unit: outUnit(c.kind, units).name }));

/** Gives every row to `take` as it comes: nothing is kept. */
export function eachRow(s: Solved, values: Values, step: number, units: UnitChoice, take: (row: number[]) => void): void {
  const factor = middle(s.k.reading(s.factor));
  const shown = list.map((c) => ({ of: c.of, unit: outUnit(c.kind, units) }));
  cycle(s, values, values.diameter, { step, at: (m) => take(shown.map((c) => fromSI(c.of(m, factor, values.turning), c.unit) + 0)) });
}
export function rowsOf(s: Solved, values: Values, step: number, units: UnitChoice): SeriesTable {
  const rows: number[][] = [];
  eachRow(s, values, step, units, (row) => rows.push(row));
  return { columns: columnsOf(units), rows };
}
