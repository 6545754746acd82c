/** Measurements in the database: the only SQL of this room. */
import { and, eq, gt, isNull, sql } from 'drizzle-orm';
import type { Database } from '../../db/client.js';
import { measurements } from '../../db/schema/index.js';
import { newId, type Caller } from '../guilds/keys.js';
import type { Within } from '../http/store.js';
import { makeCursor, readCursor } from '../wheels/cursor.js';
import { cursorKeyOf } from '../wheels/store.js';
import type { Measurement, StoredMeasurement } from './measurement.js';

export interface MeasurementStore {
  /** Of a wheel, in the order of their ids; those that `guild` may see, or everybody. */
  list(wheel: string, page: { limit: number; after?: string }, guild?: string): Promise<{ items: StoredMeasurement[]; next?: string }>;
  one(wheel: string, id: string, guild?: string): Promise<StoredMeasurement | undefined>;
  /** How many of this wheel stand. */
  count(wheel: string, guild: string): Promise<number>;
  add(wheel: string, measurement: Measurement, by: Caller, within?: Within): Promise<StoredMeasurement>;
  /** Takes it out of what is combined; the row stays. False when it was withdrawn already, or is not the caller's own. */
  withdraw(wheel: string, id: string, by: Caller): Promise<boolean>;
}

const row = { id: measurements.id, measurement: measurements.measurement, revision: measurements.revision, createdAt: measurements.createdAt };
type Row = Omit<StoredMeasurement, 'measurement'> & { measurement: Record<string, unknown> };
const stored = (found: Row): StoredMeasurement => ({ ...found, measurement: found.measurement as unknown as Measurement });
const isId = (id: string): boolean => /^[\w-]{1,80}$/.test(id);

/** `changed` is told of every wheel whose measurements change, by whom, and within what. */
export function measurementStore(database: Database, changed: (wheel: string, by: Caller, within?: Within) => Promise<void>): MeasurementStore {
  const secret = cursorKeyOf(database);
  const who = (guild: string | undefined) => (guild === undefined ? 'public' as const : { guild });
  const of = (wheel: string) => and(eq(measurements.wheelId, wheel), isNull(measurements.retiredAt));
  return {
    list: async (wheel, { limit, after }, guild) => {
      const key = await secret();
      const list = `measurements ${wheel} ${guild ?? ''}`;
      const from = after === undefined ? undefined : readCursor(key, list, after);
      const found = await database.ask(who(guild), (db) => db.select(row).from(measurements).where(and(of(wheel), from === undefined ? undefined : gt(measurements.id, from))).orderBy(measurements.id).limit(limit + 1));
      const items = found.slice(0, limit).map(stored);
      return { items, ...(found.length > limit ? { next: makeCursor(key, list, items.at(-1)!.id) } : {}) };
    },
    one: async (wheel, id, guild) => {
      if (!isId(id)) return undefined;
      const [one] = await database.ask(who(guild), (db) => db.select(row).from(measurements).where(and(of(wheel), eq(measurements.id, id))));
      return one && stored(one);
    },
    count: async (wheel, guild) => (await database.ask({ guild }, (db) => db.select({ n: sql<number>`count(*)::int` }).from(measurements).where(of(wheel))))[0]!.n,
    add: async (wheel, measurement, by, within) => {
      const [made] = await database.ask(by, (db) => db.insert(measurements).values({ id: newId('measurement'), wheelId: wheel, guildId: by.guild, revision: 1, measurement: { ...measurement } }).returning(row), within);
      await changed(wheel, by, within);
      return stored(made!);
    },
    withdraw: async (wheel, id, by) => {
      const gone = await database.ask(by, (db) => db.update(measurements).set({ retiredAt: sql`now()`, revision: sql`${measurements.revision} + 1` }).where(and(of(wheel), eq(measurements.id, id), eq(measurements.guildId, by.guild))).returning({ id: measurements.id }));
      await changed(wheel, by);
      return gone.length === 1;
    },
  };
}
