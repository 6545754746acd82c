/**
 * What changed between two specifications, and what of it breaks a caller. The rules are those that GitHub's REST API
 * publishes for its versions (from memory): an operation, parameter, field or word of a list taken away or renamed; a type
 * changed; a parameter or field that must now be given; a new rule for what is sent; more credentials. And, since this
 * service refuses what it does not know, whatever it no longer knows of a question. What is added breaks nobody: callers
 * must take fields and words of replies that they do not know.
 */
export interface Change { readonly breaks: boolean; readonly at: string; readonly what: string }
type Json = { readonly [key: string]: unknown };
type Way = 'asked' | 'told';

const isObject = (v: unknown): v is Json => typeof v === 'object' && v !== null && !Array.isArray(v);
const objectAt = (v: unknown, key: string): Json => (isObject(v) && isObject(v[key]) ? v[key] : {});
const listAt = (v: Json, key: string): readonly unknown[] => (Array.isArray(v[key]) ? (v[key] as unknown[]) : []);
const methods = ['get', 'put', 'post', 'delete', 'options', 'head', 'patch', 'trace'];
/** Keywords that say nothing of what is taken, and those that are compared; any other is refused, so that none is passed over. */
const said = ['title', 'description', 'example', 'examples', 'default', 'deprecated', 'readOnly', 'discriminator'];
const compared = ['$ref', 'type', 'properties', 'required', 'additionalProperties', 'propertyNames', 'items', 'enum', 'const', 'anyOf', 'oneOf', 'format', 'pattern', 'minimum', 'maximum', 'exclusiveMinimum', 'exclusiveMaximum', 'multipleOf', 'minLength', 'maxLength', 'minItems', 'maxItems', 'uniqueItems'];
const lower = ['minimum', 'exclusiveMinimum', 'minLength', 'minItems'];
const upper = ['maximum', 'exclusiveMaximum', 'maxLength', 'maxItems'];

export function contractDiff(base: Json, now: Json): Change[] {
  return new Comparison(base, now).all();
}

class Comparison {
  private changes: Change[] = [];
  /** What pairs of named schemas differ in; nothing while they are being compared. */
  private readonly pairs = new Map<string, readonly Change[]>();
  constructor(private readonly base: Json, private readonly now: Json) {}

  private note(breaks: boolean, at: string, what: string): void { this.changes.push({ breaks, at, what }); }
  private follow(document: Json, value: unknown): Json {
    if (!isObject(value) || typeof value['$ref'] !== 'string') return isObject(value) ? value : {};
    const [room, name] = value['$ref'].split('/').slice(-2) as [string, string];
    const found = objectAt(objectAt(document, 'components'), room)[name];
    if (!isObject(found)) throw new Error(`the specification holds no ${value['$ref']}`);
    return this.follow(document, found);
  }

  all(): Change[] {
    const [before, after] = [objectAt(this.base, 'paths'), objectAt(this.now, 'paths')];
    for (const path of new Set([...Object.keys(before), ...Object.keys(after)])) {
      for (const method of methods) {
        const [was, is] = [objectAt(before, path)[method], objectAt(after, path)[method]];
        const at = `${method.toUpperCase()} ${path}`;
        if (isObject(was) && !isObject(is)) this.note(true, at, 'the operation was taken away');
        else if (!isObject(was) && isObject(is)) this.note(false, at, 'a new operation');
        else if (isObject(was) && isObject(is)) this.operation(at, was, is);
      }
    }
    return [...new Map(this.changes.map((change) => [`${change.at} ${change.what}`, change])).values()];
  }

  private operation(at: string, was: Json, is: Json): void {
    if (was['operationId'] !== is['operationId']) this.note(true, at, `its name was ${String(was['operationId'])} and is ${String(is['operationId'])}`);
    const open = (document: Json, one: Json): boolean => { const list = listAt(one['security'] === undefined ? document : one, 'security'); return list.length === 0 || list.some((way) => isObject(way) && Object.keys(way).length === 0); };
    if (open(this.base, was) && !open(this.now, is)) this.note(true, at, 'it now asks for a key');
    const parameters = (document: Json, one: Json): Map<string, Json> => new Map(listAt(one, 'parameters').map((p) => this.follow(document, p)).map((p) => [`${String(p['in'])} ${String(p['name'])}`, p]));
    const [had, has] = [parameters(this.base, was), parameters(this.now, is)];
    for (const [name, p] of had) {
      const q = has.get(name);
      if (q === undefined) { this.note(true, `${at} ${name}`, 'the parameter was taken away'); continue; }
      if (p['required'] !== true && q['required'] === true) this.note(true, `${at} ${name}`, 'it must now be given');
      this.schema('asked', `${at} ${name}`, p['schema'], q['schema']);
    }
    for (const [name, q] of has) if (!had.has(name)) this.note(q['required'] === true, `${at} ${name}`, q['required'] === true ? 'a new parameter that must be given' : 'a new parameter');
    this.body(at, was['requestBody'], is['requestBody']);
    this.replies(at, objectAt(was, 'responses'), objectAt(is, 'responses'));
  }

