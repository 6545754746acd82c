/** Closed forms of take-up, twist and grist against the same expressions in 50-digit decimal arithmetic, to 1e-12. */
import { Decimal } from 'decimal.js';
import { describe, expect, it } from 'vitest';
import * as grist from '../../services/calculations/grist/formula.js';
import * as takeUp from '../../services/calculations/take-up/formula.js';
import * as twist from '../../services/calculations/twist/formula.js';
import { seeded } from '../support/random.js';

const D = Decimal.clone({ precision: 50 });
const PI = D.acos(-1);
const yard = new D('0.9144');
const pound = new D('0.45359237');
const inch = new D('0.0254');
type X = Record<string, Decimal>;
type Ranges = Readonly<Record<string, readonly [number, number]>>;
interface Form { readonly ranges: Ranges; readonly exact: (x: X) => Decimal; /** The larger of two terms that nearly cancel. */ readonly scale?: (x: X) => Decimal; readonly runs?: number }

const diameter = [0.01, 0.2] as const;
const tex = [5e-6, 3e-3] as const;
const turns = [10, 3000] as const;
const perLap = (x: X): Decimal => D.div(1, PI.times(x['diameter']!));
const off = (x: X): Decimal => x['bobbinPerFlyerTurn']!.minus(1).abs();
const ringMass = (x: X): Decimal => PI.div(4).times(x['density']!).times(x['width']!).times(x['diameter']!.pow(2).minus(x['core']!.pow(2)));
const pack = { core: [0.015, 0.04], diameter: [0.041, 0.15], width: [0.05, 0.2], density: [150, 450] } as const;
const ypp = (x: X): Decimal => pound.div(yard).div(x['grist']!);

