/**
 * The service as it was before the newest migration, and as it is, over one PostgreSQL: the old one goes on answering while
 * the new one migrates, and beside it afterwards, so that a library is moved without a pause. The old one is built from the
 * history; a copy without one (a shallow clone, an archive) skips this.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, rmSync, symlinkSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, relative } from 'node:path';
import { build } from 'esbuild';
import { afterAll, beforeAll, expect, it } from 'vitest';
import journal from '../../db/migrations/meta/_journal.json' with { type: 'json' };
import { Wheelgrist } from '../../sdk/src/index.js';
import { freePort, root, start, type Started } from '../start/support.js';
import { makeServerDatabase } from '../support/db.js';
import { describeWith } from '../support/require.js';

const git = (...words: string[]): string => execFileSync('git', words, { cwd: root, encoding: 'utf8', stdio: ['ignore', 'pipe', 'ignore'] }).trim();
const newest = `db/migrations/${journal.entries.at(-1)!.tag}.sql`;
/** The last revision without the newest migration. */
function before(): string | undefined {
  try {
    const added = git('log', '--diff-filter=A', '--format=%H', '-1', '--', newest);
    return added === '' ? undefined : git('rev-parse', '--verify', `${added}^`);
  } catch {
    return undefined;
  }
}
const revision = before();
if (revision === undefined) {
  it('the service before the newest migration, and the one after it, over one library', (context) => { context.skip(`the revision before ${newest} is not in this history`); });
} else {
  await describeWith('postgres', 'the service before the newest migration, and the one after it, over one library', () => {
    let made: Awaited<ReturnType<typeof makeServerDatabase>>;
    let folder: string;
    const running: Started[] = [];
    beforeAll(async () => {
      made = await makeServerDatabase();
      folder = mkdtempSync(join(tmpdir(), 'wheelgrist-before-'));
      mkdirSync(join(folder, 'dist'));
      execFileSync('tar', ['x', '-C', folder], { input: execFileSync('git', ['archive', revision!, 'services', 'db', 'sdk', 'package.json'], { cwd: root, maxBuffer: 1 << 28 }) });
      symlinkSync(`${root}node_modules`, join(folder, 'node_modules'));
      const files = ['services', 'db', 'sdk/embeds'].flatMap((room) => readdirSync(join(folder, room), { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.ts')).map((name) => join(folder, room, name)));
      await build({ entryPoints: files, outbase: folder, outdir: join(folder, 'dist'), format: 'esm', platform: 'node', target: 'node20', logLevel: 'silent' });
    });
    afterAll(async () => {
      await Promise.all(running.map((one) => one.stop('SIGKILL')));
      rmSync(folder, { recursive: true, force: true });
      await made?.drop();
    });
    const run = async (which: 'old' | 'new', file = 'services/main.js', args: readonly string[] = []): Promise<{ service: Started; port: number }> => {
      const port = await freePort();
      const service = start({ DATABASE_URL: made.url, PORT: String(port), WRITES_PER_MINUTE: '0' }, which === 'new' ? `dist/${file}` : relative(root, join(folder, 'dist', file)), args);
      running.push(service);
      return { service, port };
    };
    const open = async (which: 'old' | 'new') => {
      const one = await run(which);
      await one.service.says(/The library is open/);
      return one;
    };
    const wheel = (name: string) => ({ name, driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead' as const, band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }] });

    it('both answer reads and writes on the new schema, and nothing fails while it is made', async () => {
      const old = await open('old');
      const told = (await run('old', 'services/guilds/make-key.js', ['--guild', 'loft', '--new', 'Loft Guild', '--scopes', 'read,write,admin'])).service;
      const key = (await told.says(/key: (\S+)/))[1]!;
      await told.ended;
      const clientOf = (port: number): Wheelgrist => new Wheelgrist({ baseUrl: `http://127.0.0.1:${port}`, key, retries: 6, deadline: 20_000 });
      const [before, created]: [Wheelgrist, string[]] = [clientOf(old.port), []];
      const first = await before.createWheel(wheel('first'));

      // Asked all the while, as it is asked anyway.
      let going = true;
      let asked = 0;
      const failed: unknown[] = [];
      const load = Array.from({ length: 3 }, async (_, w) => {
        for (let i = 0; going; i++) {
          try {
            const name = `meanwhile ${w} ${i}`;
            asked += 2;
            await before.createWheel(wheel(name));
            created.push(name);
            await before.listWheels({ limit: 5 });
          } catch (error) { failed.push(error); }
        }
      });
      const after = await open('new');
      await new Promise((resolve) => setTimeout(resolve, 300));
      going = false;
      await Promise.all(load);
      expect(failed.map(String)).toEqual([]);

      const both = [before, clientOf(after.port)] as const;
      const changed = async (by: Wheelgrist, id: string, style: string): Promise<void> => {
        const url = `http://127.0.0.1:${by === before ? old.port : after.port}/v1/wheels/${id}`;
        const headers = { authorization: `Bearer ${key}`, 'content-type': 'application/json' };
        const etag = (await fetch(url, { headers })).headers.get('etag')!;
        const reply = await fetch(url, { method: 'PATCH', headers: { ...headers, 'if-match': etag }, body: JSON.stringify({ style }) });
        expect(reply.status, await reply.text()).toBe(200);
      };
      for (const [writer, reader] of [both, both.toReversed() as unknown as typeof both]) {
        const { id } = await writer.createWheel(wheel(`by the ${writer === before ? 'old' : 'new'}`));
        created.push(`by the ${writer === before ? 'old' : 'new'}`);
        expect((await reader.readWheel({ id })).name).toBe(`by the ${writer === before ? 'old' : 'new'}`);
        await changed(reader, id, 'castle');
        await changed(writer, id, 'saxony');
        expect(await reader.readWheel({ id })).toMatchObject({ revision: 3, style: 'saxony' });
      }
      // Changed by the old one, which knows nothing of what the new one keeps beside it.
      await changed(before, first.id, 'norwegian');

      expect(await old.service.stop()).toEqual({ code: 0, signal: null });
      // The newest schema is refused to an old one that starts.
      const late = await run('old');
      expect(await late.service.ended).toMatchObject({ code: 1 });
      expect(late.service.err()).toContain('made by a newer version');
      // The last to be replaced starts when no old one writes any more: it tells what they could not.
      const last = clientOf((await open('new')).port);
      const names: string[] = [];
      for await (const one of last.allWheels({ limit: 100 })) names.push(one.name ?? '');
      expect(names.toSorted()).toEqual(['first', ...created].toSorted());
      expect((await last.listWheels({ text: 'old' })).items.map((one) => one.name)).toEqual(['by the old']);
      expect((await last.listWheels({ style: 'norwegian' })).items.map((one) => one.name)).toEqual(['first']);
      console.log(`old and new over ${newest}: ${asked} questions to the old one while the new one migrated, none failed; ${created.length} wheels kept`);
    }, 180_000);
  });
}
