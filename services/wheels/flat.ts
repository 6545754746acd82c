/** The flat form of a wheel: names, labels, and the profile that they stand for. */
import type { Field, Flat, FromFlat } from '../foundation/fields.js';
import type { QIn, RIn } from './profile.js';
import { driveNames, drives } from './words.js';

export const driveField: Field = {
  name: 'drive', kind: 'choice', label: 'Drive', hint: 'what the band turns; left open: double drive when a bobbin groove is given, else flyer-lead', first: true,
  choices: drives.map((value) => ({ value, label: driveNames[value] })),
};
const wheel = (name: string, label: string, more: Partial<Field> = {}): Field => ({ name, kind: 'part', label, ofWheel: true, ...more });
const ruler = 'where the band sits, not at the rim';

export const pulleyFields: readonly Field[] = [
  wheel('driveWheel', 'Drive wheel, across', { hint: ruler, first: true }),
  wheel('whorl', 'Whorl, across', { hint: ruler, first: true, repeats: true }),
  wheel('bobbin', 'Bobbin groove, across', { hint: ruler, first: true, repeats: true }),
  wheel('band', 'Band thickness', { hint: 'cotton cord is often 2 mm', first: true }),
  wheel('driveWheelCircumference', 'Drive wheel, round', { hint: 'a string or tape round it where the band sits' }),
  wheel('whorlCircumference', 'Whorl, round', { hint: 'a string or tape round it', repeats: true }),
  wheel('bobbinCircumference', 'Bobbin groove, round', { hint: 'a string or tape round it', repeats: true }),
  wheel('driveWheelBandTurn', 'Drive wheel, one turn of the band', { hint: 'the drive band itself, mark to mark: no thickness to add' }),
  wheel('whorlBandTurn', 'Whorl, one turn of the band', { hint: 'the drive band itself, mark to mark', repeats: true }),
  wheel('bobbinBandTurn', 'Bobbin groove, one turn of the band', { hint: 'the drive band itself, mark to mark', repeats: true }),
  wheel('whorlRatio', 'Whorl, stamped ratio', { kind: 'ratio', hint: 'such as 9:1', repeats: true }),
  wheel('bobbinRatio', 'Bobbin, stamped ratio', { kind: 'ratio', hint: 'such as 11:1', repeats: true }),
  wheel('headDriven', 'Accelerating head, groove that the wheel drives', { hint: 'across; great wheels and charkhas' }),
  wheel('headDriving', 'Accelerating head, groove that drives on', { hint: 'across' }),
  wheel('headBand', 'Accelerating head, its own band', { hint: 'thickness of the band from the head to the spindle' }),
];
export const bobbinFields: readonly Field[] = [
  wheel('core', 'Bobbin core, across', { hint: 'the empty shaft of the bobbin' }),
  wheel('end', 'Bobbin ends, across', {}),
  wheel('full', 'Full bobbin, across', { hint: 'how far up you wind; left open: 4 mm below the rim' }),
  wheel('lengthBetweenEnds', 'Length between the bobbin’s ends', {}),
];
export const wheelFields: readonly Field[] = [...pulleyFields, ...bobbinFields];

export const countedField: Field = {
  name: 'counted', kind: 'choice', label: 'How treadles were counted', choices: [{ value: 'wheel-turns', label: 'once for each turn of the wheel' }, { value: 'each-foot', label: 'each foot, on two treadles' }],
};

const ways = { '': 'grooveDiameter', Circumference: 'grooveCircumference', BandTurn: 'bandTurn', Ratio: 'statedRatio' } as const;
type Json = Record<string, unknown>;