const forms: Record<string, Record<string, Form>> = {
  'take-up': {
    mostDouble: { ranges: { diameter, flyerRatio: [3, 12], bobbinRatio: [12.5, 30] }, exact: (x) => PI.times(x['diameter']!).times(x['bobbinRatio']!.minus(x['flyerRatio']!).abs()) },
    leastTwistDouble: { ranges: { diameter, bobbinPerFlyerTurn: [1.02, 2] }, exact: (x) => D.div(1, PI.times(x['diameter']!).times(off(x))) },
    mostLed: { ranges: { diameter, ratio: [2, 40] }, exact: (x) => PI.times(x['diameter']!).times(x['ratio']!) },
    leastTwistFlyerLead: { ranges: { diameter }, exact: perLap },
    diameterForTwist: { ranges: { twist: turns, bobbinPerFlyerTurn: [1.02, 2] }, exact: (x) => D.div(1, PI.times(x['twist']!).times(off(x))) },
    laps: { ranges: { length: [0.01, 3], diameter }, exact: (x) => x['length']!.div(PI.times(x['diameter']!)) },
    diameterAt: { ranges: { core: [0.01, 0.05], full: [0.05, 0.2], fill: [0, 1] }, exact: (x) => x['core']!.plus(x['fill']!.times(x['full']!.minus(x['core']!))) },
    woundMass: { ranges: pack, exact: ringMass, scale: (x) => ringMass({ ...x, core: new D(0) }) },
    woundLength: { ranges: { ...pack, grist: tex }, exact: (x) => ringMass(x).div(x['grist']!), scale: (x) => ringMass({ ...x, core: new D(0) }).div(x['grist']!) },
    diameterAfter: { ranges: { core: [0.015, 0.04], length: [1, 2000], width: [0.05, 0.2], density: [150, 450], grist: tex }, exact: (x) => D.sqrt(x['core']!.pow(2).plus(x['grist']!.times(4).times(x['length']!).div(PI.times(x['density']!).times(x['width']!)))) },
    heldPull: { ranges: { lifts: [0.01, 1], pullsOff: [0.1, 5] }, exact: (x) => D.sqrt(x['lifts']!.times(x['pullsOff']!)) },
    frictionFactor: { ranges: { lifts: [0.01, 1], pullsOff: [1, 5] }, exact: (x) => D.sqrt(x['pullsOff']!.div(x['lifts']!)) },
  },
  twist: {
    twist: { ranges: { turns: [1, 500], length: [0.01, 2] }, exact: (x) => x['turns']!.div(x['length']!) },
    turnsPerLap: { ranges: { diameter }, exact: perLap },
    bobbinLeadTwist: { ranges: { bobbinTurns: [3, 40], length: [0.02, 0.5], diameter }, exact: (x) => x['bobbinTurns']!.div(x['length']!).minus(perLap(x)), scale: (x) => x['bobbinTurns']!.div(x['length']!) },
    surfaceAngle: { ranges: { twist: turns, diameter: [1e-4, 3e-3] }, exact: (x) => D.atan(PI.times(x['diameter']!).times(x['twist']!)), runs: 800 },
    twistOfAngle: { ranges: { angle: [0.02, 1.3], diameter: [1e-4, 3e-3] }, exact: (x) => D.tan(x['angle']!).div(PI.times(x['diameter']!)), runs: 800 },
    diameterOf: { ranges: { grist: tex, volume: [0.0008, 0.003] }, exact: (x) => D.sqrt(x['grist']!.times(4).times(x['volume']!).div(PI)) },
    texFactor: { ranges: { twist: turns, grist: tex }, exact: (x) => x['twist']!.times(D.sqrt(x['grist']!.times(1e6))) },
    twistOfFactor: { ranges: { factor: [500, 9000], grist: tex }, exact: (x) => x['factor']!.div(D.sqrt(x['grist']!.times(1e6))) },
    lostByAngle: { ranges: { before: [0.3, 1.2], after: [0.05, 0.29] }, exact: (x) => D.sub(1, D.tan(x['after']!).div(D.tan(x['before']!))), scale: () => new D(1), runs: 500 },
    helixContraction: { ranges: { angle: [0.01, 1.4] }, exact: (x) => { const sec = D.div(1, D.cos(x['angle']!)); return D.sub(1, D.div(2, sec.plus(1))); }, runs: 500 },
    stapleContraction: { ranges: { angle: [0.01, 1.4] }, exact: (x) => { const cos = D.cos(x['angle']!); return D.add(1, D.ln(cos).times(cos).div(D.sub(1, cos))); }, runs: 500 },
    cottonContraction: { ranges: { multiplier: [3, 5] }, exact: (x) => new D('2.67').times(x['multiplier']!).minus('4.93').div(100), scale: () => new D(1) },
    contractionFactor: { ranges: { contraction: [-0.1, 0.5] }, exact: (x) => D.div(1, D.sub(1, x['contraction']!)) },
    greatestTwist: { ranges: { diameter: [1e-4, 3e-3] }, exact: (x) => D.div(1, PI.times(x['diameter']!)) },
    twistOfRetwist: { ranges: { turns: [1, 500], length: [0.01, 2] }, exact: (x) => x['turns']!.div(x['length']!.times(2)) },
    twistOfBumps: { ranges: { bumps: [1, 200], plies: [1, 8], length: [0.01, 0.3] }, exact: (x) => x['bumps']!.div(x['plies']!.times(x['length']!)) },
    singlesOfPlyBack: { ranges: { plyBack: turns }, exact: (x) => x['plyBack']!.times(3).div(2) },
  },
  grist: {
    gristOf: { ranges: { mass: [1e-4, 1], length: [0.1, 5000] }, exact: (x) => x['mass']!.div(x['length']!) },
    yardsPerPound: { ranges: { grist: tex }, exact: ypp },
    gristOfWraps: { ranges: { wraps: [50, 5000], factor: [0.2, 1] }, exact: (x) => pound.div(yard).div(x['wraps']!.times(inch).div(x['factor']!).pow(2)) },
    wrapsOfGrist: { ranges: { grist: tex, factor: [0.2, 1] }, exact: (x) => x['factor']!.times(D.sqrt(ypp(x))).div(inch) },
    wrapFactorOf: { ranges: { wraps: [50, 5000], grist: tex }, exact: (x) => x['wraps']!.times(inch).div(D.sqrt(ypp(x))) },
    gristOfDiameter: { ranges: { diameter: [1e-4, 3e-3], volume: [0.0008, 0.003] }, exact: (x) => PI.times(x['diameter']!.pow(2)).div(x['volume']!.times(4)) },
    gristOfBalance: { ranges: { arm: [1e-5, 1e-2], length: [0.01, 2] }, exact: (x) => x['arm']!.div(x['length']!) },
    afterLoss: { ranges: { grist: tex, lost: [0, 0.5] }, exact: (x) => x['grist']!.div(D.sub(1, x['lost']!)) },
    atRegain: { ranges: { amount: [0.001, 1], from: [0, 0.3], to: [0, 0.3] }, exact: (x) => x['amount']!.times(x['to']!.plus(1)).div(x['from']!.plus(1)) },
    wrapsOfStrand: { ranges: { wraps: [50, 5000], plies: [1, 8] }, exact: (x) => x['wraps']!.times(D.sqrt(x['plies']!)) },
    wrapsOfStrandByRule: { ranges: { wraps: [50, 5000], plies: [2, 3] }, exact: (x) => x['wraps']!.times(x['plies']!.plus(1)).div(2) },
    regainOfContent: { ranges: { content: [0, 0.5] }, exact: (x) => x['content']!.div(D.sub(1, x['content']!)) },
    contentOfRegain: { ranges: { regain: [0, 0.5] }, exact: (x) => x['regain']!.div(x['regain']!.plus(1)) },
    fibreGristOf: { ranges: { density: [1100, 1600], diameter: [1e-5, 5e-5], spread: [0, 0.5] }, exact: (x) => PI.times(x['density']!).times(x['diameter']!.pow(2)).times(x['spread']!.pow(2).plus(1)).div(4) },
    fibreGristOfMicronaire: { ranges: { micronaire: [2, 7] }, exact: (x) => x['micronaire']!.times('1e-9').div(inch) },
    gristOfFibres: { ranges: { fibres: [5, 500], fibreGrist: [1e-7, 1e-6] }, exact: (x) => x['fibres']!.times(x['fibreGrist']!) },
    limitIrregularity: { ranges: { fibres: [5, 500], constant: [1, 1.2] }, exact: (x) => x['constant']!.div(D.sqrt(x['fibres']!)) },
    irregularityConstant: { ranges: { spread: [0, 0.5] }, exact: (x) => D.sqrt(x['spread']!.pow(2).times(4).plus(1)) },
    breakingPull: { ranges: { tenacity: [1e4, 5e5], grist: tex }, exact: (x) => x['tenacity']!.times(x['grist']!) },
    weakPull: { ranges: { mean: [0.1, 50], spread: [0, 0.4] }, exact: (x) => x['mean']!.times(D.sub(1, x['spread']!.times(2))), scale: (x) => x['mean']! },
    measuringPull: { ranges: { grist: tex }, exact: (x) => x['grist']!.times(5000) },
    standardError: { ranges: { spread: [0.01, 0.5], count: [2, 100] }, exact: (x) => x['spread']!.div(D.sqrt(x['count']!)) },
    measurementsNeeded: { ranges: { spread: [0.01, 0.5], within: [0.01, 0.2], factor: [1.6, 3] }, exact: (x) => x['factor']!.times(x['spread']!).div(x['within']!).pow(2) },
  },
};
const modules = { 'take-up': takeUp, twist, grist } as unknown as Record<string, Record<string, unknown>>;

