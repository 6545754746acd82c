/** No pattern of ours can be made to run for long by what it reads (ReDoS): each is looked at by an analyser of regular expressions. */
import { checkSync } from 'recheck';
import ts from 'typescript';
import { expect, it } from 'vitest';
import { kindNames, type Kind } from '../../services/foundation/quantity.js';
import { readRatioText } from '../../services/foundation/read-ratio.js';
import { readText } from '../../services/foundation/read-text.js';
import { code, text } from '../support/tree.js';

const files = code.filter((file) => /^(?:services|db|sdk\/src|sdk\/embeds)\//.test(file) && /\.ts$/.test(file));

interface Pattern { readonly file: string; readonly line: number; readonly source: string; readonly flags: string }
function patternsOf(file: string): Pattern[] {
  const tree = ts.createSourceFile(file, text(file), ts.ScriptTarget.Latest, true);
  const found: Pattern[] = [];
  const visit = (node: ts.Node): void => {
    if (node.kind === ts.SyntaxKind.RegularExpressionLiteral) {
      const whole = (node as ts.RegularExpressionLiteral).text;
      const end = whole.lastIndexOf('/');
      found.push({ file, line: tree.getLineAndCharacterOfPosition(node.getStart()).line + 1, source: whole.slice(1, end), flags: whole.slice(end + 1) });
    }
    ts.forEachChild(node, visit);
  };
  visit(tree);
  return found;
}

/** What these read is a measure of at most 200 signs, refused unread when it is longer: there the square of the length is a bound. */
const boundedText = /^(?:services\/foundation\/(?:read-text|read-ratio|per-unit|quantity|yarn-number|numerals)|sdk\/embeds\/numbers)\.ts$/;

const attacks: string[] = [];
it('no pattern runs for longer than what it reads grows, but for measures, which are short', () => {
  const patterns = files.flatMap(patternsOf);
  expect(patterns.length).toBeGreaterThan(100);
  const known = new Map<string, string>();
  const bad: string[] = [];
  for (const { file, line, source, flags } of patterns) {
    const key = `/${source}/${flags}`;
    let status = known.get(key);
    if (status === undefined) {
      const found = checkSync(source, flags, { timeout: 10_000 });
      status = found.status === 'vulnerable' ? found.complexity.summary : found.status;
      if (found.status === 'vulnerable') attacks.push(found.attack.string);
      known.set(key, status);
    }
    if (status !== 'safe' && !(boundedText.test(file) && status.startsWith('2nd degree'))) bad.push(`${file}:${line} ${key} ${status}`);
  }
  console.log(`${patterns.length} patterns, ${known.size} of them different, ${attacks.length} that go by the square of a measure's length`);
  expect(bad).toEqual([]);
}, 300_000);

it('the texts that are worst for them are read or refused like any other', () => {
  expect(attacks.length).toBeGreaterThan(0);
  let slowest = 0;
  const pieces = [...attacks.map((text) => text.slice(0, 200)), ...[' ', '1', 'a', '(', '-', 'to ', '1/', ',', '1 ', '±', '\t ', 'or so ', '1:', "1'", '½'].map((piece) => piece.repeat(200).slice(0, 199))];
  for (const text of pieces) {
    for (const kind of [...kindNames, 'number'] as const) {
      const began = performance.now();
      readText(text, kind as Kind);
      readText(`${text.slice(0, 198)}!`, kind as Kind);
      slowest = Math.max(slowest, performance.now() - began);
    }
    readRatioText(text.slice(0, 200));
  }
  expect(readText('1'.repeat(201), 'part')).toMatchObject({ code: 'unreadable-quantity' });
  console.log(`the slowest of ${pieces.length} such texts took ${slowest.toFixed(1)} ms`);
});
