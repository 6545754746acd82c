/** What must hold of yarns whatever is asked: every way there leads back, means are taken in mass, no ± comes from nothing, and what is wrong is named. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { ProblemError } from '../../services/foundation/problems.js';
import { fibreIds } from '../../services/reference/fibres.js';
import { calculation, extentsIn, flat, numbersIn, type Json } from '../support/ask.js';

const relative = (a: number, b: number): number => (a === b ? 0 : Math.abs(a - b) / Math.max(Math.abs(a), Math.abs(b)));
const size = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const tex = size(5, 3000);
/** Per cent to a hundredth, 0 among them. */
const percent = (min: number, max: number): fc.Arbitrary<number> => fc.integer({ min: min * 100, max: max * 100 }).map((x) => x / 100);
interface V { value: number; plusMinus?: number; low?: number; high?: number }
interface Grist {
  grist: V; yarnNumbers: Record<string, number>; wraps: Record<string, V>; diameter: V; wrapFactor: V; fibresInSection: V; fibreGrist: V; limitIrregularity: V; irregularityIndex: V; moisture: Record<string, V>; atRegain: { grist: V };
  states: { state: string; grist: V }[]; strength: Record<string, V>; repeats: Record<string, V>; packing: Record<string, V>; finestYarns: { grist: V }[];
}
interface Twist { twist: V; shortening: { by: string; shorter: V; factor: V; untwistedGrist: V; untwistedLength: V }[]; states: { state: string; twist: V }[]; angle: V; greatestTwist: { twist: V }; texFactor: V; twistFactor: Record<string, number> }
const grist = (q: Record<string, string | string[]>): Grist => flat<Grist>('grist', q);
const twist = (q: Record<string, string>): Twist => flat<Twist>('twist', q);

