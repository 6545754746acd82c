/** Doors to a guild, its keys and its audit: for keys of scope admin. */
import type { FastifyInstance, FastifyRequest } from 'fastify';
import { ProblemError } from '../foundation/problems.js';
import { sendCacheable } from '../http/etag.js';
import { privateCaching } from '../http/headers.js';
import { idempotencyKey, idempotencyProblems, sendOnce, type Made } from '../http/idempotency.js';
import type { Operation } from '../http/operation.js';
import { pageProblems, pageQuery, readPage, sendPage } from '../http/paging.js';
import { readQuery } from '../http/query.js';
import { serialize } from '../http/serialize.js';
import type { Library } from '../wheels/store.js';
import { requireCaller } from './caller.js';
import { auditList, examples, guildPath, guildToMake, keptGuild, keptKey, keyList, keyPath, keyToMake, newGuild, newKey, rotated, rotation } from './contract.js';
import type { Caller } from './keys.js';
import { auditRead, guildRead, keyRead, readGuildBody, readKeyBody, readRotation, type Scope } from './rules.js';
import type { NewKey } from './store.js';

const json = 'application/json; charset=utf-8';
const keyIdOf = (request: FastifyRequest): string => (request.params as { keyId: string }).keyId;
const made = (location: string, body: object): Made => ({ status: 201, headers: { location, 'cache-control': 'no-store', 'content-type': json }, body: serialize(body) });
const told = ({ kept, key }: NewKey) => ({ ...keyRead(kept), key });

export function guildRoutes(app: FastifyInstance, { library }: { readonly library: Library }): void {
  /** Who asks for this guild. Another guild's is as if it were not there. */
  const own = async (request: FastifyRequest, scope: Scope = 'admin'): Promise<Caller> => {
    const caller = await requireCaller(library, request, scope);
    if (caller.guild !== (request.params as { id: string }).id) throw new ProblemError('guild-not-found');
    return caller;
  };

  app.post('/v1/guilds', { config: { operation: operations.found } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await requireCaller(library, request, 'admin');
    const { name } = readGuildBody(request.body);
    return sendOnce(library, request, reply, caller, async (within) => {
      const { guild, firstKey } = await library.guilds.foundGuild(name, caller, within);
      return made(`/v1/guilds/${guild.id}`, { ...guildRead(guild), firstKey: told(firstKey) });
    });
  });

  app.get('/v1/guilds/:id', { config: { operation: operations.guild } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await own(request, 'read');
    return sendCacheable(request, reply, serialize(guildRead(await library.guilds.guild(caller))), json, privateCaching);
  });

  app.get('/v1/guilds/:id/keys', { config: { operation: operations.keys } }, async (request, reply) => {
    const asked = readPage(request.query);
    const page = await library.guilds.keys(asked, await own(request));
    return sendPage(request, reply, asked.limit, { ...page, items: page.items.map(keyRead) }, privateCaching);
  });

  app.post('/v1/guilds/:id/keys', { config: { operation: operations.createKey } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await own(request);
    const wanted = readKeyBody(request.body, Date.now());
    return sendOnce(library, request, reply, caller, async (within) => {
      const key = await library.guilds.createKey(wanted, caller, within);
      return made(`/v1/guilds/${caller.guild}/keys/${key.kept.id}`, told(key));
    });
  });

  app.get('/v1/guilds/:id/keys/:keyId', { config: { operation: operations.key } }, async (request, reply) => {
    readQuery(request.query, []);
    const key = await library.guilds.key(keyIdOf(request), await own(request));
    if (key === undefined) throw new ProblemError('key-not-found');
    return sendCacheable(request, reply, serialize(keyRead(key)), json, privateCaching);
  });

  app.delete('/v1/guilds/:id/keys/:keyId', { config: { operation: operations.revoke } }, async (request, reply) => {
    readQuery(request.query, []);
    if (!(await library.guilds.revokeKey(keyIdOf(request), await own(request)))) throw new ProblemError('key-not-found');
    return reply.code(204).send();
  });

  app.post('/v1/guilds/:id/keys/:keyId/rotate', { config: { operation: operations.rotate } }, async (request, reply) => {
    readQuery(request.query, []);
    const caller = await own(request);
    const { overlap } = readRotation(request.body);
    return sendOnce(library, request, reply, caller, async (within) => {
      const done = await library.guilds.rotateKey(keyIdOf(request), overlap, caller, within);
      if (done === undefined) throw new ProblemError('key-not-found');
      if (done === 'over') throw new ProblemError('conflict', 'This key does not work any more, or another has come in its place already.');
      return made(`/v1/guilds/${caller.guild}/keys/${done.made.kept.id}`, { ...told(done.made), previous: keyRead(done.previous) });
    });
  });

  app.get('/v1/guilds/:id/audit', { config: { operation: operations.audit } }, async (request, reply) => {
    const asked = readPage(request.query);
    const page = await library.guilds.audit(asked, await own(request));
    return sendPage(request, reply, asked.limit, { ...page, items: page.items.map(auditRead) }, privateCaching);
  });
}

