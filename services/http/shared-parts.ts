/** Parameters and failures that many operations share stand once in a specification, under `components`. */
import type { JsonSchema } from './schemas.js';

interface Said { parameters?: JsonSchema[]; responses?: Record<string, JsonSchema> }

/** One kind of part: every one that occurs twice gets a name, and is replaced by a reference. */
class Parts {
  private readonly count = new Map<string, number>();
  private readonly named = new Map<string, string>();
  private readonly taken = new Map<string, JsonSchema>();
  constructor(private readonly room: string) {}

  see(part: JsonSchema): void {
    const text = JSON.stringify(part);
    this.count.set(text, (this.count.get(text) ?? 0) + 1);
  }

  /** `name`: what it would like to be called; another part of that name makes it `name2`. */
  refer(part: JsonSchema, name: string): JsonSchema {
    const text = JSON.stringify(part);
    if (this.count.get(text)! < 2) return part;
    let known = this.named.get(text);
    if (known === undefined) {
      known = name;
      for (let n = 2; this.taken.has(known); n++) known = `${name}${n}`;
      this.named.set(text, known);
      this.taken.set(known, part);
    }
    return { $ref: `#/components/${this.room}/${known}` };
  }

  components(): Record<string, JsonSchema> {
    return Object.fromEntries([...this.taken].toSorted(([a], [b]) => (a < b ? -1 : 1)));
  }
}

const capital = (word: string): string => word.replace(/[^A-Za-z0-9]+(\w)?/g, (_, letter?: string) => (letter ?? '').toUpperCase()).replace(/^\w/, (letter) => letter.toUpperCase());

/** Takes `paths` as they stand in full; gives them with references, and the parts that those name. */
export function shareParts(paths: Record<string, Record<string, JsonSchema & Said>>): { paths: Record<string, Record<string, JsonSchema>>; parameters: Record<string, JsonSchema>; responses: Record<string, JsonSchema> } {
  const [parameters, responses] = [new Parts('parameters'), new Parts('responses')];
  const operations = Object.values(paths).flatMap((methods) => Object.values(methods));
  for (const operation of operations) {
    for (const parameter of operation.parameters ?? []) parameters.see(parameter);
    for (const [status, reply] of Object.entries(operation.responses ?? {})) if (isFailure(status)) responses.see(reply);
  }
  const shared = (operation: JsonSchema & Said): JsonSchema => ({
    ...operation,
    ...(operation.parameters === undefined ? {} : { parameters: operation.parameters.map((p) => parameters.refer(p, capital(String(p['name'])))) }),
    responses: Object.fromEntries(Object.entries(operation.responses ?? {}).map(([status, reply]) => [status, isFailure(status) ? responses.refer(reply, `Failure${capital(status)}`) : reply])),
  });
  const short = Object.fromEntries(Object.entries(paths).map(([path, methods]) => [path, Object.fromEntries(Object.entries(methods).map(([method, operation]) => [method, shared(operation)]))]));
  return { paths: short, parameters: parameters.components(), responses: responses.components() };
}
const isFailure = (status: string): boolean => status === 'default' || Number(status) >= 400;
