/** What of each row the fleet is compared by: sizes as diameters in m, and a hash that two rows of one wheel share. */
import { createHash } from 'node:crypto';
import { deflateRawSync, inflateRawSync } from 'node:zlib';
import type { OneRow } from './chunk.js';
import type { Measured } from './row.js';
import { drives } from '../wheels/words.js';

export const pulleys = 4;
export const fields = ['driveWheel', 'band', 'core', 'end'] as const;
/** driveWheel, band, core, end; four whorls; four bobbin grooves; the drive. */
export const width = fields.length + 2 * pulleys + 1;
export const whorlAt = fields.length;
export const bobbinAt = whorlAt + pulleys;
export const driveAt = bobbinAt + pulleys;

const across = (m: Measured | undefined): number => (m === undefined || m.measure === 'ratio' ? Number.NaN : m.measure === 'circumference' || m.measure === 'bandTurn' ? m.si / Math.PI : m.si);
const plain = (text: string): string => text.toLowerCase().replaceAll(/\s+/g, ' ').trim();

export class Features {
  private readonly sizes: number[] = [];
  private readonly marks: number[] = [];
  private rows: number;
  private read: { sizes: Float32Array; marks: Uint32Array } | undefined;
  constructor(readonly firstRow: number, rows = 0) { this.rows = rows; }

  static of(text: string, rows: number): Features {
    const out = new Features(0, rows);
    const bytes = inflateRawSync(Buffer.from(text, 'base64'));
    const own = bytes.buffer.slice(bytes.byteOffset, bytes.byteOffset + bytes.length);
    out.read = { sizes: new Float32Array(own, 0, rows * width), marks: new Uint32Array(own, rows * width * 4, rows * 2) };
    return out;
  }
  get count(): number { return this.rows; }
  /** The sizes of the row at `i`, from 0. */
  at(i: number): Float32Array { return this.read!.sizes.subarray(i * width, (i + 1) * width); }
  /** One number in place of the row's cells; 0 where it was refused. */
  mark(i: number): number { return this.read!.marks[2 * i]! * 0x20_0000 + (this.read!.marks[2 * i + 1]! & 0x1f_ffff); }

  add({ row, ok, verdict }: OneRow): void {
    if (!ok) { this.none(); return; }
    this.rows++;
    const core = row.bobbins.find((b) => b?.core !== undefined)?.core;
    const end = row.bobbins.find((b) => b?.end !== undefined)?.end;
    this.sizes.push(across(row.driveWheel), row.band?.si ?? Number.NaN, across(core), across(end));
    for (let i = 0; i < pulleys; i++) this.sizes.push(across(row.whorls[i]?.groove));
    for (let i = 0; i < pulleys; i++) this.sizes.push(across(row.bobbins[i]?.groove));
    this.sizes.push(drives.indexOf(verdict!.drive));
    // One wheel entered twice: the same name and the same cells, whoever typed them.
    const hash = createHash('md5').update(plain(`${row.name ?? ''}\n${row.read}\n${row.name === undefined ? row.kept : ''}`)).digest();
    this.marks.push(hash.readUInt32LE(0) || 1, hash.readUInt32LE(4));
  }
  none(): void {
    this.rows++;
    for (let i = 0; i < width; i++) this.sizes.push(Number.NaN);
    this.marks.push(0, 0);
  }
  packed(): string {
    const sizes = new Uint8Array(Float32Array.from(this.sizes).buffer);
    const marks = new Uint8Array(Uint32Array.from(this.marks).buffer);
    return deflateRawSync(Buffer.concat([sizes, marks]), { level: 1 }).toString('base64');
  }
}
