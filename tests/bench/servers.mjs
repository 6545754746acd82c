/** The servers of a bench, from the built service, in one process. Prints their ports as JSON. Plain JavaScript: a transpiler in between would be measured too. */
import Fastify from 'fastify';
import { calculations } from '../../dist/services/calculations/index.js';
import { buildApp } from '../../dist/services/http/app.js';

const listen = async (app) => {
  await app.listen({ host: '127.0.0.1', port: 0 });
  return app.server.address().port;
};

// The same application, hooks and body parser; these handlers give back the bytes of an answer without finding it.
const service = await buildApp({ config: { version: 'bench' } });
for (const { id, answer, contract } of calculations) {
  const bytes = JSON.stringify(answer(contract.example));
  service.post(`/same/${id}`, (request, reply) => {
    if (request.body === undefined) throw new Error('the body was not read');
    return reply.header('content-type', 'application/json; charset=utf-8').send(bytes);
  });
}
const bare = Fastify();
bare.post('/hello', () => ({ hello: 'world' }));

process.stdout.write(`${JSON.stringify({ service: await listen(service), bare: await listen(bare) })}\n`);
// Seconds of processor time so far, whenever asked: it tells what a request costs even on a machine that is busy otherwise.
process.on('message', () => {
  const { user, system } = process.cpuUsage();
  process.send({ seconds: (user + system) / 1e6 });
});
process.on('disconnect', () => process.exit(0));
