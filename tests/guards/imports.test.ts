/** Who may import whom. A room that reaches where it should not is named, with the line it would take to allow it. */
import { describe, expect, it } from 'vitest';
import { code, importsOf, text, type Import } from '../support/tree.js';

const foundation = /^services\/foundation\//;
const reference = /^services\/reference\//;
const slice = '^services\\/calculations\\/[\\w-]+\\/';
const formula = new RegExp(`${slice}formula\\.ts$`);
/** Answers, and the files that an answer or a picture is made of. */
const answer = new RegExp(`${slice}(?!contract|fields)[\\w-]+\\.ts$`);
const sharedByAnswers = /^services\/calculations\/(?!index)[\w-]+\.ts$/;
const contract = new RegExp(`${slice}contract\\.ts$`);
const fields = new RegExp(`${slice}fields\\.ts$`);
const pureWheels = /^services\/(?:wheels\/(?:profile|parts|words|flat|rules|finding|similar|thornmere)|(?:guilds|history)\/rules|transfer\/table)\.ts$/;
/** All that knows tables of wheels and no door: the same in a worker, in the command and in a test. */
const pureAnalyses = /^services\/analyses\/(?!store|route|work|judge|judge-thread|operations|contract)[\w-]+\.ts$/;
const pureCards = /^services\/cards\/(?:card|opens)\.ts$/;
const pureMeasurements = /^services\/measurements\/(?:measurement|combine|coast-down|gives|effective)\.ts$/;
const pureLoans = /^services\/loans\/(?:loan|care)\.ts$/;
const wheelSchema = /^services\/wheels\/(?:schema|contract)\.ts$/;
const parts = /^services\/parts\.ts$/;
const stores = /^services\/[\w-]+\/store\.ts$/;
const db = /^db\//;
const doors = /^services\/(?:http|pages)\/|^services\/[\w-]+\/(?:route|work|judge|judge-thread|operations)\.ts$/;
const list = /^services\/calculations\/index\.ts$/;
const generated = /^sdk\/(?:src|embeds\/each)\/[\w-]+\.gen\.ts$/;

