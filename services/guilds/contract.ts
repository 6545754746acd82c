/** Zod of guilds, their keys and their audit: for the specification and for types. Reading is rules.ts. */
import { z } from 'zod';
import { listOf, quantityInOf } from '../parts.js';
import { scopes } from './rules.js';

const label = z.string().min(1).max(120).describe('What it is for, so that it is known again.');
const scopeList = z.array(z.enum(scopes)).min(1).max(scopes.length).describe('read: what the guild keeps. write: and change it. admin: and its keys.');
const kept = {
  id: z.string(), guild: z.string().describe('Id of its guild.'), label, prefix: z.string().describe('How the key begins.'), scopes: scopeList, createdAt: z.iso.datetime(),
  expiresAt: z.iso.datetime().exactOptional().describe('From then on it does not work.'), revokedAt: z.iso.datetime().exactOptional().describe('Since then it does not work.'),
  rotatedFrom: z.string().exactOptional().describe('Id of the key in whose place it came.'),
};
export const keptKey = z.object(kept).meta({ id: 'Key', description: 'A key of a guild, by what it is known again.' });
export const newKey = z.object({ ...kept, key: z.string().describe('The key itself. It is told here and never again.') }).meta({ id: 'NewKey', description: 'A key that was made just now.' });
export const keyList = listOf('KeyList', keptKey, 'Keys of a guild, in the order of their ids; those that no longer work too.');
export const keyToMake = z.strictObject({ label, scopes: scopeList, expiresAt: z.iso.datetime({ offset: true }).exactOptional().describe('From then on it does not work; absent: until it is revoked.') }).meta({ id: 'KeyToMake', description: 'What a new key may do.' });
export const rotation = z.strictObject({ overlap: quantityInOf('hours', 'How long the old key goes on working beside the new one; 24 h when left out, 720 h at most').exactOptional() }).meta({ id: 'Rotation', description: 'How a key is replaced.' });
export const rotated = z.object({ ...kept, key: z.string().describe('The new key. It is told here and never again.'), previous: keptKey.describe('The old key: it works until its expiresAt.') }).meta({ id: 'RotatedKey', description: 'The key that came in place of another.' });

const guild = { id: z.string(), name: z.string(), createdAt: z.iso.datetime() };
export const keptGuild = z.object(guild).meta({ id: 'Guild', description: 'A guild of this library.' });
export const newGuild = z.object({ ...guild, firstKey: newKey }).meta({ id: 'NewGuild', description: 'A guild that was made just now, with its first key.' });
export const guildToMake = z.strictObject({ name: z.string().min(1).max(120) }).meta({ id: 'GuildToMake', description: 'A new guild.' });
const entry = z.object({
  id: z.string(), at: z.iso.datetime(), action: z.string().describe('made, changed, retired, revoked or removed. An open set.'), what: z.string().describe('wheel, key, … An open set.'), subject: z.string().describe('Id of what was written.'),
  revision: z.int().min(1).exactOptional(), keyId: z.string().exactOptional().describe('The key that it was written with; absent: by hand on the machine.'), requestId: z.string().exactOptional(),
}).meta({ id: 'AuditEntry', description: 'One write.' });
export const auditList = listOf('AuditList', entry, 'What was written for a guild, the newest first.');

const guildId = z.string().min(1).max(80).describe('Id of the key’s own guild.');
export const guildPath = z.strictObject({ id: guildId });
export const keyPath = z.strictObject({ id: guildId, keyId: z.string().min(1).max(80).describe('Id of a key, not the key itself.') });

const key = { id: 'key-4hq8tz6w2n9c', guild: 'thornmere-guild', label: 'spinning room', prefix: 'wgk_7Rb2Qx', scopes: ['read', 'write'], createdAt: '2026-01-05T10:00:00.000Z' } as const;
const told = 'wgk_… (42 signs in all)';
const made = { id: 'guild-9c4m2x7tqz8r', name: 'Thornmere Guild', createdAt: '2026-01-05T10:00:00.000Z' } as const;
export const examples = {
  guild: { ...made, id: 'thornmere-guild' }, guildToMake: { name: 'Thornmere Guild' }, newGuild: { ...made, firstKey: { ...key, guild: made.id, scopes: [...scopes], label: 'first key', key: told } },
  key, keys: { items: [key] }, keyToMake: { label: 'spinning room', scopes: ['read', 'write'] }, newKey: { ...key, key: told },
  rotation: { overlap: '24 h' }, rotated: { ...key, id: 'key-w7m3kd5zr2xv', rotatedFrom: key.id, key: told, previous: { ...key, expiresAt: '2026-01-06T10:00:00.000Z' } },
  audit: { items: [{ id: '4711', at: '2026-01-05T10:00:00.000Z', action: 'changed', what: 'wheel', subject: 'thornmere-4', revision: 2, keyId: key.id, requestId: 'r1' }] },
} as const;
