/** Reads a JSON text sign by sign to say where it breaks the rules. Slow and exact; only a text that looks wrong comes here. */
import { mostIssues, problemOf, ProblemError, type Issue, type ProblemCode } from '../foundation/problems.js';

const spaces = /[\x20\t\n\r]*/y;
const number = /-?(?:0|[1-9]\d*)(?:\.\d+)?(?:[eE][+-]?\d+)?/y;
const word = /[\w$+.-]+/y;
const escape = /\\(?:["\\/bfnrt]|u[0-9a-fA-F]{4})/y;

class Broken extends Error {}

class Inspector {
  private at = 0;
  private line = 1;
  private lineStart = 0;
  readonly issues: Issue[] = [];
  private readonly path: string[] = [];
  constructor(private readonly text: string, private readonly deepest: number) {}

  read(): void {
    if (this.text.codePointAt(0) === 0xfeff) this.broken('A byte order mark', 'a value without one');
    this.value(0);
    this.skip(spaces);
    if (this.at < this.text.length) this.broken(this.here(), 'nothing after the value');
  }

  private value(depth: number): void {
    this.skip(spaces);
    const c = this.text[this.at];
    if (c === '{' || c === '[') {
      if (depth >= this.deepest) {
        this.note('too-deep', `The body is nested more than ${this.deepest} deep.`, this.place(), `at most ${this.deepest} lists or objects within each other`);
        throw problemOf(this.issues);
      }
      this.at++;
      if (c === '{') this.object(depth + 1);
      else this.list(depth + 1);
    } else if (c === '"') this.string();
    else if (c === '-' || (c !== undefined && c >= '0' && c <= '9')) this.number();
    else {
      const found = this.peek(word);
      if (found === 'true' || found === 'false' || found === 'null') this.at += found.length;
      else this.broken(this.here(), 'a value: text in double quotes, a number, a list, an object, true, false or null');
    }
  }

  private object(depth: number): void {
    const seen = new Set<string>();
    this.skip(spaces);
    if (this.text[this.at] === '}') { this.at++; return; }
    for (;;) {
      this.skip(spaces);
      const start = this.at;
      if (this.text[start] !== '"') this.broken(this.here(), 'a name in double quotes');
      const name = JSON.parse(this.string()) as string;
      this.path.push(name);
      if (seen.has(name)) this.note('duplicate-key', `“${short(name)}” stands twice in one object.`, this.place(start), 'each name once');
      seen.add(name);
      this.skip(spaces);
      if (this.text[this.at] !== ':') this.broken(this.here(), 'a colon');
      this.at++;
      this.value(depth);
      this.path.pop();
      if (this.closes('}')) return;
    }
  }

  private list(depth: number): void {
    this.skip(spaces);
    if (this.text[this.at] === ']') { this.at++; return; }
    for (let i = 0; ; i++) {
      this.path.push(String(i));
      this.value(depth);
      this.path.pop();
      if (this.closes(']')) return;
    }
  }

  private closes(end: string): boolean {
    this.skip(spaces);
    const c = this.text[this.at];
    if (c !== ',' && c !== end) this.broken(this.here(), `a comma or ${end}`);
    this.at++;
    return c === end;
  }

  /** Reads a string, and gives it as it is written, with its quotes. */
  private string(): string {
    const start = this.at++;
    for (;;) {
      const c = this.text.charCodeAt(this.at);
      if (c === 0x22) return this.text.slice(start, ++this.at);
      if (c === 0x5c) {
        const found = this.peek(escape);
        if (found === undefined) this.broken(this.here(), 'one of the escapes of JSON');
        this.at += found.length;
      } else if (c >= 0x20) this.at++;
      else if (Number.isNaN(c)) this.broken('the end of the body', 'a closing double quote');
      else this.broken(this.here(), 'control signs written as escapes');
    }
  }

  private number(): void {
    const found = this.peek(number);
    const whole = this.peek(word);
    if (found === undefined || found !== whole) this.broken(short(whole ?? this.here()), 'a number such as 560 or 0.5 or 1e3');
    if (!Number.isFinite(Number(found))) this.note('number-too-large', 'The number is too large to be held.', `${short(found)}, ${this.place()}`, 'a number below 1.8e308');
    this.at += found.length;
  }

  private peek(form: RegExp): string | undefined {
    form.lastIndex = this.at;
    return form.exec(this.text)?.[0];
  }
  private skip(form: RegExp): void {
    form.lastIndex = this.at;
    form.test(this.text);
    this.at = form.lastIndex;
  }
  /** Line and column. Counts on from the place asked for before: places only move forward, but for the start of a name. */
  private place(at = this.at): string {
    for (let next = this.text.indexOf('\n', this.lineStart); next >= 0 && next < at; next = this.text.indexOf('\n', this.lineStart)) {
      this.line++;
      this.lineStart = next + 1;
    }
    return `line ${this.line}, column ${at - this.lineStart + 1}`;
  }
  private here(): string {
    const point = this.text.codePointAt(this.at);
    if (point === undefined) return 'the end of the body';
    const sign = String.fromCodePoint(point);
    return /^\p{C}$/u.test(sign) ? `U+${point.toString(16).toUpperCase().padStart(4, '0')}` : short(this.peek(word) ?? sign);
  }
  private pointer(): string {
    return this.path.map((name) => `/${short(name).replaceAll('~', '~0').replaceAll('/', '~1')}`).join('');
  }
  private note(code: ProblemCode, detail: string, received: string, expected: string): void {
    this.issues.push({ pointer: this.pointer(), code, detail, received, expected });
    if (this.issues.length === mostIssues) throw problemOf(this.issues);
  }
  private broken(received: string, expected: string): never {
    const detail = `The body is not JSON: ${this.place()}.`;
    this.issues.length = 0;
    this.note('invalid-json', detail, `${received}, ${this.place()}`, expected);
    throw new Broken();
  }
}

const short = (text: string): string => (text.length > 60 ? `${text.slice(0, 57)}…` : text);

/** Throws the problem of this text; returns when it breaks no rule. */
export function inspect(text: string, deepest: number): void {
  const inspector = new Inspector(text, deepest);
  try {
    inspector.read();
  } catch (error) {
    if (!(error instanceof Broken)) throw error;
    throw new ProblemError('invalid-json', inspector.issues[0]!.detail, { issues: inspector.issues });
  }
  if (inspector.issues.length > 0) throw problemOf(inspector.issues);
}
