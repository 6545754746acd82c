// Builds what `npm start` runs: the service, the embeds, the SDK. Run by `npm run build`, and by npm after an install.
// Where development packages were left out there is no compiler: then dist/ must have been brought along.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const root = fileURLToPath(new URL('..', import.meta.url));
if (!existsSync(`${root}node_modules/typescript`)) {
  if (!existsSync(`${root}dist/services/main.js`)) console.log('No compiler is installed (development packages were left out), so nothing was built. Build first, then bring dist/ along.');
  process.exit(0);
}
const run = (what, args) => {
  const { status } = spawnSync(process.execPath, args, { cwd: root, stdio: 'inherit' });
  if (status !== 0) {
    console.error(`${what} could not be built.`);
    process.exit(status ?? 1);
  }
};
const tsc = 'node_modules/typescript/bin/tsc';
run('The service', [tsc, '-p', 'tsconfig.json']);
if (existsSync(`${root}dist/db/make-template.js`)) run('The empty library', ['dist/db/make-template.js']);
if (existsSync(`${root}sdk/tsconfig.json`)) run('The SDK', [tsc, '-p', 'sdk/tsconfig.json']);
if (existsSync(`${root}sdk/embeds/build.mjs`)) run('The embeds', ['sdk/embeds/build.mjs']);
