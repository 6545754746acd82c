/** What no client library would send: bytes on a socket. */
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { line, listen, openApp, problemIn, raw } from '../support/http.js';

let app: FastifyInstance;
let port: number;
beforeAll(async () => {
  app = await openApp();
  port = await listen(app);
});
afterAll(() => app.close());

const question = '/v1/ratio?driveWheel=560mm&whorl=60mm';

describe('the HTTP parser’s own refusals are problems', () => {
  it('a raw ± in the address, as UTF-8 and as Latin-1', async () => {
    for (const encoding of ['utf8', 'latin1'] as const) {
      const reply = await raw(port, Buffer.from(line('GET /v1/ratio?driveWheel=520±4mm&whorl=40mm'), encoding));
      const problem = problemIn(reply);
      expect(problem.type).toBe('/problems/bad-request-line');
      expect(reply.headers['content-length']).toBe(String(Buffer.byteLength(reply.body)));
      expect(reply.headers['connection']).toBe('close');
    }
  });
  it('the same ± typed as /- is read', async () => {
    const reply = await raw(port, line('GET /v1/ratio?driveWheel=520/-4mm&whorl=40/-1mm&band=0mm'));
    expect(reply.status).toBe(200);
    expect(JSON.parse(reply.body)).toMatchObject({ result: { whorls: [{ flyerRatio: { value: 13 } }] } });
  });
  it.each([
    ['no HTTP at all', 'hello\r\n\r\n', 400, 'bad-request-line'],
    ['a method that no standard knows', line('FETCH /v1/ratio'), 400, 'bad-request-line'],
    ['a broken header', 'GET / HTTP/1.1\r\nHost: x\r\nbad header\r\n\r\n', 400, 'bad-request-line'],
    ['a body length that is no number', line('POST /v1/ratio', 'Content-Type: application/json\r\nContent-Length: ten\r\n'), 400, 'bad-request-line'],
    ['both length and chunks', line('POST /v1/ratio', 'Content-Length: 4\r\nTransfer-Encoding: chunked\r\n', '0\r\n\r\n'), 400, 'bad-request-line'],
    ['no Host', 'GET /v1/units HTTP/1.1\r\nConnection: close\r\n\r\n', 400, 'bad-request-line'],
    ['headers beyond the limit', line('GET /v1/units', `X-Long: ${'x'.repeat(40_000)}\r\n`), 431, 'headers-too-large'],
    ['an address beyond the limit', line(`GET /v1/ratio?whorl=${'6'.repeat(9000)}mm`), 414, 'uri-too-long'],
    ['an address beyond even the parser’s limit', line(`GET /v1/ratio?whorl=${'6'.repeat(60_000)}mm`), 414, 'uri-too-long'],
    ['CONNECT', line('CONNECT localhost:80'), 405, 'method-not-allowed'],
    ['a percent sign that encodes nothing, in the path', line('GET /v1/%zz'), 400, 'bad-request-line'],
    ['a percent sign that encodes nothing, in the query', line('GET /v1/ratio?whorl=60%zzmm'), 400, 'invalid-request'],
  ])('%s', async (_name, bytes, status, code) => {
    const reply = await raw(port, bytes);
    expect(reply.status).toBe(status);
    expect(problemIn(reply).type).toBe(`/problems/${code}`);
  });
  it('a header sent slowly is let go with 408', async () => {
    const slow = await openApp();
    slow.server.headersTimeout = 200;
    slow.server.requestTimeout = 200;
    (slow.server as unknown as { connectionsCheckingInterval: number }).connectionsCheckingInterval = 100;
    const slowPort = await listen(slow);
    try {
      const reply = await raw(slowPort, 'GET /v1/units HTTP/1.1\r\nHost: x\r\n', 45_000);
      expect(problemIn(reply).type).toBe('/problems/request-timeout');
    } finally {
      await slow.close();
    }
  }, 50_000);
});

describe('what is unusual but right is answered', () => {
  it('Expect: 100-continue, and another expectation', async () => {
    const body = '{"wheel":{"driveWheel":{"grooveDiameter":"560 mm"},"whorls":[{"grooveDiameter":"60 mm"}]}}';
    const reply = await raw(port, line('POST /v1/ratio', `Content-Type: application/json\r\nContent-Length: ${body.length}\r\nExpect: x\r\n`, body));
    expect(reply.status).toBe(200);
  });
  it('HTTP/1.0 without Host, and OPTIONS *', async () => {
    expect((await raw(port, 'GET /v1/units HTTP/1.0\r\n\r\n')).status).toBe(200);
    const reply = await raw(port, line('OPTIONS *'));
    expect(reply.status).toBe(204);
  });
  it('an address in absolute form, and HEAD without a body', async () => {
    const reply = await raw(port, line(`HEAD ${question}`));
    expect(reply.status).toBe(200);
    expect(reply.body).toBe('');
    expect(Number(reply.headers['content-length'])).toBeGreaterThan(500);
  });
});
