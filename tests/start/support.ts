/** The service as a process, as `npm start` starts it. */
import { spawn, type ChildProcess } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { createServer, type AddressInfo } from 'node:net';
import { fileURLToPath } from 'node:url';

export const root = fileURLToPath(new URL('../..', import.meta.url));
export const built = existsSync(`${root}dist/services/main.js`);

export interface Started {
  readonly process: ChildProcess;
  /** What it has said so far. */
  out(): string;
  err(): string;
  /** Milliseconds since the process began. */
  age(): number;
  /** Waits until it says this, or has ended. */
  says(what: RegExp): Promise<RegExpExecArray>;
  ended: Promise<{ code: number | null; signal: string | null }>;
  stop(signal?: NodeJS.Signals): Promise<{ code: number | null; signal: string | null }>;
}

export function start(environment: Record<string, string>, file = 'dist/services/main.js', args: readonly string[] = []): Started {
  const began = performance.now();
  const { PATH = '', HOME = '', TMPDIR } = process.env;
  const child = spawn(process.execPath, [`${root}${file}`, ...args], { cwd: root, env: { PATH, HOME, ...(TMPDIR === undefined ? {} : { TMPDIR }), ...environment } });
  let [out, err] = ['', ''];
  child.stdout.on('data', (data: Buffer) => { out += data.toString(); });
  child.stderr.on('data', (data: Buffer) => { err += data.toString(); });
  const ended = once(child, 'close').then(([code, signal]) => ({ code: code as number | null, signal: signal as string | null }));
  return {
    process: child, out: () => out, err: () => err, age: () => performance.now() - began, ended,
    says: async (what) => {
      let over = false;
      void ended.then(() => { over = true; });
      for (;;) {
        const found = what.exec(out);
        if (found !== null) return found;
        if (over) throw new Error(`it ended before it said ${what}:\n${out}\n${err}`);
        await new Promise((resolve) => setTimeout(resolve, 10));
      }
    },
    stop: (signal = 'SIGTERM') => { child.kill(signal); return ended; },
  };
}

/** A port that was free a moment ago. */
export async function freePort(): Promise<number> {
  const server = createServer().listen(0, '127.0.0.1');
  await once(server, 'listening');
  const { port } = server.address() as AddressInfo;
  server.close();
  await once(server, 'close');
  return port;
}

/** Asks until somebody listens. */
export async function get(port: number, path: string, init?: RequestInit): Promise<{ status: number; body: string; headers: Headers }> {
  for (let attempt = 0; ; attempt++) {
    try {
      const reply = await fetch(`http://127.0.0.1:${port}${path}`, init);
      return { status: reply.status, body: await reply.text(), headers: reply.headers };
    } catch (error) {
      if (attempt > 3000) throw error;
      await new Promise((resolve) => setTimeout(resolve, 10));
    }
  }
}
export const ratio = '/v1/ratio?driveWheel=560mm&band=2mm&whorl=60mm&bobbin=48mm';
