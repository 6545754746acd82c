/** Small documents at fixed addresses: where to report a weakness (RFC 9116), what changed. */
import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { cached } from './reference.js';
import { serialize } from './serialize.js';

/** Every release, newest first. */
export const changes = [
  { version: '0.1.0', date: '2026-11-25', changes: ['Drive ratio by link, JSON, batch, wheel id, page, picture and embed.', 'A library of wheel profiles.'] },
] as const;

const change = z.object({ version: z.string(), date: z.iso.date(), changes: z.array(z.string()) }).meta({ id: 'Change', description: 'A release.' });

export function wellKnownRoutes(app: FastifyInstance): void {
  const body = serialize({ items: changes });
  cached(app, '/changes.json', {
    id: 'listChanges', tag: 'Service', summary: 'What changed, release by release', schema: z.object({ items: z.array(change) }).meta({ id: 'ChangeList', description: 'Releases, newest first.' }), example: { items: changes },
  }, () => body, 'application/json; charset=utf-8');
  // Less than a year, as the standard asks; a running process renews it.
  const day = 86_400_000;
  const text = (): string => `Contact: mailto:security@thornmere.example\nExpires: ${new Date((Math.floor(Date.now() / day) + 180) * day).toISOString()}\nPreferred-Languages: en\n`;
  cached(app, '/.well-known/security.txt', { id: 'securityContact', tag: 'Service', summary: 'Where to report a weakness', mediaType: 'text/plain' }, text, 'text/plain; charset=utf-8');
}