describe.each(Object.entries(forms))('%s in 50 digits', (slice, list) => {
  it.each(Object.entries(list))('%s', (name, form) => {
    const r = seeded(name.length * 31 + slice.length);
    for (let n = 0; n < (form.runs ?? 2000); n++) {
      const p = Object.fromEntries(Object.entries(form.ranges).map(([k, [a, b]]) => [k, r.between(a, b)]));
      const x: X = Object.fromEntries(Object.entries(p).map(([k, v]) => [k, new D(v)]));
      const exact = form.exact(x);
      const ours = (modules[slice]![name] as (p: object) => number)(p);
      if (!exact.minus(ours).abs().lte((form.scale?.(x) ?? exact).abs().times(1e-12))) throw new Error(`${name} ${JSON.stringify(p)}: ${ours} is not ${exact.toPrecision(20)}`);
    }
  });
  it('leaves out no closed form', () => {
    const all = Object.entries(modules[slice]!).filter(([, f]) => typeof f === 'function').map(([name]) => name);
    expect(all.filter((name) => list[name] === undefined)).toEqual([]);
  });
});

it('constants come from the yard and the pound', () => {
  expect(new D(grist.inchArm).minus(pound.div(3600)).abs().lt(1e-19)).toBe(true);
  const factor = (hank: number): Decimal => inch.div(D.sqrt(pound.times(1e6).div(yard.times(hank))));
  for (const [system, hank] of [['cotton', 840], ['worsted', 560], ['run', 1600], ['lea', 300], ['yorkshire-skein', 256], ['galashiels-cut', 200]] as const) expect(factor(hank).minus(twist.factorSystems[system]).abs().div(factor(hank)).lt(1e-15), system).toBe(true);
  expect(D.acos(D.div(1, 3)).minus(twist.greatestAngle).abs().lt(1e-15)).toBe(true);
  expect(D.div(1, D.sqrt(1000)).minus(twist.factorSystems.metric).abs().lt(1e-17)).toBe(true);
});
