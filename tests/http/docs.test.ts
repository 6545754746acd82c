/** The specification and its reader, served by the service itself. */
import type { FastifyInstance } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openApp } from '../support/http.js';

let app: FastifyInstance;
beforeAll(async () => { app = await openApp(); });
afterAll(() => app.close());

it('/openapi.json and the forms that the reader asks for are the same document', async () => {
  const spec = (await app.inject('/openapi.json')).json<{ openapi: string; paths: object }>();
  expect(spec.openapi).toBe('3.1.0');
  expect((await app.inject('/docs/json')).json()).toEqual(spec);
  const yaml = await app.inject('/docs/yaml');
  expect(yaml.statusCode).toBe(200);
  for (const path of Object.keys(spec.paths)) expect(yaml.body).toContain(path);
});

it('/docs needs nothing from elsewhere: every address in it is ours, and answers', async () => {
  const page = await app.inject('/docs');
  const [start] = page.statusCode === 302 ? [String(page.headers['location'])] : ['/docs'];
  const html = page.statusCode === 302 ? await app.inject(new URL(start, 'http://localhost/docs').pathname) : page;
  expect(html.statusCode).toBe(200);
  expect(html.headers['content-security-policy']).toBeTruthy();
  const addresses = [...html.body.matchAll(/(?:src|href)="([^"]+)"/g)].map((m) => m[1]!);
  expect(addresses.length).toBeGreaterThan(3);
  for (const address of addresses) {
    expect(address).not.toMatch(/^(https?:)?\/\//);
    const reply = await app.inject(new URL(address, 'http://localhost/docs/').pathname);
    expect(`${address} ${reply.statusCode}`).toBe(`${address} 200`);
  }
});
