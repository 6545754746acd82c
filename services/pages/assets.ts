/** What pages and embeds load: the style sheet, the mark, and the built embeds. Read once at start. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { palette } from '../foundation/drawing.js';
import { ProblemError } from '../foundation/problems.js';
import { tagMatches } from '../http/etag.js';
import { styleSheet } from './style.js';

const spokes = Array.from({ length: 6 }, (_, i) => `<path d="M16 16L${(16 + 12 * Math.cos((i * Math.PI) / 3)).toFixed(1)} ${(16 + 12 * Math.sin((i * Math.PI) / 3)).toFixed(1)}"/>`).join('');
const mark = `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 32 32"><rect width="32" height="32" rx="6" fill="${palette.light.ground}"/><g fill="none" stroke="${palette.light.woad}" stroke-width="2.4"><circle cx="16" cy="16" r="12"/>${spokes}</g><circle cx="16" cy="16" r="3" fill="${palette.light.madder}"/></svg>`;

const short = (body: string | Buffer): string => createHash('sha256').update(body).digest('base64url').slice(0, 16);
/** Addresses that pages name: with the hash of what they hold, so that they may be kept for ever. */
export const assetPaths = { style: `/assets/page.css?v=${short(styleSheet)}`, mark: `/assets/mark.svg?v=${short(mark)}` } as const;

/** Built by `npm run build`; beside this file's own folder in `dist`, or under `dist` when run from source. */
const embedsFolder = (): string | undefined => ['../../embeds/', '../../dist/embeds/'].map((at) => fileURLToPath(new URL(at, import.meta.url))).find((at) => existsSync(`${at}integrity.json`));

/** Address of a calculation's embed, with its hash; undefined: there is none, or none was built. */
export function embedAddress(id: string): string | undefined {
  const folder = embedsFolder();
  return folder === undefined || !existsSync(`${folder}${id}.js`) ? undefined : `/embeds/${id}.js?v=${short(readFileSync(`${folder}${id}.js`))}`;
}

/** Zipped when it is first asked for so: a start need not wait for it. */
interface Asset { readonly body: Buffer; zipped(): Buffer; readonly version: string; readonly type: string }
const asset = (body: string | Buffer, type: string): Asset => {
  const bytes = Buffer.from(body);
  let zipped: Buffer | undefined;
  return { body: bytes, zipped: () => (zipped ??= gzipSync(bytes, { level: 9 })), version: short(bytes), type };
};

/** Sends it zipped to those who take that. Its own hash in the address, or in its name: kept for ever. */
function send(request: FastifyRequest, reply: FastifyReply, one: Asset, named: boolean): FastifyReply {
  const zip = /\bgzip\b/.test(String(request.headers['accept-encoding'] ?? ''));
  const tag = `"${one.version}${zip ? '-gz' : ''}"`;
  const forEver = named || new URLSearchParams(request.url.split('?')[1] ?? '').get('v') === one.version;
  reply.headers({ etag: tag, vary: 'Accept-Encoding', 'cache-control': forEver ? 'public, max-age=31536000, immutable' : 'public, no-cache', 'access-control-allow-origin': '*', 'cross-origin-resource-policy': 'cross-origin', 'x-content-type-options': 'nosniff' });
  const known = request.headers['if-none-match'];
  if (known !== undefined && tagMatches(known, tag)) return reply.code(304).send();
  if (zip) reply.header('content-encoding', 'gzip');
  return reply.type(one.type).send(zip ? one.zipped() : one.body);
}

const kinds: Readonly<Record<string, string>> = { js: 'text/javascript; charset=utf-8', json: 'application/json; charset=utf-8' };

export function assetRoutes(app: FastifyInstance): void {
  const sheet = asset(styleSheet, 'text/css; charset=utf-8');
  const icon = asset(mark, 'image/svg+xml; charset=utf-8');
  app.get('/assets/page.css', (request, reply) => send(request, reply, sheet, false));
  app.get('/assets/mark.svg', (request, reply) => send(request, reply, icon, false));
  const files = new Map<string, Asset>();
  const folder = embedsFolder();
  for (const name of folder === undefined ? [] : readdirSync(folder)) {
    const type = kinds[name.slice(name.lastIndexOf('.') + 1)];
    if (type !== undefined) files.set(name, asset(readFileSync(`${folder}${name}`), type));
  }
  app.get('/embeds/:file', (request, reply) => {
    const { file } = request.params as { file: string };
    const found = files.get(file);
    if (found === undefined) throw new ProblemError('not-found');
    // A shared part has its hash in its name.
    return send(request, reply, found, /-[A-Z0-9]{8}\.js$/.test(file));
  });
}
