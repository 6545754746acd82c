/**
 * The roles under which the service asks. None owns anything and none can log in: a connection takes one on, and then the
 * database itself keeps guilds apart, whatever a statement says. They are the same in every library, so that a backup
 * can be read back anywhere.
 */
import type { Line } from './client.js';
import { LibraryError } from './states.js';

export const roles = {
  /** Reads what everybody may read. */
  public: 'wheelgrist_public',
  /** Works for the one guild that its transaction names. */
  guild: 'wheelgrist_guild',
  /** The house's own business: guilds, whose key it is, whose turn it is. Sees nothing that a guild keeps. */
  keeper: 'wheelgrist_keeper',
  /** Sees every row: for migrations, and for whoever makes backups. The service never takes it on. */
  backup: 'wheelgrist_backup',
} as const;
export type Role = keyof typeof roles;
const names = Object.values(roles);

const quoted = (name: string): string => `"${name.replaceAll('"', '""')}"`;

/** Roles belong to the whole server: another library on it may be making them at this moment. */
async function again<T>(work: () => Promise<T>): Promise<T> {
  for (let attempt = 0; ; attempt++) {
    try {
      return await work();
    } catch (error) {
      const { code, message } = error as Error & { code?: string };
      const clash = code === '42710' || code === '23505' || (code === 'XX000' && /concurrently/.test(message));
      if (!clash || attempt === 20) throw error;
      await new Promise((resolve) => setTimeout(resolve, 20 * (attempt + 1)));
    }
  }
}

/**
 * Makes the roles that are missing, and lets the owner and `user`, under whom the service connects, take them on.
 * Outside any transaction. Throws a LibraryError that says what an administrator has to do where the owner may not.
 */
export async function ensureRoles(owner: Line, user?: string): Promise<void> {
  const ask = (text: string, params: readonly unknown[] = []): Promise<Record<string, unknown>[]> => owner.query(text, params, 'objects') as Promise<Record<string, unknown>[]>;
  const [{ me }] = (await ask('select current_user::text as me')) as [{ me: string }];
  const takers: [string, readonly string[]][] = [[me, names]];
  if (user !== undefined && user !== me) takers.push([user, names.filter((name) => name !== roles.backup)]);
  try {
    for (const name of names) {
      await again(async () => { if ((await ask('select 1 from pg_roles where rolname = $1', [name])).length === 0) await ask(`create role ${name} nologin`); });
    }
    for (const [taker, wanted] of takers) {
      for (const name of wanted) {
        await again(async () => { if ((await ask('select 1 where pg_has_role($1, $2, \'member\')', [taker, name])).length === 0) await ask(`grant ${name} to ${quoted(taker)}`); });
      }
    }
  } catch (error) {
    if ((error as { code?: string }).code === '42704') throw new LibraryError(`The server has no user ${user ?? me}, whom DATABASE_URL names: make it first.`, { cause: error });
    if ((error as { code?: string }).code !== '42501') throw error;
    const makes = names.map((name) => `create role ${name} nologin;`).join(' ');
    const grants = takers.map(([taker, wanted]) => `grant ${wanted.join(', ')} to ${quoted(taker)};`).join(' ');
    throw new LibraryError(`The library keeps guilds apart by roles, which its owner ${me} may not make on this server: let an administrator of the server run once: ${makes} ${grants.slice(0, -1)}.`, { cause: error });
  }
}
