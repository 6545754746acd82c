/**
 * Forms say beside each box which unit a number without one is in. This puts that unit to such a number, so that what is
 * asked is a whole measure. Pure. The service itself never adds a unit.
 */
import type { Kind } from './quantity.js';

export type System = 'metric' | 'imperial';
const units: Partial<Record<Kind, readonly [string, string]>> = {
  part: ['mm', 'in'], length: ['m', 'yd'], mass: ['g', 'oz'], twist: ['turns/m', 'turns/in'], wraps: ['wraps/cm', 'wraps/in'], pull: ['g', 'oz'], speed: ['m/min', 'yd/min'],
  turning: ['/min', '/min'], angle: ['deg', 'deg'], share: ['%', '%'], 'fibre-diameter': ['micron', 'micron'], time: ['s', 's'], minutes: ['min', 'min'], hours: ['h', 'h'], density: ['kg/m3', 'kg/m3'],
};

/** The unit of a number that stands alone; undefined: such a number needs its unit or system written out. */
export const plainUnit = (kind: string, system: System): string | undefined => units[kind as Kind]?.[system === 'imperial' ? 1 : 0];
/** How it stands beside the box. */
export const plainUnitSaid = (kind: string, system: System): string | undefined => {
  const unit = plainUnit(kind, system);
  return unit === '/min' ? 'a minute' : unit === 'deg' ? '°' : unit;
};
/** `560` as `560 mm`; what holds more than digits and their signs is left as it is. */
export function withPlainUnit(text: string, kind: string, system: System): string {
  const unit = plainUnit(kind, system);
  const tidy = text.trim();
  if (unit === undefined || !/\d/.test(tidy) || !/^[\s\d.,/±+–-]+$/.test(tidy)) return text;
  return unit.startsWith('/') ? `${tidy}${unit}` : `${tidy} ${unit}`;
}
