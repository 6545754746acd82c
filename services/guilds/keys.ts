/** Keys of a guild: how they look, and how they are kept. Pure but for the randomness of a new one. */
import { createHash, randomInt } from 'node:crypto';
import type { Scope } from './rules.js';

export { scopes, type Scope } from './rules.js';

/** Who is asking, as their key says. */
export interface Caller {
  readonly keyId: string;
  readonly guild: string;
  readonly scopes: readonly Scope[];
  /** The request that it came with, for the audit. */
  readonly request?: string;
}

const start = 'wgk_';
const signs = '0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz';
const random = (length: number, from: string): string => Array.from({ length }, () => from[randomInt(from.length)]).join('');

/** Six signs that a mistyped or made-up key is known by without asking the database. */
function checksum(body: string): string {
  let rest = createHash('sha256').update(start + body).digest().readUIntBE(0, 6);
  let out = '';
  for (let i = 0; i < 6; i++) [out, rest] = [out + signs[rest % 62], Math.floor(rest / 62)];
  return out;
}

/** A new key: 32 random signs (190 bits) and their checksum. */
export function makeKey(): string {
  const body = random(32, signs);
  return `${start}${body}${checksum(body)}`;
}

export const isWellFormed = (key: string): boolean => /^wgk_[0-9A-Za-z]{38}$/.test(key) && checksum(key.slice(4, 36)) === key.slice(36);
/** What is kept of it. */
export const hashOf = (key: string): string => createHash('sha256').update(key).digest('hex');
/** What a person may see of it later, to know it again. */
export const prefixOf = (key: string): string => key.slice(0, 10);

/** Letters that cannot be taken for each other or make words. */
const plain = '23456789bcdfghjkmnpqrstvwxz';
/** A new id, such as `wheel-7k3d9q2mzr4f`. Twelve signs are 57 bits. */
export const newId = (what: string): string => `${what}-${random(12, plain)}`;
