/** What wheels are searched by, in the database: the only SQL of this room. It is written with each wheel. */
import { and, eq, gt, gte, lte, sql, type SQL } from 'drizzle-orm';
import type { Db } from '../../db/client.js';
import { publicWheelFinds, wheelFinds } from '../../db/schema/index.js';
import { driveKey, keysWanted, styleKey, traitsOf, type Search } from '../wheels/finding.js';
import type { Wheel } from '../wheels/profile.js';
import type { Comparable } from '../wheels/similar.js';
import type { Drive, Style } from '../wheels/words.js';

/** Keys are letters, numbers and signs that mean nothing in a list. */
const list = (values: readonly string[]): SQL => sql`${`{${values.join(',')}}`}::text::text[]`;
/** What a wheel is found by, as the columns of `wheel_finds` have it. */
function columnsOf(profile: Wheel) {
  const { keys, ratios, drawsIn, orifice, mostDrawnIn, leastTwist, style, drives, wheelSize } = traitsOf(profile);
  const [lows, highs] = [ratios.map((r) => r.low), ratios.map((r) => r.high)];
  return { keys, ratio_lows: lows, ratio_highs: highs, lowest_ratio: lows.length === 0 ? null : Math.min(...lows), highest_ratio: highs.length === 0 ? null : Math.max(...highs), draws_in: drawsIn ?? null, orifice_mm: orifice ?? null, most_drawn_in_mm: mostDrawnIn ?? null, least_twist: leastTwist ?? null, style: style ?? null, drives, wheel_mm: wheelSize ?? null };
}
type Column = keyof ReturnType<typeof columnsOf>;
const types = { keys: 'text[]', ratio_lows: 'float8[]', ratio_highs: 'float8[]', lowest_ratio: 'float8', highest_ratio: 'float8', draws_in: 'boolean', orifice_mm: 'float8', most_drawn_in_mm: 'float8', least_twist: 'float8', style: 'text', drives: 'text[]', wheel_mm: 'float8' } as const satisfies Record<Column, string>;
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
      ...(search.text?.split(' ') ?? []).map((word) => sql`${table.keys} && (select ${list(keysWanted(word))})`),
      ...[search.style && styleKey(search.style), search.drive && driveKey(search.drive)].map((key) => (key === undefined ? undefined : sql`${table.keys} @> ${list([key])}`)),
      low === undefined ? undefined : gte(table.highestRatio, low), high === undefined ? undefined : lte(table.lowestRatio, high),
      // A wheel with a whorl below and one above has none within.
      within.length < 2 ? undefined : sql`exists (select 1 from unnest(${table.ratioLows}, ${table.ratioHighs}) as whorl(l, h) where ${sql.join(within, sql` and `)})`,
      search.drawsIn === undefined ? undefined : eq(table.drawsIn, search.drawsIn),
      search.orificeAtLeast === undefined ? undefined : gte(table.orificeMm, search.orificeAtLeast),
      search.drawsInAtLeast === undefined ? undefined : gte(table.mostDrawnInMm, search.drawsInAtLeast),
      search.twistAtMost === undefined ? undefined : lte(table.leastTwist, search.twistAtMost),
    );
    // PostgreSQL takes the keys of one word for independent, expects nearly every wheel to have one of them, and would compare
    // those of every wheel, in the order of their ids. What it cannot see beforehand (a subquery) it takes for rare, and with
    // an order that no index has, it asks the index of words.
    const order = search.text === undefined || table === wheelFinds ? table.wheelId : sql`${table.wheelId} || ''`;
    return sql`(${db.select({ id: table.wheelId }).from(table).where(wanted).orderBy(order).limit(limit)})`;
  };
  const own = guild === undefined ? undefined : of(wheelFinds, eq(wheelFinds.guildId, guild));
  if (own !== undefined && ownAlone) return own;
  const open = of(publicWheelFinds, undefined);
  return own === undefined ? open : sql`(${open} union ${own})`;
}

/** So many to either side, by each of three measures, are compared exactly. */
const nearestOf = 100;
interface FoundTraits { readonly id: string; readonly style: Style | null; readonly drives: Drive[]; readonly ratio_lows: number[]; readonly ratio_highs: number[]; readonly wheel_mm: number | null; readonly orifice_mm: number | null }
export interface Near extends Comparable { readonly id: string }

/** Wheels that may be most like one of these traits: the nearest in its ratios and size, among those of a drive of its, and among all. */
export async function nearTo(db: Db, own: Comparable, id: string, guild: string | undefined): Promise<Near[]> {
  const measures = ([['highest_ratio', own.ratios.length === 0 ? undefined : Math.max(...own.ratios.map((r) => r.high))], ['lowest_ratio', own.ratios.length === 0 ? undefined : Math.min(...own.ratios.map((r) => r.low))], ['wheel_mm', own.wheelSize]] as const).filter((measure) => measure[1] !== undefined);
  const wanted = sql`wheel_id as id, style, drives, ratio_lows, ratio_highs, wheel_mm, orifice_mm`;
  const from = (table: 'public_wheel_finds' | 'wheel_finds'): SQL[] => {
    const mine = table === 'wheel_finds' ? sql`guild_id = ${guild}` : sql`true`;
    const some = (more: SQL): SQL => sql`(select ${wanted} from ${sql.raw(table)} where ${mine} and wheel_id <> ${id} and ${more} limit ${nearestOf})`;
    const narrowed = [sql`true`, ...(own.drives.length === 0 ? [] : [sql`keys && ${list(own.drives.map(driveKey))}`])];
    if (measures.length === 0) return narrowed.map(some);
    return measures.flatMap(([name, value]) => narrowed.flatMap((narrow) => {
      const column = sql.raw(name);
      return [some(sql`${narrow} and ${column} >= ${value}::float8 order by ${column}`), some(sql`${narrow} and ${column} < ${value}::float8 order by ${column} desc`)];
    }));
  };
  const rows = (await db.execute(sql`select distinct on (id) id, row_to_json(near) as traits from (${sql.join([...from('public_wheel_finds'), ...(guild === undefined ? [] : from('wheel_finds'))], sql` union all `)}) near order by id`)) as unknown as { traits: string | FoundTraits }[];
  return rows.map(({ traits }) => (typeof traits === 'string' ? (JSON.parse(traits) as FoundTraits) : traits)).map((one) => ({
    id: one.id, drives: one.drives, ratios: one.ratio_lows.map((low, i) => ({ low, high: one.ratio_highs[i]! })),
    ...(one.style === null ? {} : { style: one.style }), ...(one.wheel_mm === null ? {} : { wheelSize: one.wheel_mm }), ...(one.orifice_mm === null ? {} : { orifice: one.orifice_mm }),
  }));
}