describe('there and back', () => {
  it('a factor from a skein gives that skein back, and its wraps, to 1e-12', () => {
    fc.assert(fc.property(tex, size(100, 3000), fc.constantFrom('packed', 'ruler', 'loose'), (g, wraps, wrapping) => {
      const own = { calibrationWraps: `${wraps / 100} wraps/cm`, calibrationGrist: `${g} tex`, wrapping };
      expect(relative(grist({ ...own, wraps: `${wraps / 100} wraps/cm` }).grist.value, g)).toBeLessThan(1e-12);
      expect(relative(grist({ ...own, grist: `${g} tex` }).wraps[wrapping]!.value, wraps / 100)).toBeLessThan(1e-12);
    }), { numRuns: 500, seed: 50 });
  });
  it('fibres in the section and grist lead to each other, however the fibre is known, to 1e-12', () => {
    const known = fc.oneof(
      fc.record({ fibreDiameter: size(10, 60).map((x) => `${x} micron`), fibreDiameterSpread: percent(0, 40).map((x) => `${x} %`) }),
      fc.record({ fibreGrist: size(0.5, 20).map((x) => `${x} dtex`) }), fc.record({ micronaire: size(2, 7).map(String) }),
    );
    fc.assert(fc.property(tex, known, fc.constantFrom(...fibreIds), (g, fibre, id) => {
      const q = { ...(fibre as Record<string, string>), fibre: id };
      const n = grist({ ...q, grist: `${g} tex` }).fibresInSection.value;
      fc.pre(n > 1e-3 && n < 1e6);
      expect(relative(grist({ ...q, fibresInSection: String(n) }).grist.value, g)).toBeLessThan(1e-12);
      const finest = grist({ ...q, grist: `${g} tex`, fewestFibres: '40' }).finestYarns[0]!.grist.value;
      expect(relative(grist({ ...q, grist: `${finest} tex` }).fibresInSection.value, 40)).toBeLessThan(1e-12);
    }), { numRuns: 500, seed: 51 });
  });
  it('an index of irregularity times the limit is what was measured; four times the yarn is twice as even', () => {
    fc.assert(fc.property(tex, size(12, 40), size(2, 60), (g, micron, cv) => {
      const q = { fibreDiameter: `${micron} micron`, irregularity: `${cv} %` };
      const [one, four] = [grist({ ...q, grist: `${g} tex` }), grist({ ...q, grist: `${4 * g} tex` })];
      expect(relative(one.irregularityIndex.value * one.limitIrregularity.value, cv)).toBeLessThan(1e-12);
      expect(relative(one.limitIrregularity.value, 2 * four.limitIrregularity.value)).toBeLessThan(1e-12);
    }), { numRuns: 300, seed: 52 });
  });
  it('regain and moisture content are each other, and a yarn comes back from another regain, to 1e-12', () => {
    fc.assert(fc.property(tex, size(0.1, 40), size(0.1, 40), (g, a, b) => {
      const there = grist({ grist: `${g} tex`, regain: `${a} %`, regainWanted: `${b} %` });
      expect(relative(grist({ grist: `${g} tex`, moistureContent: `${there.moisture['moistureContent']!.value} %` }).moisture['regain']!.value, a)).toBeLessThan(1e-12);
      expect(relative(grist({ grist: `${there.atRegain.grist.value} tex`, regain: `${b} %`, regainWanted: `${a} %` }).atRegain.grist.value, g)).toBeLessThan(1e-12);
    }), { numRuns: 500, seed: 53 });
  });
  it('a yarn measured in any of its three states has the same three, to 1e-12', () => {
    fc.assert(fc.property(tex, size(20, 2000), percent(-5, 15), percent(-5, 30), fc.oneof(fc.constant(0), percent(0, 30)), (g, t, rest, wash, mass) => {
      const losses = { restingLost: `${rest} %`, lengthLost: `${wash} %` };
      const first = grist({ grist: `${g} tex`, state: 'wheel-fresh', ...losses, massLost: `${mass} %` }).states;
      const turns = twist({ twist: `${t}/m`, state: 'wheel-fresh', ...losses }).states;
      for (const [i, s] of first.entries()) {
        const again = grist({ grist: `${s.grist.value} tex`, state: s.state, ...losses, massLost: `${mass} %` }).states;
        for (const [j, x] of again.entries()) expect(relative(x.grist.value, first[j]!.grist.value)).toBeLessThan(1e-12);
        const turned = twist({ twist: `${turns[i]!.twist.value}/m`, state: s.state, ...losses }).states;
        for (const [j, x] of turned.entries()) expect(relative(x.twist.value, turns[j]!.twist.value)).toBeLessThan(1e-12);
      }
      // Where nothing is washed out, turns in a metre and mass in a metre grow alike.
      if (mass === 0) expect(relative(turns[2]!.twist.value / turns[0]!.twist.value, first[2]!.grist.value / first[0]!.grist.value)).toBeLessThan(1e-12);
    }), { numRuns: 300, seed: 54 });
  });
  it('turns counted back are the turns that were put in, to 1e-12', () => {
    fc.assert(fc.property(size(20, 3000), size(5, 100), (t, gauge) => {
      expect(relative(twist({ untwistTurns: String((t * gauge) / 100), gaugeLength: `${gauge} cm` }).twist.value, t)).toBeLessThan(1e-12);
      expect(relative(twist({ retwistTurns: String((2 * t * gauge) / 100), gaugeLength: `${gauge} cm` }).twist.value, t)).toBeLessThan(1e-12);
      const { factor, shorter } = twist({ untwistTurns: String((t * gauge) / 100), gaugeLength: `${gauge} cm`, untwistedLength: `${gauge * 1.05} cm` }).shortening[0]!;
      expect(relative(factor.value, 1.05)).toBeLessThan(1e-12);
      expect(relative(1 - 1 / factor.value, shorter.value / 100)).toBeLessThan(1e-9);
    }), { numRuns: 500, seed: 55 });
  });
  it('a twist comes back from its factor in any system, and from its angle, to 1e-11', () => {
    fc.assert(fc.property(size(30, 2000), tex, fc.constantFrom('tex', 'tex-cm', 'tex-10cm', 'metric', 'cotton', 'worsted', 'run', 'lea', 'yorkshire-skein', 'galashiels-cut'), (t, g, system) => {
      const there = twist({ twist: `${t}/m`, grist: `${g} tex`, yarnDensity: '800 kg/m3' });
      expect(relative(twist({ twistFactor: String(there.twistFactor[system]), twistFactorIn: system, grist: `${g} tex` }).twist.value, t)).toBeLessThan(1e-11);
      expect(relative(twist({ angle: `${there.angle.value} deg`, grist: `${g} tex`, yarnDensity: '800 kg/m3' }).twist.value, t)).toBeLessThan(1e-10);
    }), { numRuns: 500, seed: 56 });
  });
});

