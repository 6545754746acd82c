/** What a compiler must take, and what it must not. Compiled only. */
import { ProblemReply, ratio, Transport, Wheelgrist, type Call, type KeptWheel, type PairRatio, type Problem, type ProblemCode, type Quantity, type RatioQuestion, type RatioReply, type RatioResult } from '@wheelgrist/sdk';
import { Wheelgrist as NodeWheelgrist, type NodeOptions } from '@wheelgrist/sdk/node';
import { ratio as ratioHere, ratioByLink, type OfflineArgs } from '@wheelgrist/sdk/offline';

const wheelgrist = new Wheelgrist({ baseUrl: 'https://wheels.example', fetch, deadline: 1000, retries: 0 });
const question: RatioQuestion = { wheel: { driveWheel: { grooveDiameter: { value: 22, unit: 'in', plusMinus: 0.0625 } }, whorls: [{ grooveDiameter: '60 mm' }] }, wanted: ['9:1', 9.5] };
const frozen = { drive: 'spindle', wanted: [9] } as const satisfies RatioQuestion;

export const call: Call<RatioReply> = wheelgrist.ratio(question, { units: 'imperial', strict: true }, { signal: new AbortController().signal });
export const own: Call<RatioReply> = ratio(new Transport({ baseUrl: 'https://wheels.example' }), frozen);
export const here: RatioReply = ratioHere(question, { units: 'metric' } satisfies OfflineArgs);
export const sameWords: RatioResult = ratioByLink({ driveWheel: '560 mm', whorl: ['60 mm'] }).result;
export const node: Wheelgrist = new NodeWheelgrist({ baseUrl: 'https://wheels.example', connections: 4 } satisfies NodeOptions);

export function valueOf(quantity: Quantity): number | undefined {
  return 'value' in quantity ? quantity.value : quantity.low;
}
export function says(pair: PairRatio): string {
  switch (pair.drawIn) {
    case 'bobbin-leads': return 'draws in';
    case 'flyer-leads': return 'winds on backwards';
    default: return pair.drawIn;
  }
}
export function caught(error: unknown): Problem | undefined {
  if (!(error instanceof ProblemReply)) return undefined;
  const known: ProblemCode = 'missing-unit';
  return error.code === known ? error.problem : undefined;
}
export async function rename(id: string): Promise<KeptWheel> {
  const { data, headers } = await wheelgrist.readWheel({ id }).withResponse();
  return wheelgrist.replaceWheel({ ...data, name: 'Hall wheel' }, { id, ifMatch: headers['etag'] ?? '' }, { headers: { 'x-app': 'guild-site' } });
}
export async function names(): Promise<string[]> {
  const list: string[] = [];
  for await (const wheel of wheelgrist.allWheels({ limit: 10 })) list.push(wheel.name ?? wheel.id);
  return list;
}

// @ts-expect-error a misspelt name
wheelgrist.ratio({ whele: {} });
// @ts-expect-error a word that is none of the choices
wheelgrist.ratioByLink({ drive: 'scotch' });
// @ts-expect-error a measure without a unit
wheelgrist.ratio({ wheel: { driveWheel: { grooveDiameter: 560 } } });
// @ts-expect-error a wheel needs its id
wheelgrist.readWheel();
// @ts-expect-error what answers hold is not to be written to
here.result.bobbins.push();
// @ts-expect-error an answer may hold a range instead of a value
here.result.whorls?.[0]?.flyerRatio.value.toFixed(2);
// @ts-expect-error what is not in an answer cannot be read
here.result.nothing;
// @ts-expect-error headers are named in lower case
wheelgrist.listUnits({}, { headers: { 'X-App': 'guild-site' } });
