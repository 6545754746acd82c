/** Moisture: regain or moisture content, and the regain that a standard names for this fibre in this form. */
import type { Notes } from '../../foundation/notes.js';
import type { UnitChoice } from '../../foundation/quantity.js';
import type { Reader } from '../../foundation/read.js';
import { wire, type Q } from '../../foundation/reading.js';
import { expr, type Expr, type Knowns } from '../../foundation/uncertainty.js';
import type { Fibre } from '../../reference/fibres.js';
import { fibreForms, regainsOf, regainStandards, type Regain } from '../../reference/regains.js';
import * as f from './formula.js';
import * as notes from './notes.js';

type Json = Readonly<Record<string, unknown>>;
export const moistureNames = ['regain', 'moistureContent', 'regainWanted', 'regainStandard', 'fibreForm'] as const;
export interface Moisture { readonly has?: Expr; readonly wanted?: Expr }
export interface MoistureResult { regain: Q; moistureContent: Q; regainWanted?: Q; moistureContentWanted?: Q }
const limits = { atLeast: 0, atMost: 0.99, says: 'from 0 to 99 %' };

export function readMoisture(q: Json, r: Reader, k: Knowns, out: Notes, fibre: Fibre | undefined): Moisture {
  const share = (key: string): Expr | undefined => {
    const v = q[key] === undefined ? undefined : r.quantity(q[key], `/${key}`, 'share', limits);
    return v === undefined ? undefined : k.input(v);
  };
  const [regain, content] = [share('regain'), share('moistureContent')];
  if (q['regain'] !== undefined && q['moistureContent'] !== undefined) r.fail('/moistureContent', { code: 'one-of', detail: 'Regain and moisture content are two ways to say the same.', received: 'regain and moistureContent', expected: 'one of them' });
  if (q['regainWanted'] !== undefined && q['regainStandard'] !== undefined) r.fail('/regainStandard', { code: 'one-of', detail: 'The regain wanted was given, and a standard that names one.', received: 'regainWanted and regainStandard', expected: 'one of them' });
  const has = regain ?? (content === undefined ? undefined : expr((m) => f.regainOfContent({ content: m }), content));
  const named = q['regainStandard'] === undefined ? undefined : standardRegain(q, r, fibre);
  if (named?.fromMemory === true) out.assume(notes.regainFromMemory);
  const wanted = share('regainWanted') ?? (named === undefined ? undefined : k.assumed(named.low === named.high ? { value: named.low } : { low: named.low, high: named.high }));
  if (q['fibreForm'] !== undefined && q['regainStandard'] === undefined) r.missing('/regainStandard', 'The standard whose regain is meant', regainStandards.join(', '));
  if ((q['regainWanted'] ?? q['regainStandard']) !== undefined && q['regain'] === undefined && q['moistureContent'] === undefined) r.missing('/regain', 'The moisture that it has, as regain or as moisture content,', 'such as 18.25 %');
  return { ...(has === undefined ? {} : { has }), ...(wanted === undefined ? {} : { wanted }) };
}

function standardRegain(q: Json, r: Reader, fibre: Fibre | undefined): Regain | undefined {
  const standard = r.choice(q['regainStandard'], '/regainStandard', regainStandards);
  const form = q['fibreForm'] === undefined ? undefined : r.choice(q['fibreForm'], '/fibreForm', fibreForms);
  if (fibre === undefined) return r.missing('/fibre', 'The fibre', 'such as wool');
  if (standard === undefined || (q['fibreForm'] !== undefined && form === undefined)) return undefined;
  const rows = regainsOf(fibre.id, standard);
  if (rows.length === 0) {
    const others = regainStandards.filter((s) => regainsOf(fibre.id, s).length > 0);
    return r.fail('/regainStandard', { code: 'unknown-choice', detail: `No regain of ${fibre.label} is known by that standard.`, received: standard, expected: others.length === 0 ? 'regainWanted in its place' : others.join(', ') });
  }
  if (rows.length === 1 && rows[0]!.form === undefined) return rows[0];
  const forms = rows.map((row) => row.form!).join(', ');
  if (form === undefined) return r.missing('/fibreForm', 'This standard has several regains of that fibre. Which form it is in', forms);
  return rows.find((row) => row.form === form) ?? r.fail('/fibreForm', { code: 'unknown-choice', detail: 'This standard has no regain of that fibre in this form.', received: form, expected: forms });
}

export function moistureOf(m: Moisture, k: Knowns, units: UnitChoice): MoistureResult | undefined {
  if (m.has === undefined) return undefined;
  const [regain, content] = [(e: Expr): Q => wire('share', k.reading(e), units), (e: Expr): Q => wire('share', k.reading(expr((x) => f.contentOfRegain({ regain: x }), e)), units)];
  return { regain: regain(m.has), moistureContent: content(m.has), ...(m.wanted === undefined ? {} : { regainWanted: regain(m.wanted), moistureContentWanted: content(m.wanted) }) };
}
