/** Text as it is kept: deflated, in base64. */
import { deflateRawSync, inflateRawSync } from 'node:zlib';

export const packed = (text: string): string => deflateRawSync(text, { level: 1 }).toString('base64');
export const unpacked = (text: string): string => inflateRawSync(Buffer.from(text, 'base64')).toString('utf8');
