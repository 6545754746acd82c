/** Slip torque, friction of grooves and sag found again without their closed forms; limits; a bag test that finds its wheel again. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answer } from '../../../services/calculations/tension/answer.js';
import * as f from '../../../services/calculations/tension/formula.js';

/** Tight side of a band whose slack side is 1, by walking round the pulley: dT = μ' T dθ, midpoint rule. */
function tightOverSlack(friction: number, wrap: number): number {
  const n = 20_000;
  const h = wrap / n;
  let t = 1;
  for (let i = 0; i < n; i++) { const half = t * (1 + (friction * h) / 2); t += friction * h * half; }
  return t;
}
/** Friction of a round groove touched from a to b on each side, from the pressure: p ∝ cos γ, so that the band stays round. */
function roundByPressure(friction: number, a: number, b: number): number {
  const n = 20_000;
  let [along, into] = [0, 0];
  for (let i = 0; i < n; i++) {
    const g = a + ((b - a) * (i + 0.5)) / n;
    along += Math.cos(g);
    into += Math.cos(g) * Math.cos(g);
  }
  return (friction * along) / into;
}

describe('friction, from the pressure', () => {
  it('round grooves', () => {
    for (const [a, b] of [[0, Math.PI / 3], [0, Math.PI / 2], [0.2, 1.1]] as const) expect(f.frictionInRound({ friction: 0.3, from: a, to: b })).toBeCloseTo(roundByPressure(0.3, a, b), 7);
  });
  it('slip torque of a band with fixed shafts', () => {
    for (const [mu, wrap] of [[0.35, 2.07], [0.6, 2.09], [1.2, 2.5], [0.05, 3.1]] as const) {
      const e = tightOverSlack(mu, wrap);
      // (T_t + T_s)/2 = T₀ and T_t = e T_s.
      const slack = (2 * 0.5) / (1 + e);
      expect(f.slipTorque({ tension: 0.5, diameter: 0.05, friction: mu, wrap })).toBeCloseTo((slack * (e - 1) * 0.05) / 2, 8);
    }
  });
  it('brakes by end of the spring, and their limits', () => {
    const brake = { spring: 0.8, diameter: 0.046, friction: 0.25, wrap: Math.PI };
    const e = tightOverSlack(0.25, Math.PI);
    expect(f.brakeTorque({ ...brake, end: 'slack' })).toBeCloseTo((0.8 * (e - 1) * 0.046) / 2, 8);
    expect(f.brakeTorque({ ...brake, end: 'tight' })).toBeCloseTo((0.8 * (1 - 1 / e) * 0.046) / 2, 8);
    expect(f.brakeTorque({ ...brake, friction: 0, end: 'both' })).toBe(0);
    expect(f.slipTorque({ tension: 1, diameter: 0.06, friction: 1e9, wrap: 2 })).toBeCloseTo(0.06, 12);
  });
});

describe('the one loop', () => {
  const loop = fc.record({ tension: fc.double({ min: 0.05, max: 3, noNaN: true }), whorl: fc.double({ min: 0.03, max: 0.1, noNaN: true }), bobbin: fc.double({ min: 0.02, max: 0.09, noNaN: true }), drag: fc.double({ min: 0, max: 0.02, noNaN: true }), bobbinGrip: fc.double({ min: 1.05, max: 12, noNaN: true }), whorlGrip: fc.double({ min: 1.05, max: 12, noNaN: true }) });
  it('keeps its length: the mean of its four runs is the standing tension', () => {
    fc.assert(fc.property(loop, (p) => {
      const s = f.heldLoop(p);
      expect((s.tight + s.slackBobbin + s.tight + s.runWhorl) / 4).toBeCloseTo(p.tension, 10);
      expect(s.bobbinTorque + s.whorlTorque).toBeCloseTo(p.drag, 12);
      expect(f.loopTension({ ...p, torque: s.bobbinTorque })).toBeCloseTo(p.tension, 10);
    }));
  });
});

describe('sag, by least energy', () => {
  it('finds the same sag as the formula with rise', () => {
    for (const [T, m, EA, n] of [[0.5, 0.002, 500, 2], [0.5, 0.002, 500, 1], [0.8, 0.003, 150, 2]] as const) {
      const S = 0.4330127;
      const k = EA / (n * S);
      const F = m * 9.80665;
      const energy = (d: number): number => { const rise = 2 * Math.hypot(S / 2, d) - S; return T * rise + (k * rise * rise) / 2 - F * d; };
      let [a, b] = [0, 0.03];
      for (let i = 0; i < 200; i++) { const [x, y] = [a + (b - a) * 0.382, a + (b - a) * 0.618]; if (energy(x) < energy(y)) b = y; else a = x; }
      // The formula is the small-sag one: good to (δ/S)² of itself.
      expect(f.sagOf({ run: S, mass: m, tension: T, stiffness: EA, freeLength: n * S }) / ((a + b) / 2)).toBeCloseTo(1, 3);
      const back = f.tensionFromSagExact({ run: S, mass: m, sag: (a + b) / 2, stiffness: EA, freeLength: n * S });
      expect(back.unloaded).toBeCloseTo(T, 5);
    }
  });
});

describe('a bag test finds its wheel again', () => {
  it('whatever torque, hooks and core it was made on', () => {
    fc.assert(fc.property(fc.double({ min: 0.001, max: 0.02, noNaN: true }), fc.double({ min: 1.05, max: 4, noNaN: true }), fc.double({ min: 0.02, max: 0.06, noNaN: true }), (torque, factor, core) => {
      const held = (2 * torque) / core;
      const grams = (newton: number): string => `${newton / 9.80665e-3} g`;
      const wheel = { driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'flyer-lead' as const, band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '60 mm' }], bobbins: [{ coreDiameter: `${core * 1000} mm`, endDiameter: '90 mm' }] };
      const [w] = answer({ wheel, bagTest: { lifts: grams(held / factor), pullsOff: grams(held * factor) } }).result.windows;
      expect((w!.setting!.hookFactor as { value: number }).value).toBeCloseTo(factor, 9);
      expect((w!.setting!.slipTorque as { value: number }).value).toBeCloseTo(torque * 1000, 9);
    }), { numRuns: 50 });
  });
  it('a wider range of friction never gives a narrower window edge', () => {
    const ask = (friction: string): { low: number; high: number } => {
      const wheel = { driveWheel: { grooveDiameter: '560 mm' }, modes: [{ drive: 'double-drive' as const, band: { thickness: '2 mm' } }], whorls: [{ grooveDiameter: '60 mm' }], bobbins: [{ grooves: [{ grooveDiameter: '48 mm' }], coreDiameter: '22 mm', endDiameter: '75 mm' }] };
      return answer({ wheel, bandFriction: friction, axleDistance: '500 mm' }).result.windows[0]!.wholeFill.least as { low: number; high: number };
    };
    const [narrow, wide] = [ask('0.28-0.32'), ask('0.2-0.4')];
    expect(wide.low).toBeLessThanOrEqual(narrow.low);
    expect(wide.high).toBeGreaterThanOrEqual(narrow.high);
  });
});
