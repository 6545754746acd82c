/**
 * Two processes that open one embedded database overwrite each other in silence, so a file beside its folder says who
 * has it. It is taken from a dead process, never from a live one. It serves one machine; a folder that several machines
 * share needs a server.
 */
import { existsSync, mkdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { dirname, join, resolve } from 'node:path';
import { LibraryError } from './states.js';

export interface Lock { readonly release: () => void }
const held = new Set<string>();

/** When the process began, in ticks since boot: a pid alone is given out again. Only where /proc tells. */
function begun(pid: number | 'self'): string | undefined {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, 'utf8');
    return stat.slice(stat.lastIndexOf(')') + 2).split(' ')[19];
  } catch {
    return undefined;
  }
}

function isAlive(pid: number, start: string | undefined): boolean {
  try {
    process.kill(pid, 0);
  } catch (error) {
    // EPERM: it lives, and belongs to somebody else.
    if ((error as NodeJS.ErrnoException).code !== 'EPERM') return false;
  }
  const now = start === undefined || start === '' ? undefined : begun(pid);
  return now === undefined || now === start;
}

/** Who holds the file: a pid, or undefined when nobody alive does. `text` is what it held. */
function holder(path: string): { pid: number | undefined; text: string } {
  const text = readFileSync(path, 'utf8');
  const [pid, start] = text.trim().split(' ');
  const n = Number(pid);
  if (!Number.isInteger(n) || n <= 0) return { pid: undefined, text };
  if (n === process.pid && !held.has(path)) return { pid: undefined, text };
  return { pid: isAlive(n, start) ? n : undefined, text };
}

/** As `mkdir -p`. Node's own recursive one never ends where a file system says ENOENT to whoever makes a folder, as /proc does. */
function makeFolder(path: string): void {
  try {
    mkdirSync(path);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    if (code === 'EEXIST' && statSync(path).isDirectory()) return;
    if (code !== 'ENOENT' || existsSync(dirname(path))) throw error;
    makeFolder(dirname(path));
    mkdirSync(path);
  }
}

/** Takes the folder for this process, making it first. Throws a LibraryError. */
export function takeLock(dataDir: string): Lock {
  const path = join(dataDir, 'library.lock');
  const mine = `${process.pid} ${begun('self') ?? ''}\n`;
  try {
    makeFolder(resolve(dataDir));
    for (let attempt = 0; ; attempt++) {
      try {
        writeFileSync(path, mine, { flag: 'wx' });
        held.add(path);
        return {
          release: () => {
            if (!held.delete(path)) return;
            try { if (readFileSync(path, 'utf8') === mine) rmSync(path); } catch { /* it is gone already */ }
          },
        };
      } catch (error) {
        if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
        removeIfDead(path, attempt);
      }
    }
  } catch (error) {
    if (error instanceof LibraryError) throw error;
    throw new LibraryError(`The data folder ${dataDir} cannot be written (${(error as NodeJS.ErrnoException).code ?? 'unknown reason'}): name another in DATA_DIR.`);
  }
}

function removeIfDead(path: string, attempt: number): void {
  let found;
  try {
    found = holder(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOENT' && attempt < 100) return;
    throw error;
  }
  if (found.pid !== undefined || attempt >= 100) {
    throw new LibraryError(`This library is in use by another process${found.pid === undefined ? '' : ` (${found.pid})`}: stop that one first, or name another folder in DATA_DIR.`);
  }
  // A file that is still empty may be half a moment old.
  if (found.text === '' && attempt < 20) { pause(); return; }
  removeAlone(path, found.text);
}

const pause = (): void => { Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 10); };
/** Milliseconds after which whoever is removing a dead one's file must have died over it: it takes less than one. */
const longestRemoval = 5000;

/**
 * Several may find the dead one's file at once, and the slowest of them could remove the file of the one who has taken its
 * place by then. So they take turns by a second file, and each looks again before it removes: only a dead one's file is
 * ever removed, and nobody writes over a file that stands.
 */
function removeAlone(path: string, dead: string): void {
  const turn = `${path}.turn`;
  try {
    writeFileSync(turn, '', { flag: 'wx' });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
    try { if (Date.now() - statSync(turn).mtimeMs > longestRemoval) rmSync(turn); } catch { /* it is gone already */ }
    pause();
    return;
  }
  try {
    const found = holder(path);
    if (found.pid === undefined && found.text === dead) rmSync(path);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== 'ENOENT') throw error;
  } finally {
    rmSync(turn, { force: true });
  }
}
