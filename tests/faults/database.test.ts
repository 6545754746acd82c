/**
 * The service as it is started, over a PostgreSQL that misbehaves: connections ended in the middle of changes, a network
 * that swallows everything, a server that is stopped and started, a stop while the database hangs.
 */
import { afterAll, beforeAll, expect, it } from 'vitest';
import { makeServerWithGuild } from '../support/guild.js';
import { makeProxy, type Proxy } from '../support/proxy.js';
import { describeWith } from '../support/require.js';
import { freePort, get, ratio, start, type Started } from '../start/support.js';

const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const rounds = Number(process.env['FAULT_ROUNDS'] ?? 100);

await describeWith('postgres', 'a database that misbehaves', () => {
  let made: Awaited<ReturnType<typeof makeServerWithGuild>>;
  let proxy: Proxy;
  let service: Started;
  let port: number;
  let key: string;
  const run = async (): Promise<void> => {
    port = await freePort();
    service = start({ DATABASE_URL: proxy.url, PORT: String(port), WRITES_PER_MINUTE: '0' });
    await service.says(/The library is open/);
  };
  beforeAll(async () => {
    made = await makeServerWithGuild('read', 'write');
    ({ key } = made);
    proxy = await makeProxy(new URL(made.url));
    await run();
  });
  afterAll(async () => {
    await service?.stop('SIGKILL');
    await proxy?.close();
    await made?.drop();
  });

  const wheel = (name: string): string => JSON.stringify({ name, driveWheel: { grooveDiameter: '500 mm' }, modes: [{ drive: 'flyer-lead', band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '50 mm' }] });
  const post = (name: string, once: string) => get(port, '/v1/wheels', { method: 'POST', headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json', 'idempotency-key': once }, body: wheel(name) });
  const names = async (): Promise<string[]> => {
    const found: string[] = [];
    for (let url: string | undefined = '/v1/wheels?limit=100'; url !== undefined;) {
      const page = JSON.parse((await get(port, url, { headers: { authorization: `Bearer ${key}` } })).body) as { items: { name: string }[]; next?: string };
      found.push(...page.items.map((item) => item.name));
      url = page.next === undefined ? undefined : `/v1/wheels?limit=100&after=${page.next}`;
    }
    return found;
  };
  const killAll = () => made.admin.unsafe(`select pg_terminate_backend(pid) from pg_stat_activity where datname = '${made.name}'`);
  /** Milliseconds until the library answers again. */
  const recovers = async (): Promise<number> => {
    const began = Date.now();
    while ((await get(port, '/v1/wheels?limit=1')).status !== 200) {
      if (Date.now() - began > 20_000) throw new Error('it does not recover');
      await pause(50);
    }
    return Date.now() - began;
  };

  it(`every connection ended ${rounds} times in the middle of changes: what was acknowledged is there once, and a change sent again is not made twice`, async () => {
    const acknowledged: string[] = [];
    let refused = 0;
    for (let round = 0; round < rounds; round++) {
      const sent = Array.from({ length: 6 }, (_, i) => `wheel ${round}-${i}`);
      const replies = sent.map((name) => post(name, name));
      await pause(round % 12);
      await killAll();
      for (const [i, reply] of (await Promise.all(replies)).entries()) {
        if (reply.status === 201) acknowledged.push(sent[i]!);
        else {
          refused++;
          expect([reply.status, reply.headers.get('retry-after')]).toEqual([503, expect.stringMatching(/^\d+$/)]);
          // What a correct client does.
          let again = await post(sent[i]!, sent[i]!);
          for (let tries = 0; again.status === 503 && tries < 40; tries++) {
            await pause(50);
            again = await post(sent[i]!, sent[i]!);
          }
          expect(again.status, again.body).toBe(201);
          acknowledged.push(sent[i]!);
        }
      }
      expect(service.process.exitCode).toBe(null);
    }
    console.log(`connections ended ${rounds} times: ${acknowledged.length} changes acknowledged, ${refused} refused first`);
    expect(refused).toBeGreaterThan(0);
    expect((await names()).toSorted()).toEqual(acknowledged.toSorted());
  }, 300_000);

  it('a network that swallows everything: calculators answer, the library is refused within 2 s, and is back within 5 s', async () => {
    proxy.freeze(true);
    const asked = Array.from({ length: 20 }, async (_, i) => {
      const began = Date.now();
      const reply = await get(port, i % 2 === 0 ? '/v1/wheels' : `/v1/wheels?limit=${i}`, i % 4 < 2 ? {} : { headers: { authorization: `Bearer ${key}` } });
      return { status: reply.status, retry: reply.headers.get('retry-after'), ms: Date.now() - began };
    });
    const began = Date.now();
    expect((await get(port, ratio)).status).toBe(200);
    const calculator = Date.now() - began;
    const replies = await Promise.all(asked);
    const slowest = Math.max(...replies.map((reply) => reply.ms));
    expect(replies.every((reply) => reply.status === 503 && /^\d+$/.test(reply.retry ?? ''))).toBe(true);
    expect((await get(port, '/health/ready')).status).toBe(503);
    proxy.freeze(false);
    const back = await recovers();
    console.log(`network silent: calculator in ${calculator} ms, library refused in at most ${slowest} ms, back after ${back} ms`);
  });

  it('a server that is stopped and started: the same', async () => {
    await proxy.away();
    const began = Date.now();
    const reply = await get(port, '/v1/wheels');
    expect([reply.status, reply.headers.get('retry-after')]).toEqual([503, expect.stringMatching(/^\d+$/)]);
    expect((await get(port, ratio)).status).toBe(200);
    console.log(`server stopped: library refused in ${Date.now() - began} ms`);
    await pause(1000);
    await proxy.back();
    console.log(`server started: back after ${await recovers()} ms`);
  });

  it('is stopped in order while the database hangs', async () => {
    proxy.freeze(true);
    const asked = get(port, '/v1/wheels');
    await pause(100);
    const began = Date.now();
    expect(await service.stop()).toEqual({ code: 0, signal: null });
    expect((await asked).status).toBe(503);
    console.log(`told to stop while the database hung: ended after ${Date.now() - began} ms`);
    proxy.freeze(false);
    await run();
    expect((await get(port, '/v1/wheels')).status).toBe(200);
  });

  it('answers what it has begun before it stops', async () => {
    const question = { calculation: 'ratio', question: { wheel: { driveWheel: { grooveDiameter: '560 mm' }, whorls: [{ grooveDiameter: '60 mm' }] } } };
    const body = JSON.stringify({ questions: Array.from({ length: 1000 }, () => question) });
    const begun = Array.from({ length: 4 }, () => get(port, '/v1/batch', { method: 'POST', headers: { 'content-type': 'application/json' }, body }));
    await pause(60);
    const stopped = service.stop();
    for (const reply of await Promise.all(begun)) {
      expect(reply.status).toBe(200);
      expect((JSON.parse(reply.body) as { items: unknown[] }).items).toHaveLength(1000);
    }
    expect(await stopped).toEqual({ code: 0, signal: null });
  });
});