const guild = { params: guildPath, parameterExamples: { id: 'thornmere-guild' } } as const;
const key = { params: keyPath, parameterExamples: { id: 'thornmere-guild' } } as const;
const same = { description: 'It has not changed.' } as const;
const cacheable = ['ETag', 'Cache-Control'] as const;
const creating = ['Location', 'Cache-Control'] as const;
const reading = ['unknown-field', 'unauthorized', 'forbidden', 'guild-not-found', 'library-unavailable'] as const;
const writing = [...reading, 'invalid-request', 'cannot-answer', ...idempotencyProblems] as const;
const operations = {
  found: {
    id: 'createGuild', tag: 'Guilds', summary: 'Makes a guild', description: 'With its first key, which may do everything in it, and is told once. Nothing of the new guild is seen by the one that made it.', headers: idempotencyKey, body: { schema: guildToMake, example: examples.guildToMake },
    replies: { 201: { description: 'It was made.', schema: newGuild, example: examples.newGuild, headers: creating } }, problems: writing.filter((code) => code !== 'guild-not-found'), key: 'needed',
  },
  guild: { id: 'readGuild', tag: 'Guilds', summary: 'The guild of the key', ...guild, replies: { 200: { description: 'The guild.', schema: keptGuild, example: examples.guild, headers: cacheable }, 304: same }, problems: reading, key: 'needed' },
  keys: { id: 'listKeys', tag: 'Guilds', summary: 'Keys of the guild', description: 'How each begins and what it may do; no key itself.', query: pageQuery, ...guild, replies: { 200: { description: 'One page.', schema: keyList, example: examples.keys, headers: [...cacheable, 'Link'] }, 304: same }, problems: [...pageProblems, ...reading], key: 'needed' },
  createKey: {
    id: 'createKey', tag: 'Guilds', summary: 'Makes a key', description: 'The key is told once, in this reply.', ...guild, headers: idempotencyKey, body: { schema: keyToMake, example: examples.keyToMake },
    replies: { 201: { description: 'It was made.', schema: newKey, example: examples.newKey, headers: creating } }, problems: writing, key: 'needed',
  },
  key: { id: 'readKey', tag: 'Guilds', summary: 'One key, by its id', ...key, replies: { 200: { description: 'The key.', schema: keptKey, example: examples.key, headers: cacheable }, 304: same }, problems: [...reading, 'key-not-found'], key: 'needed' },
  revoke: { id: 'revokeKey', tag: 'Guilds', summary: 'Revokes a key', description: 'It stops working at once, in every process within 5 seconds, and stays in the list. A key may revoke itself.', ...key, replies: { 204: { description: 'It does not work any more.' } }, problems: [...reading, 'key-not-found'], key: 'needed' },
  rotate: {
    id: 'rotateKey', tag: 'Guilds', summary: 'Replaces a key by a new one', description: 'Both work until the overlap is over. The new key may do the same, lives as long as the old one was given, and is told once.', ...key, headers: idempotencyKey, body: { schema: rotation, example: examples.rotation, optional: true },
    replies: { 201: { description: 'The new key, and the old one.', schema: rotated, example: examples.rotated, headers: creating } }, problems: [...writing, 'key-not-found', 'conflict'], key: 'needed',
  },
  audit: { id: 'listAudit', tag: 'Guilds', summary: 'What was written for the guild, and with which key', description: 'The newest first.', query: pageQuery, ...guild, replies: { 200: { description: 'One page.', schema: auditList, example: examples.audit, headers: [...cacheable, 'Link'] }, 304: same }, problems: [...pageProblems, ...reading], key: 'needed' },
} as const satisfies Record<string, Operation>;
