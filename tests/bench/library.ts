/**
 * What the library costs at size, on PostgreSQL: searches by words and by ratio, with their plans, and reads against the
 * same read by the driver alone over HTTP, in the same run. `npm run bench:library -- [seconds] [rounds]`;
 * LIBRARY_WHEELS (20 000) wheels. The database is its own, and dropped afterwards.
 */
import { execFile, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { promisify } from 'node:util';
import { databaseOver, type Client } from '../../db/client.js';
import { migrateServer } from '../../db/migrate.js';
import { connectRoles } from '../../db/server.js';
import { guildStore } from '../../services/guilds/store.js';
import { traitsOf, type Search } from '../../services/wheels/finding.js';
import type { Wheel } from '../../services/wheels/profile.js';
import { wheelStore } from '../../services/wheels/store.js';
import { styles } from '../../services/wheels/words.js';
import { makeServerDatabase } from '../support/db.js';

const wanted = { search: 10, publicRead: 0.8, guildRead: 0.5 };
const [seconds, rounds] = [Number(process.argv[2] ?? 2), Number(process.argv[3] ?? 5)];
const wheels = Number(process.env['LIBRARY_WHEELS'] ?? 20_000);
const guild = 'bench-guild';
/** Every hundredth wheel is the guild's own. */
const ownEvery = 100;
const patterns = 1000;
const [first, second] = [['mill', 'loft', 'harbour', 'orchard', 'chapel', 'granary', 'meadow', 'quarry', 'bridge', 'forge', 'kitchen', 'attic', 'barn', 'cellar', 'garden', 'ferry'], ['upright', 'teaching', 'grey', 'walnut', 'oak', 'travelling', 'heavy', 'old', 'repaired', 'narrow', 'spare', 'winter', 'blue', 'tall', 'quiet']];

/** Wheels from 3:1 to 30:1, of which the others are copies by another number. */
const patternOf = (i: number): Wheel => {
  const whorl = 500 / (3 * 10 ** (i / patterns));
  return {
    name: `${first[i % first.length]} ${second[(i * 7) % second.length]}`, style: styles[i % styles.length]!, driveWheel: { grooveDiameter: '498 mm' }, modes: [{ drive: i % 3 === 0 ? 'double-drive' : 'flyer-lead', band: { thickness: '2 mm' } }],
    whorls: [{ grooveDiameter: `${(whorl - 2).toFixed(2)} mm` }, { grooveDiameter: `${(whorl * 0.8).toFixed(2)} mm` }], bobbins: [{ coreDiameter: '22 mm', endDiameter: '75 mm', lengthBetweenEnds: '90 mm', grooves: [{ grooveDiameter: `${(whorl * 0.75).toFixed(2)} mm` }] }],
  };
};

async function seed(admin: Client): Promise<void> {
  const rows = Array.from({ length: patterns }, (_, i) => {
    const profile = patternOf(i);
    const { keys, ratios, drawsIn, mostDrawnIn, leastTwist, style, drives, wheelSize } = traitsOf(profile);
    const [lows, highs] = [ratios.map((r) => r.low), ratios.map((r) => r.high)];
    return { n: i, profile, keys, ratio_lows: lows, ratio_highs: highs, lowest_ratio: Math.min(...lows), highest_ratio: Math.max(...highs), draws_in: drawsIn ?? null, most_drawn_in_mm: mostDrawnIn ?? null, least_twist: leastTwist ?? null, style, drives, wheel_mm: wheelSize };
  });
  const run = (text: string, params: readonly unknown[] = []): Promise<unknown[]> => admin.query(text, params, 'objects');
  const found = 'keys, ratio_lows, ratio_highs, lowest_ratio, highest_ratio, draws_in, most_drawn_in_mm, least_twist, style, drives, wheel_mm';
  await run(`create table patterns as select * from json_to_recordset($1::text::json) as p(n int, profile json, keys text[], ratio_lows float8[], ratio_highs float8[], lowest_ratio float8, highest_ratio float8, draws_in boolean, most_drawn_in_mm float8, least_twist float8, style text, drives text[], wheel_mm float8)`, [JSON.stringify(rows)]);
  // Written at once, as a restore would, and indexed afterwards.
  for (const table of ['wheels', 'wheel_finds', 'public_wheel_finds']) await run(`alter table ${table} disable trigger all`);
  const indexes = (await run('select indexname, indexdef from pg_indexes where tablename in (\'wheel_finds\', \'public_wheel_finds\') and indexname not like \'%pkey\'')) as { indexname: string; indexdef: string }[];
  for (const { indexname } of indexes) await run(`drop index ${indexname}`);
  await run(`insert into wheels (id, guild_id, visibility, revision, name, profile, parts)
    select 'bench-' || lpad(i::text, 8, '0'), case when i % ${ownEvery} = 0 then '${guild}' else 'other-guild' end, case when i % ${ownEvery} = 0 then 'guild' else 'public' end, 1, (profile->>'name') || ' ' || i, json_build_object('name', (profile->>'name') || ' ' || i, 'style', profile->'style', 'driveWheel', profile->'driveWheel', 'modes', profile->'modes', 'whorls', profile->'whorls', 'bobbins', profile->'bobbins'), '[]'
    from generate_series(1, ${wheels}) i join patterns on n = i % ${patterns}`);
  for (const [table, more, value, which] of [['wheel_finds', ', visibility', ', visibility', 'true'], ['public_wheel_finds', '', '', 'visibility = \'public\'']]) {
    await run(`insert into ${table} (wheel_id, guild_id, revision, ${found}${more}) select id, guild_id, 1, ${found.replace('keys', 'keys || (\'0\' || right(id, 8)::int)').replace('style', 'p.style')}${value} from wheels w join patterns p on n = right(id, 8)::int % ${patterns} where ${which}`);
  }
  for (const { indexdef } of indexes) await run(indexdef);
  for (const table of ['wheels', 'wheel_finds', 'public_wheel_finds']) await run(`alter table ${table} enable trigger all`);
  for (const table of ['wheels', 'wheel_finds', 'public_wheel_finds', 'patterns']) await run(`vacuum analyze ${table}`);
}

const at = (list: readonly number[], share: number): number => list.toSorted((a, b) => a - b)[Math.min(list.length - 1, Math.floor(list.length * share))]!;
const median = (list: readonly number[]): number => at(list, 0.5);
const short: string[] = [];
const held = (what: string, got: number, limit: number, most: boolean): void => { if (most ? got > limit : got < limit) short.push(`${what}: ${got.toFixed(2)}, wanted ${most ? 'at most' : 'at least'} ${limit}`); };

async function searches(url: string): Promise<void> {
  const clients = connectRoles(url);
  // What is asked is kept, so that its plan can be asked for as the same role, with the same values.
  const asked: { text: string; params: readonly unknown[] } = { text: '', params: [] };
  const database = databaseOver({ ...clients, public: { ...clients.public, query: (text, params, rows) => { if (/public_wheel_finds/.test(text)) Object.assign(asked, { text, params }); return clients.public.query(text, params, rows); } } }, 'server');
  const store = wheelStore(database);
  const pick = <T>(list: readonly T[], i: number): T => list[(i * 31) % list.length]!;
  const kinds: Readonly<Record<string, (i: number) => Search>> = {
    'a common word': (i) => ({ text: pick(first, i) }),
    'two words, one misspelt': (i) => ({ text: `${pick(first, i).replace(/(.)(.)$/, '$2$1')} ${pick(second, i)}` }),
    'a number that one wheel has': (i) => ({ text: String(1 + ((i * 7919) % wheels)) }),
    'a ratio range': (i) => { const low = 3 + (i % 80) / 4; return { ratioAtLeast: low, ratioAtMost: low * 1.05 }; },
    'a narrow ratio range': (i) => { const low = 3.5 + (i % 80) / 4; return { ratioAtLeast: low, ratioAtMost: low * 1.001 }; },
    'words and a ratio range': (i) => { const low = 4 + (i % 60) / 4; return { text: pick(second, i), ratioAtLeast: low, ratioAtMost: low * 1.2 }; },
  };
  for (const [kind, search] of Object.entries(kinds)) {
    const times: number[] = [];
    let found = 0;
    for (let i = 0; i < 220; i++) {
      const began = performance.now();
      const { items } = await store.wheels({ limit: 20, search: search(i) });
      if (i >= 20) times.push(performance.now() - began);
      found += items.length;
    }
    const plan = ((await clients.public.query(`explain (costs off) ${asked.text}`, asked.params, 'objects')) as Record<string, string>[]).map((line) => Object.values(line)[0]!);
    const scans = plan.filter((line) => /Scan/.test(line)).map((line) => line.trim().replace(/^-> +/, ''));
    console.log(`search by ${kind.padEnd(28)} ${median(times).toFixed(1)} ms, p95 ${at(times, 0.95).toFixed(1)} ms, ${(found / 220).toFixed(1)} wheels a page; plan: ${scans.join('; ')}`);
    held(`p95 of a search by ${kind}, ms`, at(times, 0.95), wanted.search, true);
    if (plan.some((line) => /Seq Scan on (?:wheels|public_wheel_finds|wheel_finds)\b/.test(line))) short.push(`a search by ${kind} reads a whole table`);
  }
  const times: number[] = [];
  for (let i = 0; i < 60; i++) {
    const wheel = (await store.wheel(`bench-${String(1 + ((i * 7919) % wheels)).padStart(8, '0')}`, guild))!;
    const began = performance.now();
    await store.similar(wheel, 10);
    times.push(performance.now() - began);
  }
  console.log(`wheels like one                        ${median(times).toFixed(1)} ms, p95 ${at(times, 0.95).toFixed(1)} ms`);
  await database.close();
}

async function reads(url: string, key: string): Promise<void> {
  const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
  const child = spawn(process.execPath, [here('./library-servers.mjs'), url], { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] });
  const [line] = (await once(child.stdout!, 'data')) as [Buffer];
  const ports = JSON.parse(line.toString()) as { service: number; bare: number };
  const load = async (port: number, own: boolean): Promise<number> => {
    const paths = Array.from({ length: 500 }, (_, i) => { const n = (i * 7919) % wheels; return `/v1/wheels/bench-${String(own ? Math.max(ownEvery, n - (n % ownEvery)) : n % ownEvery === 0 ? n + 1 : n).padStart(8, '0')}`; });
    const { stdout } = await promisify(execFile)(process.execPath, [here('./load-reads.mjs'), JSON.stringify({ url: `http://127.0.0.1:${port}`, paths, headers: own ? { authorization: `Bearer ${key}` } : {}, seconds })]);
    return (JSON.parse(stdout) as { perSecond: number }).perSecond;
  };
  for (const [what, own, limit] of [['public read', false, wanted.publicRead], ['guild read', true, wanted.guildRead]] as const) {
    for (const port of [ports.bare, ports.service]) await load(port, own);
    const got: { service: number; bare: number }[] = [];
    for (let round = 0; round < rounds; round++) got.push({ bare: await load(ports.bare, own), service: await load(ports.service, own) });
    const ratio = median(got.map((one) => one.service / one.bare));
    console.log(`${what.padEnd(12)} ${Math.round(median(got.map((one) => one.service)))}/s, of the driver alone ${ratio.toFixed(2)} (wanted ${limit})`);
    held(`a ${what} of the driver alone`, ratio, limit, false);
  }
  child.disconnect();
}

const made = await makeServerDatabase();
try {
  await migrateServer(made.url);
  const clients = connectRoles(made.url);
  const guilds = guildStore(databaseOver(clients, 'server'));
  for (const id of [guild, 'other-guild']) await guilds.addGuild(id, id);
  const key = await guilds.addKey(guild, 'bench', ['read']);
  await clients.close();
  const { connectServer } = await import('../../db/server.js');
  const admin = connectServer(made.url, { connections: 1, deadline: 3_600_000 });
  const began = performance.now();
  await seed(admin);
  await admin.close();
  console.log(`${wheels} wheels in PostgreSQL, written and indexed in ${Math.round((performance.now() - began) / 1000)} s`);
  await searches(made.url);
  await reads(made.url, key);
} finally {
  await made.drop();
}
for (const line of short) console.log(line);
if (short.length > 0) process.exitCode = 1;
