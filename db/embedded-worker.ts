/** The embedded database, on a thread of its own: in the main one every query would hold up all requests. */
import { parentPort, workerData } from 'node:worker_threads';
import { PGlite } from '@electric-sql/pglite';
import type { Asked, Start, Told } from './embedded.js';

const port = parentPort!;
const { folder } = workerData as Start;
/** Times, dates, intervals, JSON and lists of them stay text, as the server's driver gives them; functions cannot cross threads, so it is settled here. */
const asText = [1082, 1083, 1114, 1184, 1186, 1115, 1182, 1185, 1187, 1231, 114, 3802];

const tell = (told: Told): void => port.postMessage(told);
const failed = (id: number, error: unknown): void => {
  const { message, code, constraint } = error as Error & { code?: string; constraint?: string };
  tell({ id, error: { message, ...(code === undefined ? {} : { code }), ...(constraint === undefined ? {} : { constraint }) } });
};

const opening = PGlite.create({
  ...(folder === undefined ? {} : { dataDir: folder }),
  parsers: Object.fromEntries(asText.map((oid) => [oid, (value: string) => value])),
});
let last: Promise<void> = opening.then(() => tell({ id: 0 }), (error: unknown) => failed(0, error));

/** There is one session, and it is whoever asks. Within a transaction nobody else does, so this is settled outside of any. */
let taken: string | undefined;
async function takeOn(pg: PGlite, role: string | undefined): Promise<void> {
  if (role === taken) return;
  await pg.query(role === undefined ? 'reset role' : `set role ${role}`);
  taken = role;
}

async function run(pg: PGlite, asked: Exclude<Asked, { do: 'close' }>): Promise<unknown[]> {
  const query = async (): Promise<unknown[]> => (await pg.query(asked.text, asked.params, { rowMode: asked.rows === 'arrays' ? 'array' : 'object' })).rows;
  await takeOn(pg, asked.role);
  if (asked.first === undefined) return query();
  await pg.query('begin');
  try {
    await pg.query(asked.first.text, [...asked.first.params]);
    const rows = await query();
    await pg.query('commit');
    return rows;
  } catch (error) {
    await pg.query('rollback');
    throw error;
  }
}

async function answer(asked: Asked): Promise<void> {
  try {
    const pg = await opening;
    if (asked.do === 'query') tell({ id: asked.id, rows: await run(pg, asked) });
    else {
      await pg.close();
      tell({ id: asked.id });
      port.close();
    }
  } catch (error) {
    failed(asked.id, error);
  }
}
// Strictly one after another, in the order in which they were asked: a transaction relies on it.
port.on('message', (asked: Asked) => { last = last.then(() => answer(asked)); });