interface Rule { readonly room: string; readonly files: RegExp; readonly may: readonly RegExp[]; readonly packages?: readonly (string | RegExp)[]; /** Only as types. */ readonly types?: readonly (string | RegExp)[] }
const rules: readonly Rule[] = [
  { room: 'foundation', files: foundation, may: [foundation] },
  { room: 'reference', files: reference, may: [foundation, reference] },
  { room: 'formula', files: formula, may: [foundation, reference, formula] },
  { room: 'fields', files: fields, may: [foundation, reference, /^services\/wheels\/(?:flat|words)\.ts$/] },
  { room: 'contract', files: contract, may: [foundation, reference, parts, answer, wheelSchema, /^services\/wheels\/words\.ts$/], packages: ['zod'] },
  { room: 'answer and picture', files: answer, may: [foundation, reference, answer, sharedByAnswers, /^services\/wheels\/(?:profile|words)\.ts$/] },
  { room: 'what answers share', files: sharedByAnswers, may: [foundation, reference, answer, sharedByAnswers, /^services\/wheels\/(?:profile|words)\.ts$/], types: ['zod'] },
  { room: 'the list', files: list, may: [answer, contract, fields, sharedByAnswers, foundation] },
  { room: 'rules of wheels', files: pureWheels, may: [foundation, reference, formula, answer, pureWheels, pureMeasurements, sharedByAnswers], packages: ['node:util'] },
  { room: 'rules of loans', files: pureLoans, may: [foundation, pureWheels, pureLoans], packages: ['node:util'] },
  { room: 'rules of measurements', files: pureMeasurements, may: [foundation, answer, pureWheels, pureMeasurements] },
  { room: 'contract of wheels and guilds', files: /^services\/(?:wheels|guilds|history|cards|measurements|loans|analyses|transfer)\/(?:schema|contract)\.ts$/, may: [foundation, parts, pureWheels, pureCards, pureMeasurements, pureLoans, wheelSchema], packages: ['zod'] },
  { room: 'rules of cards', files: pureCards, may: [foundation, reference, answer, pureWheels, pureCards], packages: ['node:util'] },
  { room: 'analyses of tables', files: pureAnalyses, may: [foundation, reference, formula, answer, pureWheels, pureAnalyses], packages: ['node:crypto', 'node:zlib'] },
  { room: 'stores', files: stores, may: [foundation, pureWheels, pureCards, pureMeasurements, pureLoans, pureAnalyses, db, /^services\/(?:wheels|finding|guilds|history|cards|measurements|loans|analyses)\/(?!route)[\w-]+\.ts$/, /^services\/http\/store\.ts$/], packages: ['drizzle-orm', 'node:crypto', 'node:zlib'] },
  { room: 'shared contract parts', files: parts, may: [foundation], packages: ['zod'] },
  { room: 'doors', files: doors, may: [foundation, reference, answer, sharedByAnswers, fields, contract, list, pureWheels, wheelSchema, parts, doors, /^services\/(?:wheels|guilds|history|cards|measurements|loans|analyses|transfer)\//, /^services\/(?:library|later|threads)\.ts$/, /^sdk\/embeds\/[\w-]+\.ts$/], packages: ['zod', 'fastify', /^@fastify\//, 'prom-client', /^node:/] },
  { room: 'sdk', files: /^sdk\/src\/|^sdk\/embeds\/.*\.ts$/, may: [/^sdk\/(?:src|embeds)\//, pureAnalyses, answer, sharedByAnswers, fields, foundation, reference, pureWheels, generated], packages: ['undici', /^node:/] },
  { room: 'db', files: db, may: [db, foundation, pureWheels, /^services\/(?:wheels|guilds)\/(?!route|contract|store)[\w-]+\.ts$/, /^services\/config\.ts$/, /^services\/(?:library|threads)\.ts$/], packages: ['drizzle-orm', 'drizzle-kit', 'postgres', '@electric-sql/pglite', /^node:/] },
];
const ruled = code.filter((f) => /^(?:services|db|sdk\/src|sdk\/embeds)\//.test(f) && !f.endsWith('.mjs'));
const ruleOf = (file: string): Rule | undefined => rules.find((r) => r.files.test(file));
const fits = (to: string, list2: readonly (string | RegExp)[] = []): boolean => list2.some((p) => (typeof p === 'string' ? p === to : p.test(to)));

function trespass(rule: Rule, i: Import): boolean {
  if (i.ours) return !rule.may.some((p) => p.test(i.to));
  return !fits(i.to, rule.packages) && !(i.typeOnly && fits(i.to, rule.types));
}

describe('import rules', () => {
  it('every room keeps to its table', () => {
    const broken: string[] = [];
    let checked = 0;
    for (const file of ruled) {
      const rule = ruleOf(file);
      if (rule === undefined) continue;
      for (const i of importsOf(file)) {
        checked++;
        if (trespass(rule, i)) broken.push(`${file} (${rule.room}) imports ${i.to}`);
      }
    }
    expect(broken).toEqual([]);
    expect(checked).toBeGreaterThan(400);
  });
  it('leaves out only what puts the rooms together', () => {
    expect(ruled.filter((f) => ruleOf(f) === undefined && !/^services\/(?:main|worker|config|library|later|threads|write-openapi|guilds\/(?:keys|make-key|caller)|wheels\/cursor)\.ts$/.test(f))).toEqual([]);
  });
  it('every room has files', () => {
    expect(rules.filter((r) => !ruled.some((f) => ruleOf(f) === r)).map((r) => r.room)).toEqual([]);
  });
  it('formulas and answers know no clock, chance, environment, file or network', () => {
    const pure = ruled.filter((f) => [foundation, reference, answer, sharedByAnswers, fields, pureWheels].some((p) => p.test(f)));
    const found = pure.flatMap((f) => (/new Date\b|\bDate\.now|Math\.random|\bprocess\.|\bconsole\.|\bperformance\.|\bfetch\(|\bsetTimeout|\bcrypto\.|\bglobalThis\b/.exec(text(f).replace(/\/\*[\s\S]*?\*\/|\/\/.*|'(?:[^'\\\n]|\\.)*'|`[^`]*`/g, '')) ?? []).map((x) => `${f}: ${x}`));
    expect(found).toEqual([]);
    expect(pure.length).toBeGreaterThan(40);
  });
  it('SQL stands in stores and in db alone', () => {
    const holders = ruled.filter((f) => importsOf(f).some((i) => /^(?:drizzle-orm|postgres|@electric-sql\/pglite)$/.test(i.to)));
    expect(holders.filter((f) => !db.test(f) && !stores.test(f) && f !== 'services/library.ts')).toEqual([]);
  });
  it('nothing that a browser gets reaches zod, a store, the database or HTTP', () => {
    const starts = ruled.filter((f) => /^sdk\/src\/(?:index|offline)\.ts$|^sdk\/embeds\/.*\.ts$/.test(f));
    expect(starts.length).toBeGreaterThan(3);
    const seen = new Set<string>();
    const trail: string[] = [];
    const visit = (file: string): void => {
      if (seen.has(file)) return;
      seen.add(file);
      for (const i of importsOf(file)) {
        if (i.typeOnly) continue;
        if (!i.ours) { trail.push(`${file} imports ${i.to}`); continue; }
        if (stores.test(i.to) || db.test(i.to) || doors.test(i.to) || parts.test(i.to) || contract.test(i.to)) trail.push(`${file} imports ${i.to}`);
        else visit(i.to);
      }
    };
    starts.forEach(visit);
    expect(trail).toEqual([]);
    expect(seen.size).toBeGreaterThan(30);
  });
});