describe('means, limits and order', () => {
  it('skeins of one length are averaged in mass, of one weight in length, in any order and whatever system they are typed in', () => {
    fc.assert(fc.property(fc.array(tex, { minLength: 2, maxLength: 12 }), (list) => {
      const mean = list.reduce((a, b) => a + b, 0) / list.length;
      const harmonic = list.length / list.reduce((a, b) => a + 1 / b, 0);
      expect(relative(grist({ skeins: list.map((g) => `${g} tex`) }).grist.value, mean)).toBeLessThan(1e-12);
      expect(relative(grist({ skeins: list.toReversed().map((g) => `${1000 / g} Nm`) }).grist.value, mean)).toBeLessThan(1e-12);
      expect(relative(grist({ skeins: list.map((g) => `${1000 / g} Nm`), averagedBy: 'weight' }).grist.value, harmonic)).toBeLessThan(1e-12);
      expect(harmonic).toBeLessThanOrEqual(mean * (1 + 1e-12));
    }), { numRuns: 300, seed: 57 });
  });
  it('the steeper the fibres lie, the shorter the strand, by every model; at the greatest twist half is left', () => {
    fc.assert(fc.property(size(0.1, 80), size(1.001, 1.1), (a, more) => {
      const [one, other] = [twist({ angle: `${a} deg` }), twist({ angle: `${a * more} deg` })];
      for (const [i, s] of one.shortening.entries()) {
        expect(other.shortening[i]!.shorter.value).toBeGreaterThan(s.shorter.value);
        expect(s.shorter.value).toBeGreaterThan(0);
        expect(relative((1 - s.shorter.value / 100) * s.factor.value, 1)).toBeLessThan(1e-12);
      }
      // Both begin alike: half of 1 - cos α, of a small angle.
      if (a < 2) expect(relative(one.shortening[0]!.shorter.value, one.shortening[1]!.shorter.value)).toBeLessThan(2e-3);
    }), { numRuns: 300, seed: 58 });
  });
  it('no yarn breaks above its fibres alone, weak places lie below the mean, and strength goes with the grist', () => {
    fc.assert(fc.property(tex, size(1, 40), percent(0, 45), (g, tenacity, cv) => {
      const q = { tenacity: `${tenacity} cN/tex`, strengthSpread: `${cv} %` };
      const [one, two] = [grist({ ...q, grist: `${g} tex` }).strength, grist({ ...q, grist: `${2 * g} tex` }).strength];
      expect(one['weakPlaces']!.value).toBeLessThanOrEqual(one['mean']!.value);
      expect(relative(two['mean']!.value, 2 * one['mean']!.value)).toBeLessThan(1e-12);
    }), { numRuns: 200, seed: 59 });
  });
  it('more skeins alike narrow the ±, a coarser scale widens it', () => {
    const half = (n: number): number => grist({ grist: '100 tex', spread: '10 %', measurements: String(n) }).grist.plusMinus!;
    for (let n = 2; n < 40; n++) expect(half(n + 1)).toBeLessThan(half(n));
    const step = (s: string): number => grist({ length: '100 m', mass: '50 g ± 0.1 g', scaleStep: s }).grist.plusMinus!;
    expect(step('0.1 g')).toBeLessThan(step('0.5 g'));
    expect(step('0.5 g')).toBeLessThan(step('1 g'));
  });
});

