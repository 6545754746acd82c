/** README and DEVELOPERS say what is: links lead somewhere, commands and variables exist, the accuracy table is today's. */
import { existsSync } from 'node:fs';
import { dirname, posix } from 'node:path';
import { describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { settings } from '../../services/config.js';
import { accuracy } from '../support/accuracy.js';
import { files, text } from '../support/tree.js';

const documents = files.filter((f) => f.endsWith('.md'));
const readme = text('README.md');
const scripts = Object.keys((JSON.parse(text('package.json')) as { scripts: Record<string, string> }).scripts);
/** Anchors as the usual renderers make them of headings. */
const anchors = (file: string): string[] => [...text(file).matchAll(/^#+\s+(.*)$/gm)].map((m) => m[1]!.toLowerCase().replace(/[^\w\s-]/g, '').trim().replaceAll(' ', '-'));

describe('documents', () => {
  it('lead only to files and headings that are there', () => {
    const broken: string[] = [];
    let links = 0;
    for (const file of documents) {
      for (const m of text(file).matchAll(/\]\(([^)\s]+)\)/g)) {
        if (/^(?:https?:|mailto:)/.test(m[1]!)) continue;
        links++;
        const [path, anchor] = m[1]!.split('#') as [string, string?];
        const to = path === '' ? file : posix.normalize(posix.join(dirname(file), path));
        if (!existsSync(to) || (anchor !== undefined && !anchors(to).includes(anchor))) broken.push(`${file}: ${m[1]}`);
      }
    }
    expect(broken).toEqual([]);
    expect(links).toBeGreaterThan(2);
  });
  it('name only commands that package.json has, and files and folders that exist', () => {
    for (const file of documents) {
      for (const m of text(file).matchAll(/\bnpm run ([\w:-]+)/g)) expect(scripts, `${file}: npm run ${m[1]}`).toContain(m[1]);
      for (const m of text(file).matchAll(/`((?:services|db|sdk|tests|\.ci)\/[\w./-]*)`/g)) {
        // A pattern such as tests/calculations/<slice> is no path.
        if (!m[1]!.includes('..')) expect(existsSync(m[1]!), `${file}: ${m[1]}`).toBe(true);
      }
    }
  });
  it('give every variable of the service, with its default, and no other', () => {
    const rows = [...readme.matchAll(/^\| `([A-Z][A-Z_]+)` \| (?:`([^`]*)`)? ?\|/gm)].map((m) => [m[1], m[2] ?? '']);
    expect(rows).toEqual(Object.entries(settings).map(([name, s]) => [name, s.default]));
  });
  it('give every question', () => {
    for (const c of calculations) expect(readme, c.id).toContain(`\`/v1/${c.id}\``);
  });
  it('say Node as package.json has it, and the licence', () => {
    const pack = JSON.parse(text('package.json')) as { engines: { node: string }; license: string };
    expect(readme).toContain(pack.engines.node.replace('>=', ''));
    expect(readme).toContain(pack.license);
    expect(text('LICENSE')).toContain(`${pack.license} License`);
  });
  it('show the accuracy that is measured: npm run accuracy -- --write', async () => {
    const { table, sources } = await accuracy();
    expect(/<!-- accuracy -->\n([^]*)\n<!-- \/accuracy -->/.exec(readme)?.[1]).toBe(table);
    expect(sources).toBeGreaterThanOrEqual(30);
  });
  it('stand in the language of the trade: no exclamation, no promise', () => {
    for (const file of documents) expect(text(file).replace(/```[^]*?```|`[^`]*`|<!--[^]*?-->|!\[/g, ''), file).not.toMatch(/[a-z]!(?:\s|$)|\bcoming soon\b|\bwill be added\b|\bnot yet implemented\b/i);
  });
});
