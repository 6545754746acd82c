/** A real browser for tests of pages and embeds, and small servers to point it at. */
import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import Fastify, { type FastifyInstance } from 'fastify';
import { chromium, type Browser } from 'playwright-core';
import { calculations } from '../../services/calculations/index.js';
import { failures } from '../../services/http/failures.js';
import { parseQuery } from '../../services/http/query.js';
import { Apart } from '../../services/http/apart.js';
import { pageRoutes, type Shelf } from '../../services/pages/index.js';
import { chromiumPath } from './require.js';

export const launch = (): Promise<Browser> => chromium.launch({
  executablePath: chromiumPath!,
  args: ['--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'],
});

/** The pages alone, without the rest of the service. */
export function pagesApp(library?: Shelf): FastifyInstance {
  const app = Fastify({ routerOptions: { querystringParser: parseQuery } });
  failures(app);
  const apart = new Apart();
  app.addHook('onClose', () => apart.close());
  pageRoutes(app, { calculations, version: '0.0.0', apart, ...(library === undefined ? {} : { library }) });
  return app;
}
export async function listen(app: FastifyInstance): Promise<string> {
  return app.listen({ host: '127.0.0.1', port: 0 });
}

/** A host page of somebody else: another origin, with its own policy. */
export async function hostPage(html: string, headers: Record<string, string>, files: Record<string, { type: string; body: string }> = {}): Promise<{ origin: string; server: Server }> {
  const server = createServer((request, response) => {
    const file = files[request.url ?? ''];
    if (file !== undefined) response.writeHead(200, { 'content-type': file.type }).end(file.body);
    else if (request.url === '/') response.writeHead(200, { 'content-type': 'text/html; charset=utf-8', ...headers }).end(html);
    else response.writeHead(404).end();
  });
  await new Promise<void>((resolve) => { server.listen(0, '127.0.0.1', resolve); });
  return { origin: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, server };
}
