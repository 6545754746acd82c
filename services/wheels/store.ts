/** Wheels in the database: the only SQL of this room. */
import { randomBytes } from 'node:crypto';
import { and, eq, gt, inArray, isNull, lt, or, sql } from 'drizzle-orm';
import type { WithSubqueryWithSelection } from 'drizzle-orm/pg-core';
import { prepared, turnTo, type Database, type Db } from '../../db/client.js';
import { guilds, librarySecrets, wheelFinds, wheelRevisions, wheels } from '../../db/schema/index.js';
import type { Measurement } from '../measurements/measurement.js';
import type { MeasurementStore } from '../measurements/store.js';
import type { LoanStore } from '../loans/store.js';
import type { CardStore } from '../cards/store.js';
import type { HistoryStore } from '../history/store.js';
import type { AnalysisStore } from '../analyses/store.js';
import type { ReplyStore, Within } from '../http/store.js';
import { findsAfter, idsFound, nearTo, writeFinds } from '../finding/store.js';
import { newId, type Caller } from '../guilds/keys.js';
import type { GuildDoors } from '../guilds/store.js';
import { makeCursor, readCursor } from './cursor.js';
import { traitsOf, type Search } from './finding.js';
import { partsOf, type Part } from './parts.js';
import type { Wheel } from './profile.js';
import { unlike, type Unlike } from './similar.js';
import { effective, type StoredWheel, type Visibility } from './rules.js';

export type { StoredWheel } from './rules.js';
export interface WheelPage { readonly items: StoredWheel[]; readonly next?: string }
export interface WheelsAsked { readonly limit: number; readonly after?: string; readonly guild?: string; readonly of?: 'public' | 'guild'; readonly search?: Search }
export interface WheelChange {
  readonly profile: Wheel;
  readonly visibility: Visibility;
  readonly parts: readonly Part[];
  readonly forkedFrom?: StoredWheel['forkedFrom'];
  /** The revision that it is again; then it may have been retired. */
  readonly restored?: number;
}

/** The library, as routes and calculations see it. Every call may throw `library-unavailable`. */
export interface Library extends ReplyStore {
  /** The wheel, if it is public or `guild`'s own. */
  wheel(id: string, guild?: string): Promise<StoredWheel | undefined>;
  /** Public wheels, and `guild`'s own (or with `of` either alone), in the order of their ids; those that are like `search`. `after` is the `next` of the page before. */
  wheels(page: WheelsAsked): Promise<WheelPage>;
  /** Public wheels and `guild`'s own, the most alike first. */
  similar(to: StoredWheel, limit: number, guild?: string): Promise<{ readonly wheel: StoredWheel; readonly distance: number; readonly why: Unlike[] }[]>;
  create(wheel: WheelChange, by: Caller, within?: Within): Promise<StoredWheel>;
  /** All of them in one statement; gives their ids in the same order. */
  createAll(made: readonly WheelChange[], by: Caller, within?: Within): Promise<string[]>;
  /** Undefined when `expected` is no longer its revision, or it is not the caller's own. */
  replace(id: string, wheel: WheelChange, expected: number, by: Caller): Promise<StoredWheel | undefined>;
  /** Takes it out of the library; its revisions stay. False as above. */
  retire(id: string, expected: number, by: Caller): Promise<boolean>;
  readonly history: HistoryStore;
  readonly guilds: GuildDoors;
  readonly cards: CardStore;
  readonly measurements: MeasurementStore;
  readonly loans: LoanStore;
  caller(key: string): Promise<Caller | undefined>;
  /** What keeps and works analyses of whole tables. */
  readonly analyses: AnalysisStore;
  /** Rejects when the library does not answer, at once while it is still being made. */
  ready(): Promise<void>;
  close(): Promise<void>;
}

const plainRow = { id: wheels.id, revision: wheels.revision, visibility: wheels.visibility, guild: wheels.guildId, profile: wheels.profile, parts: wheels.parts, forkedFrom: wheels.forkedFrom, forkedRevision: wheels.forkedRevision, createdAt: wheels.createdAt, updatedAt: wheels.updatedAt };
/** Measurements that stand, read with their wheel; the database shows those that the asker may see. */
const measured = sql<string | MeasuredRow[] | null>`(select json_agg(json_build_object('id', m.id, 'revision', m.revision, 'measurement', m.measurement, 'createdAt', m.created_at) order by m.id) from measurements m where m.wheel_id = wheels.id and m.retired_at is null)`.as('measured');
interface MeasuredRow { readonly id: string; readonly revision: number; readonly measurement: Measurement; readonly createdAt: string }
const row = { ...plainRow, measured };
type Row = Omit<StoredWheel, 'profile' | 'measurements' | 'forkedFrom'> & { profile: Record<string, unknown>; forkedFrom: string | null; forkedRevision: number | null; measured: string | MeasuredRow[] | null };
function stored({ measured: list, forkedFrom, forkedRevision, parts, ...found }: Row): StoredWheel {
  const rows = typeof list === 'string' ? (JSON.parse(list) as MeasuredRow[]) : (list ?? []);
  const profile = found.profile as Wheel;
  return {
    // A wheel that was kept before parts had ids: they follow from its profile.
    ...found, profile, parts: parts.length === 0 ? partsOf(profile) : parts, ...(forkedFrom === null ? {} : { forkedFrom: { id: forkedFrom, revision: forkedRevision! } }),
    ...(rows.length === 0 ? {} : { measurements: rows.map((m) => ({ ...m, createdAt: new Date(m.createdAt) })) }),
  };
}
const seenBy = (guild: string | undefined, own: boolean) =>
  and(isNull(wheels.retiredAt), guild === undefined ? sql`visibility = 'public'` : own ? eq(wheels.guildId, guild) : or(sql`visibility = 'public'`, eq(wheels.guildId, guild)));

