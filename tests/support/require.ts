/**
 * What a test needs beyond Node. Where it is missing the group is skipped by name, with the reason; where `REQUIRE`
 * names it (`REQUIRE=postgres,chromium`) it fails instead.
 */
import { execFileSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { connect } from 'node:net';
import { describe, it } from 'vitest';

export type Need = 'postgres' | 'chromium' | 'nginx';

/** The address of a PostgreSQL whose user may create databases. */
export const postgresUrl = process.env['TEST_DATABASE_URL'] ?? 'postgres://postgres@127.0.0.1:5432/postgres';
/** The browser, or undefined. */
export const chromiumPath = [process.env['CHROMIUM'], '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find((p) => p !== undefined && existsSync(p));

const answers = (host: string, port: number): Promise<boolean> =>
  new Promise((resolve) => {
    const socket = connect({ host, port, timeout: 2000 });
    const end = (yes: boolean): void => { socket.destroy(); resolve(yes); };
    socket.once('connect', () => end(true)).once('error', () => end(false)).once('timeout', () => end(false));
  });

const runs = (program: string, ...more: string[]): boolean => {
  try { execFileSync(program, more, { stdio: 'ignore' }); return true; } catch { return false; }
};

/** Why `need` cannot be met here; undefined when it can. */
export async function lacking(need: Need): Promise<string | undefined> {
  if (need === 'chromium') return chromiumPath === undefined ? 'no Chromium was found (set CHROMIUM to its path)' : undefined;
  if (need === 'nginx') return runs('nginx', '-v') ? undefined : 'no nginx was found';
  const { hostname, port } = new URL(postgresUrl);
  return (await answers(hostname, Number(port || 5432))) ? undefined : `no PostgreSQL answers at ${hostname}:${port || 5432} (set TEST_DATABASE_URL)`;
}

const required = new Set((process.env['REQUIRE'] ?? '').split(',').map((s) => s.trim()).filter((s) => s !== ''));
for (const name of required) if (!['postgres', 'chromium', 'nginx'].includes(name)) throw new Error(`REQUIRE names “${name}”; it takes postgres, chromium and nginx.`);

/** A group of tests that needs something. Await it at the top of the file: `await describeWith('postgres', 'title', () => { … })`. */
export async function describeWith(need: Need, title: string, body: () => void): Promise<void> {
  const reason = await lacking(need);
  if (reason === undefined) { describe(title, body); return; }
  describe(title, () => {
    it(`needs ${need}`, (context) => {
      if (required.has(need)) throw new Error(`REQUIRE names ${need}, but ${reason}.`);
      context.skip(reason);
    });
  });
}
