/** What holds for every ply, whatever the numbers: there and back, limits, more in and more out, the same in any unit. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import * as f from '../../../services/calculations/ply/formula.js';
import { extentsIn, flat, whole } from '../../support/ask.js';

interface Value { value: number; low?: number; high?: number; plusMinus?: number }
interface Ply {
  plied: { grist: Value; length?: Value; mass?: Value; twist: Value; angle: Value }; singles: Value; contraction: Value; extra: Value; contractions: { model: string; contraction: Value; grist: Value }[];
  strands: { twistLeft: Value; leftOver?: Value }[]; balance: { plyTwist: Value; ratio: Value; state: string; rules: { rule: string; plyTwist: Value; ratio: Value }[] }; wheelTurns: Value; yardage: { singlesLength: Value; byTheRule: Value }; tightest: { mostTwist: Value };
}
const size = (min: number, max: number): fc.Arbitrary<number> => fc.double({ min, max, noNaN: true });
const relative = (a: number, b: number): number => Math.abs(a / b - 1);
const yarn = fc.record({ tex: size(20, 800), k: size(1500, 5000), ratio: size(0.2, 1.2), plies: fc.integer({ min: 2, max: 6 }), density: size(400, 950) });
const asked = (y: { tex: number; k: number; ratio: number; plies: number; density: number }): Record<string, string> => {
  const t = y.k / Math.sqrt(y.tex);
  return { singlesGrist: `${y.tex} tex`, singlesTwist: `${t} /m`, singlesDirection: 'Z', plies: String(y.plies), plyTwist: `${t * y.ratio} /m`, plyDirection: 'S', yarnDensity: `${y.density} kg/m3` };
};

describe('there and back', () => {
  it('singles to plied yarn, and from that the same singles, to 1e-10', () => {
    fc.assert(fc.property(yarn, (y) => {
      const { singlesGrist, ...rest } = asked(y);
      const there = flat<Ply>('ply', { ...rest, singlesGrist: singlesGrist! });
      const back = flat<Ply>('ply', { ...rest, plyGrist: `${there.plied.grist.value} tex` });
      expect(relative(back.singles.value, y.tex)).toBeLessThan(1e-10);
      expect(relative(back.plied.grist.value, there.plied.grist.value)).toBeLessThan(1e-12);
    }), { numRuns: 400, seed: 1 });
  });
  it('a contraction given is the one that the grists then tell, read either way', () => {
    fc.assert(fc.property(size(20, 800), size(-0.05, 0.4).map((x) => Number(x.toFixed(9)) || 0.01), fc.integer({ min: 2, max: 12 }), (tex, c, plies) => {
      const there = flat<Ply>('ply', { singlesGrist: `${tex} tex`, plies: String(plies), contraction: `${100 * c} %` });
      expect(relative(there.plied.grist.value, (plies * tex) / (1 - c))).toBeLessThan(1e-12);
      const told = flat<Ply>('ply', { singlesGrist: `${tex} tex`, plies: String(plies), plyGrist: `${there.plied.grist.value} tex` });
      expect(told.contraction.value).toBeCloseTo(100 * c, 9);
      const other = flat<Ply>('ply', { singlesGrist: `${tex} tex`, plies: String(plies), contraction: `${there.extra.value} %`, contractionOf: 'plied' });
      expect(relative(other.plied.grist.value, there.plied.grist.value)).toBeLessThan(1e-12);
    }), { numRuns: 300, seed: 2 });
  });
  it('turns for a draw, and the ply twist of those turns, also on a bobbin-lead wheel', () => {
    fc.assert(fc.property(size(50, 400), size(0.1, 1.5), size(4, 20), fc.boolean(), (twist, draw, ratio, led) => {
      const common = { plies: '2', draftLength: `${draw} m`, ratio: String(ratio), ...(led ? { drive: 'bobbin-lead', bobbinRatio: String(ratio), woundDiameter: '50 mm' } : {}) };
      const turns = flat<Ply>('ply', { ...common, plyTwist: `${twist} /m` }).wheelTurns.value;
      const back = flat<Ply>('ply', { ...common, wheelTurns: String(turns), singlesTwist: '500 /m' });
      expect(relative(back.plied.twist.value, twist)).toBeLessThan(1e-10);
      if (led) expect(relative(turns, ((twist + 1 / (Math.PI * 0.05)) * draw) / ratio)).toBeLessThan(1e-12);
    }), { numRuns: 200, seed: 3 });
  });
  it('the elastic balance at the angle that it finds is that angle’s own', () => {
    fc.assert(fc.property(size(0.02, 1.2), size(0.5, 3), (alpha, stiffness) => {
      const b = f.elasticAngle({ singlesAngle: alpha, stiffness });
      // tan β = t_p/t_s × tan α for two strands.
      expect(relative(Math.tan(b), f.elasticRatio({ angle: b, stiffness }) * Math.tan(alpha))).toBeLessThan(1e-9);
    }), { numRuns: 500, seed: 4 });
  });
});

describe('limits', () => {
  it('with next to no ply twist nothing contracts, and all twist is left', () => {
    const r = flat<Ply>('ply', asked({ tex: 100, k: 3000, ratio: 1e-7, plies: 2, density: 700 }));
    expect(Math.abs(r.contraction.value)).toBeLessThan(1e-4);
    expect(relative(r.strands[0]!.twistLeft.value, 300)).toBeLessThan(1e-6);
  });
  it('strands that keep their length never gain; those that lose twist do below balance, and shrink above', () => {
    fc.assert(fc.property(yarn, (y) => {
      const [lengthening, fixed] = flat<Ply>('ply', asked(y)).contractions;
      expect(fixed!.contraction.value).toBeGreaterThan(0);
      if (y.ratio < 1) expect(lengthening!.contraction.value).toBeLessThan(fixed!.contraction.value);
    }), { numRuns: 300, seed: 5 });
    // A quarter of the twist on two strands: longer; as much as the singles: shorter.
    expect(f.contractionOf({ strand: 5e-5, volume: 1.26e-3, plies: 2, singlesTwist: 450, plyTwist: 112, against: 1 })).toBeLessThan(0);
    expect(f.contractionOf({ strand: 5e-5, volume: 1.26e-3, plies: 2, singlesTwist: 450, plyTwist: 450, against: 1 })).toBeGreaterThan(0);
  });
  it('a soft single balances at its own twist; at 45° in the ply nothing is carried', () => {
    expect(f.elasticRatio({ angle: 1e-6, stiffness: 1.3 })).toBeCloseTo(1, 9);
    expect(f.elasticRatio({ angle: Math.PI / 4 - 1e-9, stiffness: 1.3 })).toBeLessThan(1e-7);
  });
  it('the tightest ply touches everywhere: no two middles are nearer than one thickness', () => {
    for (const plies of [2, 3, 4]) {
      const { angle, radius } = f.tightestPly({ plies });
      const rise = 1 / Math.tan(angle);
      let least = Infinity;
      for (let i = -40_000; i <= 40_000; i++) { const phi = (i / 40_000) * Math.PI; least = Math.min(least, Math.sqrt(2 - 2 * Math.cos(phi + (2 * Math.PI) / plies) + (rise * phi) ** 2) * radius); }
      expect(least).toBeCloseTo(1, 6);
    }
  });
});

describe('more in, more or less out', () => {
  it('more ply twist: a larger angle, less left in the strand, a shorter ply once past the least', () => {
    fc.assert(fc.property(yarn, size(1.01, 1.3), (y, more) => {
      const [a, b] = [flat<Ply>('ply', asked(y)), flat<Ply>('ply', asked({ ...y, ratio: y.ratio * more }))];
      expect(b.plied.angle.value).toBeGreaterThan(a.plied.angle.value);
      expect(b.contractions[1]!.contraction.value).toBeGreaterThan(a.contractions[1]!.contraction.value);
    }), { numRuns: 300, seed: 6 });
  });
  it('the same direction adds: twist left is never less than that of the single', () => {
    fc.assert(fc.property(yarn, (y) => {
      const { plyDirection, ...rest } = asked(y);
      expect(plyDirection).toBe('S');
      const r = flat<Ply & { balance: { state?: string } }>('ply', { ...rest, plyDirection: 'Z' });
      expect(r.strands[0]!.twistLeft.value).toBeGreaterThan(y.k / Math.sqrt(y.tex));
      expect(r.balance.state).toBeUndefined();
    }), { numRuns: 200, seed: 7 });
  });
  it('S for Z changes no number', () => {
    fc.assert(fc.property(yarn, (y) => {
      const numbers = (singlesDirection: string, plyDirection: string): string => JSON.stringify(flat('ply', { ...asked(y), singlesDirection, plyDirection })).replaceAll('"S"', '"Z"');
      expect(numbers('S', 'Z')).toBe(numbers('Z', 'S'));
    }), { numRuns: 100, seed: 8 });
  });
});

it('is the same in whatever units it is asked, to 1e-10', () => {
  fc.assert(fc.property(yarn, (y) => {
    const a = flat<Ply>('ply', asked(y));
    const t = y.k / Math.sqrt(y.tex);
    const b = flat<Ply>('ply', { singlesGrist: `${1000 / y.tex} Nm`, singlesTwist: `${t * 0.0254} tpi`, singlesDirection: 'Z', plies: String(y.plies), plyTwist: `${(t * y.ratio) / 100} turns/cm`, plyDirection: 'S', yarnDensity: `${y.density / 1000} g/cm3` });
    expect(relative(a.plied.grist.value, b.plied.grist.value)).toBeLessThan(1e-10);
    expect(relative(a.strands[0]!.twistLeft.value, b.strands[0]!.twistLeft.value)).toBeLessThan(1e-8);
    expect(relative(a.balance.plyTwist.high!, b.balance.plyTwist.high!)).toBeLessThan(1e-10);
  }), { numRuns: 200, seed: 9 });
});
it('strands one by one are the same as one for all, and grist is averaged in tex', () => {
  const once = flat<Ply>('ply', { ...asked({ tex: 60, k: 3000, ratio: 0.66, plies: 2, density: 700 }) });
  const { singlesGrist, singlesTwist, singlesDirection, ...rest } = asked({ tex: 60, k: 3000, ratio: 0.66, plies: 2, density: 700 });
  const twice = flat<Ply>('ply', { ...rest, singlesGrist: [singlesGrist!, singlesGrist!], singlesTwist: [singlesTwist!, singlesTwist!], singlesDirection: [singlesDirection!, singlesDirection!] });
  expect(relative(once.plied.grist.value, twice.plied.grist.value)).toBeLessThan(1e-12);
  // Nm 10 and Nm 20: 100 and 50 tex, so 75 tex in the mean, which is Nm 13.3 and not 15.
  expect(flat<Ply>('ply', { singlesGrist: ['10 Nm', '20 Nm'] }).singles.value).toBeCloseTo(75, 12);
});
it('a wider interval in never gives a narrower one out', () => {
  const start = asked({ tex: 100, k: 3000, ratio: 0.66, plies: 2, density: 700 });
  fc.assert(fc.property(fc.constantFrom('singlesGrist', 'singlesTwist', 'plyTwist', 'yarnDensity'), size(0.001, 0.05), size(1.05, 3), (name, share, more) => {
    const [, digits, unit] = /^([\d.]+)(.*)$/.exec(start[name]!)!;
    const said = (s: number): Record<string, string> => ({ ...start, [name]: `${Number(digits) * (1 - s)}-${Number(digits) * (1 + s)}${unit}` });
    const wide = new Map(extentsIn(flat('ply', said(share * more))));
    for (const [at, narrow] of extentsIn(flat('ply', said(share)))) {
      const w = wide.get(at);
      const slack = 1e-7 * Math.max(1e-9, Math.abs(narrow.low), Math.abs(narrow.high));
      expect(w !== undefined && w.low <= narrow.low + slack && w.high >= narrow.high - slack, `${name}: ${at} ${JSON.stringify([narrow, w])}`).toBe(true);
    }
  }), { numRuns: 150, seed: 10 });
});
it('what is left over, and how much is spun, adds up', () => {
  const r = flat<Ply & { yardage: { eachStrand: Value } }>('ply', { singlesLength: ['100 m', '90 m'], singlesGrist: '50 tex', contraction: '5 %' });
  expect(r.plied.length!.value).toBeCloseTo(85.5, 10);
  expect(r.strands.map((s) => s.leftOver!.value)).toEqual([expect.closeTo(10, 9), expect.closeTo(0, 9)]);
  expect(r.plied.mass!.value).toBeCloseTo(9, 10);
});
it('refuses what cannot be, and names the field', () => {
  const issues = (question: unknown): string[] => { try { whole('ply', question); return []; } catch (e) { return (e as { document(): { errors: { pointer: string; code: string }[] } }).document().errors.map((x) => `${x.pointer} ${x.code}`); } };
  expect(issues({ plies: 2, singles: [{ length: '100 m', mass: '0 g' }] })).toEqual(['/singles/0/mass out-of-range']);
  expect(issues({ singles: [{ grist: '50 tex' }] })).toEqual(['/plies missing-field']);
  expect(issues({ plies: 2.5, singles: [{ grist: '50 tex' }] })).toEqual(['/plies out-of-range']);
  expect(issues({ plies: '2-3', singles: [{ grist: '50 tex' }] })).toEqual(['/plies out-of-range']);
  expect(issues({ plies: 3, singles: [{ grist: '50 tex' }, { grist: '50 tex' }] })).toEqual(['/plies one-of']);
  expect(issues({ construction: 'chain', singles: [{}, {}] })).toEqual(['/singles one-of']);
  expect(issues({ plies: 2, plyDirection: 'left', singles: [{ grist: '50 tex', direction: 'Y' }] })).toEqual(['/singles/0/direction unknown-choice', '/plyDirection unknown-choice']);
  expect(issues({ plies: 2, contractionOf: 'plied', singles: [{ grist: '50 tex' }] })).toEqual(['/contraction missing-field']);
  expect(issues({ plies: 2, bumps: 12, singles: [{ grist: '50 tex' }] })).toEqual(['/bumpsOver missing-field']);
  expect(issues({ plies: 2 })).toEqual(['/singles missing-field']);
});