/** Wheels that are kept in memory where this process is the only one. */
const most = 1000;

const byId = prepared((db) => db.select(row).from(wheels).where(and(eq(wheels.id, sql.placeholder('id')), isNull(wheels.retiredAt))).prepare('wheel_by_id'));

/** What cursors are signed with. Made by whichever process asks first; the others read it. */
export function cursorKeyOf(database: Database): () => Promise<string> {
  let key: Promise<string> | undefined;
  return () => (key ??= database.transaction('keeper', async (db) => {
    await db.insert(librarySecrets).values({ cursorKey: randomBytes(32).toString('base64') }).onConflictDoNothing();
    return (await db.select({ key: librarySecrets.cursorKey }).from(librarySecrets))[0]!.key;
  }).catch((error: unknown) => { key = undefined; throw error; }));
}

export function wheelStore(database: Database): Pick<Library, 'wheel' | 'wheels' | 'similar' | 'create' | 'createAll' | 'replace' | 'retire'> & { changed(id: string, by: Caller, within?: Within): Promise<void> } {
  const secret = cursorKeyOf(database);
  // The embedded database has one process, so what is read once is right until it is changed here. A server has several.
  // Only what everybody may read is kept.
  const known = new Map<string, StoredWheel>();
  let changes = 0;
  const forget = (id: string): void => { changes++; known.delete(id); };

  const find = async (id: string, guild: string | undefined): Promise<StoredWheel | undefined> => {
    // No id of ours looks otherwise, and a database does not take every sign.
    if (!/^[\w-]{1,80}$/.test(id)) return undefined;
    const found = known.get(id);
    if (found !== undefined) return found;
    const before = changes;
    const [one] = await database.ask(guild === undefined ? 'public' : { guild }, (db) => byId(db).execute({ id }));
    if (one === undefined) return undefined;
    const wheel = stored(one);
    if (database.kind === 'embedded' && before === changes && wheel.visibility === 'public') {
      if (known.size >= most) known.delete(known.keys().next().value!);
      known.set(id, wheel);
    }
    return wheel;
  };

  const change = async (id: string, expected: number, by: Caller, what: 'changed' | 'retired' | 'restored', set: Partial<Pick<typeof wheels.$inferInsert, 'profile' | 'parts' | 'visibility' | 'name'>>, restored?: number): Promise<StoredWheel | undefined> => {
    const [made] = await database.ask(by, (db) => withRevision(db, db.$with('after').as(db.update(wheels)
      .set({ ...set, revision: expected + 1, updatedAt: sql`now()`, ...(what === 'changed' ? {} : { retiredAt: what === 'retired' ? sql`now()` : null }) })
      .where(and(eq(wheels.id, id), eq(wheels.guildId, by.guild), eq(wheels.revision, expected), what === 'restored' ? undefined : isNull(wheels.retiredAt))).returning(row)), what, by.keyId, set.profile as Wheel | undefined, restored))
      .finally(() => forget(id));
    if (made === undefined) return undefined;
    const wheel = stored(made);
    if (what !== 'retired' && wheel.measurements !== undefined) await findAgain(wheel, by);
    return wheel;
  };
  /** What a measured wheel is found by follows its effective profile. */
  const findAgain = (wheel: StoredWheel, by: Caller, within?: Within) =>
    database.ask(by, (db) => db.execute(writeFinds(sql`wheels where id = ${wheel.id} and revision = ${wheel.revision} and guild_id = ${by.guild} and retired_at is null`, effective(wheel))), within);

  return {
    changed: async (id, by, within) => {
      forget(id);
      const [one] = await database.ask(by, (db) => db.select(row).from(wheels).where(and(eq(wheels.id, id), eq(wheels.guildId, by.guild), isNull(wheels.retiredAt))), within);
      if (one !== undefined) await findAgain(stored(one), by, within);
    },
    wheel: find,
    wheels: async ({ limit, after, guild: asker, of, search }) => {
      const key = await secret();
      const guild = of === 'public' ? undefined : asker;
      const own = of === 'guild';
      const list = `wheels ${guild ?? ''}${own ? ' own' : ''}${search === undefined ? '' : ` ${JSON.stringify(search)}`}`;
      const from = after === undefined ? undefined : readCursor(key, list, after);
      const found = await database.ask(guild === undefined ? 'public' : { guild }, (db) => db.select(row).from(wheels)
        .where(and(seenBy(guild, own), from === undefined ? undefined : gt(wheels.id, from), search === undefined ? undefined : sql`${wheels.id} in ${idsFound(db, search, limit + 1, from, guild, own)}`)).orderBy(wheels.id).limit(limit + 1));
      const items = found.slice(0, limit).map(stored);
      return { items, ...(found.length > limit ? { next: makeCursor(key, list, items.at(-1)!.id) } : {}) };
    },
    similar: async (to, limit, guild) => {
      const who = guild === undefined ? 'public' : { guild };
      const own = traitsOf(effective(to));
      const near = (await database.ask(who, (db) => nearTo(db, own, to.id, guild))).map(({ id, ...one }) => ({ id, ...unlike(own, one) })).toSorted((a, b) => a.distance - b.distance || (a.id < b.id ? -1 : 1)).slice(0, limit);
      if (near.length === 0) return [];
      const found = new Map((await database.ask(who, (db) => db.select(row).from(wheels).where(and(inArray(wheels.id, near.map((one) => one.id)), isNull(wheels.retiredAt))))).map((one) => [one.id, stored(one)]));
      return near.flatMap(({ id, ...how }) => { const wheel = found.get(id); return wheel === undefined ? [] : [{ wheel, ...how }]; });
    },
    create: async ({ profile, visibility, parts, forkedFrom }, by, within) => {
      const values = { id: newId('wheel'), guildId: by.guild, visibility, revision: 1, name: profile.name!, profile: { ...profile }, parts, ...(forkedFrom === undefined ? {} : { forkedFrom: forkedFrom.id, forkedRevision: forkedFrom.revision }) };
      const [made] = await database.ask(by, (db) => withRevision(db, db.$with('after').as(db.insert(wheels).values(values).returning(row)), 'made', by.keyId, profile), within);
      return stored(made!);
    },
    createAll: async (made, by, within) => {
      const rows = made.map(({ profile, visibility, parts }) => ({ id: newId('wheel'), visibility, name: profile.name!, profile, parts }));
      if (rows.length > 0) await database.ask(by, (db) => db.execute(sql`with given as (select * from json_to_recordset(${JSON.stringify(rows)}::text::json) as g(id text, visibility text, name text, profile json, parts json)),
        after as (insert into wheels (id, guild_id, visibility, revision, name, profile, parts) select id, ${by.guild}, visibility, 1, name, profile, parts from given returning id, guild_id, revision, visibility, profile, parts, updated_at),
        kept as (insert into wheel_revisions (wheel_id, revision, guild_id, change, visibility, profile, parts, key_id, made_at) select id, revision, guild_id, 'made', visibility, profile, parts, ${by.keyId}, updated_at from after)
        ${writeFinds(sql`after`, new Map(rows.map(({ id, profile }) => [id, profile])))}`), within);
      return rows.map((one) => one.id);
    },
    replace: (id, { profile, visibility, parts, restored }, expected, by) => change(id, expected, by, restored === undefined ? 'changed' : 'restored', { profile: { ...profile }, parts, visibility, name: profile.name! }, restored),
    retire: async (id, expected, by) => (await change(id, expected, by, 'retired', {})) !== undefined,
  };
}

