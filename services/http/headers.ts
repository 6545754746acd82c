/** Headers of replies: those that every reply carries, and what each named one means in the specification. */

/** On every reply, problems included. Any origin may read; nothing here depends on cookies, so no credentials are allowed. */
export const constantHeaders = {
  'access-control-allow-origin': '*',
  'access-control-expose-headers': 'ETag, Link, Location, RateLimit, RateLimit-Policy, Request-Id, Retry-After',
  'x-content-type-options': 'nosniff',
  'referrer-policy': 'no-referrer',
  'cross-origin-resource-policy': 'cross-origin',
} as const;

export const preflightHeaders = {
  'access-control-allow-headers': 'Authorization, Content-Type, Idempotency-Key, If-Match, If-None-Match, Traceparent',
  'access-control-max-age': '86400',
} as const;

/** A calculation is the same for everybody and changes only with the model. */
export const calculationCaching = 'public, max-age=300';
export const privateCaching = 'private, no-cache';
/** What is public may change at any time, so it is asked for again: 304 when it has not. */
export const publicCaching = 'public, no-cache';

export const headerTable = {
  ETag: 'Strong entity tag of this answer.',
  'Cache-Control': 'How long it may be kept, and by whom.',
  Location: 'Address of what was made.',
  Link: 'rel="next": the next page of a list.',
  Allow: 'Methods that this address takes.',
  'Retry-After': 'Seconds to wait.',
  'Request-Id': 'Names this request in our log.',
  RateLimit: 'What is left, as in the current draft of RateLimit headers.',
  'RateLimit-Policy': 'The limit, as in the current draft of RateLimit headers.',
} as const satisfies Record<string, string>;
