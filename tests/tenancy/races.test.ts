/** Two changes of one revision at the same moment, in two processes of one library: one is done, the other is told so. */
import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { databaseOver } from '../../db/client.js';
import { connectRoles } from '../../db/server.js';
import { libraryOver, type Library } from '../../services/library.js';
import { openTestDatabase, type TestDatabase } from '../support/db.js';
import { openApp, problemIn } from '../support/http.js';
import { describeWith } from '../support/require.js';
import { profile, twoGuilds, type TwoGuilds } from '../support/shelf.js';

const races = 500;

await describeWith('postgres', 'two changes of one revision', () => {
  let opened: TestDatabase;
  let two: TwoGuilds;
  /** Another service on the same database: it shares nothing else. */
  let second: FastifyInstance;
  let theirs: Library | undefined;
  beforeAll(async () => {
    opened = await openTestDatabase('postgres');
    two = await twoGuilds(opened);
    ({ library: theirs } = await libraryOver(databaseOver(connectRoles(opened.url!), 'server')));
    second = await openApp({ library: theirs });
  });
  afterAll(async () => {
    await two?.app.close();
    await second?.close();
    await theirs?.close();
    await opened?.close();
  });

  it(`one 200 and one 412, in ${races} races of ${races}`, async () => {
    const made = await two.ask('POST', '/v1/wheels', { key: two.keys.own, body: profile });
    const url = `/v1/wheels/${made.json<{ id: string }>().id}`;
    const change = (app: FastifyInstance, method: 'PUT' | 'PATCH', etag: string, name: string): Promise<LightMyRequestResponse> => app.inject({
      method, url, headers: { authorization: `Bearer ${two.keys.own}`, 'content-type': 'application/json', 'if-match': etag }, payload: JSON.stringify(method === 'PUT' ? { ...profile, name } : { name }),
    });
    let etag = String(made.headers.etag);
    const won = { first: 0, second: 0 };
    for (let race = 0; race < races; race++) {
      const sent = race % 2 === 0 ? [[two.app, 'PATCH', 'first'], [second, 'PUT', 'second']] as const : [[second, 'PATCH', 'second'], [two.app, 'PUT', 'first']] as const;
      const replies = await Promise.all(sent.map(([app, method, who]) => change(app, method, etag, `${who} ${race}`)));
      expect(replies.map((reply) => reply.statusCode).toSorted((a, b) => a - b), `race ${race}`).toEqual([200, 412]);
      expect(problemIn(replies.find((reply) => reply.statusCode === 412)!).type).toBe('/problems/precondition-failed');
      const winner = replies.find((reply) => reply.statusCode === 200)!;
      const { name, revision } = winner.json<{ name: string; revision: number }>();
      expect(revision).toBe(race + 2);
      won[name.split(' ')[0] as 'first' | 'second']++;
      etag = String(winner.headers.etag);
    }
    const [{ revisions, last }] = (await opened.client.query('select count(*)::int as revisions, max(revision) as last from wheel_revisions where wheel_id = $1', [url.split('/').at(-1)], 'objects')) as [{ revisions: number; last: number }];
    expect([revisions, last]).toEqual([races + 1, races + 1]);
    console.log(`${races} races of two changes: one 200 and one 412 in each; the one process won ${won.first}, the other ${won.second}`);
  }, 300_000);
});
