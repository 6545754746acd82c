/** What is built of the embeds: sizes, hashes, and what must not be in them. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { gzipSync } from 'node:zlib';
import { beforeAll, describe, expect, it } from 'vitest';
import { calculations } from '../../services/calculations/index.js';
import { catalogue } from '../../services/foundation/problems.js';
import { tell } from '../../services/foundation/telling.js';
import { localNumber } from '../../sdk/embeds/numbers.js';

const root = fileURLToPath(new URL('../../', import.meta.url));
const folder = `${root}dist/embeds/`;
/** What loads before the form stands and can be typed in: the element's own file and all that it imports at once. */
const first = 12 * 1024;
/** Eighty signs stand in its form: a known shortfall. */
const longForms: Readonly<Record<string, number>> = { diagnosis: 13.8 * 1024 };
/** What loads next, by itself: formulas, notes and labels of its own. Those that have outgrown it are known shortfalls, each held near where it stands. */
const outgrown: Readonly<Record<string, number>> = { diagnosis: 27 * 1024, grist: 17.5 * 1024, ply: 23 * 1024, tension: 18 * 1024, 'draft-cycle': 27 * 1024, sample: 30 * 1024, setups: 57 * 1024 };
const answers = (id: string): number => outgrown[id] ?? 16 * 1024;
/** What all answers share: the reader of measures and wheels, units and uncertainty. */
const reader = 23 * 1024;
/** All that comes before the first answer, of those that are asked for most; 12 kB are wanted: a known shortfall. */
const untilAnswered: Readonly<Record<string, number>> = { ratio: 44 * 1024, 'take-up': 45 * 1024, 'drive-band': 46 * 1024, twist: 50 * 1024 };

