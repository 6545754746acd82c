/**
 * Every unit factor against two general-purpose unit libraries over a grid, and against exact decimal arithmetic from
 * the yard, the pound and standard gravity. UCUM knows tex and denier by name; neither library knows the other yarn numbers,
 * turns or wraps, so there they are asked with their own yard, pound, metre and gram.
 */
import ucum from '@lhncbc/ucum-lhc';
import { Decimal } from 'decimal.js';
import { unit as mathUnit } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { fromSI, kindNames, kinds, toSI, type Unit } from '../../services/foundation/quantity.js';

const D = Decimal.clone({ precision: 50 });
const yard = new D('0.9144');
const pound = new D('0.45359237');
const gravity = new D('9.80665');
const PI = D.acos(-1);

/** The SI value of 1 in the unit; what each library calls it, and the SI unit it is asked for. `times`: how many of that. */
interface Truth { si: Decimal; math?: string; ucum?: string; times?: number }
const of = (si: Decimal.Value, math?: string, code?: string, times?: number): Truth => ({ si: new D(si), ...(math && { math }), ...(code && { ucum: code }), ...(times && { times }) });
const hanks = (yards: number, pounds: Decimal.Value = 1): Truth => of(pound.times(pounds).div(yard.times(yards)), 'yd/lbm', '[yd_i]/[lb_av]', yards / Number(pounds));

