/** Smooth phases against a general solver of ordinary differential equations (mathjs, Runge-Kutta 4(5) with step control), and the order in which our own steps converge. */
import { create, all } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { run, type Motion } from '../../../services/calculations/draft-cycle/motion.js';
import { treadle, type Treadled } from '../../../services/calculations/draft-cycle/treadled.js';
import { oneMake, treadledMake } from './scenes.js';

type SolveOde = (f: (t: number, y: number[]) => number[], range: number[], y0: number[], how: object) => { y: number[][] };
const math = create(all!, {}) as unknown as { solveODE: SolveOde };
const solve = (f: (t: number, y: number[]) => number[], until: number, y0: number[], tol = 1e-11): number[] => {
  const { y } = math.solveODE(f, [0, until], y0, { method: 'RK45', tol, minStep: 1e-9, maxStep: until / 50, maxIter: 1e6 });
  return y.at(-1)!;
};
const tau = 2 * Math.PI;

describe('twist, while yarn is taut', () => {
  it.each([['let in as it is drafted', 0.2, 0, false], ['let in, nothing drafted', 0, 0, false], ['the wheel swings', 0.1, 0.06, false], ['each lap takes a turn', 0.15, 0.06, true]] as const)('%s', (_, w, depth, perLap) => {
    const m: Motion = { ...oneMake, quickening: 50, perLap, pulse: { ...oneMake.pulse, depth }, hand: [{ from: 0, to: 2, start: 0.05, end: 0.35 }], draft: [{ from: 0, to: 2, speed: w }], start: { length: 0.9, turns: 90, speed: 0.05 }, until: 2 };
    const ours = run(m);
    expect(ours.spells).toBe(0);
    const feed = (t: number): number => 0.05 + 0.15 * t;
    const [N, , wound] = solve((t, y) => {
      const n = (m.carrier * (1 + depth * Math.sin(tau * t))) / tau - (perLap ? feed(t) / (tau * m.radius) : 0);
      return [n - (y[0]! / y[1]!) * feed(t), w - feed(t), (y[0]! / y[1]!) * feed(t)];
    }, 2, [90, 0.9, 0]) as [number, number, number];
    expect(Math.abs((ours.twist * (0.9 + 2 * w - 0.4)) / N - 1)).toBeLessThan(1e-8);
    expect(Math.abs(ours.woundTurns / wound - 1)).toBeLessThan(1e-8);
  });
});

describe('under the treadle', () => {
  /** Half a turn of the push, before the hand moves. */
  const until = 0.45;
  const held: Treadled = { ...treadledMake, hand: [{ from: 0, to: until, start: 0, end: 0.2 }], until };
  const gain = 0.2 / until;
  it('taut: wheel, flyer and bobbin turn as one', () => {
    const J = held.wheel + 81 * (held.carrierInertia + held.follower);
    const [angle, speed] = solve((_, y) => [y[1]!, (held.push * Math.sin(y[0]!) - held.bearing - 9 * (held.drag + held.air * 81 * y[1]! ** 2 + held.slip) + (9 * held.follower * gain) / held.radius) / J], until, [0, 6.2]) as [number, number];
    const ours = treadle(held);
    expect(ours.spells).toBe(0);
    expect(Math.abs(ours.angle - angle)).toBeLessThan(1e-9);
    expect(Math.abs(ours.speed - speed)).toBeLessThan(1e-9);
  });
  it('slack: the wheel is rid of the bobbin, and the brake has it', () => {
    const jerk: Treadled = { ...held, hand: [{ from: 0, to: 0.2, start: 0, end: 0.9 }], until: 0.2 };
    const J = held.wheel + 81 * held.carrierInertia;
    const [angle, speed, bobbin, slack] = solve((t, y) => [
      y[1]!, (held.push * Math.sin(y[0]!) - held.bearing - 9 * (held.drag + held.air * 81 * y[1]! ** 2 + held.spindle)) / J, (-held.slip + held.spindle) / held.follower, 4.5 * t - held.radius * (9 * y[1]! - y[2]!),
    ], 0.2, [0, 6.2, 55.8, 0]) as [number, number, number, number];
    const ours = treadle(jerk);
    expect(ours.events.map((e) => e.event)).toEqual(['slack-begins']);
    expect(Math.abs(ours.angle - angle)).toBeLessThan(1e-9);
    expect(Math.abs(ours.speed - speed)).toBeLessThan(1e-9);
    expect(Math.abs(ours.followerSpeed - bobbin)).toBeLessThan(1e-8);
    expect(Math.abs(ours.mostSlack - slack)).toBeLessThan(1e-9);
  });
});

describe('convergence, measured', () => {
  const orders = (off: readonly number[]): number[] => off.slice(1).map((x, i) => Math.log2(off[i]! / x));
  it('twist goes in the sixth order of its step', () => {
    const m: Motion = { ...oneMake, quickening: 50, hand: [{ from: 0, to: 2, start: 0.05, end: 0.35 }], draft: [{ from: 0, to: 2, speed: 0.2 }], start: { length: 0.9, turns: 90, speed: 0.05 }, until: 2 };
    const best = run(m, undefined, 0.005).woundTurns;
    const found = orders([0.4, 0.2, 0.1].map((share) => Math.abs(run(m, undefined, share).woundTurns - best)));
    console.log(`order of the twist: ${found.map((o) => o.toFixed(2)).join(', ')}`);
    for (const o of found) expect(o).toBeGreaterThan(5);
  });
  it('the treadled wheel goes in the fourth, events and kinks and all', () => {
    const m: Treadled = { ...treadledMake, start: { ...treadledMake.start, length: 30 } };
    const best = treadle(m, undefined, 5e-4).angle;
    const found = orders([0.04, 0.02, 0.01].map((h) => Math.abs(treadle(m, undefined, h).angle - best)));
    console.log(`order of the treadled wheel: ${found.map((o) => o.toFixed(2)).join(', ')}`);
    for (const o of found) expect(o).toBeGreaterThan(3.2);
  });
});
