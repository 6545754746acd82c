/** The servers of a bench, in one process: this service, and what it is measured against. Prints their ports as JSON. */
import type { AddressInfo } from 'node:net';
import Fastify from 'fastify';
import { calculations } from '../../services/calculations/index.js';
import { buildApp } from '../../services/http/app.js';

const port = async (app: { listen(o: { host: string; port: number }): Promise<string>; server: { address(): unknown } }): Promise<number> => {
  await app.listen({ host: '127.0.0.1', port: 0 });
  return (app.server.address() as AddressInfo).port;
};

// The same application, hooks and body parser; these handlers give back the bytes of the answer without finding it.
const service = await buildApp({ config: { version: 'bench' } });
for (const { id, answer, contract } of calculations) {
  const bytes = JSON.stringify(answer(contract.example));
  service.post(`/same/${id}`, (request, reply) => {
    if (request.body === undefined) throw new Error('the body was not read');
    return reply.header('content-type', 'application/json; charset=utf-8').send(bytes);
  });
}
const empty = Fastify();
empty.post('/hello', () => ({ hello: 'world' }));

await service.ready();
process.stdout.write(`${JSON.stringify({ service: await port(service), empty: await port(empty) })}\n`);
process.on('SIGTERM', () => process.exit(0));
