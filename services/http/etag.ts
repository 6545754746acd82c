/** Entity tags: strong, a hash of the identity body. */
import { hash } from 'node:crypto';
import type { FastifyReply, FastifyRequest } from 'fastify';

export const etagOf = (body: string): string => `"${hash('sha1', body, 'base64url')}"`;

/** Whether If-None-Match or If-Match names the tag, by weak comparison (RFC 9110, 8.8.3.2) unless `strong`. */
export function tagMatches(header: string, tag: string, strong = false): boolean {
  if (header.trim() === '*') return true;
  for (const [found] of header.matchAll(/(?:W\/)?"[\x21\x23-\x7e\x80-\xff]*"/g)) {
    if (found === tag || (!strong && found.startsWith('W/') && found.slice(2) === tag)) return true;
  }
  return false;
}

/** Sends a cacheable body with its tag, or 304 when the reader has it already. */
export function sendCacheable(request: FastifyRequest, reply: FastifyReply, body: string, mediaType: string, caching: string): FastifyReply {
  const tag = etagOf(body);
  reply.header('etag', tag).header('cache-control', caching);
  const known = request.headers['if-none-match'];
  if (known !== undefined && tagMatches(known, tag)) return reply.code(304).send();
  return reply.type(mediaType).send(body);
}
