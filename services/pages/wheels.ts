/** Pages of the library: the list, and a sheet for each wheel that can be printed and tied to it. */
import type { Calculation } from '../calculations/calculation.js';
import { metric } from '../foundation/quantity.js';
import { labels } from '../foundation/labels.js';
import { ProblemError } from '../foundation/problems.js';
import { pictureFrom, replyFrom, type Apart } from '../http/apart.js';
import { tell } from '../foundation/telling.js';
import type { Band, Groove, QIn, RIn, Wheel } from '../wheels/profile.js';
import { written } from '../wheels/flat.js';
import { driveNames } from '../wheels/words.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { assumptionsOf, cautionsOf, figureOf, numbersOf, tableOf } from './results.js';
import { conditionWords, sheetCautions, styleWords, turnedByWords } from './words.js';

export interface Shelved { readonly id: string; readonly profile: Wheel; /** Measurements that went into the profile. */ readonly measured?: number }

function groove(g: Groove | undefined): string | undefined {
  if (g === undefined) return undefined;
  const ways: readonly (readonly [QIn | RIn | undefined, string])[] = [[g.grooveDiameter, 'across'], [g.grooveCircumference, 'round'], [g.bandTurn, 'for one turn of the band'], [g.statedRatio, 'stamped']];
  for (const [q, how] of ways) if (q !== undefined) return `${written(q)} ${how}`;
  return undefined;
}
const band = (b: Band | undefined): string | undefined => (b === undefined ? undefined : [b.material === 'other' ? undefined : b.material, written(b.thickness)].filter((x) => x !== undefined).join(', ') || undefined);

function measures(w: Wheel): (readonly [string, string])[] {
  const rows: [string, string | undefined][] = [
    ['Drive wheel', groove(w.driveWheel)],
    ...(w.stages ?? []).map((s, i): [string, string] => [`Head${(w.stages ?? []).length > 1 ? `, stage ${i + 1}` : ''}`, `driven ${groove(s.driven) ?? 'not measured'}; driving ${groove(s.driving) ?? 'not measured'}`]),
    ...(w.modes ?? []).map((m): [string, string | undefined] => [`Band, ${driveNames[m.drive] ?? m.drive}`, band(m.band)]),
    ...(w.whorls ?? []).map((x, i): [string, string | undefined] => [`Whorl, ${x.name ?? i + 1}`, groove(x)]),
    ...(w.bobbins ?? []).flatMap((b, i): [string, string | undefined][] => [
      ...(b.grooves ?? []).map((g, j): [string, string | undefined] => [`Bobbin, ${b.name ?? i + 1}, ${g.name ?? `groove ${j + 1}`}`, groove(g)]),
      [`Bobbin, ${b.name ?? i + 1}, size`, [[b.coreDiameter, 'core'], [b.endDiameter, 'ends'], [b.lengthBetweenEnds, 'between the ends']].flatMap(([q, what]) => (q === undefined ? [] : [`${written(q as QIn)} ${what as string}`])).join(', ') || undefined],
    ]),
    ['Wheel axle to flyer', [w.axleToFlyer?.nearest, w.axleToFlyer?.farthest].map(written).filter((x) => x !== undefined).join(' to ') || undefined],
    ['Flyer speed', [w.flyerSpeed?.slowest, w.flyerSpeed?.fastest].map(written).filter((x) => x !== undefined).join(' to ') || undefined],
    ['Turned', w.turnedBy === undefined ? undefined : turnedByWords[w.turnedBy]],
    ['Condition', w.condition === undefined ? undefined : conditionWords[w.condition]],
  ];
  return rows.flatMap(([a, b]) => (b === undefined ? [] : [[a, b] as const]));
}

