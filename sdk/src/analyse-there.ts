/** `wheelgrist analyse members.csv --url …`: the same by a service, which keeps the results. */
import { createReadStream, createWriteStream, statSync } from 'node:fs';
import { once } from 'node:events';
import type { Summary } from '../../services/analyses/summary.js';
import { columnLines, mapOf, summaryText, type Analysed, type AnalyseOptions } from './analyse.js';
import { analysisDone, withProgress } from './analyses.js';
import { Wheelgrist } from './node.js';

export async function analyseThere({ url, key, file, map = [], out, charset, dryRun = false, json = false, progress }: AnalyseOptions & { readonly url: string; readonly key?: string | undefined }): Promise<Analysed> {
  mapOf(map);
  const client = new Wheelgrist({ baseUrl: url, ...(key === undefined ? {} : { key }) });
  try {
    const size = statSync(file).size;
    const pieces = withProgress(createReadStream(file, { highWaterMark: 1 << 18 }) as AsyncIterable<Uint8Array>, (bytes) => progress?.(Math.min(0.99, bytes / size), 0));
    const type = /\.(?:ndjson|jsonl)$/i.test(file) ? 'application/x-ndjson' : 'text/csv';
    const made = await client.createAnalysis(pieces, { ...(map.length === 0 ? {} : { map }), ...(dryRun ? { dryRun } : {}) }, { headers: { 'content-type': charset === undefined ? type : `${type}; charset=${charset}` } });
    if (dryRun || made.id === undefined) {
      const said = (made.errors ?? []).flatMap((r) => r.errors.map((e) => `line ${r.line}: ${e.detail} Read: ${e.received ?? ''}.`));
      return { code: made.rejected > 0 ? 1 : 0, text: json ? `${JSON.stringify(made, null, 2)}\n` : ['How the columns are understood', ...columnLines(made.columns), '', `Of the first ${made.rows} rows ${made.rejected} would be refused.`, ...said.slice(0, 20).map((r) => `  ${r}`), ''].join('\n') };
    }
    const done = await analysisDone(client, made.id, { every: 500, onProgress: (a) => progress?.(a.progress, a.analysed + a.rejected) });
    const args = { id: made.id };
    if (out !== undefined) {
      const lines = createWriteStream(out);
      for await (const line of client.analysisResults(args)) if (!lines.write(`${JSON.stringify(line)}\n`)) await once(lines, 'drain');
      lines.end();
      await once(lines, 'finish');
    }
    const summary = await client.analysisSummary(args);
    return { code: done.rejected > 0 ? 1 : 0, text: json ? `${JSON.stringify({ analysis: done, summary }, null, 2)}\n` : `${summaryText(summary as unknown as Summary)}\nKept as ${made.id}: ${url}/v1/analyses/${made.id}/results\n` };
  } finally {
    await client.close();
  }
}
