/** A card of what was spun: a spin as it was, so that another spinner can repeat it. Its fields once; the contract, the reader and the sheet are made from this list. Pure. */
import { isDeepStrictEqual } from 'node:util';
import { plainText, readDate, readReference } from '../foundation/noted.js';
import type { Kind } from '../foundation/quantity.js';
import { Reader, shown, type Limits } from '../foundation/read.js';
import type { QIn } from '../wheels/profile.js';
import { driveAliases, driveNames } from '../wheels/words.js';

export interface CardField {
  readonly name: string;
  readonly kind: Kind | 'ratio' | 'number' | 'whole' | 'text' | 'date' | 'reference' | 'choice';
  /** What a spinner reads beside it. */
  readonly label: string;
  readonly says: string;
  /** Where it stands on the sheet. */
  readonly group: 'spin' | 'wheel' | 'yarn' | 'setting';
  readonly choices?: Readonly<Record<string, string>>;
  readonly aliases?: Readonly<Record<string, string>>;
  readonly limits?: Limits;
  /** Longest text. */
  readonly most?: number;
}
const draftingStyles = { 'short-forward': 'short forward draw', 'short-backward': 'short backward draw', 'supported-long': 'supported long draw', 'long-draw': 'long draw', 'from-the-fold': 'from the fold', 'point-of-contact': 'point of contact', other: 'another way' } as const;
const letters = { S: 'S', Z: 'Z' } as const;
const part: Limits = { moreThan: 0, atMost: 100, says: 'more than 0' };

export const cardFields: readonly CardField[] = [
  { name: 'name', kind: 'text', label: 'Name', says: 'What the spin is called.', group: 'spin', most: 120 },
  { name: 'spunOn', kind: 'date', label: 'Spun on', says: 'The day, such as 2026-03-14.', group: 'spin' },
  { name: 'member', kind: 'reference', label: 'Member', says: 'Your own reference of the spinner: no name and no address.', group: 'spin' },
  { name: 'fibre', kind: 'text', label: 'Fibre', says: 'Such as wool, or a breed.', group: 'spin', most: 80 },
  { name: 'preparation', kind: 'text', label: 'Preparation', says: 'Such as worsted, semi-woollen, combed top, rolags.', group: 'spin', most: 80 },
  { name: 'draftingStyle', kind: 'choice', label: 'Drafting', says: 'How it was drafted.', group: 'spin', choices: draftingStyles },
  { name: 'direction', kind: 'choice', label: 'Spun', says: 'Direction of the single, by the middle stroke of the letter.', group: 'spin', choices: letters, aliases: { s: 'S', z: 'Z' } },
  { name: 'hours', kind: 'hours', label: 'Hours', says: 'Time at the wheel.', group: 'spin', limits: { moreThan: 0, atMost: 1e8 } },
  { name: 'wheelId', kind: 'reference', label: 'Wheel of the library', says: 'Id of a wheel of the library that you may see.', group: 'wheel' },
  { name: 'wheelName', kind: 'text', label: 'Wheel', says: 'A wheel that is not in the library, by its name.', group: 'wheel', most: 120 },
  { name: 'drive', kind: 'choice', label: 'Drive', says: 'The way in which it ran.', group: 'wheel', choices: driveNames, aliases: driveAliases },
  { name: 'whorl', kind: 'text', label: 'Whorl', says: 'Its name on the wheel.', group: 'wheel', most: 80 },
  { name: 'bobbin', kind: 'text', label: 'Bobbin', says: 'Its name on the wheel.', group: 'wheel', most: 80 },
  { name: 'bobbinEnd', kind: 'text', label: 'Bobbin end', says: 'The groove or end that was in use.', group: 'wheel', most: 80 },
  { name: 'ratio', kind: 'ratio', label: 'Ratio', says: 'As it was counted or stated; that of the whorl when left out.', group: 'wheel', limits: { moreThan: 1e-3, atMost: 1e4 } },
  { name: 'treadlesPerDraw', kind: 'number', label: 'Treadles per draw', says: 'How many in one draw.', group: 'wheel', limits: { moreThan: 0, atMost: 1e4 } },
  { name: 'counted', kind: 'choice', label: 'Treadles counted', says: 'Whether each foot was counted.', group: 'wheel', choices: { 'wheel-turns': 'once for each turn of the wheel', 'each-foot': 'each foot, on two treadles' } },
  { name: 'draftLength', kind: 'part', label: 'Length of a draw', says: 'Length drafted in those treadles.', group: 'wheel', limits: part },
  { name: 'singlesGrist', kind: 'grist', label: 'Grist of the single', says: 'As it was spun.', group: 'yarn' },
  { name: 'wheelFreshTwist', kind: 'twist', label: 'Twist, fresh from the wheel', says: 'Of the single.', group: 'yarn', limits: { moreThan: 0, atMost: 1e5 } },
  { name: 'finishedTwist', kind: 'twist', label: 'Twist, finished', says: 'Of the single, after washing and drying.', group: 'yarn', limits: { moreThan: 0, atMost: 1e5 } },
  { name: 'plies', kind: 'whole', label: 'Plies', says: 'Strands in the finished yarn.', group: 'yarn', limits: { atLeast: 1, atMost: 24, says: 'a whole number from 1 to 24' } },
  { name: 'plyTwist', kind: 'twist', label: 'Ply twist', says: 'Counted on the plied yarn.', group: 'yarn', limits: { moreThan: 0, atMost: 1e5 } },
  { name: 'plyDirection', kind: 'choice', label: 'Plied', says: 'Direction of the ply.', group: 'yarn', choices: letters, aliases: { s: 'S', z: 'Z' } },
  { name: 'grist', kind: 'grist', label: 'Grist of the yarn', says: 'Of the finished yarn.', group: 'yarn' },
  { name: 'wraps', kind: 'wraps', label: 'Wraps', says: 'Of the finished yarn.', group: 'yarn', limits: { moreThan: 0, atMost: 1e6 } },
  { name: 'wrapping', kind: 'choice', label: 'How they were wrapped', says: 'Wraps mean little without it.', group: 'yarn', choices: { packed: 'packed together until no more go in', ruler: 'side by side round a ruler', loose: 'loosely, as knitters wind' } },
  { name: 'length', kind: 'length', label: 'Length made', says: 'Of the finished yarn.', group: 'yarn' },
  { name: 'mass', kind: 'mass', label: 'Weight made', says: 'Of the finished yarn.', group: 'yarn', limits: { moreThan: 0, atMost: 1000 } },
  { name: 'note', kind: 'text', label: 'Note', says: 'Whatever the next spinner should know.', group: 'setting', most: 2000 },
];
export const bagFields = [
  { name: 'lifts', kind: 'pull', label: 'Heaviest bag that it lifts' }, { name: 'pullsOff', kind: 'pull', label: 'Lightest bag that pulls yarn off' }, { name: 'woundDiameter', kind: 'part', label: 'Yarn on the bobbin, across' },
] as const;

