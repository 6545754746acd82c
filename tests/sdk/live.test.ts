/** Every operation of the specification, called on a running service by its function of the SDK. */
import { readFileSync } from 'node:fs';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { inFull } from '../../sdk/generate/spec.js';
import * as sdk from '../../sdk/src/node.js';
import { startWorker, type Worker } from '../../services/analyses/work.js';
import type { Spec, SpecOperation } from '../contract/requests.js';
import { listen } from '../support/http.js';
import { openWhole, type Whole } from '../support/whole.js';

const spec = inFull(JSON.parse(readFileSync(new URL('../../sdk/openapi.json', import.meta.url), 'utf8')) as Spec);
type Method = (...given: unknown[]) => sdk.Call<unknown> | AsyncGenerator<unknown>;
const operations = Object.entries(spec.paths).flatMap(([path, methods]) => Object.entries(methods).map(([method, operation]) => ({ path, method, operation })));
const plied = { singlesGrist: '50 tex', singlesTwist: '450/m', singlesDirection: 'Z', plies: '2', plyTwist: '300/m', plyDirection: 'S', draftLength: '600 mm' };
/** What an operation needs beside a wheel, and no example of the specification gives. */
const needed: Readonly<Record<string, object>> = {
  wheelTwist: { ratio: '14', wheelTurns: '2', draftLength: '3 in' }, wheelPly: plied, wheelPlyPicture: plied, wheelSetups: { grist: '1200 yd/lb', twist: '6 turns/in' }, wheelPlan: { length: '1300 yd', grist: '840 yd/lb', plies: '3' }, wheelDiagnosis: { sign: ['will-not-draw-in'] },
};
/** What makes comes first, and after that which it stands in; what takes away comes last, and before that which it stood in. */
const order = ({ method, path, operation }: { method: string; path: string; operation: SpecOperation }): number => {
  const depth = path.split('/').length / 100;
  return method === 'delete' ? 4 - depth : (operation.responses['201'] ?? operation.responses['202']) !== undefined ? depth : method === 'get' ? 2 : 3;
};

let whole: Whole;
let wheelgrist: sdk.Wheelgrist;
let worker: Worker;
beforeAll(async () => {
  whole = await openWhole();
  worker = startWorker(whole.library.analyses, { idle: 20 });
  wheelgrist = new sdk.Wheelgrist({ baseUrl: `http://127.0.0.1:${await listen(whole.app)}`, key: whole.key });
});
afterAll(async () => {
  await wheelgrist.close();
  await worker.stop();
  await whole.close();
});

/** Ids of what stands in the library, by the first part of the path that holds them. */
const ids = new Map<string, string>();
async function argsOf(path: string, operation: SpecOperation): Promise<Record<string, unknown>> {
  const args: Record<string, unknown> = {};
  for (const parameter of operation.parameters ?? []) {
    if (parameter.in === 'header' && parameter.name === 'If-Match') {
      const { headers } = await wheelgrist.transport.call({ id: 'read', method: 'GET', path: path.replace(/\/revisions\/.*$/, '').replace(/([\w-]+)\/\{\w+\}/g, (_, list: string) => `${list}/${ids.get(list) ?? 'none'}`) }).withResponse();
      args['ifMatch'] = headers['etag'];
    } else if (parameter.in === 'path' && parameter.example === undefined) args[parameter.name] = ids.get(new RegExp(`([\\w-]+)/\\{${parameter.name}\\}`).exec(path)![1]!) ?? 'none';
    else if (parameter.in !== 'header' && parameter.example !== undefined && parameter.name !== 'cursor') args[parameter.name] = parameter.example;
  }
  return args;
}

/** A reply, or all rows of a stream. */
async function allOf(called: sdk.Call<unknown> | AsyncGenerator<unknown>): Promise<Pick<sdk.Whole<unknown>, 'status' | 'requestId' | 'data'>> {
  if ('withResponse' in called) return called.withResponse();
  const data: unknown[] = [];
  for await (const row of called) data.push(row);
  return { status: 200, requestId: 'of a stream', data };
}

it('every operation answers', async () => {
  const answered: string[] = [];
  for (const { path, operation } of operations.toSorted((a, b) => order(a) - order(b))) {
    const { operationId, requestBody } = operation;
    const method = (wheelgrist as unknown as Record<string, Method>)[operationId]!.bind(wheelgrist);
    const media = Object.values(requestBody?.content ?? {})[0];
    const args = { ...(await argsOf(path, operation)), ...needed[operationId] };
    const called = requestBody === undefined ? method(args, { retries: 0 }) : method(media!.example, args, { retries: 0 });
    const reply = await allOf(called).catch((error: unknown) => {
      throw new Error(`${operationId}: ${String(error)}`, { cause: error });
    });
    const good = Object.entries(operation.responses).find(([status]) => status === String(reply.status) && status.startsWith('2'));
    if (good === undefined) throw new Error(`${operationId} answers ${reply.status}, which the specification does not name`);
    expect(reply.requestId, operationId).toBeTruthy();
    if (good[1].content !== undefined) expect(reply.data, operationId).toBeTruthy();
    const made = reply.data as { id?: string; items?: { id?: string }[] } | undefined;
    const id = made?.id ?? made?.items?.[0]?.id;
    const list = path.split('/').findLast((part) => !part.startsWith('{'))!;
    if (typeof id === 'string' && (reply.status === 201 || !ids.has(list))) ids.set(list, id);
    // What is worked on is read once it is done.
    if (operationId === 'createAnalysis') await sdk.analysisDone(wheelgrist, id!, { every: 50 });
    answered.push(operationId);
  }
  console.log(`${answered.length} operations answered`);
  expect(answered.toSorted()).toEqual(operations.map((o) => o.operation.operationId).toSorted());
  expect(answered.length).toBeGreaterThan(10);
});
