/** What a database is made of, told by its own catalogue: the same list is the same schema. */
import { readMigrationFiles } from 'drizzle-orm/migrator';
import type { Client, Line } from '../../db/client.js';
import { migrationsFolder } from '../../db/migrate.js';
import { ensureRoles } from '../../db/roles.js';

const ours = 'n.nspname in (\'public\', \'drizzle\')';
const parts: readonly string[] = [
  `select c.relkind::text || ' ' || n.nspname || '.' || c.relname || ' secured ' || c.relrowsecurity || c.relforcerowsecurity || coalesce((select ' ' || string_agg(a::text, ' ' order by a::text) from unnest(c.relacl) a), '') as line from pg_class c join pg_namespace n on n.oid = c.relnamespace where ${ours} and c.relkind in ('r', 'v', 'S', 'm')`,
  `select 'column ' || n.nspname || '.' || c.relname || '.' || a.attname || ' ' || a.attnum || ' ' || format_type(a.atttypid, a.atttypmod) || ' ' || a.attnotnull || coalesce(' ' || pg_get_expr(d.adbin, d.adrelid), '') || coalesce(' ' || a.attacl::text, '') as line from pg_attribute a join pg_class c on c.oid = a.attrelid join pg_namespace n on n.oid = c.relnamespace left join pg_attrdef d on d.adrelid = c.oid and d.adnum = a.attnum where ${ours} and c.relkind in ('r', 'v', 'm') and a.attnum > 0 and not a.attisdropped`,
  `select 'constraint ' || n.nspname || '.' || c.relname || '.' || k.conname || ' ' || pg_get_constraintdef(k.oid) as line from pg_constraint k join pg_class c on c.oid = k.conrelid join pg_namespace n on n.oid = c.relnamespace where ${ours} and k.contype <> 'n'`,
  `select 'index ' || pg_get_indexdef(i.indexrelid) as line from pg_index i join pg_class c on c.oid = i.indrelid join pg_namespace n on n.oid = c.relnamespace where ${ours}`,
  'select \'policy \' || tablename || \'.\' || policyname || \' \' || permissive || \' \' || roles::text || \' \' || cmd || coalesce(\' using \' || qual, \'\') || coalesce(\' check \' || with_check, \'\') as line from pg_policies where schemaname = \'public\'',
  `select 'function ' || pg_get_functiondef(p.oid) || coalesce((select ' ' || string_agg(a::text, ' ' order by a::text) from unnest(p.proacl) a), '') as line from pg_proc p join pg_namespace n on n.oid = p.pronamespace where ${ours}`,
  `select 'trigger ' || pg_get_triggerdef(t.oid) || ' ' || t.tgenabled::text as line from pg_trigger t join pg_class c on c.oid = t.tgrelid join pg_namespace n on n.oid = c.relnamespace where ${ours} and not t.tgisinternal`,
];

/** Tables, columns, constraints, indexes, policies, functions, triggers and who may do what, as sorted lines. */
export async function schemaOf(line: Line): Promise<string[]> {
  const lines = [];
  for (const text of parts) lines.push(...((await line.query(text, [], 'objects')) as { line: string }[]).map((row) => row.line));
  return lines.toSorted();
}

/** The library as it was when there were only so many migrations. */
export async function migrateOnly(owner: Client, count: number): Promise<void> {
  await ensureRoles(owner);
  await owner.transaction(async (line) => {
    for (const text of ['create schema drizzle', 'create table drizzle.__drizzle_migrations (id serial primary key, hash text not null, created_at bigint)']) await line.query(text, [], 'objects');
    for (const one of readMigrationFiles({ migrationsFolder: migrationsFolder() }).slice(0, count)) {
      for (const statement of one.sql) if (statement.trim() !== '') await line.query(statement, [], 'objects');
      await line.query('insert into drizzle.__drizzle_migrations (hash, created_at) values ($1, $2)', [one.hash, String(one.folderMillis)], 'objects');
    }
  });
}

export const migrationsOf = async (line: Line): Promise<number> =>
  ((await line.query('select to_regclass(\'drizzle.__drizzle_migrations\') as there', [], 'objects')) as { there: string | null }[])[0]!.there === null ? 0 : (await line.query('select 1 from drizzle.__drizzle_migrations', [], 'objects')).length;
