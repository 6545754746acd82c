/** A hostile service behind real sockets: whatever it does, a typed error or a right answer, and no more tries than are due. */
import { createServer, type AddressInfo, type Server, type Socket } from 'node:net';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { NetworkFailure, ProblemReply, Timeout, UnreadableReply, Wheelgrist, type TransportOptions } from '../../sdk/src/index.js';
import { Wheelgrist as NodeWheelgrist } from '../../sdk/src/node.js';
import { rows } from '../../sdk/src/streams.js';

const head = (status: string, type: string, more = ''): string => `HTTP/1.1 ${status}\r\nContent-Type: ${type}\r\nConnection: close\r\n${more}\r\n`;
const good = `${head('200 OK', 'application/json', 'Content-Length: 12\r\n')}{"items":[]}`;
let behave: (socket: Socket, count: number) => void = () => {};
let server: Server;
let baseUrl: string;
let count = 0;
const sockets = new Set<Socket>();
beforeAll(async () => {
  server = createServer((socket) => {
    sockets.add(socket);
    socket.on('error', () => {}).on('close', () => sockets.delete(socket));
    socket.once('data', () => behave(socket, ++count));
  });
  await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
  baseUrl = `http://127.0.0.1:${(server.address() as AddressInfo).port}`;
});
afterAll(() => {
  for (const socket of sockets) socket.destroy();
  server.close();
});
beforeEach(() => { count = 0; });

async function ask(client: Wheelgrist): Promise<{ data?: unknown; error?: unknown; ms: number }> {
  const began = Date.now();
  try { return { data: await client.listUnits(), ms: Date.now() - began }; } catch (error) { return { error, ms: Date.now() - began }; }
}
const makers: [string, (options: Omit<TransportOptions, 'baseUrl'>) => Wheelgrist][] = [
  ['the fetch that is there', (options) => new Wheelgrist({ baseUrl, ...options })],
  ['undici', (options) => new NodeWheelgrist({ baseUrl, ...options })],
];

describe.each(makers)('over %s', (_, make) => {
  const quick = { random: () => 0.01, deadline: 20_000 };
  it.each<[string, (socket: Socket) => void]>([
    ['resets the connection', (socket) => socket.resetAndDestroy()],
    ['closes without a word', (socket) => socket.end()],
    ['speaks another protocol', (socket) => socket.end('220 mail.example ready\r\n')],
    ['stops half-way through the body', (socket) => socket.end(`${head('200 OK', 'application/json', 'Content-Length: 5000\r\n')}{"items":[`)],
    ['breaks off in a chunk', (socket) => socket.end(`${head('200 OK', 'application/json', 'Transfer-Encoding: chunked\r\n')}20\r\n{"items":[`)],
  ])('one that %s is a network failure after three tries', async (__, act) => {
    behave = act;
    const { error } = await ask(make(quick));
    expect(error).toBeInstanceOf(NetworkFailure);
    expect(count).toBe(3);
  });
  it('one that is well again at the third try is answered', async () => {
    behave = (socket, n) => (n < 3 ? socket.resetAndDestroy() : socket.end(good));
    expect((await ask(make(quick))).data).toEqual({ items: [] });
    expect(count).toBe(3);
  });
  it('one that never answers, and one that drips, meet the deadline', async () => {
    for (const act of [() => {}, (socket: Socket) => {
      socket.write(head('200 OK', 'application/json', 'Content-Length: 100000\r\n'));
      const drip = setInterval(() => socket.write(' '), 20);
      socket.on('close', () => clearInterval(drip));
    }]) {
      behave = act;
      const { error, ms } = await ask(make({ ...quick, deadline: 400 }));
      expect(error).toBeInstanceOf(Timeout);
      expect(ms).toBeGreaterThanOrEqual(390);
    }
  });
  it('a page of a proxy is a refusal with its status, or no answer', async () => {
    behave = (socket) => socket.end(`${head('502 Bad Gateway', 'text/html')}<h1>Bad Gateway</h1>`);
    expect((await ask(make({ ...quick, retries: 0 }))).error).toMatchObject({ name: 'ProblemReply', status: 502, code: undefined });
    behave = (socket) => socket.end(`${head('200 OK', 'text/html')}<h1>Sign in</h1>`);
    expect((await ask(make(quick))).error).toBeInstanceOf(UnreadableReply);
  });
  it('a storm of 429 adds at most a tenth', async () => {
    behave = (socket) => socket.end(`${head('429 Too Many Requests', 'application/problem+json')}{"type":"/problems/too-many-requests","title":"t","status":429,"detail":"d"}`);
    const client = make(quick);
    const errors: unknown[] = [];
    for (let i = 0; i < 60; i++) errors.push((await ask(client)).error);
    expect(errors.every((error) => error instanceof ProblemReply && error.code === 'too-many-requests')).toBe(true);
    expect(count).toBeLessThanOrEqual(60 + 10 + 6);
  });
  it('a stream that is cut gives its whole rows, then a network failure', async () => {
    // Kept alive: under Connection: close the fetch of Node 20 takes a reply that is cut for a whole one.
    const kept = head('200 OK', 'application/x-ndjson', 'Transfer-Encoding: chunked\r\n').replace('close', 'keep-alive');
    behave = (socket) => { socket.write(`${kept}10\r\n{"a":1}\n{"b":2}\n\r\n`); setTimeout(() => socket.resetAndDestroy(), 50); };
    const seen: unknown[] = [];
    let error: unknown;
    try { for await (const row of rows(make(quick).transport, { id: 'r', method: 'GET', path: '/r', accept: 'application/x-ndjson' })) seen.push(row); } catch (e) { error = e; }
    expect(seen).toEqual([{ a: 1 }, { b: 2 }]);
    expect(error).toBeInstanceOf(NetworkFailure);
  });
});

it('nobody listens there', async () => {
  for (const client of [new Wheelgrist({ baseUrl: 'http://127.0.0.1:1', retries: 0 }), new NodeWheelgrist({ baseUrl: 'http://127.0.0.1:1', retries: 0 })]) {
    const { error } = await ask(client);
    expect(error).toBeInstanceOf(NetworkFailure);
    expect(String((error as NetworkFailure).cause)).not.toBe('undefined');
  }
});
