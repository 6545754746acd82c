/** What lies where, how long it is, and what must not be said anywhere. */
import { describe, expect, it } from 'vitest';
import { code, files, isGenerated, text } from '../support/tree.js';

const mayLieAtTheRoot = ['README.md', 'DEVELOPERS.md', 'LICENSE', 'package.json', 'package-lock.json', 'tsconfig.json', 'docker-compose.yml', 'services', 'sdk', 'db', 'tests'];
// Put together here, so that this file does not hold what it looks for.
const said = (...pieces: string[]): string => pieces.join('');
const forbidden: readonly [RegExp, string][] = [
  [new RegExp(said('registry', '\\.npm', 'js|npm', 'js\\.(?:org|com)|registry\\.yarn', 'pkg')), 'a registry host'],
  [new RegExp(said('/wo', 'rk/|/ro', 'ot/|/home/\\w|/Us', 'ers/\\w')), 'a path of one machine'],
  [new RegExp(said('\\.\\./sha', 'red')), 'a folder outside the project'],
  [new RegExp(said('\\b(?:TO', 'DO|FIX', 'ME|XX', 'X)\\b')), 'a promise instead of work'],
];

describe('the tree', () => {
  it('holds at its root only what belongs there', () => {
    const top = [...new Set(files.map((f) => f.split('/')[0]!))].filter((name) => !name.startsWith('.'));
    expect(top.filter((name) => !mayLieAtTheRoot.includes(name))).toEqual([]);
    expect(top.length).toBeGreaterThan(6);
  });
  it('has no room called utils or helpers, and no file called so', () => {
    expect(files.filter((f) => /(?:^|\/)(?:utils?|helpers?|misc|common)(?:\/|\.\w+$)/.test(f))).toEqual([]);
  });
  it('hand-written code stays under 400 lines, tests under 300', () => {
    const long = code.filter((f) => !isGenerated(f)).map((f) => [f, text(f).split('\n').length] as const).filter(([f, n]) => n > (f.startsWith('tests/') ? 300 : 400));
    expect(long).toEqual([]);
    expect(code.length).toBeGreaterThan(100);
  });
  it('keeps no test that cannot fail or does not run', () => {
    const tests = files.filter((f) => f.endsWith('.test.ts'));
    expect(tests.filter((f) => new RegExp(said('\\b(?:it|test|describe)\\.(?:sk', 'ip|to', 'do|on', 'ly)\\b')).test(text(f)))).toEqual([]);
    expect(tests.filter((f) => !/\bexpect\b|\brunCases\b|\bfc\.assert\b/.test(text(f)))).toEqual([]);
    expect(tests.length).toBeGreaterThan(20);
  });
  it('says nothing that must not be said', () => {
    const found: string[] = [];
    for (const file of files) {
      if (/\.(?:png|ico|woff2?|tgz|gz)$/.test(file)) continue;
      for (const [n, line] of text(file).split('\n').entries()) for (const [pattern, what] of forbidden) if (pattern.test(line)) found.push(`${file}:${n + 1}: ${what}`);
    }
    expect(found).toEqual([]);
  });
  it('names no host in its lock file', () => {
    expect(text('package-lock.json')).not.toMatch(/"resolved": "http/);
  });
  it('pins every package to one version', () => {
    const { dependencies, devDependencies } = JSON.parse(text('package.json')) as Record<string, Record<string, string>>;
    expect(Object.entries({ ...dependencies, ...devDependencies }).filter(([, version]) => !/^(?:npm:[a-z-]+@)?\d+\.\d+\.\d+$/.test(version))).toEqual([]);
  });
});
