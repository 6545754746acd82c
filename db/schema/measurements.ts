/** Measurements of wheels. Who may see which row stands in the migrations. */
import { foreignKey, index, integer, json, pgTable } from 'drizzle-orm/pg-core';
import { guilds, idText, moment } from './guilds.js';
import { wheels } from './wheels.js';

export const measurements = pgTable('measurements', {
  id: idText('id').primaryKey(),
  guildId: idText('guild_id').notNull().references(() => guilds.id),
  wheelId: idText('wheel_id').notNull(),
  revision: integer('revision').notNull(),
  /** `json`, not `jsonb`: it is read back in the order and spelling in which it was posted. */
  measurement: json('measurement').$type<Record<string, unknown>>().notNull(),
  createdAt: moment('created_at').notNull().defaultNow(),
  /** Set when it is withdrawn: it is no longer combined, and the row stays. */
  retiredAt: moment('retired_at'),
}, (t) => [
  foreignKey({ columns: [t.wheelId, t.guildId], foreignColumns: [wheels.id, wheels.guildId] }),
  index('measurements_wheel').on(t.wheelId, t.id),
  index('measurements_guild').on(t.guildId),
]);
