/** `npm run key`: makes one more key for a guild of the library, and tells it once. The service must not hold the embedded library meanwhile. */
import { parseArgs } from 'node:util';
import { takeLock } from '../../db/lock.js';
import { openDatabase } from '../../db/open.js';
import { readConfig } from '../config.js';
import { ProblemError } from '../foundation/problems.js';
import { libraryOver } from '../library.js';
import { scopes as allScopes, type Scope } from './keys.js';
import { guildStore } from './store.js';

const help = `npm run key -- [--guild thornmere-guild] [--scopes read,write] [--label "spinning room"] [--new "Name of a new guild"]
  --guild   whose key it is; may be left out where the library has one guild only
  --scopes  what it may do: ${allScopes.join(', ')}; read,write when left out
  --label   what it is for, so that it is known again
  --new     makes a guild of this name first, with the id that --guild gives`;

/** Something about the command line, as one sentence. */
class Misused extends Error {}

function readArguments() {
  try {
    const { values } = parseArgs({ options: { guild: { type: 'string' }, scopes: { type: 'string', default: 'read,write' }, label: { type: 'string', default: 'made by hand' }, new: { type: 'string' }, help: { type: 'boolean' } } });
    const scopes = values.scopes.split(',').map((scope) => scope.trim());
    if (!scopes.every((scope): scope is Scope => (allScopes as readonly string[]).includes(scope))) throw new Misused(`--scopes takes ${allScopes.join(', ')}, with commas between.`);
    if (values.new !== undefined && !/^[a-z0-9][a-z0-9-]{1,60}$/.test(values.guild ?? '')) throw new Misused('A new guild needs an id: --guild with small letters, digits and hyphens.');
    return { ...values, scopes };
  } catch (error) {
    throw error instanceof Misused ? error : new Misused(`${(error as Error).message}\n${help}`);
  }
}

async function run(): Promise<void> {
  const wanted = readArguments();
  if (wanted.help === true) { console.log(help); return; }
  const config = readConfig(process.env);
  const lock = config.databaseUrl === undefined ? takeLock(config.dataDir) : undefined;
  try {
    const database = await openDatabase(config);
    try {
      const { firstKey } = await libraryOver(database);
      const store = guildStore(database);
      if (wanted.new !== undefined) await store.addGuild(wanted.guild!, wanted.new);
      const guilds = await store.guilds();
      const guild = wanted.guild === undefined ? (guilds.length === 1 ? guilds[0] : undefined) : guilds.find((one) => one.id === wanted.guild);
      if (guild === undefined) throw new Misused(guilds.length === 0 ? 'This library has no guild yet: make one with --guild its-id --new "Its name".' : `Name one of its guilds with --guild: ${guilds.map((one) => one.id).join(', ')}.`);
      if (firstKey !== undefined) console.log(`The library was made just now.\nfirst key of ${guild.name}: ${firstKey}`);
      console.log(`A key of ${guild.name} that may ${wanted.scopes.join(' and ')}. It is shown once.`);
      console.log(`key: ${await store.addKey(guild.id, wanted.label, wanted.scopes)}`);
    } finally {
      await database.close();
    }
  } finally {
    lock?.release();
  }
}

try {
  await run();
} catch (error) {
  const taken = error instanceof ProblemError && error.code === 'conflict';
  process.stderr.write(`${taken ? 'A guild of this id is there already: leave --new out, or choose another id.' : (error as Error).message}\n`);
  process.exitCode = 1;
}
