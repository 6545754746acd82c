/**
 * How much of the speed of HTTP itself each calculation keeps: against the same application and hooks with a handler that
 * reads the same body and gives the same bytes, and against a bare framework. Ratios of runs in turn; medians.
 * `npm run bench` [seconds of one run] [rounds]
 */
import { execFileSync, spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { calculations } from '../../services/calculations/index.js';

const seconds = Number(process.argv[2] ?? 2);
const rounds = Number(process.argv[3] ?? 5);
const here = (name: string): string => fileURLToPath(new URL(name, import.meta.url));
const pinned = (core: number, command: string[]): string[] => (canPin ? ['taskset', '-c', String(core), ...command] : command);
const canPin = runs(['taskset', '-c', '1', 'true']);
const tool = runs(['wrk', '--version']) ? 'wrk' : 'autocannon';

function runs(command: string[]): boolean {
  try { execFileSync(command[0]!, command.slice(1), { stdio: 'ignore' }); return true; } catch (error) { return (error as { status?: number }).status === 1; }
}
const node = (script: string, ...more: string[]): string[] => [process.execPath, '--import', 'tsx', here(script), ...more];

async function start(): Promise<{ ports: Record<string, number>; child: ChildProcess }> {
  const [command, ...more] = pinned(0, node('./servers.ts'));
  const child = spawn(command!, more, { stdio: ['ignore', 'pipe', 'inherit'] });
  const [line] = (await once(child.stdout!, 'data')) as [Buffer];
  return { ports: JSON.parse(line.toString()) as Record<string, number>, child };
}

async function load(url: string, body: string): Promise<number> {
  const command = tool === 'wrk'
    ? ['wrk', '-t1', '-c32', `-d${seconds}s`, '-s', here('./post.lua'), url]
    : node('./load.ts', JSON.stringify({ url, body, seconds }));
  const [program, ...more] = pinned(1, command);
  const child = spawn(program!, more, { stdio: ['ignore', 'pipe', 'inherit'], env: { ...process.env, BODY: body } });
  let out = '';
  child.stdout!.on('data', (chunk: Buffer) => { out += chunk.toString(); });
  const [code] = (await once(child, 'close')) as [number];
  if (code !== 0 || /Non-2xx|Socket errors: connect [1-9]/.test(out)) throw new Error(`the load failed: ${out}`);
  return tool === 'wrk' ? Number(/Requests\/sec:\s+([\d.]+)/.exec(out)![1]) : (JSON.parse(out) as { perSecond: number }).perSecond;
}

async function headers(url: string, body: string): Promise<string[]> {
  const reply = await fetch(url, { method: 'POST', headers: { 'content-type': 'application/json' }, body });
  if (reply.status !== 200) throw new Error(`${url} answers ${reply.status}`);
  return [...reply.headers.keys(), `length ${(await reply.text()).length}`].toSorted();
}

const median = (numbers: number[]): number => numbers.toSorted((a, b) => a - b)[Math.floor(numbers.length / 2)]!;
const shown = (n: number): string => Math.round(n).toLocaleString('en-GB').padStart(8);

const { ports, child } = await start();
let failed = false;
try {
  console.log(`node ${process.version}, ${tool}, ${seconds} s a run, ${rounds} rounds${canPin ? ', server on core 0, load on core 1' : ''}`);
  for (const { id, contract } of calculations) {
    const body = JSON.stringify(contract.example);
    const urls = { service: `http://127.0.0.1:${ports['service']}/v1/${id}`, same: `http://127.0.0.1:${ports['service']}/same/${id}`, empty: `http://127.0.0.1:${ports['empty']}/hello` };
    const [own, base] = [await headers(urls.service, body), await headers(urls.same, body)];
    if (own.join() !== base.join()) throw new Error(`the replies compared differ: ${own.join()} and ${base.join()}`);
    for (const url of Object.values(urls)) await load(url, body);
    const got: Record<keyof typeof urls, number[]> = { service: [], same: [], empty: [] };
    for (let round = 0; round < rounds; round++) for (const [name, url] of Object.entries(urls)) got[name as keyof typeof urls].push(await load(url, body));
    const ofSame = median(got.service.map((n, i) => n / got.same[i]!));
    const ofEmpty = median(got.service.map((n, i) => n / got.empty[i]!));
    console.log(`${id.padEnd(10)} POST ${shown(median(got.service))}/s   same bytes without finding them ${shown(median(got.same))}/s   bare framework ${shown(median(got.empty))}/s`);
    console.log(`${id.padEnd(10)} ${ofSame.toFixed(2)} of the same application and hooks (wanted: 0.75)   ${ofEmpty.toFixed(2)} of a bare framework (wanted: 0.60)`);
    if (id === 'ratio' && (ofSame < 0.75 || ofEmpty < 0.6)) failed = true;
  }
} finally {
  child.kill('SIGTERM');
}
if (failed) {
  console.log('too slow');
  process.exitCode = 1;
}
