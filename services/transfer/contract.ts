/** Wheels as a file, out and in: for the specification. */
import { z } from 'zod';
import { issue } from '../parts.js';
import { listedWheel, listQuery } from '../wheels/contract.js';
import { columns } from './table.js';

const { limit: _, after: __, ...search } = listQuery.shape;
const raw = z.enum(['true', 'false']).exactOptional();
export const exportQuery = z.strictObject({ ...search, of: z.enum(['public', 'guild']).exactOptional().describe('guild: the own wheels of the key’s guild, which is also what a key gets when this is left out. public: everybody’s.') });
export const exportTableQuery = z.strictObject({ ...exportQuery.shape, raw: raw.describe('true: cells as they are. Else a cell that a spreadsheet would take for a formula gets an apostrophe, which the import takes off again.') });
const dryRun = z.enum(['true', 'false']).exactOptional().describe('true: say what would become of each row, and make nothing.');
export const importQuery = z.strictObject({ dryRun });
export const importTableQuery = z.strictObject({ dryRun, raw: raw.describe('true: the table was written with raw=true, so an apostrophe before a formula belongs to the cell.') });

export const exportLine = z.union([listedWheel, z.object({ end: z.literal(true), wheels: z.int().min(0) })]).meta({ id: 'WheelLine', description: 'A wheel of the library; the last line is the end record, without which the stream broke off.' });
export const linesIn = z.string().meta({ description: 'A wheel as JSON on each line, as it would be posted alone, or as the export has it.' });
export const tableIn = z.string().meta({ description: `A table with a row for each wheel. Columns are places of the profile: ${columns.slice(7, 14).join(', ')} …` });
export const tableExample = 'name,visibility,style,driveWheel.grooveDiameter,modes.1.drive,whorls.1.grooveDiameter\nLoft 3,guild,saxony,560 mm,flyer-lead,60 mm\n';
export const imported = z.object({
  rows: z.int().min(0), made: z.int().min(0).describe('On a dry run: that would be made.'), refused: z.int().min(0),
  wheels: z.array(z.object({
    row: z.int().min(1), line: z.int().min(1), verdict: z.enum(['made', 'would-be-made', 'refused']), id: z.string().exactOptional(), name: z.string().exactOptional(),
    errors: z.array(issue.extend({ column: z.string().exactOptional().describe('Such as whorls.1.grooveDiameter.') })).exactOptional(),
  })).describe('In the order of the rows. A row that is refused does not keep the others from being made.'),
}).meta({ id: 'ImportedWheels', description: 'What became of each row.' });
export const importedExample = { rows: 1, made: 1, refused: 0, wheels: [{ row: 1, line: 2, verdict: 'made', id: 'wheel-7k3d9q2mzr4f', name: 'Loft 3' }] };
