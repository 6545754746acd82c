/** Runs the tests that the points cite, once, and prints which points they show. `npm run scorecard`. Needs what the tests need: PostgreSQL, Chromium. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { points } from './points.js';

interface Report { testResults: { name: string; assertionResults: { fullName: string; status: string }[] }[] }

const files = [...new Set(points.flatMap((point) => (point.by ?? []).map(([file]) => file)))];
const out = join(mkdtempSync(join(tmpdir(), 'scorecard-')), 'report.json');
spawnSync('npx', ['vitest', 'run', '--config', 'tests/vitest.config.ts', '--root', '.', '--reporter=json', `--outputFile=${out}`, ...files], { stdio: ['ignore', 'ignore', 'inherit'] });
const report = JSON.parse(readFileSync(out, 'utf8')) as Report;

function verdict(point: (typeof points)[number]): [word: string, why: string] {
  if (point.notApplicable !== undefined) return ['not applicable', point.notApplicable];
  if (point.missing !== undefined) return ['missing', point.missing];
  if (point.by === undefined) return ['by script', point.script ?? ''];
  for (const [file, title] of point.by) {
    const found = report.testResults.filter((result) => result.name.endsWith(file)).flatMap((result) => result.assertionResults).filter((one) => one.fullName.includes(title));
    const failed = found.find((one) => one.status !== 'passed');
    if (found.length === 0) return ['fail', `${file}: nothing named “${title}” ran`];
    if (failed !== undefined) return [failed.status === 'failed' ? 'fail' : 'skipped', `${file}: ${failed.fullName}`];
  }
  return ['pass', point.by.map(([file]) => file).filter((file, i, all) => all.indexOf(file) === i).join(', ')];
}

const sum = new Map<string, number>();
for (const point of points) {
  const [word, why] = verdict(point);
  sum.set(word, (sum.get(word) ?? 0) + 1);
  console.log(`${String(point.n).padStart(2)}  ${word.padEnd(14)}  ${point.area}: ${point.asks}${why === '' ? '' : `  (${why})`}`);
}
console.log(`${(sum.get('pass') ?? 0) + (sum.get('by script') ?? 0)} of ${points.length} are shown: ${[...sum].map(([word, count]) => `${count} ${word}`).join(', ')}.`);
if (sum.has('fail')) process.exitCode = 1;
