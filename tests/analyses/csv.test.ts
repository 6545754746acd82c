/** RFC 4180 for the form of a table; OWASP's list of formula signs ("CSV Injection") for what a spreadsheet must not take for one. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { cellsOf, csvCell, csvLine, CsvReader, delimiterOf, delimiters, readCsv, withoutGuard, type Delimiter } from '../../services/foundation/csv.js';

const cells = (text: string, delimiter?: Delimiter): (readonly string[])[] => readCsv(text, delimiter).map((row) => row.cells);

describe('a table is read', () => {
  it('by the rules of RFC 4180, section 2', () => {
    expect(cells('aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n')).toEqual([['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]);
    expect(cells('aaa,bbb,ccc\r\nzzz,yyy,xxx')).toEqual([['aaa', 'bbb', 'ccc'], ['zzz', 'yyy', 'xxx']]);
    expect(cells('"aaa","b\r\nbb","ccc"\r\nzzz,yyy,xxx')).toEqual([['aaa', 'b\nbb', 'ccc'], ['zzz', 'yyy', 'xxx']]);
    expect(cells('"aaa","b""bb","ccc"')).toEqual([['aaa', 'b"bb', 'ccc']]);
    expect(cells(' a , b')).toEqual([[' a ', ' b']]);
  });
  it('with inch marks, a BOM, lone line feeds and empty lines', () => {
    const rows = readCsv('\ufeffname,wheel\n\nold,22"\nnew,5\' 3/4"\n');
    expect(rows.map((r) => r.cells)).toEqual([['name', 'wheel'], ['old', '22"'], ['new', '5\' 3/4"']]);
    expect(rows.map((r) => r.line)).toEqual([1, 3, 4]);
    expect(cellsOf('"small" whorl,60', ',').cells).toEqual(['"small" whorl', '60']);
  });
  it('however it is cut into pieces', () => {
    const text = 'a;"b\r\n\r\nc""d";e\r\n1;2"x;3\r\n"open;4\n5;6\n7;8;"9"';
    const whole = readCsv(text, ';');
    fc.assert(fc.property(fc.array(fc.integer({ min: 1, max: 7 }), { minLength: 1 }), (steps) => {
      const reader = new CsvReader(';');
      const rows = [];
      for (let at = 0, i = 0; at < text.length; i++) { const n = steps[i % steps.length]!; rows.push(...reader.push(text.slice(at, at + n))); at += n; }
      rows.push(...reader.end());
      expect(rows).toEqual(whole);
    }), { numRuns: 60 });
  });
  it('without being swallowed by a quote that is never closed', () => {
    const rows = readCsv(`a,b\n"x,1\n${Array.from({ length: 200 }, (_, i) => `r${i},${i}`).join('\n')}\n`);
    expect(rows.length).toBe(202);
    expect(rows[1]).toEqual({ line: 2, text: '"x,1', cells: ['"x,1'], openQuote: true });
    expect(rows.at(-1)!.line).toBe(202);
  });
  it('with the delimiter that its first lines bear out', () => {
    expect(delimiterOf('name,wheel,whorl\na,560 mm,60 mm\n')).toBe(',');
    expect(delimiterOf('name;wheel;whorl\na;56,5 cm;6,0 cm\nb;55,5 cm;6,2 cm\n')).toBe(';');
    expect(delimiterOf('name\twheel, across\twhorl\na\t560\t60\n')).toBe('\t');
    expect(delimiterOf('name\nx\n')).toBe(',');
    expect(delimiterOf('"a;b",c\n"d;e",f\n')).toBe(',');
  });
});

describe('a table is written', () => {
  const any = fc.oneof(fc.string(), fc.string({ unit: fc.constantFrom('"', ',', ';', '\t', '\n', '=', '+', '-', '@', "'", 'a', '1', ' ') }));
  it('so that it reads back the same', () => {
    fc.assert(fc.property(fc.array(any, { minLength: 1, maxLength: 6 }), fc.constantFrom(...delimiters), (row, delimiter) => {
      fc.pre(row.every((c) => !c.includes('\r') && c.split('\n').length < 20 && c.charCodeAt(0) !== 0xfeff) && row.join('') !== '');
      for (const raw of [true, false]) {
        const back = readCsv(csvLine(row, { delimiter, raw }), delimiter);
        expect(back.length).toBe(1);
        expect(back[0]!.cells.map((c) => (raw ? c : withoutGuard(c)))).toEqual(row);
      }
    }), { numRuns: 500 });
  });
  it('so that a spreadsheet takes nothing for a formula', () => {
    for (const text of ['=1+1', '+1+1', '-2+3', '@SUM(A1)', '\t=1', '\r=1', ' =1', '=HYPERLINK("http://x")', '＝1', "=cmd|' /C calc'!A0", '-', '+a']) {
      expect(csvCell(text).replace(/^"/, '').startsWith("'"), JSON.stringify(text)).toBe(true);
      expect(csvCell(text, { raw: true }).replace(/^"/, '').startsWith("'")).toBe(false);
    }
    for (const text of ['-5', '+3,5', '-1.5e-3', '12', '1:9', 'saxony', '.5']) expect(csvCell(text).replaceAll('"', '')).toBe(text);
    expect([csvCell(-5), csvCell(undefined), csvCell(true)]).toEqual(['-5', '', 'true']);
  });
});
