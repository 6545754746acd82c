/** Threads of this process, from what is built and from the sources alike. */
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { Worker, type ResourceLimits } from 'node:worker_threads';

/** Starts `./name.js` beside the module at `here` (its import.meta.url) as a thread. */
export function startThread(here: string, name: string, workerData?: unknown, resourceLimits?: ResourceLimits): Worker {
  const settings = { execArgv: [], ...(workerData === undefined ? {} : { workerData }), ...(resourceLimits === undefined ? {} : { resourceLimits }) };
  if (!here.endsWith('.ts')) return new Worker(new URL(`./${name}.js`, here), settings);
  // From the sources (tests, npm run dev) the thread needs a loader for TypeScript, and registers it itself.
  const loader = new URL('index.mjs', pathToFileURL(createRequire(here).resolve('tsx/esm/api')));
  const code = `import('${loader.href}').then(({ register }) => { register(); return import('${new URL(`./${name}.ts`, here).href}'); });`;
  return new Worker(code, { eval: true, ...settings });
}
