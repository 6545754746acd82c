/** One catalogue of errors: pages, specification and SDK list the same codes, and each is used. */
import { afterAll, describe, expect, it } from 'vitest';
import { catalogue, type ProblemKind } from '../../services/foundation/problems.js';
import { problemCodes } from '../../sdk/src/problems.gen.js';
import { app } from '../support/cases.js';
import { code as sources, text } from '../support/tree.js';

const codes = Object.keys(catalogue).toSorted();
interface Schema { enum?: string[]; properties?: Record<string, Schema>; [key: string]: unknown }
const spec = JSON.parse(text('sdk/openapi.json')) as { components: { schemas: Record<string, Schema> }; paths: Record<string, unknown> };

describe('problems', () => {
  it('specification, SDK and catalogue list the same codes', () => {
    expect([...problemCodes].toSorted()).toEqual(codes);
    const inSpec = spec.components.schemas['Issue']!.properties!['code']!.enum!;
    expect([...inSpec].toSorted()).toEqual(codes);
  });
  it('every code has its page, which says title, meaning and remedy, and no other address does', async () => {
    const escaped = (s: string): string => s.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
    for (const code of codes) {
      const reply = await (await app()).inject({ url: `/problems/${code}` });
      expect(reply.statusCode, code).toBe(200);
      const kind = catalogue[code as keyof typeof catalogue] as ProblemKind;
      const page = reply.body.replaceAll('&#39;', "'").replaceAll('&quot;', '"');
      for (const said of [kind.title, kind.meaning, kind.remedy]) expect(page.includes(escaped(said)) || page.includes(said), `${code}: “${said}”`).toBe(true);
    }
    for (const none of ['missing', 'no-such-problem', 'toString', '__proto__']) {
      const reply = await (await app()).inject({ url: `/problems/${none}` });
      expect(reply.statusCode, none).toBe(404);
    }
  });
  it('every code is used by the service, and every code that the service uses is in the catalogue', () => {
    const services = sources.filter((f) => /^(?:services|db)\//.test(f) && f !== 'services/foundation/problems.ts').map(text).join('\n');
    // A proxy in front of the service may answer with it; its page explains it then.
    const fromElsewhere = ['too-many-requests'];
    expect(codes.filter((code) => !services.includes(`'${code}'`) && !fromElsewhere.includes(code))).toEqual([]);
    const used = [...services.matchAll(/(?:ProblemError\(|\bcode: )'([a-z][\w-]+)'(?: as const)?\s*[,)}]/g)].map((m) => m[1]!);
    expect(used.length).toBeGreaterThan(60);
    const thrown = [...services.matchAll(/ProblemError\('([\w-]+)'/g)].map((m) => m[1]!);
    expect(thrown.filter((code) => !codes.includes(code))).toEqual([]);
  });
  it('every code is worded for a person: sentences, no blame, no jargon of the machine', () => {
    for (const kind of Object.values(catalogue) as ProblemKind[]) {
      for (const said of [kind.meaning, kind.remedy]) {
        expect(said, kind.code).toMatch(/^[A-Z“/±][^]*[.?)]$/);
        expect(said, kind.code).not.toMatch(/!|\b(?:you failed|illegal|fatal|exception|stack|undefined|NaN|SQL)\b/i);
      }
      expect(kind.title, kind.code).not.toMatch(/[.!]$/);
      expect(kind.status >= 400 && kind.status < 600).toBe(true);
    }
  });
  afterAll(async () => { await (await app()).close(); });
});
