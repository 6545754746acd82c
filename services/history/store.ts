/** Revisions of wheels, and which was copied from which: the only SQL of this room. What is written is written by the wheels' own store. */
import { and, desc, eq, gt, isNull, lt, sql } from 'drizzle-orm';
import { type Database, type Who } from '../../db/client.js';
import { wheelRevisions, wheels } from '../../db/schema/index.js';
import { makeCursor, readCursor } from '../wheels/cursor.js';
import { partsOf } from '../wheels/parts.js';
import type { Wheel } from '../wheels/profile.js';
import { cursorKeyOf } from '../wheels/store.js';
import type { Relative, Revision } from './rules.js';

export interface AskedPage { readonly limit: number; readonly after?: string }
export interface Page<Item> { readonly items: Item[]; readonly next?: string }

/** Of a wheel that is public, or `guild`'s own; its own it sees when it is retired too. Undefined: there is none that it may see. */
export interface HistoryStore {
  /** The newest first. */
  revisions(id: string, page: AskedPage, guild?: string): Promise<Page<Omit<Revision, 'profile' | 'parts'>> | undefined>;
  /** `revision` absent: the newest. */
  revision(id: string, revision?: number, guild?: string): Promise<Revision | undefined>;
  /** What it was copied from, the nearest first; it ends where one may not be seen. */
  lineage(id: string, guild?: string): Promise<Relative[]>;
  forks(id: string, page: AskedPage, guild?: string): Promise<Page<Relative>>;
}

/** So many generations are told. */
const mostAncestors = 100;

const brief = {
  wheel: wheelRevisions.wheelId, revision: wheelRevisions.revision, guild: wheelRevisions.guildId, change: wheelRevisions.change, restored: wheelRevisions.restored,
  visibility: wheelRevisions.visibility, name: sql<string>`profile->>'name'`, keyId: wheelRevisions.keyId, madeAt: wheelRevisions.madeAt,
};
const without = <Row extends { restored: number | null; keyId: string | null }>({ restored, keyId, ...row }: Row) => ({ ...row, ...(restored === null ? {} : { restored }), ...(keyId === null ? {} : { keyId }) });
const who = (guild: string | undefined): Who => (guild === undefined ? 'public' : { guild });
/** No id of ours looks otherwise, and a database does not take every sign. */
const isId = (id: string): boolean => /^[\w-]{1,80}$/.test(id);

export function historyStore(database: Database): HistoryStore {
  const secret = cursorKeyOf(database);
  return {
    revisions: async (id, { limit, after }, guild) => {
      if (!isId(id)) return undefined;
      const key = await secret();
      const list = `revisions ${id} ${guild ?? ''}`;
      const from = after === undefined ? undefined : Number(readCursor(key, list, after));
      const found = await database.ask(who(guild), (db) => db.select(brief).from(wheelRevisions)
        .where(and(eq(wheelRevisions.wheelId, id), from === undefined ? undefined : lt(wheelRevisions.revision, from))).orderBy(desc(wheelRevisions.revision)).limit(limit + 1));
      if (found.length === 0) return undefined;
      const items = found.slice(0, limit).map(without);
      return { items, ...(found.length > limit ? { next: makeCursor(key, list, String(items.at(-1)!.revision)) } : {}) };
    },
    revision: async (id, revision, guild) => {
      if (!isId(id)) return undefined;
      const [found] = await database.ask(who(guild), (db) => db.select({ ...brief, profile: wheelRevisions.profile, parts: wheelRevisions.parts }).from(wheelRevisions)
        .where(and(eq(wheelRevisions.wheelId, id), revision === undefined ? undefined : eq(wheelRevisions.revision, revision))).orderBy(desc(wheelRevisions.revision)).limit(1));
      if (found === undefined) return undefined;
      const profile = found.profile as Wheel;
      return { ...without(found), profile, parts: found.parts.length === 0 ? partsOf(profile) : found.parts };
    },
    lineage: async (id, guild) => {
      const rows = await database.ask(who(guild), (db) => db.execute(sql`with recursive line as (
          select forked_from, forked_revision, 1 as far from wheels where id = ${id}
          union all select w.forked_from, w.forked_revision, line.far + 1 from line join wheels w on w.id = line.forked_from where line.far < ${mostAncestors}
        ) select w.id, w.name, w.guild_id as guild, line.forked_revision as "copiedRevision" from line join wheels w on w.id = line.forked_from where w.retired_at is null order by line.far`));
      return rows as unknown as Relative[];
    },
    forks: async (id, { limit, after }, guild) => {
      const key = await secret();
      const list = `forks ${id} ${guild ?? ''}`;
      const from = after === undefined ? undefined : readCursor(key, list, after);
      const found = await database.ask(who(guild), (db) => db.select({ id: wheels.id, name: wheels.name, guild: wheels.guildId, copiedRevision: sql<number>`forked_revision` }).from(wheels)
        .where(and(eq(wheels.forkedFrom, id), isNull(wheels.retiredAt), from === undefined ? undefined : gt(wheels.id, from))).orderBy(wheels.id).limit(limit + 1));
      const items = found.slice(0, limit);
      return { items, ...(found.length > limit ? { next: makeCursor(key, list, items.at(-1)!.id) } : {}) };
    },
  };
}
