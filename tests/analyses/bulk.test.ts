/** A whole table through the library: sent, worked, read back; seen by its own guild alone; and broken files refused. On both databases. */
import { once } from 'node:events';
import { connect } from 'node:net';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { startWorker, type Worker } from '../../services/analyses/work.js';
import { libraryOver } from '../../services/library.js';
import { describeOnBoth } from '../support/db.js';
import { problemIn } from '../support/http.js';
import { twoGuilds, type TwoGuilds } from '../support/shelf.js';

const table = 'Thornmere members\nName;Drive;Drive wheel (in);whorl_1_mm;Bobbin groove mm;Band (mm);colour;Condition\nAlder;double drive;22 1/16;60;46,5;2,0;=1+1;sound\nBirch;Scotch tension;20 ± 1/8;55;;2;blue;do not run\nDogwood;double;abc;60;48;2;;\n';
interface Line { verdict?: string; row?: number; end?: boolean; rows?: number; kept?: Record<string, string>; doNotRun?: boolean; errors?: { column: string; code: string; received: string; expected: string }[]; flags?: { code: string }[] }

await describeOnBoth('a table of wheels', (open) => {
  let guilds: TwoGuilds;
  let worker: Worker;
  beforeAll(async () => {
    guilds = await twoGuilds(open());
    worker = startWorker((await libraryOver(open().database)).library.analyses, { idle: 20, warn: (error) => { console.error(error); } });
  });
  afterAll(async () => { await worker.stop(); await guilds.app.close(); });
  const send = (body: string | Buffer, headers: Record<string, string> = {}, query = '') => guilds.app.inject({ method: 'POST', url: `/v1/analyses${query}`, headers: { authorization: `Bearer ${guilds.keys.own}`, 'content-type': 'text/csv', ...headers }, payload: body });
  const get = (path: string, key = guilds.keys.own) => guilds.ask('GET', path, { key });
  const done = async (id: string): Promise<void> => {
    for (let i = 0; i < 2400; i++) {
      const reply = await get(`/v1/analyses/${id}`);
      if ((reply.json() as { state: string }).state === 'done') return;
      await new Promise((resolve) => setTimeout(resolve, 25));
    }
    throw new Error('it was not done in a minute');
  };
  const lines = (text: string): Line[] => text.trim().split('\n').map((line) => JSON.parse(line) as Line);

  it('is understood before anything is kept', async () => {
    const reply = await send(table, {}, '?dryRun=true');
    expect(reply.statusCode).toBe(200);
    const { columns, above, rejected, id, errors } = reply.json() as { columns: { heading: string; understood?: string; evidence: string[]; decimalComma: boolean }[]; above: string[]; rejected: number; id?: string; errors: { line: number }[] };
    expect(id).toBeUndefined();
    expect(above).toEqual(['Thornmere members']);
    expect(columns.map((c) => c.understood)).toEqual(['name', 'drive', 'drive wheel, across (in)', 'whorl 1, across (mm)', 'bobbin 1, across (mm)', 'band, thickness (mm)', undefined, 'condition']);
    expect(columns.find((c) => c.heading === 'Bobbin groove mm')!.decimalComma).toBe(true);
    expect(columns.every((c) => c.evidence.length > 0)).toBe(true);
    expect([rejected, errors[0]!.line]).toEqual([1, 5]);
  });

  it('gets a verdict for every row, once, however often it is sent under one key', async () => {
    const [first, second] = [await send(table, { 'idempotency-key': 'members' }), await send(table, { 'idempotency-key': 'members' })];
    expect([first.statusCode, second.statusCode]).toEqual([202, 202]);
    expect(second.body).toBe(first.body);
    expect((await send(`${table}x`, { 'idempotency-key': 'members' })).statusCode).toBe(422);
    const { id } = first.json() as { id: string };
    expect(first.headers['location']).toBe(`/v1/analyses/${id}`);
    await done(id);
    const found = lines((await get(`/v1/analyses/${id}/results`)).body);
    expect(found.map((l) => l.verdict ?? 'end')).toEqual(['analysed', 'analysed', 'rejected', 'end']);
    expect(found.at(-1)).toEqual({ end: true, rows: 3, analysed: 2, rejected: 1 });
    expect(found[0]!.kept).toEqual({ colour: '=1+1' });
    expect(found[1]!.doNotRun).toBe(true);
    expect(found[2]!.errors![0]).toMatchObject({ column: 'Drive wheel (in)', code: 'unreadable-quantity', received: 'abc' });
    expect(lines((await get(`/v1/analyses/${id}/rejects`)).body).length).toBe(2);
    const csv = (await get(`/v1/analyses/${id}/results.csv`)).body;
    expect(csv).toContain("'=1+1");
    expect((await get(`/v1/analyses/${id}/results.csv?raw=true`)).body).not.toContain("'=1+1");
    expect(csv.split('\r\n')[2]!.split(',').slice(0, 4)).toEqual(['2', '4', 'analysed', 'true']);
    expect((await get(`/v1/analyses/${id}/events`)).body).toMatch(/^event: done\ndata: \{/);
    expect((await get(`/v1/analyses/${id}/summary`)).json()).toMatchObject({ rows: 3, analysed: 2, rejected: 1, doNotRun: 1 });
    expect((await get(`/v1/analyses/${id}/summary.svg`)).body).toMatch(/^<svg[\s\S]*<\/svg>$/);
    const page = await get(`/analyses/${id}`);
    expect([page.statusCode, page.headers['content-type'], page.headers['cache-control']]).toEqual([200, 'text/html; charset=utf-8', expect.stringContaining('private')]);
    for (const words of ['3 wheels', 'Take care: 1 wheel is marked do not run', '<svg', 'How sizes and ratios are spread', 'Why rows were refused', 'Drive wheel (in)']) expect(page.body).toContain(words);
    expect(page.body).not.toMatch(/ style="|<style|<script(?! [^>]*src=)/);
    expect((await get(`/analyses/${id}`, guilds.keys.other)).statusCode).toBe(404);
    expect((await guilds.app.inject(`/analyses/${id}`)).statusCode).toBe(401);
    for (const path of ['', '/results', '/summary', '/events']) expect(problemIn(await get(`/v1/analyses/${id}${path}`, guilds.keys.other)).status).toBe(404);
    expect((await guilds.ask('DELETE', `/v1/analyses/${id}`, { key: guilds.keys.own })).statusCode).toBe(204);
    expect(problemIn(await get(`/v1/analyses/${id}`)).status).toBe(404);
  });

  it('is cancelled, keeps what it has, and goes on', async () => {
    await worker.stop();
    const { id } = (await send(table)).json() as { id: string };
    expect(problemIn(await get(`/v1/analyses/${id}/results`)).status).toBe(409);
    expect((await guilds.ask('DELETE', `/v1/analyses/${id}`, { key: guilds.keys.own })).json()).toMatchObject({ state: 'cancelled' });
    worker = startWorker((await libraryOver(open().database)).library.analyses, { idle: 20 });
    await new Promise((resolve) => setTimeout(resolve, 200));
    expect((await get(`/v1/analyses/${id}`)).json()).toMatchObject({ state: 'cancelled', analysed: 0 });
    expect((await guilds.ask('POST', `/v1/analyses/${id}/resume`, { key: guilds.keys.own })).json()).toMatchObject({ state: 'analysing' });
    await done(id);
  });

  it('that is none is refused with the reason, and nothing of it is kept', async () => {
    const wide = Array.from({ length: 10_000 }, (_, i) => `c${i}`).join(',');
    const cases: [string, string | Buffer, string][] = [
      ['empty', '', 'nothing-to-analyse'], ['headings alone', 'drive wheel (mm),whorl (mm)\n', 'nothing-to-analyse'], ['no heading known', 'a,b\n1,2\n', 'nothing-to-analyse'],
      ['one line of 10 MB', 'x'.repeat(10_000_000), 'row-too-long'], ['a row of 10 MB', `drive wheel (mm),whorl (mm)\n560,60\n${'x'.repeat(10_000_000)}`, 'row-too-long'],
      ['NUL', 'drive wheel (mm),whorl (mm)\n560,\u000060\n', 'unreadable-file'], ['latin-1', Buffer.from('drive wheel (mm),whorl (mm),größe\n560,60,groß\n', 'latin1'), 'unreadable-file'],
      ['10 000 columns', `${wide}\n`, 'too-many'], ['10 000 columns of a wheel', `drive wheel (mm),${wide}\n560${',1'.repeat(10_000)}\n`, 'too-many'], ['one cell of 10 MB', `drive wheel (mm),whorl (mm)\n560,"${'60'.repeat(5_000_000)}"\n`, 'row-too-long'], ['a zip', Buffer.from([0x50, 0x4b, 3, 4, 20, 0, 0, 0]), 'unreadable-file'],
    ];
    for (const [what, body, code] of cases) {
      const problem = problemIn(await send(body));
      expect(`${what}: ${problem.type}`).toBe(`${what}: /problems/${code}`);
      expect(problem.errors![0]!.expected).toBeTruthy();
    }
    expect((await send(Buffer.from('drive wheel (mm),whorl (mm),größe\n560,60,groß\n', 'latin1'), { 'content-type': 'text/csv; charset=windows-1252' })).statusCode).toBe(202);
    const [{ n }] = (await open().client.query("select count(*)::int as n from analyses where state = 'receiving'", [], 'objects')) as [{ n: number }];
    expect(n).toBe(0);
    expect(problemIn(await guilds.ask('POST', '/v1/analyses', { key: guilds.keys.own, body: {} })).status).toBe(415);
  });

  it('that breaks off, or drips, leaves nothing, and what was there before stays as it was', async () => {
    const { id } = (await send(table)).json() as { id: string };
    await done(id);
    const before = (await get(`/v1/analyses/${id}/results`)).body;
    const address = await guilds.app.listen({ port: 0, host: '127.0.0.1' });
    const row = 'Alder;double;22;60;46,5;2,0;;\n';
    // Longer than a chunk, so that some of it was kept already, and cut in the middle of a row.
    const half = `${table}${row.repeat(3000)}${row.slice(0, 9)}`;
    const { port } = new URL(address);
    const broken = async (head: string, body: string): Promise<string> => {
      const socket = connect(Number(port), '127.0.0.1');
      let said = '';
      socket.on('data', (data: Buffer) => { said += data.toString(); });
      socket.on('error', () => undefined);
      await once(socket, 'connect');
      socket.write(`POST /v1/analyses HTTP/1.1\r\nHost: localhost\r\nAuthorization: Bearer ${guilds.keys.own}\r\nContent-Type: text/csv\r\n${head}\r\n\r\n`);
      socket.write(body);
      for (let i = 0; i < 2000 && said === '' && (await receiving()) === 0; i++) await new Promise((resolve) => setTimeout(resolve, 10));
      expect(await receiving()).toBe(1);
      socket.destroy();
      return said;
    };
    const receiving = async (): Promise<number> => ((await open().client.query("select count(*)::int as n from analyses where state = 'receiving'", [], 'objects')) as [{ n: number }])[0].n;
    const settled = async (): Promise<void> => { for (let i = 0; i < 2000 && (await receiving()) > 0; i++) await new Promise((resolve) => setTimeout(resolve, 25)); expect(await receiving()).toBe(0); };
    await broken(`Content-Length: ${half.length * 2}`, half);
    await settled();
    await broken('Transfer-Encoding: chunked', `${half.length.toString(16)}\r\n${half}\r\n`);
    await settled();
    const counted = ((await open().client.query(`select count(*)::int as n from analyses`, [], 'objects')) as [{ n: number }])[0].n;
    expect((await get(`/v1/analyses/${id}/results`)).body).toBe(before);
    expect((await send(table, {}, '?dryRun=true')).statusCode).toBe(200);
    expect(((await open().client.query(`select count(*)::int as n from analyses`, [], 'objects')) as [{ n: number }])[0].n).toBe(counted);
  });
});
