/** What every page has around it, and the headers it is sent with. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { footer } from '../foundation/drawing.js';
import { sendCacheable } from '../http/etag.js';
import { assetPaths } from './assets.js';
import { html, type Html, type Piece } from './html.js';

/** No inline script or style, nothing from elsewhere, no frame around a page. */
export const pageHeaders = {
  'content-security-policy': "default-src 'none'; style-src 'self'; script-src 'self'; img-src 'self'; connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'",
  'x-content-type-options': 'nosniff',
  'x-frame-options': 'DENY',
  'referrer-policy': 'no-referrer',
  'cross-origin-opener-policy': 'same-origin',
  'permissions-policy': 'camera=(), geolocation=(), microphone=(), payment=(), usb=()',
} as const;

export interface Page {
  readonly title: string;
  readonly description: string;
  readonly body: Html;
  /** Within head, after the sheet. */
  readonly head?: Piece;
}

export function document(page: Page, version: string): string {
  return html`<!doctype html>
<html lang="en-GB"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width,initial-scale=1"><meta name="color-scheme" content="light dark">
<title>${page.title === '' ? '' : `${page.title} · `}Wheelgrist</title><meta name="description" content="${page.description}">
<link rel="stylesheet" href="${assetPaths.style}"><link rel="icon" type="image/svg+xml" href="${assetPaths.mark}">${page.head}</head>
<body><a class="skip" href="#main">To the page</a>
<header><nav class="bar" aria-label="Pages"><a class="mark" href="/">Wheelgrist</a><a href="/calculate/ratio">Calculators</a><a href="/wheels">Wheels</a><a href="/cards">Cards</a><a href="/tables">Tables</a><a href="/docs">For programs</a></nav><div class="selvedge"></div></header>
<main id="main">${page.body}</main>
<footer><p>${footer}</p><p class="screen">Wheelgrist ${version} · <a href="/problems">what can go wrong</a> · <a href="/openapi.json">specification</a></p></footer></body></html>
`.text;
}

/** Sends a page with its tag; it is asked for again each time, and is 304 when it has not changed. */
export function sendPage(request: FastifyRequest, reply: FastifyReply, page: Page, version: string, status = 200, caching = 'public, no-cache'): FastifyReply {
  const body = document(page, version);
  reply.headers(pageHeaders);
  if (status !== 200) return reply.code(status).header('cache-control', 'no-store').type('text/html; charset=utf-8').send(body);
  return sendCacheable(request, reply, body, 'text/html; charset=utf-8', caching);
}

/** The address that links to be copied begin with. */
export function originOf(request: FastifyRequest, publicOrigin: string | undefined): string {
  if (publicOrigin !== undefined) return publicOrigin.replace(/\/$/, '');
  const host = request.host;
  return /^[\w.:[\]-]{1,255}$/.test(host) ? `${request.protocol}://${host}` : 'http://localhost:8080';
}
