// Before the package is packed: builds it afresh, and leaves out every module that no entry point imports.
// Only the declarations beside sdk/src stay: they name no type of the service, so that a consumer needs none of its packages.
import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync, rmSync } from 'node:fs';
import { dirname, join, relative, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

const sdk = fileURLToPath(new URL('..', import.meta.url));
const dist = join(sdk, 'dist');
for (const room of ['sdk/src', 'services']) rmSync(join(dist, room), { recursive: true, force: true });
const { status } = spawnSync(process.execPath, [join(sdk, '../node_modules/typescript/bin/tsc'), '-p', join(sdk, 'tsconfig.json')], { stdio: ['ignore', 2, 2] });
if (status !== 0) process.exit(status ?? 1);

const kept = new Set();
function keep(file) {
  if (kept.has(file)) return;
  kept.add(file);
  for (const { fileName: name } of ts.preProcessFile(readFileSync(file, 'utf8'), true, true).importedFiles) {
    if (name.startsWith('.')) keep(resolve(dirname(file), file.endsWith('.d.ts') ? name.replace(/\.js$/, '.d.ts') : name));
    else if (!name.startsWith('node:')) throw new Error(`${relative(sdk, file)} imports ${name}; the package has no dependencies.`);
  }
}
for (const entry of ['index', 'node', 'offline', 'cli']) {
  keep(join(dist, `sdk/src/${entry}.js`));
  if (entry !== 'cli') keep(join(dist, `sdk/src/${entry}.d.ts`));
}
for (const room of ['sdk/src', 'services']) {
  for (const entry of readdirSync(join(dist, room), { recursive: true, withFileTypes: true })) {
    const file = join(entry.parentPath, entry.name);
    if (entry.isFile() && !kept.has(file)) rmSync(file);
  }
}
const stray = [...kept].filter((file) => file.endsWith('.d.ts') && relative(dist, file).startsWith('services'));
if (stray.length > 0) throw new Error(`declarations reach into the service: ${stray.map((file) => relative(dist, file)).join(', ')}`);