describe('nothing invented', () => {
  const points: Record<string, string | string[]>[] = [
    { grist: '100 tex', wrapping: 'packed', wrapFactor: '0.9' }, { length: '254 yd', mass: '2.125 oz' }, { grist: '100 tex', fibre: 'cotton', fibreDiameter: '15 micron', irregularity: '14 %', tenacity: '12 cN/tex', strengthSpread: '10 %' },
    { grist: '100 tex', regain: '12 %', regainWanted: '8 %' }, { grist: '100 tex', state: 'rested', restingLost: '2 %', lengthLost: '5 %', massLost: '3 %' },
  ];
  it('no ± stands in an answer to measures without one', () => {
    for (const q of points) expect([...numbersIn(grist(q))].filter(([at]) => at.endsWith('plusMinus')), JSON.stringify(q)).toEqual([]);
    expect([...numbersIn(twist({ twist: '300/m', grist: '100 tex', fibre: 'cotton', state: 'rested', restingLost: '2 %', lengthLost: '5 %' }))].filter(([at]) => at.endsWith('plusMinus'))).toEqual([]);
  });
  it('what was not said is a range, not a number: losses, a wool grade, the air', () => {
    const ends = (r: unknown, at: string): [number, number] => { const e = new Map(extentsIn(r)).get(at)!; return [e.low, e.high]; };
    const states = grist({ grist: '100 tex', state: 'rested' });
    for (const i of [0, 2]) { const [low, high] = ends(states, `/states/${i}/grist`); expect(low).toBeLessThan(high); }
    const grade = ends(grist({ grist: '100 tex', woolGrade: '64s' }), '/fibresInSection');
    expect(grade[0]).toBeLessThan(grade[1]);
    for (const micron of [20.6, 21.3, 22.04]) { const n = grist({ grist: '100 tex', fibreDiameter: `${micron} micron`, fibreDiameterSpread: '20 %' }).fibresInSection.value; expect(n >= grade[0] && n <= grade[1]).toBe(true); }
    const rested = twist({ plyBack: '6 tpi', plyBackState: 'rested' }).twist;
    expect([rested.low !== undefined, rested.high, rested.value]).toEqual([true, undefined, undefined]);
  });
});

