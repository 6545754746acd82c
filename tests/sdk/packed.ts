/** The package as others get it: packed, and installed into a clean folder without a network. */
import { execFile } from 'node:child_process';
import { cp, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import ts from 'typescript';

export const root = fileURLToPath(new URL('../../', import.meta.url));

export interface Ran { readonly code: number; readonly out: string; readonly error: string }
export function run(command: string, args: readonly string[], cwd: string, env: Record<string, string> = {}): Promise<Ran> {
  return new Promise((resolve) => {
    execFile(command, args, { cwd, env: { ...process.env, ...env }, maxBuffer: 1e8 }, (error, out, err) => {
      resolve({ code: error === null ? 0 : typeof error.code === 'number' ? error.code : 1, out, error: err });
    });
  });
}
export async function done(command: string, args: readonly string[], cwd: string, env: Record<string, string> = {}): Promise<string> {
  const { code, out, error } = await run(command, args, cwd, env);
  if (code !== 0) throw new Error(`${command} ${args.join(' ')} ended with ${code}\n${out}\n${error}`);
  return out;
}
/** What the compiler's own library files hold, read once for all projects. */
const libraries = new Map<string, ts.SourceFile>();

/** Compiles a project as `tsc -p` does, in this process, and gives what the compiler has to say: this house's, or another given. */
export function compile(project: string, cwd: string, more: Partial<{ files: string[]; options: ts.CompilerOptions }> = {}, by: typeof ts = ts): string[] {
  const read = by.readConfigFile(join(cwd, project), by.sys.readFile);
  const { fileNames, options, errors } = by.parseJsonConfigFileContent(read.config, by.sys, dirname(join(cwd, project)));
  const all = { ...options, ...more.options };
  const host = by.createCompilerHost(all);
  const open = host.getSourceFile;
  host.getSourceFile = (name, language, ...rest) => {
    if (!/\/typescript\w*\/lib\//.test(name)) return open(name, language, ...rest);
    const known = libraries.get(name) ?? open(name, language, ...rest);
    if (known !== undefined) libraries.set(name, known);
    return known;
  };
  const program = by.createProgram(more.files ?? fileNames, all, host);
  const emitted = all.noEmit === true ? [] : program.emit().diagnostics;
  return [...errors, ...by.getPreEmitDiagnostics(program), ...emitted].map((d) => by.formatDiagnostic(d, { getCurrentDirectory: () => cwd, getCanonicalFileName: (f) => f, getNewLine: () => '\n' }).trim());
}

export interface Packed { readonly folder: string; readonly tarball: string; readonly installed: string; readonly files: readonly string[]; close(): Promise<void> }

export async function packed(): Promise<Packed> {
  const folder = await mkdtemp(join(tmpdir(), 'wheelgrist-sdk-'));
  await done('npm', ['pack', '--silent', '--pack-destination', folder], join(root, 'sdk'));
  const tarball = (await readdir(folder)).find((name) => name.endsWith('.tgz'))!;
  await writeFile(join(folder, 'package.json'), '{"private": true, "type": "module"}\n');
  await done('npm', ['install', '--offline', '--no-audit', '--no-fund', '--silent', `./${tarball}`], folder);
  await cp(join(root, 'sdk/consumers'), folder, { recursive: true });
  const installed = join(folder, 'node_modules/@wheelgrist/sdk');
  const files = (await readdir(installed, { recursive: true, withFileTypes: true })).filter((e) => e.isFile()).map((e) => join(e.parentPath, e.name).slice(installed.length + 1)).toSorted();
  return { folder, tarball, installed, files, close: () => rm(folder, { recursive: true, force: true }) };
}
