/** A first-aid sheet to print and hang beside the wheel: dangerous signs on top, then the usual ones, each with what to look at and what to try. Made by the diagnosis itself. */
import { answer } from '../calculations/diagnosis/answer.js';
import { signOf, placeNames, places, signs, type SignId } from '../reference/signs.js';
import { driveNames, drives, type Drive } from '../wheels/words.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { sheetCautions } from './words.js';

/** The signs that people come with most. */
const usual: readonly SignId[] = [
  'will-not-draw-in', 'yanks', 'weaker-as-it-fills', 'jerk-at-wind-on', 'snarls', 'over-twisted', 'under-twisted', 'thin-spots', 'turn-as-one', 'leader-slips', 'hilly', 'band-slips', 'band-comes-off', 'other-next-day', 'hard-to-treadle', 'stalls', 'squeaks', 'thumps', 'hums',
];
/** What can be set on a sheet: a spindle has neither bobbin nor brake. */
export const sheetDrives = drives.filter((d) => d !== 'spindle');
export const sheetDrive = (asked: string | null): Drive | undefined => sheetDrives.find((d) => d === asked);

function row(id: SignId, drive: Drive | undefined): Html {
  const cause = answer({ signs: [id], ...(drive === undefined ? {} : { drive }) }).result.causes[0]!;
  return html`<tr><th scope="row">${signOf(id).says}</th><td data-head="It may be"><span>${cause.name}${cause.technicianOnly ? html` <b>(a repairer’s work)</b>` : ''}</span></td><td data-head="Look first"><span>${cause.checkFirst}</span></td><td data-head="Then try"><span>${cause.tryNext}</span></td></tr>`;
}

export function firstAidPage(drive: Drive | undefined): Page {
  const of = drive === undefined ? '' : `, ${driveNames[drive][0]!.toLowerCase()}${driveNames[drive].slice(1)}`;
  const list = (danger: 'stop' | 'rest'): string[] => signs.filter((s) => s.danger === danger).map((s) => s.says);
  return { title: `First aid at the wheel${of}`, description: 'A sheet to print: what to look at first when something is wrong at the wheel.', body: html`<div class="first-aid wide"><h1>First aid at the wheel${of}</h1>
<p class="lead screen">Print it and hang it beside the wheel. Which drive: ${sheetDrives.map((d, i) => html`${i === 0 ? '' : ', '}<a href="/first-aid?drive=${d}"${d === drive ? html` aria-current="page"` : ''}>${driveNames[d]}</a>`)}. Or <a href="/calculate/diagnosis">say all that you notice</a>.</p>
<div class="caution" role="note"><p><b>Stop, and do not spin on it:</b> ${list('stop').map((s) => s[0]!.toLowerCase() + s.slice(1)).join('; ')}. Somebody qualified looks at it first.</p><p><b>Stop for today:</b> ${list('rest').map((s) => s[0]!.toLowerCase() + s.slice(1)).join('; ')}. Lighten the pull, spin in shorter sittings, and ask a qualified person.</p></div>
<div class="caution" role="note">${sheetCautions.slice(1).map((line) => html`<p>${line}</p>`)}<p>To look or to try: foot off the treadle, wheel standing, turned slowly by hand. Unplug what has a motor. Use no force, no glue, no drill and no file; no spray on old wood or threads.</p></div>
<p><b>Touch nothing yet.</b> What was changed last? Put that back first. Then: is the yarn caught, does the leader hold, is a hook in the way? One change at a time. After three small steps of tightening that change nothing, stop tightening, and go back.</p>
<table class="rows"><thead><tr><th scope="col">You notice</th><th scope="col">It may be</th><th scope="col">Look first</th><th scope="col">Then try this one thing</th></tr></thead>
${places.map((place) => { const here = usual.filter((id) => signOf(id).place === place); return here.length === 0 ? '' : html`<tbody><tr class="place"><th colspan="4" scope="rowgroup">${placeNames[place]}</th></tr>${here.map((id) => row(id, drive))}</tbody>`; })}</table></div>` };
}