describe('what is wrong is named, field by field', () => {
  const issues = (id: string, q: Record<string, string | string[]>): string[] => {
    const lists = Object.fromEntries(Object.entries(q).map(([k, v]) => [k, Array.isArray(v) ? v : [v]]));
    try {
      calculation(id).answer(calculation(id).fields.toQuestion(lists).question);
      return [];
    } catch (error) {
      if (!(error instanceof ProblemError)) throw error;
      return error.issues.map((i) => `${i.pointer} ${i.code}`);
    }
  };
  const rows: [string, Record<string, string | string[]>, string[]][] = [
    ['grist', { length: '100 m', mass: '0 g' }, ['/mass out-of-range']], ['grist', { length: '0 m', mass: '0 g' }, ['/mass out-of-range', '/length out-of-range']], ['grist', { grist: 'R 0 tex' }, ['/grist out-of-range']],
    ['grist', { skeins: ['100 tex', '12 stones', '0 tex'] }, ['/skeins/1 unknown-unit', '/skeins/2 out-of-range']], ['grist', { wraps: '12 wpi', calibrationWraps: '12 wpi' }, ['/calibrationGrist missing-field']],
    ['grist', { wraps: '12 wpi', wrapFactor: '0.9', calibrationWraps: '12 wpi', calibrationGrist: '900 yd/lb' }, ['/wrapFactor one-of']],
    ['grist', { grist: '100 tex', regain: '10 %', moistureContent: '9 %' }, ['/moistureContent one-of']], ['grist', { grist: '100 tex', regainWanted: '14 %' }, ['/regain missing-field']],
    ['grist', { grist: '100 tex', regain: '10 %', regainStandard: 'eu-1007' }, ['/fibre missing-field']], ['grist', { grist: '100 tex', regain: '10 %', regainStandard: 'eu-1007', fibre: 'wool' }, ['/fibreForm missing-field']],
    ['grist', { grist: '100 tex', regain: '10 %', regainStandard: 'eu-1007', fibre: 'wool', fibreForm: 'noil' }, ['/fibreForm unknown-choice']], ['grist', { grist: '100 tex', regain: '10 %', regainStandard: 'gb-9994', fibre: 'silk' }, ['/regainStandard unknown-choice']],
    ['grist', { grist: '100 tex', fibreForm: 'carded' }, ['/regainStandard missing-field']], ['grist', { fibresInSection: '40' }, ['/fibreDiameter missing-field']], ['grist', { grist: '100 tex', irregularity: '12 %' }, ['/fibreDiameter missing-field']],
    ['grist', { grist: '100 tex', fibreDiameter: '20 micron', woolGrade: '64s' }, ['/woolGrade one-of']], ['grist', { grist: '100 tex', woolGrade: '63s' }, ['/woolGrade unknown-choice']], ['grist', { grist: '100 tex', massLost: '3 %' }, ['/state missing-field']],
    ['grist', { grist: '100 tex', spread: '10 %' }, ['/measurements missing-field']], ['grist', { grist: '100 tex', spread: '10 %', measurements: '1' }, ['/measurements out-of-range']], ['grist', { grist: '100 tex', spread: '8-10 %', measurements: '10' }, ['/spread out-of-range']],
    ['grist', { grist: '100 tex', scaleStep: '0.5 g' }, ['/within missing-field']], ['grist', { grist: '100 tex', within: '5 %' }, ['/scaleStep missing-field']], ['grist', { grist: '20 tex/2' }, ['/grist ambiguous-yarn-number']],
    ['twist', { untwistTurns: '50' }, ['/gaugeLength missing-field']], ['twist', { retwistTurns: '0', gaugeLength: '25 cm' }, ['/retwistTurns out-of-range']], ['twist', { untwistedLength: '26 cm', angle: '20 deg' }, ['/gaugeLength missing-field']],
    ['twist', { untwistTurns: '50', gaugeLength: '25 cm', plyBack: '6 tpi' }, [' one-of']], ['twist', { grist: '20 tex', fibre: 'cotton', use: 'sails' }, ['/use unknown-choice']], ['twist', { twistFactor: '4' }, ['/twistFactorIn missing-field']],
    ['twist', { twist: '300/m', restingLost: '3 %' }, ['/state missing-field']], ['twist', { plyBack: '6 tpi', plyBackState: 'old' }, ['/plyBackState unknown-choice']],
  ];
  it.each(rows)('%s %j', (id, q, expected) => {
    expect(issues(id, q).toSorted()).toEqual(expected.toSorted());
  });
  it('a range where a number could stand is answered as a range', () => {
    for (const q of [{ grist: '90-110 tex' }, { length: '100 m', mass: '9-11 g' }, { grist: '100 tex', fibreDiameter: '19-23 micron' }, { grist: '100 tex', tenacity: '5-9 cN/tex' }, { skeins: ['90-110 tex', '100 tex'] }] as Record<string, string | string[]>[]) {
      const wide = [...extentsIn(grist(q))].filter(([, e]) => e.low < e.high);
      expect(wide.length, JSON.stringify(q as Json)).toBeGreaterThan(0);
    }
    expect(twist({ angle: '18-22 deg' }).shortening[0]!.shorter.low).toBeGreaterThan(0);
  });
});
