/** How a revision is shown, and what a copy is made of. Pure. */
import { Reader } from '../foundation/read.js';
import type { Part } from '../wheels/parts.js';
import type { Wheel } from '../wheels/profile.js';
import { visibilities, type Visibility } from '../wheels/rules.js';

export const changes = ['made', 'changed', 'retired', 'restored'] as const;

/** A wheel as it was at one revision. */
export interface Revision {
  readonly wheel: string;
  readonly revision: number;
  readonly guild: string;
  readonly change: (typeof changes)[number];
  readonly restored?: number;
  readonly visibility: Visibility;
  readonly name: string;
  readonly profile: Wheel;
  readonly parts: readonly Part[];
  readonly keyId?: string;
  readonly madeAt: Date;
}
/** A wheel that was copied from another, or that another was copied from. */
export interface Relative { readonly id: string; readonly name: string; readonly guild: string; readonly copiedRevision: number }

/** `guild`: who asks. Whose key it was is told to the wheel's own guild alone. */
const said = (one: Omit<Revision, 'profile' | 'parts'>, guild: string | undefined) => ({
  wheel: one.wheel, revision: one.revision, change: one.change, ...(one.restored === undefined ? {} : { restored: one.restored }), visibility: one.visibility, madeAt: one.madeAt.toISOString(),
  ...(one.keyId === undefined || one.guild !== guild ? {} : { keyId: one.keyId }),
});
export const listedRevision = (one: Omit<Revision, 'profile' | 'parts'>, guild: string | undefined) => ({ ...said(one, guild), name: one.name });
export const revisionRead = (one: Revision, guild: string | undefined) => ({ ...said(one, guild), ...one.profile, parts: one.parts.filter((part) => part.at !== undefined) });

export interface Fork { readonly name?: string; readonly visibility: Visibility; readonly revision?: number }

/** Throws a problem that names every place. */
export function readFork(body: unknown): Fork {
  if (body === undefined) return { visibility: 'guild' };
  const r = new Reader();
  const o = r.object(body, '', ['name', 'visibility', 'revision']) ?? {};
  const name = o['name'] === undefined ? undefined : r.text(o['name'], '/name', 120);
  const visibility = o['visibility'] === undefined ? 'guild' : r.choice(o['visibility'], '/visibility', visibilities);
  const revision = o['revision'];
  if (revision !== undefined && typeof revision !== 'number') r.wrongType('/revision', revision, 'a number');
  else if (revision !== undefined && !(Number.isInteger(revision) && revision >= 1 && revision < 2 ** 31)) r.fail('/revision', { code: 'out-of-range', detail: 'A revision is a whole number from 1.', received: String(revision), expected: 'the number of a revision' });
  r.done();
  return { ...(name === undefined ? {} : { name }), visibility: visibility!, ...(typeof revision === 'number' ? { revision } : {}) };
}
