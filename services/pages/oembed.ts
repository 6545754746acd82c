/**
 * oEmbed (https://oembed.com) for wheels: another site asks what to show for the address of a wheel's sheet. Only addresses of
 * this service are read, and nothing is fetched for it.
 */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import type { Calculation } from '../calculations/calculation.js';
import { metric } from '../foundation/quantity.js';
import { ProblemError } from '../foundation/problems.js';
import { pictureFrom, type Apart } from '../http/apart.js';
import { sendCacheable } from '../http/etag.js';
import type { Operation } from '../http/operation.js';
import { readQuery } from '../http/query.js';
import { html } from './html.js';
import type { Shelved } from './wheels.js';

const reply = z.object({
  type: z.literal('rich'), version: z.literal('1.0'), title: z.string(), provider_name: z.string(), provider_url: z.string(), cache_age: z.int(), width: z.int(), height: z.int(), html: z.string().describe('A picture of the wheel that leads to its sheet; no script.'),
}).meta({ id: 'OEmbed', description: 'What another page may show for the address of a wheel.' });
const example = { type: 'rich', version: '1.0', title: 'Thornmere 4', provider_name: 'Wheelgrist', provider_url: 'https://wheels.example', cache_age: 3600, width: 400, height: 520, html: '<a href="https://wheels.example/wheels/thornmere-4"><img src="https://wheels.example/v1/wheels/thornmere-4/ratio.svg" alt="Thornmere 4" width="400" height="520"></a>' } as const;

export const oembedOperation: Operation = {
  id: 'oembed', tag: 'Pages', summary: 'What another site may show for the address of a wheel', description: 'oEmbed, of the kind “rich”. Only addresses of wheels of this service are known; the answer is JSON.',
  query: z.strictObject({
    url: z.string().describe('Address of the wheel’s sheet, as a person sees it, or its path alone.'), maxwidth: z.string().exactOptional().describe('Widest it may be, in pixels.'), maxheight: z.string().exactOptional().describe('Highest it may be, in pixels.'), format: z.string().exactOptional().describe('json; no other is made.'),
  }),
  parameterExamples: { url: '/wheels/thornmere-4', maxwidth: '300' },
  replies: { 200: { description: 'What to show.', schema: reply, example, headers: ['ETag', 'Cache-Control'] }, 304: { description: 'It has not changed.' } },
  problems: ['missing-field', 'out-of-range', 'wheel-not-found', 'not-found', 'format-not-made', 'library-unavailable', 'repeated-field', 'unknown-field'],
};

/** The id of a wheel of ours whose sheet stands at this address; undefined: it is no such address. */
function wheelOf(url: string, origin: string): string | undefined {
  let at: URL;
  try { at = new URL(url, origin); } catch { return undefined; }
  const path = /^\/wheels\/([^/]+)\/?$/.exec(at.pathname);
  if (at.origin !== origin || at.username !== '' || at.password !== '' || path === null) return undefined;
  try { return decodeURIComponent(path[1]!); } catch { return undefined; }
}
function size(text: string | undefined, name: string): number {
  if (text === undefined) return Infinity;
  const x = /^\d{1,5}$/.test(text) ? Number(text) : 0;
  if (x > 0) return x;
  throw new ProblemError('out-of-range', `“${name}” is a whole number of pixels.`, { issues: [{ parameter: name, code: 'out-of-range', detail: `“${name}” is a whole number of pixels.`, received: text.slice(0, 40), expected: 'from 1 to 99999' }] });
}

export async function sendOembed(request: FastifyRequest, to: FastifyReply, origin: string, find: (id: string) => Promise<Shelved>, ratio: Calculation, apart: Apart): Promise<FastifyReply> {
  const q = readQuery(request.query, ['url', 'maxwidth', 'maxheight', 'format']);
  const missing = 'The address of a wheel’s sheet is needed.';
  if (q['url'] === undefined || q['url'] === '') throw new ProblemError('missing-field', missing, { issues: [{ parameter: 'url', code: 'missing-field', detail: missing, received: 'nothing', expected: `such as ${origin}/wheels/thornmere-4` }] });
  if (q['format'] !== undefined && q['format'] !== 'json') throw new ProblemError('format-not-made', undefined, { issues: [{ parameter: 'format', code: 'format-not-made', detail: 'Only JSON is made.', received: q['format'].slice(0, 40), expected: 'json' }] });
  const [widest, highest] = [size(q['maxwidth'], 'maxwidth'), size(q['maxheight'], 'maxheight')];
  const id = wheelOf(q['url'], origin);
  if (id === undefined) throw new ProblemError('not-found', 'That is not the address of a wheel’s sheet on this service.', { issues: [{ parameter: 'url', code: 'not-found', detail: 'That is not the address of a wheel’s sheet on this service.', received: q['url'].slice(0, 200), expected: `${origin}/wheels/…` }] });
  const { profile } = await find(id);
  const title = profile.name ?? 'A spinning wheel';
  const sheet = `${origin}/wheels/${encodeURIComponent(id)}`;
  const picture = await drawn(ratio, profile, apart);
  const by = picture === undefined ? 1 : Math.min(1, widest / picture.width, highest / picture.height);
  const [width, height] = picture === undefined ? [Math.min(400, widest), Math.min(60, highest)] : [Math.max(1, Math.floor(picture.width * by)), Math.max(1, Math.floor(picture.height * by))];
  const inside = picture === undefined ? html`<p><a href="${sheet}">${title}</a></p>` : html`<a href="${sheet}"><img src="${origin}/v1/wheels/${encodeURIComponent(id)}/ratio.svg" alt="${title}: its wheel and pulleys to scale" width="${width}" height="${height}"></a>`;
  const body = JSON.stringify({ type: 'rich', version: '1.0', title, provider_name: 'Wheelgrist', provider_url: origin, cache_age: 3600, width, height, html: inside.text });
  return sendCacheable(request, to, body, 'application/json; charset=utf-8', 'public, max-age=60');
}

/** How large its picture is; undefined where its measures do not make one. */
async function drawn(ratio: Calculation, profile: Shelved['profile'], apart: Apart): Promise<{ width: number; height: number } | undefined> {
  try {
    const [, width, height] = / width="([\d.]+)" height="([\d.]+)"/.exec(await pictureFrom(apart, ratio, { wheel: profile }, { units: metric }))!;
    return { width: Number(width), height: Number(height) };
  } catch (error) {
    if (!(error instanceof ProblemError) || error.status === 503) throw error;
    return undefined;
  }
}
