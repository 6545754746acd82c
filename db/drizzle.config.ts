/** Makes migrations: `npx drizzle-kit generate --config db/drizzle.config.ts --name what-changes`. One branch at a time, or two journals clash. */
import { defineConfig } from 'drizzle-kit';

export default defineConfig({ dialect: 'postgresql', schema: './db/schema/*.ts', out: './db/migrations', breakpoints: true });
