/** The tables that the numbers rest on, for people: fibres, regains, wool grades, categories, yarn numbers, twist. */
import { yarnNumberUnits } from '../calculations/grist/yarn-numbers.js';
import { labels } from '../foundation/labels.js';
import { fromSI, kinds } from '../foundation/quantity.js';
import { wire, type Wire } from '../foundation/reading.js';
import * as sourceList from '../foundation/sources.js';
import { said, type Table } from '../foundation/telling.js';
import { yarnLists } from '../http/reference-yarn.js';
import { html, type Html } from './html.js';
import type { Page } from './layout.js';
import { tableOf } from './results.js';

type Item = Readonly<Record<string, unknown>>;
type Column = readonly [head: string, cell: (item: Item) => string];
const text = (key: string): Column[1] => (item) => (item[key] === undefined ? '' : String(item[key]));
const words = (key: string): Column[1] => (item) => (item[key] === undefined ? '' : String(item[key]).replaceAll('-', ' '));
const measure = (key: string): Column[1] => (item) => (item[key] === undefined ? '' : said(item[key] as Wire));
const standards: Readonly<Record<string, string>> = { 'astm-d1909': 'ASTM D1909', 'eu-1007': 'EU 1007/2011, Annex IX', 'gb-9994': 'GB 9994', 'room-air': 'in air of 65 % humidity, 20 °C' };
const standings: Readonly<Record<string, string>> = { published: '', 'common-practice': 'common practice', memory: 'from memory' };
const stands: Column = ['Stands on', (item) => standings[String(item['standing'])] ?? ''];
const tableFor = (items: readonly Item[], columns: readonly Column[]): Table => {
  const rows = items.map((item) => columns.map(([, cell]) => cell(item)));
  const kept = columns.map((_, i) => rows.some((r) => r[i] !== ''));
  return { heads: columns.filter((_, i) => kept[i]).map(([head]) => head), rows: rows.map((r) => r.filter((_, i) => kept[i])) };
};

interface Section { readonly path: string; readonly title: string; readonly lead: string; readonly tables: (items: readonly Item[]) => Html }
const one = (columns: readonly Column[]) => (items: readonly Item[]): Html => tableOf(tableFor(items, columns));
const strongest = (key: string): Column[1] => (item) => (item['strengths'] as Item[]).map((s) => `${s['sort'] === undefined ? '' : `${String(s['sort'])}: `}${said(s[key] as Wire)}`).join('; ');
const sections: readonly Section[] = [
  { path: '/v1/fibres', title: 'Fibres', lead: 'At 65 % relative humidity.', tables: one([['Fibre', text('label')], ['Density', measure('density')], ['Strength of the fibre', strongest('tenacity')], ['Stretches, when it breaks', strongest('breakingExtension')], ['Stands on', (i) => (i['standing'] === 'memory' ? 'density from memory' : '')]]) },
  {
    path: '/v1/regains', title: 'Moisture', lead: 'Regain is water over dry weight, moisture content is water over the whole weight. Regains of the trade are agreed values, not what a fibre holds by itself, and differ by standard and form.',
    tables: one([['Fibre', text('fibre')], ['Standard', (i) => standards[String(i['standard'])]!], ['Form', words('form')], ['Regain', measure('regain')], ['Moisture content', measure('moistureContent')], stands]),
  },
  { path: '/v1/wool-grades', title: 'Wool grades', lead: 'By mean fibre diameter, of wool in the grease. Tops are graded by other limits, and a grade does not tell how fine a yarn can be spun from it.', tables: one([['Grade', text('grade')], ['Blood', text('blood')], ['From', measure('from')], ['To', measure('to')], ['Largest standard deviation', measure('mostSpread')]]) },
  {
    path: '/v1/yarn-categories', title: 'What knitters call it', lead: 'At least four sets of bands go round. They overlap, leave gaps, and no set says how hard to pull the yarn. A category is a word, not a measurement.',
    tables: (sets) => html`${sets.map((s) => tableOf(tableFor(s['bands'] as Item[], [['Category', text('category')], ['Wraps', measure('wraps')], ['Metres in 100 g', measure('metresPer100g')]]), String(s['set'])))}`,
  },
  { path: '/v1/wrap-factors', title: 'Wraps and grist', lead: 'Wraps in an inch over the root of yards in a pound. The same yarn gives two to three times as many wraps packed as loose.', tables: one([['Factor', measure('factor')], ['Yarn', text('yarn')], ['Wrapped', text('wrapping')], stands]) },
  { path: '/v1/twist-ranges', title: 'Twist that was recommended', lead: 'Only where a table was published: cotton on ring frames, and worsted spun by hand.', tables: one([['Fibre', text('fibre')], ['For', text('use')], ['Staple', text('staple')], ['Factor', measure('factor')], ['In', words('system')]]) },
  { path: '/v1/twist-classes', title: 'Classes of twist', lead: 'By the angle from the yarn’s axis.', tables: one([['Class', text('class')], ['Angle', measure('angle')], ['Set', text('set')]]) },
];

const numbers: Table = {
  heads: ['System', 'What it counts', 'Larger is', 'A yarn of 100 tex'],
  rows: kinds.grist.units.map((u) => [labels[Object.entries(yarnNumberUnits).find(([, unit]) => unit === u.name)?.[0] ?? ''] ?? u.name, u.definition, u.reciprocal === true ? 'finer' : 'thicker', wire('number', { value: fromSI(1e-4, u) }).text]),
};
const anchor = (path: string): string => path.slice('/v1/'.length);

let made: Page | undefined;
/** The same for everybody: made when it is first asked for. */
export const referencePage = (): Page => (made ??= make());

function make(): Page {
  const sources = Object.values(sourceList).toSorted((a, b) => (a.title < b.title ? -1 : 1));
  const lists = new Map(yarnLists().map((l) => [l.path, l.items as readonly Item[]]));
  return {
    title: 'Tables', description: 'Fibres, moisture, wool grades, yarn categories, yarn numbers and twist, with what each stands on.',
    body: html`<h1>The tables behind the numbers</h1><p class="lead">What Wheelgrist knows of fibres and yarns, and what each line stands on. A line without a remark comes from one of the sources below.</p>
<nav aria-label="Tables" class="screen"><ul><li><a href="#yarn-numbers">Yarn numbers</a></li>${sections.map((s) => html`<li><a href="#${anchor(s.path)}">${s.title}</a></li>`)}<li><a href="#sources">Sources</a></li></ul></nav>
<section id="yarn-numbers"><h2>Yarn numbers</h2><p>Each is computed from its definition, by the yard and the pound. For programs: <a href="/v1/yarn-numbers">/v1/yarn-numbers</a>.</p>${tableOf(numbers)}</section>
${sections.map((s) => html`<section id="${anchor(s.path)}"><h2>${s.title}</h2><p>${s.lead} For programs: <a href="${s.path}">${s.path}</a>.</p>${s.tables(lists.get(s.path) ?? [])}</section>`)}
<section id="sources"><h2>Sources</h2><ul>${sources.map((s) => html`<li>${[s.author, s.title, s.year, s.locator].filter((x) => x !== undefined).join(', ')}.${s.erratum === undefined ? '' : html` <span class="soft">Where it is wrong: ${s.erratum}</span>`}</li>`)}</ul></section>`,
  };
}
