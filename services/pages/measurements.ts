/** What was measured of a wheel, and what it says together. */
import type { Effective, Found } from '../measurements/effective.js';
import type { StoredMeasurement } from '../measurements/measurement.js';
import { written } from '../wheels/flat.js';
import { said } from '../foundation/telling.js';
import { capital, html, type Html } from './html.js';
import type { Page } from './layout.js';
import { tableOf } from './results.js';

const whatWords = { diameter: 'across', circumference: 'round', 'band-turn': 'one turn of the band', 'counted-turns': 'counted turns', 'lap-count': 'laps counted', 'band-length': 'length of the band', 'bag-test': 'bag test', 'coast-down': 'coast-down' } as const;
const partWords = { 'drive-wheel': 'drive wheel', whorl: 'whorl', 'bobbin-groove': 'bobbin groove', 'bobbin-core': 'bobbin core', 'bobbin-ends': 'bobbin ends', 'head-driven': 'head, driven groove', 'head-driving': 'head, driving groove' } as const;
const methodWords = { calliper: 'calliper', rule: 'rule', tape: 'tape', string: 'string', band: 'the band itself', 'by-eye': 'by eye', video: 'video', tachometer: 'tachometer', scale: 'scale', other: 'another way' } as const;
const verdictWords: Readonly<Record<Found['combined']['verdict'], string>> = { one: 'measured once', agree: 'they agree', 'left-out': 'one was left out', disagree: 'they do not agree' };
const agreementWords = { agrees: 'agrees with the measures', slip: 'fewer than the measures give: slip', recheck: 'more than the measures give: measure again' } as const;

function valueOf({ measurement: m }: StoredMeasurement): string {
  const w = (v: unknown): string => written(v as never) ?? '';
  if (m.size !== undefined) return w(m.size);
  if (m.what === 'counted-turns') return [`${w(m.wheelTurns)} of the wheel`, ...(m.flyerTurns === undefined ? [] : [`${w(m.flyerTurns)} of the flyer`]), ...(m.bobbinTurns === undefined ? [] : [`${w(m.bobbinTurns)} of the bobbin`])].join(', ');
  if (m.what === 'lap-count') return `${w(m.laps)} in ${w(m.flyerTurns)} turns of the flyer`;
  if (m.what === 'bag-test') return `lifts ${w(m.lifts)}, pulled off by ${w(m.pullsOff)}`;
  return (m.runs ?? []).map((run) => `${w(run.from)} to ${w(run.to)} in ${w(run.time)}`).join('; ');
}
const partOf = ({ measurement: m }: StoredMeasurement): string => [m.part === undefined ? undefined : partWords[m.part], m.part === undefined && m.whorl !== undefined ? `whorl ${m.whorl}` : m.whorl, m.part === undefined && m.bobbin !== undefined ? `bobbin ${m.bobbin}` : m.bobbin, m.bobbinEnd, m.flyer].filter((x) => x !== undefined).join(', ');

export function measurementsPage(wheel: { readonly id: string; readonly name: string }, list: readonly StoredMeasurement[], { found, warnings }: Effective): Page {
  const together: Html = found.length === 0 ? html`` : html`<h2>Together with the profile</h2>
<p>Each was weighted by how sure it is; a calculation that is asked by this wheel’s id uses the result.</p>
${warnings.map((w) => html`<div class="look" role="note"><p><b>Look at this.</b> ${w.text}</p></div>`)}
<div class="wide">${tableOf({ heads: ['what', 'result', 'from', 'how they stand'], rows: found.map((f) => [capital(f.of.replace(/^the /, '')), said(f.value), f.combined.used.length === 1 ? 'one estimate' : `${f.combined.used.length} estimates`, [verdictWords[f.combined.verdict], ...(f.agreement === undefined ? [] : [agreementWords[f.agreement]])].join('; ')]) })}</div>`;
  return {
    title: `What was measured of ${wheel.name}`, description: `Measurements of ${wheel.name}, and what they say together.`,
    body: html`<h1>What was measured of ${wheel.name}</h1><p class="lead"><a href="/wheels/${encodeURIComponent(wheel.id)}">Its sheet</a> shows what they come to.</p>
${list.length === 0 ? html`<p>Nothing was measured since its profile was written. A guild adds measurements with its key.</p>` : html`${together}<h2>One by one</h2><div class="wide">${tableOf({ heads: ['what', 'part', 'measured', 'how', 'on'], rows: list.toSorted((a, b) => (dayOf(a) < dayOf(b) ? 1 : -1)).map((m) => [capital(whatWords[m.measurement.what]), partOf(m), valueOf(m), m.measurement.method === undefined ? '' : methodWords[m.measurement.method], dayOf(m)]) })}</div>`}
<p class="screen"><a href="/v1/wheels/${encodeURIComponent(wheel.id)}/measurements">As JSON</a>, and <a href="/v1/wheels/${encodeURIComponent(wheel.id)}/effective">how they were combined</a>.</p>`,
  };
}
const dayOf = (m: StoredMeasurement): string => m.measurement.measuredOn ?? m.createdAt.toISOString().slice(0, 10);
