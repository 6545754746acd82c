/** Zod of the cards' doors: for the specification and for types. Reading is card.ts. */
import { z } from 'zod';
import { bagTest, listOf, numberIn, quantityInOf, ratioIn } from '../parts.js';
import { cardFields, visibilities, type CardField } from './card.js';

function typeOf(f: CardField): z.ZodType {
  const said = `${f.label}. ${f.says}`;
  switch (f.kind) {
    case 'text': return z.string().min(1).max(f.most!).describe(said);
    case 'choice': return z.string().min(1).max(40).describe(`${said} One of ${Object.keys(f.choices!).join(', ')}.`);
    case 'ratio': return ratioIn.describe(said);
    case 'number': return numberIn.describe(said);
    case 'whole': return numberIn.describe(`${said} A whole number.`);
    case 'date': return z.string().min(10).max(10).describe(said);
    case 'reference': return z.string().min(1).max(80).describe(said);
    default: return quantityInOf(f.kind, said.replace(/\.$/, ''));
  }
}
const visibility = z.enum(visibilities).describe('public: everybody may read it. guild: only its guild may.');
const shape = {
  ...Object.fromEntries(cardFields.filter((f) => f.name !== 'name').map((f) => [f.name, typeOf(f).exactOptional()])),
  bagTest: bagTest.exactOptional().describe('The setting, by what the wheel lifts and what pulls yarn off.'),
};
const nameOf = z.string().min(1).max(120).describe('What the spin is called.');
export const cardToKeep = z.strictObject({ name: nameOf, ...shape, visibility: visibility.exactOptional().describe('guild when left out; on a change, as it was.') })
  .meta({ id: 'CardToKeep', description: 'A spin as it was. Whatever was not noted is left out.' });
const kept = {
  id: z.string().describe('Given by the library.'), revision: z.int().min(1).describe('Grows by one with every change.'), visibility,
  guild: z.string().describe('Id of the guild that keeps it.'), createdAt: z.iso.datetime(), updatedAt: z.iso.datetime(),
  wheelRevision: z.int().min(1).exactOptional().describe('Revision of the wheel when the card was written.'),
};
const listedCard = z.object({ ...kept, name: nameOf, ...shape }).meta({ id: 'ListedCard', description: 'A card, and beside it what the library says of it. A member is told to the card’s own guild alone.' });
const opens = z.object({
  calculation: z.string(), title: z.string().describe('What it answers.'), link: z.string().describe('The question, by link.'), page: z.string().exactOptional().describe('The same, for people.'),
}).meta({ id: 'CardOpens', description: 'A calculation with the card’s values filled in.' });
export const keptCard = z.object({ ...kept, name: nameOf, ...shape, opens: z.array(opens).describe('Calculations that the card holds enough for.') })
  .meta({ id: 'KeptCard', description: 'A card, with the calculations that it opens.' });
export const cardList = listOf('CardList', listedCard, 'One page of cards.');
export const cardRevisions = listOf('CardRevisionList', z.object({
  revision: z.int().min(1), change: z.enum(['made', 'changed', 'retired']), madeAt: z.iso.datetime(), card: z.object({ name: nameOf, ...shape }).meta({ id: 'CardAsItWas', description: 'A card as it was.' }),
}).meta({ id: 'CardRevision', description: 'A card as it was after one change.' }), 'Every revision of a card, the newest first.');

export const cardId = z.strictObject({ id: z.string().min(1).max(80).describe('Id of a card.') });
const page = { limit: z.int().min(1).max(100).exactOptional().describe('Cards on a page; 20 when left out.'), after: z.string().max(400).exactOptional().describe('The cursor that the page before gave as next.') };
export const pageQuery = z.strictObject(page);
export const listQuery = z.strictObject({ ...page, wheel: z.string().min(1).max(80).exactOptional().describe('Cards of this wheel alone.') });
export const ifMatch = z.strictObject({ 'If-Match': z.string().describe('The ETag of the card as it was read.') });

const sock = {
  name: 'Sock yarn, first skein', spunOn: '2026-03-14', member: 'm-017', wheelId: 'thornmere-4', drive: 'double-drive', whorl: 'small', bobbin: 'plain', bobbinEnd: 'groove 1', treadlesPerDraw: 2, draftLength: '75 mm', direction: 'Z', fibre: 'wool', preparation: 'semi-worsted',
  draftingStyle: 'short-forward', singlesGrist: '90 tex', wheelFreshTwist: '240 turns/m', finishedTwist: '225 turns/m', plies: 2, plyTwist: '150 turns/m', plyDirection: 'S', grist: '195 tex', wraps: '16 wpi', wrapping: 'packed', length: '310 m', mass: '60 g',
  bagTest: { lifts: '18 g', pullsOff: '65 g' }, hours: '6.5 h', note: 'Ends left a night before plying.',
};
const { wheelId: _, ...elsewhere } = sock;
const said = { id: 'card-4m2x9rk7tqzd', revision: 1, visibility: 'guild', guild: 'thornmere-guild', createdAt: '2026-03-14T18:00:00.000Z', updatedAt: '2026-03-14T18:00:00.000Z' };
export const examples = {
  toKeep: sock,
  kept: { ...said, wheelRevision: 1, ...sock, opens: [{ calculation: 'plan', title: 'What as much of it again would take', link: '/v1/plan?length=310+m&grist=195+tex&plies=2', page: '/calculate/plan?length=310+m&grist=195+tex&plies=2' }] },
  list: { items: [{ ...said, ...elsewhere }] },
  revisions: { items: [{ revision: 1, change: 'made', madeAt: '2026-03-14T18:00:00.000Z', card: sock }] },
} as const;
