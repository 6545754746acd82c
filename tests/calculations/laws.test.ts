/** What must hold whatever is asked: units do not matter, ways there lead back, more in gives more or less out, limits. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { findUnit, fromSI, kinds, toSI, type Kind, type Unit } from '../../services/foundation/quantity.js';
import { calculation, extentsIn, flat, whole, type Json } from '../support/ask.js';

const relative = (a: number, b: number): number => (a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b)));
const size = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const unitOf = (kind: Kind): fc.Arbitrary<Unit> => fc.constantFrom(...kinds[kind].units);
const q = (si: number, u: Unit): { value: number; unit: string } => ({ value: fromSI(si, u), unit: u.name });
interface Value { value: number; plusMinus?: number }
interface Ratio { whorls: { flyerRatio: Value; bareRatio?: Value; flyerSpeed?: Value }[]; bobbins: { bobbinRatio: Value }[]; pairs: { bobbinPerFlyerTurn: Value; flyerTurnsPerLap?: Value; drawIn: string }[]; wanted: { grooveDiameter: Value }[] }
interface TakeUp { pairs: { drawIn?: string; reachesTwistFrom?: Value; capacity: { length?: Value; mass: Value }; fill: { woundDiameter: Value; woundLength?: Value; leastTwist?: Value; mostDrawnInPerWheelTurn?: Value; insertedTwist?: Value }[] }[] }
interface Grist { grist: Value; yarnNumbers: Record<string, number> }

const wheel = fc.record({ D: size(0.3, 1.2), d: size(0.03, 0.12), b: size(0.02, 0.1), t: size(0.0005, 0.004) });
const double = (w: { D: number; d: number; b: number; t: number }): Record<string, string> => ({ drive: 'double-drive', driveWheel: `${w.D} m`, whorl: `${w.d} m`, bobbin: `${w.b} m`, band: `${w.t} m` });

describe('units', () => {
  it('a ratio is the same in whatever units the wheel is measured, to 1e-12', () => {
    fc.assert(fc.property(wheel, fc.tuple(unitOf('part'), unitOf('part'), unitOf('part'), unitOf('part')), size(0.5, 2), unitOf('turning'), (w, u, n, tu) => {
      const ask = (x: readonly Unit[], y: Unit): Ratio => whole<Ratio>('ratio', {
        wheel: { driveWheel: { grooveDiameter: q(w.D, x[0]!) }, whorls: [{ grooveDiameter: q(w.d, x[1]!) }], bobbins: [{ grooves: [{ grooveDiameter: q(w.b, x[2]!) }] }], modes: [{ drive: 'double-drive', band: { thickness: q(w.t, x[3]!) } }] }, treadling: q(n, y),
      }).result;
      const [a, b] = [ask(u, tu), ask(Array.from({ length: 4 }, () => findUnit('part', 'm')!), findUnit('turning', '/s')!)];
      expect(relative(a.whorls[0]!.flyerRatio.value, b.whorls[0]!.flyerRatio.value)).toBeLessThan(1e-12);
      expect(relative(a.pairs[0]!.bobbinPerFlyerTurn.value, b.pairs[0]!.bobbinPerFlyerTurn.value)).toBeLessThan(1e-12);
      expect(relative(a.whorls[0]!.flyerSpeed!.value, b.whorls[0]!.flyerSpeed!.value)).toBeLessThan(1e-12);
    }), { numRuns: 3000, seed: 1 });
  });
  it('every pair of units of every kind that a grist or a twist takes, to 1e-12', () => {
    const places: [Kind, string, Json, (r: never) => number, [number, number]][] = [
      ['grist', 'grist', {}, (r: Grist) => r.grist.value, [1e-5, 2e-3]], ['twist', 'twist', {}, (r: { twist: Value }) => r.twist.value, [10, 2000]], ['wraps', 'grist', { wrapping: 'packed', wrapFactor: 0.9 }, (r: Grist) => r.grist.value, [50, 3000]],
      ['length', 'grist', { mass: '100 g' }, (r: Grist) => r.grist.value, [1, 3000]], ['mass', 'grist', { length: '100 m' }, (r: Grist) => r.grist.value, [0.001, 1]], ['part', 'twist', { ratio: 9, wheelTurns: 2 }, (r: { twist: Value }) => r.twist.value, [0.01, 1]],
      ['speed', 'twist', { twist: '300/m' }, (r: { flyerSpeed: Value }) => r.flyerSpeed.value, [0.01, 1]], ['turning', 'twist', { twist: '300/m' }, (r: { drawSpeed: Value }) => r.drawSpeed.value, [1, 50]],
      ['share', 'grist', { grist: '100 tex' }, (r: { finishedGrist: Value }) => r.finishedGrist.value, [0.01, 0.5]], ['angle', 'twist', { diameter: '1 mm' }, (r: { twist: Value }) => r.twist.value, [0.05, 1]],
    ];
    const keys: Partial<Record<Kind, string>> = { part: 'draftLength', speed: 'drawSpeed', turning: 'flyerSpeed', share: 'lengthLost' };
    let pairs = 0;
    for (const [kind, operation, beside, of, [low, high]] of places) {
      const key = keys[kind] ?? kind;
      for (const u of kinds[kind].units) {
        for (const v of kinds[kind].units) {
          pairs++;
          for (const share of [0.03, 0.5, 0.97]) {
            const si = low * (high / low) ** share;
            const n = fromSI(si, u);
            const again = fromSI(toSI(n, u), v);
            const ask = (value: number, unit: Unit): number => of(whole(operation, { ...beside, [key]: { value, unit: unit.name } }).result as never);
            expect(relative(ask(n, u), ask(again, v)), `${kind} ${n} ${u.name} as ${again} ${v.name}`).toBeLessThan(1e-12);
          }
        }
      }
    }
    expect(pairs).toBeGreaterThan(500);
  });
  it('a grist comes back through any cycle of systems, to 1e-12', () => {
    const keys = Object.keys((whole<Grist>('grist', { grist: '100 tex' }).result).yarnNumbers);
    const unit: Record<string, string> = { tex: 'tex', dtex: 'dtex', denier: 'den', metric: 'Nm', cotton: 'cotton-count', worsted: 'worsted-count', woollenRun: 'woollen-run', woollenCut: 'woollen-cut', yorkshireSkein: 'yorkshire-skein', galashielsCut: 'galashiels-cut', linenLea: 'linen-lea', yardsPerPound: 'yd/lb', metresPer100g: 'm/100g', metresPerKilogram: 'm/kg', ouncesPer100Yards: 'oz/100yd', yardsPerOunce: 'yd/oz', westOfEnglandSnap: 'snap', asbestosCut: 'asbestos-cut', frenchCount: 'french-count', juteCount: 'jute-count', grainsPer120Yards: 'grain/120yd' };
    expect(keys.filter((k) => unit[k] === undefined)).toEqual([]);
    fc.assert(fc.property(size(5, 3000), fc.array(fc.constantFrom(...keys), { minLength: 2, maxLength: 12 }), (tex, cycle) => {
      let [n, u] = [tex, 'tex'];
      for (const key of [...cycle, 'tex']) [n, u] = [whole<Grist>('grist', { grist: { value: n, unit: u } }).result.yarnNumbers[key]!, unit[key]!];
      expect(relative(n, tex)).toBeLessThan(1e-12);
    }), { numRuns: 400, seed: 2 });
  });
});

describe('there and back', () => {
  it('the groove for a wanted ratio has that ratio, to 1e-10', () => {
    fc.assert(fc.property(wheel, size(4, 20), (w, ratio) => {
      const { wanted } = flat<Ratio>('ratio', { driveWheel: `${w.D} m`, whorl: '60 mm', band: `${w.t} m`, wanted: String(ratio) });
      const mm = wanted[0]!.grooveDiameter.value;
      fc.pre(mm > 0.2);
      expect(relative(flat<Ratio>('ratio', { driveWheel: `${w.D} m`, whorl: `${mm} mm`, band: `${w.t} m` }).whorls[0]!.flyerRatio.value, ratio)).toBeLessThan(1e-10);
    }), { numRuns: 1000, seed: 4 });
  });
  it('any one of ratio, turns, draft and twist comes back from the other three, to 1e-10', () => {
    type Four = Record<'ratio' | 'wheelTurns' | 'draftLength' | 'twist', Value> & { solvedFor: string };
    fc.assert(fc.property(size(3, 40), size(0.5, 20), size(0.02, 1.5), fc.constantFrom('ratio' as const, 'wheelTurns' as const, 'draftLength' as const), (ratio, wheelTurns, draft, want) => {
      const all: Json = { ratio, wheelTurns, draftLength: { value: draft, unit: 'm' } };
      const twist = whole<Four>('twist', all).result.twist.value;
      const { [want]: left, ...three } = all;
      const got = whole<Four>('twist', { ...three, twist: { value: twist, unit: 'turns/m' } }).result;
      expect(got.solvedFor).toBe(want);
      expect(relative(want === 'draftLength' ? got[want].value / 1000 : got[want].value, want === 'draftLength' ? draft : (left as number))).toBeLessThan(1e-10);
    }), { numRuns: 2000, seed: 5 });
  });
  it('at the diameter from which a twist is reached, the softest twist is that twist, to 1e-10', () => {
    fc.assert(fc.property(size(1.05, 1.8), size(15, 200), (rho, twist) => {
      const ask = (core: string): TakeUp => flat<TakeUp>('take-up', { drive: 'double-drive', whorlRatio: '10', bobbinRatio: String(10 * rho), core, full: '900 mm', twist: `${twist}/m`, steps: '2' });
      const from = ask('20 mm').pairs[0]!.reachesTwistFrom!.value;
      fc.pre(from > 2 && from < 800);
      expect(relative(ask(`${from} mm`).pairs[0]!.fill[0]!.leastTwist!.value, twist)).toBeLessThan(1e-10);
    }), { numRuns: 500, seed: 6 });
  });
});

describe('more in, more or less out', () => {
  it('ratio rises with the wheel and falls with the whorl; a band lowers it', () => {
    fc.assert(fc.property(wheel, size(1.001, 1.3), (w, more) => {
      const i = (x: typeof w): number => flat<Ratio>('ratio', double(x)).whorls[0]!.flyerRatio.value;
      expect(i({ ...w, D: w.D * more })).toBeGreaterThan(i(w));
      expect(i({ ...w, d: w.d * more })).toBeLessThan(i(w));
      expect(i({ ...w, t: w.t * more })).toBeLessThan(i(w));
      expect(flat<Ratio>('ratio', double(w)).whorls[0]!.bareRatio!.value).toBeGreaterThan(i(w));
    }), { numRuns: 500, seed: 7 });
  });
  it('up the ends: more drawn in, softer twist, more yarn; and it all adds up', () => {
    fc.assert(fc.property(wheel, size(0.018, 0.04), size(0.05, 0.12), fc.constantFrom('double-drive', 'flyer-lead', 'bobbin-lead'), (w, core, full, drive) => {
      const { fill, capacity } = flat<TakeUp>('take-up', { ...double(w), drive, core: `${core} m`, full: `${full} m`, steps: '7', grist: '100 tex', draftLength: '1 mm' }).pairs[0]!;
      for (let i = 1; i < fill.length; i++) {
        const [a, b] = [fill[i - 1]!, fill[i]!];
        expect(b.woundDiameter.value).toBeGreaterThan(a.woundDiameter.value);
        expect(b.woundLength!.value).toBeGreaterThan(a.woundLength!.value);
        if (b.leastTwist !== undefined) expect(b.leastTwist.value).toBeLessThan(a.leastTwist!.value);
        if (b.mostDrawnInPerWheelTurn !== undefined) expect(b.mostDrawnInPerWheelTurn.value).toBeGreaterThan(a.mostDrawnInPerWheelTurn!.value);
        if (b.leastTwist !== undefined && b.mostDrawnInPerWheelTurn !== undefined) expect(relative(b.leastTwist.value * b.mostDrawnInPerWheelTurn.value, a.leastTwist!.value * a.mostDrawnInPerWheelTurn!.value)).toBeLessThan(1e-10);
      }
      expect(relative(fill.at(-1)!.woundLength!.value, capacity.length!.value)).toBeLessThan(1e-12);
      // 100 tex is 10 m to the gram.
      expect(relative(capacity.mass.value * 10, capacity.length!.value)).toBeLessThan(1e-12);
    }), { numRuns: 400, seed: 8 });
  });
  it('the softest twist does not depend on the wheel’s size', () => {
    fc.assert(fc.property(wheel, size(0.3, 2), (w, D) => {
      const least = (x: typeof w): number | undefined => flat<TakeUp>('take-up', { ...double(x), core: '22 mm', full: '75 mm', steps: '2' }).pairs[0]!.fill[0]!.leastTwist?.value;
      const [a, b] = [least(w), least({ ...w, D })];
      expect(a === undefined ? b === undefined : relative(a, b!) < 1e-12).toBe(true);
    }), { numRuns: 500, seed: 9 });
  });
});

describe('limits', () => {
  it('grooves that are equal, or nearly, are too close to say, and no number stands where there is none', () => {
    for (const b of [0.06, 0.0601, 0.0599, 0.0611, 0.0589]) {
      const [pair] = flat<Ratio>('ratio', double({ D: 0.56, d: 0.06, b, t: 0.002 })).pairs;
      expect([pair!.drawIn, pair!.flyerTurnsPerLap]).toEqual(['too-close-to-say', undefined]);
      const up = flat<TakeUp>('take-up', { ...double({ D: 0.56, d: 0.06, b, t: 0.002 }), core: '22 mm', end: '75 mm' }).pairs[0]!;
      expect([up.drawIn, up.fill[0]!.leastTwist, up.fill[0]!.mostDrawnInPerWheelTurn]).toEqual(['too-close-to-say', undefined, undefined]);
    }
    expect(flat<Ratio>('ratio', double({ D: 0.56, d: 0.06, b: 0.05, t: 0.002 })).pairs[0]!.drawIn).toBe('bobbin-leads');
    expect(flat<Ratio>('ratio', double({ D: 0.56, d: 0.06, b: 0.07, t: 0.002 })).pairs[0]!.drawIn).toBe('flyer-leads');
  });
  it('with no band the ratio is the bare one; on a bobbin-lead wheel a vast package takes nothing', () => {
    const r = flat<Ratio>('ratio', double({ D: 0.56, d: 0.06, b: 0.05, t: 0 })).whorls[0]!;
    expect(r.flyerRatio.value).toBe(r.bareRatio!.value);
    const t = (wound: string): number => flat<{ twist: Value }>('twist', { drive: 'bobbin-lead', ratio: '8', wheelTurns: '1', draftLength: '150 mm', woundDiameter: wound }).twist.value;
    expect(relative(t('990 mm'), 8 / 0.15)).toBeLessThan(7e-3);
    expect(t('22 mm')).toBeLessThan(t('75 mm'));
  });
});

describe('knowing less', () => {
  const wider: [string, Record<string, string>, string[]][] = [
    ['ratio', { driveWheel: '560 mm', whorl: '60 mm', band: '2 mm', treadling: '60/min', wanted: '12:1' }, ['driveWheel', 'whorl', 'band', 'treadling', 'wanted']],
    ['ratio', { drive: 'double-drive', driveWheel: '560 mm', whorl: '60 mm', bobbin: '45 mm', band: '2 mm' }, ['driveWheel', 'whorl', 'bobbin', 'band']],
    ['take-up', { drive: 'double-drive', driveWheel: '560 mm', whorl: '60 mm', bobbin: '45 mm', band: '2 mm', core: '22 mm', full: '75 mm', lengthBetweenEnds: '90 mm', grist: '100 tex', steps: '3' }, ['whorl', 'bobbin', 'band', 'core', 'full', 'lengthBetweenEnds', 'grist']],
    ['twist', { ratio: '9:1', wheelTurns: '2', draftLength: '80 mm', grist: '100 tex' }, ['ratio', 'wheelTurns', 'draftLength', 'grist']],
    ['twist', { drive: 'bobbin-lead', ratio: '8:1', wheelTurns: '1', draftLength: '150 mm', woundDiameter: '40 mm' }, ['ratio', 'draftLength', 'woundDiameter']],
    ['grist', { length: '254 yd', mass: '60 g', lengthLost: '9 %', stock: '300 g' }, ['length', 'mass', 'lengthLost', 'stock']],
    ['grist', { wraps: '12 wraps/in', wrapping: 'ruler' }, ['wraps']],
  ];
  it('a wider interval in never gives a narrower one out', () => {
    fc.assert(fc.property(fc.constantFrom(...wider), fc.nat(), fc.double({ min: 0.001, max: 0.1, noNaN: true }), fc.double({ min: 1.01, max: 3, noNaN: true }), fc.boolean(), ([id, question, names], pick, share, more, asRange) => {
      const name = names[pick % names.length]!;
      const [, digits, unit] = /^([\d.]+)(.*)$/.exec(question[name]!)!;
      const said = (s: number): string => (asRange ? `${Number(digits) * (1 - s)}-${Number(digits) * (1 + s)}${unit}` : name === 'wanted' || name === 'ratio' ? `${digits} ± ${Number(digits) * s}` : `${digits}${unit!.startsWith('/') ? '' : ' '}± ${Number(digits) * s}${unit}`);
      const wide = new Map(extentsIn(flat(id, { ...question, [name]: said(share * more > 0.3 ? 0.3 : share * more) })));
      for (const [at, narrow] of extentsIn(flat(id, { ...question, [name]: said(share) }))) {
        const w = wide.get(at);
        // What can no longer be said at all is left out.
        if (w === undefined) continue;
        const slack = 1e-9 * Math.max(1e-12, Math.abs(narrow.low), Math.abs(narrow.high));
        expect(w.high - w.low, `${id} ${name}: ${at}`).toBeGreaterThanOrEqual(narrow.high - narrow.low - slack);
        if (asRange) expect(w.low <= narrow.low + slack && w.high >= narrow.high - slack, `${id} ${name}: ${at} ${JSON.stringify([narrow, w])}`).toBe(true);
      }
    }), { numRuns: 1500, seed: 10 });
  });
  it('an unknown band gives an interval that holds the answer for every band from none to 3 mm', () => {
    const { whorls } = whole<{ whorls: { flyerRatio: { low: number; high: number } }[] }>('ratio', calculation('ratio').fields.toQuestion({ driveWheel: ['560 mm'], whorl: ['60 mm'] }).question).result;
    for (let t = 0; t <= 3; t += 0.25) {
      const i = flat<Ratio>('ratio', { driveWheel: '560 mm', whorl: '60 mm', band: `${t} mm` }).whorls[0]!.flyerRatio.value;
      expect(i >= whorls[0]!.flyerRatio.low - 1e-12 && i <= whorls[0]!.flyerRatio.high + 1e-12).toBe(true);
    }
  });
});