/** Builds the profile from flat text, noting in `places` which parameter each pointer came from. Undefined: no wheel was named. */
export function wheelFromFlat(flat: Flat, places: Map<string, string>): Json | undefined {
  places.set('/wheel', 'driveWheel').set('/wheel/driveWheel', 'driveWheel').set('/wheel/whorls', 'whorl').set('/wheel/bobbins', 'bobbin').set('/wheel/modes', 'drive').set('/drive', 'drive').set('/wheel/flyerSpeed', 'drive');
  if (!wheelFields.some((f) => flat[f.name] !== undefined)) return undefined;
  const out: Json = {};
  const put = (o: Json, key: string, name: string, at: string, i = 0): void => {
    const value = flat[name]?.[i];
    if (value === undefined) return;
    o[key] = value;
    places.set(`${at}/${key}`, name);
  };
  const grooves = (part: 'whorl' | 'bobbin', at: (i: number) => string): Json[] => {
    const list: Json[] = [];
    for (const [way, key] of Object.entries(ways)) for (let i = 0; i < (flat[part + way]?.length ?? 0); i++) { const g: Json = {}; put(g, key, part + way, at(list.length), i); list.push(g); }
    return list;
  };
  const driveWheel: Json = {};
  for (const [way, key] of Object.entries(ways)) put(driveWheel, key, `driveWheel${way}`, '/wheel/driveWheel');
  if (Object.keys(driveWheel).length > 0) out['driveWheel'] = driveWheel;
  const whorls = grooves('whorl', (i) => `/wheel/whorls/${i}`);
  if (whorls.length > 0) out['whorls'] = whorls;
  const bobbinGrooves = grooves('bobbin', (i) => `/wheel/bobbins/${i}/grooves/0`);
  const shapes = bobbinFields.some((f) => flat[f.name] !== undefined);
  if (bobbinGrooves.length > 0 || shapes) {
    out['bobbins'] = (bobbinGrooves.length > 0 ? bobbinGrooves : [undefined]).map((g, i) => {
      const b: Json = g === undefined ? {} : { grooves: [g] };
      for (const [key, name] of [['coreDiameter', 'core'], ['endDiameter', 'end'], ['fullDiameter', 'full'], ['lengthBetweenEnds', 'lengthBetweenEnds']] as const) put(b, key, name, `/wheel/bobbins/${i}`);
      return b;
    });
  }
  if (flat['band'] !== undefined) {
    const band: Json = {};
    put(band, 'thickness', 'band', '/wheel/modes/0/band');
    out['modes'] = [{ drive: flat['drive']?.[0] ?? (bobbinGrooves.length > 0 ? 'double-drive' : 'flyer-lead'), band }];
    places.set('/wheel/modes/0/drive', 'drive');
  }
  if (flat['headDriven'] !== undefined || flat['headDriving'] !== undefined) {
    const [driven, driving, band]: Json[] = [{}, {}, {}];
    put(driven!, 'grooveDiameter', 'headDriven', '/wheel/stages/0/driven');
    put(driving!, 'grooveDiameter', 'headDriving', '/wheel/stages/0/driving');
    put(band!, 'thickness', 'headBand', '/wheel/stages/0/band');
    places.set('/wheel/stages/0/driven', 'headDriven').set('/wheel/stages/0/driving', 'headDriving');
    out['stages'] = [{ driven, driving, ...(flat['headBand'] === undefined ? {} : { band }) }];
  }
  return out;
}

/**
 * A question about a wheel from flat text: the wheel, its drive, and the question's own fields. `paths` says where a field
 * stands when not under its own name: `whorlName: 'whorl'`, `bagLifts: 'bagTest/lifts'`.
 */
export function wheelQuestion(flat: Flat, own: readonly string[], paths: Readonly<Record<string, string>> = {}): FromFlat & { readonly places: Map<string, string> } {
  const places = new Map<string, string>();
  const question: Json = {};
  const wheel = wheelFromFlat(flat, places);
  if (wheel !== undefined) question['wheel'] = wheel;
  if (flat['drive'] !== undefined && wheel?.['modes'] === undefined) question['drive'] = flat['drive'][0];
  for (const name of own) {
    const path = paths[name] ?? name;
    places.set(`/${path}`, name);
    const value = flat[name]?.[0];
    if (value === undefined) continue;
    const [key, part] = path.split('/') as [string, string?];
    question[key] = part === undefined ? value : { ...(question[key] as Json | undefined), [part]: value };
  }
  return { question, places, issues: [] };
}

/** A measure as it was written down. */
export function written(q: QIn | RIn | undefined): string | undefined {
  if (q === undefined) return undefined;
  if (typeof q !== 'object') return String(q);
  if (q.text !== undefined) return q.text;
  const unit = 'unit' in q ? ` ${q.unit}` : '';
  if ('value' in q) return `${q.value}${q.plusMinus !== undefined ? ` ± ${q.plusMinus}` : q.limits !== undefined ? ` ± ${q.limits} at most` : ''}${unit}`;
  return q.low === undefined ? `at most ${q.high ?? ''}${unit}` : q.high === undefined ? `at least ${q.low}${unit}` : `${q.low} to ${q.high}${unit}`;
}