  private body(at: string, was: unknown, is: unknown): void {
    const place = `${at} body`;
    if (isObject(was) && !isObject(is)) this.note(true, place, 'no body is taken any more');
    if (!isObject(is)) return;
    const needed = is['required'] === true;
    if (needed && (!isObject(was) || was['required'] !== true)) this.note(true, place, 'a body must now be sent');
    if (isObject(was)) this.media('asked', place, objectAt(was, 'content'), objectAt(is, 'content'));
  }

  private replies(at: string, was: Json, is: Json): void {
    for (const [status, reply] of Object.entries(was)) {
      const place = `${at} ${status}`;
      const [old, present] = [this.follow(this.base, reply), this.follow(this.now, is[status])];
      // Fewer ways to be refused are no loss.
      if (is[status] === undefined) { if (Number(status) < 400) this.note(true, place, 'it is no longer answered so'); continue; }
      for (const name of Object.keys(objectAt(old, 'headers'))) if (!Object.hasOwn(objectAt(present, 'headers'), name)) this.note(true, place, `the header ${name} was taken away`);
      this.media('told', place, objectAt(old, 'content'), objectAt(present, 'content'));
    }
    for (const status of Object.keys(is)) if (!Object.hasOwn(was, status)) this.note(false, `${at} ${status}`, 'it may now be answered so');
  }

  private media(way: Way, at: string, was: Json, is: Json): void {
    for (const [type, of] of Object.entries(was)) {
      if (is[type] === undefined) this.note(true, at, `${type} is no longer ${way === 'asked' ? 'taken' : 'sent'}`);
      else this.schema(way, at, objectAt({ of }, 'of')['schema'], objectAt(is, type)['schema']);
    }
    for (const type of Object.keys(is)) if (!Object.hasOwn(was, type)) this.note(false, at, `${type} too`);
  }

  private schema(way: Way, at: string, was: unknown, is: unknown): void {
    if (!isObject(was) || !isObject(is)) {
      // true, or nothing: anything goes.
      if (isObject(is) && way === 'asked') this.note(true, at, 'anything was taken, and is no more');
      if (isObject(was) && is === false) this.note(true, at, 'it is no longer taken');
      if (isObject(was) && !isObject(is) && is !== false && way === 'told') this.note(true, at, 'it may now be anything');
      return;
    }
    const names = [was, is].map((schema) => (typeof schema['$ref'] === 'string' ? schema['$ref'].split('/').pop()! : undefined));
    const compare = (place: string): void => this.compare(way, place, this.follow(this.base, was), this.follow(this.now, is));
    if (names[0] === undefined || names[1] === undefined) { compare(at); return; }
    const pair = `${way} ${names.join(' ')}`;
    if (!this.pairs.has(pair)) {
      this.pairs.set(pair, []);
      this.pairs.set(pair, this.aside(() => compare(`${names[0]} (${way})`)));
    }
    this.changes.push(...this.pairs.get(pair)!);
  }

  private compare(way: Way, at: string, was: Json, is: Json): void {
    for (const schema of [was, is]) for (const key of Object.keys(schema)) if (!said.includes(key) && !compared.includes(key)) throw new Error(`${at}: the comparison does not know “${key}”`);
    const [had, has] = [was, is].map((schema) => [...listAt(schema, 'anyOf'), ...listAt(schema, 'oneOf')]) as [unknown[], unknown[]];
    if (had.length > 0 || has.length > 0) { this.alternatives(way, at, had.length > 0 ? had : [was], has.length > 0 ? has : [is], had.length > 0); return; }
    this.words(at, way, was, is);
    const [oldType, newType] = [was['type'], is['type']];
    const wider = way === 'asked' ? oldType === 'integer' && newType === 'number' : oldType === 'number' && newType === 'integer';
    if (oldType !== newType && !wider && !(way === 'asked' && newType === undefined)) { this.note(true, at, `it was ${String(oldType ?? 'anything')} and is ${String(newType ?? 'anything')}`); return; }
    if (way === 'asked') this.rules(at, was, is);
    this.fields(way, at, was, is);
    if (was['items'] !== undefined || is['items'] !== undefined) this.schema(way, `${at}[]`, was['items'], is['items']);
    if (was['propertyNames'] !== undefined || is['propertyNames'] !== undefined) this.schema(way, `${at} names`, was['propertyNames'], is['propertyNames']);
  }

