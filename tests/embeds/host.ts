/** A guild's own page with an embed on it: another origin than the service, and a strict policy. */
import type { Server } from 'node:http';
import type { FastifyInstance } from 'fastify';
import type { Browser, BrowserContext, BrowserContextOptions, Page } from 'playwright-core';
import { hostPage } from '../support/browser.js';

export interface Opened { readonly page: Page; readonly context: BrowserContext; readonly origin: string; readonly refused: string[]; readonly asked: string[]; close(): Promise<void> }

export async function openHost(browser: Browser, service: string, inside: string, options: BrowserContextOptions & { lang?: string; policy?: string; script?: string } = {}): Promise<Opened> {
  const { lang = 'en', policy, script = `<script type="module" src="${service}/embeds/ratio.js"></script>`, ...context } = options;
  const html = `<!doctype html><html lang="${lang}"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><title>A guild</title><link rel="stylesheet" href="/s.css">${script}</head><body><main><h1>Our wheels</h1>${inside}</main></body></html>`;
  const strict = policy ?? `default-src 'none'; script-src ${service}; style-src 'self'; connect-src ${service}; img-src 'self'`;
  const { origin, server }: { origin: string; server: Server } = await hostPage(html, { 'content-security-policy': strict }, { '/s.css': { type: 'text/css', body: 'body{margin:0}' }, '/favicon.ico': { type: 'image/x-icon', body: '' } });
  const opened = await browser.newContext({ viewport: { width: 900, height: 900 }, ...context });
  const page = await opened.newPage();
  const [refused, asked]: [string[], string[]] = [[], []];
  page.on('console', (m) => { if (/error|warning/.test(m.type())) refused.push(m.text()); });
  page.on('pageerror', (e) => refused.push(e.message));
  page.on('request', (r) => asked.push(r.url()));
  await page.goto(`${origin}/`);
  return { page, context: opened, origin, refused, asked, close: async () => { await opened.close(); server.close(); } };
}

/** How often the service was asked before a request: counts preflights. */
export function countPreflights(app: FastifyInstance): () => number {
  let count = 0;
  app.addHook('onRequest', (request, _reply, done) => { if (request.method === 'OPTIONS') count++; done(); });
  return () => count;
}
