/** The table of the README: every published case that is executed, and how far off we are where we are furthest off. */
import { calculations } from '../../services/calculations/index.js';
import { numberAt, off, offline, type Expectation } from './cases.js';
import { allSources, basisOf, published, type PublishedCase } from './published.js';

interface Worst { readonly printed: number; readonly ours: number; readonly share: number; readonly allowed: string }

const allowedOf = (e: Expectation, c: PublishedCase): string => {
  const tolerance = e.tolerance ?? c.tolerance ?? 0;
  return e.absolute !== undefined && tolerance === 0 ? `± ${e.absolute}` : tolerance >= 1e-4 ? `${Number((tolerance * 100).toPrecision(3))} %` : `${Number(tolerance.toPrecision(2))}`;
};

async function worstOf(calculation: string, c: PublishedCase): Promise<Worst | undefined> {
  let worst: Worst | undefined;
  const seen = (printed: number, ours: number, tolerance: number, absolute: number | undefined, allowed: string): void => {
    const share = off(ours, printed, tolerance, absolute);
    if (worst === undefined || share > worst.share) worst = { printed, ours, share, allowed };
  };
  for (const ask of c.asks ?? []) {
    const reply = await offline.ask(calculations.find((x) => x.id === (ask.operation ?? calculation))!, ask);
    for (const e of ask.expect ?? []) if (typeof e.expected === 'number') seen(e.expected, numberAt(reply!.body, e), e.tolerance ?? c.tolerance ?? 0, e.absolute, allowedOf(e, c));
  }
  for (const f of c.asks === undefined ? (c.formulas ?? []) : []) {
    const forms = (await import(`../../services/calculations/${f.slice ?? calculation}/formula.ts`)) as Record<string, (x: unknown) => unknown>;
    const got = forms[f.fn]!(f.inputs);
    seen(f.expected, (f.field === undefined ? (got as number) : (got as Record<string, number>)[f.field]!) * (f.times ?? 1), f.tolerance ?? c.tolerance ?? 0, f.absolute, String(f.tolerance ?? c.tolerance));
  }
  return worst;
}
/** As many figures as were printed, and two more to see the difference. */
const beside = (ours: number, printed: number): string => {
  const figures = printed.toExponential().replace(/e.*|[-.]/g, '').length;
  return String(Number(ours.toPrecision(Math.min(15, figures + 2))));
};
const percent = (w: Worst): string => {
  const relative = Math.abs(w.ours / w.printed - 1);
  return relative < 1e-9 ? 'nothing' : relative < 1e-6 ? 'less than 0.0001 %' : `${Number((relative * 100).toPrecision(2))} %`;
};

/** The table as Markdown, and how many sources stand in it. */
export async function accuracy(): Promise<{ table: string; sources: number }> {
  const rows: string[] = [];
  const sources = new Set<string>();
  for (const file of published) {
    for (const c of file.cases) {
      if (basisOf(c) !== 'published' || (c.asks === undefined && c.formulas === undefined)) continue;
      const source = allSources.find((s) => s.id === c.source)!;
      const worst = await worstOf(file.calculation, c);
      if (worst === undefined) continue;
      sources.add(source.id);
      const said = [source.author, source.title, source.year].filter((x) => x !== undefined).join(', ');
      rows.push(`| ${said}, ${c.locator} | ${c.title.replaceAll('|', '\\|')} | ${worst.printed} | ${beside(worst.ours, worst.printed)} | ${percent(worst)} | ${worst.allowed} |`);
    }
  }
  const head = '| source | what | printed | here | off by | allowed |\n|---|---|---:|---:|---:|---:|';
  return { table: `${head}\n${rows.join('\n')}`, sources: sources.size };
}
