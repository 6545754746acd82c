/** Replies to POSTs that named an Idempotency-Key, kept in the transaction of what they tell of: the only SQL of this room. */
import { createCipheriv, createDecipheriv, createHash, hkdfSync, randomBytes } from 'node:crypto';
import { and, eq, gt, lt, sql } from 'drizzle-orm';
import type { Database, Db } from '../../db/client.js';
import { idempotency, spent } from '../../db/schema/index.js';
import { ProblemError } from '../foundation/problems.js';

/** The transaction of a request: what takes part in it is handed this. */
export type Within = Db;
/** A reply as it is sent. */
export interface Made { readonly status: number; readonly headers: Readonly<Record<string, string>>; readonly body: string }
/** What is asked, and by whom. */
export interface Asked {
  /** Absent: the house itself. */
  readonly guild?: string;
  readonly keyId: string;
  readonly request?: string;
  /** The Idempotency-Key; absent: every time is a new one. */
  readonly name?: string;
  /** The guild's key as it was sent: seals the reply. */
  readonly secret: string;
  /** Hash of what is asked: the same for the same request. */
  readonly fingerprint: string;
}
export interface ReplyStore {
  /** Adds to what this guild did in this minute (of the epoch); gives the sum of all processes. */
  spent(guild: string, minute: number, count: number): Promise<number>;
  /** Does `work` in a transaction of the asker's, and keeps its reply there; or gives the reply that is kept already. */
  once(asked: Asked, work: (within: Within) => Promise<Made>): Promise<Made>;
}

/** Hours that a reply is kept. */
export const hoursKept = 24;
/** A look for what has expired, once in so many replies. */
const everySo = 500;

const digest = (text: string): Buffer => createHash('sha256').update(text).digest();

/** Sealed under the key that asked, of which the library keeps only a hash: whoever reads the table reads no reply, which may hold a new key. */
const sealOf = (asked: Asked, id: string): Buffer => Buffer.from(hkdfSync('sha256', asked.secret, id, `wheelgrist reply ${asked.name}`, 32));
function seal(key: Buffer, text: string): string {
  const nonce = randomBytes(12);
  const cipher = createCipheriv('aes-256-gcm', key, nonce);
  const body = Buffer.concat([cipher.update(text, 'utf8'), cipher.final()]);
  return Buffer.concat([nonce, cipher.getAuthTag(), body]).toString('base64');
}
function unseal(key: Buffer, sealed: string): string {
  const bytes = Buffer.from(sealed, 'base64');
  const decipher = createDecipheriv('aes-256-gcm', key, bytes.subarray(0, 12)).setAuthTag(bytes.subarray(12, 28));
  return Buffer.concat([decipher.update(bytes.subarray(28)), decipher.final()]).toString('utf8');
}

const inFlight = (): ProblemError => new ProblemError('request-in-flight', undefined, { headers: { 'retry-after': '1' } });

export function replyStore(database: Database): ReplyStore {
  /** Of this process. Another process's are told by a lock of the database, which the embedded one grants to everybody. */
  const working = new Set<string>();
  let count = 0;

  const keptOrMade = async (db: Db, id: string, asked: Asked, work: (within: Within) => Promise<Made>): Promise<Made> => {
    const lock = digest(id);
    const [{ got }] = (await db.execute(sql`select pg_try_advisory_xact_lock(${lock.readInt32BE(0)}::int, ${lock.readInt32BE(4)}::int) as got`)) as unknown as [{ got: boolean }];
    if (!got) throw inFlight();
    const [kept] = await db.select().from(idempotency).where(and(eq(idempotency.id, id), gt(idempotency.expiresAt, sql`now()`)));
    if (kept !== undefined) {
      if (kept.fingerprint !== asked.fingerprint) throw new ProblemError('idempotency-key-reused');
      return { status: kept.status, headers: kept.headers, body: unseal(sealOf(asked, id), kept.sealed) };
    }
    const made = await work(db);
    const row = { guildId: asked.guild ?? null, fingerprint: asked.fingerprint, status: made.status, headers: { ...made.headers }, sealed: seal(sealOf(asked, id), made.body), createdAt: sql`now()`, expiresAt: sql`now() + make_interval(hours => ${hoursKept})` };
    await db.insert(idempotency).values({ id, ...row }).onConflictDoUpdate({ target: idempotency.id, set: row });
    return made;
  };

  return {
    spent: async (guild, minute, count) => {
      const same = sql`${spent.minute} = excluded.minute`;
      const [row] = await database.ask({ guild }, (db) => db.insert(spent).values({ guildId: guild, minute, count })
        .onConflictDoUpdate({ target: spent.guildId, set: { minute: sql`excluded.minute`, count: sql`case when ${same} then ${spent.count} else 0 end + excluded.count` } }).returning({ count: spent.count }));
      return row!.count;
    },
    once: async (asked, work) => {
      const who = asked.guild === undefined ? 'keeper' : { ...asked, guild: asked.guild };
      if (asked.name === undefined) return database.transaction(who, work);
      const id = digest(`${asked.keyId}\n${asked.name}`).toString('base64url');
      if (working.has(id)) throw inFlight();
      working.add(id);
      try {
        return await database.transaction(who, (db) => keptOrMade(db, id, asked, work));
      } finally {
        working.delete(id);
        // What has expired is taken as absent; it is cleared away now and then, and nobody waits for it.
        if (count++ % everySo === 0) database.ask('keeper', (db) => db.delete(idempotency).where(lt(idempotency.expiresAt, sql`now()`))).catch(() => undefined);
      }
    },
  };
}