describe('built embeds', () => {
  let files: string[];
  const read = (name: string): Buffer => readFileSync(`${folder}${name}`);
  beforeAll(() => {
    execFileSync(process.execPath, ['sdk/embeds/build.mjs'], { cwd: root });
    files = readdirSync(folder).filter((f) => f.endsWith('.js'));
  });

  const zipped = (name: string): number => gzipSync(read(name), { level: 9 }).length;
  const named = (start: string): string => { const [name, ...more] = files.filter((f) => f.startsWith(start)); expect(more).toEqual([]); return name!; };
  /** Files that a file imports at once, itself among them. */
  const atOnce = (name: string, found = new Set<string>()): Set<string> => {
    if (found.has(name)) return found;
    found.add(name);
    for (const [, to] of read(name).toString('utf8').matchAll(/(?:from|import)\s*["']\.\/([\w-]+\.js)["']/g)) atOnce(to!, found);
    return found;
  };

  it('there is one for each calculation', () => expect(files.filter((f) => !/-(?:answer|picture|de|fr|sv|ar)-|^(?:shell|reader)-|^play\.js$/.test(f)).toSorted()).toEqual(calculations.map((c) => `${c.id}.js`).toSorted()));
  it('the form stands after 12 kB gzipped at most, all files together', () => {
    for (const { id } of calculations) {
      const all = [...atOnce(`${id}.js`)];
      expect(all.length, id).toBe(2);
      expect(all.map(zipped).reduce((a, b) => a + b), id).toBeLessThanOrEqual(longForms[id] ?? first);
    }
  });
  it('what answers is held where it stands, and so is what all answers share', () => {
    for (const { id } of calculations) {
      const answer = named(`${id}-answer-`);
      expect(zipped(answer), id).toBeLessThanOrEqual(answers(id));
      for (const f of atOnce(answer)) expect(f).toMatch(new RegExp(`^(?:${id}-answer|shell|reader)-`));
    }
    expect(zipped(named('reader-'))).toBeLessThanOrEqual(reader);
    for (const [id, most] of Object.entries(untilAnswered)) expect([...new Set([...atOnce(`${id}.js`), ...atOnce(named(`${id}-answer-`))])].map(zipped).reduce((a, b) => a + b), id).toBeLessThanOrEqual(most);
  });
  it('every error that an answer raises is in the short catalogue that browsers get', () => {
    // Codes of warnings stand in no catalogue.
    const codes = new Set(files.flatMap((f) => [...read(f).toString('utf8').matchAll(/\bcode:"([a-z-]+)"/g)].map(([, code]) => code as keyof typeof catalogue)).filter((code) => code in catalogue));
    expect(codes.size).toBeGreaterThan(10);
    const raised = readFileSync(`${folder}${named('reader-')}`, 'utf8') + readFileSync(`${folder}${named('shell-')}`, 'utf8');
    expect([...codes].filter((code) => !raised.includes(`"${code}":{status:${catalogue[code].status}}`))).toEqual([]);
  });
  it('a picture, which comes last, is at most 5 kB', () => {
    const pictures = files.filter((f) => f.includes('-picture-'));
    expect(pictures.length).toBeGreaterThan(3);
    for (const f of pictures) expect(zipped(f), f).toBeLessThanOrEqual(5 * 1024);
  });
  it('an element carries the labels of its own calculation, and of no other', async () => {
    for (const { id, answer, contract } of calculations) {
      const { tell: own } = (await import(`${folder}${named(`${id}-answer-`)}`)) as { tell: typeof tell };
      const { result } = answer(contract.example);
      expect(own(id, result, contract.example), id).toEqual(tell(id, result, contract.example));
    }
    expect(read(named('ratio-answer-')).toString('utf8')).not.toContain('Yorkshire skein');
    expect(read(named('grist-answer-')).toString('utf8')).toContain('Yorkshire skein');
  }, 60_000);
  it('has the hash of every file published', () => {
    const published = JSON.parse(readFileSync(`${folder}integrity.json`, 'utf8')) as Record<string, string>;
    expect(Object.keys(published).toSorted()).toEqual(files.toSorted());
    for (const f of files) expect(published[f]).toBe(`sha384-${createHash('sha384').update(read(f)).digest('base64')}`);
  });
  it('holds nothing of zod, of error pages, of storage or of cookies, and no markup made of text', () => {
    const whole = files.map((f) => read(f).toString('utf8')).join('\n');
    for (const text of ['ZodError', 'localStorage', 'sessionStorage', 'document.cookie', 'innerHTML', 'insertAdjacentHTML', 'eval(', 'new Function', catalogue['missing-unit'].remedy, catalogue['internal-error'].title]) expect(whole).not.toContain(text);
    expect(whole).not.toMatch(/https?:\/\/(?!www\.w3\.org\/2000\/svg)/);
  });
  it('is the same each time it is built', () => {
    const before = readFileSync(`${folder}integrity.json`, 'utf8');
    execFileSync(process.execPath, ['sdk/embeds/build.mjs'], { cwd: root });
    expect(readFileSync(`${folder}integrity.json`, 'utf8')).toBe(before);
  }, 60_000);
});

describe('numbers as they are written where the page is read', () => {
  it.each([
    ['en', '560.5 mm', '560.5 mm'], ['en', '3,000', '3,000'], ['en', '1,234.5', '1,234.5'], ['en-GB', '22 1/16', '22 1/16'],
    ['de', '560,5 mm', '560.5 mm'], ['de', '1.234,5', '1234.5'], ['de', '3,000', '3.000'], ['de', '1.234.567', '1234567'], ['de', '560.5', '560.5'], ['de', '18-20', '18-20'], ['de', '560 ± 0,5 mm', '560 ± 0.5 mm'],
    ['fr', '1\u202f234,5', '1234.5'], ['fr', '560,5 mm', '560.5 mm'], ['fr', '1\u00a0234,5 mm', '1234.5 mm'],
    ['sv', '560,5 mm', '560.5 mm'], ['sv', '1\u00a0234,5', '1234.5'],
    ['ar', '٥٦٠٫٥ mm', '560.5 mm'], ['ar', '٦٠', '60'], ['fa', '۵۶۰', '560'], ['not a language!', '560.5', '560.5'],
  ])('%s: %s is %s', (lang, typed, read) => expect(localNumber(typed, lang)).toBe(read));
});