export type Visibility = 'public' | 'guild';
export const visibilities = ['public', 'guild'] as const;
export type Card = Readonly<Record<string, unknown>> & { readonly name: string; readonly wheelId?: string; readonly bagTest?: { lifts: QIn; pullsOff: QIn; woundDiameter?: QIn } };
export interface StoredCard {
  readonly id: string; readonly revision: number; readonly visibility: Visibility; readonly guild: string; readonly wheelRevision: number | null; readonly card: Card; readonly createdAt: Date; readonly updatedAt: Date;
}

export const listed = (c: StoredCard) => ({
  id: c.id, revision: c.revision, visibility: c.visibility, guild: c.guild, createdAt: c.createdAt.toISOString(), updatedAt: c.updatedAt.toISOString(), ...(c.wheelRevision === null ? {} : { wheelRevision: c.wheelRevision }), ...c.card,
});
/** What another guild or the public is shown: the same without the reference of a member. */
export const withoutMember = <T extends object>(c: T): T => { const { member: _, ...rest } = c as T & { member?: unknown }; return rest as T; };

/** Names that the library gives and nobody sets. */
const ours = ['id', 'revision', 'guild', 'createdAt', 'updatedAt', 'wheelRevision', 'opens'] as const;

/** What is to be kept of a body. `asRead` is the card that it replaces, as it was read. Throws a problem that names every place. */
export function readCard(body: unknown, asRead?: ReturnType<typeof listed>): { card: Card; visibility: Visibility } {
  const r = new Reader();
  const o = r.object(body, '', [...cardFields.map((f) => f.name), 'bagTest', 'visibility', ...ours]);
  r.done();
  const { visibility = asRead?.visibility ?? 'guild', ...card } = o!;
  if (!(visibilities as readonly unknown[]).includes(visibility)) r.choice(visibility, '/visibility', visibilities);
  for (const name of ours) {
    if (!Object.hasOwn(card, name)) continue;
    // What the library gave may be sent back as it was read; where a card opens follows from it.
    if (name !== 'opens' && !isDeepStrictEqual(card[name], asRead?.[name as keyof typeof asRead])) r.fail(`/${name}`, { code: 'unknown-field', detail: `“${name}” is given by the library and cannot be set.`, received: shown(card[name]), expected: asRead === undefined ? `no ${name}` : `${name} as it was read, or none` });
    delete card[name];
  }
  if (card['name'] === undefined) r.missing('/name', 'A name', 'a name such as Sock yarn, blue');
  for (const f of cardFields) if (card[f.name] !== undefined) readField(r, f, card[f.name]);
  if (card['bagTest'] !== undefined) {
    const bag = r.object(card['bagTest'], '/bagTest', bagFields.map((f) => f.name));
    if (bag !== undefined) for (const f of bagFields) {
      if (bag[f.name] !== undefined) r.quantity(bag[f.name], `/bagTest/${f.name}`, f.kind, { moreThan: 0, atMost: 1000 });
      else if (f.name !== 'woundDiameter') r.missing(`/bagTest/${f.name}`, f.label, 'such as 15 g');
    }
  }
  if (card['wheelId'] !== undefined && card['wheelName'] !== undefined) r.fail('/wheelName', { code: 'one-of', detail: 'The wheel was given twice: by its id and by a name.', received: 'wheelId, wheelName', expected: 'one of them' });
  r.done();
  return { card: card as Card, visibility: visibility as Visibility };
}

function readField(r: Reader, f: CardField, value: unknown): void {
  const at = `/${f.name}`;
  switch (f.kind) {
    case 'text': { const text = r.text(value, at, f.most); if (text !== undefined) plainText(r, text, at, f.name === 'note'); return; }
    case 'choice': r.choice(value, at, Object.keys(f.choices!), f.aliases); return;
    case 'ratio': r.ratio(value, at, f.limits); return;
    case 'number': r.number(value, at, f.limits); return;
    case 'whole': { const n = r.number(value, at, f.limits); if (n !== undefined && !('value' in n && Number.isInteger(n.value))) r.fail(at, { code: 'out-of-range', detail: `“${f.name}” is a whole number.`, received: shown(value), expected: f.limits?.says ?? 'a whole number' }); return; }
    case 'date': readDate(r, value, at); return;
    case 'reference': readReference(r, value, at); return;
    default: r.quantity(value, at, f.kind, f.limits);
  }
}
