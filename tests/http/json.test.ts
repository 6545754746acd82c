import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ProblemError } from '../../services/foundation/problems.js';
import { deepest, parseJson, parseJsonBody } from '../../services/http/json.js';
import { inspect } from '../../services/http/json-places.js';

const problemOfText = (text: string | Buffer): ProblemError => {
  try {
    if (typeof text === 'string') parseJson(text);
    else parseJsonBody(text);
  } catch (error) {
    expect(error).toBeInstanceOf(ProblemError);
    return error as ProblemError;
  }
  throw new Error(`read without complaint: ${String(text).slice(0, 80)}`);
};
/** Valid JSON as other programs write it: other spacing, escapes, spellings of numbers. */
const spelled = fc.json({ maxDepth: 6 }).chain((text) =>
  fc.constantFrom((t: string) => t, (t: string) => ` \n${t}\t\r`, (t: string) => JSON.stringify(JSON.parse(t), null, 3),
    (t: string) => t.replace(/[\u0080-\uffff]/g, (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`)).map((f) => f(text)));
/** An object whose names are distinct, as text, from a list of names and values. */
const member = fc.tuple(fc.oneof(fc.string({ maxLength: 6 }), fc.constantFrom('a', 'b:', '"', '\\', '__proto__', 'constructor', '1', '0')), fc.jsonValue({ maxDepth: 2 }));
const written = (members: readonly (readonly [string, unknown])[]): string => `{${members.map(([k, v]) => `${JSON.stringify(k)}:${JSON.stringify(v)}`).join(',')}}`;

describe('what is JSON is read as the engine reads it', () => {
  it('any value, however it is spelled', () => {
    fc.assert(fc.property(spelled, (text) => { expect(parseJson(text)).toEqual(JSON.parse(text)); }), { numRuns: 1000 });
  });
  it('the careful reader agrees with the engine on what is JSON', () => {
    const mutated = fc.tuple(spelled, fc.nat(), fc.constantFrom('', '"', ',', ':', '{', '}', '[', ']', '\\', '\n', '0', '-', '.', 'e', 'null', '\u0001', '\u2028', '//', "'", '+'), fc.nat(3))
      .map(([text, at, sign, cut]) => { const i = at % (text.length + 1); return text.slice(0, i) + sign + text.slice(i + cut); });
    fc.assert(fc.property(mutated, (text) => {
      let engine = true;
      try { JSON.parse(text); } catch { engine = false; }
      let code: string | undefined;
      try { inspect(text, 1000); } catch (error) { code = (error as ProblemError).code; }
      expect(code === 'invalid-json').toBe(!engine);
    }), { numRuns: 3000 });
  });
  it('refuses exactly the objects in which a name stands twice, whatever else they hold', () => {
    fc.assert(fc.property(fc.array(member, { maxLength: 8 }), (members) => {
      const distinct = new Set(members.map(([k]) => k)).size === members.length;
      const text = `[{"outer": ${written(members)}}, ${written([])}]`;
      if (distinct) expect(parseJson(text)).toEqual(JSON.parse(text));
      else expect(problemOfText(text).code).toBe('duplicate-key');
    }), { numRuns: 2000 });
  });
});

describe('what is refused, and where', () => {
  const cases: [string, string, string, RegExp, string][] = [
    ['a missing bracket', '{"wheel": {', 'invalid-json', /end of the body, line 1, column 12/, '/wheel'],
    ['trailing junk', '{} x', 'invalid-json', /^x, line 1, column 4/, ''],
    ['a trailing comma', '{"a": 1,\n}', 'invalid-json', /^}, line 2, column 1/, ''],
    ['single quotes', "{'a': 1}", 'invalid-json', /column 2/, ''],
    ['a raw control sign in text', '{"a": "x\u0000y"}', 'invalid-json', /U\+0000, line 1, column 9/, '/a'],
    ['a bad escape', '["\\x41"]', 'invalid-json', /column 3/, '/0'],
    ['a comment', '{"a": 1 /* b */}', 'invalid-json', /column 9/, ''],
    ['NaN', '{"a": NaN}', 'invalid-json', /^NaN/, '/a'],
    ['a hexadecimal number', '{"a": 0x10}', 'invalid-json', /^0x10/, '/a'],
    ['a leading zero', '[012]', 'invalid-json', /^012/, '/0'],
    ['a leading plus', '[+1]', 'invalid-json', /^\+1/, '/0'],
    ['a byte order mark', '\ufeff{}', 'invalid-json', /byte order mark/, ''],
    ['nothing', ' ', 'invalid-json', /end of the body/, ''],
    ['a number beyond what can be held', '{"a": [1, 1e400]}', 'number-too-large', /^1e400, line 1, column 11/, '/a/1'],
    ['a negative one', '-1e400', 'number-too-large', /-1e400/, ''],
    ['a name twice', '{"a": 1,\n "a": 2}', 'duplicate-key', /^line 2, column 2/, '/a'],
    ['a name twice, once escaped', '{"a":1,"\\u0061":2}', 'duplicate-key', /column 8/, '/a'],
    ['a name twice, deep, beside a colon in text', '[{"x":{"b/~":"9:1","b/~":{}}}]', 'duplicate-key', /column 20/, '/0/x/b~1~0'],
    ['lists nested too deeply', '['.repeat(deepest + 1) + ']'.repeat(deepest + 1), 'too-deep', /column 33/, '/0'.repeat(deepest)],
  ];
  it.each(cases)('%s', (_name, text, code, received, pointer) => {
    const problem = problemOfText(text);
    expect(problem.code).toBe(code);
    expect(problem.status).toBe(400);
    expect(problem.issues).toHaveLength(1);
    expect(problem.issues[0]!.received).toMatch(received);
    expect(problem.issues[0]!.pointer).toBe(pointer);
    expect(problem.issues[0]!.expected).toBeTruthy();
  });
  it('bytes that are not UTF-8, and an empty body', () => {
    expect(problemOfText(Buffer.from([0x22, 0xff, 0x22])).issues[0]!.detail).toMatch(/UTF-8/);
    expect(problemOfText(Buffer.from([0x22, 0xed, 0xa0, 0x80, 0x22])).code).toBe('invalid-json');
    expect(problemOfText(Buffer.alloc(0)).issues[0]!.detail).toMatch(/empty/);
  });
  it('names several at once, and not more than fifty', () => {
    const problem = problemOfText('{"a":1,"a":2,"b":1e999}');
    expect(problem.code).toBe('invalid-request');
    expect(problem.issues.map((i) => i.code)).toEqual(['duplicate-key', 'number-too-large']);
    expect(problemOfText(`[${'1e999,'.repeat(200)}1]`).issues).toHaveLength(50);
  });
  it('takes nesting up to the limit', () => {
    expect(() => parseJson('['.repeat(deepest) + ']'.repeat(deepest))).not.toThrow();
  });
});

describe('names that mean something to the engine', () => {
  it('stay plain data', () => {
    const value = parseJson('{"__proto__": {"polluted": true}, "constructor": {"prototype": {"polluted": true}}}') as Record<string, unknown>;
    expect(Object.hasOwn(value, '__proto__')).toBe(true);
    expect(Object.getPrototypeOf(value)).toBe(Object.prototype);
    expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  });
});

describe('a hostile body costs little', () => {
  const within = (text: string): number => {
    const before = performance.now();
    try { parseJson(text); } catch (error) { expect(error).toBeInstanceOf(ProblemError); }
    return performance.now() - before;
  };
  it.each([
    ['a megabyte of brackets', '['.repeat(1_000_000)],
    ['a megabyte of one text with colons', JSON.stringify(':'.repeat(1_000_000))],
    ['a megabyte of one name', `{${'"a":1,'.repeat(170_000)}"a":1}`],
    ['a megabyte of lines', `{${'"a":\n\n\n\n1,'.repeat(100_000)}"a":1}`],
    ['a megabyte of escapes', `["${'\\u0041'.repeat(166_000)}:"]`],
  ])('%s', (_name, text) => { expect(within(text)).toBeLessThan(1500); });
});
