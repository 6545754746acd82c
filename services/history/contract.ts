/** Zod of what a wheel was: its revisions, what it was copied from, and what was copied from it. */
import { z } from 'zod';
import { listOf } from '../parts.js';
import { visibilities } from '../wheels/rules.js';
import { wheelShape } from '../wheels/schema.js';
import { part } from '../wheels/contract.js';
import { changes } from './rules.js';

const number = z.int().min(1);
const said = {
  wheel: z.string().describe('Id of the wheel.'),
  revision: number.describe('The first is 1.'),
  change: z.enum(changes).describe('What made it this revision.'),
  restored: number.exactOptional().describe('The revision that it is again.'),
  visibility: z.enum(visibilities),
  madeAt: z.iso.datetime(),
  keyId: z.string().exactOptional().describe('The key that made the change; told to the wheel’s own guild alone.'),
};
const listedRevision = z.object({ ...said, name: z.string() }).meta({ id: 'ListedRevision', description: 'One revision of a wheel, without its profile.' });
export const revisionList = listOf('RevisionList', listedRevision, 'Revisions of a wheel, the newest first.');
export const keptRevision = z.object({ ...said, ...wheelShape, parts: z.array(part) }).meta({ id: 'KeptRevision', description: 'A wheel as it was at one revision.' });
export const revisionOf = z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel of the library.'), revision: z.string().min(1).max(9).describe('Number of a revision.') });

export const forkBody = z.strictObject({
  name: z.string().min(1).max(120).exactOptional().describe('As the wheel that is copied, when left out.'),
  visibility: z.enum(visibilities).exactOptional().describe('guild when left out.'),
  revision: number.exactOptional().describe('The revision that is copied; the newest when left out.'),
}).meta({ id: 'Fork', description: 'How a copy differs from the wheel that it is made of.' });
const relative = {
  id: z.string(), name: z.string(), guild: z.string().describe('Id of the guild that keeps it.'),
};
export const lineage = listOf('Lineage', z.object({ ...relative, copiedRevision: number.describe('The revision that was copied.') }).meta({ id: 'Ancestor', description: 'A wheel that another was copied from.' }), 'What a wheel was copied from: the nearest first, as far as they may be seen.');
export const forkList = listOf('ForkList', z.object({ ...relative, copiedRevision: number.describe('The revision of this wheel that was copied.') }).meta({ id: 'ListedFork', description: 'A wheel that was copied from this one.' }), 'Wheels that were copied from this one, as far as they may be seen.');

const double = { name: 'Thornmere 4', driveWheel: { grooveDiameter: '560 mm' }, whorls: [{ name: 'small', grooveDiameter: '60 mm' }] };
const revision = { wheel: 'thornmere-4', revision: 1, change: 'made', visibility: 'public', madeAt: '2026-01-05T10:00:00.000Z' } as const;
export const examples = {
  revisions: { items: [{ ...revision, name: 'Thornmere 4' }] },
  revision: { ...revision, ...double, parts: [{ id: 'part-1', kind: 'whorl', name: 'small', at: '/whorls/0' }] },
  fork: { name: 'Thornmere 4, as ours' },
  lineage: { items: [{ id: 'thornmere-4', name: 'Thornmere 4', guild: 'thornmere-guild', copiedRevision: 1 }] },
  forks: { items: [{ id: 'wheel-7k3d9q2mzr4f', name: 'Thornmere 4, as ours', guild: 'thornmere-guild', copiedRevision: 1 }] },
} as const;
