/**
 * What changed in the contract since a revision, and whether it breaks a caller: `npm run contract-diff [revision]`. Without
 * one: since the newest release (tag), or since what is committed where nothing was released. Ends with 1 where it breaks.
 */
import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { contractDiff } from './support/contract-diff.js';

const git = (...words: string[]): string => execFileSync('git', words, { encoding: 'utf8', maxBuffer: 1 << 28, stdio: ['ignore', 'pipe', 'pipe'] });
function newestRelease(): string {
  try { return git('describe', '--tags', '--abbrev=0').trim(); } catch { return 'HEAD'; }
}
const revision = process.argv[2] ?? newestRelease();
let text: string;
try {
  text = git('show', `${revision}:sdk/openapi.json`);
} catch (error) {
  process.stderr.write(`Revision ${revision} has no sdk/openapi.json, or is not in this history: ${(error as { stderr?: string }).stderr?.trim() ?? (error as Error).message}\n`);
  process.exit(2);
}
const changes = contractDiff(JSON.parse(text) as never, JSON.parse(readFileSync('sdk/openapi.json', 'utf8')) as never);
for (const { breaks, at, what } of changes.toSorted((a, b) => Number(b.breaks) - Number(a.breaks))) console.log(`${breaks ? 'breaks' : 'adds  '}  ${at}: ${what}`);
const breaking = changes.filter((change) => change.breaks).length;
console.log(`Since ${revision}: ${breaking} breaking, ${changes.length - breaking} that break nobody.`);
if (breaking > 0) process.exitCode = 1;
