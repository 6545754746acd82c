/**
 * Several processes over one PostgreSQL, behind the proxy whose configuration stands in services/proxy: one process killed
 * after another under load, and all of them replaced in turn. A client that retries as the SDK does loses nothing, and
 * nothing is made twice.
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { Wheelgrist } from '../../sdk/src/index.js';
import { makeServerWithGuild } from '../support/guild.js';
import { describeWith, lacking } from '../support/require.js';
import { freePort, get, ratio, root, start, type Started } from '../start/support.js';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const processes = 3;

const database = await lacking('postgres');
await describeWith(database === undefined ? 'nginx' : 'postgres', 'several processes behind a proxy', () => {
  let made: Awaited<ReturnType<typeof makeServerWithGuild>>;
  let folder: string;
  let proxy: ChildProcess;
  let port: number;
  let key: string;
  const ports: number[] = [];
  const running: (Started | undefined)[] = [];
  const run = async (i: number): Promise<void> => {
    running[i] = start({ DATABASE_URL: made.url, PORT: String(ports[i]), TRUSTED_PROXIES: '127.0.0.1', WRITES_PER_MINUTE: '0' });
    await running[i]!.says(/The library is open/);
  };
  beforeAll(async () => {
    made = await makeServerWithGuild('read', 'write', 'admin');
    ({ key } = made);
    for (let i = 0; i < processes; i++) ports.push(await freePort());
    await Promise.all(ports.map((_, i) => run(i)));
    port = await freePort();
    folder = mkdtempSync(join(tmpdir(), 'wheelgrist-proxy-'));
    const config = readFileSync(`${root}services/proxy/nginx.conf`, 'utf8');
    // As it stands, but for who is behind it, where it listens and where it keeps its files.
    const here = config
      .replace(/ {4}server service:8080 (.*);/, (_, how: string) => ports.map((p) => `    server 127.0.0.1:${p} ${how};`).join('\n'))
      .replace('listen 8080;', `listen 127.0.0.1:${port};`).replaceAll('/tmp/wheelgrist-proxy', `${folder}/nginx`).replace('worker_processes auto;', 'worker_processes 1; daemon off;');
    expect(here).not.toContain('service:8080');
    writeFileSync(join(folder, 'nginx.conf'), here);
    execFileSync('nginx', ['-t', '-c', join(folder, 'nginx.conf')], { stdio: 'pipe' });
    proxy = spawn('nginx', ['-c', join(folder, 'nginx.conf')], { stdio: 'ignore' });
    expect((await get(port, ratio)).status).toBe(200);
  });
  afterAll(async () => {
    proxy?.kill();
    await Promise.all(running.map(async (one) => one?.stop('SIGKILL')));
    rmSync(folder, { recursive: true, force: true });
    await made?.drop();
  });

  const wheel = (name: string) => ({ name, driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead' as const, band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }] });
  /** Spins, reads and writes until told to stop; what was acknowledged, and how many questions failed for good. */
  function load(tag: string): { stop(): Promise<{ acknowledged: string[]; asked: number; failed: unknown[] }> } {
    const client = new Wheelgrist({ baseUrl: `http://127.0.0.1:${port}`, key, retries: 8, deadline: 20_000 });
    let going = true;
    const acknowledged: string[] = [];
    const failed: unknown[] = [];
    let asked = 0;
    const again = async (work: () => Promise<unknown>): Promise<void> => {
      asked++;
      try { await work(); } catch (error) { failed.push(error); }
    };
    const workers = Array.from({ length: 4 }, async (_, w) => {
      for (let i = 0; going; i++) {
        const name = `${tag}-${w}-${i}`;
        // The SDK sends the same Idempotency-Key in every try of a call.
        await again(async () => { await client.createWheel(wheel(name)); acknowledged.push(name); });
        await again(() => client.ratioByLink({ driveWheel: '560 mm', whorl: ['60 mm'], band: '2 mm' }));
        await again(() => client.listWheels({ limit: 5 }));
        await pause(5);
      }
    });
    return { stop: async () => { going = false; await Promise.all(workers); return { acknowledged, asked, failed }; } };
  }
  async function names(): Promise<string[]> {
    const found: string[] = [];
    for (let url: string | undefined = '/v1/wheels?limit=100'; url !== undefined;) {
      const page = JSON.parse((await get(port, url, { headers: { authorization: `Bearer ${key}` } })).body) as { items: { name: string }[]; next?: string };
      found.push(...page.items.map((item) => item.name));
      url = page.next === undefined ? undefined : `/v1/wheels?limit=100&after=${page.next}`;
    }
    return found;
  }

  it('killed at random, one a second: nothing is lost and nothing is made twice', async () => {
    const { stop } = load('kill');
    for (let round = 0; round < 6; round++) {
      await pause(700);
      const i = round % processes;
      await running[i]!.stop('SIGKILL');
      await run(i);
    }
    const { acknowledged, asked, failed } = await stop();
    console.log(`killed 6 times: ${asked} questions, ${failed.length} failed for good, ${acknowledged.length} wheels made`);
    expect(failed.map(String)).toEqual([]);
    const there = (await names()).filter((name) => name.startsWith('kill'));
    expect(new Set(there).size).toBe(there.length);
    expect(there.toSorted()).toEqual(acknowledged.toSorted());
  }, 120_000);

  it('replaced one after another: nobody notices', async () => {
    const { stop } = load('roll');
    for (let i = 0; i < processes; i++) {
      await pause(300);
      expect(await running[i]!.stop('SIGTERM')).toEqual({ code: 0, signal: null });
      await run(i);
    }
    const { acknowledged, asked, failed } = await stop();
    console.log(`replaced ${processes}: ${asked} questions, ${failed.length} failed for good, ${acknowledged.length} wheels made`);
    expect(failed.map(String)).toEqual([]);
    const there = (await names()).filter((name) => name.startsWith('roll'));
    expect(there.toSorted()).toEqual(acknowledged.toSorted());
  }, 120_000);

  it('the outside world sees no metrics, and the process behind is told who asks', async () => {
    expect((await get(port, '/metrics')).status).toBe(404);
    const reply = await get(port, '/v1/ratio?driveWeel=1');
    expect(reply.headers.get('content-type')).toContain('application/problem+json');
  });
});
