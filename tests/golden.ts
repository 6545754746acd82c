/** Writes the golden file of every calculation whose version has moved, or that has none; refuses where numbers changed without it. */
import { renameSync, writeFileSync } from 'node:fs';
import { calculations } from '../services/calculations/index.js';
import { compared, golden, goldenFile, kept } from './support/golden.js';

for (const calculation of calculations) {
  const [was, is] = [kept(calculation.id), golden(calculation)];
  const changed = was === undefined || was.model.version !== is.model.version ? [] : compared(was, is);
  if (changed.length > 0) {
    console.error(`${calculation.id}: ${changed.length} numbers changed, but the version is still ${is.model.version}.\n  ${changed.slice(0, 5).join('\n  ')}`);
    process.exitCode = 1;
    continue;
  }
  // The pins of an earlier version stay, under its number.
  if (was !== undefined && was.model.version !== is.model.version) renameSync(goldenFile(calculation.id), new URL(`golden-${was.model.version}.json`, goldenFile(calculation.id)));
  const pins = is.pins.map((p) => `    ${JSON.stringify(p)}`).join(',\n');
  writeFileSync(goldenFile(calculation.id), `{\n  "note": ${JSON.stringify(is.note)},\n  "model": ${JSON.stringify(is.model)},\n  "pins": [\n${pins}\n  ]\n}\n`);
  console.log(`${calculation.id} ${is.model.version}: ${is.pins.length} questions`);
}
