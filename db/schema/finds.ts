/**
 * What wheels are searched by, told from each when it is written. Two tables: a guild's own, and a copy of what is public,
 * which everybody may read whole, since the operators of a search cannot use an index under a condition of a policy.
 */
import { boolean, doublePrecision, foreignKey, index, integer, pgTable, text } from 'drizzle-orm/pg-core';
import { guilds, idText } from './guilds.js';
import { wheels } from './wheels.js';

const columns = () => ({
  wheelId: idText('wheel_id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  /** Of the wheel: what was told from an older one never takes the place of what is newer. */
  revision: integer('revision').notNull(),
  /** Words as they may be asked for, style and drives (services/wheels/finding.ts). */
  keys: text('keys').array().notNull(),
  /** Each whorl's ratio, from its lowest to its highest; the same twice where it is known. */
  ratioLows: doublePrecision('ratio_lows').array().notNull(),
  ratioHighs: doublePrecision('ratio_highs').array().notNull(),
  lowestRatio: doublePrecision('lowest_ratio'),
  highestRatio: doublePrecision('highest_ratio'),
  /** Null: it cannot be told. */
  drawsIn: boolean('draws_in'),
  orificeMm: doublePrecision('orifice_mm'),
  /** On an empty bobbin, of the best pair: per turn of the wheel, and turns/m. */
  mostDrawnInMm: doublePrecision('most_drawn_in_mm'),
  leastTwist: doublePrecision('least_twist'),
  /** What two wheels are compared by, beside their ratios. */
  style: text('style'),
  drives: text('drives').array().notNull().default([]),
  wheelMm: doublePrecision('wheel_mm'),
});

export const wheelFinds = pgTable('wheel_finds', { ...columns(), visibility: text('visibility', { enum: ['public', 'guild'] }).notNull() }, (t) => [
  foreignKey({ columns: [t.wheelId, t.guildId], foreignColumns: [wheels.id, wheels.guildId] }),
  index('wheel_finds_guild').on(t.guildId, t.wheelId),
]);

/** Kept by the database itself, with every change of the other. */
export const publicWheelFinds = pgTable('public_wheel_finds', columns(), (t) => [
  foreignKey({ columns: [t.wheelId, t.guildId], foreignColumns: [wheels.id, wheels.guildId] }),
  index('public_wheel_finds_guild').on(t.guildId),
  index('public_wheel_finds_keys').using('gin', t.keys),
  index('public_wheel_finds_ratio').on(t.lowestRatio, t.highestRatio),
  index('public_wheel_finds_orifice').on(t.orificeMm),
  index('public_wheel_finds_highest').on(t.highestRatio),
  index('public_wheel_finds_drawn').on(t.mostDrawnInMm),
  index('public_wheel_finds_twist').on(t.leastTwist),
  index('public_wheel_finds_size').on(t.wheelMm),
]);
