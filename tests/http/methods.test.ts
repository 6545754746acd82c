/** Every address with every verb; CORS; kinds of body and of answer; limits. */
import type { FastifyInstance, InjectOptions } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { line, listen, openApp, problemIn, raw } from '../support/http.js';

let app: FastifyInstance;
let port: number;
beforeAll(async () => {
  app = await openApp();
  port = await listen(app);
});
afterAll(() => app.close());

const verbs = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE', 'OPTIONS', 'TRACE', 'PROPFIND'];
const concrete = (url: string): string => url.replaceAll(/:[A-Za-z]+/g, 'some-id').replace('*', 'none');

it('every address answers 405 with Allow to every verb that it does not take, over a socket', async () => {
  let checked = 0;
  const addresses = app.paths.list();
  expect(addresses.length).toBeGreaterThan(10);
  for (const { url, methods } of addresses) {
    expect(methods).toContain('OPTIONS');
    if (methods.includes('GET')) expect(methods).toContain('HEAD');
    for (const verb of verbs.filter((v) => !methods.includes(v))) {
      const reply = await raw(port, line(`${verb} ${concrete(url)}`, 'Content-Length: 0\r\n'));
      expect(`${verb} ${url} ${reply.status}`).toBe(`${verb} ${url} 405`);
      expect(new Set(reply.headers['allow']!.split(', '))).toEqual(new Set(methods));
      if (verb !== 'HEAD') expect(problemIn(reply).type).toBe('/problems/method-not-allowed');
      checked++;
    }
    const options = await raw(port, line(`OPTIONS ${concrete(url)}`));
    expect(options.status).toBe(204);
    expect(new Set(options.headers['allow']!.split(', '))).toEqual(new Set(methods));
  }
  expect(checked).toBeGreaterThan(addresses.length * 4);
});

it('an unknown address is a problem to every verb', async () => {
  for (const verb of verbs) {
    const reply = await raw(port, line(`${verb} /v1/nothing-here`));
    expect(reply.status).toBe(404);
    if (verb !== 'HEAD') expect(problemIn(reply).type).toBe('/problems/not-found');
  }
  for (const path of ['/v1/ratio/', '/V1/ratio', '/v1', '/v1/ratio.svg.svg', '/%2e%2e/etc', '/v1/ratio%00', '//']) problemIn(await app.inject(path));
});

describe('any origin may read', () => {
  const origin = 'https://guild.example';
  it.each(['/v1/ratio?driveWheel=560mm&whorl=60mm', '/v1/ratio', '/v1/units', '/none'])('%s, without a preflight, errors too', async (url) => {
    const { headers } = await app.inject({ url, headers: { origin, cookie: 'a=b' } });
    expect(headers['access-control-allow-origin']).toBe('*');
    expect(headers['access-control-allow-credentials']).toBeUndefined();
    for (const name of ['ETag', 'Link', 'Location', 'RateLimit', 'RateLimit-Policy', 'Request-Id', 'Retry-After']) expect(headers['access-control-expose-headers']).toContain(name);
  });
  it('a preflight is answered for two hours and more, for what the address takes', async () => {
    const reply = await app.inject({ method: 'OPTIONS', url: '/v1/ratio', headers: { origin, 'access-control-request-method': 'POST', 'access-control-request-headers': 'content-type' } });
    expect(reply.statusCode).toBe(204);
    expect(Number(reply.headers['access-control-max-age'])).toBeGreaterThanOrEqual(7200);
    expect(reply.headers['access-control-allow-methods']).toBe('GET, HEAD, POST, OPTIONS');
    expect(reply.headers['access-control-allow-headers']).toMatch(/Content-Type/);
    expect(reply.headers['access-control-allow-origin']).toBe('*');
  });
});

describe('kinds of body and answer', () => {
  const question = { wheel: { driveWheel: { grooveDiameter: '560 mm' }, whorls: [{ grooveDiameter: '60 mm' }] } };
  const post = (more: InjectOptions) => app.inject({ method: 'POST', url: '/v1/ratio', ...more });
  it.each([
    ['text', { payload: 'x', headers: { 'content-type': 'text/plain' } }, 415, 'unsupported-media-type'],
    ['a form', { payload: 'driveWheel=560mm', headers: { 'content-type': 'application/x-www-form-urlencoded' } }, 415, 'unsupported-media-type'],
    ['no kind named', { payload: '{}', headers: { 'content-type': '' } }, 415, 'unsupported-media-type'],
    ['a kind that is no kind', { payload: '{}', headers: { 'content-type': ';;;' } }, 415, 'unsupported-media-type'],
    ['no body', {}, 400, 'invalid-json'],
    ['an empty body', { payload: '', headers: { 'content-type': 'application/json' } }, 400, 'invalid-json'],
    ['two megabytes', { payload: { wheel: { name: 'x'.repeat(2_000_000) } } }, 413, 'payload-too-large'],
    ['broken JSON', { payload: '{"wheel": {', headers: { 'content-type': 'application/json' } }, 400, 'invalid-json'],
    ['a list', { payload: [] }, 400, 'wrong-type'],
    ['null', { payload: 'null', headers: { 'content-type': 'application/json' } }, 400, 'wrong-type'],
    ['ten thousand whorls', { payload: { wheel: { ...question.wheel, whorls: Array.from({ length: 10_000 }, () => ({ grooveDiameter: '60 mm' })) } } }, 422, 'too-many'],
    ['a page wanted', { payload: question, headers: { accept: 'text/html' } }, 406, 'not-acceptable'],
    ['JSON refused', { payload: question, headers: { accept: 'application/json;q=0, */*' } }, 406, 'not-acceptable'],
  ] satisfies [string, InjectOptions, number, string][])('%s', async (_name, more, status, code) => {
    const reply = await post(more);
    expect(problemIn(reply)).toMatchObject({ status, type: `/problems/${code}` });
  });
  it.each(['application/json', 'application/*', '*/*', 'text/html, */*;q=0.1', 'text/html;q=0, application/json', ''])('Accept: %s is served', async (accept) => {
    expect((await post({ payload: question, headers: { accept } })).statusCode).toBe(200);
  });
  it.each(['application/json; charset=utf-8', 'application/json;charset=UTF-8', 'Application/JSON'])('Content-Type: %s is read', async (kind) => {
    expect((await post({ payload: JSON.stringify(question), headers: { 'content-type': kind } })).statusCode).toBe(200);
  });
  it('two megabytes over a socket get their problem, and the connection stays whole for the next', async () => {
    const body = `{"wheel":{"name":"${'x'.repeat(2_000_000)}"}}`;
    const reply = await raw(port, line('POST /v1/ratio', `Content-Type: application/json\r\nContent-Length: ${body.length}\r\n`, body));
    expect(problemIn(reply).status).toBe(413);
  });
});

it('every reply names its request, and hands a trace context back', async () => {
  const traceparent = '00-0af7651916cd43dd8448eb211c80319c-b7ad6b7169203331-01';
  const ids = new Set<unknown>();
  for (const url of ['/v1/units', '/none', '/v1/ratio']) {
    const reply = await app.inject({ url, headers: { traceparent } });
    expect(reply.headers['traceparent']).toBe(traceparent);
    ids.add(reply.headers['request-id']);
    if (reply.statusCode >= 400) expect(problemIn(reply).requestId).toBe(reply.headers['request-id']);
  }
  expect(ids.size).toBe(3);
  expect((await app.inject({ url: '/v1/units', headers: { traceparent: 'junk' } })).headers['traceparent']).toBeUndefined();
});