/** Ratios of one way to run: numbers, what the pairs do, picture. */
async function modeOf(ratio: Calculation, profile: Wheel, drive: string | undefined, heading: string, seen: Set<string>, apart: Apart): Promise<Html> {
  try {
    const question = { wheel: profile, ...(drive === undefined ? {} : { drive }) };
    const reply = await replyFrom(apart, ratio, question, { units: metric });
    const svg = ratio.picture === undefined ? undefined : await pictureFrom(apart, ratio, question, { units: metric });
    const told = tell(ratio.id, reply.result, question);
    const fresh = reply.cautions.filter((c) => !seen.has(c.text) && seen.add(c.text));
    return html`<section class="wide"><h2>${heading}</h2>${cautionsOf(fresh)}<div class="two"><div>${numbersOf(told)}${told.parts.flatMap((p) => p.tables.filter((t) => t.heads.includes(labels['drawIn']!)).map((t) => tableOf({ heads: t.heads.filter((_, i) => i < 3 || i === t.heads.length - 1), rows: t.rows.map((r) => r.filter((_, i) => i < 3 || i === t.heads.length - 1)) }, p.title)))}
<div class="screen">${reply.warnings.map((w) => html`<div class="look"><p><b>Look at this.</b> ${w.text}</p></div>`)}${assumptionsOf(reply.assumptions)}</div></div>${svg === undefined ? '' : figureOf(svg)}</div></section>`;
  } catch (error) {
    if (!(error instanceof ProblemError) || error.status === 503) throw error;
    return html`<section><h2>${heading}</h2><p>Its ratios cannot be said yet. ${error.issues.map((i) => i.detail).join(' ')}</p></section>`;
  }
}

export async function wheelPage(wheel: Shelved, ratio: Calculation | undefined, origin: string, apart: Apart): Promise<Page> {
  const { id, profile } = wheel;
  const title = profile.name ?? 'A wheel';
  const drives = profile.modes ?? [];
  const seen = new Set<string>();
  const stop = profile.condition === 'do-not-run';
  const modes: Html[] = [];
  // One after another: a caution is said at the first that it holds for.
  if (ratio !== undefined) for (const drive of drives.length === 0 ? [undefined] : drives.map((m) => m.drive)) modes.push(await modeOf(ratio, profile, drive, drive === undefined ? 'Ratios' : driveNames[drive] ?? drive, seen, apart));
  const own = `${origin}/wheels/${encodeURIComponent(id)}`;
  return { title, description: `Measures and ratios of ${title}.`, head: html`<link rel="alternate" type="application/json+oembed" href="${`/oembed?url=${encodeURIComponent(own)}`}" title="${title}">`, body: html`<div class="sheet wide"><h1>${title}</h1><p class="lead">${profile.style === undefined ? 'Spinning wheel' : styleWords[profile.style]}</p>
${stop ? html`<div class="caution" role="note"><p><b>Do not run this wheel.</b> Somebody qualified must pass it first.</p></div>` : ''}
<div class="caution" role="note">${sheetCautions.map((line, i) => html`<p>${i === 0 ? html`<b>At every wheel.</b> ` : ''}${line}</p>`)}</div>
<div class="modes">${modes}</div>
<h2>Measures</h2><dl class="facts">${measures(profile).map(([a, b]) => html`<dt>${a}</dt><dd>${b}</dd>`)}</dl>
<p class="screen"><a href="/v1/wheels/${encodeURIComponent(id)}">This wheel as JSON</a>${ratio === undefined ? '' : html`, <a href="/v1/wheels/${encodeURIComponent(id)}/ratio">its ratios as JSON</a>`}, <a href="/v1/wheels/${encodeURIComponent(id)}/similar">wheels like this one</a>. Print this page to tie it to the wheel.</p><p class="screen"><a href="/wheels/${encodeURIComponent(id)}/measurements">${wheel.measured ? `What was measured of it: ${wheel.measured === 1 ? 'one measurement' : `${wheel.measured} measurements`}, combined into these` : 'What was measured of it'}</a>, <a href="/cards">cards of what was spun</a>.</p></div>` };
}

export function wheelsPage(wheels: readonly Shelved[], next: string | undefined): Page {
  return { title: 'Wheels', description: 'The wheels of the library.', body: html`<h1>Wheels</h1><p class="lead">Wheels that guilds have measured and opened to all. Each has a sheet to print. For a class that spins one yarn, there is <a href="/class-sheet">a sheet of all wheels</a>.</p>
${wheels.length === 0 ? html`<p>The library is empty.</p>` : html`<ul class="cards">${wheels.map((w) => html`<li><a href="/wheels/${encodeURIComponent(w.id)}">${w.profile.name ?? 'A wheel'}</a><p>${w.profile.style === undefined ? 'Spinning wheel' : styleWords[w.profile.style]}${(w.profile.modes ?? []).length === 0 ? '' : `: ${(w.profile.modes ?? []).map((m) => (driveNames[m.drive] ?? m.drive).replace(/^./, (c) => c.toLowerCase())).join('; ')}`}</p>${w.profile.condition === 'do-not-run' ? html`<p><b>Do not run.</b></p>` : ''}</li>`)}</ul>`}
${next === undefined ? '' : html`<p><a href="/wheels?cursor=${encodeURIComponent(next)}">More wheels</a></p>`}` };
}
