/** Lists by pages: what is asked for, and how a page is sent. */
import type { FastifyReply, FastifyRequest } from 'fastify';
import { z } from 'zod';
import { sendCacheable } from './etag.js';
import { pathOf } from './failures.js';
import { queryText, readLimit, readQuery, type Query } from './query.js';
import { serialize } from './serialize.js';

export const pageQuery = z.strictObject({
  limit: z.int().min(1).max(100).exactOptional().describe('So many on a page; 20 when left out.'),
  after: z.string().max(400).exactOptional().describe('The cursor that the page before gave as next.'),
});
export const pageProblems = ['unknown-field', 'out-of-range', 'invalid-cursor'] as const;

/** Throws a problem that names the parameter. `more`: names that the list takes besides, which are left to it. */
export function readPage(query: unknown, more: readonly string[] = []): { limit: number; after?: string } {
  const { limit, after } = readQuery(query, ['limit', 'after', ...more]);
  return { limit: readLimit(limit), ...(after === undefined ? {} : { after }) };
}

/** Sends a page, and where the next one is. */
export function sendPage(request: FastifyRequest, reply: FastifyReply, limit: number, page: { readonly items: readonly unknown[]; readonly next?: string }, caching: string): FastifyReply {
  if (page.next !== undefined) {
    const { after: _, ...asked } = request.query as Query;
    reply.header('link', `<${pathOf(request.url)}?${queryText({ ...asked, limit: [String(limit)], after: [page.next] })}>; rel="next"`);
  }
  const body = serialize({ items: page.items, ...(page.next === undefined ? {} : { next: page.next }) });
  return sendCacheable(request, reply.header('vary', 'Authorization'), body, 'application/json; charset=utf-8', caching);
}