/** A change, called `after`, its revision, and what it is found by, in one statement: either both are there or neither, wherever it breaks off. */
function withRevision(db: Db, after: WithSubqueryWithSelection<typeof row, 'after'>, what: 'made' | 'changed' | 'retired' | 'restored', keyId: string, profile: Wheel | undefined, restored?: number) {
  const kept = db.$with('kept').as(db.insert(wheelRevisions).select(sql`select id, revision, guild_id, ${what}::text, ${restored ?? null}::integer, visibility, profile, parts, ${keyId}::text, updated_at from after`)
    .returning({ revision: wheelRevisions.revision }));
  return db.with(after, kept, findsAfter(db, what === 'retired', profile)).select().from(after);
}

/** Tells what wheels are found by that were kept or changed by a service which knew of no such search, each guild for itself. */
export async function fillFinds(database: Database): Promise<void> {
  const all = await database.ask('keeper', (db) => db.select({ id: guilds.id }).from(guilds));
  for (const { id: guild } of all) {
    let more = true;
    while (more) {
      more = await database.transaction('keeper', async (db) => {
        await turnTo(db, { guild });
        const missing = (await db.select(row).from(wheels).leftJoin(wheelFinds, eq(wheelFinds.wheelId, wheels.id))
          .where(and(eq(wheels.guildId, guild), isNull(wheels.retiredAt), or(isNull(wheelFinds.wheelId), lt(wheelFinds.revision, wheels.revision)))).limit(200).for('share', { of: wheels })).map(stored);
        if (missing.length > 0) await db.execute(writeFinds(sql`wheels where id = any(${`{${missing.map((one) => one.id).join(',')}}`}::text[]) and retired_at is null`, new Map(missing.map((one) => [one.id, effective(one)]))));
        return missing.length === 200;
      });
    }
  }
}
