/** Zod of the library's doors: for the specification and for types. Reading is rules.ts and profile.ts. */
import { z } from 'zod';
import { listOf } from '../parts.js';
import { partKinds } from './parts.js';
import { visibilities } from './rules.js';
import { driveIn, wheel, wheelShape } from './schema.js';
import { alikeParts } from './similar.js';
import { styles } from './words.js';

const visibility = z.enum(visibilities).describe('public: everybody may read it. guild: only its guild may.');
export const part = z.object({
  id: z.string().describe('Stays the same through every revision, while the part bears its name or is otherwise as it was.'), kind: z.enum(partKinds), name: z.string(),
  flyer: z.string().exactOptional().describe('The flyer that it belongs to.'), at: z.string().exactOptional().describe('JSON pointer to it in the profile.'),
}).meta({ id: 'Part', description: 'A whorl, bobbin or flyer, by which it is known through the years.' });
const kept = {
  id: z.string().describe('Given by the library. It is the last part of the wheel’s address.'),
  revision: z.int().min(1).describe('Grows by one with every change.'),
  visibility,
  guild: z.string().describe('Id of the guild that keeps it.'),
  createdAt: z.iso.datetime(), updatedAt: z.iso.datetime(),
  forkedFrom: z.object({ id: z.string(), revision: z.int().min(1) }).exactOptional().describe('The wheel that it was copied from, and its revision then.'),
};

export const wheelToKeep = z.strictObject({ ...wheelShape, name: z.string().min(1).max(120), visibility: visibility.exactOptional().describe('guild when left out; on a change, as it was.') })
  .meta({ id: 'WheelToKeep', description: 'The profile of a wheel for the library; it needs a name.' });
export const listedWheel = z.object({ ...kept, ...wheelShape }).meta({ id: 'ListedWheel', description: 'A wheel of the library: its profile, and beside it what the library says of it.' });
export const keptWheel = z.object({ ...kept, ...wheelShape, parts: z.array(part).describe('Its whorls, bobbins and flyers, each with an id that it keeps.'), effective: wheel.describe('The profile that calculations by this id use.') })
  .meta({ id: 'KeptWheel', description: 'A wheel of the library, with the profile that calculations use.' });
export const wheelList = listOf('WheelList', listedWheel, 'One page of the library.');
/** JSON merge patch (RFC 7396): any part of a wheel; null takes a part away. */
const orNothing = (part: z.ZodType): z.ZodType => z.union([part instanceof z.ZodExactOptional ? (part.unwrap() as z.ZodType) : part, z.null()]).exactOptional();
export const wheelPatch = z.strictObject({ ...Object.fromEntries(Object.entries(wheelShape).map(([name, part]) => [name, orNothing(part)])), visibility: visibility.exactOptional() })
  .meta({ id: 'WheelPatch', description: 'A JSON merge patch (RFC 7396): what it names is replaced, null takes it away, within its parts too. Lists are replaced whole.' });

export const wheelId = z.strictObject({ id: z.string().min(1).max(80).describe('Id of a wheel of the library.') });
export const listQuery = z.strictObject({
  of: z.enum(['public', 'guild']).exactOptional().describe('Those of everybody alone, or those of the key’s guild alone. Left out: both.'),
  limit: z.int().min(1).max(100).exactOptional().describe('Wheels on a page; 20 when left out.'),
  after: z.string().max(400).exactOptional().describe('The cursor that the page before gave as next.'),
  text: z.string().max(200).exactOptional().describe('1 to 8 words, each of which the wheel or one of its parts bears; accents and capitals do not matter, beginnings and misspellings are taken.'),
  style: z.enum(styles).exactOptional(),
  drive: driveIn.exactOptional().describe('One of the drives that it has.'),
  ratioAtLeast: z.string().exactOptional().describe('With a whorl of this ratio or a higher one, such as 9:1 or 9. Where both are given, one whorl lies between them.'),
  ratioAtMost: z.string().exactOptional().describe('With a whorl of this ratio or a lower one.'),
  drawsIn: z.enum(['true', 'false']).exactOptional().describe('true: some whorl and bobbin groove draw in. false: none can be told to.'),
  drawsInAtLeast: z.string().exactOptional().describe('So much yarn or more is drawn in for a turn of the wheel, on an empty bobbin, by its best pair, as far as it is sure: 100mm, 6 in. Wheels whose bobbins are not measured are not found.'),
  twistAtMost: z.string().exactOptional().describe('It can make yarn as soft as that, on an empty bobbin, by its best pair: 100 turns/m, 2 tpi. Wheels whose bobbins are not measured are not found.'),
  orificeAtLeast: z.string().exactOptional().describe('Its widest orifice is so wide or wider, such as 10mm or 3/8 in.'),
});
export const similarQuery = z.strictObject({ limit: z.int().min(1).max(50).exactOptional().describe('So many wheels; 10 when left out.') });
export const similarList = z.object({
  items: z.array(z.object({
    wheel: listedWheel, distance: z.number().min(0).describe('0: alike in all that is compared. The sum of its parts.'),
    why: z.array(z.object({ part: z.enum(alikeParts), distance: z.number().min(0), text: z.string().describe('Of the wheel that was asked for; then of the one found.') })).describe('The largest first.'),
  })),
}).meta({ id: 'SimilarWheels', description: 'Wheels that are most like one, the most alike first.' });
export const ifMatch = z.strictObject({ 'If-Match': z.string().describe('The ETag of the wheel as it was read.') });

const double = { name: 'Thornmere 4', style: 'saxony', driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive', band: { thickness: '2 mm' } }], whorls: [{ name: 'small', grooveDiameter: '60 mm' }], bobbins: [{ name: 'plain', grooves: [{ grooveDiameter: '48 mm' }] }] };
const said = { id: 'wheel-7k3d9q2mzr4f', revision: 1, visibility: 'guild', guild: 'thornmere-guild', createdAt: '2026-01-05T10:00:00.000Z', updatedAt: '2026-01-05T10:00:00.000Z' };
export const examples = {
  toKeep: double,
  kept: { ...said, ...double, parts: [{ id: 'part-1', kind: 'whorl', name: 'small', at: '/whorls/0' }, { id: 'part-2', kind: 'bobbin', name: 'plain', at: '/bobbins/0' }], effective: double },
  list: { items: [{ ...said, ...double }] },
  similar: { items: [{ wheel: { ...said, ...double }, distance: 0.5, why: [{ part: 'style', distance: 0.5, text: 'saxony; there castle' }, { part: 'drive', distance: 0, text: 'Both: Double drive' }] }] },
  patch: { condition: 'watch', wheelIs: null },
} as const;
