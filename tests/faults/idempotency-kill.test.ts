/**
 * A process is killed between what it did and its reply, fifty times: whoever sends the same request again gets one reply
 * and one wheel. PostgreSQL's answer to COMMIT, or to the statement before it, is held back by a proxy: at that moment the
 * wheel is there, or is not, and nobody has been told.
 */
import { randomUUID } from 'node:crypto';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { connectServer } from '../../db/server.js';
import { freePort, get, start, type Started } from '../start/support.js';
import { makeServerWithGuild } from '../support/guild.js';
import { makeProxy, type Proxy } from '../support/proxy.js';
import { describeWith } from '../support/require.js';

const rounds = 50;

await describeWith('postgres', 'a process killed between effect and reply', () => {
  let made: Awaited<ReturnType<typeof makeServerWithGuild>>;
  let proxy: Proxy;
  let steady: Started;
  let steadyPort: number;
  let key: string;
  // Limits are counted by transactions of their own, whose COMMIT is not the one that is waited for.
  const environment = { WRITES_PER_MINUTE: '0' };
  beforeAll(async () => {
    made = await makeServerWithGuild('read', 'write');
    ({ key } = made);
    proxy = await makeProxy(new URL(made.url));
    steadyPort = await freePort();
    steady = start({ ...environment, DATABASE_URL: made.url, PORT: String(steadyPort) });
    await steady.says(/The library is open/);
  });
  afterAll(async () => {
    await steady?.stop('SIGKILL');
    await proxy?.close();
    await made?.drop();
  });

  it(`does it once, in ${rounds} of ${rounds}`, async () => {
    const begin = async (): Promise<{ port: number; process: Started }> => {
      const port = await freePort();
      const process = start({ ...environment, DATABASE_URL: proxy.url, PORT: String(port) });
      await process.says(/The library is open/);
      return { port, process };
    };
    const post = (port: number, name: string): RequestInit & { url: string } => ({
      url: `http://127.0.0.1:${port}/v1/wheels`, method: 'POST', headers: { authorization: `Bearer ${key}`, 'content-type': 'application/json', 'idempotency-key': name }, body: JSON.stringify({ name: `Wheel ${name}` }),
    });
    const client = connectServer(made.url, { connections: 1 });
    const count = async (name: string): Promise<number> => (await client.query('select id from wheels where name = $1', [`Wheel ${name}`], 'objects')).length;
    const before = { done: 0, undone: 0 };
    try {
      for (let round = 0; round < rounds; round++) {
        const { port, process } = await begin();
        const name = randomUUID();
        // Every other time one moment sooner: then all of it is undone.
        const held = proxy.freezeAt(round % 2 === 0 ? 'COMMIT\0' : 'INSERT 0 1\0');
        const { url, ...init } = post(port, name);
        const reply = fetch(url, init).then((r) => r.status, () => 'none');
        await held;
        await process.stop('SIGKILL');
        expect(await reply).toBe('none');
        proxy.freeze(false);
        before[(await count(name)) === 1 ? 'done' : 'undone']++;
        const bodies: string[] = [];
        for (let sent = 0; sent < 2; sent++) {
          const { url: again, ...same } = post(steadyPort, name);
          // PostgreSQL may need a moment to notice that the other one is gone: until then it is in flight.
          for (let attempt = 0; ; attempt++) {
            const answer = await fetch(again, same);
            if (answer.status === 409 && attempt < 100) { await answer.text(); await new Promise((resolve) => setTimeout(resolve, 20)); continue; }
            expect(answer.status).toBe(201);
            bodies.push(await answer.text());
            break;
          }
        }
        expect(bodies[1]).toBe(bodies[0]);
        expect(await count(name)).toBe(1);
        expect((await get(steadyPort, `/v1/wheels/${(JSON.parse(bodies[0]!) as { id: string }).id}`, { headers: { authorization: `Bearer ${key}` } })).body).toBe(bodies[0]);
      }
      const [{ wheels, audited }] = (await client.query('select (select count(*)::int from wheels) as wheels, (select count(*)::int from audit where what = \'wheel\') as audited', [], 'objects')) as [{ wheels: number; audited: number }];
      expect({ wheels, audited }).toEqual({ wheels: rounds, audited: rounds });
      console.log(`killed between effect and reply ${rounds} times: ${before.done} times the wheel was there already, ${before.undone} times not; there once in ${rounds} of ${rounds}`);
      expect(before).toEqual({ done: rounds / 2, undone: rounds / 2 });
    } finally {
      await client.close();
    }
  }, 300_000);
});
