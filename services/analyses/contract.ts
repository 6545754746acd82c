/** What an analysis is asked and answered with, for the specification. */
import { z } from 'zod';
import { issue } from '../parts.js';

const text = z.string();
const count = z.int().min(0);
export const analysisId = z.strictObject({ id: z.string().min(1).max(80).describe('Id of an analysis.') });
export const uploadQuery = z.strictObject({
  dryRun: z.enum(['true', 'false']).exactOptional().describe('true: say how each column is understood and on what evidence, from the head of the file, and keep nothing.'),
  map: z.array(z.string().max(400)).exactOptional().describe('What a heading is to be read as, “Heading=whorl 2 (in)”; with nothing after the sign the column is only kept.'),
});
export const rawQuery = z.strictObject({ raw: z.enum(['true', 'false']).exactOptional().describe('true: cells as they are. Else a cell that a spreadsheet would take for a formula gets an apostrophe.') });
export const upload = z.string().meta({ description: 'A table with headings and a row for each wheel, or a JSON object on each line.' });
export const uploadExample = 'name,drive wheel (in),whorl 1 (mm),bobbin groove (mm),band (mm)\nLoft 3,22 1/16,60,48,2\n';

const column = z.object({
  heading: text, understood: text.exactOptional().describe('What it is read as. Absent: it is kept beside the verdict.'), decimalComma: z.boolean(), evidence: z.array(text), readable: count, unreadable: count, empty: count, examples: z.array(text),
}).meta({ id: 'AnalysisColumn', description: 'How a column is understood, by its heading and the first rows.' });
export const analysis = z.object({
  id: text.exactOptional().describe('Absent on a dry run.'), state: z.enum(['dry-run', 'receiving', 'analysing', 'comparing', 'done', 'cancelled']), format: z.enum(['csv', 'ndjson']), delimiter: text.exactOptional(),
  rows: count.describe('On a dry run those that were looked at.'), bytes: count, analysed: count, rejected: count, progress: z.number().min(0).max(1),
  columns: z.array(column), above: z.array(text).describe('Lines above the headings.'), errors: z.array(z.object({ row: count, line: count, errors: z.array(issue) })).exactOptional().describe('On a dry run: rows that would be refused.'),
  createdAt: text.exactOptional(), finishedAt: text.exactOptional(), expiresAt: text.exactOptional().describe('Then it is removed.'),
}).meta({ id: 'Analysis', description: 'An analysis of a table of wheels.' });

const known = z.union([z.number(), z.object({ value: z.number(), plusMinus: z.number() }), z.object({ low: z.number().exactOptional(), high: z.number().exactOptional() })]).meta({ id: 'Known', description: 'A number as it is known: alone, with its ± (95 %), or as an interval.' });
const fills = z.object({ empty: known, full: known });
const flag = z.object({
  code: text.describe('inches-for-millimetres, millimetres-for-inches, circumference-for-diameter, diameter-for-circumference, decimal-slip, swapped-whorl-and-bobbin, rim-for-groove, duplicate.'),
  part: text.exactOptional(), read: z.number().exactOptional().describe('mm across'), probably: z.number().exactOptional().describe('mm across'), times: z.number().exactOptional().describe('How many times as likely.'), row: count.exactOptional().describe('The row that it repeats.'),
}).meta({ id: 'AnalysisFlag', description: 'What is probably otherwise than it was written. Nothing is mended.' });
const measured = { value: z.number().exactOptional(), plusMinus: z.number().exactOptional(), low: z.number().exactOptional(), high: z.number().exactOptional(), unit: text.exactOptional() };
const cell = z.object({ text, ...measured, values: z.array(z.object(measured)).exactOptional().describe('Where the cell holds several.') }).meta({ id: 'AnalysisCell', description: 'A cell: its text as it stood, and what was read.' });
const verdictRow = z.object({
  verdict: z.enum(['analysed', 'rejected']), row: count, line: count, name: text.exactOptional(), doNotRun: z.boolean(), drive: text.exactOptional(), drawsIn: z.enum(['yes', 'no', 'too-close-to-say', 'not-known']).exactOptional(),
  whorls: z.array(z.object({ name: text, flyerRatio: known })).exactOptional(), bobbins: z.array(z.object({ name: text, bobbinRatio: known })).exactOptional(),
  pairs: z.array(z.object({
    whorl: text.exactOptional(), bobbin: text.exactOptional(), bobbinPerFlyerTurn: known.exactOptional(), drawIn: text.exactOptional(), mostDrawnInPerWheelTurn: fills.exactOptional().describe('mm'), leastTwist: fills.exactOptional().describe('turns/m'),
    bandLength: known.exactOptional().describe('mm'), oneSettingServes: text.exactOptional(), spreadNeeded: known.exactOptional(),
  })).exactOptional(),
  missing: z.array(text).exactOptional().describe('Parts that would say more.'), taken: z.array(text).exactOptional().describe('What was taken for granted.'), flags: z.array(flag).exactOptional(), errors: z.array(issue.extend({ column: text.exactOptional() })).exactOptional(),
  read: z.record(text, cell).describe('By heading: the text as it stood, and the value that was read.'), kept: z.record(text, text).describe('Columns that are not known here.'),
});
const end = z.object({ end: z.literal(true), rows: count, analysed: count, rejected: count });
export const verdictLine = z.union([verdictRow, end]).meta({ id: 'AnalysisLine', description: 'A row with its verdict; the last line is the end record, without which the stream broke off.' });
const spread = z.object({ count, low: z.number(), quarter: z.number(), middle: z.number(), threeQuarters: z.number(), high: z.number() }).meta({ id: 'Spread', description: '5, 25, 50, 75 and 95 % of what was found.' });
const counts = z.record(text, count);
export const summary = z.object({
  rows: count, analysed: count, rejected: count, doNotRun: count, drives: counts, drawsIn: counts, missing: counts, reasons: z.array(z.object({ column: text.exactOptional(), code: text, rows: count })), cannotDrawIn: z.array(count).describe('The first rows that cannot draw in, or of which it is too close to say.'),
  flags: counts, flagged: z.array(flag.extend({ at: count })), spreads: z.record(text, spread).describe('Sizes in mm, twist in turns/m.'),
  coverage: z.object({ grist: z.array(z.number()).describe('tex'), twist: z.array(z.number()).describe('turns/m'), wheels: count, counts: z.array(z.array(count)) }).describe('How many wheels can make a single of this grist and twist.'),
  columns: z.array(z.object({ heading: text, understood: z.boolean() })),
}).meta({ id: 'AnalysisSummary', description: 'What the whole table shows.' });
