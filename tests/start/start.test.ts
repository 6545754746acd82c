/** Starting the built service: how soon it answers, what it says, and how it stops. */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { freePort, get, ratio, root, start, type Started } from './support.js';

let folder: string;
let port: number;
const started: Started[] = [];
const run = (environment: Record<string, string> = {}): Started => {
  const one = start({ DATA_DIR: join(folder, 'data'), PORT: String(port), ...environment });
  started.push(one);
  return one;
};
beforeEach(async () => { folder = mkdtempSync(join(tmpdir(), 'wheelgrist-start-')); port = await freePort(); });
afterEach(async () => {
  for (const one of started.splice(0)) await one.stop('SIGKILL');
  rmSync(folder, { recursive: true, force: true });
});

/** How much slower than on a machine with a processor to spare, where Node itself starts in 50 ms, all goes just now. */
const slower = (): number => {
  const times = [1, 2, 3].map(() => { const began = performance.now(); execFileSync(process.execPath, ['-e', '0']); return performance.now() - began; });
  return Math.max(1, Math.max(...times) / 50);
};

describe('in time', () => {
  /** Milliseconds from the start of the process to the first answer of a calculator, and of the library. */
  async function times(): Promise<{ ratio: number; wheels: number }> {
    const one = run();
    expect((await get(port, ratio)).status).toBe(200);
    const first = one.age();
    expect((await get(port, '/v1/wheels')).status).toBe(200);
    const second = one.age();
    expect(await one.stop()).toEqual({ code: 0, signal: null });
    return { ratio: first, wheels: second };
  }
  it('a calculator answers within 1 s, the library within 5 s of the first start and 1 s of the next', async () => {
    // Other work on the machine may fall into any one try; none of several within the limits is no accident.
    const tries: string[] = [];
    for (let attempt = 0; attempt < 4; attempt++) {
      rmSync(join(folder, 'data'), { recursive: true, force: true });
      const before = slower();
      const [fresh, next] = [await times(), await times()];
      const slow = Math.max(before, slower());
      tries.push(`first start ${fresh.ratio.toFixed(0)} and ${fresh.wheels.toFixed(0)} ms, next ${next.ratio.toFixed(0)} and ${next.wheels.toFixed(0)} ms, on a machine slower by ${slow.toFixed(1)}`);
      if (fresh.ratio <= 1000 * slow && fresh.wheels <= 5000 * slow && next.ratio <= 1000 * slow && next.wheels <= 1000 * slow) {
        console.log(tries.join('\n'));
        return;
      }
    }
    expect.fail(tries.join('\n'));
  });
});

describe('a first start', () => {
  it('says what it does, and tells the demo key once', async () => {
    const first = run();
    expect((await get(port, ratio)).status).toBe(200);
    const wheels = await get(port, '/v1/wheels');
    expect(wheels.status, wheels.body).toBe(200);
    expect((JSON.parse(wheels.body) as { items: unknown[] }).items.length).toBeGreaterThanOrEqual(12);
    expect((await get(port, '/health/ready')).status).toBe(200);
    const [, key] = await first.says(/^key: (wgk_\w+)$/m);
    await first.says(/Documentation/);
    expect(first.out()).toContain(`Wheelgrist`);
    expect(first.out()).toContain(`http://127.0.0.1:${port}`);
    expect(first.out()).toContain('Creating the library');
    expect(first.err()).toBe('');

    const made = await get(port, '/v1/wheels', { method: 'POST', headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json' }, body: '{"name":"Mill Lane"}' });
    expect(made.status).toBe(201);
    expect(await first.stop()).toEqual({ code: 0, signal: null });
    expect(readdirSync(join(folder, 'data'))).toEqual(['library']);

    const second = run();
    const kept = await get(port, made.headers.get('location')!, { headers: { authorization: `Bearer ${key}` } });
    expect(JSON.parse(kept.body)).toMatchObject({ name: 'Mill Lane', revision: 1 });
    await second.says(/Documentation/);
    expect(second.out()).not.toContain('key:');
    expect(await second.stop('SIGINT')).toEqual({ code: 0, signal: null });
  });

  it('shows three lines that work as they stand', async () => {
    const one = run();
    await one.says(/Documentation/);
    const lines = [...one.out().matchAll(/^ {2}(curl .+)$/gm)].map((match) => match[1]!);
    expect(lines).toHaveLength(3);
    for (const line of lines) expect(execFileSync('sh', ['-c', line.replace('curl ', 'curl -sf ')], { encoding: 'utf8' })).toMatch(/^\{"(result|items)":/);
  });

  it('is not ready before its library is, and refuses nothing that needs none', async () => {
    const one = run();
    const ready = await get(port, '/health/ready');
    if (!/The library is open/.test(one.out())) expect(ready.status).toBe(503);
    expect((await get(port, '/health/live')).status).toBe(200);
    await one.says(/The library is open/);
    expect((await get(port, '/health/ready')).status).toBe(200);
  });

  it('can be broken off at any moment, and begins again', async () => {
    for (const moment of [0, 120, 250, 400, 600, 900]) {
      const one = run();
      await one.says(/Wheelgrist|Creating|Opening/);
      await new Promise((resolve) => setTimeout(resolve, moment));
      await one.stop('SIGKILL');
    }
    const last = run();
    const wheels = await get(port, '/v1/wheels?limit=100');
    expect((JSON.parse(wheels.body) as { items: unknown[] }).items.length).toBeGreaterThanOrEqual(12);
    expect(await last.stop()).toEqual({ code: 0, signal: null });
  }, 60_000);

  it('stops when told so while the library is being made', async () => {
    const one = run();
    await one.says(/Creating/);
    expect(await one.stop()).toEqual({ code: 0, signal: null });
    expect(one.err()).toBe('');
    expect(readdirSync(join(folder, 'data')).filter((name) => name.endsWith('.lock'))).toEqual([]);
  });
});

describe('one more key', () => {
  const key = (...args: string[]): Started => start({ DATA_DIR: join(folder, 'data') }, 'dist/services/guilds/make-key.js', args);
  it('is made when nobody has the library, and refused in one sentence when somebody has', async () => {
    const service = run();
    await service.says(/The library is open/);
    const refused = key();
    expect((await refused.ended).code).toBe(1);
    expect(refused.err()).toMatch(/^This library is in use by another process \(\d+\): .+\n$/);
    await service.stop();

    const made = key('--scopes', 'write', '--label', 'spinning room');
    expect(await made.ended).toEqual({ code: 0, signal: null });
    const text = /^key: (wgk_\w+)$/m.exec(made.out())![1]!;
    const again = run();
    const reply = await get(port, '/v1/wheels', { method: 'POST', headers: { authorization: `Bearer ${text}`, 'content-type': 'application/json' }, body: '{"name":"Mill Lane"}' });
    expect(reply.status).toBe(201);
    await again.stop();
  });

  it('says what is wrong with how it was asked', async () => {
    for (const [args, said] of [[['--scopes', 'all'], '--scopes takes'], [['--guild', 'nobody'], 'Name one of its guilds'], [['--new', 'X'], 'needs an id'], [['--loud'], 'Unknown option']] as const) {
      const one = key(...args);
      expect((await one.ended).code).toBe(1);
      expect(one.err()).toContain(said);
      expect(one.err()).not.toMatch(/\bat .+:\d+/);
    }
  });
});

it('the service was built', () => { expect(() => execFileSync('test', ['-f', `${root}dist/services/main.js`])).not.toThrow(); });
