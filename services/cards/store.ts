/** Cards in the database: the only SQL of this room. */
import { and, desc, eq, gt, isNull, lt, or, sql } from 'drizzle-orm';
import type { WithSubqueryWithSelection } from 'drizzle-orm/pg-core';
import type { Database, Db } from '../../db/client.js';
import { cardRevisions, cards } from '../../db/schema/index.js';
import { newId, type Caller } from '../guilds/keys.js';
import type { Within } from '../http/store.js';
import { makeCursor, readCursor } from '../wheels/cursor.js';
import { cursorKeyOf } from '../wheels/store.js';
import type { Card, StoredCard, Visibility } from './card.js';

export interface CardChange { readonly card: Card; readonly visibility: Visibility; readonly wheelRevision?: number }
export interface CardRevision { readonly revision: number; readonly change: string; readonly card: Record<string, unknown>; readonly madeAt: Date }
export interface CardStore {
  /** The card, if it is public or `guild`'s own. */
  card(id: string, guild?: string): Promise<StoredCard | undefined>;
  /** Public cards, and `guild`'s own, in the order of their ids; `wheel`: of that wheel alone. */
  cards(page: { limit: number; after?: string; guild?: string; wheel?: string }): Promise<{ items: StoredCard[]; next?: string }>;
  create(card: CardChange, by: Caller, within?: Within): Promise<StoredCard>;
  /** Undefined when `expected` is no longer its revision, or it is not the caller's own. */
  replace(id: string, card: CardChange, expected: number, by: Caller): Promise<StoredCard | undefined>;
  /** Puts it away; its revisions stay. False as above. */
  retire(id: string, expected: number, by: Caller): Promise<boolean>;
  /** The guild's own, newest first; empty when it has no such card. */
  revisions(id: string, page: { limit: number; after?: string }, guild: string): Promise<{ items: CardRevision[]; next?: string }>;
}

const row = { id: cards.id, revision: cards.revision, visibility: cards.visibility, guild: cards.guildId, wheelRevision: cards.wheelRevision, card: cards.card, createdAt: cards.createdAt, updatedAt: cards.updatedAt };
type Row = Omit<StoredCard, 'card'> & { card: Record<string, unknown> };
const stored = (found: Row): StoredCard => ({ ...found, card: found.card as Card });
const seenBy = (guild: string | undefined) => and(isNull(cards.retiredAt), guild === undefined ? sql`visibility = 'public'` : or(sql`visibility = 'public'`, eq(cards.guildId, guild)));
const isId = (id: string): boolean => /^[\w.-]{1,80}$/.test(id);

export function cardStore(database: Database): CardStore {
  const secret = cursorKeyOf(database);
  const who = (guild: string | undefined) => (guild === undefined ? 'public' as const : { guild });
  const columns = ({ card, visibility, wheelRevision }: CardChange) => ({ card: { ...card }, visibility, wheelId: card.wheelId ?? null, wheelRevision: wheelRevision ?? null });
  const change = async (id: string, expected: number, by: Caller, what: 'changed' | 'retired', set: Partial<ReturnType<typeof columns>>): Promise<StoredCard | undefined> => {
    const [made] = await database.ask(by, (db) => withRevision(db, db.$with('after').as(db.update(cards)
      .set({ ...set, revision: expected + 1, updatedAt: sql`now()`, ...(what === 'retired' ? { retiredAt: sql`now()` } : {}) })
      .where(and(eq(cards.id, id), eq(cards.guildId, by.guild), eq(cards.revision, expected), isNull(cards.retiredAt))).returning(row)), what, by.keyId));
    return made && stored(made);
  };
  return {
    card: async (id, guild) => {
      if (!isId(id)) return undefined;
      const [one] = await database.ask(who(guild), (db) => db.select(row).from(cards).where(and(eq(cards.id, id), seenBy(guild))));
      return one && stored(one);
    },
    cards: async ({ limit, after, guild, wheel }) => {
      const key = await secret();
      const list = `cards ${guild ?? ''} ${wheel ?? ''}`;
      const from = after === undefined ? undefined : readCursor(key, list, after);
      if (wheel !== undefined && !isId(wheel)) return { items: [] };
      const found = await database.ask(who(guild), (db) => db.select(row).from(cards)
        .where(and(seenBy(guild), wheel === undefined ? undefined : eq(cards.wheelId, wheel), from === undefined ? undefined : gt(cards.id, from))).orderBy(cards.id).limit(limit + 1));
      const items = found.slice(0, limit).map(stored);
      return { items, ...(found.length > limit ? { next: makeCursor(key, list, items.at(-1)!.id) } : {}) };
    },
    create: async (card, by, within) => {
      const [made] = await database.ask(by, (db) => withRevision(db, db.$with('after').as(db.insert(cards).values({ id: newId('card'), guildId: by.guild, revision: 1, ...columns(card) }).returning(row)), 'made', by.keyId), within);
      return stored(made!);
    },
    replace: (id, card, expected, by) => change(id, expected, by, 'changed', columns(card)),
    retire: async (id, expected, by) => (await change(id, expected, by, 'retired', {})) !== undefined,
    revisions: async (id, { limit, after }, guild) => {
      if (!isId(id)) return { items: [] };
      const key = await secret();
      const list = `card ${id} ${guild}`;
      const from = after === undefined ? undefined : Number(readCursor(key, list, after));
      const found = await database.ask({ guild }, (db) => db.select({ revision: cardRevisions.revision, change: cardRevisions.change, card: cardRevisions.card, madeAt: cardRevisions.madeAt }).from(cardRevisions)
        .where(and(eq(cardRevisions.cardId, id), eq(cardRevisions.guildId, guild), from === undefined ? undefined : lt(cardRevisions.revision, from))).orderBy(desc(cardRevisions.revision)).limit(limit + 1));
      const items = found.slice(0, limit);
      return { items, ...(found.length > limit ? { next: makeCursor(key, list, String(items.at(-1)!.revision)) } : {}) };
    },
  };
}

/** A change, called `after`, and its revision in one statement: either both are there or neither. */
function withRevision(db: Db, after: WithSubqueryWithSelection<typeof row, 'after'>, what: CardRevision['change'], keyId: string) {
  const kept = db.$with('kept').as(db.insert(cardRevisions).select(sql`select id, revision, guild_id, ${what}::text, card, ${keyId}::text, updated_at from after`).returning({ revision: cardRevisions.revision }));
  return db.with(after, kept).select().from(after);
}
