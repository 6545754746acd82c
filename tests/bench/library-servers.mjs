/** The service over a library on PostgreSQL, and the same read by its driver alone, in one process: `library-servers.mjs url`. Prints their ports as JSON. From the built service. */
import { createServer } from 'node:http';
import postgres from 'postgres';
import { openLibrary } from '../../dist/services/library.js';
import { buildApp } from '../../dist/services/http/app.js';

const url = process.argv[2];
const { library } = await openLibrary({ databaseUrl: url, dataDir: '' });
const app = await buildApp({ config: { version: 'bench' }, library });
await app.listen({ host: '127.0.0.1', port: 0 });

const sql = postgres(url, { max: 8 });
const answer = async (request, reply) => {
  const [wheel] = await sql`select id, revision, visibility, guild_id, profile, parts, forked_from, forked_revision, created_at, updated_at from wheels where id = ${request.url.slice('/v1/wheels/'.length)} and retired_at is null`;
  reply.setHeader('content-type', 'application/json; charset=utf-8');
  reply.end(JSON.stringify(wheel));
};
const bare = createServer((request, reply) => { void answer(request, reply); });
await new Promise((resolve) => bare.listen(0, '127.0.0.1', resolve));

process.stdout.write(`${JSON.stringify({ service: app.server.address().port, bare: bare.address().port })}\n`);
process.on('disconnect', () => process.exit(0));
