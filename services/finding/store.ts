/** What wheels are searched by, in the database: the only SQL of this room. It is written with each wheel. */
import { and, eq, gt, gte, isNull, lte, sql, type SQL } from 'drizzle-orm';
import type { WithSubqueryWithSelection } from 'drizzle-orm/pg-core';
import { turnTo, type Database, type Db } from '../../db/client.js';
import { guilds, publicWheelFinds, wheelFinds, wheels } from '../../db/schema/index.js';
import { driveKey, keysWanted, styleKey, traitsOf, type Search } from '../wheels/finding.js';
import type { Wheel } from '../wheels/profile.js';

/** Keys are letters, numbers and signs that mean nothing in a list. */
const list = (values: readonly (string | number)[], type: 'text' | 'float8'): SQL => sql`${`{${values.join(',')}}`}::text::${sql.raw(type)}[]`;
const row = { keys: sql`excluded.keys`, ratioLows: sql`excluded.ratio_lows`, ratioHighs: sql`excluded.ratio_highs`, lowestRatio: sql`excluded.lowest_ratio`, highestRatio: sql`excluded.highest_ratio`, drawsIn: sql`excluded.draws_in`, orificeMm: sql`excluded.orifice_mm` };

/** Writes what the wheels of `from`, one row with id, guild_id, visibility and revision, are found by. `profile`: the effective one. */
export function writeFinds(db: Db, from: SQL, profile: Wheel) {
  const { keys, ratios, drawsIn, orifice } = traitsOf(profile);
  const [lows, highs] = [ratios.map((r) => r.low), ratios.map((r) => r.high)];
  const number = (n: number | undefined): SQL => sql`${n === undefined ? null : String(n)}::text::float8`;
  return db.insert(wheelFinds).select(sql`select id, guild_id, revision, ${list(keys, 'text')}, ${list(lows, 'float8')}, ${list(highs, 'float8')},
    ${number(lows.length === 0 ? undefined : Math.min(...lows))}, ${number(highs.length === 0 ? undefined : Math.max(...highs))}, ${drawsIn === undefined ? null : String(drawsIn)}::text::boolean, ${number(orifice)}, visibility from ${from}`)
    .onConflictDoUpdate({ target: wheelFinds.wheelId, set: { ...row, revision: sql`excluded.revision`, visibility: sql`excluded.visibility` }, setWhere: sql`${wheelFinds.revision} <= excluded.revision` });
}

/** A part of a statement whose `after` is the wheel as it is now: it is found by that, or, once retired, no more. */
export const findsAfter = (db: Db, retired: boolean, profile: Wheel | undefined): WithSubqueryWithSelection<{ id: typeof wheelFinds.wheelId }, 'finds'> => db.$with('finds').as(
  retired || profile === undefined
    ? db.delete(wheelFinds).where(sql`${wheelFinds.wheelId} in (select id from after)`).returning({ id: wheelFinds.wheelId })
    : writeFinds(db, sql`after`, profile).returning({ id: wheelFinds.wheelId }));

/** The ids of the wheels that are like `search`: public ones, and `guild`'s own. At most `limit` of either, after the id `from`. */
export function idsFound(db: Db, search: Search, limit: number, from: string | undefined, guild: string | undefined): SQL {
  const of = (table: typeof publicWheelFinds | typeof wheelFinds, own: SQL | undefined): SQL => {
    const { ratioAtLeast: low, ratioAtMost: high } = search;
    const within = [low === undefined ? undefined : sql`h >= ${low}::float8`, high === undefined ? undefined : sql`l <= ${high}::float8`].filter((part) => part !== undefined);
    const wanted = and(
      own, from === undefined ? undefined : gt(table.wheelId, from),
      ...(search.text?.split(' ') ?? []).map((word) => sql`${table.keys} && ${list(keysWanted(word), 'text')}`),
      ...[search.style && styleKey(search.style), search.drive && driveKey(search.drive)].map((key) => (key === undefined ? undefined : sql`${table.keys} @> ${list([key], 'text')}`)),
      low === undefined ? undefined : gte(table.highestRatio, low), high === undefined ? undefined : lte(table.lowestRatio, high),
      // A wheel with a whorl below and one above has none within.
      within.length < 2 ? undefined : sql`exists (select 1 from unnest(${table.ratioLows}, ${table.ratioHighs}) as whorl(l, h) where ${sql.join(within, sql` and `)})`,
      search.drawsIn === undefined ? undefined : eq(table.drawsIn, search.drawsIn),
      search.orificeAtLeast === undefined ? undefined : gte(table.orificeMm, search.orificeAtLeast),
    );
    return sql`(${db.select({ id: table.wheelId }).from(table).where(wanted).orderBy(table.wheelId).limit(limit)})`;
  };
  const open = of(publicWheelFinds, undefined);
  return guild === undefined ? open : sql`(${open} union ${of(wheelFinds, eq(wheelFinds.guildId, guild))})`;
}

/** Tells what wheels are found by that were kept before there was a search, each guild for itself. */
export async function fillFinds(database: Database): Promise<void> {
  const all = await database.ask('keeper', (db) => db.select({ id: guilds.id }).from(guilds));
  for (const { id: guild } of all) {
    let more = true;
    while (more) {
      more = await database.transaction('keeper', async (db) => {
        await turnTo(db, { guild });
        const missing = await db.select({ id: wheels.id, profile: wheels.profile }).from(wheels).leftJoin(wheelFinds, eq(wheelFinds.wheelId, wheels.id))
          .where(and(eq(wheels.guildId, guild), isNull(wheels.retiredAt), isNull(wheelFinds.wheelId))).limit(200).for('share', { of: wheels });
        for (const { id, profile } of missing) await writeFinds(db, sql`wheels where id = ${id} and retired_at is null`, profile as Wheel);
        return missing.length === 200;
      });
    }
  }
}
