/**
 * What each calculation costs over HTTP: against the same application and hooks with a handler that reads the same body
 * and gives the same bytes, and against a bare framework that says hello. Runs in turn, medians of the ratios of requests
 * in a second. The same by the server's processor time stands beside: on an idle machine both agree; where they do not,
 * the machine was busy with something else, and neither is to be trusted far.
 * `npm run bench -- [seconds of one run] [rounds] [calculation …]`
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { calculations } from '../../services/calculations/index.js';

const seconds = Number(process.argv[2] ?? 1);
const rounds = Number(process.argv[3] ?? 5);
const only = process.argv.slice(4);
const wanted = { same: 0.75, bare: 0.6 };
const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
const runs = (...[program, ...more]: [string, ...string[]]): boolean => {
  try { execFileSync(program, more, { stdio: 'ignore' }); return true; } catch (error) { return (error as { status?: number | null }).status === 1; }
};
const canPin = runs('taskset', '-c', '1', 'true');
const tool = runs('wrk', '--version') ? 'wrk' : 'autocannon';
const pinned = (core: number, command: [string, ...string[]]): [string, ...string[]] => (canPin ? ['taskset', '-c', String(core), ...command] : command);

async function start(): Promise<{ ports: Record<'service' | 'bare', number>; child: ChildProcess }> {
  const [program, ...more] = pinned(0, [process.execPath, here('./servers.mjs')]);
  const child = spawn(program, more, { stdio: ['ignore', 'pipe', 'inherit', 'ipc'] });
  const [line] = (await once(child.stdout!, 'data')) as [Buffer];
  return { ports: JSON.parse(line.toString()) as Record<'service' | 'bare', number>, child };
}

async function processorTime(child: ChildProcess): Promise<number> {
  child.send('how much');
  const [{ seconds: used }] = (await once(child, 'message')) as [{ seconds: number }];
  return used;
}

interface Speed { readonly perSecond: number; readonly perProcessorSecond: number }

async function load(server: ChildProcess, url: string, body: string): Promise<Speed> {
  const [program, ...more] = pinned(1, tool === 'wrk'
    ? ['wrk', '-t1', '-c32', `-d${seconds}s`, '-s', here('./post.lua'), url]
    : [process.execPath, here('./load.mjs'), JSON.stringify({ url, body, seconds })]);
  const before = await processorTime(server);
  const child = spawn(program, more, { stdio: ['ignore', 'pipe', 'inherit'], env: { ...process.env, BODY: body } });
  let out = '';
  child.stdout.on('data', (chunk: Buffer) => { out += chunk.toString(); });
  const [code] = (await once(child, 'close')) as [number];
  const used = (await processorTime(server)) - before;
  if (code !== 0 || /Non-2xx|Socket errors: connect [1-9]/.test(out)) throw new Error(`the load failed: ${out}`);
  const done = tool === 'wrk' ? { requests: Number(/(\d+) requests in/.exec(out)![1]), seconds } : (JSON.parse(out) as { requests: number; seconds: number });
  return { perSecond: done.requests / done.seconds, perProcessorSecond: done.requests / used };
}

/** Names of the headers and the length of the body: the replies compared must not differ. */
async function shape(url: string, body: string): Promise<string> {
  const reply = await fetch(url, { method: 'POST', headers: { 'content-type': 'application/json' }, body });
  if (reply.status !== 200) throw new Error(`${url} answers ${reply.status}`);
  return [...[...reply.headers.keys()].toSorted(), `length ${(await reply.text()).length}`].join(', ');
}

const median = (numbers: number[]): number => numbers.toSorted((a, b) => a - b)[Math.floor(numbers.length / 2)]!;
const shown = (n: number): string => Math.round(n).toLocaleString('en-GB').padStart(7);

// What is measured is what is started: the built service.
execFileSync(process.execPath, [fileURLToPath(import.meta.resolve('typescript/bin/tsc')), '-p', 'tsconfig.json'], { stdio: 'inherit' });
const { ports, child } = await start();
const tooSlow: string[] = [];
console.log(`node ${process.version}, ${tool}, ${rounds} rounds of ratio (fewer of the others) of ${seconds} s${canPin ? ', server on one core, load on another' : ''}`);
console.log(`of same: against the same application and hooks that gives the same bytes without finding them (wanted for ratio: ${wanted.same}); of bare: against a bare framework (${wanted.bare})`);
for (const { id, contract } of calculations.filter((c) => only.length === 0 || only.includes(c.id))) {
  const body = JSON.stringify(contract.example);
  const urls = { service: `http://127.0.0.1:${ports.service}/v1/${id}`, same: `http://127.0.0.1:${ports.service}/same/${id}`, bare: `http://127.0.0.1:${ports.bare}/hello` };
  const [own, same] = [await shape(urls.service, body), await shape(urls.same, body)];
  if (own !== same) throw new Error(`the replies compared differ: ${own} and ${same}`);
  const got: Record<keyof typeof urls, Speed[]> = { service: [], same: [], bare: [] };
  // The engine compiles what has run often: it must have run often before it counts.
  await load(child, urls.bare, body);
  await load(child, urls.same, body);
  const held = id === 'ratio';
  for (let done = 0, tries = 0; done < 20_000 && tries < (held ? 6 : 2); tries++) done += (await load(child, urls.service, body)).perSecond * seconds;
  for (let round = 0; round < (held ? rounds : Math.max(2, rounds - 3)); round++) for (const [name, url] of Object.entries(urls)) got[name as keyof typeof urls].push(await load(child, url, body));
  const ratioTo = (base: 'same' | 'bare', by: keyof Speed): number => median(got.service.map((speed, i) => speed[by] / got[base][i]![by]));
  const [ofSame, ofBare] = [ratioTo('same', 'perSecond'), ratioTo('bare', 'perSecond')];
  console.log(`POST ${id.padEnd(11)} ${shown(median(got.service.map((s) => s.perSecond)))}/s  of same ${ofSame.toFixed(2)}  of bare ${ofBare.toFixed(2)}  (by processor time ${ratioTo('same', 'perProcessorSecond').toFixed(2)}, ${ratioTo('bare', 'perProcessorSecond').toFixed(2)})`);
  if (held && ofSame < wanted.same) tooSlow.push(`ratio keeps ${ofSame.toFixed(2)} of the same application, wanted ${wanted.same}`);
  if (held && ofBare < wanted.bare) tooSlow.push(`ratio keeps ${ofBare.toFixed(2)} of a bare framework, wanted ${wanted.bare}`);
}
child.disconnect();
for (const line of tooSlow) console.log(line);
if (tooSlow.length > 0) process.exitCode = 1;
