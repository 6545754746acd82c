/** The lock of the embedded folder: never from the living, always from the dead. */
import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { takeLock } from '../../db/lock.js';

let folder: string;
beforeEach(() => { folder = mkdtempSync(join(tmpdir(), 'wheelgrist-lock-')); });
afterEach(() => rmSync(folder, { recursive: true, force: true }));
const file = (): string => join(folder, 'library.lock');
const deadPid = (): number => spawnSync(process.execPath, ['-e', '']).pid;

describe('lock', () => {
  it('makes the folder, names this process, and is gone when given back', () => {
    const lock = takeLock(join(folder, 'a', 'b'));
    expect(readFileSync(join(folder, 'a', 'b', 'library.lock'), 'utf8')).toMatch(new RegExp(`^${process.pid} `));
    lock.release();
    lock.release();
    expect(readdirSync(join(folder, 'a', 'b'))).toEqual([]);
  });

  it('is refused twice in one process', () => {
    const lock = takeLock(folder);
    expect(() => takeLock(folder)).toThrow('in use by another process');
    lock.release();
    takeLock(folder).release();
  });

  it('is never taken from a live process', () => {
    const other = spawn(process.execPath, ['-e', 'setTimeout(() => {}, 60000)']);
    try {
      writeFileSync(file(), `${other.pid}\n`);
      expect(() => takeLock(folder)).toThrow(`(${other.pid})`);
      expect(readFileSync(file(), 'utf8')).toBe(`${other.pid}\n`);
    } finally {
      other.kill('SIGKILL');
    }
  });

  it.each([['a dead process', () => `${deadPid()} 1\n`], ['this pid, before this process had it', () => `${process.pid} 1\n`], ['nobody', () => 'soup\n'], ['nobody, for a while', () => '']])('is taken from %s', (_, text) => {
    writeFileSync(file(), text());
    const lock = takeLock(folder);
    expect(readFileSync(file(), 'utf8')).toMatch(new RegExp(`^${process.pid} `));
    lock.release();
    expect(readdirSync(folder)).toEqual([]);
  });

  it.runIf(process.platform === 'linux')('is taken when the pid is alive, but belongs to a later process', () => {
    writeFileSync(file(), `${process.ppid} 1\n`);
    takeLock(folder).release();
  });

  it('goes to one of many that find a dead one’s at the same time', async () => {
    const script = `const { takeLock } = await import(${JSON.stringify(new URL('../../db/lock.ts', import.meta.url).href)});
      process.stdout.write('ready');
      process.stdin.once('data', () => { try { takeLock(${JSON.stringify(folder)}); process.stdout.write(' taken'); } catch { process.stdout.write(' refused'); } });
      process.stdin.once('end', () => process.exit(0));`;
    const tsx = fileURLToPath(new URL('../../node_modules/tsx/dist/loader.mjs', import.meta.url));
    const others = Array.from({ length: 4 }, () => spawn(process.execPath, ['--import', tsx, '--input-type=module', '-e', script], { stdio: ['pipe', 'pipe', 'inherit'] }));
    const said = others.map(() => '');
    const until = async (word: RegExp): Promise<void> => { while (!said.every((text) => word.test(text))) await new Promise((resolve) => setTimeout(resolve, 10)); };
    for (const [i, other] of others.entries()) other.stdout!.on('data', (data: Buffer) => { said[i] += data.toString(); });
    try {
      await until(/ready/);
      writeFileSync(file(), `${deadPid()} 1\n`);
      for (const other of others) other.stdin!.write('go\n');
      await until(/taken|refused/);
      expect(said.filter((text) => text.endsWith('taken'))).toHaveLength(1);
      expect(readdirSync(folder)).toEqual(['library.lock']);
    } finally {
      for (const other of others) other.kill('SIGKILL');
    }
  });
});
