/** The application for tests, and a plain socket for what no client would send. */
import { connect, type AddressInfo } from 'node:net';
import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import { expect } from 'vitest';
import { catalogue, type ProblemDocument } from '../../services/foundation/problems.js';
import { buildApp, type AppDeps } from '../../services/http/app.js';

export async function openApp(deps: Partial<AppDeps> = {}): Promise<FastifyInstance> {
  const app = await buildApp({ config: { version: '0.0.0' }, ...deps });
  await app.ready();
  return app;
}

/** Asks again while the process says that it is too busy: tests that work hard between requests, on a machine that others use too, keep it late. */
export async function patiently(ask: () => Promise<LightMyRequestResponse>): Promise<LightMyRequestResponse> {
  for (let again = 0; ; again++) {
    const reply = await ask();
    if (reply.statusCode !== 503 || again === 40 || !reply.body.includes('/problems/too-busy')) return reply;
    await new Promise((resolve) => { setTimeout(resolve, 250); });
  }
}

export async function listen(app: FastifyInstance): Promise<number> {
  await app.listen({ host: '127.0.0.1', port: 0 });
  return (app.server.address() as AddressInfo).port;
}

export interface RawReply { readonly status: number; readonly headers: Readonly<Record<string, string>>; readonly body: string }

/** Sends these bytes as they are and reads until the other side closes. */
export function raw(port: number, bytes: string | Buffer, wait = 5000): Promise<RawReply> {
  return new Promise((resolve, reject) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(bytes));
    const chunks: Buffer[] = [];
    socket.setTimeout(wait, () => socket.destroy(new Error('no reply in time')));
    socket.on('data', (chunk) => chunks.push(chunk));
    socket.on('error', (error) => (chunks.length === 0 ? reject(error) : undefined));
    socket.on('close', () => {
      const text = Buffer.concat(chunks).toString('utf8');
      const end = text.indexOf('\r\n\r\n');
      if (end < 0) { reject(new Error(`no HTTP reply: ${text}`)); return; }
      const [line, ...lines] = text.slice(0, end).split('\r\n');
      const headers = Object.fromEntries(lines.map((l) => [l.slice(0, l.indexOf(':')).toLowerCase(), l.slice(l.indexOf(':') + 1).trim()]));
      resolve({ status: Number(line!.split(' ')[1]), headers, body: text.slice(end + 4) });
    });
  });
}
/** A request line with the headers that end the connection after the reply. */
export const line = (text: string, headers = '', body = ''): string => `${text} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n${headers}\r\n${body}`;

/** Words that only the inside of the service knows. */
export const leaks = /node_modules|\.ts\b|\.js:\d|\bat [\w.<>]+ \(|\/work\/|\/home\/|\/tmp\/|select .+ from |insert into|syntax error at or near|ECONN|FST_ERR|undefined|\[object/i;

/** Checks that the reply is a whole problem document, and gives it. */
export function problemIn(reply: LightMyRequestResponse | RawReply): ProblemDocument {
  const status = 'statusCode' in reply ? reply.statusCode : reply.status;
  expect(String(reply.headers['content-type']).split(';')[0]).toBe('application/problem+json');
  expect(reply.headers['access-control-allow-origin']).toBe('*');
  const document = JSON.parse(reply.body) as ProblemDocument;
  const code = document.type.replace('/problems/', '') as keyof typeof catalogue;
  expect(Object.keys(catalogue)).toContain(code);
  expect(document).toMatchObject({ title: catalogue[code].title, status });
  expect(document.status).toBe(catalogue[code].status);
  expect(document.detail).toBeTruthy();
  for (const issue of document.errors ?? []) expect(Object.keys(catalogue)).toContain(issue.code);
  expect(reply.body).not.toMatch(leaks);
  return document;
}
