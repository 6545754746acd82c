/** What wheels are searched by, in the database: the only SQL of this room. It is written with each wheel. */
import { and, eq, gt, gte, isNull, lte, sql, type SQL } from 'drizzle-orm';
import { turnTo, type Database, type Db } from '../../db/client.js';
import { guilds, publicWheelFinds, wheelFinds, wheels } from '../../db/schema/index.js';
import { driveKey, keysWanted, styleKey, traitsOf, type Search } from '../wheels/finding.js';
import type { Wheel } from '../wheels/profile.js';

/** Keys are letters, numbers and signs that mean nothing in a list. */
const list = (values: readonly string[]): SQL => sql`${`{${values.join(',')}}`}::text::text[]`;
/** What a wheel is found by, as the columns of `wheel_finds` have it. */
function columnsOf(profile: Wheel) {
  const { keys, ratios, drawsIn, orifice } = traitsOf(profile);
  const [lows, highs] = [ratios.map((r) => r.low), ratios.map((r) => r.high)];
  return { keys, ratio_lows: lows, ratio_highs: highs, lowest_ratio: lows.length === 0 ? null : Math.min(...lows), highest_ratio: highs.length === 0 ? null : Math.max(...highs), draws_in: drawsIn ?? null, orifice_mm: orifice ?? null };
}
type Column = keyof ReturnType<typeof columnsOf>;
const types = { keys: 'text[]', ratio_lows: 'float8[]', ratio_highs: 'float8[]', lowest_ratio: 'float8', highest_ratio: 'float8', draws_in: 'boolean', orifice_mm: 'float8' } as const satisfies Record<Column, string>;
const names = Object.keys(types) as Column[];
const listed = sql.raw(names.join(', '));
const typed = sql.raw(names.map((name) => `${name} ${types[name]}`).join(', '));
const renewed = sql.raw([...names, 'revision', 'visibility'].map((name) => `${name} = excluded.${name}`).join(', '));

/** Writes what the wheels of `from`, rows with id, guild_id, visibility and revision, are found by. `profiles`: the effective ones; of one wheel, or by the ids of several. */
export function writeFinds(from: SQL, profiles: Wheel | ReadonlyMap<string, Wheel>): SQL {
  const rows = profiles instanceof Map ? [...(profiles as ReadonlyMap<string, Wheel>)].map(([wheel, profile]) => ({ wheel, ...columnsOf(profile) })) : [{ wheel: null, ...columnsOf(profiles as Wheel) }];
  return sql`insert into wheel_finds (wheel_id, guild_id, revision, visibility, ${listed})
    select f.id, f.guild_id, f.revision, f.visibility, ${listed} from (select id, guild_id, revision, visibility from ${from}) f join json_to_recordset(${JSON.stringify(rows)}::text::json) as found(wheel text, ${typed}) on found.wheel is null or found.wheel = f.id
    on conflict (wheel_id) do update set ${renewed} where wheel_finds.revision <= excluded.revision`;
}

/** A part of a statement whose `after` is the wheel as it is now: it is found by that, or, once retired, no more. */
export const findsAfter = (db: Db, retired: boolean, profile: Wheel | undefined) => db.$with('finds', { id: sql`wheel_id`.as('wheel_id') }).as(
  retired || profile === undefined ? sql`delete from wheel_finds where wheel_id in (select id from after) returning wheel_id` : sql`${writeFinds(sql`after`, profile)} returning wheel_id`);

/** The ids of the wheels that are like `search`: public ones, and `guild`'s own, or those alone. At most `limit` of either, after the id `from`. */
export function idsFound(db: Db, search: Search, limit: number, from: string | undefined, guild: string | undefined, ownAlone = false): SQL {
  const of = (table: typeof publicWheelFinds | typeof wheelFinds, own: SQL | undefined): SQL => {
    const { ratioAtLeast: low, ratioAtMost: high } = search;
    const within = [low === undefined ? undefined : sql`h >= ${low}::float8`, high === undefined ? undefined : sql`l <= ${high}::float8`].filter((part) => part !== undefined);
    const wanted = and(
      own, from === undefined ? undefined : gt(table.wheelId, from),
      ...(search.text?.split(' ') ?? []).map((word) => sql`${table.keys} && ${list(keysWanted(word))}`),
      ...[search.style && styleKey(search.style), search.drive && driveKey(search.drive)].map((key) => (key === undefined ? undefined : sql`${table.keys} @> ${list([key])}`)),
      low === undefined ? undefined : gte(table.highestRatio, low), high === undefined ? undefined : lte(table.lowestRatio, high),
      // A wheel with a whorl below and one above has none within.
      within.length < 2 ? undefined : sql`exists (select 1 from unnest(${table.ratioLows}, ${table.ratioHighs}) as whorl(l, h) where ${sql.join(within, sql` and `)})`,
      search.drawsIn === undefined ? undefined : eq(table.drawsIn, search.drawsIn),
      search.orificeAtLeast === undefined ? undefined : gte(table.orificeMm, search.orificeAtLeast),
    );
    return sql`(${db.select({ id: table.wheelId }).from(table).where(wanted).orderBy(table.wheelId).limit(limit)})`;
  };
  const own = guild === undefined ? undefined : of(wheelFinds, eq(wheelFinds.guildId, guild));
  if (own !== undefined && ownAlone) return own;
  const open = of(publicWheelFinds, undefined);
  return own === undefined ? open : sql`(${open} union ${own})`;
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
        if (missing.length > 0) await db.execute(writeFinds(sql`wheels where id = any(${list(missing.map((one) => one.id))}) and retired_at is null`, new Map(missing.map(({ id, profile }) => [id, profile as Wheel]))));
        return missing.length === 200;
      });
    }
  }
}