const length: Record<string, Truth> = {
  mm: of('0.001', 'mm', 'mm'), cm: of('0.01', 'cm', 'cm'), m: of(1, 'm', 'm'), km: of(1000, 'km', 'km'), in: of(yard.div(36), 'inch', '[in_i]'),
  ft: of(yard.div(3), 'ft', '[ft_i]'), yd: of(yard, 'yd', '[yd_i]'), um: of('1e-6', 'um', 'um'),
};
const time: Record<string, Truth> = { s: of(1, 's', 's'), min: of(60, 'minute', 'min'), h: of(3600, 'hour', 'h') };
const force: Record<string, Truth> = {
  N: of(1, 'N', 'N'), cN: of('0.01', 'cN', 'cN'), mN: of('0.001', 'mN', 'mN'), kgf: of(gravity, 'kgf', 'kgf'), lbf: of(pound.times(gravity), 'lbf', '[lbf_av]'),
  gf: of(gravity.div(1000), 'kgf', 'gf'), ozf: of(pound.times(gravity).div(16), 'lbf', '[lbf_av]', 1 / 16),
};
const perLength = (name: string): Record<string, Truth> => ({ [`${name}/m`]: of(1, 'm^-1', '/m'), [`${name}/cm`]: of(100, 'cm^-1', '/cm'), [`${name}/10cm`]: of(10, 'dm^-1', '/dm'), [`${name}/in`]: of(new D(36).div(yard), 'inch^-1', '/[in_i]') });
const truths: Record<string, { math: string; ucum: string; units: Record<string, Truth> }> = {
  part: { math: 'm', ucum: 'm', units: length }, length: { math: 'm', ucum: 'm', units: length }, 'fibre-diameter': { math: 'm', ucum: 'm', units: length },
  mass: { math: 'kg', ucum: 'kg', units: { g: of('0.001', 'g', 'g'), kg: of(1, 'kg', 'kg'), oz: of(pound.div(16), 'oz', '[oz_av]'), lb: of(pound, 'lbm', '[lb_av]') } },
  share: { math: '', ucum: '1', units: { '%': of('0.01', undefined, '%'), '1': of(1, undefined, '1') } },
  density: { math: 'kg/m^3', ucum: 'kg/m3', units: { 'kg/m3': of(1, 'kg/m^3', 'kg/m3'), 'g/cm3': of(1000, 'g/cm^3', 'g/cm3') } },
  inertia: { math: 'kg m^2', ucum: 'kg.m2', units: { 'kg*m2': of(1, 'kg m^2', 'kg.m2') } },
  'cord-mass': { math: 'kg/m', ucum: 'kg/m', units: { 'g/m': of('0.001', 'g/m', 'g/m'), 'kg/m': of(1, 'kg/m', 'kg/m') } },
  'cord-stiffness': { math: 'N', ucum: 'N', units: { N: of(1, 'N', 'N') } },
  'yarn-stiffness': { math: 'N/m', ucum: 'N/m', units: { 'N/m': of(1, 'N/m', 'N/m') } },
  acceleration: { math: 'm/s^2', ucum: 'm/s2', units: { 'm/s2': of(1, 'm/s^2', 'm/s2') } },
  stress: { math: 'Pa', ucum: 'Pa', units: { MPa: of(1e6, 'MPa', 'MPa'), Pa: of(1, 'Pa', 'Pa') } },
  power: { math: 'W', ucum: 'W', units: { W: of(1, 'J/s', 'J/s') } },
  energy: { math: 'J', ucum: 'J', units: { J: of(1, 'N m', 'N.m') } },
  torque: { math: 'N m', ucum: 'N.m', units: { 'mN*m': of('0.001', 'mN m', 'mN.m'), 'N*m': of(1, 'N m', 'N.m') } },
  twist: { math: 'm^-1', ucum: '/m', units: perLength('turns') },
  wraps: { math: 'm^-1', ucum: '/m', units: perLength('wraps') },
  turning: { math: 's^-1', ucum: '/s', units: { '/min': of(new D(1).div(60), 'minute^-1', '/min'), '/s': of(1, 's^-1', '/s'), '/h': of(new D(1).div(3600), 'hour^-1', '/h') } },
  time: { math: 's', ucum: 's', units: time }, minutes: { math: 's', ucum: 's', units: time }, hours: { math: 's', ucum: 's', units: time },
  angle: { math: 'rad', ucum: 'rad', units: { deg: of(PI.div(180), 'deg', 'deg'), rad: of(1, 'rad', 'rad') } },
  speed: {
    math: 'm/s', ucum: 'm/s', units: {
      'm/min': of(new D(1).div(60), 'm/minute', 'm/min'), 'm/s': of(1, 'm/s', 'm/s'), 'yd/min': of(yard.div(60), 'yd/minute', '[yd_i]/min'),
      'm/h': of(new D(1).div(3600), 'm/hour', 'm/h'), 'yd/h': of(yard.div(3600), 'yd/hour', '[yd_i]/h'),
    },
  },
  pull: { math: 'N', ucum: 'N', units: force }, 'band-tension': { math: 'N', ucum: 'N', units: force },
  tenacity: {
    math: 'N m/kg', ucum: 'N.m/kg', units: {
      'N/tex': of(1e6, 'N km/g', 'N.km/g'), 'cN/tex': of(1e4, 'cN km/g', 'cN.km/g'), 'gf/tex': of(gravity.times(1000), 'kgf m/g', 'gf.km/g'), 'gf/den': of(gravity.times(9000), undefined, 'gf/[den]'),
    },
  },
  grist: {
    math: 'kg/m', ucum: 'kg/m', units: {
      tex: of('1e-6', 'g/km', 'tex'), dtex: of('1e-7', 'g/km', 'tex', 0.1), den: of(new D('1e-6').div(9), 'g/km', '[den]'),
      'oz/100yd': of(pound.div(16).div(yard.times(100)), 'oz/yd', '[oz_av]/[yd_i]', 0.01), 'grain/120yd': of(pound.div(7000).div(yard.times(120)), 'grain/yd', '[gr]/[yd_i]', 1 / 120),
      'jute-count': of(pound.div(yard.times(14400)), 'lbm/yd', '[lb_av]/[yd_i]', 1 / 14400),
      'yd/lb': hanks(1), 'yd/oz': of(pound.div(16).div(yard), 'yd/oz', '[yd_i]/[oz_av]'),
      'm/100g': of('0.1', 'm/kg', 'm/kg', 10), 'm/kg': of(1, 'm/kg', 'm/kg'), Nm: of('0.001', 'km/kg', 'km/kg'),
      'cotton-count': hanks(840), 'worsted-count': hanks(560), 'woollen-run': hanks(1600), 'woollen-cut': hanks(300), 'yorkshire-skein': hanks(256),
      'galashiels-cut': hanks(300, '1.5'), 'linen-lea': hanks(300), snap: hanks(320), 'asbestos-cut': hanks(100), 'french-count': of('0.0005', 'm/kg', 'm/kg', 2000),
    },
  },
};
// Where only one of the two lacks the unit: mathjs is asked for a ninth of g/km, and for a thousandth of kgf.
const mathTimes: Record<string, number> = { 'grist:den': 1 / 9, 'pull:gf': 1 / 1000, 'band-tension:gf': 1 / 1000 };

