/**
 * Two groups. `unit` runs in threads, file beside file: pure code, and the app asked without a socket. `whole` runs one
 * file after another: processes, databases, browsers, packed tarballs.
 */
import { defineConfig } from 'vitest/config';

const whole = ['analyses', 'bench', 'contract', 'db', 'embeds', 'faults', 'guilds', 'history', 'live', 'pages', 'sdk', 'start', 'tenancy', 'transfer', 'wheels'].map((room) => `tests/${room}/**/*.test.ts`);
const never = ['**/node_modules/**', '**/dist/**', '**/.scratch/**'];

export default defineConfig({
  test: {
    reporters: ['default', './tests/support/reporter.ts'],
    projects: [
      { extends: true, test: { name: 'unit', include: ['tests/**/*.test.ts'], exclude: [...never, ...whole], pool: 'threads', testTimeout: 60_000, sequence: { groupOrder: 0 } } },
      { extends: true, test: { name: 'whole', include: whole, exclude: never, pool: 'forks', fileParallelism: false, testTimeout: 120_000, hookTimeout: 120_000, sequence: { groupOrder: 1 } } },
    ],
  },
});
