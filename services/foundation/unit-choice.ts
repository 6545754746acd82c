/** Reads in which units an answer is wanted: `metric`, `imperial`, or by kind: `metric,twist:turns/in,grist:yd/lb`. */
import type { Issue } from './problems.js';
import { findUnit, kindNames, metric, unitNames, type Kind, type Unit, type UnitChoice } from './quantity.js';
import { nearest, shown } from './read.js';

type Refused = Omit<Issue, 'pointer' | 'parameter'>;
const systems = ['metric', 'imperial'] as const;
const imperial: UnitChoice = { system: 'imperial' };
const expected = 'metric, imperial, or kinds with their units: metric,twist:turns/in,grist:yd/lb';

/** The choice, or what is wrong with it. */
export function readUnitChoice(text: string): UnitChoice | readonly Refused[] {
  if (text === 'metric') return metric;
  if (text === 'imperial') return imperial;
  const issues: Refused[] = [];
  let system: 'metric' | 'imperial' | undefined;
  const byKind = new Map<Kind, Unit>();
  for (const part of text.split(',').map((p) => p.trim())) {
    const cut = part.indexOf(':');
    if (cut < 0) {
      const found = systems.find((s) => s === part.toLowerCase());
      if (found === undefined) {
        const near = nearest(part, systems);
        issues.push({ code: 'unknown-choice', detail: `“${shown(part)}” is neither a system nor a kind with its unit.`, received: shown(part), expected, ...(near === undefined ? {} : { try: near }) });
      } else if (system !== undefined && system !== found) issues.push({ code: 'one-of', detail: 'Two systems of units were named.', received: shown(text), expected: 'metric or imperial' });
      else system = found;
      continue;
    }
    const kind = kindNames.find((k) => k === part.slice(0, cut).trim());
    const unit = kind === undefined ? undefined : findUnit(kind, part.slice(cut + 1).trim());
    if (kind === undefined) {
      const near = nearest(part.slice(0, cut).trim(), kindNames);
      issues.push({ code: 'unknown-choice', detail: `“${shown(part.slice(0, cut))}” is not a kind of measure.${near === undefined ? '' : ` Is “${near}” meant?`}`, received: shown(part), expected: `one of ${kindNames.join(', ')}` });
    } else if (unit === undefined) issues.push({ code: 'unknown-unit', detail: `“${shown(part.slice(cut + 1))}” is not a unit of this kind.`, received: shown(part), expected: unitNames(kind).map((u) => `${kind}:${u}`).join(', ') });
    else if (byKind.has(kind)) issues.push({ code: 'one-of', detail: `“${kind}” stands twice.`, received: shown(text), expected: 'each kind once' });
    else byKind.set(kind, unit);
  }
  if (issues.length > 0) return issues;
  return byKind.size === 0 ? (system === 'imperial' ? imperial : metric) : { system: system ?? 'metric', byKind };
}