  private words(at: string, way: Way, was: Json, is: Json): void {
    const of = (schema: Json): readonly unknown[] | undefined => (schema['const'] !== undefined ? [schema['const']] : Array.isArray(schema['enum']) ? (schema['enum'] as unknown[]) : undefined);
    const [had, has] = [of(was), of(is)];
    if (had === undefined && has !== undefined && way === 'asked') this.note(true, at, `it takes ${has.map(String).join(', ')} alone`);
    if (had === undefined || has === undefined) { if (had !== undefined) this.note(false, at, 'other words too'); return; }
    for (const word of had) if (!has.includes(word)) this.note(true, at, `the word ${JSON.stringify(word)} was taken away`);
    for (const word of has) if (!had.includes(word)) this.note(false, at, `the word ${JSON.stringify(word)} too`);
  }

  /** Of what is sent: it may not be held to more than before. */
  private rules(at: string, was: Json, is: Json): void {
    const tighter = (key: string, less: (a: number, b: number) => boolean): void => {
      const [a, b] = [was[key], is[key]];
      if (typeof b === 'number' && (typeof a !== 'number' || less(b, a))) this.note(true, at, `${key} was ${typeof a === 'number' ? a : 'not set'} and is ${b}`);
    };
    for (const key of lower) tighter(key, (b, a) => b > a);
    for (const key of upper) tighter(key, (b, a) => b < a);
    for (const key of ['pattern', 'format', 'multipleOf', 'uniqueItems']) if (is[key] !== undefined && is[key] !== false && is[key] !== was[key]) this.note(true, at, `${key} was ${JSON.stringify(was[key]) ?? 'not set'} and is ${JSON.stringify(is[key])}`);
  }

  private fields(way: Way, at: string, was: Json, is: Json): void {
    const [had, has] = [objectAt(was, 'properties'), objectAt(is, 'properties')];
    const [must, mustNow] = [listAt(was, 'required'), listAt(is, 'required')];
    for (const [name, schema] of Object.entries(had)) {
      if (!Object.hasOwn(has, name)) { this.note(true, `${at}.${name}`, 'the field was taken away'); continue; }
      if (way === 'asked' && !must.includes(name) && mustNow.includes(name)) this.note(true, `${at}.${name}`, 'it must now be given');
      if (way === 'told' && must.includes(name) && !mustNow.includes(name)) this.note(true, `${at}.${name}`, 'it may now be left out');
      this.schema(way, `${at}.${name}`, schema, has[name]);
    }
    for (const name of Object.keys(has)) {
      const needed = way === 'asked' && mustNow.includes(name);
      if (!Object.hasOwn(had, name)) this.note(needed, `${at}.${name}`, needed ? 'a new field that must be given' : 'a new field');
    }
    const [others, othersNow] = [was['additionalProperties'], is['additionalProperties']];
    if (way === 'asked' && others !== false && othersNow === false) this.note(true, at, 'other fields are no longer taken');
    else if (isObject(others) || isObject(othersNow)) this.schema(way, `${at}.*`, others, othersNow);
  }

  /**
   * Each alternative that there was is still there, whatever it is called: that of now which it differs least from. One that
   * comes to a list of replies is new to whoever asks for something new; where there was one shape alone, it breaks.
   */
  private alternatives(way: Way, at: string, had: readonly unknown[], has: readonly unknown[], wereSeveral: boolean): void {
    const taken = new Set<unknown>();
    for (const was of had) {
      let best: { changes: Change[]; rank: number; is: unknown } | undefined;
      for (const is of [...has].sort((a, b) => Number(sameName(was, b)) - Number(sameName(was, a)))) {
        const changes = this.aside(() => this.schema(way, at, was, is));
        const breaks = changes.filter((change) => change.breaks).length;
        // What breaks nothing; else the one of the same name, else one of the same type, is what is meant.
        const kind = sameName(was, is) ? 1 : this.follow(this.base, was)['type'] === this.follow(this.now, is)['type'] ? 2 : 3;
        const rank = breaks === 0 ? 0 : kind * 1e6 + breaks;
        if (best === undefined || rank < best.rank) best = { changes, rank, is };
        if (changes.length === 0) break;
      }
      if (best === undefined) continue;
      taken.add(best.is);
      this.changes.push(...best.changes);
    }
    for (const is of has) if (!taken.has(is)) this.note(way === 'told' && !wereSeveral, at, `another shape${isObject(is) && typeof is['$ref'] === 'string' ? `, ${is['$ref'].split('/').pop()!}` : ''}`);
  }
  /** What a comparison would note, without noting it. */
  private aside(work: () => void): Change[] {
    const kept = this.changes;
    this.changes = [];
    try { work(); return this.changes; } finally { this.changes = kept; }
  }
}
const sameName = (a: unknown, b: unknown): boolean => isObject(a) && isObject(b) && a['$ref'] !== undefined && a['$ref'] === b['$ref'];
