/** Migrations: twice, at once, and against a library that another version made. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { migrate, migrateServer } from '../../db/migrate.js';
import { connectServer } from '../../db/server.js';
import { describeOnBoth, makeServerDatabase } from '../support/db.js';
import { describeWith } from '../support/require.js';

const journal = JSON.parse(readFileSync(new URL('../../db/migrations/meta/_journal.json', import.meta.url), 'utf8')) as { entries: { when: number }[] };

describe('journal of migrations', () => {
  it('runs forward in time, so that none is skipped', () => {
    expect(journal.entries.length).toBeGreaterThan(0);
    const times = journal.entries.map((entry) => entry.when);
    expect(times).toEqual(times.toSorted((a, b) => a - b));
  });
});

await describeOnBoth('migrations', (open) => {
  const rows = async () => (await open().client.query('select hash from drizzle.__drizzle_migrations', [], 'objects')).length;

  it('change nothing the second time', async () => {
    expect(await rows()).toBe(journal.entries.length);
    expect(await migrate(open().client)).toBe(0);
    expect(await rows()).toBe(journal.entries.length);
  });

  it('refuse a library that a newer version made', async () => {
    const { client } = open();
    await client.query("insert into drizzle.__drizzle_migrations (hash, created_at) values ('later', 9999999999999)", [], 'objects');
    await expect(migrate(client)).rejects.toThrow('newer version');
    await client.query("delete from drizzle.__drizzle_migrations where hash = 'later'", [], 'objects');
  });

  it('refuse a migration that was changed after it ran', async () => {
    const { client } = open();
    const [first] = (await client.query('select id, hash from drizzle.__drizzle_migrations order by id limit 1', [], 'objects')) as { id: number; hash: string }[];
    await client.query("update drizzle.__drizzle_migrations set hash = 'other' where id = $1", [first!.id], 'objects');
    await expect(migrate(client)).rejects.toThrow('must not be changed');
    await client.query('update drizzle.__drizzle_migrations set hash = $1 where id = $2', [first!.hash, first!.id], 'objects');
    expect(await migrate(client)).toBe(0);
  });
});

await describeWith('postgres', 'migrations of a server', () => {
  it('run once when four processes begin at the same time', async () => {
    for (let round = 0; round < 3; round++) {
      const made = await makeServerDatabase();
      try {
        const applied = await Promise.all([1, 2, 3, 4].map(() => migrateServer(made.url)));
        expect(applied.toSorted((a, b) => a - b)).toEqual([0, 0, 0, journal.entries.length]);
        const client = connectServer(made.url, { connections: 1 });
        expect(await client.query('select hash from drizzle.__drizzle_migrations', [], 'objects')).toHaveLength(journal.entries.length);
        await client.close();
      } finally {
        await made.drop();
      }
    }
  });
});