const grid = [1e-3, 0.0625, 0.7, 1, 2.54, 9.0645, 22.0625, 560, 1500, 12345.678, 1e6];
const near = (actual: number, expected: number, relative: number): boolean => Math.abs(actual - expected) <= relative * Math.abs(expected);
const all = kindNames.flatMap((kind) => kinds[kind].units.map((u) => ({ kind, u, id: `${kind}:${u.name}`, truth: truths[kind]?.units[u.name] })));
const library = ucum.UcumLhcUtils.getInstance();

/** What a library says n of the unit is in SI: for an indirect number its own length per mass, turned over. */
const turned = (u: Unit, direct: number): number => (u.reciprocal ? 1 / direct : direct);

describe('unit factors', () => {
  it('every unit of every kind has a truth beside it', () => {
    expect(all.filter((x) => x.truth === undefined).map((x) => x.id)).toEqual([]);
    expect(all.length).toBeGreaterThan(90);
  });
  it('agree with exact decimal arithmetic to 4e-16, there and back', () => {
    for (const { u, id, truth } of all) {
      for (const n of grid) {
        const exact = u.reciprocal ? truth!.si.div(n) : truth!.si.times(n);
        expect(near(toSI(n, u), exact.toNumber(), 4e-16), `${n} ${id}: ${toSI(n, u)} is not ${exact}`).toBe(true);
        expect(near(fromSI(toSI(n, u), u), n, 4e-16), id).toBe(true);
      }
    }
  });
  it('agree with mathjs to 1e-14', () => {
    let asked = 0;
    for (const { kind, u, id, truth } of all) {
      if (truth!.math === undefined) continue;
      asked++;
      const times = mathTimes[id] ?? truth!.times ?? 1;
      const target = u.reciprocal ? 'm/kg' : truths[kind]!.math;
      for (const n of grid) expect(near(toSI(n, u), turned(u, mathUnit(n * times, truth!.math).toNumber(target)), 1e-14), `${n} ${id}`).toBe(true);
    }
    // Per cent, a plain fraction, and a strength per denier are all that it cannot say.
    expect(all.filter((x) => x.truth!.math === undefined).map((x) => x.id)).toEqual(['share:%', 'share:1', 'tenacity:gf/den']);
    expect(asked).toBeGreaterThan(85);
  });
  it('agree with UCUM to 1e-14', () => {
    for (const { kind, u, id, truth } of all) {
      const times = truth!.times ?? 1;
      const target = u.reciprocal ? 'm/kg' : truths[kind]!.ucum;
      const one = library.convertUnitTo(truth!.ucum!, 1, target);
      expect(one.status, `${id}: ${String(one.msg)}`).toBe('succeeded');
      for (const n of grid) expect(near(toSI(n, u), turned(u, n * times * one.toVal!), 1e-14), `${n} ${id}`).toBe(true);
    }
  });
  it('names no unit twice in a kind, and no spelling for two units', () => {
    for (const kind of kindNames) {
      const seen = new Map<string, string>();
      for (const u of kinds[kind].units) {
        for (const s of [u.name.toLowerCase(), ...u.also]) {
          expect(seen.get(s) ?? u.name, `${kind}: “${s}”`).toBe(u.name);
          seen.set(s, u.name);
        }
      }
    }
  });
});
