/** The project's own files as git sees them, and what they import. For the guards. */
import { execFileSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, posix } from 'node:path';

/** Tracked files, and new ones that are not ignored. */
export const files: readonly string[] = execFileSync('git', ['ls-files', '--cached', '--others', '--exclude-standard'], { encoding: 'utf8' }).split('\n').filter((f) => f !== '' && existsSync(f));
export const code: readonly string[] = files.filter((f) => /\.(?:ts|mts|mjs|js)$/.test(f));
export const text = (file: string): string => readFileSync(file, 'utf8');
/** Written by a command, never by hand. */
export const isGenerated = (file: string): boolean => /\.gen\.ts$|^sdk\/openapi\.json$|^package-lock\.json$|^db\/migrations\/|\/golden[\w.-]*\.json$/.test(file);

export interface Import { readonly from: string; /** A path of the project, or the name of a package. */ readonly to: string; readonly ours: boolean; readonly typeOnly: boolean }

const statement = /(?:^|\n)\s*(?:import|export)\s+(type\s+)?((?:[\w*{}\s,$]|\bas\b)*?)\s*from\s*['"]([^'"]+)['"]|(?:^|\n)\s*import\s*['"]([^'"]+)['"]|\bimport\(\s*['"]([^'"]+)['"]\s*\)/g;

export function importsOf(file: string): Import[] {
  const out: Import[] = [];
  for (const m of text(file).replace(/\/\*[\s\S]*?\*\//g, '').matchAll(statement)) {
    const to = m[3] ?? m[4] ?? m[5]!;
    if (to.includes('${')) continue;
    const names = (m[2] ?? '').replace(/[{}]/g, '').split(',').map((n) => n.trim()).filter((n) => n !== '');
    const typeOnly = m[1] !== undefined || (m[2] !== undefined && names.length > 0 && m[2].includes('{') && names.every((n) => n.startsWith('type ')));
    out.push(to.startsWith('.') ? { from: file, to: resolved(file, to), ours: true, typeOnly } : { from: file, to: to.startsWith('node:') ? to : to.split('/').slice(0, to.startsWith('@') ? 2 : 1).join('/'), ours: false, typeOnly });
  }
  return out;
}
function resolved(file: string, to: string): string {
  const path = posix.normalize(posix.join(dirname(file), to));
  return [path.replace(/\.js$/, '.ts'), path, `${path}.ts`, `${path}/index.ts`].find((p) => existsSync(p)) ?? path;
}
